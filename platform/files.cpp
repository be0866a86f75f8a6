#include "platform/files.hpp"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdlib>
#include <cstring>
#include <vector>

namespace motherbulb {
namespace {

std::string reason() {
  switch (errno) {
    case ENOSPC:
    case EDQUOT:
      return "the disk is full; free some space and try again";
    case EROFS:
      return "the disk is read-only; choose another place";
    case EACCES:
    case EPERM:
      return "there is no permission; choose another place or ask for it";
    case ENOENT:
      return "there is no such folder or file; check how it is written";
    case ENOTDIR:
      return "a part of its path is no folder; check how it is written";
    case ENAMETOOLONG:
      return "the name is too long; choose a shorter one";
    case EIO:
      return "the disk reports a fault; use another one";
    default:
      return std::strerror(errno);
  }
}

// Missing, or there and not to be read or written.
ErrorKind kind_of_failure() {
  switch (errno) {
    case ENOENT:
    case ENOTDIR:
      return ErrorKind::missing;
    case ENAMETOOLONG:
      return ErrorKind::refused;
    default:
      return ErrorKind::failed;
  }
}

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  if (slash == std::string::npos) return ".";
  return slash == 0 ? "/" : path.substr(0, slash);
}

// Where a symbolic link leads, so that the link stays one.
std::string led_to(const std::string& path) {
  char* real = ::realpath(path.c_str(), nullptr);
  if (real == nullptr) return path;
  std::string led(real);
  std::free(real);
  return led;
}

}  // namespace

Result<std::unique_ptr<ByteSource>> FileSource::open(const std::string& path) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (file < 0) {
    const ErrorKind kind = errno == EACCES ? ErrorKind::missing : kind_of_failure();
    return Error{kind, path + " cannot be read: " + reason(), {}};
  }
  struct stat about {};
  if (::fstat(file, &about) != 0 || S_ISDIR(about.st_mode)) {
    ::close(file);
    return Error{ErrorKind::missing, path + " is a folder; name a file in it", {}};
  }
  if (!S_ISREG(about.st_mode)) {
    // A pipe or a terminal: what it gives is read to its end first, so that it can be read in any order.
    ::close(file);
    const int stream = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    std::vector<std::uint8_t> bytes, block(1 << 16);
    for (;;) {
      const ssize_t got = stream < 0 ? -1 : ::read(stream, block.data(), block.size());
      if (got < 0 && stream >= 0 && errno == EINTR) continue;
      if (got < 0) {
        Error error{ErrorKind::failed, path + " cannot be read: " + reason(), {}};
        if (stream >= 0) ::close(stream);
        return error;
      }
      if (got == 0) break;
      bytes.insert(bytes.end(), block.begin(), block.begin() + got);
    }
    ::close(stream);
    return std::unique_ptr<ByteSource>(std::make_unique<MemorySource>(std::move(bytes), path));
  }
  return std::unique_ptr<ByteSource>(new FileSource(path, file, static_cast<std::uint64_t>(about.st_size)));
}

FileSource::~FileSource() {
  ::close(file_);
}

Outcome FileSource::read(std::uint64_t position, std::uint8_t* out, std::size_t count) {
  while (count > 0) {
    const ssize_t got = ::pread(file_, out, count, static_cast<off_t>(position));
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return Error{ErrorKind::failed, path_ + " cannot be read: " + reason(), {}};
    if (got == 0) return Error{ErrorKind::failed, path_ + " became shorter while it was read; copy it again", {}};
    out += got;
    position += static_cast<std::uint64_t>(got);
    count -= static_cast<std::size_t>(got);
  }
  return Done{};
}

Result<std::unique_ptr<ByteSink>> FileSink::create(const std::string& path) {
  struct stat about {};
  const bool there = ::stat(path.c_str(), &about) == 0;
  if (!there && errno != ENOENT) return Error{kind_of_failure(), path + " cannot be written: " + reason(), {}};
  if (there && S_ISDIR(about.st_mode)) {
    return Error{ErrorKind::refused, path + " is a folder; name a file in it", {}};
  }
  if (there && !S_ISREG(about.st_mode)) {
    const int file = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
    if (file < 0) return Error{kind_of_failure(), path + " cannot be written: " + reason(), {}};
    return std::unique_ptr<ByteSink>(new FileSink(path, "", file));
  }
  if (there && looks_like_a_store(path)) {
    return Error{ErrorKind::refused, path + " is a store, and a store is never overwritten; choose another name", {}};
  }
  const std::string target = there ? led_to(path) : path;
  std::string unfinished = folder_of(target) + "/.motherbulb-XXXXXX";
  const int file = ::mkostemp(unfinished.data(), O_CLOEXEC);
  if (file < 0) return Error{kind_of_failure(), path + " cannot be written: " + reason(), {}};
  const mode_t masked = ::umask(0);
  ::umask(masked);
  if (::fchmod(file, there ? about.st_mode & 07777 : 0666 & ~masked) != 0) errno = 0;  // a stick may know no modes
  return std::unique_ptr<ByteSink>(new FileSink(target, unfinished, file));
}

FileSink::~FileSink() {
  if (file_ >= 0) ::close(file_);
  if (!unfinished_.empty()) ::unlink(unfinished_.c_str());
}

Error FileSink::failed(const char* doing) {
  return Error{ErrorKind::failed, path_ + " could not be " + doing + ": " + reason() + "; nothing was replaced", {}};
}

Outcome FileSink::write(const std::uint8_t* bytes, std::size_t count) {
  digest_.raw(bytes, count);
  size_ += count;
  while (count > 0) {
    const ssize_t put = ::write(file_, bytes, count);
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) return failed("written");
    bytes += put;
    count -= static_cast<std::size_t>(put);
  }
  return Done{};
}

// What stands on the disk, not what the cache remembers.
Outcome FileSink::compare_with_disk(const Hash& written) {
  ::posix_fadvise(file_, 0, 0, POSIX_FADV_DONTNEED);
  Digest read_back(32);
  std::vector<std::uint8_t> block(1 << 18);
  std::uint64_t position = 0;
  for (;;) {
    const ssize_t got = ::pread(file_, block.data(), block.size(), static_cast<off_t>(position));
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return failed("read back");
    if (got == 0) break;
    read_back.raw(block.data(), static_cast<std::size_t>(got));
    position += static_cast<std::uint64_t>(got);
  }
  Hash read;
  read_back.finish(read.bytes.data());
  if (read != written || position != size_) {
    return Error{ErrorKind::failed, path_ + " does not hold what was written; use another disk or stick", {}};
  }
  return Done{};
}

Outcome FileSink::commit() {
  if (unfinished_.empty()) {
    const int file = file_;
    file_ = -1;
    if (::close(file) != 0) return failed("written");
    return Done{};
  }
  Hash written;
  digest_.finish(written.bytes.data());
  if (::fsync(file_) != 0) return failed("flushed to the disk");
  auto same = compare_with_disk(written);
  if (!same) return same;
  const int file = file_;
  file_ = -1;
  if (::close(file) != 0) return failed("written");
  if (::rename(unfinished_.c_str(), path_.c_str()) != 0) return failed("put in its place");
  unfinished_.clear();
  const int folder = ::open(folder_of(path_).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (folder >= 0) {
    ::fsync(folder);  // some systems cannot flush a folder; the file itself is safe
    ::close(folder);
  }
  return Done{};
}

bool file_exists(const std::string& path) {
  struct stat about {};
  return ::lstat(path.c_str(), &about) == 0;
}

bool looks_like_a_store(const std::string& path) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  if (file < 0) return false;
  char first[16] = {};
  const ssize_t got = ::pread(file, first, sizeof first, 0);
  ::close(file);
  return got == sizeof first && std::memcmp(first, "SQLite format 3", 16) == 0;
}

void remove_new_store(const std::string& path) {
  for (const char* beside : {"", "-wal", "-shm", "-journal"}) ::unlink((path + beside).c_str());
}

}  // namespace motherbulb

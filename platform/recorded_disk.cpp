#include "platform/recorded_disk.hpp"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <optional>
#include <utility>

namespace motherbulb {
namespace {

constexpr std::array<const char*, 3> ends{"", "-wal", "-journal"};
constexpr int not_ours = -1;

enum class Change : std::uint8_t { write = 1, resize = 2, remove = 3, sync = 4 };

}  // namespace

struct RecordedDisk::Inside {
  // How a change is taken back: the bytes that stood there, and the file's size; no size: the file was not there.
  struct Before {
    std::uint64_t group = 0;
    int file = 0;
    std::uint64_t at = 0;
    std::vector<std::uint8_t> bytes;
    std::optional<std::uint64_t> size;
  };
  struct Touched {
    std::uint64_t group = 0;
    int file = 0;
    std::uint64_t at = 0, count = 0;
  };

  std::string store;
  sqlite3_vfs* below = nullptr;
  sqlite3_vfs vfs{};
  std::vector<std::uint8_t> news;
  std::uint64_t taken = 0, known_safe = 0;
  bool taken_back = false;
  std::vector<Before> before;    // of what is not safe, in order
  std::vector<Touched> touched;  // what of the files elsewhere may differ from what was last safe

  [[nodiscard]] int file_of(const char* name) const {
    if (name == nullptr) return not_ours;
    for (std::size_t i = 0; i < ends.size(); ++i) {
      if (store + ends[i] == name) return static_cast<int>(i);
    }
    return not_ours;
  }
  [[nodiscard]] std::string path(int file) const { return store + ends[static_cast<std::size_t>(file)]; }

  // The group in which what is written now will be taken.
  [[nodiscard]] std::uint64_t now() const { return taken + 1; }

  void note(Change kind, int file, std::uint64_t at, const std::uint8_t* bytes, std::size_t count) {
    const std::size_t start = news.size();
    news.resize(start + 16 + count);
    std::uint8_t* out = news.data() + start;
    out[0] = static_cast<std::uint8_t>(kind);
    out[1] = static_cast<std::uint8_t>(file);
    out[2] = out[3] = 0;
    for (std::size_t i = 0; i < 4; ++i) out[4 + i] = static_cast<std::uint8_t>(count >> (8 * i));
    for (std::size_t i = 0; i < 8; ++i) out[8 + i] = static_cast<std::uint8_t>(at >> (8 * i));
    if (count > 0) std::memcpy(out + 16, bytes, count);
  }
};

namespace {

using Inside = RecordedDisk::Inside;

// SQLite's file, with the real one behind it in the same piece of memory.
struct File {
  sqlite3_file base;
  Inside* disk;
  int which;
  sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
};
File* ours(sqlite3_file* file) {
  return reinterpret_cast<File*>(file);
}

std::uint64_t size_now(File* file) {
  sqlite3_int64 size = 0;
  return file->real()->pMethods->xFileSize(file->real(), &size) == SQLITE_OK ? static_cast<std::uint64_t>(size) : 0;
}

// What stands between `at` and `at + count`, as far as the file goes.
std::vector<std::uint8_t> standing(File* file, std::uint64_t at, std::uint64_t count) {
  const std::uint64_t size = size_now(file);
  if (at >= size) return {};
  std::vector<std::uint8_t> bytes(static_cast<std::size_t>(std::min(count, size - at)));
  file->real()->pMethods->xRead(file->real(), bytes.data(), static_cast<int>(bytes.size()),
                                static_cast<sqlite3_int64>(at));
  return bytes;
}

int close_file(sqlite3_file* file) {
  sqlite3_file* real = ours(file)->real();
  return real->pMethods != nullptr ? real->pMethods->xClose(real) : SQLITE_OK;
}
int read_file(sqlite3_file* file, void* out, int count, sqlite3_int64 at) {
  return ours(file)->real()->pMethods->xRead(ours(file)->real(), out, count, at);
}
int write_file(sqlite3_file* file, const void* bytes, int count, sqlite3_int64 at) {
  File* here = ours(file);
  Inside& disk = *here->disk;
  const auto place = static_cast<std::uint64_t>(at);
  const auto many = static_cast<std::uint64_t>(count);
  Inside::Before before;
  if (here->which != not_ours) before = {disk.now(), here->which, place, standing(here, place, many), size_now(here)};
  const int code = here->real()->pMethods->xWrite(here->real(), bytes, count, at);
  if (here->which == not_ours) return code;
  // Noted even where it failed: some of it may have been written.
  disk.before.push_back(std::move(before));
  disk.touched.push_back({disk.now(), here->which, place, many});
  disk.note(Change::write, here->which, place, static_cast<const std::uint8_t*>(bytes),
            static_cast<std::size_t>(count));
  return code;
}
int truncate_file(sqlite3_file* file, sqlite3_int64 to) {
  File* here = ours(file);
  Inside& disk = *here->disk;
  if (here->which != not_ours) {
    const std::uint64_t size = size_now(here);
    const auto wanted = static_cast<std::uint64_t>(to);
    disk.before.push_back(
        {disk.now(), here->which, wanted, standing(here, wanted, size > wanted ? size - wanted : 0), size});
    disk.touched.push_back({disk.now(), here->which, wanted, size > wanted ? size - wanted : 0});
    disk.note(Change::resize, here->which, wanted, nullptr, 0);
  }
  return here->real()->pMethods->xTruncate(here->real(), to);
}
int sync_file(sqlite3_file* file, int flags) {
  File* here = ours(file);
  if (here->which != not_ours) here->disk->note(Change::sync, here->which, 0, nullptr, 0);
  return here->real()->pMethods->xSync(here->real(), flags);
}
int file_size(sqlite3_file* file, sqlite3_int64* size) {
  return ours(file)->real()->pMethods->xFileSize(ours(file)->real(), size);
}
int lock_file(sqlite3_file* file, int level) {
  return ours(file)->real()->pMethods->xLock(ours(file)->real(), level);
}
int unlock_file(sqlite3_file* file, int level) {
  return ours(file)->real()->pMethods->xUnlock(ours(file)->real(), level);
}
int reserved_lock(sqlite3_file* file, int* reserved) {
  return ours(file)->real()->pMethods->xCheckReservedLock(ours(file)->real(), reserved);
}
int control_file(sqlite3_file* file, int wish, void* with) {
  return ours(file)->real()->pMethods->xFileControl(ours(file)->real(), wish, with);
}
int sector_size(sqlite3_file* file) {
  return ours(file)->real()->pMethods->xSectorSize(ours(file)->real());
}
int characteristics(sqlite3_file* file) {
  // Elsewhere nothing is known of how the disk below writes; here it is asked as if nothing could be relied on.
  return ours(file)->which == not_ours ? ours(file)->real()->pMethods->xDeviceCharacteristics(ours(file)->real()) : 0;
}

// The first version of these: no memory shared with other processes. A store is held by one alone.
constexpr sqlite3_io_methods methods{
    1,         close_file,  read_file,     write_file,   truncate_file, sync_file,       file_size,
    lock_file, unlock_file, reserved_lock, control_file, sector_size,   characteristics, nullptr,
    nullptr,   nullptr,     nullptr,       nullptr,      nullptr};

Inside& disk_of(sqlite3_vfs* vfs) {
  return *static_cast<Inside*>(vfs->pAppData);
}

int open_file(sqlite3_vfs* vfs, const char* name, sqlite3_file* file, int flags, int* flags_out) {
  Inside& disk = disk_of(vfs);
  File* here = ours(file);
  here->base.pMethods = nullptr;
  here->disk = &disk;
  here->which = disk.file_of(name);
  here->real()->pMethods = nullptr;
  struct stat about {};
  const bool fresh = here->which != not_ours && ::stat(name, &about) != 0;
  const int code = disk.below->xOpen(disk.below, name, here->real(), flags, flags_out);
  if (code != SQLITE_OK) {
    if (here->real()->pMethods != nullptr) here->real()->pMethods->xClose(here->real());
    return code;
  }
  here->base.pMethods = &methods;
  if (fresh) {
    disk.before.push_back({disk.now(), here->which, 0, {}, std::nullopt});
    disk.touched.push_back({disk.now(), here->which, 0, 0});
    disk.note(Change::resize, here->which, 0, nullptr, 0);
  }
  return SQLITE_OK;
}

int delete_file(sqlite3_vfs* vfs, const char* name, int sync_folder) {
  Inside& disk = disk_of(vfs);
  const int which = disk.file_of(name);
  struct stat about {};
  if (which != not_ours && ::stat(name, &about) == 0) {
    Inside::Before before{disk.now(), which, 0, {}, static_cast<std::uint64_t>(about.st_size)};
    before.bytes.resize(static_cast<std::size_t>(about.st_size));
    const int from = ::open(name, O_RDONLY | O_CLOEXEC);
    if (from < 0 || ::pread(from, before.bytes.data(), before.bytes.size(), 0) != about.st_size) {
      if (from >= 0) ::close(from);
      return SQLITE_IOERR_DELETE;
    }
    ::close(from);
    disk.touched.push_back({disk.now(), which, 0, *before.size});
    disk.before.push_back(std::move(before));
    disk.note(Change::remove, which, 0, nullptr, 0);
  }
  return disk.below->xDelete(disk.below, name, sync_folder);
}

int access_file(sqlite3_vfs* vfs, const char* name, int flags, int* out) {
  sqlite3_vfs* below = disk_of(vfs).below;
  return below->xAccess(below, name, flags, out);
}
int full_name(sqlite3_vfs* vfs, const char* name, int room, char* out) {
  sqlite3_vfs* below = disk_of(vfs).below;
  return below->xFullPathname(below, name, room, out);
}
int random_bytes(sqlite3_vfs* vfs, int count, char* out) {
  sqlite3_vfs* below = disk_of(vfs).below;
  return below->xRandomness(below, count, out);
}
int sleep_for(sqlite3_vfs* vfs, int microseconds) {
  sqlite3_vfs* below = disk_of(vfs).below;
  return below->xSleep(below, microseconds);
}
int time_of_day(sqlite3_vfs* vfs, double* days) {
  sqlite3_vfs* below = disk_of(vfs).below;
  return below->xCurrentTime(below, days);
}
int last_error(sqlite3_vfs* vfs, int room, char* out) {
  sqlite3_vfs* below = disk_of(vfs).below;
  return below->xGetLastError != nullptr ? below->xGetLastError(below, room, out) : 0;
}
int time_in_ms(sqlite3_vfs* vfs, sqlite3_int64* ms) {
  sqlite3_vfs* below = disk_of(vfs).below;
  return below->xCurrentTimeInt64(below, ms);
}

bool read_all(int file, std::uint64_t at, std::uint8_t* out, std::size_t count) {
  for (std::size_t done = 0; done < count;) {
    const ssize_t got = ::pread(file, out + done, count - done, static_cast<off_t>(at + done));
    if (got <= 0) return false;
    done += static_cast<std::size_t>(got);
  }
  return true;
}
bool write_all(int file, std::uint64_t at, const std::uint8_t* bytes, std::size_t count) {
  for (std::size_t done = 0; done < count;) {
    const ssize_t put = ::pwrite(file, bytes + done, count - done, static_cast<off_t>(at + done));
    if (put <= 0) return false;
    done += static_cast<std::size_t>(put);
  }
  return true;
}

}  // namespace

RecordedDisk::RecordedDisk(const std::string& store) : inside_(std::make_unique<Inside>()) {
  Inside& in = *inside_;
  in.store = store;
  in.below = sqlite3_vfs_find(nullptr);
  in.vfs.iVersion = 2;
  in.vfs.szOsFile = static_cast<int>(sizeof(File)) + in.below->szOsFile;
  in.vfs.mxPathname = in.below->mxPathname;
  in.vfs.zName = "motherbulb-recorded";
  in.vfs.pAppData = &in;
  in.vfs.xOpen = open_file;
  in.vfs.xDelete = delete_file;
  in.vfs.xAccess = access_file;
  in.vfs.xFullPathname = full_name;
  in.vfs.xRandomness = random_bytes;
  in.vfs.xSleep = sleep_for;
  in.vfs.xCurrentTime = time_of_day;
  in.vfs.xGetLastError = last_error;
  in.vfs.xCurrentTimeInt64 = time_in_ms;
  sqlite3_vfs_register(&in.vfs, 1);
}

RecordedDisk::~RecordedDisk() {
  sqlite3_vfs_unregister(&inside_->vfs);
  sqlite3_vfs_register(inside_->below, 1);
}

bool RecordedDisk::has_news() const {
  return !inside_->news.empty() || inside_->taken_back;
}

RecordedDisk::Group RecordedDisk::take() {
  Group group;
  group.number = ++inside_->taken;
  group.changes.swap(inside_->news);
  group.after_loss = std::exchange(inside_->taken_back, false);
  return group;
}

void RecordedDisk::safe(std::uint64_t number) {
  Inside& in = *inside_;
  in.known_safe = std::max(in.known_safe, std::min(number, in.taken));
  const auto done = [&](const auto& one) { return one.group <= in.known_safe; };
  in.before.erase(std::remove_if(in.before.begin(), in.before.end(), done), in.before.end());
  in.touched.erase(std::remove_if(in.touched.begin(), in.touched.end(), done), in.touched.end());
}

std::uint64_t RecordedDisk::last_taken() const {
  return inside_->taken;
}
std::uint64_t RecordedDisk::last_safe() const {
  return inside_->known_safe;
}
bool RecordedDisk::all_safe() const {
  return !has_news() && inside_->taken == inside_->known_safe;
}

Outcome RecordedDisk::take_back() {
  Inside& in = *inside_;
  const auto failed = [&](int file) {
    return Error{ErrorKind::failed, in.path(file) + " cannot be put back to what is safe; load the page again", {}};
  };
  for (auto one = in.before.rbegin(); one != in.before.rend(); ++one) {
    const std::string path = in.path(one->file);
    if (!one->size) {
      ::unlink(path.c_str());
      continue;
    }
    const int file = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
    if (file < 0) return failed(one->file);
    const bool good = write_all(file, one->at, one->bytes.data(), one->bytes.size()) &&
                      ::ftruncate(file, static_cast<off_t>(*one->size)) == 0;
    ::close(file);
    if (!good) return failed(one->file);
  }
  in.before.clear();
  in.news.clear();
  in.taken_back = true;

  // Elsewhere any beginning of the lost groups may have arrived: all that they touched is written again as it is now.
  const std::vector<Inside::Touched> touched = std::move(in.touched);
  in.touched.clear();
  for (int which = 0; which < static_cast<int>(ends.size()); ++which) {
    const bool any =
        std::any_of(touched.begin(), touched.end(), [&](const Inside::Touched& one) { return one.file == which; });
    if (!any) continue;
    const int file = ::open(in.path(which).c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0) {
      in.note(Change::remove, which, 0, nullptr, 0);
      in.touched.push_back({in.now(), which, 0, 0});
      continue;
    }
    struct stat about {};
    bool good = ::fstat(file, &about) == 0;
    const auto size = static_cast<std::uint64_t>(about.st_size);
    for (const Inside::Touched& one : touched) {
      if (one.file != which) continue;
      in.touched.push_back({in.now(), which, one.at, one.count});
      if (one.at >= size || one.count == 0) continue;
      std::vector<std::uint8_t> bytes(static_cast<std::size_t>(std::min(one.count, size - one.at)));
      good = good && read_all(file, one.at, bytes.data(), bytes.size());
      in.note(Change::write, which, one.at, bytes.data(), bytes.size());
    }
    in.note(Change::resize, which, size, nullptr, 0);
    in.note(Change::sync, which, 0, nullptr, 0);
    ::close(file);
    if (!good) return failed(which);
  }
  return Done{};
}

}  // namespace motherbulb

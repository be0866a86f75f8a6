#include "core/demo/file.hpp"

#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>

namespace motherbulb::demo {

bool there_is(const std::string& path) {
  return access(path.c_str(), F_OK) == 0;
}

Outcome write_file(const std::string& path, const std::vector<std::uint8_t>& bytes) {
  const std::string part = path + ".part";
  const auto failed = [&] {
    const bool nowhere = errno == ENOENT || errno == ENOTDIR;
    Error error{nowhere ? ErrorKind::refused : ErrorKind::failed,
                path + " cannot be written: " + std::strerror(errno) +
                    (nowhere ? "; name a folder that is there" : "; make room or choose another disk"),
                {}};
    std::remove(part.c_str());
    return error;
  };
  std::FILE* file = std::fopen(part.c_str(), "wb");
  if (file == nullptr) return failed();
  const bool written = std::fwrite(bytes.data(), 1, bytes.size(), file) == bytes.size() && std::fflush(file) == 0 &&
                       fsync(fileno(file)) == 0;
  const int why = errno;
  const bool closed = std::fclose(file) == 0;
  if (!written) errno = why;
  if (!written || !closed) return failed();
  if (std::rename(part.c_str(), path.c_str()) != 0) return failed();
  return Done{};
}

Files::~Files() {
  for (const std::string& path : paths_) std::remove(path.c_str());
}

}  // namespace motherbulb::demo

#include "platform/desktop_host.hpp"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/random.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <cstdlib>
#include <cstring>
#include <ctime>

#include "shared/digest.hpp"

namespace motherbulb {
namespace {

// One record a writer: its 16 bytes, then the sequence in 8, least first.
constexpr std::size_t record_size = 24;

class StateFile {
public:
  StateFile(const std::string& folder, bool for_writing) {
    if (folder.empty()) return;
    if (for_writing) make_folders(folder);
    const int flags = for_writing ? O_RDWR | O_CREAT : O_RDONLY;
    file_ = ::open((folder + "/sequences").c_str(), flags | O_CLOEXEC, 0600);
    if (file_ >= 0 && for_writing) ::flock(file_, LOCK_EX);
  }
  ~StateFile() {
    if (file_ >= 0) ::close(file_);
  }
  StateFile(const StateFile&) = delete;
  StateFile& operator=(const StateFile&) = delete;

  // The sequence kept for a writer, and where its record stands (or would).
  std::uint64_t find(const WriterId& writer, off_t& position) const {
    position = 0;
    if (file_ < 0) return 0;
    std::uint8_t record[record_size];
    while (::pread(file_, record, record_size, position) == static_cast<ssize_t>(record_size)) {
      if (std::memcmp(record, writer.bytes.data(), 16) == 0) {
        std::uint64_t sequence = 0;
        for (std::size_t i = record_size; i > 16; --i) sequence = sequence << 8 | record[i - 1];
        return sequence;
      }
      position += static_cast<off_t>(record_size);
    }
    return 0;
  }
  void put(const WriterId& writer, std::uint64_t sequence, off_t position) const {
    if (file_ < 0) return;
    std::uint8_t record[record_size];
    std::memcpy(record, writer.bytes.data(), 16);
    for (std::size_t i = 0; i < 8; ++i) record[16 + i] = static_cast<std::uint8_t>(sequence >> (8 * i));
    if (::pwrite(file_, record, record_size, position) != static_cast<ssize_t>(record_size)) return;
  }

private:
  static void make_folders(const std::string& folder) {
    for (std::size_t at = 1; at <= folder.size(); ++at) {
      if (at == folder.size() || folder[at] == '/') ::mkdir(folder.substr(0, at).c_str(), 0700);
    }
  }
  int file_ = -1;
};

std::string first_line(const char* path) {
  const int file = ::open(path, O_RDONLY | O_CLOEXEC);
  if (file < 0) return "";
  char text[64];
  const ssize_t got = ::read(file, text, sizeof text);
  ::close(file);
  std::string line(text, got > 0 ? static_cast<std::size_t>(got) : 0);
  return line.substr(0, line.find('\n'));
}

void put_number(std::uint64_t value, std::string& out) {
  out += std::to_string(value) + " ";
}

}  // namespace

DesktopHost::DesktopHost(std::string state_folder) : state_folder_(std::move(state_folder)) {}

std::string DesktopHost::usual_state_folder() {
  const char* state = std::getenv("XDG_STATE_HOME");
  if (state != nullptr && state[0] == '/') return std::string(state) + "/motherbulb";
  const char* home = std::getenv("HOME");
  if (home != nullptr && home[0] == '/') return std::string(home) + "/.local/state/motherbulb";
  return "";
}

std::string DesktopHost::usual_data_folder() {
  const char* data = std::getenv("XDG_DATA_HOME");
  if (data != nullptr && data[0] == '/') return std::string(data) + "/motherbulb";
  const char* home = std::getenv("HOME");
  if (home != nullptr && home[0] == '/') return std::string(home) + "/.local/share/motherbulb";
  return "";
}

std::int64_t DesktopHost::now_ms() {
  const auto since = std::chrono::system_clock::now().time_since_epoch();
  return std::chrono::duration_cast<std::chrono::milliseconds>(since).count();
}

std::int32_t DesktopHost::offset_minutes(std::int64_t utc_ms) {
  const std::int64_t seconds = utc_ms / 1000 - (utc_ms % 1000 < 0 ? 1 : 0);
  const auto at = static_cast<std::time_t>(seconds);
  std::tm local{};
  if (::localtime_r(&at, &local) == nullptr) return 0;
  return static_cast<std::int32_t>(local.tm_gmtoff / 60);
}

void DesktopHost::random(std::uint8_t* out, std::size_t count) {
  while (count > 0) {
    const ssize_t got = ::getrandom(out, count, 0);
    if (got < 0) continue;  // interrupted; a kernel without it is older than any that runs this
    out += got;
    count -= static_cast<std::size_t>(got);
  }
}

std::string DesktopHost::store_token(const std::string& path) {
  struct statx about {};
  if (::statx(AT_FDCWD, path.c_str(), 0, STATX_INO | STATX_BTIME, &about) != 0) return "";
  std::string bytes = "motherbulb store 1 " + first_line("/etc/machine-id") + " ";
  put_number(about.stx_ino, bytes);
  if ((about.stx_mask & STATX_BTIME) != 0) {
    put_number(static_cast<std::uint64_t>(about.stx_btime.tv_sec), bytes);
    put_number(about.stx_btime.tv_nsec, bytes);
  }
  return hex(digest_128(bytes));
}

std::uint64_t DesktopHost::highest_sequence(const WriterId& writer) {
  off_t position = 0;
  return StateFile(state_folder_, false).find(writer, position);
}

void DesktopHost::keep_highest_sequence(const WriterId& writer, std::uint64_t sequence) {
  const StateFile file(state_folder_, true);
  off_t position = 0;
  if (file.find(writer, position) < sequence) file.put(writer, sequence, position);
}

}  // namespace motherbulb

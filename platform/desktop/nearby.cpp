#include "platform/desktop/nearby.hpp"

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <system_error>

#include "platform/files.hpp"

namespace motherbulb {
namespace {

namespace fs = std::filesystem;

constexpr int most_looked_at = 2000;  // of a folder: a stick full of pictures must not hold up a screen

std::optional<NearbyFile> file_at(const fs::path& path) {
  std::error_code fault;
  if (!fs::is_regular_file(path, fault) || fault) return std::nullopt;
  NearbyFile file;
  file.path = path.string();
  file.name = path.filename().string();
  file.size = fs::file_size(path, fault);
  if (fault) return std::nullopt;
  const auto written = fs::last_write_time(path, fault);
  if (!fault) {
    file.modified_ms = std::chrono::duration_cast<std::chrono::milliseconds>(written.time_since_epoch()).count();
  }
  return file;
}

void look_into(const fs::path& folder, int deeper, int& looked_at, std::vector<NearbyFile>& found) {
  std::error_code fault;
  fs::directory_iterator entry(folder, fs::directory_options::skip_permission_denied, fault);
  for (; !fault && entry != fs::directory_iterator(); entry.increment(fault)) {
    if (++looked_at > most_looked_at) return;
    std::error_code ignored;
    if (entry->path().extension() == ".parcel") {
      if (auto file = file_at(entry->path())) found.push_back(std::move(*file));
    } else if (deeper > 0 && entry->is_directory(ignored) && !entry->is_symlink(ignored)) {
      look_into(entry->path(), deeper - 1, looked_at, found);
    }
  }
}

// Where Debian's desktops mount sticks: /media/PERSON/STICK, /run/media/PERSON/STICK. Tests name a folder of their own.
std::vector<fs::path> stick_folders() {
  if (const char* given = std::getenv("MOTHERBULB_STICKS")) return {given};
  return {"/media", "/run/media"};
}

}  // namespace

std::vector<NearbyFile> NearbyFiles::parcels_near(const std::string& store) {
  std::vector<NearbyFile> found;
  fs::path folder = fs::path(store).parent_path();
  if (folder.empty()) folder = ".";
  int looked_at = 0;
  look_into(folder, 0, looked_at, found);
  for (const fs::path& sticks : stick_folders()) {
    int looked_at_there = 0;
    look_into(sticks, 3, looked_at_there, found);
  }
  std::sort(found.begin(), found.end(), [](const NearbyFile& a, const NearbyFile& b) { return a.path < b.path; });
  return found;
}

Result<NearbyFile> NearbyFiles::look_at(const std::string& path) {
  if (auto file = file_at(path)) return std::move(*file);
  return Error{ErrorKind::missing, path + " is no file that can be read", {}};
}

Result<std::unique_ptr<ByteSource>> NearbyFiles::open(const std::string& path) {
  return FileSource::open(path);
}

}  // namespace motherbulb

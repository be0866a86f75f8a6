#include "platform/desktop/nearby.hpp"

#include <sys/stat.h>

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

void look_into(const fs::path& folder, int deeper, int& looked_at, std::vector<FoundFile>& found) {
  std::error_code fault;
  fs::directory_iterator entry(folder, fs::directory_options::skip_permission_denied, fault);
  for (; !fault && entry != fs::directory_iterator(); entry.increment(fault)) {
    if (++looked_at > most_looked_at) return;
    std::error_code ignored;
    if (entry->path().extension() == ".parcel") {
      if (auto file = find_file(entry->path().string())) found.push_back(std::move(*file));
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

fs::path folder_of_store(const std::string& store) {
  const fs::path folder = fs::path(store).parent_path();
  return folder.empty() ? fs::path(".") : folder;
}

std::vector<fs::path> folders_in(const fs::path& folder) {
  std::vector<fs::path> found;
  std::error_code fault;
  int looked_at = 0;
  fs::directory_iterator entry(folder, fs::directory_options::skip_permission_denied, fault);
  for (; !fault && entry != fs::directory_iterator() && ++looked_at <= most_looked_at; entry.increment(fault)) {
    std::error_code ignored;
    if (entry->is_directory(ignored)) found.push_back(entry->path());
  }
  std::sort(found.begin(), found.end());
  return found;
}

// A folder left behind by a stick that was pulled lies on the machine's own disk: only what is mounted is a stick.
bool is_mounted(const fs::path& folder) {
  struct stat here {
  }, above{};
  if (::stat(folder.c_str(), &here) != 0 || ::stat(folder.parent_path().c_str(), &above) != 0) return false;
  return here.st_dev != above.st_dev;
}

}  // namespace

std::vector<FoundPlace> NearbyFiles::places_to_write(const std::string& store) {
  std::vector<FoundPlace> places;
  std::error_code fault;
  const fs::path own = fs::absolute(folder_of_store(store), fault).lexically_normal();
  places.push_back({own.string(), own.filename().string(), false});
  // A folder named by MOTHERBULB_STICKS stands for one where sticks are mounted, and all in it counts as mounted.
  const bool given = std::getenv("MOTHERBULB_STICKS") != nullptr;
  for (const fs::path& sticks : stick_folders()) {
    for (const fs::path& outer : folders_in(sticks)) {
      if (!given && is_mounted(outer)) {
        places.push_back({outer.string(), outer.filename().string(), true});
        continue;
      }
      for (const fs::path& inner : folders_in(outer)) {
        if (given || is_mounted(inner)) places.push_back({inner.string(), inner.filename().string(), true});
      }
    }
  }
  return places;
}

bool NearbyFiles::is_there(const std::string& path) {
  return file_exists(path);
}

Result<std::unique_ptr<ByteSink>> NearbyFiles::write(const std::string& path) {
  return FileSink::create(path);
}

std::vector<FoundFile> NearbyFiles::parcels_near(const std::string& store) {
  std::vector<FoundFile> found;
  const fs::path folder = folder_of_store(store);
  int looked_at = 0;
  look_into(folder, 0, looked_at, found);
  for (const fs::path& sticks : stick_folders()) {
    int looked_at_there = 0;
    look_into(sticks, 3, looked_at_there, found);
  }
  std::sort(found.begin(), found.end(), [](const FoundFile& a, const FoundFile& b) { return a.path < b.path; });
  return found;
}

Result<FoundFile> NearbyFiles::look_at(const std::string& path) {
  if (auto file = find_file(path)) return std::move(*file);
  return Error{ErrorKind::missing, path + " is no file that can be read", {}};
}

Result<std::unique_ptr<ByteSource>> NearbyFiles::open(const std::string& path) {
  return FileSource::open(path);
}

}  // namespace motherbulb

#include "platform/found_file.hpp"

#include <chrono>
#include <filesystem>
#include <system_error>

namespace motherbulb {

namespace fs = std::filesystem;

std::optional<FoundFile> find_file(const std::string& name) {
  const fs::path path(name);
  std::error_code fault;
  if (!fs::is_regular_file(path, fault) || fault) return std::nullopt;
  FoundFile file;
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

}  // namespace motherbulb

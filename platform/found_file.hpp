// A file that a person may want to take in, and a place to write one to: what every kind of machine says of them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace motherbulb {

struct FoundFile {
  std::string path;
  std::string name;
  std::uint64_t size = 0;
  std::int64_t modified_ms = 0;  // 0: unknown
};

struct FoundPlace {
  std::string folder;
  std::string name;
  bool stick = false;
};

// None where no plain file stands there, or it cannot be looked at.
std::optional<FoundFile> find_file(const std::string& path);

}  // namespace motherbulb

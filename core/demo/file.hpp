// The demo's files on the disk.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "shared/result.hpp"

namespace motherbulb::demo {

bool there_is(const std::string& path);

// The file comes under its name whole and safely on the disk, or not at all.
Outcome write_file(const std::string& path, const std::vector<std::uint8_t>& bytes);

// Files of ours that go with this object, unless they are kept.
class Files {
public:
  Files() = default;
  ~Files();
  Files(const Files&) = delete;
  Files& operator=(const Files&) = delete;

  void add(const std::string& path) { paths_.push_back(path); }
  void keep() { paths_.clear(); }

private:
  std::vector<std::string> paths_;
};

}  // namespace motherbulb::demo

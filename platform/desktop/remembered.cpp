#include "platform/desktop/remembered.hpp"

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <system_error>

namespace motherbulb {
namespace {

// One thing a line: what it is, a space, the rest of the line. A line of a later version is passed over.
std::string file_in(const std::string& folder) {
  return (std::filesystem::path(folder) / "window").string();
}

// 100 where it is no such number.
int percent_in(const std::string& text) {
  const int read = std::atoi(text.c_str());
  return read >= 100 && read <= 200 ? read : 100;
}

bool on_one_line(const std::string& text) {
  return text.find('\n') == std::string::npos;
}

}  // namespace

Remembered load_remembered(const std::string& folder) {
  Remembered found;
  if (folder.empty()) return found;
  std::ifstream in(file_in(folder));
  std::string line;
  while (std::getline(in, line)) {
    const std::size_t space = line.find(' ');
    if (space == std::string::npos) continue;
    const std::string what = line.substr(0, space);
    const std::string rest = line.substr(space + 1);
    if (what == "book") found.store = rest;
    if (what == "helper") found.helper = rest;
    if (what == "theme") found.night = rest == "night";
    if (what == "hand") found.left_hand = rest == "left";
    if (what == "motion") found.less_motion = rest == "less";
    if (what == "hemisphere") found.south = rest == "south";
    if (what == "text") found.text_percent = percent_in(rest);
  }
  return found;
}

void save_remembered(const std::string& folder, const Remembered& remembered) {
  if (folder.empty()) return;
  std::error_code ignored;
  std::filesystem::create_directories(folder, ignored);
  const std::string unfinished = file_in(folder) + ".new";
  {
    std::ofstream out(unfinished, std::ios::trunc);
    if (on_one_line(remembered.store)) out << "book " << remembered.store << '\n';
    if (on_one_line(remembered.helper)) out << "helper " << remembered.helper << '\n';
    out << "theme " << (remembered.night ? "night" : "day") << '\n';
    out << "hand " << (remembered.left_hand ? "left" : "right") << '\n';
    out << "motion " << (remembered.less_motion ? "less" : "full") << '\n';
    out << "hemisphere " << (remembered.south ? "south" : "north") << '\n';
    out << "text " << remembered.text_percent << '\n';
    if (!out.flush()) return;
  }
  std::filesystem::rename(unfinished, file_in(folder), ignored);
}

}  // namespace motherbulb

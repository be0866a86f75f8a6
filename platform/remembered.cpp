#include "platform/remembered.hpp"

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
    if (what == "handed") {
      const std::size_t next = rest.find(' ');
      found.handed_writer = rest.substr(0, next);
      found.handed_upto = next == std::string::npos ? 0 : std::strtoull(rest.c_str() + next, nullptr, 10);
    }
    if (what == "text") found.text_percent = percent_in(rest);
  }
  return found;
}

std::string text_of_remembered(const Remembered& remembered) {
  std::string text;
  const auto line = [&](const char* what, const std::string& rest) { text += std::string(what) + ' ' + rest + '\n'; };
  if (on_one_line(remembered.store)) line("book", remembered.store);
  if (on_one_line(remembered.helper)) line("helper", remembered.helper);
  line("theme", remembered.night ? "night" : "day");
  line("hand", remembered.left_hand ? "left" : "right");
  line("motion", remembered.less_motion ? "less" : "full");
  line("hemisphere", remembered.south ? "south" : "north");
  line("text", std::to_string(remembered.text_percent));
  if (!remembered.handed_writer.empty())
    line("handed", remembered.handed_writer + ' ' + std::to_string(remembered.handed_upto));
  return text;
}

void save_remembered(const std::string& folder, const Remembered& remembered) {
  if (folder.empty()) return;
  std::error_code ignored;
  std::filesystem::create_directories(folder, ignored);
  const std::string unfinished = file_in(folder) + ".new";
  {
    std::ofstream out(unfinished, std::ios::trunc);
    out << text_of_remembered(remembered);
    if (!out.flush()) return;
  }
  std::filesystem::rename(unfinished, file_in(folder), ignored);
}

}  // namespace motherbulb

#include "app/widgets/unspaced.hpp"

namespace motherbulb {
namespace {

bool goes_on(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

}  // namespace

std::vector<std::string> unspaced_lines(Pen& pen, Type type, const std::string& text, float width) {
  std::vector<std::string> lines;
  std::string line;
  std::string step;
  const auto put = [&] {
    if (!line.empty() && pen.width(type, line + step) > width) {
      lines.push_back(line);
      line.clear();
    }
    line += step;
    step.clear();
    while (line.size() > 1 && pen.width(type, line) > width) {
      std::size_t end = line.size() - 1;
      while (end > 1 && (goes_on(line[end]) || pen.width(type, line.substr(0, end)) > width)) --end;
      while (end < line.size() && goes_on(line[end])) ++end;
      if (end >= line.size()) break;
      lines.push_back(line.substr(0, end));
      line.erase(0, end);
    }
  };
  for (const char c : text) {
    step += c;
    if (c == '/' || c == '-') put();
  }
  put();
  if (!line.empty()) lines.push_back(line);
  return lines;
}

}  // namespace motherbulb

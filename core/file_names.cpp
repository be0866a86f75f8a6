#include "core/file_names.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t longest = 80;  // of the parts, in bytes: day, number and ending come behind

bool goes_on(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

void append_part(std::string_view part, std::string& name) {
  bool gap = !name.empty();
  for (const char c : part) {
    const bool small = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80;
    const bool capital = c >= 'A' && c <= 'Z';
    if (!small && !capital) {
      gap = !name.empty();
      continue;
    }
    if (gap && name.back() != '-') name += '-';
    gap = false;
    name += capital ? static_cast<char>(c - 'A' + 'a') : c;
  }
}

}  // namespace

std::string file_name(const std::vector<std::string>& parts, Day day, std::string_view ending, int nth) {
  std::string name;
  for (const std::string& part : parts) append_part(part, name);
  if (name.size() > longest) {
    std::size_t end = longest;
    while (end > 0 && goes_on(name[end])) --end;
    name.resize(end);
  }
  while (!name.empty() && name.back() == '-') name.pop_back();
  if (!name.empty()) name += '-';
  name += to_text(day);
  if (nth > 1) name += "-" + std::to_string(nth);
  return name + std::string(ending);
}

}  // namespace motherbulb

#include "core/names.hpp"

#include <utf8proc.h>

#include <cstdlib>
#include <vector>

namespace motherbulb {
namespace {

bool is_ascii(std::string_view text) {
  for (const char c : text) {
    if (static_cast<unsigned char>(c) >= 128) return false;
  }
  return true;
}

bool ascii_space(char c) {
  return c == ' ' || (c >= '\t' && c <= '\r');
}

std::string folded_ascii(std::string_view name) {
  std::string folded;
  folded.reserve(name.size());
  bool space = false;
  for (const char c : name) {
    if (ascii_space(c)) {
      space = !folded.empty();
      continue;
    }
    if (space) folded += ' ';
    space = false;
    folded += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  }
  return folded;
}

const utf8proc_uint8_t* bytes_of(std::string_view text) {
  return reinterpret_cast<const utf8proc_uint8_t*>(text.data());
}

// The code points of a text, false where it is no UTF-8.
bool code_points(std::string_view text, std::vector<utf8proc_int32_t>& out) {
  std::size_t at = 0;
  while (at < text.size()) {
    utf8proc_int32_t point = 0;
    const auto taken = utf8proc_iterate(bytes_of(text) + at, static_cast<utf8proc_ssize_t>(text.size() - at), &point);
    if (taken <= 0) return false;
    out.push_back(point);
    at += static_cast<std::size_t>(taken);
  }
  return true;
}

bool is_space(utf8proc_int32_t point) {
  if (point < 128) return ascii_space(static_cast<char>(point));
  const auto category = utf8proc_category(point);
  return category == UTF8PROC_CATEGORY_ZS || category == UTF8PROC_CATEGORY_ZL || category == UTF8PROC_CATEGORY_ZP ||
         point == 0x85;
}

// Letters, and the marks that make one letter another.
bool is_letter(utf8proc_int32_t point) {
  const auto category = utf8proc_category(point);
  return category >= UTF8PROC_CATEGORY_LU && category <= UTF8PROC_CATEGORY_ME;
}

}  // namespace

std::string folded_name(std::string_view name) {
  if (is_ascii(name)) return folded_ascii(name);
  utf8proc_uint8_t* mapped = nullptr;
  const auto size =
      utf8proc_map(bytes_of(name), static_cast<utf8proc_ssize_t>(name.size()), &mapped,
                   static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_COMPOSE | UTF8PROC_CASEFOLD));
  if (size < 0) return std::string(name);
  const std::string text(reinterpret_cast<const char*>(mapped), static_cast<std::size_t>(size));
  std::free(mapped);
  std::string folded;
  folded.reserve(text.size());
  bool space = false;
  std::size_t at = 0;
  while (at < text.size()) {
    utf8proc_int32_t point = 0;
    const auto taken = static_cast<std::size_t>(
        utf8proc_iterate(bytes_of(text) + at, static_cast<utf8proc_ssize_t>(text.size() - at), &point));
    if (is_space(point)) {
      space = !folded.empty();
    } else {
      if (space) folded += ' ';
      space = false;
      folded.append(text, at, taken);
    }
    at += taken;
  }
  return folded;
}

bool differ_by_a_letter(std::string_view a, std::string_view b) {
  std::vector<utf8proc_int32_t> first, second;
  if (!code_points(folded_name(a), first) || !code_points(folded_name(b), second)) return false;
  if (first.size() > second.size()) first.swap(second);
  if (second.size() - first.size() > 1) return false;
  std::size_t same = 0;
  while (same < first.size() && first[same] == second[same]) ++same;
  if (same == second.size()) return false;  // equal
  std::size_t same_end = 0;
  while (same_end < first.size() - same && first[first.size() - 1 - same_end] == second[second.size() - 1 - same_end]) {
    ++same_end;
  }
  if (same + same_end + 1 < second.size()) return false;
  if (!is_letter(second[same])) return false;
  return first.size() != second.size() || is_letter(first[same]);
}

std::size_t columns_wide(std::string_view text) {
  if (is_ascii(text)) return text.size();
  std::vector<utf8proc_int32_t> points;
  if (!code_points(text, points)) return text.size();
  std::size_t columns = 0;
  for (const auto point : points) columns += static_cast<std::size_t>(utf8proc_charwidth(point));
  return columns;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && ascii_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && ascii_space(text.back())) text.remove_suffix(1);
  return text;
}

}  // namespace motherbulb

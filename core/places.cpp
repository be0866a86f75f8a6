#include "core/places.hpp"

#include <algorithm>

#include "core/names.hpp"

namespace motherbulb {
namespace {

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

constexpr std::int32_t greatest_position = 99'999;

// 0 where the text is no position.
std::int32_t position_in(std::string_view text) {
  std::string folded = folded_name(text);
  for (const std::string_view prefix : {"position ", "no. ", "no.", "no ", "nr. ", "nr.", "nr ", "#"}) {
    if (folded.rfind(prefix, 0) != 0) continue;
    folded.erase(0, prefix.size());
    break;
  }
  if (folded.empty() || folded.size() > 5 || !std::all_of(folded.begin(), folded.end(), is_digit)) return 0;
  std::int32_t number = 0;
  for (const char c : folded) number = number * 10 + (c - '0');
  return number <= greatest_position ? number : 0;
}

}  // namespace

PlaceParts split_place(std::string_view place) {
  const std::string_view whole = trimmed(place);
  const std::size_t comma = whole.rfind(',');
  if (comma == std::string_view::npos) return {std::string(whole), 0};
  const std::int32_t position = position_in(whole.substr(comma + 1));
  const std::string_view bench = trimmed(whole.substr(0, comma));
  if (position == 0 || bench.empty()) return {std::string(whole), 0};
  return {std::string(bench), position};
}

std::string join_place(const PlaceParts& parts) {
  if (parts.position <= 0 || parts.bench.empty()) return parts.bench;
  return parts.bench + ", no. " + std::to_string(parts.position);
}

std::string near_name(std::string_view bench) {
  const std::size_t comma = bench.rfind(", ");
  return std::string(comma == std::string_view::npos ? bench : bench.substr(comma + 2));
}

bool walked_before(std::string_view a, std::string_view b) {
  std::size_t i = 0;
  std::size_t j = 0;
  while (i < a.size() && j < b.size()) {
    if (is_digit(a[i]) && is_digit(b[j])) {
      std::size_t end_i = i;
      std::size_t end_j = j;
      while (end_i < a.size() && is_digit(a[end_i])) ++end_i;
      while (end_j < b.size() && is_digit(b[end_j])) ++end_j;
      std::size_t from_i = i;
      std::size_t from_j = j;
      while (from_i + 1 < end_i && a[from_i] == '0') ++from_i;
      while (from_j + 1 < end_j && b[from_j] == '0') ++from_j;
      const std::string_view number_a = a.substr(from_i, end_i - from_i);
      const std::string_view number_b = b.substr(from_j, end_j - from_j);
      if (number_a.size() != number_b.size()) return number_a.size() < number_b.size();
      if (number_a != number_b) return number_a < number_b;
      i = end_i;
      j = end_j;
      continue;
    }
    if (a[i] != b[j]) return static_cast<unsigned char>(a[i]) < static_cast<unsigned char>(b[j]);
    ++i;
    ++j;
  }
  if (i < a.size() || j < b.size()) return j < b.size();
  return a < b;  // 02 and 2 are told apart
}

}  // namespace motherbulb

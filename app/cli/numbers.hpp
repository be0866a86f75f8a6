// Numbers as people write them on a command line: read exactly, without the locale, or not at all.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace motherbulb::cli {

// Digits with at most one point, 15 of them at most; the double nearest to what was written. `figures_behind` moves the
// point further to the left.
std::optional<double> decimal(std::string_view text, int figures_behind = 0);
// A part of one: 0.05 or 5%.
std::optional<double> part(std::string_view text);
// Digits only, 12 of them at most.
std::optional<std::int64_t> whole(std::string_view text);

// Says what the option takes; the exit code.
int no_number(const char* option, const std::string& text, const char* takes);
// Read into `into`; where nothing is written it stays as it is. The exit code where it is no such number.
template <class T>
std::optional<int> read_whole(const char* option, const std::string& text, std::int64_t least, std::int64_t most,
                              T& into) {
  if (text.empty()) return std::nullopt;
  const auto number = whole(text);
  if (!number || *number < least || *number > most) {
    const std::string takes = "a whole number from " + std::to_string(least) + " to " + std::to_string(most);
    return no_number(option, text, takes.c_str());
  }
  into = static_cast<T>(*number);
  return std::nullopt;
}
// The same of a number of 0 or more with a point; `takes` says what would do.
std::optional<int> read_decimal(const char* option, const std::string& text, const char* takes, double& into);

// 12 %, to the nearest.
std::string percent(double part_of_one);

// For no_number.
inline constexpr const char* takes_a_part = "a part of one, as 0.05 or 5%";
inline constexpr const char* takes_a_whole_number = "a whole number";

}  // namespace motherbulb::cli

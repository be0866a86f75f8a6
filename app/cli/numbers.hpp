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
// For no_number.
inline constexpr const char* takes_a_part = "a part of one, as 0.05 or 5%";
inline constexpr const char* takes_a_whole_number = "a whole number";

}  // namespace motherbulb::cli

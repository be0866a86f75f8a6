// What is due, in words: the same on the screens, the command line, calendars and printed pages.
#pragma once

#include <string>
#include <string_view>

#include "core/due/due.hpp"

namespace motherbulb {

[[nodiscard]] std::string_view name_of(Step step);       // Dry off, Start, Repot, …
[[nodiscard]] std::string span_words(const Span& span);  // "8 weeks"
// "Dried off 9 weeks ago, plan: 8 to 10 weeks"; "Put off by Marit until 3 December: roots still white".
[[nodiscard]] std::string why_due(const BatchState& batch, const Due& due, Day on, Hemisphere where);
// How long it is since what it counts from, in the plan's unit: "9 weeks", "44 months".
[[nodiscard]] std::string elapsed_words(const Due& due, Day on);

}  // namespace motherbulb

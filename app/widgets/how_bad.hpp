// How bad it is: one to three leaves, filled; and the three keys that say so.
#pragma once

#include <optional>

#include "app/pen.hpp"

namespace motherbulb {

inline constexpr float how_bad_width = 54;

// Three leaves from `left_middle` on, the first `how_bad` of them filled.
void draw_how_bad(Pen& pen, Point left_middle, int how_bad, Color color);
// "a trace", "some", "much", side by side. The one that was tapped: 1 to 3.
std::optional<int> draw_how_bad_keys(Pen& pen, Rect area, int chosen);

}  // namespace motherbulb

// A chance as a hundred bulbs, filled from below, row by row from the left.
#pragma once

#include "app/pen.hpp"

namespace motherbulb {

// Of a hundred. Only what cannot be is 0, and only what is certain is 100.
[[nodiscard]] int in_a_hundred(double chance);

// `area` is a square; `filled` 0 to 100.
void draw_chance(Pen& pen, Rect area, int filled);

}  // namespace motherbulb

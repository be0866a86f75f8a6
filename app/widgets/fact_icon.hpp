// One icon for every kind of fact: what was done, told without a word. Drawn as app/widgets/icons.hpp draws its own.
#pragma once

#include "app/pen.hpp"
#include "shared/entry.hpp"

namespace motherbulb {

// `size` is the side of the box in dp. What a newer version wrote has a number that no kind has.
void draw_fact_icon(Pen& pen, std::uint16_t kind, Point middle, float size, Color color);

}  // namespace motherbulb

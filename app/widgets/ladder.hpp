// Bulbs by size, season by season: an outline of a bulb as wide at each rung as there are bulbs of that class, its
// numbers beside it, and above a dashed line what is saleable.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "app/pen.hpp"

namespace motherbulb {

struct LadderRung {
  std::string name;  // "16–22"
  bool saleable = false;
};
struct LadderSeason {
  std::string label;          // the year
  std::vector<double> bulbs;  // of each rung
};
struct LadderView {
  std::vector<LadderRung> rungs;  // smallest first; at least one
  std::vector<LadderSeason> seasons;
};

// The seasons that have room in that width, evenly apart, the first always among them: a column is at least `column`
// wide.
[[nodiscard]] std::vector<std::size_t> ladder_seasons(std::size_t seasons, float width, float column);
// The half width of the outline in each rung: true to the counts, the most of all being `most_half`; never nothing.
[[nodiscard]] float ladder_half_width(double bulbs, double most, float most_half);

[[nodiscard]] float ladder_height(const LadderView& view, float rung);
void draw_ladder(Pen& pen, Rect area, const LadderView& view);

}  // namespace motherbulb

// All pots of the house as one band through their year: started with an ink nose, growing leaf with blades, drying off
// copper hatch, resting pale with a line. Widths true to how many pots there are.
#pragma once

#include <string>
#include <vector>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"

namespace motherbulb {

struct StagePart {
  Mark mark = Mark::growing;
  std::int64_t count = 0;
  std::string words;
};
void draw_stage_band(Pen& pen, Rect area, const std::vector<StagePart>& parts);
// Mark, word and count of each part, one below the other, or beside each other where the area is wide.
[[nodiscard]] float stage_legend_height(float width, std::size_t parts);
void draw_stage_legend(Pen& pen, Rect area, const std::vector<StagePart>& parts);

}  // namespace motherbulb

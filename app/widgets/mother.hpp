// The mother: a bulb cut across, a wedge for each section; dead ones hatched, with the icon of what killed them.
#pragma once

#include <vector>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"
#include "shared/units.hpp"

namespace motherbulb {

[[nodiscard]] Icon icon_of(Cause cause);

struct MotherView {
  int wedges = 0;           // 0: not cut
  bool whole = false;       // scored from below: the cuts do not reach the skin
  std::vector<Cause> dead;  // one for each dead wedge
};
void draw_mother(Pen& pen, Point middle, float radius, const MotherView& view);

}  // namespace motherbulb

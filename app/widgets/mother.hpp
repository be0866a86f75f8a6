// The mother: a bulb cut across, a wedge for each section; dead ones hatched, with the icon of what killed them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"
#include "shared/units.hpp"

namespace motherbulb {

[[nodiscard]] Icon icon_of(Cause cause);

struct MotherView {
  int wedges = 0;           // 0: not cut
  bool whole = false;       // scored from below: the cuts do not reach the skin
  std::vector<Cause> dead;  // one for each dead wedge, where nobody said which
};
void draw_mother(Pen& pen, Point middle, float radius, const MotherView& view);

// The same, drawn large, where each wedge says what it bore.
struct WedgeView {
  std::optional<Cause> dead;
  std::string said;       // in the wedge: "2"; empty: nothing said
  bool together = false;  // two that stayed together
  bool chosen = false;
};
void draw_large_mother(Pen& pen, Point middle, float radius, bool whole, const std::vector<WedgeView>& wedges);
// A square round the middle of a wedge that a finger can hit, of this side; none where wedges are too narrow for it to
// be 8 dp from its neighbours.
[[nodiscard]] std::optional<Rect> wedge_target(Point middle, float radius, std::size_t wedge, std::size_t wedges,
                                               float side = 56);

}  // namespace motherbulb

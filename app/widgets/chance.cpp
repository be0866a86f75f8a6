#include "app/widgets/chance.hpp"

#include <algorithm>
#include <cmath>

namespace motherbulb {

int in_a_hundred(double chance) {
  if (chance <= 0) return 0;
  if (chance >= 1) return 100;
  return std::clamp(static_cast<int>(std::lround(chance * 100)), 1, 99);
}

void draw_chance(Pen& pen, Rect area, int filled) {
  const Theme& t = pen.theme;
  const float cell = std::min(area.w, area.h) / 10;
  const float radius = cell * 0.38F;
  for (int i = 0; i < 100; ++i) {
    const Point middle{area.x + cell * (static_cast<float>(i % 10) + 0.5F),
                       area.y + cell * (9.5F - static_cast<float>(i / 10))};
    if (i < filled) {
      pen.disc(middle, radius, t.leaf_fill);
    } else {
      pen.ring(middle, radius - 0.75F, t.edge, 1.5F);
    }
  }
}

}  // namespace motherbulb

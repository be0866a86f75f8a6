#include "app/widgets/work.hpp"

#include <algorithm>
#include <cmath>

#include "app/widgets/icons.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {

bool draw_work(Pen& pen, const Layout& layout, std::string_view text, float share) {
  const Theme& t = pen.theme;
  const float wide = std::min(560.0F, layout.page.w - 2 * layout.margin);
  const float high = 260;
  const Rect panel{layout.page.x + (layout.page.w - wide) / 2, layout.page.y + (layout.page.h - high) / 2, wide, high};
  pen.fill(panel, t.sheet, 8);
  Rect inside = panel.inset(28, 24);
  const Rect stop = inside.take_bottom(60, 20);
  pen.paragraph(inside.take_top(64, 8), Type::heading_28, t.ink, text, 2);
  const Rect track = inside.take_top(28, 6);
  pen.fill(track, t.well, 4);
  // A strand that grows with the work; nothing moves while nothing is done.
  const float done = std::clamp(share, 0.0F, 1.0F);
  if (done > 0) pen.fill({track.x, track.y, std::max(8.0F, track.w * done), track.h}, t.leaf_fill, 4);
  const std::string percent = say(words().work_percent, std::lround(done * 100));
  pen.text(Type::strong_16, {inside.x, inside.y + 22}, t.ink2, percent);
  return draw_act(pen, stop, {"work:stop", words().work_stop, ActStyle::square, {}, true});
}

}  // namespace motherbulb

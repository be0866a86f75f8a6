// The icons: polylines and arcs in a box of 24, stroke 2.4; drawn at any size.
#pragma once

#include "app/pen.hpp"

namespace motherbulb {

enum class Icon {
  start,
  unpot,
  pots,
  due,
  merge,
  outlook,
  clones,
  cutting,
  blade,
  label,
  hold,
  bench,
  mite,
  thrips,
  fly,
  slug,
  mouse,
  rot,
  blotch,
  drop,
  frost,
  dried,
  unknown,
  note,
  clock,
  undo,
  back,
  next,
  tick,
  plus,
  minus,
  moon,
  sun,
  settle,
  broken_ring,
  warning,
  stick,
  bulb,
  find,
  wool,
  worm,
  aphid,
  grub,
  squirrel,
  mosaic,
  rings,
  mould,
  codes,
};
inline constexpr int icon_count = 48;

// `size` is the side of the box in dp; the stroke grows with it, but never under 1.6 dp.
void draw_icon(Pen& pen, Icon icon, Point middle, float size, Color color);

// Status marks: shape before colour. 22 to 30 dp.
enum class Mark { due, overdue, growing, drying_off, resting, started, on_hold, lost, to_settle, forming };
void draw_mark(Pen& pen, Mark mark, Point middle, float size);
// The text colour that goes with a mark.
[[nodiscard]] Color mark_color(const Theme& theme, Mark mark);

// A growing bulb's outline round `middle`, `height` with its neck.
[[nodiscard]] std::vector<Point> bulb_outline(Point middle, float height);

}  // namespace motherbulb

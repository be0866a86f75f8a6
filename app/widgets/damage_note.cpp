#include "app/widgets/damage_note.hpp"

#include <algorithm>

#include "app/widgets/how_bad.hpp"

namespace motherbulb {
namespace {
constexpr float beside_disc = 60;
constexpr int most_lines = 6;
// Who and when go below where they do not fit beside the cause.
bool by_below(Pen& pen, float width, const DamageNoteView& view, bool narrow) {
  const float used = beside_disc + pen.width(Type::heading_24, view.cause) + how_bad_width + 40;
  return narrow || used + pen.width(Type::body_16, view.by) > width;
}
}  // namespace

float damage_note_height(Pen& pen, float width, const DamageNoteView& view, bool narrow) {
  float height = 14 + 30;
  if (by_below(pen, width, view, narrow)) height += 22;
  if (!view.note.empty()) height += pen.paragraph_height(width - beside_disc, Type::body_16, view.note, most_lines);
  return std::max(66.0F, height + 8);
}

void draw_damage_note(Pen& pen, Rect area, const DamageNoteView& view, bool narrow) {
  const Theme& t = pen.theme;
  pen.fill({area.x, area.y - 0.75F, area.w, 1.5F}, t.night ? t.ring : t.well);
  const Point disc{area.x + 23, area.y + 14 + 23};
  pen.disc(disc, 22, mix(t.sheet, t.copper_fill, t.night ? 0.3F : 0.18F));
  pen.ring(disc, 21, t.copper, 2);
  draw_icon(pen, view.icon, disc, 26, t.copper);
  const float x = area.x + beside_disc;
  const float room = area.w - beside_disc;
  const bool below = by_below(pen, area.w, view, narrow);
  float y = area.y + 14;
  const Type cause = pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, view.cause,
                                 room - (view.how_bad > 0 ? how_bad_width + 16 : 0));
  pen.text_in({x, y, room, 28}, cause, t.ink, view.cause);
  if (view.how_bad > 0)
    draw_how_bad(pen, {x + pen.width(cause, view.cause) + 16, y + 14}, std::min(view.how_bad, 3), t.copper);
  if (!below) pen.text_in({x, y, room, 28}, Type::body_16, t.ink2, view.by, Align::right);
  y += 30;
  if (below) {
    const Type by = pen.fitting({Type::body_16, Type::body_15}, view.by, room);
    pen.text_in({x, y, room, 20}, by, t.ink2, view.by);
    y += 22;
  }
  if (!view.note.empty()) pen.paragraph({x, y, room, area.bottom() - y}, Type::body_16, t.ink, view.note, most_lines);
}

}  // namespace motherbulb

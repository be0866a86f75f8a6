#include "app/widgets/slips.hpp"

#include <algorithm>

#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {
constexpr float undo_width = 112;
}

float kept_slip_width(Pen& pen, std::string_view text, bool with_undo) {
  return 44 + pen.width(Type::strong_16, text) + 14 + (with_undo ? undo_width : 4);
}

bool draw_kept_slip(Pen& pen, Rect area, std::string_view text, bool with_undo, bool filled) {
  const Theme& t = pen.theme;
  const bool dark = filled && !t.night;
  const Color ground = filled ? (t.night ? t.leaf_bar : t.leaf) : t.sheet;
  const Color color = filled ? t.on_leaf_bar : t.leaf;
  pen.fill(area, ground, 6);
  if (!filled) pen.frame(area, t.leaf_fill);
  draw_icon(pen, Icon::tick, {area.x + 24, area.middle().y}, 20, color);
  const float words_end = with_undo ? area.right() - undo_width - 4 : area.right() - 10;
  pen.text_in({area.x + 44, area.y, words_end - area.x - 48, area.h}, Type::strong_16, color, text);
  if (!with_undo) return false;
  const Rect key{area.right() - undo_width, area.y, undo_width, area.h};
  const bool tapped = pen.touch.hit("undo", key);
  const bool pressed = is_pressed(pen, "undo");
  if (pressed) pen.fill(key.inset(2, 2), t.straw, 4);
  const Color undo_color = pressed ? t.on_straw : dark ? t.on_leaf_bar : filled ? t.on_leaf_bar : t.ink;
  pen.fill({key.x, key.y + 9, 1.5F, key.h - 18}, filled ? t.on_leaf_bar : t.edge);
  draw_icon(pen, Icon::undo, {key.x + 26, key.middle().y}, 22, undo_color);
  pen.text_in({key.x + 46, key.y, key.w - 52, key.h}, Type::heading_20, undo_color, words().undo);
  return tapped;
}

float draw_kept_pill(Pen& pen, Point right_middle, std::string_view text) {
  const Theme& t = pen.theme;
  const float w = pen.width(Type::strong_16, text) + 52;
  const Rect pill{right_middle.x - w, right_middle.y - 18, w, 36};
  pen.fill(pill, t.night ? t.pane : t.sheet, 18);
  pen.frame(pill, t.leaf_fill, 2, 18);
  draw_icon(pen, Icon::tick, {pill.x + 22, pill.middle().y}, 16, t.leaf);
  pen.text_in({pill.x + 36, pill.y, w - 44, pill.h}, Type::strong_16, t.leaf, text);
  return w;
}

float error_strip_height(Pen& pen, float width, std::string_view text) {
  return 46 + pen.paragraph_height(width - 56 - 76, Type::body_16, text, 6);
}

bool draw_error_strip(Pen& pen, Rect area, std::string_view title, std::string_view text) {
  const Theme& t = pen.theme;
  pen.fill(area, t.error_ground, 6);
  pen.frame(area, t.copper);
  draw_icon(pen, Icon::warning, {area.x + 28, area.y + 32}, 28, t.copper);
  pen.text_in({area.x + 56, area.y + 10, area.w - 56 - 76, 24}, Type::strong_18, t.ink, title);
  pen.paragraph({area.x + 56, area.y + 36, area.w - 56 - 76, area.h - 40}, Type::body_16, t.ink2, text, 6);
  const Rect key{area.right() - 64, area.y + 4, 60, std::max(56.0F, area.h - 8)};
  const bool tapped = pen.touch.hit("error:aside", key);
  if (is_pressed(pen, "error:aside")) pen.fill(key, t.straw, 4);
  pen.line({key.middle().x - 8, key.middle().y - 8}, {key.middle().x + 8, key.middle().y + 8}, t.ink, 2.6F);
  pen.line({key.middle().x + 8, key.middle().y - 8}, {key.middle().x - 8, key.middle().y + 8}, t.ink, 2.6F);
  return tapped;
}

bool draw_empty(Pen& pen, Rect area, std::string_view sentence, std::string_view target, std::string_view act) {
  const Theme& t = pen.theme;
  const bool beside = area.w > 460;
  const Point m = beside ? Point{area.x + 74, area.y + 74} : Point{area.x + area.w / 2, area.y + 62};
  const float r = 52;
  pen.dashed_ring(m, r, t.edge, 2.2F, 16);
  pen.fill_outline(bulb_outline(m, 56), t.well);
  pen.disc({m.x, m.y + 9}, 19, t.well);
  const Rect words_at =
      beside ? Rect{area.x + 150, area.y + 30, area.w - 160, 100} : Rect{area.x, area.y + 132, area.w, 100};
  const float used = pen.paragraph(words_at, Type::body_18, t.ink2, sentence, 5, beside ? Align::left : Align::middle);
  if (act.empty()) return false;
  const float w = std::min(area.w, pen.width(Type::heading_24, act) + 72);
  const Rect key{beside ? words_at.x : area.x + (area.w - w) / 2, words_at.y + used + 16, w, 56};
  return draw_act(pen, key, {target, act, ActStyle::quiet, {}, true});
}

}  // namespace motherbulb

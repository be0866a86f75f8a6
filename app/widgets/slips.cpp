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

bool draw_kept_slip(Pen& pen, Rect area, const Slip& slip, bool wants_filled) {
  const Theme& t = pen.theme;
  const auto& [text, with_undo, waiting] = slip;
  const bool filled = wants_filled && !waiting;
  const bool dark = filled && !t.night;
  const Color ground = filled ? (t.night ? t.leaf_bar : t.leaf) : t.sheet;
  const Color color = filled ? t.on_leaf_bar : waiting ? t.ink2 : t.leaf;
  pen.fill(area, ground, 6);
  if (!filled) pen.frame(area, waiting ? t.edge : t.leaf_fill);
  draw_icon(pen, waiting ? Icon::clock : Icon::tick, {area.x + 24, area.middle().y}, 20, color);
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

namespace {
constexpr float strip_side = 56;   // the triangle's column
constexpr float strip_close = 72;  // the key's
constexpr int strip_lines = 10;
// Narrow strips have the text below title and key, over their whole width.
bool strip_narrow(float width) {
  return width < 500;
}
float strip_title_height(Pen& pen, float width, std::string_view title) {
  return pen.paragraph_height(width - strip_side - strip_close, Type::strong_18, title, 2);
}
}  // namespace

float error_strip_height(Pen& pen, float width, std::string_view title, std::string_view text) {
  const float head = strip_title_height(pen, width, title);
  if (!strip_narrow(width)) {
    const float room = width - strip_side - strip_close;
    return std::max(64.0F, 22 + head + pen.paragraph_height(room, Type::body_16, text, strip_lines));
  }
  return std::max(60.0F, 14 + head) + 4 + pen.paragraph_height(width - 32, Type::body_16, text, strip_lines) + 10;
}

bool draw_error_strip(Pen& pen, Rect area, std::string_view title, std::string_view text) {
  const Theme& t = pen.theme;
  pen.fill(area, t.error_ground, 6);
  pen.frame(area, t.copper);
  draw_icon(pen, Icon::warning, {area.x + 28, area.y + 30}, 28, t.copper);
  const float room = area.w - strip_side - strip_close;
  const float head = pen.paragraph({area.x + strip_side, area.y + 10, room, 60}, Type::strong_18, t.ink, title, 2);
  const bool narrow = strip_narrow(area.w);
  if (narrow) {
    const float below = area.y + std::max(60.0F, 14 + head) + 4;
    pen.paragraph({area.x + 16, below, area.w - 32, area.bottom() - below}, Type::body_16, t.ink2, text, strip_lines);
  } else {
    pen.paragraph({area.x + strip_side, area.y + 12 + head, room, area.h}, Type::body_16, t.ink2, text, strip_lines);
  }
  const Rect key{area.right() - 60, area.y + 4, 56, 56};
  const bool tapped = pen.touch.hit("error:aside", key);
  if (is_pressed(pen, "error:aside")) pen.fill(key, t.straw, 4);
  const Point m = key.middle();
  pen.line({m.x - 8, m.y - 8}, {m.x + 8, m.y + 8}, t.ink, 2.6F);
  pen.line({m.x + 8, m.y - 8}, {m.x - 8, m.y + 8}, t.ink, 2.6F);
  return tapped;
}

namespace {
constexpr float notice_key = 60;
constexpr float notice_beside = 620;  // from here on the key stands beside the words
float notice_key_width(Pen& pen, std::string_view act) {
  return pen.width(Type::strong_18, act) + 84;
}
float notice_room(Pen& pen, float width, std::string_view act) {
  return width >= notice_beside ? width - strip_side - notice_key_width(pen, act) - 24 : width - strip_side - 16;
}
}  // namespace

float notice_strip_height(Pen& pen, float width, std::string_view title, std::string_view text, std::string_view act) {
  const float room = notice_room(pen, width, act);
  const float lines = 20 + pen.paragraph_height(room, Type::strong_18, title, 3) + 2 +
                      pen.paragraph_height(room, Type::body_16, text, 4);
  return width >= notice_beside ? std::max(lines, notice_key + 20) : lines + 10 + notice_key + 10;
}

bool draw_notice_strip(Pen& pen, Rect area, const Notice& notice) {
  const Theme& t = pen.theme;
  const bool warning = notice.icon == Icon::warning;
  pen.fill(area, warning ? t.error_ground : t.sheet, 6);
  pen.frame(area, warning ? t.copper : t.edge);
  draw_icon(pen, notice.icon, {area.x + 28, area.y + 30}, 28, warning ? t.copper : t.leaf);
  const std::string_view act = notice.act;
  const float room = notice_room(pen, area.w, act);
  const bool beside = area.w >= notice_beside;
  const Rect key = beside ? Rect{area.right() - notice_key_width(pen, act) - 12, area.middle().y - notice_key / 2,
                                 notice_key_width(pen, act), notice_key}
                          : Rect{area.x + 12, area.bottom() - notice_key - 10, area.w - 24, notice_key};
  const float head =
      pen.paragraph({area.x + strip_side, area.y + 10, room, 90}, Type::strong_18, t.ink, notice.title, 3);
  pen.paragraph({area.x + strip_side, area.y + 12 + head, room, area.h}, Type::body_16, t.ink2, notice.words, 4);
  return draw_act(pen, key, {notice.target, act, ActStyle::link, Icon::stick, true});
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

#include "app/widgets/reminder_row.hpp"

#include <algorithm>

#include "app/widgets/icons.hpp"
#include "app/widgets/labels.hpp"

namespace motherbulb {
namespace {

using State = ReminderRow::State;

constexpr float window_wide = 128;

void draw_state(Pen& pen, Point middle, float size, State state, Color pressed_ink, bool pressed) {
  if (state == State::ahead) {
    draw_icon(pen, Icon::clock, middle, size, pressed ? pressed_ink : pen.theme.ink2);
  } else {
    draw_mark(pen, state == State::overdue ? Mark::overdue : Mark::due, middle, size);
  }
}

Color color_of(const Theme& t, State state) {
  return state == State::overdue ? t.copper : state == State::due ? t.ink : t.ink2;
}

void draw_window(Pen& pen, Rect area, const ReminderRow& row) {
  const Theme& t = pen.theme;
  const float y = area.middle().y + 1;
  const float from = area.x + 5;
  const float end = area.right() - 2;
  // A little is left behind the last of closing and now.
  const auto last = static_cast<float>(std::max({row.closes + 1, row.now, 1}));
  const float unit = (end - from - 10) / last;
  pen.line({from, y}, {end, y}, t.ink2, 2);
  pen.disc({from, y}, 4.5F, t.ink2);
  const float opens = from + unit * static_cast<float>(std::max(0, row.opens));
  const float closes = std::max(opens + 14, from + unit * static_cast<float>(row.closes + 1));
  const Rect window{opens, y - 7.5F, closes - opens, 15};
  pen.fill(window, t.straw, 3);
  if (!t.night) pen.frame(window, t.ink, 2, 3);
  const bool late = row.state == State::overdue;
  const float now = std::clamp(from + unit * static_cast<float>(row.now), from, end);
  // The stake's edge keeps it apart from what it stands in.
  const auto stake = [&](float half, float top, float low, Color color) {
    pen.fill_convex(
        {{now - half, top}, {now + half, top}, {now + half, low - half}, {now, low}, {now - half, low - half}}, color);
  };
  stake(8, y - 21, y + 3, t.sheet);
  stake(6, y - 19, y, late ? t.copper_fill : t.ink);
  const float wide = pen.width(Type::heading_18, row.now_words);
  const float text = std::clamp(now - wide / 2, area.x, std::max(area.x, area.right() - wide));
  pen.text_in({text, y + 9, wide + 2, 24}, Type::heading_18, late ? t.copper : t.ink, row.now_words);
}

ReminderAnswer draw_narrow(Pen& pen, Rect area, const ReminderRow& row) {
  const Theme& t = pen.theme;
  ReminderAnswer answer;
  Rect inside = area.inset(12, 0);
  const Rect key = inside.take_right(98, 8);
  answer.acted = draw_act(pen, {key.x, area.y + 14, key.w, 56},
                          {row.act_name, row.act, row.main ? ActStyle::main : ActStyle::quiet, {}, true});
  const Rect body{area.x + 4, area.y + 4, key.x - 8 - area.x - 4, area.h - 8};
  answer.chosen = !row.row.empty() && pen.touch.hit(row.row, body);
  const bool pressed = !row.row.empty() && is_pressed(pen, row.row);
  if (pressed) pen.frame(body, t.night ? t.straw : t.ink, 3, 6);
  const Color ink = t.ink;
  const Color ink2 = t.ink2;
  draw_state(pen, {inside.x + 11, area.y + 24}, 22, row.state, ink, false);
  const float room = inside.w - 30;
  pen.text_in({inside.x + 30, area.y + 8, room, 32},
              pen.fitting({Type::name_23, Type::strong_18, Type::strong_16}, row.clone, room), ink, row.clone);
  const float tag = draw_pot_tag(pen, {inside.x, area.y + 42}, 34, row.tag, inside.w);
  const float beside = inside.w - tag - 8;
  if (pen.width(Type::strong_15, row.state_word) <= beside)
    pen.text_in({inside.x + tag + 8, area.y + 42, beside, 34}, Type::strong_15, color_of(t, row.state), row.state_word);
  // Where it is short it stands over the row's own control, else it runs on below the act.
  const bool fits = pen.paragraph_height(inside.w, Type::body_15, row.reason, 3) < 50;
  const float whole = fits ? inside.w : area.w - 24;
  pen.paragraph({inside.x, area.y + 79, whole, 42}, Type::body_15, ink2, row.reason, 2);
  return answer;
}

}  // namespace

float reminder_height(const Layout& layout) {
  return layout.phone() ? 124.0F : layout.portrait() ? 92.0F : 98.0F;
}

ReminderAnswer draw_reminder(Pen& pen, Rect area, const ReminderRow& row, bool rule_above, bool phone) {
  const Theme& t = pen.theme;
  if (rule_above) pen.fill({area.x + 20, area.y - 0.75F, area.w - 40, 1.5F}, t.night ? t.ring : t.well);
  if (phone) return draw_narrow(pen, area, row);
  ReminderAnswer answer;
  Rect inside = area.inset(14, 0);
  const Rect key = inside.take_right(122, 10);
  answer.acted = draw_act(pen, {key.x, area.middle().y - 28, key.w, 56},
                          {row.act_name, row.act, row.main ? ActStyle::main : ActStyle::quiet, {}, true});
  const Rect body{area.x + 6, area.y + 5, key.x - 10 - area.x - 6, area.h - 10};
  answer.chosen = !row.row.empty() && pen.touch.hit(row.row, body);
  const bool pressed = !row.row.empty() && is_pressed(pen, row.row);
  if (pressed || row.chosen) pen.fill(body, pressed ? t.straw : t.tint, 6);
  const Color ink = pressed ? t.on_straw : t.ink;
  const Color ink2 = pressed ? t.on_straw : t.ink2;

  constexpr float column = 74;
  draw_state(pen, {inside.x + column / 2 - 4, area.y + area.h * 0.38F}, 28, row.state, ink, pressed);
  pen.text_in({inside.x - 6, area.y + area.h * 0.58F, column + 4, 24},
              pen.fitting({Type::strong_16, Type::strong_15}, row.state_word, column + 4),
              pressed ? ink : color_of(t, row.state), row.state_word, Align::middle);
  inside.take_left(column, 8);
  const bool window = row.with_window && !pressed && inside.w >= 400;
  if (window) draw_window(pen, inside.take_right(window_wide, 14), row);
  // A long reason takes two lines.
  const bool one_line = pen.width(Type::body_15, row.reason) <= inside.w;
  const float top = area.middle().y - (one_line ? 36.0F : 40.0F);
  const float tag = std::min(pot_tag_width(pen, 34, row.tag), inside.w);
  const float room = inside.w - tag - 12;
  const Type type = pen.fitting({Type::name_23, Type::strong_18, Type::strong_16, Type::strong_15}, row.clone, room);
  const std::string clone = room > 50 ? pen.fitted(type, row.clone, room) : std::string();
  if (!clone.empty()) pen.text_in({inside.x, top, room, 34}, type, ink, row.clone);
  const float tag_x = clone.empty() ? inside.x : inside.x + pen.width(type, clone) + 12;
  draw_pot_tag(pen, {tag_x, top}, 34, row.tag, inside.right() - tag_x);
  if (one_line) {
    pen.text_in({inside.x, top + 42, inside.w, 26}, pen.fitting({Type::body_16, Type::body_15}, row.reason, inside.w),
                ink2, row.reason);
  } else {
    pen.paragraph({inside.x, top + 38, inside.w, 42}, Type::body_15, ink2, row.reason, 2);
  }
  return answer;
}

}  // namespace motherbulb

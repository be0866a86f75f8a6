#include "app/widgets/bars.hpp"

#include <string>

#include "app/widgets/icons.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

struct Entrance {
  Place place;
  Icon icon;
  const char* target;
};

constexpr std::array<Entrance, 5> entrances{{{Place::start, Icon::start, "bar:start"},
                                             {Place::unpot, Icon::unpot, "bar:unpot"},
                                             {Place::pots, Icon::pots, "bar:pots"},
                                             {Place::due, Icon::due, "bar:due"},
                                             {Place::merge, Icon::merge, "bar:merge"}}};

std::string_view name_of(Place place) {
  const Words& w = words();
  switch (place) {
    case Place::start:
      return w.bar_start;
    case Place::unpot:
      return w.bar_unpot;
    case Place::pots:
      return w.bar_pots;
    case Place::due:
      return w.bar_due;
    case Place::merge:
      return w.bar_merge;
  }
  return {};
}

void draw_count(Pen& pen, Point middle, int count) {
  if (count <= 0) return;
  const Theme& t = pen.theme;
  const std::string shown = count > 999 ? "999+" : std::to_string(count);
  const float wide = std::max(22.0F, pen.width(Type::heading_18, shown) + 12);
  pen.fill({middle.x - wide / 2, middle.y - 11, wide, 22}, t.straw, 11);
  pen.text_in({middle.x - wide / 2, middle.y - 11, wide, 22}, Type::heading_18, t.on_straw, shown, Align::middle);
}

// The bulb cut across that heads the rail: ornament, not a control.
void draw_cut_bulb(Pen& pen, Point m, float radius, Color color) {
  pen.ring(m, radius, color, 2.4F);
  pen.ring(m, radius * 0.68F, color, 1.2F);
  pen.ring(m, radius * 0.38F, color, 1.2F);
  for (int i = 0; i < 5; ++i) {
    const float angle = 0.5F + static_cast<float>(i) * 3.14159265F / 5;
    const Point d{radius * std::cos(angle), radius * std::sin(angle)};
    pen.line(m - d, m + d, color, 1.4F);
  }
}

}  // namespace

BarAnswer draw_bar(Pen& pen, const Layout& layout, const BarState& state) {
  BarAnswer answer;
  if (layout.bar.empty()) return answer;
  const Theme& t = pen.theme;
  pen.fill(layout.bar, t.bar);
  pen.touch.set_clip(layout.bar);
  const bool rail = layout.landscape();
  const float rail_x = layout.bar.x;
  if (t.night) {
    if (rail) {
      pen.fill({layout.left_hand ? rail_x : layout.bar.right() - 1, 0, 1, layout.bar.h}, t.ring);
    } else {
      pen.fill({0, layout.bar.y, layout.bar.w, 1}, t.ring);
    }
  }
  if (rail) draw_cut_bulb(pen, {rail_x + 54, 54}, 26, t.on_bar);

  for (std::size_t i = 0; i < entrances.size(); ++i) {
    const Entrance& e = entrances[i];
    const bool chosen = e.place == state.chosen;
    const auto n = static_cast<float>(i);
    Rect cell;
    if (rail) {
      const float x = layout.left_hand ? rail_x : rail_x + 8;
      cell = {x, 108 + n * 100, 100, 84};
      if (layout.bar.h < 108 + 5 * 100 + 72) cell = {x, 96 + n * 84, 100, 72};
    } else {
      const float side = layout.phone() ? 4.0F : 40.0F;
      const float wide = (layout.bar.w - 2 * side) / 5;
      cell = {side + n * wide + 4, layout.bar.y, wide - 8, layout.bar.h - 4};
      if (!layout.phone()) cell = {side + n * wide + 20, layout.bar.y, wide - 40, layout.bar.h - 4};
    }
    if (pen.touch.hit(e.target, cell)) answer.go = e.place;
    const bool pressed = is_pressed(pen, e.target);
    const Color stock = pressed ? t.straw : t.night ? t.sheet : t.pane;
    if (chosen || pressed) {
      if (rail) {
        pen.label(cell, layout.left_hand ? Stake::left : Stake::right, stock, 0, 0, 6);
      } else {
        // Stuck in from above: it begins 8 above the bar at night, with its point down.
        pen.label({cell.x, cell.y - (t.night ? 8.0F : 0.0F), cell.w, cell.h + (t.night ? 8.0F : 0.0F)}, Stake::down,
                  stock, 0, 0, t.night ? 4.0F : 0.0F);
      }
    }
    const Color color = pressed ? t.on_straw : chosen ? t.tunic : t.on_bar;
    const float shift = !chosen || !rail ? 0.0F : layout.left_hand ? 4.0F : -4.0F;
    const Point icon_at{cell.middle().x + shift, cell.y + (rail ? cell.h * 0.36F : chosen ? 20.0F : 26.0F)};
    const float lift = layout.phone() ? -3.0F : 0.0F;
    draw_icon(pen, e.icon, {icon_at.x, icon_at.y + lift}, layout.phone() ? 26.0F : 28.0F, color);
    const float baseline = rail ? cell.y + cell.h * 0.86F
                                : layout.bar.y + (chosen ? 55.0F : 62.0F) + lift - (layout.phone() ? 4.0F : 0.0F);
    pen.text(Type::heading_18, {icon_at.x, baseline}, color, name_of(e.place), Align::middle);
    if (!chosen) draw_count(pen, {icon_at.x + 24, icon_at.y - 10 + lift}, state.counts[i]);
  }
  if (rail) {
    const Rect key{rail_x + 26, layout.bar.bottom() - 80, 56, 56};
    if (pen.touch.hit("theme", key)) answer.change_theme = true;
    if (is_pressed(pen, "theme")) pen.fill(key, t.straw, 6);
    draw_icon(pen, t.night ? Icon::sun : Icon::moon, key.middle(), 28,
              is_pressed(pen, "theme") ? t.on_straw : t.on_bar);
  }
  pen.touch.set_clip(layout.window);
  return answer;
}

HeadAnswer draw_head(Pen& pen, const Layout& layout, const Head& head) {
  const Theme& t = pen.theme;
  Rect room = layout.head;
  HeadAnswer answer;
  const float top = layout.phone() ? 10.0F : layout.portrait() ? 28.0F : 24.0F;
  if (head.back) {
    const Rect key{room.x, top, 56, 56};
    if (draw_icon_key(pen, key, "back", Icon::back)) answer.back = true;
    room.take_left(layout.phone() ? 68.0F : 74.0F);
  }
  room.w -= head.right_room;
  if (pen.touch.take_key(Key::escape) && head.back) answer.back = true;
  const bool phone = layout.phone();
  const Type title =
      head.clone_name ? (phone ? Type::name_23 : Type::name_36) : (phone ? Type::heading_28 : Type::heading_36);
  const Type smaller = head.clone_name ? Type::name_23 : Type::heading_24;
  const Type middle = head.clone_name ? Type::name_28 : Type::heading_28;
  const Type used = pen.fitting({title, middle, smaller}, head.title, room.w);
  const float second_y = phone ? 61.0F : layout.portrait() ? 84.0F : 80.0F;
  const bool with_by = !head.by.empty();
  bool pressed = false;
  if (with_by) {
    // The words of the head are the control that changes who and when.
    const Rect block{room.x - 4, top, std::max(56.0F, room.w + 4), phone ? 57.0F : 60.0F};
    answer.who = pen.touch.hit("who", block);
    pressed = is_pressed(pen, "who");
    if (pressed) pen.fill(block, t.straw, 6);
  }
  const Color ink = pressed ? t.on_straw : t.ink;
  pen.text(used,
           {room.x, phone               ? 38.0F
                    : layout.portrait() ? 55.0F
                                        : 52.0F},
           ink, pen.fitted(used, head.title, room.w));
  float x = room.x;
  float left = room.w;
  if (with_by) {
    const Type by = pen.fitting({phone ? Type::strong_15 : Type::strong_18, Type::strong_16, Type::strong_15}, head.by,
                                room.w - 18);
    const std::string words = pen.fitted(by, head.by, room.w - 18);
    const float wide = pen.width(by, words);
    if (head.by_straw && !pressed) {
      pen.fill({x - 6, second_y - pen.cap(by) - 6, wide + 30, pen.cap(by) + 12}, t.straw, 4);
    }
    const Color color = pressed || head.by_straw ? t.on_straw : t.tunic;
    pen.text(by, {x, second_y}, color, words);
    draw_icon(pen, Icon::next, {x + wide + 12, second_y - pen.cap(by) / 2}, 14, color);
    x += wide + 32;
    left -= wide + 32;
  }
  const Type second = phone ? Type::body_15 : Type::body_18;
  const Type second_used = pen.fitting({second, Type::body_16, Type::body_15}, head.second, left);
  // Beside who and when, what does not fit is left out: it stands elsewhere too.
  if (with_by && pen.width(second_used, head.second) > left) return answer;
  pen.text(second_used, {x, second_y}, pressed ? t.on_straw : t.ink2, pen.fitted(second_used, head.second, left));
  return answer;
}

}  // namespace motherbulb

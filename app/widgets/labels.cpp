#include "app/widgets/labels.hpp"

#include <algorithm>
#include <string>

namespace motherbulb {
namespace {

Type tag_type(float height) {
  if (height >= 44) return Type::heading_24;
  return height >= 38 ? Type::heading_20 : Type::heading_18;
}

Type act_type(float height, bool main) {
  if (!main) return Type::heading_24;
  if (height >= 80) return Type::heading_36;
  if (height >= 64) return Type::heading_28;
  return Type::heading_24;
}

constexpr float tag_text_from = 31;

}  // namespace

float pot_tag_width(Pen& pen, float height, std::string_view words) {
  return tag_text_from + pen.width(tag_type(height), words) + 14 + stake_depth(height);
}

float draw_pot_tag(Pen& pen, Point corner, float height, std::string_view words, float most_width) {
  const Theme& t = pen.theme;
  const float width = std::min(most_width, pot_tag_width(pen, height, words));
  const Rect rect{corner.x, corner.y, width, height};
  pen.label(rect, Stake::right, t.paper, t.on_paper, t.night ? 0 : 2, 4);
  const Point hole{corner.x + 17, rect.middle().y};
  if (t.night) {
    pen.disc(hole, 4.6F, t.on_paper);
  } else {
    pen.ring(hole, 4.6F, t.on_paper, 2);
  }
  pen.text_in({corner.x + tag_text_from, corner.y, width - tag_text_from - stake_depth(height) - 4, height},
              tag_type(height), t.on_paper, words);
  return width;
}

bool is_pressed(const Pen& pen, std::string_view name) {
  return pen.touch.pressed(name);
}

bool draw_act(Pen& pen, Rect rect, const Act& act) {
  const Theme& t = pen.theme;
  const bool tapped = pen.touch.hit(act.name, rect, act.enabled, act.kind);
  const bool pressed = act.enabled && is_pressed(pen, act.name);
  const bool pointed = act.style == ActStyle::main || act.style == ActStyle::quiet || act.style == ActStyle::link;
  const Stake stake = pointed ? Stake::right : Stake::none;

  Color stock = t.well;
  Color words = t.ink;
  float edge = 0;
  switch (act.style) {
    case ActStyle::main:
      stock = t.tunic;
      words = t.on_tunic;
      break;
    case ActStyle::quiet:
    case ActStyle::square:
      // By night a well is nearly the ground's colour.
      edge = t.night ? 2.0F : 0.0F;
      break;
    case ActStyle::link:
    case ActStyle::plain:
      stock = t.sheet;
      edge = 2;
      break;
  }
  if (pressed) {
    stock = t.straw;
    words = t.on_straw;
  }
  if (!act.enabled) {
    pen.fill(rect, t.pane, 0);
    pen.dashed_line({rect.x, rect.y + 1}, {rect.right(), rect.y + 1}, t.edge, 2);
    pen.dashed_line({rect.x, rect.bottom() - 1}, {rect.right(), rect.bottom() - 1}, t.edge, 2);
    words = t.ink2;
  } else {
    pen.label(rect, stake, stock, pressed ? t.on_straw : t.edge, pressed ? 2 : edge, 6);
  }

  const float point = pointed ? stake_depth(rect.h) : 0;
  const Rect inside{rect.x + 12, rect.y, rect.w - 24 - point * 0.7F, rect.h};
  const Type wanted = act.style == ActStyle::plain ? Type::strong_18 : act_type(rect.h, act.style == ActStyle::main);
  const Type smaller = act.style == ActStyle::plain ? Type::strong_16 : Type::heading_24;
  const float icon_size = act.icon ? (rect.h >= 64 ? 28.0F : 24.0F) : 0;
  const float icon_room = act.icon ? icon_size + 12 : 0;
  const Type smallest = act.style == ActStyle::plain ? Type::strong_15 : Type::heading_20;
  const Type type =
      pen.fitting({wanted, smaller, smallest, act.style == ActStyle::plain ? Type::strong_15 : Type::heading_18},
                  act.words, inside.w - icon_room);
  const std::string shown = pen.fitted(type, act.words, inside.w - icon_room);
  if (act.style == ActStyle::link && act.icon) {
    const float from = rect.x + 16 + icon_size + 10;
    const float room = rect.right() - point * 0.8F - from;
    const Type link = pen.fitting({Type::heading_20, Type::heading_18}, act.words, room);
    draw_icon(pen, *act.icon, {rect.x + 16 + icon_size / 2, rect.middle().y}, icon_size, pressed ? words : t.tunic);
    pen.text_in({from, rect.y, room, rect.h}, link, words, act.words);
    return tapped;
  }
  const float used = pen.width(type, shown) + (shown.empty() ? icon_size : icon_room);
  const float start = inside.x + std::max(0.0F, (inside.w - used) / 2);
  if (act.icon) draw_icon(pen, *act.icon, {start + icon_size / 2, rect.middle().y}, icon_size, words);
  pen.text_in({start + icon_room, rect.y, inside.right() - start - icon_room + 1, rect.h}, type, words, shown);
  return tapped;
}

bool draw_icon_key(Pen& pen, Rect rect, std::string_view name, Icon icon) {
  const Theme& t = pen.theme;
  const bool tapped = pen.touch.hit(name, rect);
  const bool pressed = is_pressed(pen, name);
  pen.fill(rect, pressed ? t.straw : t.sheet, 6);
  pen.frame(rect, pressed ? t.on_straw : t.edge);
  draw_icon(pen, icon, rect.middle(), 28, pressed ? t.on_straw : t.ink);
  return tapped;
}

bool draw_filter(Pen& pen, Rect rect, std::string_view name, std::string_view words, bool chosen) {
  const Theme& t = pen.theme;
  const bool tapped = pen.touch.hit(name, rect);
  const bool pressed = is_pressed(pen, name);
  pen.fill(rect, pressed ? t.straw : chosen ? t.ink : t.sheet, 6);
  if (!chosen || pressed) pen.frame(rect, pressed ? t.on_straw : t.edge);
  pen.text_in(rect.inset(8, 0), pen.fitting({Type::strong_16, Type::strong_15}, words, rect.w - 16),
              pressed  ? t.on_straw
              : chosen ? t.on_ink
                       : t.ink,
              words, Align::middle);
  return tapped;
}

bool draw_word_link(Pen& pen, Point right_end, std::string_view name, std::string_view words) {
  const Theme& t = pen.theme;
  const float wide = pen.width(Type::strong_16, words);
  const Rect rect{right_end.x - wide - 36, right_end.y - 28, wide + 36, 56};
  const bool tapped = pen.touch.hit(name, rect);
  const bool pressed = is_pressed(pen, name);
  if (pressed) pen.fill(rect, t.straw, 6);
  const Color color = pressed ? t.on_straw : t.tunic;
  draw_icon(pen, Icon::next, {right_end.x - 6, right_end.y}, 14, color);
  pen.text_in({rect.x, rect.y, rect.w - 22, rect.h}, Type::strong_16, color, words, Align::right);
  return tapped;
}

}  // namespace motherbulb

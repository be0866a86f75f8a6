#include "app/widgets/matter_panel.hpp"

#include <algorithm>

#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr float gap = 12;
constexpr float choice_height = 56;

// Narrow sides have their act below the words, wide ones beside.
bool acts_beside(float side_width) {
  return side_width >= 320;
}

float side_height(Pen& pen, float width, const MatterSideView& side) {
  const float room = width - 32 - (acts_beside(width) ? 150 : 0);
  float h = 16 + 28 + (side.number.empty() ? 4 : 46);
  if (!side.second.empty()) h += pen.paragraph_height(room, Type::body_16, side.second, 4) + 2;
  h += 10;
  if (!acts_beside(width)) h += choice_height + 10;
  return std::max(h, acts_beside(width) ? 138.0F : 0.0F);
}

bool draw_side(Pen& pen, Rect area, const MatterSideView& side, const std::string& target, bool proposed) {
  const Theme& t = pen.theme;
  pen.fill(area, proposed ? t.proposed : t.tint, 6);
  if (proposed) pen.frame(area, t.night ? t.straw : t.ink, 2, 6);
  const bool beside = acts_beside(area.w);
  const float room = area.w - 32 - (beside ? 150 : 0);
  const float x = area.x + 16;
  const float when_width = side.when.empty() ? 0.0F : pen.width(Type::body_15, side.when) + 12;
  const std::string title = pen.fitted(Type::name_23, side.title, std::max(40.0F, area.w - 32 - when_width));
  const float title_width = pen.text(Type::name_23, {x, area.y + 33}, t.ink, title);
  if (!side.when.empty()) pen.text(Type::body_15, {x + title_width + 12, area.y + 33}, t.ink2, side.when);
  float y = area.y + 46;
  if (!side.number.empty()) {
    const Type type = pen.fitting({Type::numeral_40, Type::heading_28}, side.number, room);
    const float wide = pen.text(type, {x, y + 32}, t.ink, side.number);
    pen.text(Type::strong_16, {x + wide + 10, y + 32}, t.ink, pen.fitted(Type::strong_16, side.word, room - wide - 10));
    y += 44;
  }
  if (!side.second.empty()) pen.paragraph({x, y, room, area.bottom() - y}, Type::body_16, t.ink2, side.second, 4);
  const Rect act = beside ? Rect{area.right() - 12 - 138, area.middle().y - 28, 138, choice_height}
                          : Rect{area.x + 8, area.bottom() - 8 - choice_height, area.w - 16, choice_height};
  return draw_act(pen, act, {target, side.act, proposed ? ActStyle::main : ActStyle::quiet, {}, true});
}

struct Measures {
  float pad, side_width, sides_height, head;
  bool stacked;
  float first_height, second_height;
};

Measures measure(Pen& pen, float width, const MatterView& view) {
  Measures m{};
  m.pad = width < 420 ? 12.0F : 24.0F;
  const float inner = width - 2 * m.pad;
  m.stacked = inner < 300;
  m.side_width = m.stacked ? inner : (inner - gap) / 2;
  m.first_height = side_height(pen, m.side_width, view.first);
  m.second_height = side_height(pen, m.side_width, view.second);
  m.sides_height = m.stacked ? m.first_height + m.second_height + gap : std::max(m.first_height, m.second_height);
  const bool narrow = width < 420;
  m.head = narrow && !view.tag.empty() ? 60 + 44 : 74;
  return m;
}

}  // namespace

float matter_panel_height(Pen& pen, float width, const MatterView& view) {
  const Measures m = measure(pen, width, view);
  return m.head + m.sides_height + gap + choice_height + m.pad * 0.75F + 2;
}

std::optional<MatterAnswer> draw_matter_panel(Pen& pen, Rect area, const MatterView& view) {
  const Theme& t = pen.theme;
  const Measures m = measure(pen, area.w, view);
  pen.fill(area, t.sheet, 8);
  const float x = area.x + m.pad;
  const float inner = area.w - 2 * m.pad;
  draw_icon(pen, view.icon, {x + 18, area.y + 37}, view.icon == Icon::settle ? 40.0F : 32.0F, t.tunic);
  const bool narrow = area.w < 420;
  float tag_width = 0;
  if (!view.tag.empty()) {
    tag_width = std::min(pot_tag_width(pen, 38, view.tag), inner);
    if (narrow) {
      draw_pot_tag(pen, {x, area.y + 60}, 34, view.tag, inner);
    } else {
      tag_width = std::min(tag_width, inner * 0.5F);
      draw_pot_tag(pen, {x + inner - tag_width, area.y + 18}, 38, view.tag, tag_width);
    }
  }
  const float title_room = inner - 52 - (narrow ? 0 : tag_width + 12);
  const Type title = pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, view.title, title_room);
  pen.text_in({x + 52, area.y + 18, title_room, 38}, title, t.ink, view.title);

  std::optional<MatterAnswer> answer;
  Rect first{x, area.y + m.head, m.side_width, m.stacked ? m.first_height : m.sides_height};
  Rect second =
      m.stacked ? Rect{x, first.bottom() + gap, m.side_width, m.second_height} : first.moved(m.side_width + gap, 0);
  const std::string name = "matter:" + view.id;
  if (draw_side(pen, first, view.first, name + ":first", view.proposed == 1)) answer = MatterAnswer::first;
  if (draw_side(pen, second, view.second, name + ":second", view.proposed == 2)) answer = MatterAnswer::second;
  const float y = area.y + m.head + m.sides_height + gap;
  const float half = (inner - gap) / 2;
  if (view.both.empty()) {
    if (draw_act(pen, {x, y, inner, choice_height}, {name + ":later", words().later, ActStyle::plain, {}, true}))
      answer = MatterAnswer::later;
  } else {
    const ActStyle style = view.proposed == 3 ? ActStyle::main : ActStyle::plain;
    if (draw_act(pen, {x, y, half, choice_height}, {name + ":both", view.both, style, {}, true}))
      answer = MatterAnswer::both;
    if (draw_act(pen, {x + half + gap, y, half, choice_height},
                 {name + ":later", words().later, ActStyle::plain, {}, true}))
      answer = MatterAnswer::later;
  }
  return answer;
}

}  // namespace motherbulb

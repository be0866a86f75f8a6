// A parcel as codes, one after the other, for the camera of another device.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/code.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/codes.hpp"

namespace motherbulb {
namespace {

constexpr float key = 64;
constexpr float gap = 8;

const CodeSymbol& symbol_of(CodesDraft& draft) {
  if (draft.drawn != draft.shown) {
    draft.symbol = code_symbol(draft.texts[draft.shown], draft.version);
    draft.drawn = draft.shown;
  }
  return draft.symbol;
}

void turn(CodesDraft& draft, std::size_t by) {
  draft.shown = (draft.shown + by) % draft.texts.size();
  draft.still = true;
}

// Step back, hold still or go on, step on.
void draw_keys(Pen& pen, Rect area, CodesDraft& draft) {
  const CodesWords& w = codes_words();
  const float wide = (area.w - 2 * gap) / 3;
  if (draw_act(pen, area.take_left(wide, gap), {"codes:back", w.back, ActStyle::plain, {}, true}))
    turn(draft, draft.texts.size() - 1);
  const std::string_view middle = draft.still ? w.go_on : w.pause;
  if (draw_act(pen, area.take_left(wide, gap), {"codes:still", middle, ActStyle::plain, {}, true}))
    draft.still = !draft.still;
  if (draw_act(pen, area, {"codes:next", w.next, ActStyle::plain, {}, true})) turn(draft, 1);
}

struct Said {
  std::string number;  // "3 of 7"
  Type number_type = Type::numeral_56;
  std::string_view title, there, round;  // no title where there is little room
  [[nodiscard]] float number_height() const { return type_dp(number_type) * 1.2F; }
};

Said said_of(Pen& pen, const CodesDraft& draft, float width, bool phone) {
  const CodesWords& w = codes_words();
  Said said;
  said.number = say(w.of, draft.shown + 1, draft.texts.size());
  // As wide as the last of them will be: its size does not change on the way.
  const std::string widest = say(w.of, draft.texts.size(), draft.texts.size());
  said.number_type =
      phone ? Type::numeral_40 : pen.fitting({Type::numeral_88, Type::numeral_56, Type::numeral_40}, widest, width);
  if (!phone) said.title = w.there_title;
  said.there = phone ? w.there : w.there_line;
  said.round = draft.texts.size() > 1 ? w.round : w.one_only;
  return said;
}

constexpr float title_line = 34;

float said_height(Pen& pen, float width, const Said& said) {
  return said.number_height() + 4 + (said.title.empty() ? 0 : title_line) +
         pen.paragraph_height(width, Type::strong_18, said.there, 4) + 4 +
         pen.paragraph_height(width, Type::body_16, said.round, 4);
}

void draw_said(Pen& pen, Rect area, const Said& said) {
  pen.text_in(area.take_top(said.number_height(), 4), said.number_type, pen.theme.tunic, said.number);
  if (!said.title.empty()) pen.text_in(area.take_top(title_line), Type::heading_24, pen.theme.ink, said.title);
  area.take_top(pen.paragraph(area, Type::strong_18, pen.theme.ink, said.there, 4), 4);
  pen.paragraph(area, Type::body_16, pen.theme.ink2, said.round, 4);
}

}  // namespace

std::optional<Wish> draw_codes_screen(ScreenView& view) {
  const CodesWords& w = codes_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  CodesDraft& draft = view.ui.codes;
  const std::string second = say(w.holds, counted(draft.entries, "entry", "entries"));
  std::optional<Wish> wish = draw_top(view, {std::string(w.title), second, true, false, false, false});
  if (draft.texts.empty()) return wish;
  const CodeSymbol& symbol = symbol_of(draft);
  const bool keys = draft.texts.size() > 1;

  // Beside the code where that leaves it larger than below it.
  if (l.content.w > l.content.h) {
    const float side = code_side(pen, symbol.side, std::min(l.content.h, l.content.w - 240));
    Rect words = l.content;
    const Rect code = l.left_hand ? words.take_right(side, 28) : words.take_left(side, 28);
    draw_code(pen, {code.x, code.y}, side, symbol);
    if (!l.phone()) words.h = std::min(words.h, side);
    const bool narrow = words.w < 380;
    const Rect panel = words;
    if (!narrow) pen.fill(panel, pen.theme.sheet, 8);
    Rect inside = narrow ? panel : panel.inset(24);
    const Said said = said_of(pen, draft, inside.w, l.phone());
    if (keys) draw_keys(pen, inside.take_bottom(key, 16), draft);
    draw_said(pen, inside, said);
    return wish;
  }

  Rect rest = l.content;
  const Said said = said_of(pen, draft, rest.w, l.phone());
  if (keys) draw_keys(pen, rest.take_bottom(key, 12), draft);
  const float words = said_height(pen, rest.w, said);
  const float side = code_side(pen, symbol.side, std::min(rest.w, rest.h - words - 12));
  draw_code(pen, {rest.x + (rest.w - side) / 2, rest.y}, side, symbol);
  rest.take_top(side, 12);
  draw_said(pen, rest, said);
  return wish;
}

}  // namespace motherbulb

#include "app/widgets/number_pad.hpp"

#include <string>

#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

bool draw_digit(Pen& pen, Rect rect, int digit) {
  const Theme& t = pen.theme;
  const std::string shown = std::to_string(digit);
  const std::string name = "pad:" + shown;
  bool tapped = pen.touch.hit(name, rect, true, TapKind::count);
  if (pen.touch.take_character(digit == 10 ? '0' : static_cast<char>('0' + digit))) tapped = true;
  const bool pressed = is_pressed(pen, name);
  pen.fill(rect, pressed ? t.straw : t.sheet, 6);
  pen.frame(rect, pressed ? t.on_straw : t.edge);
  const Type type = rect.h >= 100 ? Type::numeral_56 : rect.h >= 76 ? Type::numeral_40 : Type::heading_36;
  pen.text_in(rect, type, pressed ? t.on_straw : t.ink, shown, Align::middle);
  return tapped;
}

}  // namespace

PadAnswer draw_number_pad(Pen& pen, Rect area, bool can_undo, bool has_next, bool narrow) {
  constexpr float gap = 8;
  PadAnswer answer;
  const float w = (area.w - 2 * gap) / 3;
  const float h = (area.h - 3 * gap) / 4;
  const auto cell = [&](int column, int row) {
    return Rect{area.x + static_cast<float>(column) * (w + gap), area.y + static_cast<float>(row) * (h + gap), w, h};
  };
  for (int digit = 1; digit <= 9; ++digit) {
    if (draw_digit(pen, cell((digit - 1) % 3, (digit - 1) / 3), digit)) answer.handful = digit;
  }
  if (draw_digit(pen, cell(1, 3), 10)) answer.handful = 10;
  const Words& ws = words();
  answer.undo = draw_act(pen, cell(0, 3),
                         {"pad:undo", narrow ? "" : ws.undo, ActStyle::square, Icon::undo, can_undo, TapKind::count});
  if (can_undo && pen.touch.take_key(Key::backspace)) answer.undo = true;
  answer.next = draw_act(pen, cell(2, 3), {"pad:next", narrow ? ws.next : ws.next_size, ActStyle::quiet, {}, has_next});
  return answer;
}

}  // namespace motherbulb

// Who is here: what is tapped is kept under a name. Names that the book knows are tapped; another one is typed, on the
// keys shown or on a keyboard.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t longest_name = 40;

void draw_letters(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  static constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ-";
  const std::size_t columns = view.layout.phone() ? 5 : 7;
  const std::size_t rows = (letters.size() + 1 + columns - 1) / columns;
  constexpr float gap = 8;
  const float w = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const float h = std::min(88.0F, (area.h - gap * static_cast<float>(rows - 1)) / static_cast<float>(rows));
  std::string& name = view.ui.who.typed_name;
  for (std::size_t i = 0; i <= letters.size(); ++i) {
    const Rect key{area.x + static_cast<float>(i % columns) * (w + gap),
                   area.y + static_cast<float>(i / columns) * (h + gap), w, h};
    if (i == letters.size()) {
      if (draw_act(pen, key, {"letter:undo", "", ActStyle::square, Icon::undo, !name.empty(), TapKind::count})) {
        while (!name.empty() && (static_cast<unsigned char>(name.back()) & 0xC0U) == 0x80U) name.pop_back();
        if (!name.empty()) name.pop_back();
      }
      continue;
    }
    const char letter = letters[i];
    const std::string target = std::string("letter:") + letter;
    const bool tapped = pen.touch.hit(target, key, true, TapKind::count);
    const bool pressed = is_pressed(pen, target);
    pen.fill(key, pressed ? pen.theme.straw : pen.theme.sheet, 6);
    pen.frame(key, pressed ? pen.theme.on_straw : pen.theme.edge);
    pen.text_in(key, Type::heading_28, pressed ? pen.theme.on_straw : pen.theme.ink, std::string(1, letter),
                Align::middle);
    if (tapped && name.size() < longest_name) {
      // A capital at the start of each part of a name, small letters after it.
      const bool starts = name.empty() || name.back() == '-' || name.back() == ' ';
      name += starts || letter == '-' ? letter : static_cast<char>(letter - 'A' + 'a');
    }
  }
}

}  // namespace

std::optional<Wish> draw_who_screen(ScreenView& view) {
  const Words& w = words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  std::optional<Wish> wish;
  if (draw_head(pen, l, {w.who_title, w.who_second, true, false, 0, {}, false}).back) wish = GoBack{};
  if (draw_trouble(view)) wish = PutErrorAside{};
  Rect area = l.content;
  area.w = std::min(area.w, 760.0F);

  if (view.ui.who.typing || view.rows.helpers().empty()) {
    std::string& name = view.ui.who.typed_name;
    if (pen.touch.take_key(Key::backspace) && !name.empty()) {
      while (!name.empty() && (static_cast<unsigned char>(name.back()) & 0xC0U) == 0x80U) name.pop_back();
      if (!name.empty()) name.pop_back();
    }
    if (const auto typed = pen.touch.take_any_character(); typed != 0 && name.size() < longest_name) name += typed;
    if (view.rows.helpers().empty())
      area.take_top(pen.paragraph(area, Type::body_18, pen.theme.ink2, w.who_none, 2), 8);
    const Rect field = area.take_top(64, 16);
    pen.fill(field, pen.theme.sheet, 6);
    pen.frame(field, pen.theme.ink);
    if (name.empty()) {
      pen.text_in(field.inset(20, 0), Type::body_18, pen.theme.ink2, w.who_type);
    } else {
      pen.text_in(field.inset(20, 0), Type::name_28, pen.theme.ink, name);
    }
    const Rect keep = area.take_bottom(64, 16);
    std::string trimmed = name;
    while (!trimmed.empty() && trimmed.back() == ' ') trimmed.pop_back();
    const std::string act = trimmed.empty() ? std::string(w.who_keep_empty) : say(w.who_keep, trimmed);
    const bool enter = !trimmed.empty() && pen.touch.take_key(Key::enter);
    if (draw_act(pen, keep, {"who:keep", act, ActStyle::main, Icon::tick, !trimmed.empty()}) || enter)
      wish = BeHelper{trimmed};
    draw_letters(view, area);
    return wish;
  }

  const float h = 64;
  const std::size_t count = view.rows.helpers().size() + 1;
  const Rect panel{area.x, area.y, area.w, l.content.h};
  const float content = static_cast<float>(count) * (h + 12);
  float y = pen.begin_scroll("who", panel, content);
  for (const std::string& name : view.rows.helpers()) {
    const Rect key{area.x, y, area.w, h};
    if (draw_act(pen, key, {"who:" + name, name, name == view.ui.helper ? ActStyle::main : ActStyle::quiet, {}, true}))
      wish = BeHelper{name};
    y += h + 12;
  }
  if (draw_act(pen, {area.x, y, area.w, h}, {"who:other", w.who_other, ActStyle::link, Icon::plus, true})) {
    view.ui.who.typing = true;
    view.ui.who.typed_name.clear();
  }
  pen.end_scroll("who");
  return wish;
}

}  // namespace motherbulb

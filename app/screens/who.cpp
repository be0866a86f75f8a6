// Who is here: what is tapped is kept under a name. Names that the book knows are tapped; another one is typed, on the
// keys shown or on a keyboard.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"

namespace motherbulb {
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
    if (view.rows.helpers().empty())
      area.take_top(pen.paragraph(area, Type::body_18, pen.theme.ink2, w.who_none, 2), 8);
    const float least = text_entry_height(l.phone()) + 16 + 64;
    const Rect panel{area.x, area.y, area.w, l.page.bottom() - area.y};
    area.h = std::max(least, l.content.h - (area.y - l.content.y));
    area.y = pen.begin_scroll("who:typing", panel, area.h + 16);
    const Rect keep = area.take_bottom(64, 16);
    const bool enter = draw_text_entry(pen, area, {"letter", w.who_type, 40, true}, name, l.phone());
    const std::string trimmed = without_ends(name);
    const std::string act = trimmed.empty() ? std::string(w.who_keep_empty) : say(w.who_keep, trimmed);
    if (draw_act(pen, keep, {"who:keep", act, ActStyle::main, Icon::tick, !trimmed.empty()}) ||
        (enter && !trimmed.empty()))
      wish = BeHelper{trimmed};
    pen.end_scroll("who:typing");
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

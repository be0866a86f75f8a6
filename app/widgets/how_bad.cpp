#include "app/widgets/how_bad.hpp"

#include <string>

#include "app/widgets/labels.hpp"
#include "app/words/bench.hpp"

namespace motherbulb {

void draw_how_bad(Pen& pen, Point left, int how_bad, Color color) {
  constexpr float step = 20;
  for (int i = 0; i < 3; ++i) {
    const Point m{left.x + 7 + step * static_cast<float>(i), left.y};
    // A leaf, a little bent to the right.
    const std::vector<Point> leaf = curve({m.x - 3.5F, m.y + 10}, {{m.x - 9, m.y + 2},
                                                                   {m.x - 6.5F, m.y - 7},
                                                                   {m.x + 3, m.y - 10.5F},
                                                                   {m.x + 9, m.y - 3},
                                                                   {m.x + 6, m.y + 7},
                                                                   {m.x - 3.5F, m.y + 10}});
    if (i < how_bad) {
      pen.fill_outline(leaf, color);
      pen.path(leaf, color, 1.6F, true);
    } else {
      pen.path(leaf, color, 2, true);
    }
  }
}

std::optional<int> draw_how_bad_keys(Pen& pen, Rect area, int chosen) {
  const Theme& t = pen.theme;
  constexpr float gap = 8;
  std::optional<int> tapped;
  const float wide = (area.w - 2 * gap) / 3;
  for (int bad = 1; bad <= 3; ++bad) {
    const Rect key{area.x + static_cast<float>(bad - 1) * (wide + gap), area.y, wide, area.h};
    const std::string name = "bad:" + std::to_string(bad);
    if (pen.touch.hit(name, key)) tapped = bad;
    const bool pressed = is_pressed(pen, name);
    const bool on = bad == chosen && !pressed;
    pen.fill(key, pressed ? t.straw : on ? t.tunic : t.sheet, 6);
    if (!on) pen.frame(key, pressed ? t.on_straw : t.edge);
    const Color mark = pressed ? t.on_straw : on ? t.on_tunic : t.copper;
    const Color ink = pressed ? t.on_straw : on ? t.on_tunic : t.ink;
    const std::string_view word = bench_words().how_bad[static_cast<std::size_t>(bad)];
    if (wide < 136) {
      draw_how_bad(pen, {key.middle().x - how_bad_width / 2, key.y + 18}, bad, mark);
      pen.text_in({key.x + 4, key.y + 30, wide - 8, 22}, Type::heading_18, ink, word, Align::middle);
      continue;
    }
    const Type type = pen.fitting({Type::heading_20, Type::heading_18}, word, wide - how_bad_width - 30);
    const float used = how_bad_width + 12 + pen.width(type, word);
    const float from = key.x + (wide - used) / 2;
    draw_how_bad(pen, {from, key.middle().y}, bad, mark);
    pen.text_in({from + how_bad_width + 12, key.y, used - how_bad_width, key.h}, type, ink, word);
  }
  return tapped;
}

}  // namespace motherbulb

#include "app/widgets/grade_picker.hpp"

#include <algorithm>
#include <cmath>

#include "app/widgets/icons.hpp"
#include "app/widgets/labels.hpp"

namespace motherbulb {

void draw_size_rings(Pen& pen, Point m, float radius, int rings, bool on_tunic) {
  const Theme& t = pen.theme;
  pen.disc(m, radius, on_tunic ? mix(t.tunic, t.on_tunic, 0.16F) : mix(t.sheet, t.leaf_fill, 0.10F));
  const Color inner = on_tunic ? mix(t.tunic, t.on_tunic, 0.6F) : mix(t.sheet, t.leaf_fill, 0.6F);
  // The heart of a bulb lies a little aside, as the scales are laid on one by one.
  for (int i = 1; i <= rings; ++i) {
    const float share = 1 - static_cast<float>(i) / (static_cast<float>(rings) + 0.75F);
    const float aside = radius * 0.09F * static_cast<float>(i - 1);
    pen.ring({m.x + aside, m.y - aside * 0.4F}, std::max(2.0F, radius * share * 0.94F), inner, 1.6F);
  }
  pen.ring(m, radius - 1.2F, on_tunic ? t.on_tunic : t.tunic, 2.4F);
}

std::optional<std::size_t> draw_grade_picker(Pen& pen, Rect area, const std::vector<GradeKey>& keys, std::size_t chosen,
                                             bool two_rows) {
  const Theme& t = pen.theme;
  constexpr float gap = 8;
  std::optional<std::size_t> tapped;
  const std::size_t columns = two_rows ? (keys.size() + 1) / 2 : keys.size();
  const std::size_t rows = two_rows ? 2 : 1;
  const float w = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const float h = (area.h - gap * static_cast<float>(rows - 1)) / static_cast<float>(rows);
  for (std::size_t i = 0; i < keys.size(); ++i) {
    const GradeKey& key = keys[i];
    const Rect cell{area.x + static_cast<float>(i % columns) * (w + gap),
                    area.y + static_cast<float>(i / columns) * (h + gap), w, h};
    const std::string name = "grade:" + key.name;
    if (pen.touch.hit(name, cell)) tapped = i;
    const bool pressed = is_pressed(pen, name);
    const bool on_tunic = i == chosen && !pressed;
    pen.fill(cell, pressed ? t.straw : on_tunic ? t.tunic : t.sheet, 6);
    if (!on_tunic) pen.frame(cell, pressed ? t.on_straw : t.edge);
    const Color words = pressed ? t.on_straw : on_tunic ? t.on_tunic : t.ink2;
    const Color number = pressed ? t.on_straw : on_tunic ? t.on_tunic : key.count > 0 ? t.ink : t.ink2;
    const int rings = 1 + static_cast<int>(std::lround(key.share * 2));
    const std::string count = std::to_string(key.count);
    if (two_rows) {
      const float radius = std::min(8 + 10 * key.share, std::min(w * 0.18F, h * 0.26F));
      const Point m{cell.x + 14 + std::min(18.0F, w * 0.18F), cell.y + h * 0.38F};
      draw_size_rings(pen, m, radius, rings, on_tunic);
      if (key.opens_more)
        draw_icon(pen, i == 0 ? Icon::back : Icon::next, {cell.x + 15, cell.bottom() - 15}, 16, words);
      pen.text(Type::numeral_40, {cell.right() - 12, cell.y + 12 + pen.cap(Type::numeral_40)}, number, count,
               Align::right);
      pen.text_in({cell.x + 8, cell.bottom() - 27, w - 18, 24},
                  pen.fitting({Type::strong_16, Type::strong_15}, key.name, w - 18), words, key.name, Align::right);
      continue;
    }
    const float foot = 84;
    const float radius = std::min({10 + 32 * key.share, w * 0.42F, (h - foot) * 0.42F});
    const Point m{cell.middle().x, cell.y + (h - foot) / 2 + 4};
    draw_size_rings(pen, m, std::max(7.0F, radius), rings, on_tunic);
    if (key.opens_more)
      draw_icon(pen, i == 0 ? Icon::back : Icon::next, {i == 0 ? cell.x + 16 : cell.right() - 16, cell.bottom() - 25},
                16, words);
    const Type class_type = pen.fitting({Type::heading_20, Type::heading_18}, key.name, w - 12);
    pen.text_in({cell.x + 6, cell.bottom() - 66, w - 12, 24}, class_type, words, key.name, Align::middle);
    pen.text_in({cell.x + 6, cell.bottom() - 42, w - 12, 32}, Type::numeral_40, number, count, Align::middle);
  }
  return tapped;
}

}  // namespace motherbulb

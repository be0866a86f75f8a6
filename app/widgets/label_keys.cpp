#include "app/widgets/label_keys.hpp"

#include <algorithm>
#include <string>

#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr float gap = 8;

std::size_t more_keys(const KeyGrid& grid) {
  return (grid.other.empty() ? 0U : 1U) + (grid.space ? 1U : 0U) + (grid.undo ? 1U : 0U);
}

}  // namespace

std::size_t key_rows(const KeyGrid& grid) {
  return (grid.keys.size() + more_keys(grid) + grid.columns - 1) / grid.columns;
}

KeysAnswer draw_keys(Pen& pen, Rect area, const KeyGrid& grid) {
  const Theme& t = pen.theme;
  KeysAnswer answer;
  const std::size_t rows = key_rows(grid);
  const float wide = (area.w - gap * static_cast<float>(grid.columns - 1)) / static_cast<float>(grid.columns);
  const float high = (area.h - gap * static_cast<float>(rows - 1)) / static_cast<float>(rows);
  const auto cell = [&](std::size_t i) {
    return Rect{area.x + static_cast<float>(i % grid.columns) * (wide + gap),
                area.y + static_cast<float>(i / grid.columns) * (high + gap), wide, high};
  };
  for (std::size_t i = 0; i < grid.keys.size(); ++i) {
    const Rect key = cell(i);
    const std::string target = std::string("key:") + grid.keys[i];
    if (pen.touch.hit(target, key, true, TapKind::count)) answer.typed = grid.keys[i];
    const bool pressed = is_pressed(pen, target);
    pen.fill(key, pressed ? t.straw : t.sheet, 6);
    pen.frame(key, pressed ? t.on_straw : t.edge);
    const Type type = wide >= 90 && high >= 60 ? Type::heading_36 : Type::heading_28;
    pen.text_in(key, type, pressed ? t.on_straw : t.ink, grid.keys.substr(i, 1), Align::middle);
  }
  // What is left of the last row is shared by the keys that write no character.
  const std::size_t more = more_keys(grid);
  if (more == 0) return answer;
  const std::size_t left = rows * grid.columns - grid.keys.size();
  std::size_t at = grid.keys.size();
  std::size_t shared = left;
  const auto take = [&](std::size_t behind) {
    // Cells of the present row only.
    const std::size_t in_row = grid.columns - at % grid.columns;
    const std::size_t cells = std::min(in_row, std::max<std::size_t>(1, shared / (behind + 1)));
    Rect key = cell(at);
    key.w = wide * static_cast<float>(cells) + gap * static_cast<float>(cells - 1);
    at += cells;
    shared -= cells;
    return key;
  };
  std::size_t behind = more - 1;
  if (!grid.other.empty()) {
    answer.other = draw_act(pen, take(behind), {"key:other", grid.other, ActStyle::square, {}, true});
    if (behind > 0) --behind;
  }
  if (grid.space) {
    if (draw_act(pen, take(behind), {"key:space", words().key_space, ActStyle::plain, {}, true, TapKind::count}))
      answer.typed = ' ';
    if (behind > 0) --behind;
  }
  if (grid.undo) {
    const Rect key = take(0);
    answer.undo = draw_act(pen, key,
                           {"key:undo", key.w >= 104 ? words().undo : std::string_view(), ActStyle::square, Icon::undo,
                            grid.can_undo, TapKind::count});
  }
  return answer;
}

}  // namespace motherbulb

// What the pages of the health screen share: blocks one below the other in a panel that scrolls, rows of pots, the mark
// of damage.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "app/screens/screens.hpp"

namespace motherbulb::health {

inline constexpr float gap = 8;

// A part of a page; drawn where it is in sight.
struct Block {
  float height = 0;
  std::function<void(Rect)> draw;
};
void draw_blocks(Pen& pen, std::string_view panel, Rect area, const std::vector<Block>& blocks);

[[nodiscard]] Block heading_block(Pen& pen, std::string words);
[[nodiscard]] Block paragraph_block(Pen& pen, float width, Type type, Color color, std::string words, float below = 8);
// A sentence with a sign before it: what to be careful with.
[[nodiscard]] Block caution_block(Pen& pen, float width, std::string words);
// On a sheet of its own, one below the other, rows of one height; only those in sight of the window are drawn.
[[nodiscard]] Block rows_block(ScreenView& view, std::size_t count, float height,
                               std::function<void(Rect, std::size_t)> draw);

// A bulb and its leaves: size tells how many, leaves how bad; hollow where nobody said how bad.
void draw_damage_mark(Pen& pen, Point middle, float size, std::int32_t worst, Color color);
[[nodiscard]] float damage_mark_size(std::int64_t pots, std::int64_t most, float least, float greatest);

[[nodiscard]] std::string bench_words_of(const std::string& bench);
[[nodiscard]] std::string by_of(const ScreenView& view, const std::string& helper, const When& when);
[[nodiscard]] Go go_to_pot(const PotId& pot);

std::optional<Wish> draw_house(ScreenView& view, Rect area);
std::optional<Wish> draw_troubles(ScreenView& view, Rect area);
void draw_sample(ScreenView& view, Rect area);
void draw_hot_water(ScreenView& view, Rect area);
std::optional<Wish> draw_treatments(ScreenView& view, Rect area);
std::optional<Wish> draw_off_types(ScreenView& view, Rect area);

}  // namespace motherbulb::health

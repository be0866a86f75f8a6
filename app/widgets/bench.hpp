// A bench: its pots as circles in the order in which they stand. Number = bulbs, line = resting, spokes = pieces,
// broken ring = free, copper icon = damage, lozenge = on hold; the chosen one stands on a straw label.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"

namespace motherbulb {

struct BenchSlot {
  enum class What { free, growing, pieces, resting } what = What::free;
  std::string name;          // in the touch map; empty: no control
  std::string words;         // all of it, for whoever cannot see it
  std::int64_t count = 0;    // bulbs or pieces
  std::optional<Icon> icon;  // of the last damage
  bool held = false;
  bool faded = false;  // a filter leaves it out
  bool chosen = false;
};

struct BenchGrid {
  std::size_t columns = 8;
  float pitch_x = 64, pitch_y = 64;  // from cell to cell, 8 of it between them
  float height = 0;                  // of all rows
  [[nodiscard]] float row_of(std::size_t slot) const { return pitch_y * static_cast<float>(slot / columns); }
};
[[nodiscard]] BenchGrid bench_grid(float width, std::size_t slots, std::size_t columns);

// Draws the slots in sight in a panel that scrolls ("bench"); asks for each of them only. The slot that was tapped.
std::optional<std::size_t> draw_bench(Pen& pen, Rect area, const BenchGrid& grid, std::size_t slots,
                                      const std::function<BenchSlot(std::size_t)>& slot_at);
// One circle with what it says, of this radius.
void draw_bench_pot(Pen& pen, Point middle, float radius, const BenchSlot& slot);

struct LegendPart {
  BenchSlot slot;
  std::string words;
};
// The parts that fit beside each other in the width.
void draw_bench_legend(Pen& pen, Rect area, const std::vector<LegendPart>& parts);

}  // namespace motherbulb

#include "app/widgets/bench.hpp"

#include <algorithm>
#include <cmath>

#include "app/widgets/labels.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {
constexpr float pi = 3.14159265F;
constexpr float gap = 8;
constexpr float head = 4;  // above the first row and below the last, for the label of the chosen one
constexpr float foot = 8;
}  // namespace

BenchGrid bench_grid(float width, std::size_t slots, std::size_t columns) {
  BenchGrid grid;
  grid.columns = columns;
  grid.pitch_x = (width + gap) / static_cast<float>(columns);
  grid.pitch_y = 68;
  grid.height = grid.pitch_y * static_cast<float>((slots + columns - 1) / columns) + head + foot;
  return grid;
}

void draw_bench_pot(Pen& pen, Point m, float radius, const BenchSlot& slot) {
  const Theme& t = pen.theme;
  using What = BenchSlot::What;
  const float line = radius > 16 ? 2.4F : 2.0F;
  if (slot.what == What::free) {
    pen.dashed_ring(m, radius - 1, t.edge, line - 0.4F, radius > 16 ? 12 : 7);
    return;
  }
  const bool rests = slot.what == What::resting;
  const bool damaged = slot.icon.has_value();
  Color ring = rests ? t.slate : t.leaf;
  Color ground =
      rests ? mix(t.sheet, t.slate_fill, t.night ? 0.34F : 0.22F) : mix(t.sheet, t.leaf_fill, t.night ? 0.18F : 0.16F);
  Color ink = ring;
  if (slot.held) ring = t.tunic;
  if (damaged) ring = ink = t.copper;
  if (slot.faded) {
    ring = t.edge;
    ink = t.ink2;
    ground = t.sheet;
  }
  if (slot.chosen) ground = t.sheet;
  pen.disc(m, radius, ground);
  pen.ring(m, radius - line / 2, ring, line);
  // Pieces of a cut bulb: the cuts show at the rim.
  if (slot.what == What::pieces && radius > 8) {
    const int cuts = radius > 16 ? 8 : 4;
    for (int i = 0; i < cuts; ++i) {
      const float angle = (static_cast<float>(i) + 0.5F) * 2 * pi / static_cast<float>(cuts);
      const Point way{std::cos(angle), std::sin(angle)};
      pen.line(m + way * (radius * (radius > 16 ? 0.72F : 0.5F)), m + way * (radius - 1), ring, 2);
    }
  }
  if (slot.held && !slot.faded) {
    const float half = damaged ? radius * 0.36F : radius * 0.62F;
    const Point at = damaged ? Point{m.x + radius * 0.74F, m.y - radius * 0.74F} : m;
    const auto lozenge = [&](float size, Color color) {
      pen.fill_convex({{at.x, at.y - size}, {at.x + size, at.y}, {at.x, at.y + size}, {at.x - size, at.y}}, color);
    };
    if (damaged) lozenge(half + 2.5F, t.sheet);
    lozenge(half, t.tunic);
    pen.line({at.x - half * 0.42F, at.y}, {at.x + half * 0.42F, at.y}, t.on_tunic, half > 8 ? 2.6F : 2.0F);
    if (!damaged) return;
  }
  if (damaged && !slot.faded) {
    draw_icon(pen, *slot.icon, m, radius * 1.14F, t.copper);
  } else if (rests) {
    pen.line({m.x - radius * 0.42F, m.y}, {m.x + radius * 0.42F, m.y}, ink, 2.2F);
  } else if (radius > 16) {
    const std::string number = grouped(slot.count);
    const Type type = pen.fitting({Type::heading_20, Type::heading_18}, number, radius * 1.5F);
    pen.text_in({m.x - radius, m.y - radius, radius * 2, radius * 2}, type, ink, number, Align::middle);
  }
}

std::optional<std::size_t> draw_bench(Pen& pen, Rect area, const BenchGrid& grid, std::size_t slots,
                                      const std::function<BenchSlot(std::size_t)>& slot_at) {
  const Theme& t = pen.theme;
  std::optional<std::size_t> tapped;
  const float top = pen.begin_scroll("bench", area, grid.height) + head;
  const auto rows = (slots + grid.columns - 1) / grid.columns;
  const auto first = static_cast<std::size_t>(std::max(0.0F, (area.y - top) / grid.pitch_y));
  for (std::size_t row = first; row < rows; ++row) {
    const float y = top + grid.pitch_y * static_cast<float>(row);
    if (y > area.bottom()) break;
    // The shelf that they stand on.
    pen.fill({area.x, y + grid.pitch_y - gap / 2 - 0.75F, area.w, 1.5F}, t.night ? t.ring : t.well);
  }
  for (std::size_t row = first; row < rows; ++row) {
    const float y = top + grid.pitch_y * static_cast<float>(row);
    if (y > area.bottom()) break;
    for (std::size_t at = row * grid.columns; at < std::min(slots, (row + 1) * grid.columns); ++at) {
      const BenchSlot slot = slot_at(at);
      const Rect cell{area.x + grid.pitch_x * static_cast<float>(at % grid.columns), y, grid.pitch_x - gap,
                      grid.pitch_y - gap};
      const Point m = cell.middle();
      const float radius = std::min(25.0F, std::min(cell.w, cell.h) / 2 - 4);
      if (!slot.name.empty()) {
        if (pen.touch.hit(slot.name, cell)) tapped = at;
        pen.touch.tell(slot.words);
      }
      const bool pressed = !slot.name.empty() && is_pressed(pen, slot.name);
      if (slot.chosen || pressed) {
        const float half = radius + 7;
        const Rect label{m.x - half, cell.y - 2, 2 * half, cell.h + 3};
        pen.fill(label, t.straw, 5);
        pen.fill_convex({{label.x, label.bottom() - 1}, {label.right(), label.bottom() - 1}, {m.x, label.bottom() + 9}},
                        t.straw);
      }
      draw_bench_pot(pen, m, radius, slot);
    }
  }
  pen.end_scroll("bench");
  return tapped;
}

void draw_bench_legend(Pen& pen, Rect area, const std::vector<LegendPart>& parts) {
  float x = area.x;
  for (const LegendPart& part : parts) {
    const float wide = 24 + pen.width(Type::body_15, part.words);
    if (x + wide > area.right()) break;
    draw_bench_pot(pen, {x + 9, area.middle().y}, 9, part.slot);
    pen.text_in({x + 25, area.y, wide, area.h}, Type::body_15, pen.theme.ink2, part.words);
    x += wide + 18;
  }
}

}  // namespace motherbulb

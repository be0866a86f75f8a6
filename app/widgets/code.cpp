#include "app/widgets/code.hpp"

#include <algorithm>
#include <cmath>

namespace motherbulb {
namespace {

// Not of a theme: a camera wants dark on light, as far apart as the screen can.
constexpr Color light = rgb(0xFFFFFF);
constexpr Color dark = rgb(0x000000);

float with_quiet_zone(std::size_t modules) {
  return static_cast<float>(modules + 2 * quiet_zone);
}

}  // namespace

float code_side(const Pen& pen, std::size_t modules, float room) {
  const float all = with_quiet_zone(modules);
  const float pixels = std::max(1.0F, std::floor(room * pen.scale() / all + 0.001F));
  return all * pixels / pen.scale();
}

void draw_code(Pen& pen, Point corner, float side, const CodeSymbol& symbol) {
  const float scale = pen.scale();
  const float pixels = std::round(side * scale / with_quiet_zone(symbol.side));
  const Point from{std::round(corner.x * scale), std::round(corner.y * scale)};
  pen.fill({from.x / scale, from.y / scale, side, side}, light);
  const auto place = [&](std::size_t module) { return static_cast<float>(module + quiet_zone) * pixels; };
  for (std::size_t row = 0; row < symbol.side; ++row) {
    for (std::size_t column = 0; column < symbol.side;) {
      if (!symbol.is_dark(column, row)) {
        ++column;
        continue;
      }
      std::size_t end = column;
      while (end < symbol.side && symbol.is_dark(end, row)) ++end;
      const Rect run{from.x + place(column), from.y + place(row), static_cast<float>(end - column) * pixels, pixels};
      pen.fill_column({run.x / scale, run.y / scale, run.w / scale, run.h / scale}, dark);
      column = end;
    }
  }
}

}  // namespace motherbulb

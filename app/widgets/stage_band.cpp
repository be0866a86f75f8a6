#include "app/widgets/stage_band.hpp"

#include <algorithm>

#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr float line_height = 36;
constexpr float beside_from = 600;

void draw_part(Pen& pen, Rect bar, Mark mark) {
  const Theme& t = pen.theme;
  const std::vector<Point> outline{
      {bar.x, bar.y}, {bar.right(), bar.y}, {bar.right(), bar.bottom()}, {bar.x, bar.bottom()}};
  switch (mark) {
    case Mark::drying_off:
      pen.fill(bar, t.error_ground);
      pen.hatch(outline, t.copper_fill, 2.4F, 6);
      return;
    case Mark::resting:
      pen.fill(bar, t.sold);
      pen.line({bar.x + 6, bar.middle().y}, {bar.right() - 6, bar.middle().y}, t.slate, 2);
      return;
    default:
      break;
  }
  pen.fill(bar, mark == Mark::forming ? t.growing_ground : t.leaf_fill);
  if (mark == Mark::forming) {
    pen.frame(bar, t.leaf_fill, 2, 0);
    for (float x = bar.x + 12; x < bar.right() - 6; x += 12) pen.line({x, bar.y}, {x, bar.bottom()}, t.leaf_fill, 2);
    return;
  }
  const Color blade = mix(t.leaf_fill, t.night ? t.pane : t.sheet, 0.55F);
  for (float x = bar.x + 8; x < bar.right() - 5; x += 10)
    pen.line({x, bar.bottom() - 4}, {x + 4, bar.bottom() - bar.h * 0.62F}, blade, 2);
  if (mark == Mark::started && bar.w > 16)
    pen.fill_convex({{bar.x, bar.bottom()}, {bar.x + 10, bar.bottom()}, {bar.x + 5, bar.y}}, t.ink);
}

}  // namespace

void draw_stage_band(Pen& pen, Rect area, const std::vector<StagePart>& parts) {
  std::int64_t sum = 0;
  std::size_t shown = 0;
  for (const StagePart& part : parts) {
    sum += part.count;
    if (part.count > 0) ++shown;
  }
  if (sum == 0) {
    pen.fill(area, pen.theme.well, 4);
    return;
  }
  constexpr float apart = 3;
  constexpr float least = 10;
  const float room = area.w - apart * static_cast<float>(shown - 1) - least * static_cast<float>(shown);
  float x = area.x;
  for (const StagePart& part : parts) {
    if (part.count == 0) continue;
    const float wide = least + room * static_cast<float>(part.count) / static_cast<float>(sum);
    draw_part(pen, {x, area.y, wide, area.h}, part.mark);
    x += wide + apart;
  }
}

float stage_legend_height(float width, std::size_t parts) {
  return width >= beside_from ? line_height : line_height * static_cast<float>(parts);
}

void draw_stage_legend(Pen& pen, Rect area, const std::vector<StagePart>& parts) {
  const Theme& t = pen.theme;
  const bool beside = area.w >= beside_from;
  const float wide = beside ? area.w / static_cast<float>(parts.size()) : area.w;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    const auto n = static_cast<float>(i);
    const Rect line = beside ? Rect{area.x + n * wide, area.y, wide, line_height}
                             : Rect{area.x, area.y + n * line_height, wide, line_height};
    draw_mark(pen, parts[i].mark, {line.x + 13, line.middle().y}, 22);
    const std::string count = grouped(parts[i].count);
    if (beside) {
      const float used = pen.text_in({line.x + 34, line.y, wide - 34, line.h}, Type::heading_20, t.ink, count);
      pen.text_in({line.x + 42 + used, line.y, wide - 44 - used, line.h}, Type::body_16, t.ink2, parts[i].words);
      continue;
    }
    pen.text_in({line.x + 36, line.y, wide - 100, line.h}, Type::body_16, t.ink2, parts[i].words);
    pen.text_in(line, Type::heading_20, t.ink, count, Align::right);
  }
}

}  // namespace motherbulb

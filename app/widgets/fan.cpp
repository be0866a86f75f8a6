#include "app/widgets/fan.hpp"

#include <algorithm>
#include <cmath>

#include "app/widgets/smooth.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr float below_axis = 34;  // years
constexpr std::size_t middle = 2;

struct Frame {
  Rect plot;
  double top = 1;
  std::size_t points = 0;

  [[nodiscard]] float x(double at) const {
    return plot.x + plot.w * static_cast<float>(at / static_cast<double>(points - 1));
  }
  [[nodiscard]] float y(double count) const {
    return plot.bottom() - plot.h * static_cast<float>(std::clamp(count / top, 0.0, 1.0));
  }
};

void draw_scale(Pen& pen, const Frame& frame, const FanScale& scale) {
  const Theme& t = pen.theme;
  for (int i = 0; i * scale.step <= scale.top * 1.0001; ++i) {
    const double count = i * scale.step;
    const float y = frame.y(count);
    if (i > 0) pen.line({frame.plot.x, y}, {frame.plot.right(), y}, t.night ? t.ring : t.well, 1.5F);
    pen.text(Type::strong_16, {frame.plot.x - 10, y + pen.cap(Type::strong_16) / 2}, t.ink2,
             grouped(static_cast<std::int64_t>(std::llround(count))), Align::right);
  }
}

void draw_band(Pen& pen, const Frame& frame, const SmoothLine& low, const SmoothLine& high, Color color) {
  // A column for each pixel: no seams, whatever the shape.
  const float pixel = 1 / pen.scale();
  const double span = static_cast<double>(frame.points - 1);
  const int columns = static_cast<int>(frame.plot.w / pixel);
  for (int i = 0; i < columns; ++i) {
    const float x = frame.plot.x + pixel * static_cast<float>(i);
    const double at = span * (static_cast<double>(i) + 0.5) / columns;
    const float upper = frame.y(high.at(at));
    const float lower = frame.y(low.at(at));
    pen.fill_column({x, upper, pixel, lower - upper}, color);
  }
}

void draw_years(Pen& pen, const Frame& frame, const FanView& view) {
  const Theme& t = pen.theme;
  float widest = 0;
  for (const FanPoint& point : view.points) widest = std::max(widest, pen.width(Type::strong_16, point.label));
  const float apart = frame.plot.w / static_cast<float>(frame.points - 1);
  const auto stride = static_cast<std::size_t>(std::max(1.0F, std::ceil((widest + 10) / apart)));
  // The year asked for is always among those that are written.
  const std::size_t first = view.chosen % stride;
  for (std::size_t i = first; i < frame.points; i += stride) {
    pen.text(Type::strong_16, {frame.x(static_cast<double>(i)), frame.plot.bottom() + 24},
             i == view.chosen && i > 0 ? t.ink : t.ink2, view.points[i].label, Align::middle);
  }
}

void draw_ends(Pen& pen, const Frame& frame, const FanView& view) {
  const Theme& t = pen.theme;
  std::array<float, 5> ends{};
  // From the top down: the most first.
  for (std::size_t i = 0; i < 5; ++i) ends[i] = frame.y(view.points.back().counts[4 - i]);
  const std::array<float, 5> words = fan_end_words(ends, 20, frame.plot.y, frame.plot.bottom());
  const float x = frame.plot.right();
  for (std::size_t i = 0; i < 5; ++i) {
    const bool half = 4 - i == middle;
    const Color color = half ? t.leaf : t.ink2;
    pen.line({x + 2, ends[i]}, {x + 10, words[i]}, half ? t.leaf : t.edge, 2);
    const Type type = half ? Type::strong_16 : Type::body_15;
    pen.text(type, {x + 14, words[i] + pen.cap(type) / 2}, color, view.ends[4 - i]);
  }
}

Rect draw_target(Pen& pen, const Frame& frame, const FanView& view, bool narrow) {
  const Theme& t = pen.theme;
  const float y = frame.y(*view.target);
  pen.dashed_line({frame.plot.x, y}, {frame.plot.right(), y}, t.tunic, 3, 9, 5);
  const std::string& said = narrow ? view.target_short : view.target_words;
  const float high = narrow ? 30.0F : 36.0F;
  const Rect label{frame.plot.x + 8, std::clamp(y - high / 2, frame.plot.y - high / 2, frame.plot.bottom() - high - 2),
                   pen.width(Type::heading_18, said) + 14 + stake_depth(high) + 10, high};
  pen.label(label, Stake::right, t.tunic, t.tunic, 0, 4);
  pen.text_in({label.x + 12, label.y, label.w - 12 - stake_depth(high), label.h}, Type::heading_18, t.on_tunic, said);
  return label;
}

void draw_chosen(Pen& pen, const Frame& frame, const FanView& view, Rect taken) {
  const Theme& t = pen.theme;
  const Point at{frame.x(static_cast<double>(view.chosen)), frame.y(view.points[view.chosen].counts[middle])};
  pen.dashed_line({at.x, at.y + 8}, {at.x, frame.plot.bottom()}, t.tunic, 2.5F, 3, 4);
  const float wide = pen.width(Type::heading_20, view.chosen_words) + 18;
  Rect tag{at.x - wide - 8, at.y - 38, wide, 30};
  tag.x = std::max(frame.plot.x + 4, tag.x);
  tag.y = std::clamp(tag.y, frame.plot.y, frame.plot.bottom() - 34);
  // Out of the way of the label that says what is wanted.
  if (!intersection(tag, taken.inset(-4)).empty()) {
    const Rect above{tag.x, taken.y - tag.h - 6, tag.w, tag.h};
    tag = above.y >= frame.plot.y - 8 ? above : Rect{tag.x, taken.bottom() + 6, tag.w, tag.h};
  }
  pen.fill(tag, t.night ? t.leaf_bar : t.leaf, 4);
  pen.text_in(tag, Type::heading_20, t.on_leaf_bar, view.chosen_words, Align::middle);
}

}  // namespace

FanScale fan_scale(double most) {
  FanScale scale;
  const double enough = std::max(4.0, most);
  double ten = 1;
  for (;; ten *= 10) {
    for (const double factor : {1.0, 2.0, 2.5, 5.0}) {
      // Whole bulbs.
      if (factor == 2.5 && ten < 10) continue;
      if (std::floor(enough / (factor * ten)) > 5) continue;
      scale.step = factor * ten;
      scale.top = enough;
      return scale;
    }
  }
}

std::array<float, 5> fan_end_words(const std::array<float, 5>& ends, float apart, float top, float bottom) {
  std::array<float, 5> at = ends;
  at[0] = std::max(top, at[0]);
  for (std::size_t i = 1; i < at.size(); ++i) at[i] = std::max(at[i], at[i - 1] + apart);
  at.back() = std::min(bottom, at.back());
  for (std::size_t i = at.size() - 1; i > 0; --i) at[i - 1] = std::min(at[i - 1], at[i] - apart);
  return at;
}

void draw_fan(Pen& pen, Rect area, const FanView& view) {
  if (view.points.size() < 2) return;
  const Theme& t = pen.theme;
  double most = view.target.value_or(0);
  for (const FanPoint& point : view.points) most = std::max(most, point.counts.back());
  const FanScale scale = fan_scale(most * 1.02);
  float left = 0;
  for (int i = 0; i * scale.step <= scale.top; ++i)
    left = std::max(left, pen.width(Type::strong_16, grouped(static_cast<std::int64_t>(std::llround(i * scale.step)))));
  float right = 0;
  for (const std::string_view end : view.ends) right = std::max(right, pen.width(Type::strong_16, end));
  left += 12;
  right += 18;
  const bool narrow = area.w < 440;
  Frame frame{
      {area.x + left, area.y + 18, area.w - left - right, area.h - 18 - below_axis}, scale.top, view.points.size()};
  std::vector<SmoothLine> lines;
  for (std::size_t q = 0; q < 5; ++q) {
    std::vector<double> counts;
    for (const FanPoint& point : view.points) counts.push_back(point.counts[q]);
    lines.emplace_back(std::move(counts));
  }
  draw_scale(pen, frame, scale);
  draw_band(pen, frame, lines[0], lines[4], mix(t.sheet, t.leaf_fill, t.night ? 0.24F : 0.20F));
  draw_band(pen, frame, lines[1], lines[3], mix(t.sheet, t.leaf_fill, t.night ? 0.48F : 0.44F));
  pen.line({frame.plot.x, frame.plot.bottom()}, {frame.plot.right(), frame.plot.bottom()}, t.ink, 2);
  std::vector<Point> line;
  const int steps = std::max(2, static_cast<int>(frame.plot.w / 4));
  for (int i = 0; i <= steps; ++i) {
    const double where = static_cast<double>(frame.points - 1) * i / steps;
    line.push_back({frame.x(where), frame.y(lines[middle].at(where))});
  }
  pen.path(line, t.leaf, 3.5F);
  const bool drop = view.chosen > 0 && view.chosen < view.points.size();
  Rect taken;
  if (view.target) taken = draw_target(pen, frame, view, narrow);
  if (drop) draw_chosen(pen, frame, view, taken);
  for (std::size_t i = 0; i < frame.points; ++i) {
    const Point at{frame.x(static_cast<double>(i)), frame.y(view.points[i].counts[middle])};
    if (view.target && taken.inset(-4).contains(at)) continue;
    pen.disc(at, 4.5F, t.sheet);
    pen.ring(at, 5, t.leaf, 3);
  }
  draw_years(pen, frame, view);
  draw_ends(pen, frame, view);
}

}  // namespace motherbulb

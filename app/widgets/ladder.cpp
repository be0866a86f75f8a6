#include "app/widgets/ladder.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "app/widgets/smooth.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr float years = 34;
constexpr float roots = 8;
constexpr float least_column = 62;
constexpr float thinnest = 1.5F;

std::string count_words(double bulbs) {
  return grouped(static_cast<std::int64_t>(std::llround(std::min(bulbs, 1e12))));
}

struct Columns {
  Rect rungs;  // of all rungs, without names and years
  float name = 0, rung = 0;
  std::vector<std::size_t> shown;
  float wide = 0;    // of a column
  float number = 0;  // of the widest number
};

Columns columns_of(Pen& pen, Rect area, const LadderView& view) {
  Columns c;
  for (const LadderRung& rung : view.rungs) c.name = std::max(c.name, pen.width(Type::heading_18, rung.name));
  c.name += 16;
  for (const LadderSeason& season : view.seasons) {
    for (const double bulbs : season.bulbs)
      c.number = std::max(c.number, pen.width(Type::heading_18, count_words(bulbs)));
  }
  c.rungs = {area.x + c.name, area.y, area.w - c.name, area.h - years - roots};
  c.rung = c.rungs.h / static_cast<float>(view.rungs.size());
  c.shown = ladder_seasons(view.seasons.size(), c.rungs.w, std::max(least_column, c.number + 34));
  c.wide = c.rungs.w / static_cast<float>(c.shown.size());
  return c;
}

// From the top rung down.
std::vector<double> widths_down(const LadderSeason& season, double most, float most_half) {
  std::vector<double> halves;
  for (std::size_t i = season.bulbs.size(); i-- > 0;)
    halves.push_back(ladder_half_width(season.bulbs[i], most, most_half));
  return halves;
}

void draw_outline(Pen& pen, const Columns& c, float axis, const std::vector<double>& halves, std::size_t saleable) {
  const Theme& t = pen.theme;
  const Color body = mix(t.sheet, t.leaf_fill, 0.5F);
  const SmoothLine line(halves);
  const float pixel = 1 / pen.scale();
  const float cut = c.rungs.y + c.rung * static_cast<float>(saleable);
  const auto half_at = [&](float y) {
    float half = static_cast<float>(line.at(static_cast<double>((y - c.rungs.y) / c.rung) - 0.5));
    // Nose and plate are round.
    const float end = std::min({y - c.rungs.y, c.rungs.bottom() - y, half});
    const float reach = std::min(half, c.rung / 2);
    if (end < reach && reach > 0) {
      const float in = 1 - std::max(0.0F, end) / reach;
      half *= std::sqrt(std::max(0.0F, 1 - in * in));
    }
    return half;
  };
  std::vector<Point> left;
  std::vector<Point> right;
  const int rows = static_cast<int>(c.rungs.h / pixel);
  for (int i = 0; i <= rows; ++i) {
    const float y = c.rungs.y + pixel * static_cast<float>(i);
    const float half = half_at(y);
    if (i < rows) pen.fill_column({axis - half, y, 2 * half, pixel}, y < cut ? t.tunic : body);
    if (i % 3 == 0 || i == rows) {
      left.push_back({axis - half, y});
      right.push_back({axis + half, y});
    }
  }
  const auto edge = [&](const std::vector<Point>& side) {
    std::vector<Point> upper;
    std::vector<Point> lower;
    for (const Point p : side) (p.y < cut ? upper : lower).push_back(p);
    if (upper.size() > 1) pen.path(upper, t.tunic, 1.8F);
    if (lower.size() > 1) pen.path(lower, t.leaf, 1.8F);
  };
  edge(left);
  edge(right);
  for (int i = -2; i <= 2; ++i) {
    const float lean = static_cast<float>(i) * 2.6F;
    pen.line({axis + lean * 0.5F, c.rungs.bottom() - 1}, {axis + lean, c.rungs.bottom() + roots - 1}, t.leaf, 1.4F);
  }
}

}  // namespace

std::vector<std::size_t> ladder_seasons(std::size_t seasons, float width, float column) {
  const auto room = static_cast<std::size_t>(std::max(1.0F, std::floor(width / column)));
  const std::size_t stride = std::max<std::size_t>(1, (seasons + room - 1) / room);
  std::vector<std::size_t> shown;
  for (std::size_t i = 0; i < seasons; i += stride) shown.push_back(i);
  return shown;
}

float ladder_half_width(double bulbs, double most, float most_half) {
  if (!(most > 0)) return thinnest;
  return std::max(thinnest, most_half * static_cast<float>(std::clamp(bulbs / most, 0.0, 1.0)));
}

float ladder_height(const LadderView& view, float rung) {
  return rung * static_cast<float>(view.rungs.size()) + years + roots;
}

void draw_ladder(Pen& pen, Rect area, const LadderView& view) {
  if (view.rungs.empty() || view.seasons.empty()) return;
  const Theme& t = pen.theme;
  const Columns c = columns_of(pen, area, view);
  double most = 0;
  for (const std::size_t i : c.shown) {
    for (const double bulbs : view.seasons[i].bulbs) most = std::max(most, bulbs);
  }
  const auto saleable = static_cast<std::size_t>(
      std::count_if(view.rungs.begin(), view.rungs.end(), [](const LadderRung& rung) { return rung.saleable; }));
  for (std::size_t down = 0; down < view.rungs.size(); ++down) {
    const LadderRung& rung = view.rungs[view.rungs.size() - 1 - down];
    const float y = c.rungs.y + c.rung * static_cast<float>(down);
    if (down > 0 && down != saleable) pen.line({c.rungs.x, y}, {area.right(), y}, t.night ? t.ring : t.well, 1.5F);
    pen.text_in({area.x, y, c.name, c.rung}, Type::heading_18, rung.saleable ? t.tunic : t.ink, rung.name);
  }
  for (std::size_t at = 0; at < c.shown.size(); ++at) {
    const LadderSeason& season = view.seasons[c.shown[at]];
    const Rect column{c.rungs.x + c.wide * static_cast<float>(at), c.rungs.y, c.wide, c.rungs.h};
    const float room = column.w - c.number - 16;
    const float axis = column.x + 4 + room / 2;
    draw_outline(pen, c, axis, widths_down(season, most, room / 2), saleable);
    for (std::size_t down = 0; down < view.rungs.size(); ++down) {
      const std::size_t i = view.rungs.size() - 1 - down;
      pen.text_in({column.x, c.rungs.y + c.rung * static_cast<float>(down), column.w - 4, c.rung}, Type::heading_18,
                  view.rungs[i].saleable ? t.tunic : t.ink, count_words(season.bulbs[i]), Align::right);
    }
    pen.text(Type::strong_16, {axis, area.bottom() - 8}, t.ink2, season.label, Align::middle);
  }
  if (saleable > 0 && saleable < view.rungs.size()) {
    const float y = c.rungs.y + c.rung * static_cast<float>(saleable);
    pen.dashed_line({area.x, y}, {area.right(), y}, t.tunic, 2.5F, 8, 5);
  }
}

}  // namespace motherbulb

#include "app/widgets/mother.hpp"

#include <algorithm>
#include <cmath>

namespace motherbulb {
namespace {

constexpr float pi = 3.14159265F;
constexpr int most_wedges_drawn = 32;  // finer cuts than this run into each other

Point around(Point m, float radius, float angle) {
  return {m.x + radius * std::cos(angle), m.y + radius * std::sin(angle)};
}

}  // namespace

Icon icon_of(Cause cause) {
  switch (cause) {
    case Cause::rot:
      return Icon::rot;
    case Cause::pest:
      return Icon::mite;
    case Cause::disease:
      return Icon::blotch;
    case Cause::animal:
      return Icon::mouse;
    case Cause::frost:
      return Icon::frost;
    case Cause::dried_out:
      return Icon::dried;
    case Cause::unknown:
      return Icon::unknown;
  }
  return Icon::unknown;
}

void draw_mother(Pen& pen, Point m, float radius, const MotherView& view) {
  const Theme& t = pen.theme;
  const float skin = std::max(3.0F, radius * 0.085F);
  pen.disc(m, radius, t.sheet);
  const Color scale_line = mix(t.sheet, t.leaf_fill, 0.5F);
  for (const float share : {0.80F, 0.61F, 0.43F, 0.26F})
    pen.ring(m, radius * share, scale_line, radius > 40 ? 1.8F : 1.2F);

  const int wedges = std::min(view.wedges, most_wedges_drawn);
  if (wedges > 1) {
    const float turn = 2 * pi / static_cast<float>(wedges);
    // Dead ones from the lower left on, where a right hand does not cover them.
    const std::size_t dead =
        view.wedges > wedges
            ? (view.dead.size() * static_cast<std::size_t>(wedges) + static_cast<std::size_t>(view.wedges) - 1) /
                  static_cast<std::size_t>(view.wedges)
            : std::min(view.dead.size(), static_cast<std::size_t>(wedges));
    const float from = wedges % 2 == 0 ? pi / 2 : pi / 2 + turn / 2;
    const int first = wedges >= 8 ? wedges / 8 : 0;
    for (std::size_t i = 0; i < dead; ++i) {
      const float start = from + turn * static_cast<float>(static_cast<int>(i) + first);
      std::vector<Point> wedge{around(m, radius * 0.12F, start + turn / 2)};
      const int steps = std::max(4, static_cast<int>(turn * radius / 3));
      for (int s = 0; s <= steps; ++s)
        wedge.push_back(around(m, radius - skin, start + turn * static_cast<float>(s) / static_cast<float>(steps)));
      pen.fill_convex(wedge, t.error_ground);
      pen.hatch(wedge, t.copper_fill, 2.2F, 5.5F);
    }
  }
  pen.ring(m, radius - skin / 2, t.tunic, skin);
  if (wedges > 1) {
    const float turn = 2 * pi / static_cast<float>(wedges);
    const float from = wedges % 2 == 0 ? pi / 2 : pi / 2 + turn / 2;
    for (int i = 0; i < wedges; ++i) {
      const float angle = from + turn * static_cast<float>(i);
      const float reach = view.whole ? radius - skin : radius + 1;
      const bool gaps = !view.whole && wedges <= 16;
      if (gaps) pen.line(around(m, radius * 0.18F, angle), around(m, reach, angle), t.sheet, radius > 40 ? 6.0F : 3.0F);
      pen.line(m, around(m, reach, angle), t.tunic, radius > 40 && wedges <= 16 ? 2.4F : 1.4F);
    }
    // The icons last, on discs of paper, where a wedge is wide enough to carry one.
    const float icon = std::min(22.0F, radius * 0.32F);
    if (turn * radius * 0.62F > icon * 0.9F && view.wedges <= most_wedges_drawn) {
      const int first = wedges >= 8 ? wedges / 8 : 0;
      for (std::size_t i = 0; i < view.dead.size() && i < static_cast<std::size_t>(wedges); ++i) {
        const Point at =
            around(m, radius * 0.64F, from + turn * (static_cast<float>(static_cast<int>(i) + first) + 0.5F));
        pen.disc(at, icon * 0.68F, t.sheet);
        draw_icon(pen, icon_of(view.dead[i]), at, icon, t.copper);
      }
    }
  }
  pen.disc(m, std::max(3.0F, radius * 0.13F), t.leaf_fill);
}

namespace {

constexpr float target_share = 0.74F;  // of the radius, where a wedge is touched and says its number

// The first wedge stands at the top, the others follow with the clock.
float wedge_start(std::size_t wedge, std::size_t wedges) {
  const float turn = 2 * pi / static_cast<float>(wedges);
  return -pi / 2 - turn / 2 + turn * static_cast<float>(wedge);
}

}  // namespace

void draw_large_mother(Pen& pen, Point m, float radius, bool whole, const std::vector<WedgeView>& wedges) {
  const Theme& t = pen.theme;
  const float skin = std::max(5.0F, radius * 0.06F);
  const std::size_t count = std::max<std::size_t>(1, wedges.size());
  const float turn = 2 * pi / static_cast<float>(count);
  pen.disc(m, radius, t.sheet);
  const Color scale_line = mix(t.sheet, t.leaf_fill, 0.4F);
  for (const float share : {0.88F, 0.58F, 0.40F, 0.24F}) pen.ring(m, radius * share, scale_line, 1.8F);
  for (std::size_t i = 0; i < wedges.size(); ++i) {
    if (!wedges[i].dead && !wedges[i].chosen) continue;
    const float start = wedge_start(i, count);
    std::vector<Point> outline{around(m, radius * 0.1F, start + turn / 2)};
    const int steps = std::max(4, static_cast<int>(turn * radius / 3));
    for (int s = 0; s <= steps; ++s)
      outline.push_back(around(m, radius - skin, start + turn * static_cast<float>(s) / static_cast<float>(steps)));
    pen.fill_convex(outline, wedges[i].chosen ? t.straw : t.error_ground);
    if (wedges[i].dead && !wedges[i].chosen) pen.hatch(outline, t.copper_fill, 2.2F, 8);
  }
  pen.ring(m, radius - skin / 2, t.tunic, skin);
  for (std::size_t i = 0; i < count && count > 1; ++i) {
    const float angle = wedge_start(i, count);
    const float reach = whole ? radius - skin : radius + 1;
    if (!whole) pen.line(around(m, radius * 0.14F, angle), around(m, reach, angle), t.sheet, 7);
    pen.line(m, around(m, reach, angle), t.tunic, 2.4F);
  }
  pen.disc(m, radius * 0.09F, t.leaf_fill);
  for (std::size_t i = 0; i < wedges.size(); ++i) {
    const WedgeView& wedge = wedges[i];
    const Point at = around(m, radius * target_share, wedge_start(i, count) + turn / 2);
    const Color ink = wedge.chosen ? t.on_straw : t.ink;
    if (wedge.dead) {
      if (!wedge.chosen) pen.disc(at, 20, t.sheet);
      draw_icon(pen, icon_of(*wedge.dead), at, 28, wedge.chosen ? t.on_straw : t.copper);
      continue;
    }
    if (wedge.said.empty()) continue;
    if (wedge.together) {
      // Two bulbs that share a side.
      pen.ring({at.x - 7, at.y}, 9, ink, 2.4F);
      pen.ring({at.x + 7, at.y}, 9, ink, 2.4F);
      continue;
    }
    pen.text(Type::heading_28, {at.x, at.y + pen.cap(Type::heading_28) / 2}, ink, wedge.said, Align::middle);
  }
}

std::optional<Rect> wedge_target(Point m, float radius, std::size_t wedge, std::size_t wedges, float side) {
  if (wedges == 0) return std::nullopt;
  const float turn = 2 * pi / static_cast<float>(wedges);
  const Point at = around(m, radius * target_share, wedge_start(wedge, wedges) + turn / 2);
  if (wedges > 1) {
    // Neighbours on a slant are nearest along one axis: squares are apart where either distance is large enough.
    for (std::size_t i = 0; i < wedges; ++i) {
      const Point a = around(m, radius * target_share, wedge_start(i, wedges) + turn / 2);
      const Point b = around(m, radius * target_share, wedge_start(i + 1, wedges) + turn / 2);
      if (std::max(std::abs(a.x - b.x), std::abs(a.y - b.y)) < side + 8) return std::nullopt;
    }
  }
  return Rect{at.x - side / 2, at.y - side / 2, side, side};
}

}  // namespace motherbulb

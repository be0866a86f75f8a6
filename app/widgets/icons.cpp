#include "app/widgets/icons.hpp"

#include <algorithm>
#include <cmath>

#include "app/widgets/icon_box.hpp"

namespace motherbulb {
namespace {

constexpr float pi = 3.14159265F;

void draw_tools(const IconBox& b, Icon icon) {
  switch (icon) {
    case Icon::start:
      b.open({{3, 10}, {12, 3}, {21, 10}});
      b.open({{5, 9}, {5, 21}, {19, 21}, {19, 9}});
      b.open({{5, 14}, {19, 14}});
      b.open({{12, 7}, {12, 21}});
      break;
    case Icon::unpot:
      b.closed({{8, 3}, {16, 3}, {19, 11}, {5, 11}});
      b.ring(12, 18, 3.4F);
      b.open({{4, 15}, {4, 21}});
      b.open({{20, 15}, {20, 21}});
      break;
    case Icon::pots:
      b.closed({{6, 10}, {18, 10}, {16, 21}, {8, 21}});
      b.open({{4, 7}, {20, 7}});
      b.bend({12, 7}, {{12, 3.5F}, {10, 2.5F}, {6.5F, 2.5F}});
      break;
    case Icon::due:
      b.closed({{6, 3}, {18, 3}, {18, 16}, {12, 21.5F}, {6, 16}});
      b.open({{9.5F, 8}, {14.5F, 8}});
      b.open({{9.5F, 12}, {14.5F, 12}});
      break;
    case Icon::merge:
      b.bend({4, 3}, {{4, 9}, {12, 8}, {12, 15}});
      b.bend({20, 3}, {{20, 9}, {12, 8}, {12, 15}});
      b.open({{12, 13}, {12, 21}});
      b.open({{8.5F, 17.5F}, {12, 21}, {15.5F, 17.5F}});
      break;
    case Icon::outlook:
      b.open({{3, 20}, {18, 4}});
      b.open({{3, 20}, {21, 11}});
      b.open({{3, 20}, {21, 18}});
      break;
    case Icon::clones:
      b.dot(12, 4.5F, 2.8F);
      b.open({{12, 4}, {12, 13}});
      b.open({{4.5F, 18}, {4.5F, 13}, {19.5F, 13}, {19.5F, 18}});
      b.open({{12, 13}, {12, 18}});
      b.dot(4.5F, 19, 2.6F);
      b.dot(12, 19, 2.6F);
      b.dot(19.5F, 19, 2.6F);
      break;
    case Icon::cutting:
      b.ring(12, 12, 9);
      b.ring(12, 12, 4);
      b.open({{12, 1.5F}, {12, 22.5F}});
      b.open({{1.5F, 12}, {22.5F, 12}});
      break;
    case Icon::blade:
      b.closed({{13, 9}, {18.5F, 3}, {21, 5.5F}, {15.5F, 11.5F}});
      b.open({{13.5F, 9.5F}, {4, 18.5F}, {4, 20.5F}, {6, 20.5F}, {15, 11}});
      break;
    case Icon::label:
      b.closed({{3, 7}, {15, 7}, {21, 12}, {15, 17}, {3, 17}});
      b.dot(7.5F, 12, 1.6F);
      break;
    case Icon::hold:
      b.closed({{12, 2.5F}, {21.5F, 12}, {12, 21.5F}, {2.5F, 12}});
      b.open({{8, 12}, {16, 12}});
      break;
    case Icon::bench:
      b.open({{2.5F, 6}, {21.5F, 6}});
      b.open({{2.5F, 10.5F}, {21.5F, 10.5F}});
      b.open({{5.5F, 10.5F}, {5.5F, 21}});
      b.open({{18.5F, 10.5F}, {18.5F, 21}});
      break;
    case Icon::note:
      b.closed({{4, 4}, {20, 4}, {20, 14}, {14, 20}, {4, 20}});
      b.open({{8, 9}, {16, 9}});
      b.open({{8, 13.5F}, {12, 13.5F}});
      break;
    case Icon::clock:
      b.ring(12, 12, 9);
      b.open({{12, 7}, {12, 12.5F}, {16, 14.5F}});
      break;
    case Icon::undo:
      b.bend({5, 9}, {{12, 9}, {19.5F, 8}, {19.5F, 13.5F}});
      b.bend({19.5F, 13.5F}, {{19.5F, 18}, {15, 18}, {10, 18}});
      b.open({{9, 4.5F}, {4.5F, 9}, {9, 13.5F}});
      break;
    case Icon::back:
      b.open({{15, 4}, {7.5F, 12}, {15, 20}});
      break;
    case Icon::next:
      b.open({{9, 4}, {16.5F, 12}, {9, 20}});
      break;
    case Icon::tick:
      b.open({{4, 13}, {9.5F, 19}, {20, 5}});
      break;
    case Icon::plus:
      b.open({{12, 3}, {12, 21}});
      b.open({{3, 12}, {21, 12}});
      break;
    case Icon::minus:
      b.open({{3, 12}, {21, 12}});
      break;
    case Icon::moon:
      b.arc(12, 12, 9, 60, 300);
      b.bend({16.5F, 4.2F}, {{11, 9}, {12, 17}, {21, 14.5F}});
      b.bend({16.5F, 19.8F}, {{19, 18.5F}, {20.3F, 17}, {21, 14.5F}});
      break;
    case Icon::sun:
      b.ring(12, 12, 4.6F);
      for (int i = 0; i < 8; ++i) {
        const float angle = static_cast<float>(i) * pi / 4;
        b.open({{12 + 8 * std::cos(angle), 12 + 8 * std::sin(angle)},
                {12 + 11 * std::cos(angle), 12 + 11 * std::sin(angle)}});
      }
      break;
    case Icon::settle:
      b.ring(8.5F, 12, 6.8F);
      b.ring(15.5F, 12, 6.8F);
      break;
    case Icon::broken_ring:
      b.pen.dashed_ring(b.at(12, 12), 9 * b.unit, b.color, b.stroke, 8);
      break;
    case Icon::warning:
      b.pen.fill_convex(b.all({{12, 2.5F}, {22.5F, 21}, {1.5F, 21}}), b.color);
      break;
    case Icon::stick:
      b.closed({{3, 8}, {15, 8}, {15, 16}, {3, 16}});
      b.open({{15, 9.5F}, {21, 9.5F}, {21, 14.5F}, {15, 14.5F}});
      break;
    case Icon::bulb:
      b.pen.path(bulb_outline(b.at(12, 12), 20 * b.unit), b.color, b.stroke, true);
      break;
    case Icon::codes:
      for (const Point corner : {Point{3, 3}, Point{14, 3}, Point{3, 14}}) {
        const float x = corner.x, y = corner.y;
        b.closed({{x, y}, {x + 7, y}, {x + 7, y + 7}, {x, y + 7}});
      }
      for (const Point dark :
           {Point{15, 15}, Point{20.5F, 15}, Point{17.7F, 17.8F}, Point{15, 20.5F}, Point{20.5F, 20.5F}})
        b.dot(dark.x, dark.y, 1.5F);
      break;
    case Icon::find:
      b.ring(10, 10, 6.8F);
      b.open({{15, 15}, {21, 21}});
      break;
    default:
      break;
  }
}

void draw_troubles(const IconBox& b, Icon icon) {
  switch (icon) {
    case Icon::mite:
      b.pen.path(
          [&] {
            std::vector<Point> oval;
            for (int i = 0; i < 24; ++i) {
              const float angle = static_cast<float>(i) * pi / 12;
              oval.push_back(b.at(12 + 6.4F * std::cos(angle), 12.5F + 5.6F * std::sin(angle)));
            }
            return oval;
          }(),
          b.color, b.stroke, true);
      for (const float side : {-1.0F, 1.0F}) {
        b.open({{12 + side * 6, 10.5F}, {12 + side * 10.5F, 8}});
        b.open({{12 + side * 6.4F, 13}, {12 + side * 11, 13}});
        b.open({{12 + side * 5.8F, 15.5F}, {12 + side * 10.5F, 18}});
        b.open({{12 + side * 3, 8}, {12 + side * 4.5F, 4.5F}});
      }
      break;
    case Icon::thrips:
      b.open({{3.5F, 20.5F}, {20.5F, 3.5F}});
      for (const float along : {7.0F, 11.0F, 15.0F, 18.5F}) {
        b.open({{along - 3, 24 - along - 3}, {along + 3, 24 - along + 3}});
      }
      break;
    case Icon::fly:
      b.bend({12, 10}, {{7, 1}, {1.5F, 4}, {3, 9}});
      b.bend({3, 9}, {{4, 13}, {9, 13}, {12, 10}});
      b.bend({12, 10}, {{17, 1}, {22.5F, 4}, {21, 9}});
      b.bend({21, 9}, {{20, 13}, {15, 13}, {12, 10}});
      b.open({{12, 8}, {12, 21}});
      break;
    case Icon::slug:
      b.bend({2.5F, 19.5F}, {{8, 19}, {7, 12}, {13, 12.5F}});
      b.bend({13, 12.5F}, {{17, 13}, {16, 9}, {19, 9}});
      b.bend({19, 9}, {{22, 9.5F}, {21, 19.5F}, {16, 19.5F}});
      b.open({{2.5F, 19.5F}, {16.5F, 19.5F}});
      b.open({{18, 9}, {17, 4.5F}});
      b.open({{20.3F, 9.5F}, {22, 5}});
      break;
    case Icon::mouse:
      b.bend({5, 18}, {{5, 11}, {10, 8}, {15, 10}});
      b.bend({15, 10}, {{18, 11}, {20, 13.5F}, {21.5F, 16}});
      b.bend({21.5F, 16}, {{21, 18.5F}, {18, 19}, {15, 19}});
      b.open({{15.5F, 19}, {6, 19}});
      b.ring(14, 8, 2.8F);
      b.bend({5, 18}, {{2.5F, 16.5F}, {2, 12}, {2.5F, 9}});
      b.dot(17.8F, 14.2F, 1.2F);
      break;
    case Icon::rot:
      b.arc(12, 12.5F, 9, 35, 320);
      b.bend({19.4F, 17.6F}, {{16, 17}, {15, 13.5F}, {17.5F, 12.5F}});
      b.bend({17.5F, 12.5F}, {{15.5F, 10.5F}, {16.5F, 7.5F}, {18.9F, 6.7F}});
      b.dot(8, 10, 1.7F);
      b.dot(12.3F, 8.3F, 1.3F);
      b.dot(9, 15.5F, 1.4F);
      b.dot(13, 14, 1.7F);
      break;
    case Icon::blotch:
      b.bend({9, 22}, {{4, 14}, {6, 6}, {10, 2}});
      b.bend({10, 2}, {{15, 7}, {15, 15}, {9, 22}});
      b.dot(10, 8.5F, 1.5F);
      b.dot(9, 12.5F, 1.3F);
      b.dot(11, 15.5F, 1.5F);
      b.dot(19, 7, 1.5F);
      break;
    case Icon::drop:
      b.bend({12, 2.5F}, {{14.5F, 7}, {19, 11}, {19, 15.5F}});
      b.arc(12, 15.5F, 7, 0, 180);
      b.bend({5, 15.5F}, {{5, 11}, {9.5F, 7}, {12, 2.5F}});
      break;
    case Icon::frost:
      for (int i = 0; i < 3; ++i) {
        const float angle = static_cast<float>(i) * pi / 3 + pi / 2;
        b.open({{12 - 10 * std::cos(angle), 12 - 10 * std::sin(angle)},
                {12 + 10 * std::cos(angle), 12 + 10 * std::sin(angle)}});
      }
      b.open({{9, 4}, {12, 7}, {15, 4}});
      b.open({{9, 20}, {12, 17}, {15, 20}});
      break;
    case Icon::dried:
      b.bend({12, 2.5F}, {{14.5F, 7}, {19, 11}, {19, 15.5F}});
      b.arc(12, 15.5F, 7, 0, 180);
      b.bend({5, 15.5F}, {{5, 11}, {9.5F, 7}, {12, 2.5F}});
      b.open({{3, 4}, {21, 22}});
      break;
    case Icon::wool:
      b.ring(12, 12.5F, 4.6F);
      for (int i = 0; i < 9; ++i) {
        const float angle = static_cast<float>(i) * 2 * pi / 9 + 0.2F;
        b.open({{12 + 6.6F * std::cos(angle), 12.5F + 6.6F * std::sin(angle)},
                {12 + 10.2F * std::cos(angle + 0.16F), 12.5F + 10.2F * std::sin(angle + 0.16F)}});
      }
      break;
    case Icon::worm:
      b.bend({2.5F, 17}, {{5.5F, 4}, {9, 6}, {11, 12}});
      b.bend({11, 12}, {{13, 19}, {17, 20}, {21.5F, 7}});
      break;
    case Icon::aphid:
      b.bend({12, 6}, {{19, 7}, {20, 20}, {12, 20.5F}});
      b.bend({12, 20.5F}, {{4, 20}, {5, 7}, {12, 6}});
      b.open({{10.5F, 6.5F}, {6.5F, 2}});
      b.open({{13.5F, 6.5F}, {17.5F, 2}});
      b.open({{6.4F, 11}, {2.5F, 9}});
      b.open({{17.6F, 11}, {21.5F, 9}});
      b.open({{6.2F, 16}, {2.5F, 18.5F}});
      b.open({{17.8F, 16}, {21.5F, 18.5F}});
      break;
    case Icon::grub:
      b.arc(12.5F, 12.5F, 8.6F, 60, 300);
      b.arc(12.5F, 12.5F, 3.4F, 60, 300);
      b.bend({16.8F, 5.1F}, {{20.5F, 7.5F}, {18, 11.5F}, {14.2F, 9.6F}});
      b.open({{16.8F, 19.9F}, {14.2F, 15.5F}});
      b.open({{4.2F, 10.6F}, {8.9F, 11.6F}});
      b.open({{6.6F, 18.7F}, {9.9F, 15.2F}});
      break;
    case Icon::squirrel:
      b.bend({8, 21}, {{1, 19}, {1, 3}, {7, 3}});
      b.bend({7, 3}, {{12, 3}, {10, 9}, {8, 10}});
      b.bend({8, 21}, {{7, 13}, {12, 11}, {15, 11}});
      b.bend({15, 11}, {{14, 5}, {21.5F, 5.5F}, {21, 10}});
      b.bend({21, 10}, {{20.5F, 12.5F}, {17, 12}, {17, 15}});
      b.bend({17, 15}, {{17.5F, 18}, {16.5F, 21}, {15, 21}});
      b.open({{8, 21}, {17.5F, 21}});
      b.dot(18, 9, 1.1F);
      break;
    case Icon::mosaic:
      b.bend({9, 22}, {{4, 14}, {6, 6}, {12, 2}});
      b.bend({12, 2}, {{18, 7}, {17, 15}, {9, 22}});
      b.open({{8, 9.5F}, {11.5F, 8}, {12.5F, 12}, {9, 13}});
      b.open({{14.5F, 10}, {13, 15}});
      b.open({{9, 17}, {11.5F, 16}});
      break;
    case Icon::rings:
      b.bend({9, 22}, {{4, 14}, {6, 6}, {12, 2}});
      b.bend({12, 2}, {{18, 7}, {17, 15}, {9, 22}});
      b.ring(11.4F, 8.8F, 2);
      b.ring(10.2F, 15, 2);
      b.dot(19.5F, 18, 1.3F);
      break;
    case Icon::mould:
      b.open({{3, 20.5F}, {21, 20.5F}});
      b.open({{7, 20}, {6, 12}});
      b.open({{12, 20}, {12, 9}});
      b.open({{17, 20}, {18, 12}});
      b.dot(6, 9.5F, 2.3F);
      b.dot(12, 5.5F, 2.6F);
      b.dot(18, 9.5F, 2.3F);
      break;
    case Icon::unknown:
      b.bend({7.5F, 8.5F}, {{7.5F, 1.5F}, {17, 1.5F}, {17, 8}});
      b.bend({17, 8}, {{17, 12}, {12, 11.5F}, {12, 16}});
      b.dot(12, 20.5F, 1.7F);
      break;
    default:
      break;
  }
}

void stake(Pen& pen, Point middle, float w, float h, Color fill, Color outline, float thickness) {
  const float depth = w * 0.42F;
  const std::vector<Point> shape{{middle.x - w / 2, middle.y - h / 2},
                                 {middle.x + w / 2, middle.y - h / 2},
                                 {middle.x + w / 2, middle.y + h / 2 - depth},
                                 {middle.x, middle.y + h / 2},
                                 {middle.x - w / 2, middle.y + h / 2 - depth}};
  pen.fill_convex(shape, fill);
  if (thickness > 0) pen.path(shape, outline, thickness, true);
}

}  // namespace

void draw_icon(Pen& pen, Icon icon, Point middle, float size, Color color) {
  const IconBox box = icon_box(pen, middle, size, color);
  draw_tools(box, icon);
  draw_troubles(box, icon);
}

std::vector<Point> bulb_outline(Point m, float h) {
  const float top = m.y - h / 2;
  const float r = h * 0.37F;
  const float low = m.y + h / 2;
  const float neck = h * 0.1F;
  std::vector<Point> outline = curve({m.x - neck, top}, {{m.x - neck, top + h * 0.22F},
                                                         {m.x - r, top + h * 0.3F},
                                                         {m.x - r, low - r},
                                                         {m.x - r, low - r * 0.4F},
                                                         {m.x - r * 0.5F, low},
                                                         {m.x, low},
                                                         {m.x + r * 0.5F, low},
                                                         {m.x + r, low - r * 0.4F},
                                                         {m.x + r, low - r},
                                                         {m.x + r, top + h * 0.3F},
                                                         {m.x + neck, top + h * 0.22F},
                                                         {m.x + neck, top}});
  return outline;
}

Color mark_color(const Theme& t, Mark mark) {
  switch (mark) {
    case Mark::growing:
    case Mark::forming:
    case Mark::started:
      return t.leaf;
    case Mark::overdue:
    case Mark::drying_off:
      return t.copper;
    case Mark::resting:
      return t.slate;
    case Mark::on_hold:
      return t.tunic;
    case Mark::due:
      return t.ink;
    case Mark::lost:
      return t.ink2;
    case Mark::to_settle:
      return t.ink;
  }
  return t.ink;
}

void draw_mark(Pen& pen, Mark mark, Point m, float size) {
  const Theme& t = pen.theme;
  const float u = size / 28;
  const auto leaf_bulb = [&](Color color) {
    pen.fill_outline(bulb_outline({m.x, m.y + 6 * u}, 16 * u), color);
    pen.disc({m.x, m.y + 8 * u}, 6.0F * u, color);
  };
  switch (mark) {
    case Mark::due:
      stake(pen, m, 17 * u, 25 * u, t.straw, t.night ? t.straw : t.ink, t.night ? 0 : 2);
      break;
    case Mark::overdue:
      stake(pen, {m.x + 6 * u, m.y + 1 * u}, 13 * u, 23 * u, t.copper_fill, t.sheet, 0);
      stake(pen, {m.x - 7 * u, m.y - 1 * u}, 13 * u, 25 * u, t.copper_fill, t.sheet, 0);
      break;
    case Mark::growing:
      leaf_bulb(t.leaf_fill);
      pen.path(
          curve({m.x, m.y}, {{m.x - 1 * u, m.y - 6 * u}, {m.x - 2 * u, m.y - 12 * u}, {m.x - 8 * u, m.y - 12 * u}}),
          t.leaf_fill, 2.6F * u);
      pen.path(
          curve({m.x, m.y}, {{m.x + 1 * u, m.y - 6 * u}, {m.x + 2 * u, m.y - 12 * u}, {m.x + 7 * u, m.y - 14 * u}}),
          t.leaf_fill, 2.6F * u);
      break;
    case Mark::drying_off:
      leaf_bulb(t.copper_fill);
      pen.path(
          curve({m.x, m.y}, {{m.x - 2 * u, m.y - 16 * u}, {m.x + 10 * u, m.y - 16 * u}, {m.x + 10 * u, m.y - 3 * u}}),
          t.copper_fill, 2.6F * u);
      break;
    case Mark::resting:
      pen.fill_outline(bulb_outline({m.x, m.y - 1 * u}, 22 * u), t.slate_fill);
      pen.line({m.x - 11 * u, m.y + 12.5F * u}, {m.x + 11 * u, m.y + 12.5F * u}, t.slate, 2.4F * u);
      break;
    case Mark::forming:
      pen.ring({m.x, m.y}, 10.5F * u, t.leaf_fill, 2.4F * u);
      for (int i = 0; i < 3; ++i) {
        const float angle = static_cast<float>(i) * pi / 3;
        const Point d{10.5F * u * std::cos(angle), 10.5F * u * std::sin(angle)};
        pen.line(m - d, m + d, t.leaf_fill, 2 * u);
      }
      break;
    case Mark::started:
      leaf_bulb(t.leaf_fill);
      pen.fill_convex({{m.x - 6 * u, m.y - 3 * u}, {m.x, m.y - 14 * u}, {m.x + 6 * u, m.y - 3 * u}}, t.leaf_fill);
      break;
    case Mark::on_hold:
      pen.fill_convex({{m.x, m.y - 14 * u}, {m.x + 14 * u, m.y}, {m.x, m.y + 14 * u}, {m.x - 14 * u, m.y}}, t.tunic);
      pen.line({m.x - 6 * u, m.y}, {m.x + 6 * u, m.y}, t.on_tunic, 3 * u);
      break;
    case Mark::lost:
      pen.dashed_ring(m, 12 * u, t.ink2, 2.2F * u, 8);
      break;
    case Mark::to_settle:
      pen.ring({m.x - 5.5F * u, m.y}, 9 * u, t.ink, 2.2F * u);
      pen.ring({m.x + 5.5F * u, m.y}, 9 * u, t.ink, 2.2F * u);
      break;
  }
}

}  // namespace motherbulb

#include "app/widgets/fact_icon.hpp"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <optional>

#include "app/widgets/icon_box.hpp"
#include "app/widgets/icons.hpp"

namespace motherbulb {
namespace {

struct Strokes : IconBox {
  void pot(float top) const { closed({{7, top}, {17, top}, {15.5F, 21}, {8.5F, 21}}); }
  void bulb(float x, float y, float r) const {
    ring(x, y, r);
    open({{x, y - r}, {x, y - r - 3}});
  }
};

// Those of the icons that mean the same.
std::optional<Icon> shared_icon(Kind kind) {
  switch (kind) {
    case Kind::begun:
      return Icon::cutting;
    case Kind::potted:
      return Icon::pots;
    case Kind::watered:
      return Icon::drop;
    case Kind::lost:
      return Icon::broken_ring;
    case Kind::damage:
      return Icon::warning;
    case Kind::unpotted:
      return Icon::unpot;
    case Kind::held:
      return Icon::hold;
    case Kind::combined:
      return Icon::merge;
    case Kind::note:
      return Icon::note;
    case Kind::hours:
    case Kind::clock_measured:
      return Icon::clock;
    case Kind::postponed:
      return Icon::due;
    case Kind::plan_edited:
      return Icon::outlook;
    case Kind::bench_laid_out:
      return Icon::bench;
    case Kind::clone_renamed:
      return Icon::clones;
    case Kind::device_named:
      return Icon::label;
    case Kind::correction:
      return Icon::undo;
    case Kind::settlement:
      return Icon::settle;
    default:
      return std::nullopt;
  }
}

void draw_own(const Strokes& s, Kind kind) {
  switch (kind) {
    case Kind::covered:
      s.pot(14);
      s.arc(12, 13, 9, 180, 360);
      s.open({{3, 13}, {3, 16}});
      s.open({{21, 13}, {21, 16}});
      break;
    case Kind::uncovered:
      s.pot(16);
      s.arc(12, 11, 8, 200, 340);
      s.open({{12, 14}, {12, 6.5F}});
      s.open({{9, 9}, {12, 6}, {15, 9}});
      break;
    case Kind::looked:
      s.bend({2.5F, 12}, {{7, 5}, {17, 5}, {21.5F, 12}});
      s.bend({2.5F, 12}, {{7, 19}, {17, 19}, {21.5F, 12}});
      s.ring(12, 12, 3.2F);
      break;
    case Kind::fed:
      s.pot(12);
      s.dot(8, 7.5F, 1.7F);
      s.dot(12, 4, 1.7F);
      s.dot(16, 7.5F, 1.7F);
      break;
    case Kind::treated:
    case Kind::treatment:
      s.closed({{5, 11}, {13, 11}, {13, 21}, {5, 21}});
      s.open({{9, 11}, {9, 6}, {14, 6}});
      s.open({{6, 6}, {9, 6}});
      s.dot(17, 6, 1.3F);
      s.dot(20.5F, 3.5F, 1.3F);
      s.dot(20.5F, 8.5F, 1.3F);
      break;
    case Kind::moved:
      s.open({{3, 20}, {21, 20}});
      s.closed({{4, 11}, {10, 11}, {9, 17}, {5, 17}});
      s.bend({7, 7}, {{9, 2}, {16, 2}, {18, 9}});
      s.open({{14.5F, 8}, {18, 11}, {20.5F, 7}});
      break;
    case Kind::graded:
      s.ring(12, 9, 5.5F);
      s.open({{4, 20}, {20, 20}});
      s.open({{6.5F, 20}, {6.5F, 16.5F}});
      s.open({{12, 20}, {12, 17}});
      s.open({{17.5F, 20}, {17.5F, 16.5F}});
      break;
    case Kind::divided:
      s.bulb(6.5F, 15, 4);
      s.bulb(17.5F, 15, 4);
      s.open({{12, 4}, {12, 8}});
      s.open({{12, 11}, {12, 15}});
      s.open({{12, 18}, {12, 22}});
      break;
    case Kind::dried_off:
      s.ring(12, 17, 4);
      s.bend({12, 13}, {{12, 6}, {16, 5}, {19.5F, 10}});
      s.open({{16.5F, 10}, {19.5F, 10.5F}, {20.5F, 7}});
      s.bend({12, 13}, {{11, 9}, {9, 7}, {5, 7}});
      break;
    case Kind::started:
      s.ring(12, 16.5F, 4.5F);
      s.open({{9.5F, 9.5F}, {12, 3}, {14.5F, 9.5F}});
      s.open({{12, 3}, {12, 12}});
      break;
    case Kind::repotted:
      s.pot(13);
      s.bulb(12, 7.5F, 3);
      s.open({{3.5F, 12}, {3.5F, 19}});
      s.open({{1.5F, 16.5F}, {3.5F, 19}, {5.5F, 16.5F}});
      break;
    case Kind::flowered:
      s.ring(12, 10, 2.2F);
      for (const float turn : {-90.0F, -18.0F, 54.0F, 126.0F, 198.0F}) {
        const float x = 12 + 5.4F * std::cos(turn * IconBox::radians);
        const float y = 10 + 5.4F * std::sin(turn * IconBox::radians);
        s.ring(x, y, 2.5F);
      }
      s.open({{12, 17}, {12, 22}});
      break;
    case Kind::sold:
    case Kind::money:
      s.ring(12, 12, 9);
      s.open({{8, 9.5F}, {16, 9.5F}});
      s.open({{8, 14.5F}, {16, 14.5F}});
      break;
    case Kind::given:
      s.closed({{4, 9}, {20, 9}, {20, 20}, {4, 20}});
      s.open({{12, 9}, {12, 20}});
      s.bend({12, 9}, {{7, 3}, {4, 6}, {12, 9}});
      s.bend({12, 9}, {{17, 3}, {20, 6}, {12, 9}});
      break;
    case Kind::discarded:
      s.open({{4, 13}, {6, 21}, {18, 21}, {20, 13}});
      s.open({{12, 3}, {12, 15}});
      s.open({{8.5F, 11.5F}, {12, 15}, {15.5F, 11.5F}});
      break;
    case Kind::tested:
      s.open({{7, 3}, {17, 3}});
      s.open({{9, 3}, {9, 17}});
      s.open({{15, 3}, {15, 17}});
      s.arc(12, 17, 3, 0, 180);
      s.open({{9, 12}, {15, 12}});
      break;
    case Kind::cleared:
      s.closed({{12, 2.5F}, {21.5F, 12}, {12, 21.5F}, {2.5F, 12}});
      s.open({{8, 12}, {11, 15}, {16, 9}});
      break;
    case Kind::grade_bounds:
      s.ring(12, 12, 9);
      s.ring(12, 12, 5.5F);
      s.ring(12, 12, 2);
      break;
    default:
      s.ring(12, 12, 8);
      s.open({{12, 8}, {12, 16}});
      s.open({{8, 12}, {16, 12}});
      break;
  }
}

}  // namespace

void draw_fact_icon(Pen& pen, std::uint16_t kind, Point middle, float size, Color color) {
  const auto known = static_cast<Kind>(kind);
  if (const auto icon = shared_icon(known)) return draw_icon(pen, *icon, middle, size, color);
  Strokes strokes{icon_box(pen, middle, size, color)};
  strokes.stroke = std::max(1.6F, 2.4F * strokes.unit);  // on a tile its lines grow with it
  draw_own(strokes, known);
}

}  // namespace motherbulb

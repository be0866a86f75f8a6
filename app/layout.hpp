// How a screen is laid out on a window of a given size: phone, portrait or landscape, and where its parts go.
#pragma once

#include <algorithm>

#include "app/geometry.hpp"

namespace motherbulb {

enum class Shape { phone, portrait, landscape };

struct Layout {
  Shape shape = Shape::portrait;
  Rect window;
  Rect bar;      // rail at the left or bar at the bottom
  Rect page;     // what is left of the window
  Rect head;     // title, second line, what is kept
  Rect content;  // below the head, inside the margins
  float margin = 32;
  bool left_hand = false;

  [[nodiscard]] bool phone() const { return shape == Shape::phone; }
  [[nodiscard]] bool portrait() const { return shape == Shape::portrait; }
  [[nodiscard]] bool landscape() const { return shape == Shape::landscape; }

  // Splits an area beside each other: what is read, and what the working hand taps.
  struct Columns {
    Rect reading, acting;
  };
  [[nodiscard]] Columns columns(Rect area, float reading_share, float gap = 28) const {
    Columns split;
    const float reading = area.w * reading_share - gap / 2;
    split.reading = left_hand ? area.take_right(reading, gap) : area.take_left(reading, gap);
    split.acting = area;
    return split;
  }
};

// The smallest window, in dp, in which every screen is whole. Larger text takes no more than what is left beyond it.
inline constexpr float narrowest_dp = 340, lowest_dp = 560;

struct LayoutWish {
  bool job = false;        // a screen for one job at the bench; on a phone its margins are narrow
  bool keep_bar = true;    // false where the main act takes the bottom bar's place (the rail always stays)
  bool left_hand = false;  // the rail and the acts on the left hand's side
};

[[nodiscard]] inline Layout make_layout(float width, float height, const LayoutWish& wish) {
  Layout l;
  const auto& [job, keep_bar, left_hand] = wish;
  l.left_hand = left_hand;
  l.window = {0, 0, width, height};
  l.page = l.window;
  // A low window that is not wide is read like a phone: it scrolls.
  if (width < 600 || (height < 760 && width < 1000)) {
    l.shape = Shape::phone;
    l.margin = job ? 12 : 16;
    l.bar = {0, height - 68, width, 68};
  } else if (width >= 1000 && width > height) {
    l.shape = Shape::landscape;
    l.margin = 36;
    l.bar = {left_hand ? width - 108 : 0, 0, 108, height};
  } else {
    l.shape = Shape::portrait;
    l.margin = 32;
    l.bar = {0, height - 80, width, 80};
  }
  if (l.shape == Shape::landscape) {
    left_hand ? l.page.take_right(l.bar.w) : l.page.take_left(l.bar.w);
    // Beyond 1440 the page stays as wide and stands in the middle.
    const float most = 1440 - l.bar.w;
    if (l.page.w > most) l.page = {l.page.x + (l.page.w - most) / 2, l.page.y, most, l.page.h};
  } else if (keep_bar) {
    l.page.take_bottom(l.bar.h);
  } else {
    l.bar = {};
  }
  Rect rest = l.page.inset(l.margin, 0);
  const float head = l.shape == Shape::phone ? 76.0F : l.shape == Shape::portrait ? 104.0F : 96.0F;
  l.head = rest.take_top(head);
  const float below = l.shape == Shape::phone ? 12.0F : l.shape == Shape::portrait ? 20.0F : 28.0F;
  rest.h = std::max(0.0F, rest.h - below);
  l.content = rest;
  return l;
}

}  // namespace motherbulb

// The rail (landscape) or bottom bar: five places, each daily job one tap away, on every screen; and a screen's head.
#pragma once

#include <array>
#include <optional>
#include <string_view>

#include "app/layout.hpp"
#include "app/pen.hpp"

namespace motherbulb {

enum class Place { start, unpot, pots, due, merge };

struct BarState {
  Place chosen = Place::start;
  // What waits, shown on straw; 0 shows nothing. Start has none.
  std::array<int, 5> counts{};
};

struct BarAnswer {
  std::optional<Place> go;
  bool change_theme = false;
};

// The theme key is in the rail only; elsewhere a screen's head has it.
BarAnswer draw_bar(Pen& pen, const Layout& layout, const BarState& state);

struct Head {
  std::string_view title;
  std::string_view second;
  bool back = false;        // a key that leads back
  bool clone_name = false;  // the title is a clone's name
  float right_room = 0;     // kept free at the right for what is kept
  std::string_view by;      // who and when; then the words of the head are a control, "who"
  bool by_straw = false;    // it is not now
};
struct HeadAnswer {
  bool back = false;  // the back key, or Escape
  bool who = false;
};

HeadAnswer draw_head(Pen& pen, const Layout& layout, const Head& head);

}  // namespace motherbulb

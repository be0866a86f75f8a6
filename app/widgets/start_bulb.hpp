// The start screen's bulb, cut crosswise: its four quarters are the four daily jobs, with the week in its heart.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "app/pen.hpp"

namespace motherbulb {

struct QuarterView {
  std::string target;  // in the touch map
  std::string title;
  std::string line;
  int count = 0;
  bool straw = false;  // what to do next: one quarter at most
};

// Order: unpot & count, pests & damage, rest & repot, merge the day. Returns the quarter tapped.
std::optional<std::size_t> draw_start_bulb(Pen& pen, Rect area, bool phone, const std::array<QuarterView, 4>& quarters,
                                           std::string_view week_word, int week);

}  // namespace motherbulb

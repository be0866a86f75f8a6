// Seasons to come as a fan: nine cases of ten in a pale band, half of them in a darker one, the middle as a line, what
// is wanted as a dashed line with its label, and a dotted drop at the season asked for.
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/pen.hpp"

namespace motherbulb {

struct FanPoint {
  std::string label;               // the year
  std::array<double, 5> counts{};  // 5, 25, 50, 75 and 95 of a hundred cases have so many or fewer
};
struct FanView {
  std::vector<FanPoint> points;  // now first: all five alike; at least two
  std::optional<double> target;
  std::string target_words, target_short;  // on its label; where there is little room
  std::size_t chosen = 0;                  // the point with the drop; 0: none
  std::string chosen_words;                // on a tag there
  std::array<std::string_view, 5> ends{};  // what the ends of the lines mean, in the order of `counts`
};

// Lines across the picture: 0, step, 2 step ... and the top of the picture, which holds `most`. Steps are 1, 2, 2.5 or
// 5 times a power of ten, whole, and at most five lines stand above 0.
struct FanScale {
  double step = 1;
  double top = 1;
};
[[nodiscard]] FanScale fan_scale(double most);
// Where words of that height stand beside the ends of the lines, top down: in the order of the ends, `apart` or more
// from each other, as near to the ends as that allows, and not above `top` or below `bottom`.
[[nodiscard]] std::array<float, 5> fan_end_words(const std::array<float, 5>& ends, float apart, float top,
                                                 float bottom);

void draw_fan(Pen& pen, Rect area, const FanView& view);

}  // namespace motherbulb

// The weeks ahead as plant labels stuck in a bench: a stake for each piece of work, in the ISO week in which it opens;
// what is open or overdue already stands in this week, on straw.
#pragma once

#include <array>
#include <vector>

#include "app/book_rows.hpp"
#include "app/pen.hpp"

namespace motherbulb {

struct WeeksAhead {
  struct Week {
    std::int32_t week = 1;                        // ISO 8601; 53 in years that have one
    std::array<std::int32_t, step_count> work{};  // pieces of work of each step
  };
  std::vector<Week> weeks;  // this week first
};
// Of so many weeks from the day's own on.
[[nodiscard]] WeeksAhead weeks_ahead(const std::vector<DueGroup>& due, Day today, std::size_t weeks);

inline constexpr float weeks_ahead_height = 228;
// Title, legend and weeks, as many of them as there is room for. True when it is tapped.
bool draw_weeks_ahead(Pen& pen, Rect area, std::string_view target, const WeeksAhead& ahead);

// The stake of a step, its middle and height.
void draw_step_stake(Pen& pen, Point middle, float height, Step step);

}  // namespace motherbulb

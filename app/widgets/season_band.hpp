// One pot through twelve months, September to August (in the south March to February): growing leaf with blades, drying
// off copper hatch, resting pale with a line, a start as an ink nose, today an ink line. What was recorded, and from
// today on what its growing plan says.
#pragma once

#include <vector>

#include "app/pen.hpp"
#include "core/due/due.hpp"

namespace motherbulb {

struct SeasonBand {
  struct Part {
    enum class As { forming, growing, drying, resting } as = As::growing;
    Day from, to;  // up to, and without, `to`
  };
  Day first, end;           // of the twelve months; `end` is the day after the last
  std::vector<Part> parts;  // in order, none overlaps another; before the first nothing is known
  std::vector<Day> starts;  // noses
  Day today;
};

// The twelve months that hold that day.
[[nodiscard]] SeasonBand empty_season(Day today, Hemisphere where);
[[nodiscard]] SeasonBand season_of(const PlanBook& plans, const BatchState& batch, const PotState& pot,
                                   Hemisphere where, Day today);

// The line of today stands 6 dp over both ends of `bar`.
inline constexpr float season_over = 6;
void draw_season_band(Pen& pen, Rect bar, const SeasonBand& band);
// The names of the months over bars of this width, each over its own; as many letters as there is room for.
void draw_season_months(Pen& pen, Rect line, const SeasonBand& band);
// Growing, dry off, resting, start, today: as many as there is room for.
void draw_season_legend(Pen& pen, Rect line);

}  // namespace motherbulb

// What is due: a pot, or what waits in a batch, and its growing plan -> each step with the window in which it is to be
// done, from what was actually recorded. Pure: no clock; a day is given where one matters.
//
// A step is outstanding from the latest of the events it counts from until it is done, refused, or one of the events
// that end it has happened. It stays until somebody does it or says why not; only feeding, watering and looking by the
// season lapse with the season, since nobody feeds for last spring.
#pragma once

#include <optional>
#include <vector>

#include "core/plans/plan_book.hpp"

namespace motherbulb {

// Everyday work, done for many pots at once and never for its own date.
inline bool is_care(Step step) {
  return step == Step::look || step == Step::water || step == Step::feed;
}

struct Due {
  Step step = Step::look;
  std::int32_t pot = 0;  // 0: what waits in the batch
  Day opens, closes;     // the last day of the window: overdue from the next day on
  Step from = Step::potted;
  Day since;                            // the day of that event
  bool again = false;                   // repeated: counted from when the step itself was done last
  const StepPutOff* put_off = nullptr;  // moved by a person; lives as long as the states given
  const PlanStep* by = nullptr;         // lives as long as the PlanBook

  [[nodiscard]] bool lapsed(Day on) const { return is_care(step) && by->season && closes < on; }
  [[nodiscard]] bool overdue(Day on) const { return closes < on; }
  [[nodiscard]] bool open(Day on) const { return opens <= on; }
};

// Where the season is counted.
enum class Hemisphere : std::uint8_t { north, south };

// Appends what is outstanding of a filled pot, in the order of the steps. Nothing of an emptied or empty one.
void add_due(const PlanBook& plans, const BatchState& batch, const PotState& pot, Hemisphere where,
             std::vector<Due>& due);
// The same by a plan in hand: an editor's draft.
void add_due(const GrowingPlan& plan, const BatchState& batch, const PotState& pot, Hemisphere where,
             std::vector<Due>& due);
// Of what waits in the batch.
void add_due_waiting(const PlanBook& plans, const BatchState& batch, Hemisphere where, std::vector<Due>& due);

// The window of a season: the first that is not over on that day.
struct Window {
  Day opens, closes;
};
Window season_window(const Season& season, Day not_over_on, Hemisphere where);

// The stage on that day: a pot dried off rests once it has dried as long as its plan says.
Stage stage_on(const PlanBook& plans, const BatchState& batch, const PotState& pot, Day on);

// What was recorded against the plan, said once and mildly. None where nothing was.
struct Oddity {
  enum class Kind : std::uint8_t { watered_at_rest, started_early } kind = Kind::watered_at_rest;
  Day on;                 // of the act
  std::int32_t days = 0;  // started early: so long before the rest was over
};
std::optional<Oddity> oddity_of(const PlanBook& plans, const BatchState& batch, const PotState& pot);

}  // namespace motherbulb

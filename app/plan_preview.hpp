// What a change of a growing plan would move, before it is kept.
#pragma once

#include <string>
#include <vector>

#include "app/book_rows.hpp"

namespace motherbulb {

struct PlanMove {
  const PotView* pot = nullptr;
  Step step = Step::look;
  // None: the step does not stand on that side.
  std::optional<Day> before, after;  // it opens
};
// Batches whose pots follow the plan of that id now.
[[nodiscard]] std::vector<const BatchState*> followers_of(const BookRows& rows, const std::string& plan);
// What moves in them if they follow the draft; by pot.
[[nodiscard]] std::vector<PlanMove> moves_of(const BookRows& rows, const GrowingPlan& draft, Hemisphere where);

}  // namespace motherbulb

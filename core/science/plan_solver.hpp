// Finds a plan: a mixed-integer programme, whole in season 1 only. Section 5 of the mathematics.
//
// The same task gives the same plan on every machine, unless it is stopped: what is searched is bounded by work, not by
// time. Ties are broken by fewer hours, then fewer bulbs cut, then the order of the acts; of plans that reach a target
// in the fewest seasons the one with the fewest hours is proposed.
#pragma once

#include <functional>

#include "core/science/plan.hpp"
#include "shared/result.hpp"

namespace motherbulb {

// Refused where fault_of is not content, or the numbers lie too far apart to be reckoned with. Where go_on says no, the
// best plan found by then comes back, with its gap and `stopped`; or, where there is none yet, one that is not feasible
// and says nothing of what is in the way. go_on is asked many times a second, with a rough share of the work done.
Result<Plan> solve_plan(const PlanTask& task, const std::function<bool(double done)>& go_on = {});

}  // namespace motherbulb

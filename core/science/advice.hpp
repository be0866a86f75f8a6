// The plan in sentences: one for each act of the first season, with its reason and the number it rests on. By rule from
// the numbers; where the records are too few to say, what to record.
#pragma once

#include <string>
#include <vector>

#include "core/science/season_plan.hpp"

namespace motherbulb {

// By clone, then by act. Nothing is invented: an act that the plan does not have has no sentence.
std::vector<std::string> advice_of(const std::vector<PlanClone>& clones, const SeasonPlan& plan);

}  // namespace motherbulb

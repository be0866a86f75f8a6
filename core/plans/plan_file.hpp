// A growing plan as a file: JSON, as assets/plans/SCHEMA.md says. Written and read here only.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/plans/growing_plan.hpp"
#include "shared/result.hpp"

namespace motherbulb {

inline constexpr std::size_t longest_plan = 100'000;  // bytes

// What is wrong with it, where, and what would mend it; empty: nothing. `file` begins each line.
struct PlanRead {
  GrowingPlan plan;
  std::vector<std::string> faults;  // "hippeastrum-chipping.json: steps[2].opens: …"
};
PlanRead read_plan(std::string_view text, std::string_view file);
// The same from a plan in hand (an editor's draft): the faults of its steps.
std::vector<std::string> faults_of(const GrowingPlan& plan, std::string_view file);
std::string write_plan(const GrowingPlan& plan);  // read_plan gives it back

}  // namespace motherbulb

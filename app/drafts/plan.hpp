// A growing plan in the editor, until the book has it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/plans/growing_plan.hpp"

namespace motherbulb {

struct PlanDraft {
  std::string genus;                // shown in the list; empty: all
  std::optional<GrowingPlan> plan;  // as changed so far
  std::string of;                   // id of the plan that the draft began from
  bool changed = false;
  std::size_t step = 0;  // chosen
  bool naming = false;   // a copy is being named
  std::string name;
  bool for_all = false;  // batches begun before follow it too
  bool choosing = false; // batches that shall follow it are being chosen
};

}  // namespace motherbulb

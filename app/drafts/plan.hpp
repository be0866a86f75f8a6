// A growing plan in the editor, until the book has it.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/plans/growing_plan.hpp"

namespace motherbulb {

struct PlanDraft {
  std::optional<GrowingPlan> plan;  // as changed so far
  std::string of;                   // id of the plan that the draft began from
  bool changed = false;
  std::size_t step = 0;  // chosen
  enum class Doing { looking, naming, choosing, adding } doing = Doing::looking;
  std::string name;          // of a copy
  std::set<BatchId> follow;  // batches that shall follow it

  // What the draft would move, made anew only when it or the book has changed.
  struct Preview {
    bool made = false;
    std::uint64_t revision = 0;
    std::size_t batches = 0;  // that follow the plan now
    std::size_t pots = 0;     // of theirs that move
    std::vector<std::string> lines;
    std::vector<std::string> faults;
  } preview;
};

}  // namespace motherbulb

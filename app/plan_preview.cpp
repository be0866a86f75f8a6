#include "app/plan_preview.hpp"

#include <algorithm>
#include <set>

namespace motherbulb {
namespace {

bool follows(const BookRows& rows, const PotView& pot, const std::string& plan) {
  const GrowingPlan* now = rows.plans().plan_for(pot.batch, pot.of_pieces());
  return now != nullptr && now->id == plan;
}

}  // namespace

std::vector<const BatchState*> followers_of(const BookRows& rows, const std::string& plan) {
  std::set<BatchId> found;
  for (const PotView* pot : rows.pots()) {
    if (found.count(pot->batch.id) == 0 && follows(rows, *pot, plan)) found.insert(pot->batch.id);
  }
  std::vector<const BatchState*> batches;
  for (const BatchState* batch : rows.batches()) {
    if (found.count(batch->id) != 0) batches.push_back(batch);
  }
  return batches;
}

namespace {

std::optional<Due> of_step(const std::vector<Due>& due, Step step) {
  for (const Due& one : due) {
    if (one.step == step) return one;
  }
  return std::nullopt;
}

}  // namespace

std::vector<PlanMove> moves_of(const BookRows& rows, const GrowingPlan& draft, Hemisphere where) {
  std::vector<PlanMove> moves;
  std::vector<Due> before, after;
  for (const PotView* pot : rows.pots()) {
    if (!follows(rows, *pot, draft.id)) continue;
    before.clear();
    after.clear();
    add_due(rows.plans(), pot->batch, pot->pot, where, before);
    add_due(draft, pot->batch, pot->pot, where, after);
    for (int i = 0; i < step_count; ++i) {
      const auto step = static_cast<Step>(i);
      const auto was = of_step(before, step), is = of_step(after, step);
      if (was && is && was->opens == is->opens && was->closes == is->closes) continue;
      if (!was && !is) continue;
      PlanMove move{pot, step, std::nullopt, std::nullopt};
      if (was) move.before = was->opens;
      if (is) move.after = is->opens;
      moves.push_back(move);
    }
  }
  return moves;
}

}  // namespace motherbulb

#include "core/plans/growing_plan.hpp"

#include <algorithm>
#include <array>

namespace motherbulb {

std::int32_t Span::days() const {
  if (in == In::days) return amount;
  if (in == In::weeks) return amount * 7;
  return static_cast<std::int32_t>((static_cast<std::int64_t>(amount) * 36525 + 600) / 1200);
}

std::string_view to_text(Span::In in) {
  static constexpr std::array<std::string_view, 3> words = {"days", "weeks", "months"};
  return words[static_cast<std::size_t>(in)];
}

std::string_view to_text(Of of) {
  static constexpr std::array<std::string_view, 3> words = {"pieces", "bulbs", "waiting"};
  return words[static_cast<std::size_t>(of)];
}

const PlanStep* GrowingPlan::step(Step which, Of of) const {
  const auto found =
      std::find_if(steps.begin(), steps.end(), [&](const PlanStep& one) { return one.step == which && one.of == of; });
  return found == steps.end() ? nullptr : &*found;
}

}  // namespace motherbulb

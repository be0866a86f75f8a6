#include "app/screens/plan_parts.hpp"

#include "app/due_words.hpp"
#include "app/screens/screens.hpp"
#include "app/words.hpp"
#include "app/words/plans.hpp"

namespace motherbulb {
namespace {

std::string from_words(const PlanStep& step) {
  const PlansWords& w = plans_words();
  std::string text;
  for (std::size_t i = 0; i < step.after.size(); ++i) {
    const std::string_view event = w.after[static_cast<std::size_t>(step.after[i])];
    text = i == 0 ? std::string(event) : say(i + 1 == step.after.size() ? w.or_last : w.and_another, text, event);
  }
  return text;
}

}  // namespace

std::string method_of_plan(Method method) {
  return std::string(cuts(method) ? name_of(method) : plans_words().of_bulbs);
}

std::string plan_words_of(const GrowingPlan& plan) {
  const PlansWords& w = plans_words();
  const std::string kind = say(w.name, plan.genus, method_of_plan(plan.method));
  return plan.name.empty() ? kind : say(w.copy_name, plan.name, kind);
}

PlanName plan_name_of(const GrowingPlan& plan) {
  const std::string method = method_of_plan(plan.method);
  if (plan.name.empty()) return {plan.genus, method};
  return {plan.name, say(plans_words().name, plan.genus, method)};
}

std::string changed_words(const PlanVersion& version, Day today) {
  const PlansWords& w = plans_words();
  const std::string steps = counted(static_cast<std::int64_t>(version.plan->steps.size()), w.step, w.steps);
  if (version.shipped) return say(w.row, steps);
  const std::string day = day_near(local_day(version.when), today);
  return version.helper.empty() ? say(w.row_mine_nobody, steps, day) : say(w.row_mine, steps, day, version.helper);
}

// A week of the north as it falls here.
std::int32_t week_here(std::int32_t week, bool south) {
  return south ? (week + 25) % 52 + 1 : week;
}

std::string plan_window_words(const PlanStep& step, bool south) {
  const PlansWords& w = plans_words();
  std::string text;
  if (step.season) {
    std::string from = from_words(step);
    from = step.opens && step.opens->amount > 0 ? say(w.row_window_least, span_words(*step.opens), from)
                                                : say(w.row_after, from);
    text = south ? say(w.row_season_south, week_here(step.season->from, true), week_here(step.season->to, true),
                       step.season->from, step.season->to, from)
                 : say(w.row_season, step.season->from, step.season->to, from);
  } else if (!step.opens || step.opens->amount == 0) {
    text = say(w.row_window, 0, span_words(*step.closes), from_words(step));
  } else if (step.opens->in == step.closes->in) {
    text = say(w.row_window, step.opens->amount, span_words(*step.closes), from_words(step));
  } else {
    text = say(w.row_window, span_words(*step.opens), span_words(*step.closes), from_words(step));
  }
  if (step.every) text = say(w.row_every, text, span_words(*step.every));
  return step.seen.empty() ? text : say(w.row_seen, text, step.seen);
}

}  // namespace motherbulb

#include "core/due/due.hpp"

#include <algorithm>

namespace motherbulb {
namespace {

// What happened to a pot, or to what waits, as far as a plan counts from it.
class History {
public:
  History(const BatchState& batch, const PotState* pot) : batch_(batch), pot_(pot) {}

  struct At {
    Day day;
    FoldOrder order;
  };
  [[nodiscard]] std::optional<At> last(Step step) const {
    if (step == Step::begun) return At{local_day(batch_.begun_on), batch_.begun_order};
    if (step == Step::potted) {
      if (pot_ == nullptr) return std::nullopt;
      return At{local_day(pot_->filled_on), pot_->filled_order};
    }
    const StepDone* done = done_last(batch_, pot_, step);
    if (done == nullptr) return std::nullopt;
    return At{local_day(done->when), done->order};
  }
  [[nodiscard]] const StepPutOff* put_off(Step step) const {
    // Under half of all pots have any, and a name is compared for each.
    if (batch_.put_off.empty() && (pot_ == nullptr || pot_->put_off.empty())) return nullptr;
    return put_off_last(batch_, pot_, to_text(step));
  }

private:
  const BatchState& batch_;
  const PotState* pot_;
};

Day plus(Day day, std::int32_t days) {
  return Day{day.days + days};
}

Day monday_of(std::int32_t year, std::int32_t week) {
  // 4 January is always in week 1.
  const Day fourth = *day_from_civil({year, 1, 4});
  const Day first = plus(fourth, 1 - iso_week(fourth).weekday);
  // 28 December is always in the last week.
  const std::int32_t weeks = iso_week(*day_from_civil({year, 12, 28})).week;
  return plus(first, (std::min(week, weeks) - 1) * 7);
}

std::optional<Due> due_of(const PlanStep& step, const History& history, Hemisphere where) {
  Due due;
  due.step = step.step;
  due.by = &step;
  std::optional<History::At> from;
  for (const Step event : step.after) {
    const auto at = history.last(event);
    if (!at || (from && at->order < from->order)) continue;
    from = at;
    due.from = event;
  }
  if (!from) return std::nullopt;
  for (const Step end : step.until) {
    const auto at = history.last(end);
    if (at && !(at->order < from->order)) return std::nullopt;
  }
  const auto done = history.last(step.step);
  // A step that counts from itself is due again and again anyway.
  const bool done_since = done && from->order < done->order;
  if (done_since) {
    if (!step.every) return std::nullopt;
    due.again = true;
    due.from = step.step;
    from = done;
  }
  due.since = from->day;
  const std::int32_t opens = due.again ? step.every->days() : step.opens ? step.opens->days() : 0;
  if (step.season && !due.again) {
    const Window window = season_window(*step.season, plus(due.since, opens), where);
    due.opens = std::max(window.opens, plus(due.since, opens));
    due.closes = window.closes;
  } else {
    due.opens = plus(due.since, opens);
    const std::int32_t slack = step.closes ? step.closes->days() - (step.opens ? step.opens->days() : 0) : 6;
    due.closes = plus(due.opens, slack);
  }
  if (const StepPutOff* put_off = history.put_off(step.step); put_off != nullptr && from->order < put_off->order) {
    if (put_off->days <= 0) return std::nullopt;  // not this time
    due.put_off = put_off;
    due.opens = std::max(due.opens, plus(local_day(put_off->when), put_off->days));
    due.closes = std::max(due.closes, plus(due.opens, 6));  // a week to do it in
  }
  return due;
}

}  // namespace

Window season_window(const Season& season, Day not_over_on, Hemisphere where) {
  const std::int32_t shift = where == Hemisphere::south ? south_days : 0;
  const Day asked = plus(not_over_on, -shift);
  // A season that runs over the new year began the year before.
  for (std::int32_t year = std::max(iso_week(asked).year - 1, 2);; ++year) {
    const Day opens = monday_of(year, season.from);
    const Day closes = plus(monday_of(season.to < season.from ? year + 1 : year, season.to), 6);
    if (year >= 9997 || !(closes < asked)) return {plus(opens, shift), plus(closes, shift)};
  }
}

void add_due(const PlanBook& plans, const BatchState& batch, const PotState& pot, Hemisphere where,
             std::vector<Due>& due) {
  if (!pot.filled || pot.emptied) return;
  if (const GrowingPlan* plan = plans.plan_for(batch, pot.unit == Unit::pieces)) add_due(*plan, batch, pot, where, due);
}

void add_due(const GrowingPlan& plan, const BatchState& batch, const PotState& pot, Hemisphere where,
             std::vector<Due>& due) {
  if (!pot.filled || pot.emptied) return;
  const bool pieces = pot.unit == Unit::pieces;
  if (pieces ? pot.pieces == 0 : pot.bulbs.empty()) return;
  const History history(batch, &pot);
  const Of of = pieces ? Of::pieces : Of::bulbs;
  for (const PlanStep& step : plan.steps) {
    if (step.of != of) continue;
    // Nobody uncovers what is not covered.
    if (step.step == Step::uncover) {
      const auto covered = history.last(Step::covered), uncovered = history.last(Step::uncover);
      if (!covered || (uncovered && covered->order < uncovered->order)) continue;
    }
    if (auto one = due_of(step, history, where)) {
      one->pot = pot.pot.number;
      due.push_back(*one);
    }
  }
}

void add_due_waiting(const PlanBook& plans, const BatchState& batch, Hemisphere where, std::vector<Due>& due) {
  if (batch.bulbs_waiting.empty()) return;
  const GrowingPlan* plan = plans.plan_for(batch, false);
  if (plan == nullptr) return;
  const History history(batch, nullptr);
  for (const PlanStep& step : plan->steps) {
    if (step.of != Of::waiting) continue;
    if (step.step == Step::grade && batch.bulbs_waiting.count(Grade{}) == 0) continue;
    if (const auto one = due_of(step, history, where)) due.push_back(*one);
  }
}

Stage stage_on(const PlanBook& plans, const BatchState& batch, const PotState& pot, Day on) {
  const Stage stage = stage_of(batch, pot);
  if (stage != Stage::drying_off) return stage;
  const GrowingPlan* plan = plans.plan_for(batch, pot.unit == Unit::pieces);
  const StepDone* dried = done_last(batch, &pot, Step::dry_off);
  if (plan == nullptr || !plan->drying || dried == nullptr) return stage;
  return on < plus(local_day(dried->when), plan->drying->days()) ? Stage::drying_off : Stage::resting;
}

std::optional<Oddity> oddity_of(const PlanBook& plans, const BatchState& batch, const PotState& pot) {
  if (!pot.filled || pot.emptied) return std::nullopt;
  const GrowingPlan* plan = plans.plan_for(batch, pot.unit == Unit::pieces);
  const StepDone* dried = done_last(batch, &pot, Step::dry_off);
  if (plan == nullptr || dried == nullptr) return std::nullopt;
  const StepDone* started = done_last(batch, &pot, Step::start);
  const bool at_rest = started == nullptr || started->order < dried->order;
  if (at_rest) {
    const StepDone* watered = done_last(batch, &pot, Step::water);
    if (watered == nullptr || watered->order < dried->order) return std::nullopt;
    return Oddity{Oddity::Kind::watered_at_rest, local_day(watered->when), 0};
  }
  const PlanStep* step = plan->step(Step::start, Of::bulbs);
  if (step == nullptr || !step->opens) return std::nullopt;
  const Day over = plus(local_day(dried->when), step->opens->days());
  const Day on = local_day(started->when);
  if (!(on < over)) return std::nullopt;
  return Oddity{Oddity::Kind::started_early, on, over.days - on.days};
}

}  // namespace motherbulb

#include "app/due_words.hpp"

#include "app/words.hpp"
#include "app/words/due.hpp"

namespace motherbulb {
namespace {

// In which unit the plan speaks of it.
Span::In unit_of(const Due& due) {
  if (due.again && due.by->every) return due.by->every->in;
  if (due.by->opens && due.by->opens->amount > 0) return due.by->opens->in;
  return due.by->closes ? due.by->closes->in : Span::In::weeks;
}

}  // namespace

std::string span_words(const Span& span) {
  const DueWords& w = due_words();
  switch (span.in) {
    case Span::In::days:
      return counted(span.amount, w.day, w.days);
    case Span::In::weeks:
      return counted(span.amount, w.week, w.weeks);
    case Span::In::months:
      return counted(span.amount, w.month, w.months);
  }
  return "";
}

std::string elapsed_words(const Due& due, Day on) {
  const DueWords& w = due_words();
  const std::int32_t days = on.days - due.since.days;
  const Span::In in = unit_of(due);
  if (in == Span::In::months && days >= 61) {
    // The months that have gone by as plans count them: on the day a plan opens at 8 months it is 8 months.
    Span months{1, Span::In::months, ""};
    while (Span{months.amount + 1, Span::In::months, ""}.days() <= days) ++months.amount;
    return counted(months.amount, w.month, w.months);
  }
  if (in == Span::In::days || days < 14) return counted(days, w.day, w.days);
  return counted(days / 7, w.week, w.weeks);
}

namespace {

std::string what_happened(const BatchState& batch, const Due& due, Day on) {
  const DueWords& w = due_words();
  const auto at = static_cast<std::size_t>(due.from);
  const bool cut = due.from == Step::begun && cuts(batch.method);
  // Nothing is "0 days ago", and nothing that is yet to come either.
  if (!(due.since < on)) return std::string(cut ? w.cut_today : w.today[at]);
  if (due.pot == 0 && due.from == Step::unpot) return say(w.waits, elapsed_words(due, on));
  return say(cut ? w.cut_ago : w.ago[at], elapsed_words(due, on));
}

std::string plan_words(const Due& due, std::string text, Hemisphere where) {
  const DueWords& w = due_words();
  const PlanStep& plan = *due.by;
  if (due.again) return say(w.plan_every, text, span_words(*plan.every));
  if (plan.season) {
    // The weeks as they fall where the grower is, put off or not.
    const Window window = season_window(*plan.season, due.closes, where);
    return say(w.plan_season, text, iso_week(window.opens).week, iso_week(window.closes).week);
  }
  const bool from_nothing = !plan.opens || plan.opens->amount == 0;
  if (!plan.closes || (!from_nothing && plan.opens->days() == plan.closes->days()))
    return from_nothing ? text : say(w.plan_from, text, span_words(*plan.opens));
  if (from_nothing) return say(w.plan_window, text, 0, span_words(*plan.closes));
  if (plan.opens->in == plan.closes->in) return say(w.plan_window, text, plan.opens->amount, span_words(*plan.closes));
  return say(w.plan_window, text, span_words(*plan.opens), span_words(*plan.closes));
}

}  // namespace

std::string_view name_of(Step step) {
  return due_words().step[static_cast<std::size_t>(step)];
}

std::string why_due(const BatchState& batch, const Due& due, Day on, Hemisphere where) {
  const DueWords& w = due_words();
  if (due.put_off != nullptr) {
    const std::string until = day_near(due.opens, on);
    std::string text =
        due.put_off->helper.empty() ? say(w.put_off_nobody, until) : say(w.put_off, due.put_off->helper, until);
    return due.put_off->why.empty() ? text : say(w.put_off_why, text, due.put_off->why);
  }
  std::string text = plan_words(due, what_happened(batch, due, on), where);
  return due.by->seen.empty() ? text : say(w.seen, text, due.by->seen);
}

}  // namespace motherbulb

// The numbers of one step of a growing plan under the hand, with their sources; and what a change of them would move.

#include <algorithm>
#include <string>
#include <vector>

#include "app/due_words.hpp"
#include "app/screens/plan_panel.hpp"
#include "app/screens/plan_parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/plans.hpp"

namespace motherbulb {
namespace {

constexpr float key = 56;
constexpr float gap = 8;
constexpr float narrow = 420;  // below, a number's name stands above its keys
constexpr float name_high = 26;
constexpr Type source_type = Type::body_15;
constexpr int source_most = 4;  // lines
constexpr float source_gap = 4;
constexpr std::int32_t longest_days = 20 * 365;

std::string source_words(const GrowingPlan& plan, const std::string& source) {
  const PlansWords& w = plans_words();
  if (source == by_the_grower) return std::string(w.source_mine);
  if (source == common_practice) return std::string(w.source_common);
  const auto known = plan.sources.find(source);
  return known == plan.sources.end() ? source : known->second;
}

bool must_stay(const PlanStep& step) {
  return step.step == Step::dry_off || step.step == Step::start || step.step == Step::repot;
}

float stepper_height(float width) {
  return width < narrow ? name_high + key : key;
}

// "Opens   [−]  8 weeks  [+]". What to add to the amount; the unit's key turns it into the next.
struct Stepped {
  int by = 0;
  bool unit = false;
};
Stepped draw_stepper(Pen& pen, Rect row, const std::string& name, std::string_view title, const std::string& amount,
                     bool less, bool with_unit) {
  const Theme& t = pen.theme;
  Stepped stepped;
  Rect keys;
  if (row.w < narrow) {
    keys = {row.x, row.y + name_high, row.w, key};
    row.h = name_high;
  } else {
    keys = row.take_right(300);
  }
  pen.text_in(row, pen.fitting({Type::strong_18, Type::strong_16}, title, row.w), t.ink2, title);
  if (draw_act(pen, keys.take_left(key, gap), {name + ":less", "", ActStyle::plain, Icon::minus, less}))
    stepped.by = -1;
  if (draw_act(pen, keys.take_right(key, gap), {name + ":more", "", ActStyle::plain, Icon::plus, true})) stepped.by = 1;
  if (with_unit) {
    if (draw_act(pen, keys, {name + ":unit", amount, ActStyle::plain, {}, true})) stepped.unit = true;
  } else {
    pen.text_in(keys, pen.fitting({Type::heading_20, Type::strong_18, Type::strong_16}, amount, keys.w), t.ink, amount,
                Align::middle);
  }
  return stepped;
}

void turn_unit(Span& span) {
  const std::int32_t days = span.days();
  if (span.in == Span::In::days) {
    span.in = Span::In::weeks;
    span.amount = (days + 3) / 7;
  } else if (span.in == Span::In::weeks) {
    span.in = Span::In::months;
    span.amount = std::max(days > 0 ? 1 : 0, (days * 48 + 730) / 1461);
  } else {
    span.in = Span::In::days;
    span.amount = days;
  }
}

void step_span(PlanDraft& draft, Span& span, const Stepped& stepped, std::int32_t least) {
  if (stepped.by == 0 && !stepped.unit) return;
  if (stepped.unit) turn_unit(span);
  span.amount = std::max(least, span.amount + stepped.by);
  if (span.days() > longest_days) span.amount -= 1;
  span.source = by_the_grower;
  changed(draft);
}

// Where its figures come from; said once where all come from one.
std::vector<std::pair<std::string_view, std::string>> sources_of(const PlanStep& step) {
  const PlansWords& w = plans_words();
  std::vector<std::pair<std::string_view, std::string>> all;
  if (step.opens) all.emplace_back(w.opens, step.opens->source);
  if (step.closes) all.emplace_back(w.closes, step.closes->source);
  if (step.every) all.emplace_back(w.every, step.every->source);
  if (step.season) all.emplace_back(w.from_week, step.season->source);
  return all;
}

std::vector<std::string> source_lines(const GrowingPlan& plan, const PlanStep& step) {
  std::vector<std::string> lines;
  for (const auto& [title, source] : sources_of(step))
    lines.push_back(say(plans_words().source_of, title, source_words(plan, source)));
  return lines;
}

}  // namespace

float plan_numbers_height(ScreenView& view, float width) {
  const PlanDraft& draft = view.ui.plan;
  const PlanStep& step = draft.plan->steps[draft.step];
  float rows = 0;
  if (step.opens) rows += 1;
  if (step.closes) rows += 1;
  if (step.every) rows += 1;
  if (step.season) rows += 2;
  float height = 40 + rows * (stepper_height(width) + gap) + 8 + key;
  for (const std::string& line : source_lines(*draft.plan, step))
    height += view.pen.paragraph_height(width, source_type, line, source_most) + source_gap;
  return height;
}

void changed(PlanDraft& draft) {
  draft.changed = true;
  draft.preview.made = false;
}

void draw_plan_numbers(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const PlansWords& w = plans_words();
  PlanDraft& draft = view.ui.plan;
  PlanStep& step = draft.plan->steps[draft.step];
  pen.text_in(area.take_top(34, 6), Type::heading_24, t.ink, name_of(step.step));
  const auto row = [&] { return area.take_top(stepper_height(area.w), gap); };
  if (step.opens) {
    step_span(draft, *step.opens,
              draw_stepper(pen, row(), "plan:opens", w.opens, span_words(*step.opens), step.opens->amount > 0, true),
              0);
    // The window's ends push each other along.
    if (step.closes && step.closes->days() < step.opens->days()) {
      *step.closes = *step.opens;
      step.closes->source = by_the_grower;
    }
  }
  if (step.closes) {
    step_span(
        draft, *step.closes,
        draw_stepper(pen, row(), "plan:closes", w.closes, span_words(*step.closes), step.closes->amount > 0, true), 0);
    if (step.opens && step.closes->days() < step.opens->days()) {
      *step.opens = *step.closes;
      step.opens->source = by_the_grower;
    }
  }
  if (step.every) {
    step_span(draft, *step.every,
              draw_stepper(pen, row(), "plan:every", w.every, span_words(*step.every), step.every->amount > 1, true),
              1);
  }
  if (step.season) {
    const bool south = view.ui.settings.south;
    const auto week = [&](const char* name, std::string_view title, std::int32_t& of) {
      const Stepped stepped = draw_stepper(pen, row(), name, title, say(w.week_of, week_here(of, south)), true, false);
      if (stepped.by == 0) return;
      of = (of - 1 + stepped.by + 53) % 53 + 1;
      step.season->source = by_the_grower;
      changed(draft);
    };
    week("plan:from", w.from_week, step.season->from);
    week("plan:to", w.to_week, step.season->to);
  }
  for (const std::string& line : source_lines(*draft.plan, step))
    area.take_top(pen.paragraph(area, source_type, t.ink2, line, source_most) + source_gap);
  area.take_top(8);
  if (must_stay(step)) {
    pen.paragraph(area.take_top(key), Type::body_15, t.ink2, w.must_stay, 2);
  } else if (draw_act(pen, area.take_top(key),
                      {"plan:leave-out", w.leave_out, ActStyle::plain, {}, draft.plan->steps.size() > 1})) {
    draft.plan->steps.erase(draft.plan->steps.begin() + static_cast<std::ptrdiff_t>(draft.step));
    draft.step = 0;
    changed(draft);
  }
}

float plan_preview_height(ScreenView& view, float width) {
  const auto& preview = view.ui.plan.preview;
  if (!preview.faults.empty()) {
    float h = 34;
    for (const std::string& fault : preview.faults) h += view.pen.paragraph_height(width, Type::body_16, fault, 4) + 4;
    return h;
  }
  if (!view.ui.plan.changed) return 0;
  float h = 52;
  for (const std::string& line : preview.lines) h += view.pen.paragraph_height(width, Type::body_15, line, 2) + 4;
  return h;
}

void draw_plan_preview(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const PlansWords& w = plans_words();
  const auto& preview = view.ui.plan.preview;
  if (!preview.faults.empty()) {
    pen.text_in(area.take_top(34), Type::heading_20, t.copper, w.fault_title);
    for (const std::string& fault : preview.faults)
      area.take_top(pen.paragraph(area, Type::body_16, t.ink, fault, 4) + 4);
    return;
  }
  if (!view.ui.plan.changed) return;
  const std::string title = preview.pots == 0
                                ? std::string(w.moves_none)
                                : say(w.moves, counted(static_cast<std::int64_t>(preview.pots), w.pot, w.pots));
  pen.paragraph(area.take_top(48, 4), Type::strong_16, t.ink, title, 2);
  for (const std::string& one : preview.lines) area.take_top(pen.paragraph(area, Type::body_15, t.ink2, one, 2) + 4);
}

}  // namespace motherbulb

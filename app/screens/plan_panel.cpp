// What can be done with a growing plan as a whole: keep what was changed, copy it, add a step, choose who follows it.

#include <algorithm>

#include "app/due_words.hpp"
#include "app/screens/plan_panel.hpp"
#include "app/screens/plan_parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/words.hpp"
#include "app/words/plans.hpp"
#include "core/names.hpp"
#include "core/plans/plan_file.hpp"

namespace motherbulb {
namespace {

using Doing = PlanDraft::Doing;

constexpr float key = 56;
constexpr float gap = 8;
constexpr float act = 60;
constexpr float narrow = 420;  // below, acts stand one under the other

Keep keep_plan(const PlanDraft& draft, bool for_all) {
  const PlansWords& w = plans_words();
  GrowingPlan plan = *draft.plan;
  plan.for_all = for_all;
  plan.since.reset();
  Keep keep;
  keep.commands.emplace_back(fact_of({}, 0, PlanEdited{plan.id, write_plan(plan)}));
  keep.slip = say(for_all ? w.kept_all : w.kept_new, plan_words_of(plan));
  keep.after = [](UiState& ui, const std::vector<Receipt>&) { ui.plan = {}; };
  return keep;
}

// Cuts two acts' room in two: beside each other, the first with that share, or on a phone one under the other.
struct Pair {
  Rect first, second;
};
Pair pair_of(Rect& area, float share, float high) {
  Rect row = area.take_top(high, gap);
  if (area.w < narrow) return {row, area.take_top(high, gap)};
  const Rect first = row.take_left((row.w - gap) * share, gap);
  return {first, row};
}
float pair_height(float width, float high) {
  return (width < narrow ? 2 : 1) * (high + gap);
}

// As it was shipped there is nothing to go back to; nor is there for a copy.
bool can_go_back(const PlanVersion& version) {
  return !version.shipped && version.plan->name.empty();
}

float acts_height(const PlanDraft& draft, const PlanVersion& version, float width) {
  if (draft.changed) return 3 * (key + gap);
  return pair_height(width, key) + (can_go_back(version) ? pair_height(width, key) : key + gap);
}

std::optional<Wish> draw_acts(ScreenView& view, Rect area, const PlanVersion& version) {
  Pen& pen = view.pen;
  const PlansWords& w = plans_words();
  PlanDraft& draft = view.ui.plan;
  std::optional<Wish> wish;
  const auto row = [&] { return area.take_top(key, gap); };
  if (draft.changed) {
    const bool sound = draft.preview.faults.empty();
    if (draw_act(pen, row(), {"plan:keep-new", w.keep_new, ActStyle::main, {}, sound})) wish = keep_plan(draft, false);
    const std::string all =
        say(w.keep_all, counted(static_cast<std::int64_t>(draft.preview.batches), w.batch, w.batches));
    if (draw_act(pen, row(), {"plan:keep-all", all, ActStyle::quiet, {}, sound && draft.preview.batches > 0}))
      wish = keep_plan(draft, true);
    if (draw_act(pen, row(), {"plan:give-up", w.give_up, ActStyle::square, {}, true})) draft = {};
    return wish;
  }
  const Pair ways = pair_of(area, 0.5F, key);
  if (draw_act(pen, ways.first, {"plan:copy", w.copy, ActStyle::quiet, {}, true})) draft.doing = Doing::naming;
  if (draw_act(pen, ways.second, {"plan:add", w.add, ActStyle::quiet, {}, true})) draft.doing = Doing::adding;
  const bool mine = can_go_back(version);
  const Pair others = mine ? pair_of(area, 0.5F, key) : Pair{row(), {}};
  if (draw_act(pen, others.first, {"plan:choose", w.choose, ActStyle::quiet, {}, true})) {
    draft.doing = Doing::choosing;
    draft.follow.clear();
  }
  if (mine && draw_act(pen, others.second, {"plan:shipped", w.to_shipped, ActStyle::quiet, {}, true})) {
    const auto* versions = view.rows.plans().versions(version.plan->id);
    for (const PlanVersion& one : *versions) {
      if (one.shipped) draft.plan = *one.plan;
    }
    draft.step = 0;
    changed(draft);
  }
  return wish;
}

// A new id that no plan has: of the plan that it was copied from and its name.
std::string new_id(const PlanBook& plans, const GrowingPlan& from, const std::string& name) {
  std::string base;
  for (const char c : folded_name(from.genus)) base += c == ' ' ? '-' : c;
  base += "-" + std::string(to_text(from.method)) + "-";
  for (const char c : folded_name(name)) base += c == ' ' ? '-' : c;
  std::string id = base;
  for (int nth = 2; plans.versions(id) != nullptr; ++nth) id = base + "-" + std::to_string(nth);
  return id;
}

std::optional<Wish> draw_naming(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const PlansWords& w = plans_words();
  PlanDraft& draft = view.ui.plan;
  std::optional<Wish> wish;
  pen.text_in(area.take_top(34, 6), Type::heading_24, pen.theme.ink, w.copy_title);
  const bool few = few_keys_in_a_row(area.w);
  const bool entered = draw_text_entry(pen, area.take_top(text_entry_height(few), 12),
                                       {"plan-name", w.copy_hint, 40, false}, draft.name, few);
  const std::string name = without_ends(draft.name);
  const Pair acts = pair_of(area, 0.6F, act);
  if ((draw_act(pen, acts.first, {"plan:copy-keep", w.copy_keep, ActStyle::main, {}, !name.empty()}) || entered) &&
      !name.empty()) {
    GrowingPlan copy = *draft.plan;
    copy.id = new_id(view.rows.plans(), copy, name);
    copy.name = name;
    copy.since.reset();
    Keep made;
    made.commands.emplace_back(fact_of({}, 0, PlanEdited{copy.id, write_plan(copy)}));
    made.slip = say(w.copied, name);
    made.after = [](UiState& ui, const std::vector<Receipt>&) { ui.plan = {}; };
    Subject about;
    about.plan = copy.id;
    made.then = Go{Screen::plan, about};
    wish = made;
  }
  if (draw_act(pen, acts.second, {"plan:name-back", w.give_up, ActStyle::square, {}, true}))
    draft.doing = Doing::looking;
  return wish;
}

float naming_height(float width) {
  return 40 + text_entry_height(few_keys_in_a_row(width)) + 12 + pair_height(width, act);
}

// Batches of the genus, each a tick; those that follow it already are left out.
std::vector<const BatchState*> choosable(ScreenView& view) {
  const GrowingPlan& plan = *view.ui.plan.plan;
  std::vector<const BatchState*> batches;
  for (const BatchState* batch : view.rows.batches()) {
    if (folded_name(batch->genus) != folded_name(plan.genus)) continue;
    if (cuts(plan.method) && batch->method != plan.method) continue;
    const auto pots = view.rows.filled_of(batch->id);
    const bool of_it = std::any_of(pots.begin(), pots.end(),
                                   [&](const PotView* pot) { return pot->of_pieces() == cuts(plan.method); });
    const GrowingPlan* now = view.rows.plans().plan_for(*batch, cuts(plan.method));
    if (of_it && (now == nullptr || now->id != plan.id)) batches.push_back(batch);
  }
  return batches;
}

float choosing_height(std::size_t batches, float width) {
  return 44 + static_cast<float>(std::max<std::size_t>(batches, 1)) * (key + gap) + pair_height(width, act);
}

std::optional<Wish> draw_choosing(ScreenView& view, Rect area, const std::vector<const BatchState*>& batches) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const PlansWords& w = plans_words();
  PlanDraft& draft = view.ui.plan;
  std::optional<Wish> wish;
  pen.text_in(area.take_top(36, 8), Type::heading_20, t.ink, w.choose_title);
  if (batches.empty()) {
    pen.paragraph(area.take_top(key, gap), Type::body_16, t.ink2, say(w.choose_none, draft.plan->genus), 2);
  }
  for (const BatchState* batch : batches) {
    const bool chosen = draft.follow.count(batch->id) != 0;
    const std::string words_shown = batch_words(*batch) + "  " + clone_words(*batch);
    if (!draw_filter(pen, area.take_top(key, gap), "follow:" + batch_words(*batch), words_shown, chosen)) continue;
    if (draft.follow.erase(batch->id) == 0) draft.follow.insert(batch->id);
  }
  const Pair acts = pair_of(area, 0.6F, act);
  const std::string all =
      say(w.choose_keep, counted(static_cast<std::int64_t>(draft.follow.size()), w.batch, w.batches));
  if (draw_act(pen, acts.first, {"plan:follow", all, ActStyle::main, {}, !draft.follow.empty()})) {
    Keep made;
    for (const BatchId& batch : draft.follow) made.commands.emplace_back(fact_of(batch, 0, PlanEdited{draft.of, ""}));
    made.slip = say(w.chosen, plan_words_of(*draft.plan),
                    counted(static_cast<std::int64_t>(draft.follow.size()), w.batch, w.batches));
    made.after = [](UiState& ui, const std::vector<Receipt>&) { ui.plan = {}; };
    wish = made;
  }
  if (draw_act(pen, acts.second, {"plan:choose-back", w.give_up, ActStyle::square, {}, true}))
    draft.doing = Doing::looking;
  return wish;
}

std::vector<Step> steps_to_add(const GrowingPlan& plan) {
  const Of of = cuts(plan.method) ? Of::pieces : Of::bulbs;
  std::vector<Step> all;
  for (int i = 0; i < step_count; ++i) {
    const auto step = static_cast<Step>(i);
    const bool sensible = of == Of::bulbs ? step != Step::uncover && step != Step::unpot
                                          : step != Step::dry_off && step != Step::start && step != Step::repot;
    if (can_be_due(step) && sensible && plan.step(step, of) == nullptr) all.push_back(step);
  }
  return all;
}

float adding_height(std::size_t count) {
  return 44 + static_cast<float>((count + 1) / 2) * (key + gap) + key;
}

void draw_adding(ScreenView& view, Rect area, const std::vector<Step>& steps) {
  Pen& pen = view.pen;
  const PlansWords& w = plans_words();
  PlanDraft& draft = view.ui.plan;
  pen.text_in(area.take_top(36, 8), Type::heading_20, pen.theme.ink, w.adding);
  const float wide = (area.w - gap) / 2;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const Rect at{area.x + static_cast<float>(i % 2) * (wide + gap), area.y + static_cast<float>(i / 2) * (key + gap),
                  wide, key};
    if (!draw_act(pen, at, {"add:" + std::string(to_text(steps[i])), name_of(steps[i]), ActStyle::quiet, {}, true}))
      continue;
    PlanStep step;
    step.step = steps[i];
    step.of = cuts(draft.plan->method) ? Of::pieces : Of::bulbs;
    step.after = {Step::potted};
    step.opens = Span{4, Span::In::weeks, std::string(by_the_grower)};
    step.closes = Span{6, Span::In::weeks, std::string(by_the_grower)};
    if (is_care(step.step)) step.every = Span{4, Span::In::weeks, std::string(by_the_grower)};
    draft.plan->steps.push_back(step);
    draft.step = draft.plan->steps.size() - 1;
    draft.doing = Doing::looking;
    changed(draft);
  }
  area.take_top(static_cast<float>((steps.size() + 1) / 2) * (key + gap));
  if (draw_act(pen, area.take_top(key), {"plan:add-back", w.give_up, ActStyle::square, {}, true}))
    draft.doing = Doing::looking;
}

}  // namespace

PlanPanel plan_panel(ScreenView& view, float width, const PlanVersion& version) {
  const PlanDraft& draft = view.ui.plan;
  PlanPanel panel;
  if (draft.doing == Doing::naming) {
    panel.height = naming_height(width);
  } else if (draft.doing == Doing::choosing) {
    panel.batches = choosable(view);
    panel.height = choosing_height(panel.batches.size(), width);
  } else if (draft.doing == Doing::adding) {
    panel.steps = steps_to_add(*draft.plan);
    panel.height = adding_height(panel.steps.size());
  } else {
    const float preview = plan_preview_height(view, width);
    panel.height =
        plan_numbers_height(view, width) + 16 + preview + (preview > 0 ? 12 : 0) + acts_height(draft, version, width);
  }
  return panel;
}

std::optional<Wish> draw_plan_panel(ScreenView& view, Rect area, const PlanPanel& panel, const PlanVersion& version) {
  const PlanDraft& draft = view.ui.plan;
  if (draft.doing == Doing::naming) return draw_naming(view, area);
  if (draft.doing == Doing::choosing) return draw_choosing(view, area, panel.batches);
  if (draft.doing == Doing::adding) {
    draw_adding(view, area, panel.steps);
    return std::nullopt;
  }
  // As it stood when its room was measured.
  const float editor = plan_numbers_height(view, area.w);
  const float preview = plan_preview_height(view, area.w);
  draw_plan_numbers(view, area.take_top(editor, 16));
  if (preview > 0) draw_plan_preview(view, area.take_top(preview, 12));
  return draw_acts(view, area, version);
}

}  // namespace motherbulb

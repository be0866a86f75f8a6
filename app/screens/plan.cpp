// One growing plan: its steps with their windows and sources, and the editor of its numbers. What a change would move
// is shown before it is kept.

#include <algorithm>

#include "app/due_words.hpp"
#include "app/plan_preview.hpp"
#include "app/screens/plan_parts.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/slips.hpp"
#include "app/widgets/weeks_ahead.hpp"
#include "app/words.hpp"
#include "app/words/plans.hpp"
#include "core/names.hpp"
#include "core/plans/plan_file.hpp"

namespace motherbulb {

std::string method_of_plan(Method method) {
  return std::string(cuts(method) ? name_of(method) : plans_words().of_bulbs);
}

std::string plan_words_of(const GrowingPlan& plan) {
  const PlansWords& w = plans_words();
  const std::string kind = say(w.name, plan.genus, method_of_plan(plan.method));
  return plan.name.empty() ? kind : say(w.copy_name, plan.name, kind);
}

std::string changed_words(const PlanVersion& version, Day today) {
  const PlansWords& w = plans_words();
  const std::string steps = counted(static_cast<std::int64_t>(version.plan->steps.size()), w.step, w.steps);
  if (version.shipped) return say(w.row, steps);
  const std::string day = day_near(local_day(version.when), today);
  return version.helper.empty() ? say(w.row_mine_nobody, steps, day) : say(w.row_mine, steps, day, version.helper);
}

namespace {

using Doing = PlanDraft::Doing;

constexpr float key = 56;
constexpr float gap = 8;
constexpr std::size_t moves_told = 4;
constexpr std::int32_t longest_days = 20 * 365;

std::string length(const Span& span) {
  const PlansWords& w = plans_words();
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

std::string from_words(const PlanStep& step) {
  const PlansWords& w = plans_words();
  std::string text;
  for (std::size_t i = 0; i < step.after.size(); ++i) {
    const std::string_view event = w.after[static_cast<std::size_t>(step.after[i])];
    text = i == 0 ? std::string(event) : say(i + 1 == step.after.size() ? w.or_last : w.and_another, text, event);
  }
  return text;
}

// A week of the north as it falls here.
std::int32_t week_here(std::int32_t week, bool south) {
  return south ? (week + 25) % 52 + 1 : week;
}

std::string window_of(const PlanStep& step, bool south) {
  const PlansWords& w = plans_words();
  std::string text;
  if (step.season) {
    std::string from = from_words(step);
    from = step.opens && step.opens->amount > 0 ? say(w.row_window_least, length(*step.opens), from)
                                                : say(w.row_after, from);
    text = south ? say(w.row_season_south, week_here(step.season->from, true), week_here(step.season->to, true),
                       step.season->from, step.season->to, from)
                 : say(w.row_season, step.season->from, step.season->to, from);
  } else if (!step.opens || step.opens->amount == 0) {
    text = say(w.row_window, 0, length(*step.closes), from_words(step));
  } else if (step.opens->in == step.closes->in) {
    text = say(w.row_window, step.opens->amount, length(*step.closes), from_words(step));
  } else {
    text = say(w.row_window, length(*step.opens), length(*step.closes), from_words(step));
  }
  if (step.every) text = say(w.row_every, text, length(*step.every));
  return step.seen.empty() ? text : say(w.row_seen, text, step.seen);
}

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

// ------------------------------------------------------------------------------------------------------ the draft

void begin_draft(ScreenView& view, const PlanVersion& version) {
  PlanDraft& draft = view.ui.plan;
  if (draft.of == version.plan->id && draft.plan && draft.changed) return;
  const std::size_t step = draft.of == version.plan->id ? draft.step : 0;
  const Doing doing = draft.of == version.plan->id ? draft.doing : Doing::looking;
  const PlanDraft::Preview preview = draft.of == version.plan->id ? draft.preview : PlanDraft::Preview{};
  const std::set<BatchId> follow = draft.of == version.plan->id ? draft.follow : std::set<BatchId>{};
  draft = {};
  draft.of = version.plan->id;
  draft.plan = *version.plan;
  draft.plan->for_all = false;
  draft.step = std::min(step, draft.plan->steps.size() - 1);
  draft.doing = doing;
  draft.preview = preview;
  draft.follow = follow;
}

void changed(PlanDraft& draft) {
  draft.changed = true;
  draft.preview.made = false;
}

void refresh_preview(ScreenView& view) {
  const PlansWords& w = plans_words();
  PlanDraft& draft = view.ui.plan;
  auto& preview = draft.preview;
  if (preview.made && preview.revision == view.rows.revision()) return;
  preview = {};
  preview.made = true;
  preview.revision = view.rows.revision();
  preview.batches = followers_of(view.rows, draft.of).size();
  preview.faults = faults_of(*draft.plan, plan_words_of(*draft.plan));
  if (!draft.changed || !preview.faults.empty()) return;
  const Hemisphere where = view.ui.settings.south ? Hemisphere::south : Hemisphere::north;
  std::set<PotId> pots;
  for (const PlanMove& move : moves_of(view.rows, *draft.plan, where)) {
    pots.insert(move.pot->id());
    if (preview.lines.size() >= moves_told) continue;
    const std::string step(name_of(move.step));
    if (!move.after) {
      preview.lines.push_back(say(w.move_gone, move.pot->label, step));
    } else if (!move.before) {
      preview.lines.push_back(say(w.move_new, move.pot->label, step, day_near(*move.after, view.today)));
    } else if (*move.before == *move.after) {
      preview.lines.push_back(say(w.move_window, move.pot->label, step));
    } else {
      preview.lines.push_back(say(w.move_line, move.pot->label, step, day_near(*move.after, view.today),
                                  day_near(*move.before, view.today)));
    }
  }
  preview.pots = pots.size();
}

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

// ------------------------------------------------------------------------------------------------------- the steps

void draw_step_row(ScreenView& view, Rect row, std::size_t at, bool rule) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  PlanDraft& draft = view.ui.plan;
  const PlanStep& step = draft.plan->steps[at];
  const std::string name = "step:" + std::string(to_text(step.step)) + ":" + std::string(to_text(step.of));
  if (pen.touch.hit(name, row.inset(0, 4))) {
    draft.step = at;
    draft.doing = Doing::looking;
  }
  const bool pressed = is_pressed(pen, name);
  if (pressed || draft.step == at) pen.fill(row.inset(4, 4), pressed ? t.straw : t.proposed, 6);
  if (rule) pen.fill({row.x + 20, row.y - 0.75F, row.w - 40, 1.5F}, t.night ? t.ring : t.well);
  const Color ink = pressed ? t.on_straw : t.ink, ink2 = pressed ? t.on_straw : t.ink2;
  draw_step_stake(pen, {row.x + 36, row.middle().y}, 28, step.step);
  const Rect text{row.x + 66, row.y + 10, row.w - 82, row.h - 20};
  std::string title(name_of(step.step));
  if (step.of == Of::waiting) title += ", " + std::string(plans_words().of[static_cast<std::size_t>(step.of)]);
  pen.text_in({text.x, text.y, text.w, 28}, Type::heading_20, ink, title);
  pen.paragraph({text.x, text.y + 28, text.w, text.h - 28}, Type::body_15, ink2,
                window_of(step, view.ui.settings.south), 3);
}

float step_row_height(ScreenView& view, float width, std::size_t at) {
  const std::string window = window_of(view.ui.plan.plan->steps[at], view.ui.settings.south);
  return 52 + view.pen.paragraph_height(width - 82, Type::body_15, window, 3);
}

// ------------------------------------------------------------------------------------------------------ the editor

// "Opens   [−]  8 weeks  [+]". What to add to the amount; the unit's key turns it into the next.
struct Stepped {
  int by = 0;
  bool unit = false;
};
Stepped draw_stepper(Pen& pen, Rect row, const std::string& name, std::string_view title, const std::string& amount,
                     bool less, bool with_unit) {
  const Theme& t = pen.theme;
  Stepped stepped;
  Rect keys = row.take_right(std::min(row.w * 0.66F, 300.0F));
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

float editor_height(const PlanStep& step) {
  float rows = 0;
  if (step.opens) rows += 1;
  if (step.closes) rows += 1;
  if (step.every) rows += 1;
  if (step.season) rows += 2;
  return 40 + rows * (key + gap) + 24 * static_cast<float>(sources_of(step).size()) + 8 + key;
}

void draw_editor(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const PlansWords& w = plans_words();
  PlanDraft& draft = view.ui.plan;
  PlanStep& step = draft.plan->steps[draft.step];
  pen.text_in(area.take_top(34, 6), Type::heading_24, t.ink, name_of(step.step));
  const auto row = [&] { return area.take_top(key, gap); };
  if (step.opens) {
    step_span(draft, *step.opens,
              draw_stepper(pen, row(), "plan:opens", w.opens, length(*step.opens), step.opens->amount > 0, true), 0);
    // The window's ends push each other along.
    if (step.closes && step.closes->days() < step.opens->days()) {
      *step.closes = *step.opens;
      step.closes->source = by_the_grower;
    }
  }
  if (step.closes) {
    step_span(draft, *step.closes,
              draw_stepper(pen, row(), "plan:closes", w.closes, length(*step.closes), step.closes->amount > 0, true),
              0);
    if (step.opens && step.closes->days() < step.opens->days()) {
      *step.opens = *step.closes;
      step.opens->source = by_the_grower;
    }
  }
  if (step.every) {
    step_span(draft, *step.every,
              draw_stepper(pen, row(), "plan:every", w.every, length(*step.every), step.every->amount > 1, true), 1);
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
  for (const auto& [title, source] : sources_of(step)) {
    const std::string told = say(w.source_of, title, source_words(*draft.plan, source));
    pen.text_in(area.take_top(24), pen.fitting({Type::body_16, Type::body_15}, told, area.w), t.ink2, told);
  }
  area.take_top(8);
  if (must_stay(step)) {
    pen.text_in(area.take_top(key), Type::body_15, t.ink2, w.must_stay);
  } else if (draw_act(pen, area.take_top(key),
                      {"plan:leave-out", w.leave_out, ActStyle::plain, {}, draft.plan->steps.size() > 1})) {
    draft.plan->steps.erase(draft.plan->steps.begin() + static_cast<std::ptrdiff_t>(draft.step));
    draft.step = 0;
    changed(draft);
  }
}

float preview_height(ScreenView& view, float width) {
  const auto& preview = view.ui.plan.preview;
  if (!preview.faults.empty()) {
    float h = 34;
    for (const std::string& fault : preview.faults) h += view.pen.paragraph_height(width, Type::body_16, fault, 4) + 4;
    return h;
  }
  if (!view.ui.plan.changed) return 0;
  return 52 + 24 * static_cast<float>(preview.lines.size());
}

void draw_preview(ScreenView& view, Rect area) {
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
  for (const std::string& one : preview.lines) pen.text_in(area.take_top(24), Type::body_15, t.ink2, one);
}

// -------------------------------------------------------------------------------------------------- acts of the plan

float acts_height(const PlanDraft& draft) {
  return (draft.changed ? 3 : 2) * (key + gap);
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
  Rect first = row();
  const Rect copy = first.take_left((first.w - gap) / 2, gap);
  if (draw_act(pen, copy, {"plan:copy", w.copy, ActStyle::quiet, {}, true})) draft.doing = Doing::naming;
  if (draw_act(pen, first, {"plan:add", w.add, ActStyle::quiet, {}, true})) draft.doing = Doing::adding;
  Rect second = row();
  const bool mine = !version.shipped && version.plan->name.empty();
  const Rect choose = mine ? second.take_left((second.w - gap) / 2, gap) : second;
  if (draw_act(pen, choose, {"plan:choose", w.choose, ActStyle::quiet, {}, true})) {
    draft.doing = Doing::choosing;
    draft.follow.clear();
  }
  if (mine && draw_act(pen, second, {"plan:shipped", w.to_shipped, ActStyle::quiet, {}, true})) {
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
  const bool entered = draw_text_entry(pen, area.take_top(text_entry_height(view.layout.phone()), 12),
                                       {"plan-name", w.copy_hint, 40, false}, draft.name, view.layout.phone());
  const std::string name = without_ends(draft.name);
  Rect acts = area.take_top(60);
  const Rect keep = acts.take_left(acts.w * 0.6F, gap);
  if ((draw_act(pen, keep, {"plan:copy-keep", w.copy_keep, ActStyle::main, {}, !name.empty()}) || entered) &&
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
  if (draw_act(pen, acts, {"plan:name-back", w.give_up, ActStyle::square, {}, true})) draft.doing = Doing::looking;
  return wish;
}

float naming_height(const Layout& layout) {
  return 40 + text_entry_height(layout.phone()) + 12 + 60;
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

float choosing_height(std::size_t batches) {
  return 44 + static_cast<float>(std::max<std::size_t>(batches, 1)) * (key + gap) + 68;
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
  Rect acts = area.take_top(60);
  const Rect keep = acts.take_left(acts.w * 0.6F, gap);
  const std::string all =
      say(w.choose_keep, counted(static_cast<std::int64_t>(draft.follow.size()), w.batch, w.batches));
  if (draw_act(pen, keep, {"plan:follow", all, ActStyle::main, {}, !draft.follow.empty()})) {
    Keep made;
    for (const BatchId& batch : draft.follow) made.commands.emplace_back(fact_of(batch, 0, PlanEdited{draft.of, ""}));
    made.slip = say(w.chosen, plan_words_of(*draft.plan),
                    counted(static_cast<std::int64_t>(draft.follow.size()), w.batch, w.batches));
    made.after = [](UiState& ui, const std::vector<Receipt>&) { ui.plan = {}; };
    wish = made;
  }
  if (draw_act(pen, acts, {"plan:choose-back", w.give_up, ActStyle::square, {}, true})) draft.doing = Doing::looking;
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

// What stands beside the steps, or below them.
struct Panel {
  std::vector<const BatchState*> batches;
  std::vector<Step> steps;
  float height = 0;
};

Panel panel_of(ScreenView& view, float width) {
  const PlanDraft& draft = view.ui.plan;
  Panel panel;
  if (draft.doing == Doing::naming) {
    panel.height = naming_height(view.layout);
  } else if (draft.doing == Doing::choosing) {
    panel.batches = choosable(view);
    panel.height = choosing_height(panel.batches.size());
  } else if (draft.doing == Doing::adding) {
    panel.steps = steps_to_add(*draft.plan);
    panel.height = adding_height(panel.steps.size());
  } else {
    const float preview = preview_height(view, width);
    panel.height =
        editor_height(draft.plan->steps[draft.step]) + 16 + preview + (preview > 0 ? 12 : 0) + acts_height(draft);
  }
  return panel;
}

std::optional<Wish> draw_panel(ScreenView& view, Rect area, const Panel& panel, const PlanVersion& version) {
  const PlanDraft& draft = view.ui.plan;
  if (draft.doing == Doing::naming) return draw_naming(view, area);
  if (draft.doing == Doing::choosing) return draw_choosing(view, area, panel.batches);
  if (draft.doing == Doing::adding) {
    draw_adding(view, area, panel.steps);
    return std::nullopt;
  }
  // As it stood when its room was measured.
  const float editor = editor_height(draft.plan->steps[draft.step]);
  const float preview = preview_height(view, area.w);
  draw_editor(view, area.take_top(editor, 16));
  if (preview > 0) draw_preview(view, area.take_top(preview, 12));
  return draw_acts(view, area, version);
}

}  // namespace

std::optional<Wish> draw_plan_screen(ScreenView& view) {
  const PlansWords& w = plans_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const PlanVersion* version = view.rows.plans().latest(view.ui.about.plan);
  Top top;
  if (version == nullptr) {
    top.title = w.title;
    top.writes = false;
    std::optional<Wish> wish = draw_top(view, top);
    const Rect sheet{view.layout.content.x, view.layout.content.y, view.layout.content.w, 190};
    pen.fill(sheet, t.sheet, 8);
    draw_empty(pen, sheet.inset(20), w.gone, "", "");
    return wish;
  }
  begin_draft(view, *version);
  refresh_preview(view);
  const PlanDraft& draft = view.ui.plan;
  top.title = plan_words_of(*version->plan);
  const std::string day = version->shipped ? std::string() : day_near(local_day(version->when), view.today);
  top.second = version->shipped          ? std::string(w.shipped)
               : version->helper.empty() ? say(w.mine_nobody, day)
                                         : say(w.mine, day, version->helper);
  const auto followers = static_cast<std::int64_t>(draft.preview.batches);
  top.second += "; " + say(followers == 1 ? w.followed_one : w.followed, counted(followers, w.batch, w.batches));
  std::optional<Wish> wish = draw_top(view, top);

  const bool beside = view.layout.landscape();
  Rect area = view.layout.content;
  const Rect list = beside ? area.take_left(area.w * 0.56F, 22) : area;
  std::vector<float> heights;
  float steps_height = 0;
  for (std::size_t i = 0; i < draft.plan->steps.size(); ++i) {
    heights.push_back(step_row_height(view, list.w, i));
    steps_height += heights.back();
  }
  const float panel_wide = (beside ? area.w : list.w) - 40;
  const Panel panel = panel_of(view, panel_wide);
  const float panel_height = panel.height + 36;
  const std::size_t shown = heights.size();
  const auto draw_steps = [&](float y) {
    pen.fill({list.x, y, list.w, steps_height}, t.sheet, 8);
    // A tap may just have left a step out, or given the draft up.
    for (std::size_t i = 0; draft.plan && i < std::min(shown, draft.plan->steps.size()); ++i) {
      draw_step_row(view, {list.x, y, list.w, heights[i]}, i, i > 0);
      y += heights[i];
    }
  };
  if (beside) {
    const float top_of_steps = pen.begin_scroll("plan-steps", list, steps_height);
    draw_steps(top_of_steps);
    pen.end_scroll("plan-steps");
    const float y = pen.begin_scroll("plan-panel", area, panel_height);
    const Rect sheet{area.x, y, area.w, std::max(panel_height, area.h)};
    pen.fill(sheet, t.sheet, 8);
    if (const auto asked = draw_panel(view, sheet.inset(20, 16), panel, *version)) wish = asked;
    pen.end_scroll("plan-panel");
    return wish;
  }
  // The step chosen is edited above the list, where the eye is.
  const float y = pen.begin_scroll("plan", list, panel_height + 16 + steps_height + 12);
  const Rect sheet{list.x, y, list.w, panel_height};
  pen.fill(sheet, t.sheet, 8);
  if (const auto asked = draw_panel(view, sheet.inset(20, 16), panel, *version)) wish = asked;
  draw_steps(y + panel_height + 16);
  pen.end_scroll("plan");
  return wish;
}

}  // namespace motherbulb

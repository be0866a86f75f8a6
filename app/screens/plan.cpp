// One growing plan: its steps with their windows and sources, and the editor of its numbers. What a change would move
// is shown before it is kept.

#include <algorithm>

#include "app/due_words.hpp"
#include "app/plan_preview.hpp"
#include "app/screens/plan_panel.hpp"
#include "app/screens/plan_parts.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/widgets/weeks_ahead.hpp"
#include "app/words.hpp"
#include "app/words/plans.hpp"
#include "core/plans/plan_file.hpp"

namespace motherbulb {

namespace {

constexpr std::size_t moves_told = 4;

// ------------------------------------------------------------------------------------------------------ the draft

// What is not changed yet follows the book: a merge may have brought another version.
void begin_draft(ScreenView& view, const PlanVersion& version) {
  PlanDraft& draft = view.ui.plan;
  if (draft.of != version.plan->id) {
    draft = {};
    draft.of = version.plan->id;
  }
  if (draft.plan && draft.changed) return;
  draft.plan = *version.plan;
  draft.plan->for_all = false;
  draft.step = std::min(draft.step, draft.plan->steps.size() - 1);
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

// ------------------------------------------------------------------------------------------------------- the steps

void draw_step_row(ScreenView& view, Rect row, std::size_t at, bool rule) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  PlanDraft& draft = view.ui.plan;
  const PlanStep& step = draft.plan->steps[at];
  const std::string name = "step:" + std::string(to_text(step.step)) + ":" + std::string(to_text(step.of));
  if (pen.touch.hit(name, row.inset(0, 4))) {
    draft.step = at;
    draft.doing = PlanDraft::Doing::looking;
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
                plan_window_words(step, view.ui.settings.south), 3);
}

float step_row_height(ScreenView& view, float width, std::size_t at) {
  const std::string window = plan_window_words(view.ui.plan.plan->steps[at], view.ui.settings.south);
  return 52 + view.pen.paragraph_height(width - 82, Type::body_15, window, 3);
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
  const bool phone = view.layout.phone();
  const PlanName name = plan_name_of(*version->plan);
  top.title = phone ? name.first : plan_words_of(*version->plan);
  const std::string day = version->shipped ? std::string() : day_near(local_day(version->when), view.today);
  top.second = version->shipped          ? std::string(w.shipped)
               : version->helper.empty() ? say(w.mine_nobody, day)
                                         : say(w.mine, day, version->helper);
  const auto followers = static_cast<std::int64_t>(draft.preview.batches);
  top.second += "; " + say(followers == 1 ? w.followed_one : w.followed, counted(followers, w.batch, w.batches));
  // On a phone the head has no room for all of it.
  const std::string line = phone ? say(w.name_and_line, name.second, top.second) : std::string();
  if (phone) top.second.clear();
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
  // On a phone the letters' keys need all the room there is.
  const float side = phone ? 8 : 20;
  const float panel_wide = (beside ? area.w : list.w) - 2 * side;
  const PlanPanel panel = plan_panel(view, panel_wide, *version);
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
    if (const auto asked = draw_plan_panel(view, sheet.inset(side, 16), panel, *version)) wish = asked;
    pen.end_scroll("plan-panel");
    return wish;
  }
  // The step chosen is edited above the list, where the eye is.
  const float line_height = phone ? pen.paragraph_height(list.w - 8, Type::body_16, line, 4) + 12 : 0;
  float y = pen.begin_scroll("plan", list, line_height + panel_height + 16 + steps_height + 12);
  if (phone) pen.paragraph({list.x + 4, y, list.w - 8, line_height}, Type::body_16, t.ink2, line, 4);
  y += line_height;
  const Rect sheet{list.x, y, list.w, panel_height};
  pen.fill(sheet, t.sheet, 8);
  if (const auto asked = draw_plan_panel(view, sheet.inset(side, 16), panel, *version)) wish = asked;
  draw_steps(y + panel_height + 16);
  pen.end_scroll("plan");
  return wish;
}

}  // namespace motherbulb

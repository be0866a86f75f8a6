// What is wanted of a plan and within what limits: each changed by taps, and the plan follows. And the advice in
// sentences.

#include <algorithm>
#include <array>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/chance.hpp"
#include "app/widgets/labels.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {
namespace {

constexpr float row_high = 56;
constexpr std::int64_t most_reserve = 999;
constexpr std::array<int, 7> sure_steps{50, 60, 70, 80, 90, 95, 99};

using Wanted = OutlookDraft::Wanted;
using Typing = OutlookDraft::Typing;

// What is changed, and how it stands in words.
struct LimitRow {
  Stepper stepper;
  std::function<void(int by)> step;
  Typing typing = Typing::none;
};

// A limit that is not set begins at what the plan takes, and goes away beyond the most.
LimitRow limit_row(std::string name, std::string said, std::optional<std::int64_t>& limit, double taken,
                   Typing typing) {
  LimitRow row{{std::move(name), std::move(said), !limit || *limit > 0, limit.has_value(), true}, {}, typing};
  row.step = [&limit, taken](int by) {
    if (!limit) {
      limit = next_target(std::max<std::int64_t>(1, static_cast<std::int64_t>(taken)), true);
    } else if (by > 0) {
      if (*limit == most_target) {
        limit.reset();
      } else {
        limit = *limit == 0 ? 1 : next_target(*limit, true);
      }
    } else {
      limit = *limit <= 1 ? 0 : next_target(*limit, false);
    }
  };
  return row;
}

std::vector<LimitRow> limit_rows(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  Wanted& wanted = wanted_of(view);
  const auto told = told_of(view);
  const double pots = told ? told->of->plan.pots : 0;
  const double hours = told ? told->of->plan.hours : 0;
  std::vector<LimitRow> rows;
  const std::string target =
      wanted.target > 0 ? say(w.limit_target, grouped(wanted.target)) : std::string(w.limit_usual);
  rows.push_back({{"target", target, wanted.target > 1, wanted.target > 0 && wanted.target < most_target, true},
                  [&wanted](int by) { wanted.target = next_target(wanted.target, by > 0); },
                  Typing::target});
  if (wanted.soonest) {
    rows.push_back({{"season", std::string(w.limit_soonest), false, false, false}, {}, Typing::none});
  } else {
    rows.push_back(
        {{"season", month_after(view, wanted.season), wanted.season > 1, wanted.season < most_seasons_asked, false},
         [&wanted](int by) { by > 0 ? ++wanted.season : --wanted.season; },
         Typing::none});
  }
  rows.push_back(limit_row("pots",
                           wanted.pots ? say(w.limit_pots, grouped(*wanted.pots)) : std::string(w.limit_no_pots),
                           wanted.pots, pots, Typing::pots));
  rows.push_back(limit_row("hours",
                           wanted.hours ? say(w.limit_hours, grouped(*wanted.hours)) : std::string(w.limit_no_hours),
                           wanted.hours, hours, Typing::hours));
  const std::string reserve =
      wanted.reserve > 0 ? say(w.limit_reserve, grouped(wanted.reserve)) : std::string(w.limit_no_reserve);
  rows.push_back({{"reserve", reserve, wanted.reserve > 0, wanted.reserve < most_reserve, false},
                  [&wanted](int by) { wanted.reserve += by; },
                  Typing::none});
  rows.push_back({{"sure", say(w.limit_sure, wanted.sure_percent), wanted.sure_percent > sure_steps.front(),
                   wanted.sure_percent < sure_steps.back(), false},
                  [&wanted](int by) {
                    const auto at = std::find(sure_steps.begin(), sure_steps.end(), wanted.sure_percent);
                    wanted.sure_percent = by > 0 ? *std::next(at) : *std::prev(at);
                  },
                  Typing::none});
  return rows;
}

// "About 96 by November 2030; 83 in 100 to have 80": what comes of it, beside what is changed.
std::string outcome_words(ScreenView& view) {
  const OutlookWords& w = outlook_words();
  const OutlookDraft& draft = view.ui.outlook;
  if (draft.working) return std::string(w.plan_works);
  const auto told = told_of(view);
  if (!told || !(draft.planned.made_for == wanted_of(view))) return std::string(w.limit_no_plan);
  const SeasonPlan& plan = told->of->plan;
  if (!plan.plan.feasible) return std::string(w.plan_none);
  if (plan.saleable.empty()) return std::string(plan.plan.stopped ? w.plan_without_chances : w.limit_stands);
  const std::string about = rounded_words(plan.saleable.back().mean);
  const std::string then = month_after(view, plan.saleable.size());
  if (!plan.chance) return say(w.limit_outcome_plain, about, then);
  return say(w.limit_outcome, about, then, in_a_hundred(*plan.chance), grouped(draft.planned.made_for.target));
}

}  // namespace

Panel limits_panel(ScreenView& view, float width) {
  if (view.ui.outlook.typing != Typing::none) return typing_panel(view);
  Pen& pen = view.pen;
  const auto rows = std::make_shared<std::vector<LimitRow>>(limit_rows(view));
  const float inside = width - 2 * across(view);
  const std::size_t columns = inside > 640 ? 2 : 1;
  const std::size_t lines = (rows->size() + columns - 1) / columns;
  const std::string outcome = outcome_words(view);
  const float said = pen.paragraph_height(inside, Type::body_16, outcome, 3);
  const float height = 28 + 38 + said + 12 + row_high + 12 + static_cast<float>(lines) * (row_high + gap) - gap;
  return {height, [&view, &pen, rows, columns, outcome, said](Rect area) -> std::optional<Wish> {
            const OutlookWords& w = outlook_words();
            const Theme& t = pen.theme;
            Wanted& wanted = wanted_of(view);
            pen.fill(area, t.sheet, 8);
            Rect at = area.inset(across(view), 14);
            pen.text_in(at.take_top(34, 4), Type::heading_24, t.ink, w.limits_title);
            pen.paragraph(at.take_top(said, 12), Type::body_16, t.ink2, outcome, 3);
            Rect goals = at.take_top(row_high, 12);
            const Rect most = goals.take_left((goals.w - gap) / 2, gap);
            if (draw_filter(pen, most, "goal:most", w.goal_most, !wanted.soonest)) wanted.soonest = false;
            if (draw_filter(pen, goals, "goal:soonest", w.goal_soonest, wanted.soonest)) wanted.soonest = true;
            const float wide = (at.w - 16 * static_cast<float>(columns - 1)) / static_cast<float>(columns);
            for (std::size_t i = 0; i < rows->size(); ++i) {
              const LimitRow& row = (*rows)[i];
              const Rect place{at.x + (wide + 16) * static_cast<float>(i % columns),
                               at.y + (row_high + gap) * static_cast<float>(i / columns), wide, row_high};
              const Stepped stepped = draw_stepper(pen, place, row.stepper);
              if (stepped.by != 0 && row.step) row.step(stepped.by);
              if (stepped.middle) {
                view.ui.outlook.typing = row.typing;
                view.ui.outlook.typed.clear();
                pen.touch.scroll_to("season plan", 0);
              }
            }
            return std::nullopt;
          }};
}

Panel advice_panel(ScreenView& view, float width) {
  const auto told = told_of(view);
  if (!told || told->advice.empty()) return {};
  Pen& pen = view.pen;
  const float inside = width - 2 * across(view) - 18;
  std::vector<float> rows;
  float height = 28 + 42;
  for (const std::string& line : told->advice) {
    rows.push_back(pen.paragraph_height(inside, Type::body_16, line) + 10);
    height += rows.back();
  }
  return {height, [&view, &pen, told, rows](Rect area) -> std::optional<Wish> {
            pen.fill(area, pen.theme.sheet, 8);
            Rect at = area.inset(across(view), 14);
            pen.text_in(at.take_top(34, 8), Type::heading_24, pen.theme.ink, outlook_words().advice_title);
            for (std::size_t i = 0; i < rows.size(); ++i) {
              const Rect row = at.take_top(rows[i]);
              pen.disc({row.x + 4, row.y + 12}, 3, pen.theme.tunic);
              pen.paragraph({row.x + 18, row.y, row.w - 18, row.h}, Type::body_16, pen.theme.ink, told->advice[i]);
            }
            return std::nullopt;
          }};
}

}  // namespace motherbulb::ahead

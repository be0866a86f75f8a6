// The hand's side of one growing plan: the numbers of the step chosen, what a change would move, and what can be done
// with the plan. Heights are asked for first, since it scrolls.
#pragma once

#include <vector>

#include "app/screens/screens.hpp"
#include "core/plans/plan_book.hpp"

namespace motherbulb {

void changed(PlanDraft& draft);

[[nodiscard]] float plan_numbers_height(ScreenView& view, float width);
void draw_plan_numbers(ScreenView& view, Rect area);
[[nodiscard]] float plan_preview_height(ScreenView& view, float width);  // 0: there is nothing to say
void draw_plan_preview(ScreenView& view, Rect area);

struct PlanPanel {
  std::vector<const BatchState*> batches;  // that may be told to follow it
  std::vector<Step> steps;                 // that may be added
  float height = 0;
};
[[nodiscard]] PlanPanel plan_panel(ScreenView& view, float width, const PlanVersion& version);
// Into an area as wide, in the same frame.
std::optional<Wish> draw_plan_panel(ScreenView& view, Rect area, const PlanPanel& panel, const PlanVersion& version);

}  // namespace motherbulb

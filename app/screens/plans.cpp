// The growing plans: one for each genus and way of increasing, with who changed it and how many batches follow it.

#include <algorithm>
#include <map>
#include <set>

#include "app/screens/plan_parts.hpp"
#include "app/screens/screens.hpp"
#include "app/words.hpp"
#include "app/words/plans.hpp"

namespace motherbulb {
namespace {

// How many batches follow each plan, and what no plan speaks of.
struct Followed {
  std::map<std::string, std::set<BatchId>> by_plan;
  std::vector<std::string> strips;
};

Followed followed(const ScreenView& view) {
  const PlansWords& w = plans_words();
  const PlanBook& plans = view.rows.plans();
  Followed found;
  std::map<std::string, std::set<BatchId>> without;
  std::set<BatchId> told;
  for (const PotView* pot : view.rows.pots()) {
    const GrowingPlan* plan = plans.plan_for(pot->batch, pot->of_pieces());
    if (plan != nullptr) {
      found.by_plan[plan->id].insert(pot->batch.id);
    } else {
      const Method method = pot->of_pieces() ? pot->batch.method : Method::growing_on;
      without[say(w.name, pot->batch.genus, method_of_plan(method))].insert(pot->batch.id);
    }
    if (!pot->batch.plans.empty() && told.insert(pot->batch.id).second) {
      const std::string missing = plans.missing_for(pot->batch);
      if (!missing.empty()) found.strips.push_back(say(w.missing, batch_words(pot->batch), missing));
      const std::string unread = plans.unread_for(pot->batch);
      if (!unread.empty()) found.strips.push_back(say(w.not_read, unread));
    }
  }
  for (const auto& [what, batches] : without) {
    found.strips.push_back(
        say(w.no_plan, what, counted(static_cast<std::int64_t>(batches.size()), w.batch, w.batches)));
  }
  for (const std::string& fault : plans.faults()) found.strips.push_back(say(w.not_read, fault));
  return found;
}

}  // namespace

std::optional<Wish> draw_plans_screen(ScreenView& view) {
  const PlansWords& w = plans_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const std::vector<const PlanVersion*> plans = view.rows.plans().latest();
  const Followed found = followed(view);
  Top top;
  top.title = w.title;
  top.second = say(w.second, counted(static_cast<std::int64_t>(plans.size()), w.plan, w.plans), found.by_plan.size());
  top.writes = false;
  std::optional<Wish> wish = draw_top(view, top);
  const bool phone = view.layout.phone();
  const Rect panel = view.layout.content;
  const float row = phone ? 120.0F : 84.0F;  // on a phone up to three lines under the name
  float strips = 0;
  const float inside = panel.w - 40;
  for (const std::string& strip : found.strips) strips += pen.paragraph_height(inside, Type::body_16, strip, 4) + 24;
  if (strips > 0) strips += 12;
  const float height = strips + row * static_cast<float>(plans.size()) + 16;
  float y = pen.begin_scroll("plans", panel, height);
  for (const std::string& strip : found.strips) {
    const float h = pen.paragraph_height(inside, Type::body_16, strip, 4);
    pen.fill({panel.x, y, panel.w, h + 16}, t.sheet, 8);
    pen.frame({panel.x, y, panel.w, h + 16}, t.copper_fill, 2, 8);
    pen.paragraph({panel.x + 20, y + 8, inside, h}, Type::body_16, t.ink, strip, 4);
    y += h + 24;
  }
  if (strips > 0) y += 12;
  pen.fill({panel.x, y, panel.w, row * static_cast<float>(plans.size())}, t.sheet, 8);
  bool rule = false;
  for (const PlanVersion* version : plans) {
    const Rect area{panel.x, y, panel.w, row};
    y += row;
    if (area.bottom() < panel.y || area.y > panel.bottom()) {
      rule = true;
      continue;
    }
    RowView one;
    one.with_mark = false;
    const PlanName name = plan_name_of(*version->plan);
    const std::string changed = changed_words(*version, view.today);
    one.name = phone ? name.first : plan_words_of(*version->plan);
    one.line = phone ? say(w.name_and_line, name.second, changed) : changed;
    const auto in_use = found.by_plan.find(version->plan->id);
    if (in_use != found.by_plan.end()) {
      const auto count = static_cast<std::int64_t>(in_use->second.size());
      one.right = grouped(count);
      one.right_word = std::string(count == 1 ? w.batch : w.batches);
    }
    one.target = "plan:" + version->plan->id;
    if (draw_row(pen, area, one, rule, phone)) {
      Subject about;
      about.plan = version->plan->id;
      wish = Go{Screen::plan, about};
    }
    rule = true;
  }
  pen.end_scroll("plans");
  return wish;
}

}  // namespace motherbulb

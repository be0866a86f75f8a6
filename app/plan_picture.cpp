#include "app/plan_picture.hpp"

#include "core/science/advice.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/book_plan.hpp"
#include "core/science/book_yields.hpp"

namespace motherbulb {

Result<PlanClones> clones_to_plan(const Logbook& book, const std::string& clone, Day on, const GoOn& go_on) {
  if (!go_on(0)) return stopped_by_hand();
  auto facts = past_facts(book);
  if (!facts) return facts.error();
  if (!go_on(0)) return stopped_by_hand();
  const CutGivers gives = cut_givers_of(yield_records(*facts));
  const BookOnDay day = book_on_day(book, on, std::move(*facts));
  return plan_clones_of(book, day, clone, gives, go_on);
}

Result<PlanPicture> plan_ahead(const std::shared_ptr<const PlanClones>& clones, const SeasonWish& wish,
                               const GoOn& go_on) {
  if (!go_on(0)) return stopped_by_hand();
  auto plan = season_plan(*clones, wish, go_on);
  if (!plan) return plan.error();
  PlanPicture picture{clones, std::move(*plan), {}};
  picture.advice = advice_of(*clones, picture.plan);
  return picture;
}

std::int64_t usual_target(const PlanClones& clones, std::size_t season) {
  double count = 0;
  for (const PlanClone& one : clones) count += mean_saleable(one.growth.model, season);
  return easily_said(count);
}

}  // namespace motherbulb

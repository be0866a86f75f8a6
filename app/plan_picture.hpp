// This season's plan of one clone, or of all that share bench and hours, as the screens show it.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "app/outlook_picture.hpp"
#include "core/logbook.hpp"
#include "core/science/season_plan.hpp"

namespace motherbulb {

using PlanClones = std::vector<PlanClone>;

struct PlanPicture {
  std::shared_ptr<const PlanClones> clones;
  SeasonPlan plan;
  std::vector<std::string> advice;  // one sentence for each act, with its reason; and what to record
};

// That clone, or without a name all that stand. Refused where the book knows no such clone; `cancelled` where go_on
// says no.
Result<PlanClones> clones_to_plan(const Logbook& book, const std::string& clone, Day on, const GoOn& go_on);
// As season_plan: where go_on says no the best one found by then, or `cancelled`.
Result<PlanPicture> plan_ahead(const std::shared_ptr<const PlanClones>& clones, const SeasonWish& wish,
                               const GoOn& go_on);
// What stands of all of them after that season in the mean, if they are cut as now; rounded as usual_target.
[[nodiscard]] std::int64_t usual_target(const PlanClones& clones, std::size_t season);

}  // namespace motherbulb

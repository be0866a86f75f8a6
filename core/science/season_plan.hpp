// The plan of one clone, or of several that share bench and hours: which mothers to cut and how, which bulbs to grow
// on, which to sell, season by season, and how surely that reaches what is wanted. Section 5 of the mathematics, from
// growth models to whole bulbs.
//
// The plan is found on means (plan_solver) and then run through paths (paths.hpp), which give its chances; so are
// the three that stand beside it. Pure.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/science/growth_model.hpp"
#include "core/science/outlook.hpp"
#include "core/science/plan.hpp"
#include "shared/result.hpp"

namespace motherbulb {

// A clone and the ways of cutting it that are to be chosen among. `share_cut` of each says how it is cut now.
struct PlanClone {
  std::string clone;
  GrowthModel growth;
  std::vector<CutGives> ways;
  double least_to_cut_cm = 0;  // smaller bulbs are not cut
  double own_pot_from_cm = 0;  // from there on a bulb has a pot of its own
};

// Pots and hours of the work, for a limit on either. What nobody has measured is a working assumption.
struct WorkFigures {
  double young_in_a_pot = 6;
  double sections_in_a_pot = 8;
  double sections_an_hour = 200;  // common practice: 100 to 300 cut by hand
  double pots_an_hour = 100;      // common practice: 60 to 150 filled by hand
};

struct SeasonWish {
  std::size_t seasons = 5;             // the horizon; of `soonest` the most that may pass
  std::optional<std::int64_t> target;  // saleable bulbs of all the clones together
  bool soonest = false;                // the fewest seasons to the target, in place of the most after `seasons`
  PlanLimit pots, hours;
  std::int64_t reserve = 0;  // bulbs large enough to be cut that are kept of each clone
  double sure = 0;           // the chance of the target that is asked for
  WorkFigures work;
  std::size_t paths = 4'000;
  std::uint64_t seed = 1;
};

// What stands for an act of the programme.
struct SeasonActMeaning {
  std::size_t clone = 0;
  std::optional<Grade> grade;  // none: sections that grow already
  PlanActKind kind = PlanActKind::keeps;
  std::optional<Method> method;
  std::int32_t sections = 0;
  double per_mother = 0;  // of a cut: bulblets in the mean
};

struct SeasonAct {
  std::size_t season = 1;
  std::size_t act = 0;  // of the task, and of `meanings`
  double count = 0;
};

// A way to go on, as it comes out.
struct SeasonChoice {
  std::string name;              // "cut all", "cut none", "as last year"
  std::vector<double> saleable;  // season 0, 1, ...: means
  std::optional<double> chance;  // of the target, in the last season
  bool within_limits = true;
};

struct SeasonRelease {
  std::size_t season = 0;            // the first in which the target can be sold as surely as asked for
  std::vector<std::int64_t> counts;  // then and in the seasons after: as surely as asked for there are so many
  double chance = 0;                 // of the target in that season
};

struct SeasonPlan {
  PlanTask task;
  std::vector<SeasonActMeaning> meanings;
  Plan plan;
  std::vector<SeasonAct> acts;   // season by season, then by clone, size and act; none of 0
  std::vector<Spread> saleable;  // season 1, 2, ...
  std::optional<double> chance;  // of the target in the plan's last season
  bool sure_enough = true;       // the chance that was asked for is reached
  std::vector<SeasonChoice> beside;
  std::optional<SeasonRelease> release;
  double pots = 0, hours = 0;  // that season 1 takes
  std::vector<std::string> missing;
};

// Refused where there is no clone or the wish is out of bounds. A plan that cannot be is an answer: plan.feasible is
// false and plan.in_the_way says why. Where go_on says no the best plan found by then is the answer, with its gap, and
// without chances where it was said while they were reckoned; `cancelled` where there is none yet.
Result<SeasonPlan> season_plan(const std::vector<PlanClone>& clones, const SeasonWish& wish,
                               const std::function<bool(double done)>& go_on = {});

}  // namespace motherbulb

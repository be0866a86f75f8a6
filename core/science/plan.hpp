// The plan: which bulbs to cut, how, which to grow on, which to sell. Section 5 of the mathematics, as values: what is
// asked (PlanTask), what is answered (Plan), and what is reckoned from either without a solver. `plan_file` reads and
// writes them; `plan_solver` finds a plan.
//
// One step is one season. Bulbs of several clones are told apart by classes: clone by clone, each in order of size.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace motherbulb {

inline constexpr std::size_t most_plan_seasons = 60;
inline constexpr std::size_t most_plan_classes = 5'000;
inline constexpr std::size_t most_plan_columns = 200'000;  // seasons * acts
inline constexpr std::int64_t most_plan_bulbs = 1'000'000'000;

struct PlanClass {
  std::string name;
  bool saleable = false;
  std::optional<double> price;  // money for one bulb; needed only where it is sold for most_money
};

struct PlanGive {
  std::size_t to = 0;  // class
  double mean = 0;     // bulbs there next season, for one bulb given the act
};

// An act for bulbs of one class. One whose name begins with "cut" cuts, with "sell" sells and gives nothing; every
// other keeps the bulb.
struct PlanAct {
  std::string name;
  std::size_t of_class = 0;
  double space = 0;  // for one bulb, while the season lasts
  double hours = 0;  // for one bulb
  double cost = 0;   // money for one bulb: material
  std::vector<PlanGive> gives;
};
enum class PlanActKind { keeps, cuts, sells };
PlanActKind kind_of(const PlanAct& act);

// Empty: no limit. One number: that of every season. Else one number for each season, the first is of season 1.
using PlanLimit = std::vector<double>;
struct PlanLimits {
  PlanLimit space, hours;
};
std::optional<double> limit_in(const PlanLimit& limit, std::size_t season);

enum class PlanGoalKind { most_saleable_by, fewest_seasons_to, most_money };
struct PlanGoal {
  PlanGoalKind kind = PlanGoalKind::most_saleable_by;
  std::int64_t target = 0;  // of fewest_seasons_to: saleable bulbs
  double interest = 0, wage = 0,
         rent = 0;  // of most_money: a season; money an hour; money for a unit of space, a season
};

// In each season at least `count` bulbs of the classes from `first` to `last` are kept: neither cut nor sold.
struct PlanReserve {
  std::size_t first = 0, last = 0;  // both belong to it
  double count = 0;
};

struct PlanTask {
  std::string name;
  std::vector<PlanClass> classes;
  std::vector<std::int64_t> start;  // bulbs of each class now
  std::vector<PlanAct> acts;
  std::size_t seasons = 1;
  PlanLimits limits;
  PlanGoal goal;
  std::vector<PlanReserve> reserves;
};

// What is wrong with the task, as "field: what, and what would mend it"; nothing where it is sound. Fields are called
// as in the file.
std::optional<std::string> fault_of(const PlanTask& task);

enum class PlanLimitKind { space, hours, reserve, no_act, target };
// Why there is no plan. With that much more (space, hours), fewer (reserve, target), or thrown away (no_act), all of
// those together, there would be one; the sum of what is missing, each by its limit, is the least that can be.
struct PlanInTheWay {
  PlanLimitKind kind = PlanLimitKind::space;
  std::size_t season = 0;
  double by = 0;
  std::size_t which = 0;  // the reserve's number, or the class that has no act
};

struct Plan {
  bool feasible = false;
  // Saleable bulbs after the last season; seasons; or money. Reckoned from `acts`. Empty where there is no plan.
  std::optional<double> objective;
  double gap = 0;  // at most this part of the objective could still be won; 0: proven
  bool proven = false;
  std::size_t seasons = 0;  // that it takes: those of the task, or the fewest to the target
  // acts[season - 1][act]: bulbs given that act; whole in season 1, means after it. All of each class's bulbs.
  std::vector<std::vector<double>> acts;
  // stock[season][class]: what stands after that season, 0 is the start. Means.
  std::vector<std::vector<double>> stock;
  std::vector<PlanInTheWay> in_the_way;  // only where there is no plan
  bool stopped = false;                  // go_on said no before it was done
};

// What comes of the acts; and what of each class is saleable.
std::vector<std::vector<double>> stock_after(const PlanTask& task, const std::vector<std::vector<double>>& acts);
double saleable_in(const PlanTask& task, const std::vector<double>& stock);
// Price less hours, space and material of one bulb given the act, in the season it is; and of all acts, each season's
// money divided by (1 + interest) once a season. Source: mathematics.md 5, most_money.
double money_of_one(const PlanTask& task, std::size_t act);
double money_of(const PlanTask& task, const std::vector<std::vector<double>>& acts);

// Every balance, limit and reserve of the acts of all seasons holds, but for `rounding` of it; no class with bulbs is
// left without an act.
bool holds(const PlanTask& task, const std::vector<std::vector<double>>& acts, double rounding);

// What stands beside a plan, so that it is seen what the plan is worth: the same to every bulb of a class, each season,
// whatever the limits are. Bulbs of a class without an act are gone.
struct PlanBeside {
  std::vector<std::vector<double>> acts, stock;  // as in Plan
  bool within_limits = false;                    // limits and reserves hold, and every class with bulbs has an act
};
inline constexpr std::size_t no_act = static_cast<std::size_t>(-1);
using PlanPolicy = std::vector<std::size_t>;  // of each class its act, or no_act
// Every bulb that can be cut is cut, by the first such act of its class; none is. Others are kept, else sold.
PlanPolicy cut_all(const PlanTask& task);
PlanPolicy cut_none(const PlanTask& task);
PlanBeside beside(const PlanTask& task, const PlanPolicy& policy, std::size_t seasons);

}  // namespace motherbulb

// Plans that a person can work out by hand from the rules of section 5 of the mathematics; the working stands beside
// each. Larger ones are checked against glpsol and cbc by plan_check.py.
#include "core/science/plan.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "core/science/plan_solver.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

constexpr std::size_t small = 0, big = 1;

// Small ones and big ones; the big are saleable.
PlanTask task_of(std::int64_t smalls, std::int64_t bigs, std::size_t seasons, std::vector<PlanAct> acts) {
  PlanTask task;
  task.classes = {{"small", false, {}}, {"big", true, {}}};
  task.start = {smalls, bigs};
  task.seasons = seasons;
  task.acts = std::move(acts);
  return task;
}

PlanAct act(std::string name, std::size_t of_class, double space, double hours, std::vector<PlanGive> gives) {
  return {std::move(name), of_class, space, hours, 0, std::move(gives)};
}

// A big one is kept, or cut for 3 small ones; half of the small are big a season later, half stay small.
PlanTask mothers(std::int64_t bigs, std::size_t seasons) {
  return task_of(0, bigs, seasons,
                 {act("grow on", small, 0, 0, {{small, 0.5}, {big, 0.5}}), act("grow on", big, 0, 0, {{big, 1}}),
                  act("cut in 4", big, 0, 1, {{small, 3}})});
}
constexpr std::size_t cutting = 2;  // of its acts

double objective(const PlanTask& task) {
  const Plan plan = make::must(solve_plan(task));
  REQUIRE(plan.feasible);
  CHECK(plan.proven);
  CHECK(plan.gap == 0);
  return *plan.objective;
}

}  // namespace

TEST_CASE("what can only grow grows by its means") {
  // 10 small; a quarter stay small, half become big, a quarter are lost. After season 1: 2.5 small, 5 big. After season
  // 2: 5 + 2.5 / 2 = 6.25 big.
  const PlanTask task = task_of(
      10, 0, 2, {act("grow on", small, 0, 0, {{small, 0.25}, {big, 0.5}}), act("grow on", big, 0, 0, {{big, 1}})});
  CHECK(objective(task) == doctest::Approx(6.25).epsilon(1e-12));
  const Plan plan = make::must(solve_plan(task));
  CHECK(plan.stock[1] == std::vector<double>{2.5, 5});
  CHECK(plan.acts[1] == std::vector<double>{2.5, 5});
}

TEST_CASE("a cut pays when there is time for what it gives to grow") {
  // One season: a cut leaves no big one, so 4 are kept. Two: a cut gives 3 / 2 = 1.5 big, so all are cut: 6. Three: 3
  // small in two seasons are 3 / 2 + 3 / 4 = 2.25 big: 9; to cut in season 2 gives 1.5 only.
  CHECK(objective(mothers(4, 1)) == doctest::Approx(4).epsilon(1e-12));
  CHECK(objective(mothers(4, 2)) == doctest::Approx(6).epsilon(1e-12));
  CHECK(objective(mothers(4, 3)) == doctest::Approx(9).epsilon(1e-12));
  CHECK(make::must(solve_plan(mothers(4, 3))).acts[0][cutting] == 4);
}

TEST_CASE("hours bound the cutting, and no half bulb is cut in season 1") {
  // An hour a cut, 2.5 hours a season, two seasons: 2 are cut, not 2.5, for 2 * 1.5 + 2 = 5 (half bulbs: 5.25).
  PlanTask task = mothers(4, 2);
  task.limits.hours = {2.5};
  CHECK(objective(task) == doctest::Approx(5).epsilon(1e-12));
  CHECK(make::must(solve_plan(task)).acts[0][cutting] == 2);
  // In season 2 halves are means. Of 5 in three seasons 2 are cut first (2.25 big each), 2.5 of the other 3 in season 2
  // (1.5 each), and half a one is kept: 4.5 + 3.75 + 0.5.
  task = mothers(5, 3);
  task.limits.hours = {2.5};
  CHECK(objective(task) == doctest::Approx(8.75).epsilon(1e-12));
  task = mothers(4, 3);
  // A limit for each season: none may be cut in season 1, any number in season 2: 4 * 1.5.
  task.limits.hours = {0, 100, 0};
  CHECK(objective(task) == doctest::Approx(6).epsilon(1e-12));
}

TEST_CASE("space bounds what is grown on, and what has no room is sold") {
  // A big one or a cut takes 1, a small one 0.4, and there are 4. All 4 cut: 12 small, of which 4 / 0.4 = 10 have room:
  // 5 big. Each one kept takes the room of 2.5 small ones, which are 1.25 big.
  PlanTask task = mothers(4, 2);
  task.acts[0].space = 0.4;
  task.acts[1].space = task.acts[2].space = 1;
  task.acts.push_back(act("sell", small, 0, 0, {}));
  task.limits.space = {4};
  CHECK(objective(task) == doctest::Approx(5).epsilon(1e-12));
  CHECK(make::must(solve_plan(task)).acts[1][3] == doctest::Approx(2).epsilon(1e-9));
}

TEST_CASE("a reserve is kept in every season, neither cut nor sold") {
  // One big one of 4: 3 are cut, 3 * 1.5 + 1 = 5.5.
  PlanTask task = mothers(4, 2);
  task.reserves = {{big, big, 1}};
  CHECK(objective(task) == doctest::Approx(5.5).epsilon(1e-12));
  // 6 from small on: of 4 big ones 2 are missing in season 1 if all are kept, and 2 again in season 2. To keep 3 and
  // cut one is better: 3 are missing in season 1, and 3 big with 3 small stand in season 2.
  task.reserves = {{small, big, 6}};
  const Plan none = make::must(solve_plan(task));
  CHECK_FALSE(none.feasible);
  CHECK_FALSE(none.objective);
  REQUIRE(none.in_the_way.size() == 1);
  CHECK(none.in_the_way[0].kind == PlanLimitKind::reserve);
  CHECK(none.in_the_way[0].season == 1);
  CHECK(none.in_the_way[0].by == doctest::Approx(3).epsilon(1e-6));
}

TEST_CASE("without a plan it is said which limit is in the way, when, and by how much") {
  // 3 big take 2 each, and there are 4: short by 2 in season 1. With 1.5 of each left, 4.5 stand in season 2: 9, by 5.
  PlanTask task = task_of(0, 3, 2, {act("grow on", big, 2, 0.5, {{big, 1.5}})});
  task.limits.space = {4};
  Plan none = make::must(solve_plan(task));
  CHECK_FALSE(none.feasible);
  REQUIRE(none.in_the_way.size() == 2);
  CHECK(none.in_the_way[0].kind == PlanLimitKind::space);
  CHECK(none.in_the_way[0].season == 1);
  CHECK(none.in_the_way[0].by == doctest::Approx(2).epsilon(1e-6));
  CHECK(none.in_the_way[1].season == 2);
  CHECK(none.in_the_way[1].by == doctest::Approx(5).epsilon(1e-6));
  // Hours: 4.5 * 0.5 = 2.25 in season 2, and there are 2.
  task.limits = {{}, {2}};
  none = make::must(solve_plan(task));
  REQUIRE(none.in_the_way.size() == 1);
  CHECK(none.in_the_way[0].kind == PlanLimitKind::hours);
  CHECK(none.in_the_way[0].season == 2);
  CHECK(none.in_the_way[0].by == doctest::Approx(0.25).epsilon(1e-6));
  // None at all.
  task.limits = {{0}, {}};
  none = make::must(solve_plan(task));
  REQUIRE(none.in_the_way.size() == 2);
  CHECK(none.in_the_way[0].by == doctest::Approx(6).epsilon(1e-6));
}

TEST_CASE("nothing is thrown away in silence: bulbs without an act make a plan impossible") {
  PlanTask task = task_of(5, 1, 1, {act("grow on", big, 0, 0, {{big, 1}})});
  Plan none = make::must(solve_plan(task));
  CHECK_FALSE(none.feasible);
  REQUIRE(none.in_the_way.size() == 1);
  CHECK(none.in_the_way[0].kind == PlanLimitKind::no_act);
  CHECK(none.in_the_way[0].which == small);
  CHECK(none.in_the_way[0].by == doctest::Approx(5).epsilon(1e-6));
  // What is reached only later counts only later: 2 small stand after season 1, which is the end of a plan for one.
  task = task_of(0, 1, 1, {act("grow on", big, 0, 0, {{big, 1}, {small, 2}})});
  CHECK(objective(task) == doctest::Approx(1).epsilon(1e-12));
  task.seasons = 2;
  none = make::must(solve_plan(task));
  REQUIRE(none.in_the_way.size() == 1);
  CHECK(none.in_the_way[0].season == 2);
  CHECK(none.in_the_way[0].by == doctest::Approx(2).epsilon(1e-6));
}

TEST_CASE("the fewest seasons to a target, though more seasons may give less") {
  // Small ones become big, big ones must be cut for 3 small: 2 small; 2 big; 6 small; 6 big; 18 small; 18 big.
  PlanTask task = task_of(2, 0, 5, {act("grow on", small, 0, 0, {{big, 1}}), act("cut in 4", big, 0, 0, {{small, 3}})});
  task.goal.kind = PlanGoalKind::fewest_seasons_to;
  task.goal.target = 2;
  CHECK(objective(task) == 1);
  task.goal.target = 3;
  CHECK(objective(task) == 3);
  task.goal.target = 7;
  CHECK(objective(task) == 5);
  task.goal.target = 18;
  CHECK(objective(task) == 5);
  // Four seasons end with none; three with 6, which is the most: 1 short.
  task.seasons = 4;
  task.goal.target = 7;
  const Plan none = make::must(solve_plan(task));
  CHECK_FALSE(none.feasible);
  CHECK_FALSE(none.objective);
  REQUIRE(none.in_the_way.size() == 1);
  CHECK(none.in_the_way[0].kind == PlanLimitKind::target);
  CHECK(none.in_the_way[0].season == 3);
  CHECK(none.in_the_way[0].by == doctest::Approx(1).epsilon(1e-6));
}

TEST_CASE("a target that stands already takes no season, whatever is in the way") {
  PlanTask task = mothers(4, 3);
  task.goal = {PlanGoalKind::fewest_seasons_to, 4, 0, 0, 0};
  task.reserves = {{small, big, 100}};
  CHECK(objective(task) == 0);
  CHECK(make::must(solve_plan(task)).acts.empty());
}

TEST_CASE("of plans that reach a target as soon, the one with the fewest hours is proposed") {
  // Two seasons to 5 of 4 mothers, an hour a cut: c cut give 1.5 c + 4 - c, so 2 cuts are enough; 4 would give 6.
  PlanTask task = mothers(4, 4);
  task.goal = {PlanGoalKind::fewest_seasons_to, 5, 0, 0, 0};
  CHECK(objective(task) == 2);
  CHECK(make::must(solve_plan(task)).acts[0][cutting] == 2);
}

TEST_CASE("the most money weighs price against interest, wage, rent and material") {
  // 10 big at 8. Sold now: 8 / 1.25 = 6.4. Grown on, 1.5 of each are sold a season later: 1.5 * 8 / 1.5625 = 7.68, less
  // the rent of 1 / 1.25: 6.88.
  PlanTask task = task_of(0, 10, 2, {act("grow on", big, 1, 0, {{big, 1.5}}), act("sell", big, 0, 0.5, {})});
  task.classes[big].price = 8;
  task.goal = {PlanGoalKind::most_money, 0, 0.25, 0, 1};
  CHECK(objective(task) == doctest::Approx(68.8).epsilon(1e-12));
  // A wage of 2: each sold brings 7. Now 5.6; later 1.5 * 7 / 1.5625 - 0.8 = 5.92.
  task.goal.wage = 2;
  CHECK(objective(task) == doctest::Approx(59.2).epsilon(1e-12));
  // Material of 0.5 to grow one on: 5.92 - 0.4 = 5.52, so they are sold now.
  task.acts[0].cost = 0.5;
  CHECK(objective(task) == doctest::Approx(56).epsilon(1e-12));
  // Where nothing can be sold, money is only lost: a season's rent of 10 each, then of 15.
  task.acts.pop_back();
  task.acts[0].cost = 0;
  CHECK(objective(task) == doctest::Approx(-(10 / 1.25 + 15 / 1.5625)).epsilon(1e-12));
}

TEST_CASE("of plans as good the one with fewer hours, then fewer cut bulbs, then the acts named first") {
  // All double the bulbs.
  PlanTask task = task_of(0, 7, 3,
                          {act("slowly", big, 0, 0.3, {{big, 2}}), act("cut in 2", big, 0, 0.2, {{big, 2}}),
                           act("one way", big, 0, 0.2, {{big, 2}}), act("another", big, 0, 0.2, {{big, 2}})});
  const Plan plan = make::must(solve_plan(task));
  CHECK(*plan.objective == doctest::Approx(56).epsilon(1e-9));
  double bulbs = 7;
  for (const std::vector<double>& season : plan.acts) {
    CHECK(season[2] == doctest::Approx(bulbs).epsilon(1e-9));
    bulbs *= 2;
  }
}

TEST_CASE("an empty bench and numbers beyond reason have an answer") {
  CHECK(objective(mothers(0, 5)) == 0);
  PlanTask task = mothers(0, 5);
  task.goal = {PlanGoalKind::fewest_seasons_to, 1'000'000, 0, 0, 0};
  const Plan none = make::must(solve_plan(task));
  REQUIRE(none.in_the_way.size() == 1);
  CHECK(none.in_the_way[0].by == 1e6);
  // A thousandfold for ten seasons, from a million.
  task = task_of(0, 1'000'000, 10, {act("grow on", big, 0, 0, {{big, 1000}})});
  CHECK(objective(task) == doctest::Approx(1e36).epsilon(1e-9));
  task.goal = {PlanGoalKind::fewest_seasons_to, 1'000'000'000, 0, 0, 0};
  CHECK(objective(task) == 1);
  task.acts[0].gives[0].mean = 1e12;
  task.seasons = 60;
  CHECK(solve_plan(task).error().what.find("plan fewer seasons") != std::string::npos);
}

TEST_CASE("a cut that gives thousands, a million bulbs, twenty seasons: what bench and hours let through") {
  // 1 500 000 places, for those kept; an hour a cut, 700.5 a season. So at most 1 500 700.5 stand before the last
  // season, and after it 1 500 000 + 700.5 * 3000. In season 1 a million are kept or cut; 20 seasons are enough to fill
  // the bench.
  PlanTask task =
      task_of(0, 1'000'000, 20, {act("cut in 99", big, 0, 1, {{big, 3000}}), act("keep", big, 1, 0, {{big, 1}})});
  task.limits = {{1'500'000}, {700.5}};
  CHECK(objective(task) == doctest::Approx(3'601'500).epsilon(1e-9));
  // With room for all: each season 700.5 more are cut (700 in the first), each for 2999 more.
  task.limits.space.clear();
  CHECK(objective(task) == doctest::Approx(1e6 + 2999 * (700 + 19 * 700.5)).epsilon(1e-9));
}

TEST_CASE("stopped at once it has a plan that holds, or says that it was stopped") {
  PlanTask task = mothers(401, 8);
  task.limits.hours = {100.5};
  const Plan plan = make::must(solve_plan(task, [](double) { return false; }));
  CHECK(plan.stopped);
  CHECK(plan.in_the_way.empty());
  if (plan.feasible) CHECK(plan.gap >= 0);
}

TEST_CASE("cut all and cut none stand beside it, and say whether they keep the limits") {
  // As above: 4 cut are 12 small, then 6 big; 4 kept are 4.
  PlanTask task = mothers(4, 2);
  task.limits.hours = {3};
  const PlanBeside all = beside(task, cut_all(task), 2);
  CHECK(saleable_in(task, all.stock.back()) == 6);
  CHECK_FALSE(all.within_limits);
  const PlanBeside none = beside(task, cut_none(task), 2);
  CHECK(saleable_in(task, none.stock.back()) == 4);
  CHECK(none.within_limits);
}

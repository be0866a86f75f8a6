// The plan of a clone, on clones so simple that every figure is reckoned by hand.
#include "core/science/season_plan.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "core/science/advice.hpp"

namespace motherbulb {
namespace {

const Grade small{-1, 200}, large{200, -1};

// Small bulbs are all large a season later, large ones stay; nothing is lost, nothing increases by itself. A large one
// cut into 4 gives 5 small ones.
PlanClone simple_clone(const std::string& name, std::int64_t smalls, std::int64_t larges) {
  PlanClone clone{.clone = name, .least_to_cut_cm = 20, .own_pot_from_cm = 20};
  ClassGrowth young{.grade = small, .name = "-20", .saleable = false, .bulbs = smalls};
  young.grows_to = {0, 1};
  ClassGrowth grown{.grade = large, .name = "20+", .saleable = true, .bulbs = larges};
  grown.grows_to = {0, 1};
  clone.growth.classes = {young, grown};
  clone.growth.offset_sizes = {1, 0};
  Model& model = clone.growth.model;
  model.classes = {{"-20", false}, {"20+", true}};
  model.start = {smalls, larges};
  for (const char* year : {"ordinary", "bad"}) {
    model.years.push_back({.name = year, .weight = 1, .survival = Square(2), .increase = Square(2)});
  }
  CutGives way{.method = Method::quartering, .sections = 4, .per_mother = {2, 5}, .size_shares = {1, 0}};
  way.share_cut = {0, 0.5};
  way.source = "as published (by hand)";
  clone.ways = {way};
  return clone;
}

double count_of(const SeasonPlan& plan, std::size_t season, PlanActKind kind) {
  double count = 0;
  for (const SeasonAct& act : plan.acts) {
    if (act.season == season && plan.meanings[act.act].kind == kind && plan.meanings[act.act].grade == large) {
      count += act.count;
    }
  }
  return count;
}

TEST_CASE("all mothers are cut while their bulblets still have the time to grow") {
  // 4 large ones. After two seasons: cut now, 4 * 5 = 20 small, then 20 large. After one only what is large now counts.
  SeasonWish wish{.seasons = 2};
  const auto two = season_plan({simple_clone("Tirna Red", 0, 4)}, wish);
  REQUIRE(two);
  CHECK(*two->plan.objective == doctest::Approx(20));
  CHECK(count_of(*two, 1, PlanActKind::cuts) == 4);
  wish.seasons = 1;
  const auto one = season_plan({simple_clone("Tirna Red", 0, 4)}, wish);
  REQUIRE(one);
  CHECK(*one->plan.objective == doctest::Approx(4));
  CHECK(count_of(*one, 1, PlanActKind::cuts) == 0);
  // Beside it: all cut gives 20 small ones in season 1, all large in 2 and cut never since; none gives the 4. As last
  // year: half of the large are cut each season: 2 stay, 10 small; then 1 + 10 large and 5 small.
  REQUIRE(two->beside.size() == 3);
  CHECK(two->beside[0].name == "cut all");
  CHECK(two->beside[0].saleable == std::vector<double>{4, 0, 20});
  CHECK(two->beside[1].saleable == std::vector<double>{4, 4, 4});
  CHECK(two->beside[2].name == "as last year");
  CHECK(two->beside[2].saleable == std::vector<double>{4, 2, 11});
}

TEST_CASE("pots and hours limit what is cut") {
  // A pot holds the sections of 2 mothers, 6 young or 1 grown bulb. 3 pots in each season: not all 4 can be kept, and
  // cutting all takes 2 pots now and 20 / 6 = 3.33 later, so some have to go.
  SeasonWish wish{.seasons = 2, .pots = {3}};
  const auto plan = season_plan({simple_clone("Tirna Red", 0, 4)}, wish);
  REQUIRE(plan);
  REQUIRE(plan->plan.feasible);
  CHECK(plan->pots <= 3 + 1e-9);
  // At best 18 small ones stand in the second season's 3 pots, or fewer beside mothers. 4 cut give 20, which is too
  // many; of 3 cut and 1 sold 15. 3 cut and 1 kept: 1.5 + 1 pots now; then 15 / 6 + 1 = 3.5 pots with the mother kept,
  // or she is sold: 15.
  CHECK(*plan->plan.objective <= 18 + 1e-9);
  CHECK(*plan->plan.objective >= 15 - 1e-9);
  // An hour cuts 200 sections and fills 100 pots: a mother takes 4 / 200 + 0.5 / 100 = 0.025 hours, a grown bulb that
  // is kept 0.01. In 0.07 hours at most 2 of 4 are cut: 2 * 0.025 + 2 * 0.01.
  SeasonWish hours{.seasons = 1, .hours = {0.07}, .reserve = 2};
  const auto few = season_plan({simple_clone("Tirna Red", 0, 4)}, hours);
  REQUIRE(few);
  REQUIRE(few->plan.feasible);
  CHECK(few->hours <= 0.07 + 1e-9);
}

TEST_CASE("a reserve stays, and one that there is not is in the way") {
  SeasonWish wish{.seasons = 2, .reserve = 1};
  const auto kept = season_plan({simple_clone("Tirna Red", 0, 4)}, wish);
  REQUIRE(kept);
  CHECK(*kept->plan.objective == doctest::Approx(16));  // 3 * 5 and the one
  wish.reserve = 9;
  const auto none = season_plan({simple_clone("Tirna Red", 0, 4)}, wish);
  REQUIRE(none);
  CHECK_FALSE(none->plan.feasible);
  REQUIRE_FALSE(none->plan.in_the_way.empty());
  CHECK(none->plan.in_the_way.front().kind == PlanLimitKind::reserve);
  CHECK(none->plan.in_the_way.front().by == doctest::Approx(5));  // 9 wanted, 4 there
}

TEST_CASE("the soonest is found, and its chance is that of the law of increase") {
  // 18 of 4 mothers' 20 mean, after two seasons. The chance: bulblets are negative binomial of mean 4 * 5 and size
  // 4 * 24 (the dispersion of the way), and none is lost; P(18 or more) = 0.692 by summing its terms
  // C(y + 95, y) p^96 (1 - p)^y, p = 96 / 116, over y = 0 ... 17.
  SeasonWish wish{.seasons = 10, .target = 18, .soonest = true, .paths = 20'000};
  const auto plan = season_plan({simple_clone("Tirna Red", 0, 4)}, wish);
  REQUIRE(plan);
  CHECK(plan->plan.seasons == 2);
  double below = 0, term = std::pow(96.0 / 116, 96);
  for (int y = 0; y < 18; ++y) {
    below += term;
    term *= (y + 96.0) / (y + 1) * (20.0 / 116);
  }
  REQUIRE(plan->chance);
  if (count_of(*plan, 1, PlanActKind::cuts) == 4) {
    CHECK(std::fabs(*plan->chance - (1 - below)) < 5 * std::sqrt(below * (1 - below) / 20'000));
  }
  // To be nearly sure it takes longer, or more.
  wish.sure = 0.99;
  const auto sure = season_plan({simple_clone("Tirna Red", 0, 4)}, wish);
  REQUIRE(sure);
  CHECK(sure->sure_enough);
  CHECK(*sure->chance >= 0.99);
}

TEST_CASE("two clones share the hours, and each has its sentences") {
  // 0.05 hours: two mothers can be cut (0.025 each), whoever they are, when the others are sold or kept at 0.01.
  PlanClone poor = simple_clone("Tirna White", 0, 2);
  poor.ways.front().per_mother = {1, 2};
  SeasonWish wish{.seasons = 2, .hours = {0.07}};
  const auto plan = season_plan({simple_clone("Tirna Red", 0, 2), poor}, wish);
  REQUIRE(plan);
  REQUIRE(plan->plan.feasible);
  double red = 0, white = 0;
  for (const SeasonAct& act : plan->acts) {
    if (act.season != 1 || plan->meanings[act.act].kind != PlanActKind::cuts) continue;
    (plan->meanings[act.act].clone == 0 ? red : white) += act.count;
  }
  CHECK(red == 2);
  CHECK(white == 0);
  const auto advice = advice_of({simple_clone("Tirna Red", 0, 2), poor}, *plan);
  REQUIRE_FALSE(advice.empty());
  CHECK(advice.front() ==
        "Tirna Red: cut 2 of 2 bulbs of 20+ cm by quartering into 4, for each gives about 5 bulblets (as published (by "
        "hand)).");
}

TEST_CASE("nonsense is refused, and nobody is an answer") {
  CHECK_FALSE(season_plan({}, {}));
  CHECK_FALSE(season_plan({simple_clone("Tirna Red", 0, 4)}, {.seasons = 0}));
  CHECK_FALSE(season_plan({simple_clone("Tirna Red", 0, 4)}, {.soonest = true}));
  const auto nothing = season_plan({simple_clone("Tirna Red", 0, 0)}, {.seasons = 3, .target = 5});
  REQUIRE(nothing);
  CHECK(nothing->plan.feasible);
  CHECK(*nothing->plan.objective == 0);
  CHECK(*nothing->chance == 0);
  const auto stopped = season_plan({simple_clone("Tirna Red", 0, 4)}, {.seasons = 3}, [](double) { return false; });
  // So small a task may be solved before anybody is asked; never is half a plan handed out as a whole one.
  if (stopped) CHECK((stopped->plan.feasible && (stopped->plan.proven || stopped->plan.stopped)));
}

TEST_CASE("no room, no hours and a target of a million are answered by what is in the way") {
  const std::vector<PlanClone> clones = {simple_clone("Tirna Red", 2, 4)};
  SeasonWish none{.seasons = 3, .pots = {0}, .hours = {0}};
  const auto nowhere = season_plan(clones, none);
  REQUIRE(nowhere);
  // Small ones can be neither cut nor sold: the two take a third of a pot, which there is not.
  CHECK_FALSE(nowhere->plan.feasible);
  const auto& in_the_way = nowhere->plan.in_the_way;
  const auto space = std::find_if(in_the_way.begin(), in_the_way.end(),
                                  [](const PlanInTheWay& one) { return one.kind == PlanLimitKind::space; });
  REQUIRE(space != in_the_way.end());
  CHECK(space->season == 1);
  CHECK(space->by == doctest::Approx(1.0 / 3));
  SeasonWish million{.seasons = 3, .target = 1'000'000, .soonest = true};
  const auto far = season_plan(clones, million);
  REQUIRE(far);
  CHECK_FALSE(far->plan.feasible);
  REQUIRE_FALSE(far->plan.in_the_way.empty());
  CHECK(far->plan.in_the_way.front().kind == PlanLimitKind::target);
  CHECK_FALSE(far->chance);
  million.soonest = false;  // as many as can be, however far from it
  const auto most = season_plan(clones, million);
  REQUIRE(most);
  CHECK(*most->chance == 0);
}

TEST_CASE("a class that nobody reaches, one section a mother and a way that gives nothing change no plan") {
  PlanClone clone = simple_clone("Tirna Red", 3, 0);
  clone.growth.classes[0].grows_to = {1, 0};  // small ones stay small: none is ever large
  clone.ways.front().per_mother = {0, 0};
  clone.ways.front().sections = 1;
  const auto plan = season_plan({clone}, {.seasons = 4, .target = 1});
  REQUIRE(plan);
  CHECK(*plan->plan.objective == 0);
  CHECK(*plan->chance == 0);
  CHECK_FALSE(plan->release);
}

TEST_CASE("what a clone may be is in the chance of its plan") {
  // Two large ones are kept for a season. By the one set all large ones are lost, by the other none.
  PlanClone clone = simple_clone("Tirna Red", 0, 2);
  clone.ways.clear();
  clone.growth.may_be.assign(2, clone.growth);
  clone.growth.may_be[0].classes[1].loss.value = 1;
  const auto plan = season_plan({clone}, {.seasons = 1, .target = 2, .paths = 1000});
  REQUIRE(plan);
  CHECK(*plan->chance == 0.5);
  CHECK(*plan->plan.objective == 2);
}

TEST_CASE("the walks of a plan can be stopped, and a stopped plan says so") {
  const std::vector<PlanClone> clones = {simple_clone("Tirna Red", 0, 4)};
  SeasonWish wish{.seasons = 2, .target = 18, .paths = 200'000};
  int asked = 0;
  REQUIRE(season_plan(clones, wish, [&asked](double) { return ++asked > 0; }));
  CHECK(asked > 500);  // a question every 256 paths, of four walks
  // Stopped at each of the first questions: never a chance of a walk that was not walked to its end.
  for (int until = 0; until < 12; ++until) {
    int times = 0;
    const auto stopped = season_plan(clones, wish, [&](double) { return times++ < until; });
    if (!stopped) {
      CHECK(stopped.error().kind == ErrorKind::cancelled);
      continue;
    }
    CHECK(stopped->plan.feasible);
    CHECK(stopped->plan.stopped);
    if (stopped->chance) CHECK(stopped->saleable.size() == stopped->plan.seasons);
  }
}

}  // namespace
}  // namespace motherbulb

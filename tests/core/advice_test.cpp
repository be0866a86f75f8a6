// Advice to try another way of cutting: given by rule from the numbers, and never from too few records.
#include "core/science/advice.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "core/science/two_ways.hpp"

using namespace motherbulb;

namespace {

const Grade large{200, -1};

// A way of which four means are equally likely: mean 10, and the variance of {10 - d, 10 - d, 10 + d, 10 + d}.
CutGives way(Method method, std::int32_t sections, double mean, double apart, std::int64_t own_pots) {
  CutGives made{.method = method, .sections = sections, .per_mother = {mean}, .size_shares = {1}};
  for (const double off : {-apart, -apart, apart, apart}) made.may_be.push_back({{mean + off}, {1}});
  made.dispersion = 30;
  made.source = "by hand";
  made.own_pots = own_pots;
  return made;
}

PlanClone clone_of(std::vector<CutGives> ways) {
  PlanClone clone{.clone = "Tirna Red", .ways = std::move(ways), .least_to_cut_cm = 20, .own_pot_from_cm = 20};
  clone.growth.classes = {ClassGrowth{.grade = large, .name = "20+", .saleable = true, .bulbs = 6}};
  clone.growth.from_records = 1;
  return clone;
}

// Six cut by the first way now, and so many later.
SeasonPlan plan_of(double later) {
  SeasonPlan plan;
  plan.task.classes = {{"Tirna Red, 20+", true, std::nullopt}};
  plan.task.start = {6};
  plan.task.acts = {{.name = "cut by chipping into 8", .of_class = 0}};
  plan.meanings = {{.clone = 0,
                    .grade = large,
                    .kind = PlanActKind::cuts,
                    .method = Method::chipping,
                    .sections = 8,
                    .per_mother = 10}};
  plan.acts = {{1, 0, 6}, {2, 0, later}};
  plan.plan.feasible = true;
  plan.plan.seasons = 5;
  return plan;
}

std::string to_learn(const std::vector<CutGives>& ways, double later) {
  for (const std::string& line : advice_of({clone_of(ways)}, plan_of(later))) {
    if (line.find("to learn") != std::string::npos) return line;
  }
  return "";
}

}  // namespace

TEST_CASE("another way is tried where what is learnt is worth more than it costs") {
  const CutGives usual = way(Method::chipping, 8, 10, 1, 5), other = way(Method::quartering, 4, 9, 3, 0);
  // Of the means: 4/3 (1 and 9 with one less in the divisor); of one mother: m + m²/30.
  const WayKnown usual_known{10, 4.0 / 3, 10 + 100.0 / 30}, other_known{9, 4 * 9.0 / 3, 9 + 81.0 / 30};
  const auto trial = worth_trying(usual_known, other_known, 6, 200);
  REQUIRE(trial);
  // Brute force: draw the two means, what n mothers of one and 6 - n of the other give, choose the better posterior
  // mean for the 200 to come; worth is the gain over always taking the usual way.
  std::mt19937_64 random(4);
  INFO("seed 4");
  std::normal_distribution<double> normal;
  const double n = static_cast<double>(trial->mothers);
  const auto posterior = [&](const WayKnown& known, double of, double count) {
    if (count < 1) return known.mean;
    const double seen = of + std::sqrt(known.of_one / count) * normal(random);
    const double weight = known.variance / (known.variance + known.of_one / count);
    return known.mean + weight * (seen - known.mean);
  };
  double sum = 0, squares = 0;
  constexpr int rounds = 200'000;
  for (int i = 0; i < rounds; ++i) {
    const double one = usual_known.mean + std::sqrt(usual_known.variance) * normal(random);
    const double two = other_known.mean + std::sqrt(other_known.variance) * normal(random);
    const bool better = posterior(other_known, two, n) > posterior(usual_known, one, 6 - n);
    const double gain = better ? 200 * (two - one) : 0;
    sum += gain;
    squares += gain * gain;
  }
  const double mean = sum / rounds, error = std::sqrt((squares / rounds - mean * mean) / rounds);
  CHECK(std::fabs(mean - trial->worth) < 5 * error);
  CHECK(to_learn({usual, other}, 200) == "Tirna Red: to learn, cut " + std::to_string(trial->mothers) +
                                             " of these 6 of 20+ cm by quartering into 4: costs about " +
                                             std::to_string(trial->mothers) +
                                             (trial->mothers == 1 ? " bulblet" : " bulblets") + " now, worth about " +
                                             std::to_string(std::llround(trial->worth)) + " bulblets by season 5.");
}

TEST_CASE("nothing is tried from too few records, for no future, or between ways that tell of each other") {
  const CutGives usual = way(Method::chipping, 8, 10, 1, 5);
  CHECK(to_learn({way(Method::chipping, 8, 10, 1, 2), way(Method::quartering, 4, 9, 3, 0)}, 200).empty());
  CHECK(to_learn({usual, way(Method::quartering, 4, 9, 3, 0)}, 0).empty());
  CHECK(to_learn({usual, way(Method::chipping, 12, 9, 3, 0)}, 200).empty());
  CHECK(to_learn({usual, way(Method::twin_scaling, 20, 9, 3, 0)}, 200).empty());
  CHECK(to_learn({usual, way(Method::quartering, 4, 1, 0.5, 0)}, 200).empty());  // surely worse
  CutGives unknown = way(Method::quartering, 4, 9, 3, 0);
  unknown.may_be.clear();
  CHECK(to_learn({usual, unknown}, 200).empty());
}

TEST_CASE("without acts there is no sentence on acts, and with few records it is said what to record") {
  SeasonPlan plan = plan_of(0);
  plan.acts.clear();
  PlanClone clone = clone_of({way(Method::chipping, 8, 10, 1, 5)});
  CHECK(advice_of({clone}, plan).empty());
  clone.growth.from_records = 0.1;
  const std::vector<std::string> advice = advice_of({clone}, plan);
  REQUIRE(advice.size() == 1);
  CHECK(advice[0].rfind("Tirna Red: 10 % of its growth is known from own records. Count bulbs by size", 0) == 0);
}

TEST_CASE(
    "each act of this season has its sentence, with what it rests on; none of later seasons, none without an act") {
  SeasonPlan plan = plan_of(3);
  plan.task.acts.push_back({.name = "sell", .of_class = 0});
  plan.task.acts.push_back({.name = "grow on", .of_class = 0});
  plan.meanings.push_back({.clone = 0, .grade = large, .kind = PlanActKind::sells});
  plan.meanings.push_back({.clone = 0, .grade = large, .kind = PlanActKind::keeps});
  plan.acts = {{1, 0, 2}, {1, 1, 1}, {1, 2, 3}, {2, 1, 5}};
  plan.task.limits.space = {12};
  PlanClone clone = clone_of({way(Method::chipping, 8, 10, 1, 5)});
  clone.growth.classes[0].loss.value = 0.062;
  CHECK(
      advice_of({clone}, plan) ==
      std::vector<std::string>{
          "Tirna Red: cut 2 of 6 bulbs of 20+ cm by chipping into 8, for each gives about 10 bulblets (by hand).",
          "Tirna Red: sell 1 bulb of 20+ cm, for there is no room for them otherwise.",
          "Tirna Red: grow on 3 bulbs, 3 of them large enough to be cut; a season takes about 6.2 % of the largest."});
  // Where nothing is limited there is room.
  plan.task.limits = {};
  CHECK(advice_of({clone}, plan)[1] == "Tirna Red: sell 1 bulb of 20+ cm, for the goal is met without.");
}

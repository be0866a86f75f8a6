// Chances and paths against what can be reckoned by hand or is published.
#include <doctest/doctest.h>

#include <cmath>
#include <numeric>

#include "core/science/extinction.hpp"
#include "core/science/paths.hpp"
#include "tests/form.hpp"

namespace motherbulb {
namespace {

ModelYear year_of(double survival, double increase, double weight = 1) {
  ModelYear year{.weight = weight, .survival = Square(1), .increase = Square(1)};
  year.survival.at(0, 0) = survival;
  year.increase.at(0, 0) = increase;
  return year;
}

// One class, all of it saleable.
Model one_class(std::int64_t start, std::vector<ModelYear> years) {
  return {.classes = {{"all", true}}, .start = {start}, .years = std::move(years)};
}

double lost_by(const Model& model, std::size_t season) {
  const LossChance chance = chances_of_loss(model, season, 1)->back();
  REQUIRE(chance.exact);
  REQUIRE(chance.error == 0);
  return chance.chance;
}

// Two classes in two sorts of year, with increase and bad events: what the tests with drawn numbers walk through.
Model two_classes() {
  Model model{.classes = {{"young", false}, {"grown", true}}, .start = {6, 3}};
  ModelYear good{.name = "good", .weight = 3, .survival = Square(2), .increase = Square(2)};
  good.survival.cells = {0.4, 0.0, 0.3, 0.85};
  good.increase.cells = {0.0, 1.2, 0.0, 0.1};
  ModelYear bad{.name = "bad", .weight = 1, .survival = Square(2), .increase = Square(2)};
  bad.survival.cells = {0.3, 0.1, 0.1, 0.5};
  bad.increase.cells = {0.0, 0.3, 0.0, 0.0};
  model.years = {good, bad};
  model.law = IncreaseLaw::negbin;
  model.dispersion = 1.5;
  model.places = {0.5, 0.25, 0.25};
  model.bad_event = BadEvent{0.1, 0.6};
  return model;
}

TEST_CASE("Galton and Watson's lines with Poisson(1.2) children end with the chance 0.6863") {
  // The root of s = exp(1.2 (s - 1)) below 1: s = 0.6863 to four digits, as tables of branching processes print it.
  // In the check of the root itself nothing of ours is used.
  const double ends = lost_by(one_class(1, {year_of(0, 1.2)}), 200);
  CHECK(std::fabs(ends - 0.6863) < 5e-5);
  CHECK(std::fabs(ends - std::exp(1.2 * (ends - 1))) < 1e-12);
}

TEST_CASE("chances of loss that are reckoned by hand") {
  // Each of 3 bulbs stands after two seasons with 1/2 * 1/2: all are gone with (3/4)^3.
  CHECK(lost_by(one_class(3, {year_of(0.5, 0)}), 2) == doctest::Approx(27.0 / 64).epsilon(1e-14));
  // Geometric increase (dispersion 1, mean 2) has the generating function 1 / (1 + 2 (1 - s)): 1/3, then 3/7.
  Model geometric = one_class(3, {year_of(0, 2)});
  geometric.law = IncreaseLaw::negbin;
  geometric.dispersion = 1;
  CHECK(lost_by(geometric, 1) == doctest::Approx(1.0 / 27).epsilon(1e-14));
  CHECK(lost_by(geometric, 2) == doctest::Approx(27.0 / 343).epsilon(1e-14));
  // Two sorts of year: a season is good or bad for both bulbs at once, and the four sequences weigh the same.
  const Model two_years = one_class(2, {year_of(0.5, 0), year_of(0.9, 0)});
  CHECK(lost_by(two_years, 1) == doctest::Approx((0.25 + 0.01) / 2).epsilon(1e-14));
  CHECK(lost_by(two_years, 2) == doctest::Approx((0.75 * 0.75 + 2 * 0.55 * 0.55 + 0.19 * 0.19) / 4).epsilon(1e-14));
  // Bad events: one place is struck with 0.1 and then loses half; of two equal places none, one or both are.
  Model struck = one_class(2, {year_of(1, 0)});
  struck.bad_event = BadEvent{0.1, 0.5};
  CHECK(lost_by(struck, 1) == doctest::Approx(0.1 * 0.25).epsilon(1e-14));
  struck.places = {3, 3};  // shares need not sum to 1
  CHECK(lost_by(struck, 1) == doctest::Approx(0.18 * 0.0625 + 0.01 * 0.25).epsilon(1e-14));
  // Who is lost to a bad event bears nothing either.
  Model bearing = one_class(1, {year_of(1, 5)});
  bearing.bad_event = BadEvent{0.5, 1};
  CHECK(lost_by(bearing, 1) == doctest::Approx(0.5).epsilon(1e-14));
}

TEST_CASE("the smallest chances keep their digits, and nobody dies of rounding") {
  CHECK(lost_by(one_class(100, {year_of(0.5, 0)}), 1) == doctest::Approx(std::pow(2.0, -100)).epsilon(1e-13));
  CHECK(lost_by(one_class(1'000'000, {year_of(0.001, 0)}), 1) ==
        doctest::Approx(std::exp(1e6 * std::log(0.999))).epsilon(1e-9));
  Model whole{.classes = {{"a", false}, {"b", false}, {"c", true}}, .start = {1, 0, 0}};
  ModelYear year{.survival = Square(3), .increase = Square(3)};
  year.survival.cells = {0.1, 0, 0, 0.2, 1, 0, 0.7, 0, 1};
  whole.years = {year};
  CHECK(lost_by(whole, 5) == 0);
  CHECK(lost_by(one_class(0, {year_of(1, 3)}), 1) == 1);
}

TEST_CASE("beyond the sequences that can be summed, drawn ones agree with the sum") {
  // 2 years over 14 seasons are 16,384 sequences, more than are summed; here they are, by a sum over how many of the
  // seasons were good (their order does not matter where nothing is borne).
  const Model model = one_class(2, {year_of(0.95, 0, 3), year_of(0.4, 0, 1)});
  constexpr int seasons = 14;
  double expected = 0, ways = 1;
  for (int good = 0; good <= seasons; ++good) {
    const double alive = std::pow(0.95, good) * std::pow(0.4, seasons - good);
    expected += ways * std::pow(0.75, good) * std::pow(0.25, seasons - good) * (1 - alive) * (1 - alive);
    ways = ways * (seasons - good) / (good + 1);
  }
  const LossChance drawn = chances_of_loss(model, seasons, make::seed())->back();
  CHECK_FALSE(drawn.exact);
  REQUIRE(drawn.error > 0);
  CHECK(std::fabs(drawn.chance - expected) < 5 * drawn.error);
  CHECK(drawn.error < 0.01);
}

TEST_CASE("a path is the same alone or among many") {
  const Model model = two_classes();
  const auto all = walk_paths(model, policy_of(model), 6, 40, 9, {});
  REQUIRE(all);
  const PathMaker maker(model, policy_of(model));
  std::vector<std::int64_t> alone;
  maker.walk(9, 17, 6, [&alone](std::size_t, const std::vector<std::int64_t>& stock) {
    alone.push_back(std::accumulate(stock.begin(), stock.end(), std::int64_t{0}));
  });
  CHECK(alone == std::vector<std::int64_t>(all->total.begin() + 17 * 6, all->total.begin() + 18 * 6));
  CHECK(all->total != walk_paths(model, policy_of(model), 6, 40, 10, {})->total);
}

TEST_CASE("paths have the means of the projection and the losses of the generating functions") {
  const std::uint64_t seed = make::seed();
  INFO("MOTHERBULB_SEED=" << seed);
  const Model model = two_classes();
  constexpr std::size_t seasons = 4, paths = 40'000;
  const auto stock = walk_paths(model, policy_of(model), seasons, paths, seed, {});
  const auto lost = chances_of_loss(model, seasons, seed);
  const auto means = projection(model, seasons);
  for (std::size_t t = 1; t <= seasons; ++t) {
    INFO("season " << t);
    // A bad event takes 0.1 * 0.6 of all in the mean, before anything else.
    const double left = std::pow(1 - 0.1 * 0.6, static_cast<double>(t));
    double sum = 0, squares = 0, sold = 0, none = 0;
    for (std::size_t path = 0; path < paths; ++path) {
      const auto total = static_cast<double>(stock->total[path * seasons + t - 1]);
      sum += total;
      squares += total * total;
      sold += static_cast<double>(stock->saleable[path * seasons + t - 1]);
      if (total == 0) ++none;
    }
    const double mean = sum / paths;
    const double error = std::sqrt((squares / paths - mean * mean) / paths);
    CHECK(std::fabs(mean - left * (means[t][0] + means[t][1])) < 5 * error);
    CHECK(std::fabs(sold / paths - left * means[t][1]) < 5 * error);
    const double chance = (*lost)[t - 1].chance;
    CHECK(std::fabs(none / paths - chance) <
          5 * std::hypot(std::sqrt(chance * (1 - chance) / paths), (*lost)[t - 1].error));
  }
}

TEST_CASE("quantiles of paths are those of the exact law") {
  // 5 bulbs that survive with 1/2: binomial; P(1 or fewer) = 6/32, P(2 or fewer) = 16/32, P(3 or fewer) = 26/32.
  const Model model = one_class(5, {year_of(0.5, 0)});
  const auto stock = walk_paths(model, policy_of(model), 1, 40'000, make::seed(), {});
  const auto sorted = stock->sorted(stock->total, 1);
  CHECK(quantile(sorted, 0.05) == 1);
  CHECK(quantile(sorted, 0.25) == 2);
  CHECK(quantile(sorted, 0.75) == 3);
  CHECK(quantile(sorted, 0.95) == 4);
  CHECK(std::fabs(share_reaching(sorted, 4) - 6.0 / 32) < 5 * std::sqrt(6.0 / 32 * 26.0 / 32 / 40'000));
  CHECK(share_reaching(sorted, 0) == 1);
  CHECK(share_reaching(sorted, 6) == 0);
  CHECK(quantile({7}, 0.05) == 7);
}

TEST_CASE("a policy gives every bulb one act, to the whole bulb") {
  // 7 bulbs: 3 are cut (each gives exactly one young in the mean 1, and is gone), 4 grow on for sure.
  const Model model{.classes = {{"young", false}, {"grown", true}},
                    .start = {0, 7},
                    .years = {{.weight = 1, .survival = Square(2), .increase = Square(2)}}};
  Policy policy;
  policy.acts = {{.from = 1, .survival = {{1, 0}}, .increase = {{0, 0}}},
                 {.from = 1, .survival = {{0, 1}}, .increase = {{0, 0}}},
                 {.from = 0, .survival = {{1, 0}}, .increase = {{0, 0}}}};
  policy.shares = {{3.0 / 7, 4.0 / 7, 1}};
  const auto stock = walk_paths(model, policy, 1, 10, 1, {});
  for (const std::int64_t saleable : stock->saleable) CHECK(saleable == 4);
  for (const std::int64_t total : stock->total) CHECK(total == 7);
}

TEST_CASE("a stock beyond all counting stays a number") {
  for (const IncreaseLaw law : {IncreaseLaw::poisson, IncreaseLaw::negbin}) {
    Model model = one_class(1'000'000, {year_of(1, 1e6)});
    model.law = law;
    const auto stock = walk_paths(model, policy_of(model), 12, 5, 1, {});
    for (const std::int64_t total : stock->total) {
      CHECK(total >= 1'000'000);
      CHECK(total <= most_bulbs_in_a_path);
    }
  }
}

TEST_CASE("walking can be stopped") {
  const Model model = two_classes();
  int asked = 0;
  const auto stop = [&asked](double) { return ++asked < 3; };
  CHECK_FALSE(walk_paths(model, policy_of(model), 4, 100'000, 1, stop));
  CHECK(asked == 3);
}

}  // namespace
}  // namespace motherbulb

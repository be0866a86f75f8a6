// Draws of what the records leave open: their laws by textbook moments (N. L. Johnson, S. Kotz & N. Balakrishnan,
// Continuous Univariate Distributions, 1994 and 1995), and that paths take the sets in turn.
#include "core/science/unsure.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "core/science/outlook.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

constexpr std::size_t draws = 40'000;

// Within five standard errors of the mean, and of the variance where draws have about normal tails.
template <class Draw>
void check_law(double mean, double variance, Draw draw) {
  PhiloxStream stream(7, 0, 0);
  double sum = 0, squares = 0;
  for (std::size_t i = 0; i < draws; ++i) {
    const double value = draw(stream);
    sum += value;
    squares += value * value;
  }
  const double n = draws, came = sum / n;
  CHECK(std::fabs(came - mean) < 5 * std::sqrt(variance / n));
  CHECK(squares / n - came * came == doctest::Approx(variance).epsilon(0.1));
}

}  // namespace

TEST_CASE("gamma and beta draws have the means and variances of their laws") {
  for (const double shape : {0.3, 2.0, 40.0}) {
    check_law(shape, shape, [shape](PhiloxStream& stream) { return draw_gamma(shape, stream); });
  }
  // Beta(a, b): mean a / (a + b), variance a b / ((a + b)² (a + b + 1)).
  check_law(0.05, 0.05 * 0.95 / 21, [](PhiloxStream& stream) { return draw_beta(1, 19, stream); });
  check_law(0.5, 0.25 / 5, [](PhiloxStream& stream) { return draw_beta(2, 2, stream); });
  PhiloxStream stream(7, 1, 0);
  CHECK(draw_beta(0, 3, stream) == 0);
  CHECK(draw_beta(3, 0, stream) == 1);
}

TEST_CASE("shares of a Dirichlet law sum to 1, and a weight of 0 stays 0") {
  const std::vector<double> weights = {1, 0, 3, 4};
  // Of share i: mean w / 8, variance w (8 - w) / (8² 9).
  for (const std::size_t which : {std::size_t{0}, std::size_t{2}}) {
    const double w = weights[which];
    check_law(w / 8, w * (8 - w) / (64 * 9),
              [&](PhiloxStream& stream) { return draw_dirichlet(weights, stream)[which]; });
  }
  PhiloxStream stream(7, 2, 0);
  for (int i = 0; i < 100; ++i) {
    const std::vector<double> shares = draw_dirichlet({1e-6, 0, 0.5, 1e-3}, stream);
    CHECK(std::accumulate(shares.begin(), shares.end(), 0.0) == doctest::Approx(1));
    CHECK(shares[1] == 0);
  }
  CHECK(draw_dirichlet({0, 0}, stream) == std::vector<double>{0, 0});
}

TEST_CASE("what a cut may give is log-normal around its mean, rich or poor for all mothers alike") {
  const std::vector<Grade> grades = {make::grade("2-4"), make::grade("4-6"), make::grade("6+")};
  const std::vector<DrawnGives> sets =
      draw_gives(Method::chipping, {2.0, 2.5, 3.0}, {0.04, 0.04, 0.09}, bulblet_sizes(4, {}), 0.3, grades, 4000);
  REQUIRE(sets.size() == 4000);
  double sum = 0, squares = 0;
  for (const DrawnGives& one : sets) {
    const double far = (std::log(one.per_mother[0]) - 2.0) / 0.2;
    sum += far;
    squares += far * far;
    CHECK(std::log(one.per_mother[1]) == doctest::Approx(2.5 + 0.2 * far));
    CHECK(std::log(one.per_mother[2]) == doctest::Approx(3.0 + 0.3 * far));
    CHECK(std::accumulate(one.size_shares.begin(), one.size_shares.end(), 0.0) == doctest::Approx(1));
  }
  CHECK(std::fabs(sum / 4000) < 5 / std::sqrt(4000.0));
  CHECK(squares / 4000 == doctest::Approx(1).epsilon(0.12));
  // The mean over the sets is what is expected of sizes altogether.
  const std::vector<double> expected = bulblet_sizes(4, {}).shares(0.3, grades);
  for (std::size_t i = 0; i < grades.size(); ++i) {
    double mean = 0;
    for (const DrawnGives& one : sets) mean += one.size_shares[i] / 4000;
    CHECK(std::fabs(mean - expected[i]) < 5 * 0.5 / std::sqrt(4000.0));
  }
}

namespace {

// One class of ten bulbs: all live, and none comes.
Model ten_that_stay() {
  Model model;
  model.classes = {{"any", true}};
  model.start = {10};
  model.years.resize(1);
  model.years[0].survival = Square(1);
  model.years[0].increase = Square(1);
  model.years[0].survival.at(0, 0) = 1;
  return model;
}

}  // namespace

TEST_CASE("paths take the sets in turn, and means are those of the model") {
  // By the model all live, by the two sets none and all.
  Model model = ten_that_stay();
  model.may_be.assign(2, {model.years, 1, std::nullopt});
  model.may_be[0].years[0].survival.at(0, 0) = 0;
  CHECK_FALSE(fault_of(model));
  const Outlook found = make::must(outlook(model, {.seasons = 2, .target = 10, .paths = 1000}));
  CHECK(found.seasons[0].saleable.mean == 10);
  CHECK(*found.seasons[0].saleable.p5 == 0);
  CHECK(*found.seasons[0].saleable.p95 == 10);
  CHECK(*found.seasons[1].p_target == 0.5);
  model.may_be[1].years.clear();
  REQUIRE(fault_of(model));
  CHECK(fault_of(model)->rfind("may_be[1].years: ", 0) == 0);
}

TEST_CASE("the first release is reckoned from the paths") {
  // Every bulb stays and none comes: 10 in every season of every path.
  Model model = ten_that_stay();
  OutlookWish wish{.seasons = 7, .paths = 10, .release = ReleaseWish{.wanted = 8, .reserve = 2, .sure = 0.9}};
  const Outlook found = make::must(outlook(model, wish));
  REQUIRE(found.release);
  CHECK(found.release->season == 1);
  CHECK(found.release->counts == std::vector<std::int64_t>{8, 8, 8, 8, 8});
  wish.release->wanted = 9;
  CHECK_FALSE(make::must(outlook(model, wish)).release);
  wish.release->wanted = 0;
  CHECK_FALSE(outlook(model, wish));
  wish.release = ReleaseWish{.sure = 1};
  CHECK_FALSE(outlook(model, wish));
}

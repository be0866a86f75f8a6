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

TEST_CASE("paths take the sets in turn; what stands and the chance of loss are over all of them") {
  // By the model all live, by the two sets none and all.
  Model model = ten_that_stay();
  model.may_be.assign(2, {model.years, 1, std::nullopt});
  model.may_be[0].years[0].survival.at(0, 0) = 0;
  CHECK_FALSE(fault_of(model));
  const Outlook found = make::must(outlook(model, {.seasons = 2, .target = 10, .paths = 1000}));
  CHECK(found.seasons[0].saleable.mean == 5);
  CHECK(found.projection[1] == std::vector<double>{10});
  CHECK(found.seasons[0].lost->chance == 0.5);
  CHECK(found.seasons[0].lost->exact);
  CHECK(*found.seasons[0].saleable.p5 == 0);
  CHECK(*found.seasons[0].saleable.p95 == 10);
  CHECK(*found.seasons[1].p_target == 0.5);
  model.may_be[1].years.clear();
  REQUIRE(fault_of(model));
  CHECK(fault_of(model)->rfind("may_be[1].years: ", 0) == 0);
}

TEST_CASE("means, levers and chances of loss over sets are those of each set by itself, evenly") {
  // Three bulbs live by one set with 0.5, by the other with 0.9; a bench of two may be struck, once in ten and in five.
  Model model = ten_that_stay();
  model.start = {3};
  model.places = {1, 1};
  model.may_be.assign(2, {model.years, 1, BadEvent{0.1, 0.5}});
  model.may_be[0].years[0].survival.at(0, 0) = 0.5;
  model.may_be[1].years[0].survival.at(0, 0) = 0.9;
  model.may_be[1].bad_event = BadEvent{0.2, 0.5};
  // A tenth fewer lost: 0.55 and 0.91. What the bench leaves in the mean: 1 - 0.1 * 0.5 and 1 - 0.2 * 0.5.
  const double after_two = 3 * (std::pow(0.5 * 0.95, 2) + std::pow(0.9 * 0.9, 2)) / 2;
  CHECK(mean_saleable(model, 2) == doctest::Approx(after_two));
  CHECK(mean_saleable(with_lever(model, LeverKind::fewer_lost), 2) ==
        doctest::Approx(3 * (std::pow(0.55 * 0.95, 2) + std::pow(0.91 * 0.9, 2)) / 2));
  CHECK(mean_saleable(with_lever(model, LeverKind::fewer_bad_events), 1) ==
        doctest::Approx(3 * (0.5 * 0.975 + 0.9 * 0.95) / 2));
  const auto lost = *chances_of_loss(model, 12, 1);
  // Seasons of which the sets can be summed over by themselves, and seasons of which they are drawn.
  std::vector<std::vector<LossChance>> of_sets;
  for (std::size_t set = 0; set < 2; ++set) of_sets.push_back(*chances_of_loss(model.of_path(set), 12, 9));
  bool exact = false, drawn = false;
  for (std::size_t t = 0; t < 12; ++t) {
    const double wanted = (of_sets[0][t].chance + of_sets[1][t].chance) / 2;
    const double error = std::hypot(lost[t].error, of_sets[0][t].error / 2, of_sets[1][t].error / 2);
    CHECK(std::fabs(lost[t].chance - wanted) <= 5 * error + 1e-14);
    exact = exact || lost[t].exact;
    drawn = drawn || !lost[t].exact;
  }
  CHECK(exact);
  CHECK(drawn);
  CHECK_FALSE(chances_of_loss(model, 12, 1, [](double) { return false; }));
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

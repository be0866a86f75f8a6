// Trying two ways against the formula's known values and against brute force.
#include "core/science/two_ways.hpp"

#include <doctest/doctest.h>

#include <boost/random/normal_distribution.hpp>
#include <cmath>

#include "core/science/philox.hpp"
#include "tests/form.hpp"

namespace motherbulb {
namespace {

TEST_CASE("the gain of knowing has the values of the normal loss function") {
  // Where both ways look alike: 1 / sqrt(2 pi) of the deviation. The unit normal loss at 1 is 0.0833, at 2 it is 0.0085
  // (any table of it).
  CHECK(gain_of_knowing(0, 4) == doctest::Approx(2 * 0.3989422804014327).epsilon(1e-14));
  CHECK(std::fabs(gain_of_knowing(1, 1) - 0.0833) < 5e-5);
  CHECK(std::fabs(gain_of_knowing(-2, 1) - 0.0085) < 5e-5);
  CHECK(gain_of_knowing(3, 0) == 0);
  CHECK(gain_of_knowing(1e6, 1) == 0);
}

TEST_CASE("what a trial is worth is what choosing after it brings, drawn a hundred thousand times") {
  const std::uint64_t seed = make::seed();
  INFO("MOTHERBULB_SEED=" << seed);
  const WayKnown usual{40, 25, 120}, other{36, 90, 150};
  constexpr std::int64_t tried = 2, mothers = 6;
  constexpr double future = 30;
  constexpr int draws = 100'000;
  double sum = 0, squares = 0;
  boost::random::normal_distribution<double> normal;
  for (std::uint64_t path = 0; path < draws; ++path) {
    PhiloxStream stream(seed, path, 1);
    const auto see = [&](const WayKnown& way, double n) {
      const double truth = way.mean + std::sqrt(way.variance) * normal(stream);
      const double seen = truth + std::sqrt(way.of_one / n) * normal(stream);
      const double weight = way.variance / (way.variance + way.of_one / n);
      return std::pair{truth, way.mean + weight * (seen - way.mean)};
    };
    const auto [usual_truth, usual_belief] = see(usual, mothers - tried);
    const auto [other_truth, other_belief] = see(other, tried);
    normal.reset();
    // Without the trial the usual way goes on, for it looks better now.
    const double gain = future * (other_belief > usual_belief ? other_truth - usual_truth : 0);
    sum += gain;
    squares += gain * gain;
  }
  const double mean = sum / draws, error = std::sqrt((squares / draws - mean * mean) / draws);
  const Trial trial = trial_of(usual, other, tried, mothers, future);
  CHECK(std::fabs(mean - trial.worth) < 5 * error);
  CHECK(trial.costs == doctest::Approx(2 * 4.0));
}

TEST_CASE("a trial is advised only where it pays") {
  const WayKnown usual{40, 4, 120};
  CHECK_FALSE(worth_trying(usual, {20, 4, 120}, 6, 100));   // known to be worse
  CHECK_FALSE(worth_trying(usual, {36, 90, 150}, 1, 100));  // nothing to part
  CHECK_FALSE(worth_trying(usual, {36, 90, 150}, 6, 0));    // nobody will use it
  const auto trial = worth_trying(usual, {36, 90, 150}, 6, 100);
  REQUIRE(trial);
  CHECK(trial->mothers >= 1);
  CHECK(trial->mothers <= 5);
  for (std::int64_t count = 1; count < 6; ++count) {
    const Trial one = trial_of(usual, {36, 90, 150}, count, 6, 100);
    CHECK(one.worth - one.costs <= trial->worth - trial->costs);
  }
}

}  // namespace
}  // namespace motherbulb

// Growth by drawn years against models whose growth is known exactly, with fixed seeds: a standard error is not to be
// missed by more than four of it.
#include "core/science/stochastic_growth.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "tests/published/matrices.hpp"

namespace motherbulb {
namespace {

using published::square;

constexpr double most_errors = 4;

Model model_of(const std::vector<std::int64_t>& start, const std::vector<std::pair<double, Square>>& years) {
  Model model;
  model.classes.resize(start.size());
  model.start = start;
  for (const auto& [weight, matrix] : years) {
    ModelYear year;
    year.weight = weight;
    year.survival = matrix;
    year.increase = Square(matrix.size);
    year.parted = false;
    model.years.push_back(year);
  }
  return model;
}

TEST_CASE("one year grows by the logarithm of its rate, and has no error") {
  const auto growth = stochastic_growth(model_of({1, 0, 0}, {{2, published::leslie()}}), 7);
  REQUIRE(growth);
  CHECK(growth->log_growth == doctest::Approx(std::log(1.5)).epsilon(1e-14));
  CHECK(growth->se == 0);
  // A year without weight is none.
  const auto with_never = stochastic_growth(model_of({1}, {{1, square({{0.8}})}, {0, square({{0}})}}), 7);
  REQUIRE(with_never);
  CHECK(with_never->log_growth == std::log(0.8));
  CHECK(with_never->se == 0);
}

TEST_CASE("one class with two years grows by the mean of the logarithms") {
  const double mean = 0.75 * std::log(1.5) + 0.25 * std::log(0.2);
  const double sd = std::sqrt(0.75 * 0.25) * std::log(1.5 / 0.2);
  for (const std::uint64_t seed : {1u, 2u, 3u, 4u, 5u}) {
    CAPTURE(seed);
    const auto growth = stochastic_growth(model_of({4}, {{3, square({{1.5}})}, {1, square({{0.2}})}}), seed);
    REQUIRE(growth);
    CHECK(std::abs(growth->log_growth - mean) < most_errors * growth->se);
    // The error itself: of 50,000 independent seasons, known from 50 batches to a tenth of it.
    CHECK(growth->se == doctest::Approx(sd / std::sqrt(50'000.0)).epsilon(0.4));
  }
}

TEST_CASE("years that differ by a factor only grow by the rate and the mean of the factors' logarithms") {
  Square poor = published::leslie(), good = published::leslie();
  for (double& cell : poor.cells) cell *= 0.25;
  for (double& cell : good.cells) cell *= 2;
  const double mean = std::log(1.5) + (std::log(0.25) + std::log(2)) / 2;
  const auto growth = stochastic_growth(model_of({5, 0, 0}, {{1, poor}, {1, good}}), 11);
  REQUIRE(growth);
  CHECK(std::abs(growth->log_growth - mean) < most_errors * growth->se);
}

TEST_CASE("Penstemon's three years decline, though their mean grows") {
  const auto growth = stochastic_growth(
      model_of({81, 31, 17, 13, 11},
               {{1, published::penstemon_1994()}, {1, published::penstemon_1995()}, {1, published::penstemon_2011()}}),
      1);
  REQUIRE(growth);
  // The print is one run of as many seasons, and so has the same error again.
  CHECK(std::abs(growth->log_growth - published::penstemon_log_growth) < most_errors * std::sqrt(2.0) * growth->se);
  CHECK(growth->se < 0.01);
}

TEST_CASE("the fastest block that the start reaches counts, however little leads to it") {
  const auto years = [](double into) {
    return std::vector<std::pair<double, Square>>{{1, square({{0.5, 0}, {into, 1.2}})},
                                                  {1, square({{0.4, 0}, {into, 0.9}})}};
  };
  const double mean = (std::log(1.2) + std::log(0.9)) / 2;
  const auto growth = stochastic_growth(model_of({1, 0}, years(1e-320)), 3);
  REQUIRE(growth);
  CHECK(std::abs(growth->log_growth - mean) < most_errors * growth->se);
  const auto apart = stochastic_growth(model_of({1, 0}, years(0)), 3);
  REQUIRE(apart);
  CHECK(std::abs(apart->log_growth - (std::log(0.5) + std::log(0.4)) / 2) < most_errors * apart->se);
}

TEST_CASE("ways round that are too small for a double are followed") {
  // A ring of thirty with 1e-300 on, times 1 or 4: log 1e-300 + log(4)/2.
  Square poor(30), good(30);
  for (std::size_t i = 0; i < 30; ++i) {
    poor.at((i + 1) % 30, i) = 1e-300;
    good.at((i + 1) % 30, i) = 4e-300;
  }
  const auto growth = stochastic_growth(model_of(std::vector<std::int64_t>(30, 1), {{1, poor}, {1, good}}), 5);
  REQUIRE(growth);
  CHECK(std::abs(growth->log_growth - (-300 * std::log(10.0) + std::log(2.0))) < most_errors * growth->se);
}

TEST_CASE("what dies out for certain has no growth") {
  const Square on = square({{0, 0}, {0.5, 0}});
  CHECK(!stochastic_growth(model_of({3, 3}, {{1, on}}), 1));
  CHECK(!stochastic_growth(model_of({3, 3}, {{1, on}, {1, on}}), 1));
  CHECK(!stochastic_growth(model_of({3}, {{9, square({{2}})}, {1, square({{0}})}}), 1));
  CHECK(!stochastic_growth(model_of({0}, {{9, square({{2}})}, {1, square({{1}})}}), 1));
  // Neither year alone leads back; both in turn do, but a year twice ends it.
  CHECK(!stochastic_growth(model_of({3, 3}, {{1, on}, {1, square({{0, 2}, {0, 0}})}}), 1));
}

TEST_CASE("the same seed gives the same growth, and the work can be stopped") {
  const Model model = model_of({4}, {{3, square({{1.5}})}, {1, square({{0.2}})}});
  CHECK(stochastic_growth(model, 9)->log_growth == stochastic_growth(model, 9)->log_growth);
  CHECK(stochastic_growth(model, 9)->log_growth != stochastic_growth(model, 10)->log_growth);
  int asked = 0;
  CHECK(!stochastic_growth(model, 9, [&asked](double done) {
    CHECK(done >= 0);
    CHECK(done < 1);
    return ++asked < 3;
  }));
  CHECK(asked == 3);
}

}  // namespace
}  // namespace motherbulb

// Growth rate, stable stages, reproductive values, damping, periods and elasticities: against published matrices, and
// against small ones and long chains whose figures are worked by hand beside them.
#include "core/science/growth_rate.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <vector>

#include "tests/published/matrices.hpp"

namespace motherbulb {
namespace {

using published::square;

constexpr double exact = 1e-14;

GrowthRate of(const Square& matrix) {
  return growth_rate(matrix, std::vector<bool>(matrix.size, true));
}

void check_close(const std::optional<std::vector<double>>& found, const std::vector<double>& right, double relative,
                 double absolute = 0) {
  REQUIRE(found);
  REQUIRE(found->size() == right.size());
  for (std::size_t i = 0; i < right.size(); ++i) {
    CAPTURE(i);
    CHECK(std::abs((*found)[i] - right[i]) <= relative * std::abs(right[i]) + absolute);
  }
}

void check_close(double found, double right, double relative) {
  CHECK_MESSAGE(std::abs(found - right) <= relative * std::abs(right), found << " is not " << right);
}

TEST_CASE("the loggerhead as printed") {
  const GrowthRate found = of(published::loggerhead());
  check_close(found.rate, published::loggerhead_rate, 2e-10);
  CHECK(found.rate_all == found.rate);
  check_close(found.stable, published::loggerhead_stable, 0, 0.00051);
  check_close(found.reproductive_value, published::loggerhead_value, 1e-6);
  CHECK(found.period == 1);
}

TEST_CASE("Penstemon as printed: three years and their mean") {
  const GrowthRate first = of(published::penstemon_1994());
  check_close(first.rate, published::penstemon_1994_rate, 5e-4);
  check_close(first.stable, published::penstemon_1994_stable, 1e-3);
  check_close(of(published::penstemon_1995()).rate, published::penstemon_1995_rate, 1e-4);

  const GrowthRate mean = of(published::penstemon_mean());
  check_close(mean.rate, published::penstemon_mean_rate, 5e-4);
  check_close(mean.stable, published::penstemon_mean_stable, 1e-3);
  check_close(mean.reproductive_value, published::penstemon_mean_value, 1e-3);
  REQUIRE(mean.damping_ratio);
  check_close(*mean.damping_ratio, published::penstemon_mean_damping, 1e-3);
  REQUIRE(mean.elasticity);
  check_close(mean.elasticity->cells, published::penstemon_mean_elasticity().cells, 1e-3);
}

TEST_CASE("Penstemon's last year: the rate is the only class that leads back to itself, and not the printed ratio") {
  const GrowthRate found = of(published::penstemon_2011());
  CHECK(found.rate == published::penstemon_2011_rate);
  check_close(found.stable, {1, 0, 0, 0, 0}, 0);
  CHECK(found.elasticity->at(0, 0) == 1);
  CHECK(found.period == 1);
  check_close(*found.damping_ratio, 0.1573 / 0.05556, exact);  // the next class on the diagonal
}

TEST_CASE("Centaurea as reckoned elsewhere") {
  check_close(of(published::centaurea()).rate, published::centaurea_rate, 1e-7);
}

TEST_CASE("three classes that never settle have period 3 and no damping") {
  const GrowthRate found = of(published::three_seasons_round());
  check_close(found.rate, published::three_seasons_round_rate, 2e-8);
  check_close(found.rate, std::cbrt(0.36), exact);
  CHECK(found.period == 3);
  CHECK(!found.damping_ratio);
  check_close(found.elasticity->cells, {0, 0, 1.0 / 3, 1.0 / 3, 0, 0, 0, 1.0 / 3, 0}, exact);
}

TEST_CASE("a Leslie matrix by hand") {
  // x³ - 2x - 3/8 = (x - 3/2)(x² + 3/2 x + 1/4): the second is (3/2 + √(5/4)) / 2. Values: v₂ = 3/2 / (1/2),
  // v₃ = 3 / (3/2). Elasticities: v·a·w over 3/2 · (1·18 + 3·6 + 2·1) = 57.
  const GrowthRate found = of(published::leslie());
  check_close(found.rate, 1.5, exact);
  check_close(found.stable, {0.72, 0.24, 0.04}, exact);
  check_close(found.reproductive_value, {1, 3, 2}, exact);
  check_close(*found.damping_ratio, 3 / (1.5 + std::sqrt(1.25)), exact);
  CHECK(found.period == 1);
  check_close(found.elasticity->cells, {0, 24.0 / 57, 3.0 / 57, 27.0 / 57, 0, 0, 0, 3.0 / 57, 0}, exact);
}

TEST_CASE("two classes by hand") {
  // x² - x/2 - 1/2 = (x - 1)(x + 1/2).
  const GrowthRate found = of(square({{0.5, 2}, {0.25, 0}}));
  check_close(found.rate, 1, exact);
  check_close(found.stable, {0.8, 0.2}, exact);
  check_close(found.reproductive_value, {1, 2}, exact);
  check_close(*found.damping_ratio, 2, exact);
  check_close(found.elasticity->cells, {1.0 / 3, 1.0 / 3, 1.0 / 3, 0}, exact);
}

TEST_CASE("a slow class before a fast one, and behind it") {
  const Square before = square({{0.5, 0}, {1, 1.25}});
  GrowthRate found = growth_rate(before, {true, false});
  CHECK(found.rate == 1.25);
  check_close(found.stable, {0, 1}, 0);
  check_close(found.reproductive_value, {1, 0.75}, exact);  // v₁/2 + v₂ = 5/4 v₁
  check_close(*found.damping_ratio, 2.5, exact);
  check_close(found.elasticity->cells, {0, 0, 0, 1}, 0);

  found = growth_rate(before, {false, true});
  check_close(found.reproductive_value, {0, 1}, 0);
  CHECK(!found.damping_ratio);

  const Square behind = square({{1.25, 0}, {1, 0.5}});
  found = growth_rate(behind, {true, false});
  check_close(found.stable, {3.0 / 7, 4.0 / 7}, exact);  // w₁ + w₂/2 = 5/4 w₂
  check_close(found.reproductive_value, {1, 0}, 0);

  found = growth_rate(behind, {false, true});
  CHECK(found.rate == 0.5);
  CHECK(found.rate_all == 1.25);
  check_close(found.stable, {0, 1}, 0);
}

TEST_CASE("without a way back the rate is exactly 0 and nothing else is known") {
  for (const Square& dead_end : {square({{0}}), square({{0, 0, 0}, {0.5, 0, 0}, {7, 0.25, 0}})}) {
    const GrowthRate found = of(dead_end);
    CHECK(found.rate == 0);
    CHECK(found.rate_all == 0);
    CHECK(!found.stable);
    CHECK(!found.reproductive_value);
    CHECK(!found.damping_ratio);
    CHECK(!found.period);
    CHECK(!found.elasticity);
  }
  const GrowthRate nothing_stands = growth_rate(square({{0.5}}), {false});
  CHECK(nothing_stands.rate == 0);
  CHECK(nothing_stands.rate_all == 0.5);
  CHECK(!nothing_stands.stable);
}

TEST_CASE("two blocks of one rate, one after the other: the last is what stands, the first is what counts") {
  // For great t the second class has t · 2 · (first) of the first; the third stands at w₂ = (1/2 - 1/4) w₃.
  const GrowthRate found = growth_rate(square({{0.5, 0, 0}, {1, 0.5, 0}, {0, 1, 0.25}}), {true, false, false});
  CHECK(found.rate == 0.5);
  check_close(found.stable, {0, 0.2, 0.8}, exact);
  check_close(found.reproductive_value, {1, 0, 0}, 0);
  CHECK(!found.damping_ratio);
  CHECK(!found.elasticity);
  CHECK(found.period == 1);
}

TEST_CASE("two blocks of one rate side by side stand as the start fed them") {
  const Square fork = square({{0.25, 0, 0}, {1, 0.5, 0}, {3, 0, 0.5}});
  const GrowthRate found = growth_rate(fork, {true, false, false});
  check_close(found.stable, {0, 0.25, 0.75}, exact);
  check_close(found.reproductive_value, {1, 1.0 / 16, 1.0 / 16}, exact);  // (1 + 3) / (1/2 - 1/4) of theirs
  CHECK(!found.elasticity);

  // 3/10 + 6/10 is not 9/10 in doubles, and yet one rate.
  const GrowthRate decimals = of(square({{0.3, 0.3, 0}, {0.6, 0.6, 0}, {0, 0, 0.9}}));
  check_close(decimals.rate, 0.9, exact);
  CHECK(!decimals.elasticity);
  CHECK(!decimals.damping_ratio);

  // Ways round of two and of three seasons, each at a half: 1/4 and 1/8.
  const GrowthRate round =
      of(square({{0, 0.25, 0, 0, 0}, {1, 0, 0, 0, 0}, {0, 0, 0, 0, 0.125}, {0, 0, 1, 0, 0}, {0, 0, 0, 1, 0}}));
  check_close(round.rate, 0.5, exact);
  CHECK(round.period == 6);
}

TEST_CASE("rates that differ by little are not one rate") {
  const double faster = 0.5 + 0x1.0p-40;
  const GrowthRate found = of(square({{0.5, 0}, {1, faster}}));
  CHECK(found.rate == faster);
  check_close(found.reproductive_value, {1, 0x1.0p-40}, exact);
  check_close(*found.damping_ratio, faster / 0.5, exact);
  CHECK(found.elasticity);
}

// Thirty classes in a ring; each leads to the next with chances and numbers from 1e-12 to 1e3.
struct Ring {
  Square matrix{30};
  std::vector<double> logs;  // of the ways from each class to the next
  double mean_log = 0;

  explicit Ring(double stays) {
    for (std::size_t i = 0; i < 30; ++i) {
      const double on = std::pow(10.0, -12.0 + 15.0 * static_cast<double>(i * 7 % 30) / 29.0);
      matrix.at((i + 1) % 30, i) = on;
      matrix.at(i, i) = stays;
      logs.push_back(std::log(on));
      mean_log += std::log(on) / 30;
    }
  }
};

TEST_CASE("a ring of thirty classes: the rate is the thirtieth root of the product") {
  const Ring ring(0);
  const GrowthRate found = of(ring.matrix);
  check_close(found.rate, std::exp(ring.mean_log), 1e-12);
  CHECK(found.period == 30);
  CHECK(!found.damping_ratio);
  for (std::size_t i = 0; i < 30; ++i) {
    const std::size_t next = (i + 1) % 30;
    CAPTURE(i);
    check_close((*found.stable)[next] / (*found.stable)[i], std::exp(ring.logs[i] - ring.mean_log), 1e-11);
    check_close((*found.reproductive_value)[i] / (*found.reproductive_value)[next],
                std::exp(ring.logs[i] - ring.mean_log), 1e-11);
    check_close(found.elasticity->at(next, i), 1.0 / 30, 1e-13);
  }
}

TEST_CASE("a ring in which some stay: nearly defective until it is balanced") {
  // In balance the ring is stays · I + mean · (a turn), with eigenvalues stays + mean · exp(2πik/30).
  const double stays = 0.6;
  const Ring ring(stays);
  const double mean = std::exp(ring.mean_log);
  const GrowthRate found = of(ring.matrix);
  check_close(found.rate, stays + mean, 1e-13);
  CHECK(found.period == 1);
  const double turn = std::acos(-1.0) / 15;
  const double second = std::sqrt(stays * stays + mean * mean + 2 * stays * mean * std::cos(turn));
  REQUIRE(found.damping_ratio);
  // The ratio less 1 is 1e-6, so this holds its digits too.
  CHECK(*found.damping_ratio > 1);
  check_close(*found.damping_ratio, (stays + mean) / second, 1e-14);
  check_close(found.elasticity->at(1, 0), mean / (stays + mean) / 30, 1e-12);
}

TEST_CASE("ways through thirty classes too small for a double") {
  // Class 0 stays at 1 and feeds 1e-12 of itself on through classes that stay at 1/2; the last feeds class 0 again.
  Square matrix(30);
  for (std::size_t i = 0; i + 1 < 30; ++i) {
    matrix.at(i + 1, i) = 1e-12;
    matrix.at(i + 1, i + 1) = 0.5;
  }
  matrix.at(0, 0) = 1;
  matrix.at(0, 29) = 1e3;
  const GrowthRate found = of(matrix);
  CHECK(found.rate == 1);  // 1 + 1e-339 or so
  double stands = 1;
  for (std::size_t i = 0; i < 20; ++i) {
    CAPTURE(i);
    check_close((*found.stable)[i], stands, 1e-11);
    stands *= 1e-12 / 0.5;
  }
  CHECK((*found.stable)[29] == 0);  // 1e-339
  for (const double value : *found.reproductive_value) CHECK(std::isfinite(value));
  check_close((*found.reproductive_value)[29], 1e3 / 0.5, 1e-13);
  check_close((*found.reproductive_value)[28], 1e3 / 0.5 * 1e-12 / 0.5, 1e-13);
}

TEST_CASE("a worth that no double holds ends at the largest") {
  Square matrix(31);
  for (std::size_t i = 0; i + 1 < 31; ++i) matrix.at(i + 1, i) = 1e-12;
  matrix.at(30, 30) = 1;
  const GrowthRate found = of(matrix);
  CHECK((*found.reproductive_value)[0] == 1);
  CHECK((*found.reproductive_value)[30] == std::numeric_limits<double>::max());
}

TEST_CASE("a second eigenvalue that is small is told from one that is 0") {
  check_close(*of(square({{1, 0}, {1e-6, 1e-30}})).damping_ratio, 1e30, exact);
  // The other root: determinant over the first, 1e-9 - 1e-12 over 1 + 1e-12.
  check_close(*of(square({{1, 1e-6}, {1e-6, 1e-9}})).damping_ratio, 1 / 9.99e-10, 1e-11);

  CHECK(!of(square({{0.7}})).damping_ratio);
  CHECK(!of(square({{0.5, 0.25}, {0.5, 0.25}})).damping_ratio);
  CHECK(!of(square({{0.1, 0.2, 0.3}, {0.2, 0.4, 0.6}, {0.3, 0.6, 0.9}})).damping_ratio);  // 0 but for rounding
  CHECK(!of(square({{0.5, 0, 0}, {1, 0, 0}, {1, 1, 0}})).damping_ratio);  // 0 twice, in one Jordan block
  // x²(x - 2), of rank two: a solver of doubles says 1.5e-8 for the double 0.
  CHECK(!of(square({{0, 0, 1}, {1, 1, 0}, {1, 1, 1}})).damping_ratio);
}

TEST_CASE("the rate alone is the same rate") {
  for (const Square& matrix : {published::loggerhead(), published::penstemon_mean(), published::penstemon_2011(),
                               Ring(0).matrix, Ring(0.6).matrix}) {
    const std::vector<bool> all(matrix.size, true);
    check_close(long_run_rate(matrix, all), growth_rate(matrix, all).rate, 1e-13);
  }
}

}  // namespace
}  // namespace motherbulb

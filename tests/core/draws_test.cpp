// Draws against the exact laws: chi-square over cells of 10 or more expected draws, probabilities by Boost.Math.
#include "core/science/draws.hpp"

#include <doctest/doctest.h>

#include <boost/math/distributions/binomial.hpp>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/negative_binomial.hpp>
#include <boost/math/distributions/poisson.hpp>
#include <map>

#include "tests/form.hpp"

namespace motherbulb {
namespace {

constexpr int draws = 40'000;

// The chance of a chi-square as large as the one of `drawn` against the law; cells are joined until 10 are expected.
template <class Law>
double chance_of_so_far_off(const std::map<std::int64_t, int>& drawn, const Law& law) {
  double sum = 0, expected = 0;
  int seen = 0, cells = 0;
  double passed = 0;
  const std::int64_t last = drawn.rbegin()->first;
  for (std::int64_t value = 0; value <= last; ++value) {
    const double chance = boost::math::pdf(law, static_cast<double>(value));
    expected += chance * draws;
    passed += chance * draws;
    if (const auto found = drawn.find(value); found != drawn.end()) seen += found->second;
    if (expected < 10 || draws - passed < 10) continue;
    sum += (seen - expected) * (seen - expected) / expected;
    expected = 0;
    seen = 0;
    ++cells;
  }
  expected += draws - passed;
  if (expected > 0) {
    sum += (seen - expected) * (seen - expected) / expected;
    ++cells;
  }
  REQUIRE(cells > 1);
  return boost::math::cdf(boost::math::complement(boost::math::chi_squared(cells - 1), sum));
}

template <class Draw>
std::map<std::int64_t, int> sample(std::uint64_t seed, const Draw& draw) {
  std::map<std::int64_t, int> drawn;
  for (std::uint64_t path = 0; path < draws; ++path) {
    PhiloxStream stream(seed, path, 1);
    ++drawn[draw(stream)];
  }
  return drawn;
}

constexpr double too_far = 1e-6;  // a right sampler fails one run in some ten thousand

TEST_CASE("survivors follow the binomial law, by tables and beyond them") {
  const std::uint64_t seed = make::seed();
  const std::pair<std::int64_t, double> cases[] = {{1, 0.3},    {2, 0.5},     {7, 0.97},      {40, 0.02},  {255, 0.05},
                                                   {256, 0.05}, {300, 0.045}, {30, 0.5},      {1000, 0.7}, {80, 0.99},
                                                   {20, 0.999}, {5000, 0.9},  {100'000, 1e-4}};
  for (const std::pair<std::int64_t, double>& each : cases) {
    const std::int64_t n = each.first;
    const double chance = each.second;
    INFO("MOTHERBULB_SEED=" << seed << ", n " << n << ", chance " << chance);
    const boost::math::binomial law(static_cast<double>(n), chance);
    const BinomialDraw fixed(chance);
    CHECK(chance_of_so_far_off(sample(seed, [&](PhiloxStream& stream) { return fixed(n, stream); }), law) > too_far);
    CHECK(chance_of_so_far_off(sample(seed, [&](PhiloxStream& stream) { return draw_binomial(n, chance, stream); }),
                               law) > too_far);
  }
}

TEST_CASE("chances of 0 and 1, and no bulbs at all, leave nothing to chance") {
  PhiloxStream stream(1, 2, 3);
  for (const std::int64_t n : {0, 1, 50, 1'000'000}) {
    CHECK(BinomialDraw(0)(n, stream) == 0);
    CHECK(BinomialDraw(1)(n, stream) == n);
    CHECK(draw_binomial(n, 0, stream) == 0);
    CHECK(draw_binomial(n, 1, stream) == n);
    CHECK(IncreaseDraw(0, IncreaseLaw::poisson, 1)(n, stream) == 0);
    CHECK(IncreaseDraw(0, IncreaseLaw::negbin, 3)(n, stream) == 0);
  }
}

TEST_CASE("the increase of n parents follows the law of the sum") {
  const std::uint64_t seed = make::seed();
  struct Case {
    std::int64_t parents;
    double mean, dispersion;
  };
  const Case cases[] = {{1, 0.2, 3}, {1, 6, 1},  {3, 4, 0.5}, {300, 0.01, 2},
                        {1, 30, 3},  {10, 8, 3}, {2, 40, 40}, {400, 2.5, 0.3}};
  for (const Case& one : cases) {
    INFO("MOTHERBULB_SEED=" << seed << ", parents " << one.parents << ", mean " << one.mean << ", dispersion "
                            << one.dispersion);
    const auto n = static_cast<double>(one.parents);
    const IncreaseDraw poisson(one.mean, IncreaseLaw::poisson, one.dispersion);
    CHECK(chance_of_so_far_off(sample(seed, [&](PhiloxStream& stream) { return poisson(one.parents, stream); }),
                               boost::math::poisson(n * one.mean)) > too_far);
    const IncreaseDraw spread(one.mean, IncreaseLaw::negbin, one.dispersion);
    CHECK(chance_of_so_far_off(sample(seed, [&](PhiloxStream& stream) { return spread(one.parents, stream); }),
                               boost::math::negative_binomial(n * one.dispersion,
                                                              one.dispersion / (one.dispersion + one.mean))) > too_far);
  }
}

}  // namespace
}  // namespace motherbulb

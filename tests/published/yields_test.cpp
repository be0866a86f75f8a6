// The law of yields: its limits, published counts, a tiny case summed by brute force, its own mesh doubled, and ranks
// of what was drawn from the priors (tests/published/yields_check.py holds it against another program).
#include "core/science/yields.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <boost/random/gamma_distribution.hpp>
#include <boost/random/mersenne_twister.hpp>
#include <boost/random/normal_distribution.hpp>
#include <boost/random/poisson_distribution.hpp>
#include <cmath>
#include <ctime>
#include <string>
#include <vector>

#include "tests/form.hpp"
#include "tests/many_yields.hpp"

using namespace motherbulb;

namespace {

YieldPriors usual() {
  YieldPriors priors;
  priors.u = {std::log(14.0), 0.5};
  return priors;
}

double normal_chance(double z) {
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

// Chance of y of a negative binomial, as section 1 writes it.
double negative_binomial(double y, double mean, double size) {
  return std::exp(std::lgamma(y + size) - std::lgamma(size) - std::lgamma(y + 1) +
                  size * std::log(size / (size + mean)) + y * std::log(mean / (size + mean)));
}

bool sound(const YieldAnswer& answer) {
  for (const double one : {answer.per_mother.mean, answer.per_mother.p5, answer.per_mother.p95, answer.clone_mean.mean,
                           answer.clone_mean.p5, answer.clone_mean.p95, answer.from_records, answer.log_mean,
                           answer.log_variance, answer.f}) {
    if (!std::isfinite(one)) return false;
  }
  return answer.per_mother.p5 <= answer.per_mother.p95 && answer.clone_mean.p5 <= answer.clone_mean.p95 &&
         answer.from_records >= 0 && answer.from_records <= 1 && answer.log_variance >= 0;
}

}  // namespace

TEST_CASE("no pots give the priors") {
  // At k = 8 and c = 26: log m = u + h, so E m = exp(u + 0.5²/2) E exp(t²/2), and for a half-normal t of 0.4 the last
  // is 1 / sqrt(1 - 0.4²). Var log m = 0.5² + 0.4². f log-normal: E f = 3 exp(0.7²/2). Worked by hand.
  const YieldAnswer answer = yields(usual(), {}, {{"", 8, 26}}).at(0);
  CHECK(answer.clone_mean.mean == doctest::Approx(14 * std::exp(0.125) / std::sqrt(1 - 0.16)).epsilon(0.001));
  YieldPriors wide = usual();
  wide.u = {std::log(5.0), 1};
  CHECK(yields(wide, {}, {{"", 8, 26}}).at(0).clone_mean.mean ==
        doctest::Approx(5 * std::exp(0.5) / std::sqrt(1 - 0.16)).epsilon(0.001));
  CHECK(answer.log_mean == doctest::Approx(std::log(14.0)).epsilon(0.001));
  CHECK(answer.log_variance == doctest::Approx(0.41).epsilon(0.002));
  CHECK(answer.f == doctest::Approx(3 * std::exp(0.245)).epsilon(0.002));
  CHECK(answer.from_records == 0);
  // P(log m <= x) is the mean over t of Phi((x - u) / sqrt(0.5² + t²)): summed finely.
  for (const auto& [part, m] : {std::pair{0.05, answer.clone_mean.p5}, std::pair{0.95, answer.clone_mean.p95}}) {
    double chance = 0, all = 0;
    for (int i = 0; i < 4000; ++i) {
      const double z = (i + 0.5) * 8 / 4000, t = 0.4 * z, weight = std::exp(-0.5 * z * z);
      chance += weight * normal_chance((std::log(m) - std::log(14.0)) / std::sqrt(0.25 + t * t));
      all += weight;
    }
    CHECK(chance / all == doctest::Approx(part).epsilon(0.01));
  }
  // Of b cut to (0, 1), at k = 32: log 4 times its own mean and spread, which 20,000 slices give.
  double weights = 0, middle = 0, square = 0;
  for (int i = 0; i < 20'000; ++i) {
    const double b = (i + 0.5) / 20'000, weight = std::exp(-0.5 * std::pow((b - 0.45) / 0.15, 2));
    weights += weight;
    middle += weight * b;
    square += weight * b * b;
  }
  middle /= weights;
  const YieldAnswer many = yields(usual(), {}, {{"", 32, 26}}).at(0);
  CHECK(many.log_mean == doctest::Approx(std::log(14.0) + std::log(4.0) * middle).epsilon(0.001));
  CHECK(many.log_variance ==
        doctest::Approx(0.41 + std::pow(std::log(4.0), 2) * (square / weights - middle * middle)).epsilon(0.003));
}

TEST_CASE("many pots give the mean of what was counted, whatever the priors") {
  // 400 pots of 8 sections, 9, 12, 10 and 13 by turns: 11 a mother. Their spread is less than that of a Poisson law, so
  // f grows and the mean's own spread is about sqrt(11 / 400) = 0.17.
  std::vector<YieldPot> pots;
  for (int i = 0; i < 100; ++i) {
    for (const std::int64_t y : {9, 12, 10, 13}) pots.push_back({"A", 8, 26, 8, y});
  }
  const YieldAnswer answer = yields(usual(), pots, {{"A", 8, 26}}).at(0);
  CHECK(answer.clone_mean.mean == doctest::Approx(11).epsilon(0.005));
  CHECK(answer.clone_mean.p95 - answer.clone_mean.p5 == doctest::Approx(2 * 1.645 * 0.166).epsilon(0.15));
  CHECK(answer.from_records > 0.99);
}

TEST_CASE("published counts: more sections give more bulblets, ever fewer a section") {
  // S01 (V003, V004): bulbs of 25.1 cm in 4 gave 10, in 8 gave 13. S04 (V018, V019): in 12 gave 20.4, in 24 gave 28.5;
  // as ten mothers each. S06 (V035): in 4 gave 8.8, as ten mothers.
  const std::vector<YieldPot> pots = {{"S01", 4, 25.1, 4, 10},
                                      {"S01", 8, 25.1, 8, 13},
                                      {"S04", 12, 26, 120, 204},
                                      {"S04", 24, 26, 240, 285},
                                      {"S06", 4, 26, 40, 88}};
  const auto answers = yields(usual(), pots, {{"S04", 12, 26}, {"S04", 24, 26}, {"S06", 4, 26}, {"", 8, 26}});
  // Each within what is plausible of what was counted.
  CHECK(answers[0].clone_mean.p5 < 20.4);
  CHECK(answers[0].clone_mean.p95 > 20.4);
  CHECK(answers[1].clone_mean.p5 < 28.5);
  CHECK(answers[1].clone_mean.p95 > 28.5);
  CHECK(answers[2].clone_mean.p5 < 8.8);
  CHECK(answers[2].clone_mean.p95 > 8.8);
  const double power = (answers[1].log_mean - answers[0].log_mean) / std::log(2.0);
  CHECK(power > 0.3);  // of S01 0.379, of S04 0.482
  CHECK(power < 0.55);
  CHECK(answers[0].from_records > answers[3].from_records);
}

TEST_CASE("a tiny case agrees with summing over all that is unknown") {
  // One clone, two pots; b, d and t known, u and f not: u + h ~ Normal, so two sums are all.
  YieldPriors priors = usual();
  priors.b.sd = priors.d.sd = 0;
  priors.t_sd = 0;
  const std::vector<YieldPot> pots = {{"A", 8, 26, 8, 9}, {"A", 4, 22, 8, 20}};
  const YieldAnswer answer = yields(priors, pots, {{"A", 16, 24}}).at(0);
  const double ratio = std::pow(2.0, 0.45) * 24 / 26;
  double all = 0, mean = 0, below_5 = 0, below_95 = 0, next_all = 0;
  std::vector<double> next(400, 0.0);
  constexpr int steps = 4000, steps_f = 60, next_each = 20;
  for (int i = 0; i < steps; ++i) {
    for (int j = 0; j < steps_f; ++j) {
      const double zu = -6 + 12 * (i + 0.5) / steps, zf = -6 + 12 * (j + 0.5) / steps_f;
      const double m8 = 14 * std::exp(0.5 * zu), f = 3 * std::exp(0.7 * zf);
      double weight = std::exp(-0.5 * (zu * zu + zf * zf));
      weight *= negative_binomial(9, m8, 8 * f);
      weight *= negative_binomial(20, 2 * m8 * std::pow(0.5, 0.45) * 22 / 26, 8 * f);
      const double m = m8 * ratio;
      all += weight;
      mean += weight * m;
      if (m <= answer.clone_mean.p5) below_5 += weight;
      if (m <= answer.clone_mean.p95) below_95 += weight;
      if (i % next_each != next_each / 2) continue;
      next_all += weight;
      for (std::size_t y = 0; y < next.size(); ++y) {
        next[y] += weight * negative_binomial(static_cast<double>(y), m, 16 * f);
      }
    }
  }
  CHECK(answer.per_mother.mean == doctest::Approx(mean / all).epsilon(0.001));
  CHECK(answer.clone_mean.mean == doctest::Approx(mean / all).epsilon(0.001));
  CHECK(std::fabs(below_5 / all - 0.05) < 0.001);
  CHECK(std::fabs(below_95 / all - 0.95) < 0.001);
  double chance = 0;
  std::size_t y = 0;
  for (const auto& [part, whole] : {std::pair{0.05, answer.per_mother.p5}, std::pair{0.95, answer.per_mother.p95}}) {
    while (chance + next[y] / next_all < part) chance += next[y++] / next_all;
    CHECK(whole == static_cast<double>(y));
  }
}

TEST_CASE("a finer mesh moves nothing by more than 1e-3") {
  const std::vector<std::vector<YieldPot>> sets = {
      {},
      {{"A", 8, 26, 8, 0}},
      {{"A", 8, 25.1, 8, 13}},
      {{"A", 8, 26, 8, 12}, {"A", 8, 26, 8, 16}},
      {{"A", 4, 22, 400, 1000}, {"A", 4, 22, 400, 1300}, {"B", 8, 30, 16, 3}},
      {{"A", 8, 22, 8, 5}, {"B", 8, 28, 16, 41}, {"B", 4, 28, 4, 3}, {"C", 16, 24, 16, 30}, {"C", 8, 24, 8, 12}}};
  const std::vector<YieldAsk> asks = {{"A", 8, 26}, {"A", 16, 30}, {"", 4, 22}};
  YieldPriors wide = usual();  // of a method of which little is known
  wide.u = {std::log(5.0), 1};
  for (std::size_t set = 0; set <= sets.size(); ++set) {
    const auto& pots = set < sets.size() ? sets[set] : sets[3];
    const YieldPriors priors = set < sets.size() ? usual() : wide;
    CAPTURE(set);
    const auto once = yields(priors, pots, asks), fine = yields(priors, pots, asks, {make::short_or_long(1, 3)});
    for (std::size_t i = 0; i < asks.size(); ++i) {
      CHECK(once[i].clone_mean.mean == doctest::Approx(fine[i].clone_mean.mean).epsilon(0.001));
      CHECK(once[i].clone_mean.p5 == doctest::Approx(fine[i].clone_mean.p5).epsilon(0.001));
      CHECK(once[i].clone_mean.p95 == doctest::Approx(fine[i].clone_mean.p95).epsilon(0.001));
      CHECK(std::fabs(once[i].per_mother.p5 - fine[i].per_mother.p5) <= 1);
      CHECK(std::fabs(once[i].per_mother.p95 - fine[i].per_mother.p95) <= 1);
      CHECK(std::fabs(once[i].from_records - fine[i].from_records) < 0.002);
    }
  }
}

TEST_CASE("the ends of what may be asked give numbers") {
  YieldPriors wide = usual();
  wide.u = {20, 2};
  wide.b = {0, 2};
  wide.d = {-20, 2};
  wide.log_f = {-7, 1.5};
  wide.t_sd = 0.9;
  YieldPriors known = usual();
  known.u.sd = known.b.sd = known.d.sd = known.log_f.sd = known.t_sd = 0;
  const std::vector<YieldPot> greatest = {{"A", 10'000, 200, 1, most_yield_count},
                                          {"B", 1, 0.1, most_yield_count, 0},
                                          {"C", 1, 200, most_yield_count, most_yield_count}};
  const std::vector<YieldPot> nothing(40, YieldPot{"A", 8, 26, 8, 0});
  const std::vector<YieldAsk> asks = {{"A", 1, 26}, {"A", 10'000, 26}, {"B", 8, 0.1}, {"", 8, 200}};
  for (const YieldPriors& priors : {usual(), wide, known}) {
    CHECK(!fault_of(priors));
    for (const auto& pots : {std::vector<YieldPot>{}, greatest, nothing}) {
      for (const YieldAnswer& answer : yields(priors, pots, asks)) CHECK(sound(answer));
    }
  }
  const YieldAnswer sure = yields(known, {}, {{"", 16, 13}}).at(0);
  CHECK(sure.clone_mean.mean == doctest::Approx(14 * std::pow(2.0, 0.45) / 2));
  CHECK(sure.clone_mean.p5 == doctest::Approx(sure.clone_mean.mean).epsilon(1e-4));
  CHECK(sure.log_variance < 1e-10);
}

TEST_CASE("who cancels gets no answers") {
  CHECK(yields(usual(), {}, {{"", 8, 26}}, {}, [](double) { return false; }).empty());
  double last = 0;
  CHECK(yields(usual(), {}, {{"", 8, 26}}, {}, [&last](double done) {
          CHECK(done >= last);
          last = done;
          return true;
        }).size() == 1);
  CHECK(last > 0.9);
}

TEST_CASE("values drawn from the priors fall evenly among what their own pots tell") {
  // Simulation-based calibration (Talts, Betancourt, Simpson, Vehtari & Gelman 2018, arXiv:1804.06788): the chance that
  // the estimate gives to what is below the truth is uniform. Here: the truth is under the 5 % mark in 5 % of the
  // cases, and under the 95 % mark in 95 %; so is the next mother, but for steps of whole bulblets.
  const int rounds = make::short_or_long(12, 500);
  const std::uint64_t seed = make::seed();
  INFO("MOTHERBULB_SEED=" << seed);
  boost::random::mt19937_64 chance(seed);
  boost::random::normal_distribution<double> normal;
  const YieldPriors priors = usual();
  int under_5 = 0, under_95 = 0, next_over = 0, asked = 0;
  double ranks = 0, squares = 0;
  for (int round = 0; round < rounds; ++round) {
    double b = -1;
    const double u = priors.u.mean + priors.u.sd * normal(chance), d = 1 + 0.5 * normal(chance);
    while (b <= 0 || b >= 1) b = 0.45 + 0.15 * normal(chance);
    const double f = std::exp(priors.log_f.mean + 0.7 * normal(chance)), t = 0.4 * std::fabs(normal(chance));
    const auto law = [&](double h, int k, double c) {
      return std::exp(u + h) * std::pow(k / 8.0, b) * std::pow(c / 26, d);
    };
    const auto drawn = [&](double mean, double size) {
      const double rate = boost::random::gamma_distribution<double>(size, mean / size)(chance);
      return rate > 0 ? boost::random::poisson_distribution<std::int64_t, double>(rate)(chance) : 0;
    };
    std::vector<YieldPot> pots;
    std::vector<double> clones;
    for (int clone = 0; clone < 3; ++clone) {
      clones.push_back(t * normal(chance));
      for (int pot = 0; pot <= clone; ++pot) {
        const int k = 4 << (round + pot) % 3, s = k * (1 + pot);
        const double c = 20 + 3 * clone;
        pots.push_back({std::to_string(clone), k, c, s, drawn(s * law(clones.back(), k, c) / k, s * f)});
      }
    }
    const YieldAsk ask{std::to_string(round % 3), 8, 24};
    const YieldAnswer answer = yields(priors, pots, {ask}).at(0);
    const double m = law(clones[static_cast<std::size_t>(round % 3)], 8, 24);
    ++asked;
    under_5 += m < answer.clone_mean.p5;
    under_95 += m < answer.clone_mean.p95;
    next_over += static_cast<double>(drawn(m, 8 * f)) > answer.per_mother.p95;
    const double z = (std::log(m) - answer.log_mean) / std::sqrt(answer.log_variance);
    ranks += z;
    squares += z * z;
  }
  // Within 4 standard errors of what is even.
  const double n = asked;
  CHECK(std::fabs(under_5 / n - 0.05) < 4 * std::sqrt(0.05 * 0.95 / n));
  CHECK(std::fabs(under_95 / n - 0.95) < 4 * std::sqrt(0.05 * 0.95 / n));
  CHECK(next_over / n < 0.05 + 4 * std::sqrt(0.05 * 0.95 / n));
  CHECK(std::fabs(ranks / n) < 4 / std::sqrt(n));
  CHECK(std::fabs(squares / n - 1) < 4 * std::sqrt(3 / n));
}

TEST_CASE("200 clones with 2,000 pots are answered within a second or so") {
  const make::ManyYields many = make::many_yields();
  const std::clock_t before = std::clock();
  const auto answers = yields(usual(), many.pots, many.asks);
  const double seconds = static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC;
  CHECK(answers.size() == 200);
  MESSAGE("seconds: " << seconds);
  CHECK(seconds < 20);  // sanitizers and busy machines; the bench is stricter
}

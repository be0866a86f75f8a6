// Out of a lot of N bulbs d are infected, every choice of d as likely as another. m pools of K bulbs each are tested; a
// test of a pool with an infected bulb in it says so with chance s, one of a clean pool never does. Let X be the number
// of pools that hold an infected bulb. No test is positive with chance
//
//     E[(1-s)^X] = E[ prod over pools (1-s + s·[pool is clean]) ]
//                = sum over i of C(m,i) s^i (1-s)^(m-i) · P(i given pools are clean),
//
// the product multiplied out, and by symmetry it does not matter which i pools. i given pools are clean when all d lie
// among the other N - iK bulbs: C(N-iK, d) / C(N, d). A last, smaller pool of r bulbs is taken out of the product
// first: (1-s) times the sum over the others, and s times the same sum with r more bulbs clean. With s = 1 only i = m
// is left, which is the hypergeometric chance of ISPM 31.
//
// All terms are positive, so nothing cancels. What would cancel are logarithms of factorials: those of a lot of
// 100,000,000 are near 2·10^9, whose last digit of a double is 2·10^-7. So Stirling's series
// log n! = (n + 1/2) log n - n + log(2π)/2 + rest(n) is put in first, and its large terms are taken together by hand;
// log-gamma serves for small numbers.
#include "core/health/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

namespace motherbulb {
namespace {

constexpr std::int64_t greatest_lot = 100'000'000;
constexpr double never = -std::numeric_limits<double>::infinity();

double real(std::int64_t number) {
  return static_cast<double>(number);
}

// log n! less Stirling's first terms; n ≥ 1. Stirling's series (Abramowitz and Stegun, 6.1.41) from 16 on, where what
// follows its fourth term is below 2·10^-14.
double stirling_rest(std::int64_t n) {
  const double x = real(n);
  if (n < 16) return std::lgamma(x + 1) - ((x + 0.5) * std::log(x) - x + 0.5 * std::log(2 * 3.14159265358979323846));
  const double square = x * x;
  return (1.0 / 12 - (1.0 / 360 - (1.0 / 1260 - 1.0 / 1680 / square) / square) / square) / x;
}

// log of C(n-clean, d) / C(n, d): that `clean` given bulbs of n are none of the d.
double log_clean(std::int64_t n, std::int64_t d, std::int64_t clean) {
  if (clean > n - d) return never;
  const std::int64_t few = std::min(d, clean);
  const std::int64_t many = std::max(d, clean);
  constexpr std::int64_t one_by_one = 64;
  if (few <= one_by_one) {  // C(n-c, d) / C(n, d) = prod over j < d of 1 - c / (n-j), and d and c may change places
    double sum = 0;
    for (std::int64_t j = 0; j < few; ++j) sum += std::log1p(-real(many) / real(n - j));
    return sum;
  }
  const std::int64_t rest = n - clean;
  if (rest == d) return std::lgamma(real(d) + 1) + std::lgamma(real(n - d) + 1) - std::lgamma(real(n) + 1);
  return (real(n - d) + 0.5) * std::log1p(-real(d) / real(n)) -
         (real(rest - d) + 0.5) * std::log1p(-real(d) / real(rest)) + real(d) * std::log1p(-real(clean) / real(n)) +
         stirling_rest(n - d) - stirling_rest(n) + stirling_rest(rest) - stirling_rest(rest - d);
}

// log of C(m,i) s^i (1-s)^(m-i), 0 < s < 1. The two large terms are each kept as a deviation from what is expected
// (C. Loader, "Fast and accurate computation of binomial probabilities", 2000).
double log_binomial(std::int64_t m, std::int64_t i, double s) {
  if (i == 0) return real(m) * std::log1p(-s);
  if (i == m) return real(m) * std::log(s);
  const double hits = real(i), misses = real(m - i);
  const double expected_hits = real(m) * s, expected_misses = real(m) * (1 - s);
  return -hits * std::log(hits / expected_hits) - misses * std::log(misses / expected_misses) +
         0.5 * std::log(real(m) / (2 * 3.14159265358979323846 * hits * misses)) + stirling_rest(m) - stirling_rest(i) -
         stirling_rest(m - i);
}

struct Lot {
  std::int64_t bulbs, infected, pool;
  double sensitivity;

  std::int64_t most_tests() const { return bulbs / pool + (bulbs % pool != 0 ? 1 : 0); }
  std::int64_t bulbs_for(std::int64_t tests) const {
    return std::min(tests, most_tests()) == most_tests() ? bulbs : tests * pool;
  }
};

// That none of `pools` whole pools is positive and `also` further bulbs are clean.
double none_positive(const Lot& lot, std::int64_t pools, std::int64_t also) {
  const std::int64_t n = lot.bulbs - also;
  const double also_clean = log_clean(lot.bulbs, lot.infected, also);
  if (also_clean == never) return 0;
  const std::int64_t d = lot.infected, k = lot.pool;
  const double s = lot.sensitivity;
  if (s >= 1) return std::exp(also_clean + log_clean(n, d, pools * k));
  // Both factors are log-concave in i, so the terms rise to one peak and fall; each is the one before times this.
  const std::int64_t most = std::min(pools, (n - d) / k);  // more cannot be clean
  const double odds = s / (1 - s);
  const auto rise = [&](std::int64_t i) {
    return real(pools - i) / real(i + 1) * odds * std::exp(log_clean(n - i * k, d, k));
  };
  std::int64_t low = 0, high = most;
  while (low < high) {
    const std::int64_t middle = low + (high - low) / 2;
    if (rise(middle) > 1) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  const std::int64_t peak = low;
  constexpr double too_small = 1e-18;  // of the peak, and terms fall ever faster
  double sum = 1;
  double term = 1;
  for (std::int64_t i = peak; i < most && term > too_small; ++i) {
    term *= rise(i);
    sum += term;
  }
  term = 1;
  for (std::int64_t i = peak; i > 0 && term > too_small; --i) {
    term /= rise(i - 1);
    sum += term;
  }
  return sum * std::exp(also_clean + log_binomial(pools, peak, s) + log_clean(n, d, peak * k));
}

double chance_to_miss(const Lot& lot, std::int64_t tests) {
  const std::int64_t taken = std::clamp<std::int64_t>(tests, 0, lot.most_tests());
  const std::int64_t whole = std::min(taken, lot.bulbs / lot.pool);
  double miss = none_positive(lot, whole, 0);
  if (taken > whole) {
    const double s = lot.sensitivity;
    miss = (1 - s) * miss + s * none_positive(lot, whole, lot.bulbs % lot.pool);
  }
  return std::clamp(miss, 0.0, 1.0);
}

// The smallest whole number that is no less than share · lot. A double is not exactly the share that was written: 7 %
// of 100 is 7 bulbs and not 8, though 0.07 · 100 is a little more than 7.
std::int64_t infected_of(const SampleWish& wish) {
  const double exact = wish.share * real(wish.lot);
  const double near = std::round(exact);
  const bool whole = std::abs(exact - near) <= 1e-12 * std::max(exact, 1.0);
  return std::clamp<std::int64_t>(static_cast<std::int64_t>(whole ? near : std::ceil(exact)), 1, wish.lot);
}

std::optional<Error> fault_of(const SampleWish& wish) {
  if (wish.lot < 1 || wish.lot > greatest_lot) return refusal("lot: from 1 to 100 000 000 bulbs");
  // Written so that what is no number at all is refused too.
  if (!(wish.share > 0 && wish.share <= 1)) return refusal("share: above 0 and at most 1 (0.05 or 5 %)");
  if (!(wish.confidence > 0 && wish.confidence < 1)) return refusal("confidence: above 0 and below 1 (0.95 or 95 %)");
  if (!(wish.sensitivity > 0 && wish.sensitivity <= 1))
    return refusal("sensitivity: above 0 and at most 1 (0.9 or 90 %)");
  if (wish.pool < 1 || wish.pool > wish.lot) return refusal("pool: from 1 bulb to the whole lot");
  return std::nullopt;
}

Lot lot_of(const SampleWish& wish) {
  return {wish.lot, infected_of(wish), wish.pool, wish.sensitivity};
}

}  // namespace

Result<Sample> sample_size(const SampleWish& wish) {
  if (auto fault = fault_of(wish)) return std::move(*fault);
  const Lot lot = lot_of(wish);
  const double may_miss = (1 - wish.confidence) * (1 + 1e-9);
  Sample sample;
  sample.infected = lot.infected;
  std::int64_t low = 1, high = lot.most_tests();
  if (chance_to_miss(lot, high) > may_miss) {
    sample.bulbs = lot.bulbs;
    sample.reached = 1 - chance_to_miss(lot, high);
    return sample;
  }
  while (low < high) {
    const std::int64_t middle = low + (high - low) / 2;
    if (chance_to_miss(lot, middle) <= may_miss) {
      high = middle;
    } else {
      low = middle + 1;
    }
  }
  sample.tests = low;
  sample.bulbs = lot.bulbs_for(low);
  sample.reached = 1 - chance_to_miss(lot, low);
  return sample;
}

double chance_to_find(const SampleWish& wish, std::int64_t tests) {
  if (fault_of(wish)) return 0;
  return 1 - chance_to_miss(lot_of(wish), tests);
}

}  // namespace motherbulb

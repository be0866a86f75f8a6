// What a mother gives when she is cut, learnt from pots that were counted. Section 1 of the mathematics.
//
// One pot of s sections, of mothers of circumference c cut into k sections each, gave y bulblets:
//   y ~ NegBin(mean s m(k,c)/k, size s f)      m(k,c) = exp(u + h) (k/8)^b (c/26)^d
// u, b, d and f are of the method on the genus, h ~ Normal(0, t²) is of the clone: few pots lean on the genus, many
// stand on their own. b is cut to (0, 1) unless it is known; f is log-normal, t half-normal.
//
// No draws: the clone's h by the trapezoid rule on a line of its own, the five others by an embedded lattice rule
// (R. Cools, F. Y. Kuo, D. Nuyens, Constructing embedded lattice rules for multivariate integration, SIAM J. Sci.
// Comput. 28, 2006) laid over the posterior and weighted. Held against meshes two to
// eight times as fine: means within 1e-3, quantiles of the clone's mean mostly so and at worst 3e-3. Pure.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace motherbulb {

struct NormalPrior {
  double mean = 0;
  double sd = 0;  // 0: known
};
struct YieldPriors {
  NormalPrior u;
  NormalPrior b{0.45, 0.15};  // cut to (0, 1); of sd 0 as it is
  NormalPrior d{1, 0.5};
  NormalPrior log_f{1.0986122886681098, 0.7};  // median 3
  double t_sd = 0.4;
};
// What `fault_of` lets pass: |mean| of u and d at most 20, of b 0 to 1 (of sd 0 any up to 2), of log_f -7 to 12; sd at
// most 2 of u, b and d, 1.5 of log_f, 0.9 of t. Beyond it the mean would be without end, or nothing is told.
std::optional<std::string> fault_of(const YieldPriors& priors);  // "priors.t.sd: ..."

struct YieldPot {
  std::string clone;
  std::int32_t k = 8;  // sections of a mother, 1 or more
  double c = 26;       // circumference of the mother in cm, above 0
  std::int64_t s = 0;  // sections in the pot, 1 or more
  std::int64_t y = 0;  // bulblets, 0 or more
};
struct YieldAsk {
  std::string clone;  // empty, or without pots: a new one
  std::int32_t k = 8;
  double c = 26;
};
inline constexpr std::int32_t most_yield_sections = 10'000;
inline constexpr double least_yield_girth_cm = 0.1, most_yield_girth_cm = 200;
inline constexpr std::int64_t most_yield_count = 1'000'000'000;  // of s, and of y
inline constexpr std::size_t most_yield_pots = 100'000;
inline constexpr std::size_t most_yield_asks = 10'000;

struct YieldRange {
  double mean = 0, p5 = 0, p95 = 0;
};
struct YieldAnswer {
  YieldRange per_mother;    // bulblets of the next mother, s = k; p5 and p95 are the smallest whole y that suffice
  YieldRange clone_mean;    // m(k,c) itself
  double from_records = 0;  // 0 to 1: 1 - variance of log m now / by the priors alone
  double log_mean = 0;      // expectation of log m
  double log_variance = 0;  // and its variance
  double f = 0;             // expectation of f: one mother's bulblets have size k f
};

// How fine the reckoning is: each step more doubles the lattice, and halves the step of the lines.
struct YieldMesh {
  int finer = 0;  // 0 to 4
};

// One answer for each ask, in their order. Priors without fault, pots and asks within the bounds above. Bounded: 200
// clones with 2,000 pots take less than a second; `go_on` hears of the part done and ends it with false: no answers.
std::vector<YieldAnswer> yields(const YieldPriors& priors, const std::vector<YieldPot>& pots,
                                const std::vector<YieldAsk>& asks, YieldMesh mesh = {},
                                const std::function<bool(double done)>& go_on = {});

}  // namespace motherbulb

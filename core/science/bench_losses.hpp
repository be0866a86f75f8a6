// Which losses were one misfortune that struck a bench, by what stood there on the day.
//
// Section 2 of the mathematics: a bad event is a bench that loses more than a third of 6 or more pots within 30 days. A
// pot counts that lost anything, so that one struck lightly counts too; and what the bench lost in all must be likelier
// as such an event than as bulbs that die one by one, or a few single losses among many pots would make one:
//   an event    1 in 20 bench-years, in one of 12 months of it; takes a share Beta(2, 2), so of n bulbs x are lost with
//               the chance 6 (x + 1) (n - x + 1) / ((n + 1) (n + 2) (n + 3)) (beta-binomial)
//   one by one  binomial: of each bulb 1 in 100 in a month, a little more than the 10 % a year of young bulbs
// Pure.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "shared/day.hpp"

namespace motherbulb {

// A bench that a bad event struck.
struct BadBench {
  std::string bench;
  Day on;                   // of the first loss
  std::int64_t pots = 0;    // that stood there
  std::int64_t struck = 0;  // of them, that lost any
  double share = 0;         // of the bulbs or pieces there that were lost
};

// A pot that stands on a bench, with the same contents but for losses.
struct BenchStay {
  std::size_t pot = 0;  // each has a number of its own; it stays again when it is filled up, thinned or moved
  std::string bench;
  Day from, to;           // not on the last day any more
  std::int64_t held = 0;  // bulbs or pieces, on the first day
};

struct BenchLoss {
  std::size_t stay = 0;  // of the stays below
  Day on;
  std::int64_t lost = 0;
};

struct BenchEvents {
  std::vector<BadBench> bad;
  std::vector<std::size_t> losses;  // those of the bad events, by their place in what was handed in
  double bench_years = 0;           // during which benches had 6 pots or more
};

// A loss may be told of a day on which the pot did not stand there (a wrong clock): it counts all the same. At most one
// event of a bench in a calendar year: the first.
BenchEvents bench_events(const std::vector<BenchStay>& stays, const std::vector<BenchLoss>& losses);

}  // namespace motherbulb

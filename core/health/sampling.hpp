// How many bulbs of a lot to test so that an infection of a given share would be found with a given confidence
// (ISPM 31, "Methodologies for sampling of consignments", appendices on hypergeometric sampling; sensitivity and pools
// as derived in sampling.cpp).
#pragma once

#include <cstdint>
#include <optional>

#include "shared/result.hpp"

namespace motherbulb {

struct SampleWish {
  std::int64_t lot = 0;      // bulbs; 1 to 100,000,000
  double share = 0;          // infected, of the lot: above 0 to 1; rounded up to a whole bulb
  double confidence = 0.95;  // above 0, below 1
  double sensitivity = 1;    // a test of a sample with an infected bulb in it finds it with this chance: above 0 to 1
  std::int64_t pool = 1;     // bulbs tested together; 1 to lot
};
struct Sample {
  std::int64_t infected = 0;          // bulbs that the share means
  std::optional<std::int64_t> tests;  // none: even testing all is not enough
  std::int64_t bulbs = 0;             // taken for those tests; where none is enough, the lot
  double reached = 0;                 // confidence with so many; where none is enough, with all
};
// The fewest tests that reach the confidence. No bulb is tested twice; where the pools do not come out even, a last
// one with the bulbs left over is smaller. A confidence counts as reached when no more than a billionth of the chance
// to miss is wanting: 90 of 100 bulbs do find a single infected one with 90 %. Refuses what is out of range, by name.
Result<Sample> sample_size(const SampleWish& wish);
// The chance to find at least one with so many tests, 0 to 1; more tests than the lot gives are as many as it gives.
// 0 where sample_size would refuse the wish.
double chance_to_find(const SampleWish& wish, std::int64_t tests);

}  // namespace motherbulb

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
  std::int64_t bulbs = 0;             // taken for those tests
  double reached = 0;                 // confidence with so many; where none is enough, with all
};
// Refuses what is out of range, by name.
Result<Sample> sample_size(const SampleWish& wish);
// The chance to find at least one with so many tests.
double chance_to_find(const SampleWish& wish, std::int64_t tests);

}  // namespace motherbulb

// Pots of many clones, for what a year's records of a large collection cost to reckon with.
#pragma once

#include <string>
#include <vector>

#include "core/science/yields.hpp"

namespace motherbulb::make {

// 200 clones with ten pots each, cut in three ways, and one ask for each.
struct ManyYields {
  std::vector<YieldPot> pots;
  std::vector<YieldAsk> asks;
};

inline ManyYields many_yields() {
  ManyYields many;
  for (int clone = 0; clone < 200; ++clone) {
    many.asks.push_back({std::to_string(clone), 8, 26});
    for (int pot = 0; pot < 10; ++pot) {
      many.pots.push_back({std::to_string(clone), 4 << pot % 3, 20.0 + 2 * (pot % 5), 8, (clone * 7 + pot * 5) % 23});
    }
  }
  return many;
}

}  // namespace motherbulb::make

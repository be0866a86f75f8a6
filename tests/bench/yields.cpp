#include "tests/bench/yields.hpp"

#include <string>
#include <vector>

#include "core/science/yields.hpp"
#include "tests/bench/measure.hpp"

namespace motherbulb::bench {

double yields_seconds() {
  YieldPriors priors;
  priors.u = {2.6, 0.5};
  std::vector<YieldPot> pots;
  std::vector<YieldAsk> asks;
  for (int clone = 0; clone < 200; ++clone) {
    asks.push_back({std::to_string(clone), 8, 26});
    for (int pot = 0; pot < 10; ++pot) {
      pots.push_back({std::to_string(clone), 4 << pot % 3, 20.0 + 2 * (pot % 5), 8, (clone * 7 + pot * 5) % 23});
    }
  }
  Measured measured;
  Clock clock(measured);
  const auto answers = yields(priors, pots, asks);
  clock.stop();
  return answers.size() == asks.size() ? measured.cpu : 1e9;
}

}  // namespace motherbulb::bench

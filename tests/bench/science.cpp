#include "tests/bench/science.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "core/science/extinction.hpp"
#include "tests/bench/measure.hpp"
#include "tests/many_yields.hpp"

namespace motherbulb::bench {

double yields_seconds() {
  YieldPriors priors;
  priors.u = {2.6, 0.5};
  const make::ManyYields many = make::many_yields();
  Measured measured;
  Clock clock(measured);
  const auto answers = yields(priors, many.pots, many.asks);
  clock.stop();
  return answers.size() == many.asks.size() ? measured.cpu : 1e9;
}

double chance_of_loss_seconds(bool exact) {
  constexpr std::size_t k = 8;
  Model model;
  model.name = "bench";
  for (std::size_t j = 0; j < k; ++j) {
    model.classes.push_back({std::to_string(j), j >= 6});
    model.start.push_back(3);
  }
  for (const double loss : {0.1, 0.3}) {
    ModelYear year;
    year.weight = loss < 0.2 ? 9 : 1;
    year.survival = Square(k);
    year.increase = Square(k);
    for (std::size_t j = 0; j < k; ++j) {
      for (std::size_t step = 0; step < 3; ++step) {
        const std::size_t i = std::min(j + step, k - 1);
        year.survival.at(i, j) += (1 - loss) * (step == 0 ? 0.5 : 0.25);
      }
      for (std::size_t i = 0; i < 3 && j >= 6; ++i) year.increase.at(i, j) = 0.3;
    }
    model.years.push_back(std::move(year));
  }
  if (!exact) {
    model.places = {0.25, 0.25, 0.25, 0.25};
    model.bad_event = BadEvent{0.05, 0.4};
  }
  const std::size_t seasons = exact ? 12 : 10;
  Measured measured;
  Clock clock(measured);
  const auto chances = chances_of_loss(model, seasons, 1);
  clock.stop();
  const bool as_meant = chances && chances->size() == seasons && chances->back().exact == exact;
  return as_meant ? measured.cpu : 1e9;
}

}  // namespace motherbulb::bench

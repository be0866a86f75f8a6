// The growth of a stock whose years are drawn by chance: what good and bad years in turn make of it in the long run,
// which is less than their mean promises.
//
// Tuljapurkar, "Population dynamics in variable environments" (1990): the growth of the logarithm of the total along
// one long product of drawn matrices, made 1 again after each. Its error from the means of batches of successive years.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>

#include "core/science/model.hpp"

namespace motherbulb {

struct StochasticGrowth {
  double log_growth = 0;  // per season
  double se = 0;          // standard error; 0 where there is one year only, and log_growth is exact
};

inline constexpr std::size_t growth_batches = 50;
inline constexpr std::size_t growth_batch_seasons = 1'000;

// Of the part that the start reaches, as long as it is not lost on the way; bad events of places are left out. Each
// block of classes that lead to each other is followed by itself, through the same years, and the fastest counts.
// Nothing where the stock dies out for certain: no start, classes that never lead back, or years that end every block;
// and where `go_on` says no.
std::optional<StochasticGrowth> stochastic_growth(const Model& model, std::uint64_t seed,
                                                  const std::function<bool(double done)>& go_on = {});

}  // namespace motherbulb

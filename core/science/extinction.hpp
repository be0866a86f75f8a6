// The chance that none is left, without simulation: by generating functions (Harris, "The theory of branching
// processes", 1963; in drawn years Smith & Wilkinson 1969).
//
// What a season may be (its year, and the share of the stock that is struck) is an environment. For a sequence of them
// the chance that the line of one bulb has ended is iterated backwards, and the lines of all bulbs multiply. Where
// there are at most `most_sequences` sequences of t environments all are summed; beyond that, `drawn_sequences`.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "core/science/model.hpp"

namespace motherbulb {

inline constexpr std::size_t most_sequences = 4096;
inline constexpr std::size_t drawn_sequences = 16384;

struct LossChance {
  double chance = 0;  // that none is left by then
  double error = 0;   // its standard error; 0 where it is exact
  bool exact = true;
};

// For seasons 1 ... `seasons`; nothing where `go_on` says no. The model must have paths and pass fault_of.
std::optional<std::vector<LossChance>> chances_of_loss(const Model& model, std::size_t seasons, std::uint64_t seed,
                                                       const std::function<bool(double done)>& go_on = {});

}  // namespace motherbulb

// How fast a stock grows in the long run, what it then looks like, and what its growth rests on: the eigenvalues and
// vectors of its yearly matrix. Definitions: Caswell, "Matrix population models", 2nd ed. (2001), chapters 4 and 9.
//
// Classes fall into blocks: those that lead to each other. Every figure is found block by block in numbers of a hundred
// digits, so reducible, periodic, nilpotent and nearly defective matrices, and chains whose chances multiply to 1e-300,
// are answered to the last places of a double. What a double cannot hold ends at its limits, never as infinity.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "core/science/model.hpp"

namespace motherbulb {

struct GrowthRate {
  // The spectral radius per season, of the classes that the start reaches and of all. Exactly 0 where no class ever
  // leads back to itself; then nothing below is known.
  double rate = 0;
  double rate_all = 0;
  // What the reached part tends to; sums to 1. Where several blocks share the rate: what A^t makes, for great t, of one
  // bulb in each class of the start (of a periodic block: on the average of a period). Then A times it is rate times
  // it.
  std::optional<std::vector<double>> stable;
  // What one bulb of each class is worth to the stock in the long run, 1 in the first class where it is not 0. Where
  // several blocks share the rate: its share in the total of the reached classes for great t.
  std::optional<std::vector<double>> reproductive_value;
  // rate / |second eigenvalue| of the reached part. Nothing where there is no second, it is 0, or it has the same
  // modulus: a periodic block, or two blocks of one rate, which is decided by structure and not by closeness. A second
  // that a change in the last place of the entries would alter by half of itself is not to be told from 0.
  std::optional<double> damping_ratio;
  // Of the block that carries the rate: 1 is primitive. Where several share it, their least common multiple.
  std::optional<std::size_t> period;
  // at(to, from): part of the rate that rests on this entry; sums to 1. Nothing where two blocks share the rate.
  std::optional<Square> elasticity;
};

// Takes any square matrix of finite numbers of 0 or more, and for each class whether the start has bulbs in it. A start
// without bulbs reaches nothing: rate 0. Rates that differ by less than 32 last places are one.
// Thirty classes in one block take some hundredths of a second; a block above 48 classes takes its second eigenvalue,
// and that only, from doubles.
GrowthRate growth_rate(const Square& matrix, const std::vector<bool>& starts_in);

// `rate` alone, in doubles, for whoever asks often: within 1e-13 of it.
double long_run_rate(const Square& matrix, const std::vector<bool>& starts_in);

}  // namespace motherbulb

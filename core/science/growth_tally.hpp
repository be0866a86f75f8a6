// Bulbs counted into a pot by size and out of it by size, as classes: what became of each class, summed over pots.
//
// Pots of mixed sizes are parted by EM: how many of each class came to be of each is fitted to what went in and to what
// came out (Deming & Stephan, Annals of Mathematical Statistics 11, 1940), by the chances that all pots together and
// the prior tell; and again with those, until nothing moves. At most 100 rounds of at most 60 fittings.
#pragma once

#include <cstdint>
#include <vector>

#include "core/science/growth_records.hpp"
#include "core/science/model.hpp"
#include "shared/units.hpp"

namespace motherbulb {

inline constexpr double growth_weight = 8;  // bulbs that a prior of growth weighs as much as

// A filling as classes see it.
struct FillingByClass {
  std::vector<double> before, lost;  // bulbs that went in; of them, lost
  std::vector<double> after;         // counted, less the offsets; sums to before less lost
  bool sized_after = true;           // else nothing is known of the growth
};

// What became of the bulbs of each class, summed over fillings.
struct GrowthTally {
  std::vector<double> bulbs, lost, offsets;
  std::vector<double> offset_sizes;
  std::vector<FillingByClass> fillings;
  Square moved;                   // (to, from): bulbs
  std::int64_t unsized_pots = 0;  // left out: nobody said what went in

  // Bulbs of that class whose growth was counted.
  double seen(std::size_t from) const {
    double all = 0;
    for (std::size_t to = 0; to < moved.size; ++to) all += moved.at(to, from);
    return all;
  }
};

// Means by class, before the pots speak: what cannot be told of a pot is shared out by them.
struct GrowthMeans {
  std::vector<double> loss, offsets, offset_sizes;
  Square growth;
};

std::vector<double> counts_by_class(const BulbsByGrade& bulbs, const std::vector<Grade>& grades);

// The columns of growth after so many bulbs moved.
Square updated_growth(const Square& prior, const Square& moved);

// Missing bulbs are lost ones, by the classes' losses; bulbs beyond what was potted are daughters, the smallest counted
// first, by the classes' offsets. Pots that were filled with bulbs of no size are left out.
GrowthTally tally_of(const std::vector<const Filling*>& fillings, const std::vector<Grade>& grades,
                     const GrowthMeans& means);

}  // namespace motherbulb

// What a way of cutting gives of a clone by the pots of the book: the law of yields (yields.hpp) asked for each class
// of mothers, and the sizes of the bulblets that were counted.
#pragma once

#include "core/science/book_plan.hpp"
#include "core/science/yield_records.hpp"

namespace motherbulb {

// A way of cutting of which no pot of the genus was counted is left to the published values. Sizes by the law of
// bulblet_sizes.hpp, from all bulblets of the genus that were counted by that method.
CutGivers cut_givers_of(const YieldRecords& records);

// What comes of one mother, cut as a row of yields says: so that ways of cutting are compared by bulbs that can be
// sold.
struct CutOutcome {
  double bulblet_girth_cm = 0;            // the median bulblet
  std::vector<double> size_shares;        // of bulblets, by class of the growth model
  std::vector<double> saleable;           // bulbs in the mean, after season 1, 2, ...
  std::vector<double> saleable_if_whole;  // had she been left whole
};
// None where that way of cutting is not known to `gives`.
std::optional<CutOutcome> cut_outcome(const YieldRow& row, const GrowthModel& growth, const CutGiver& gives,
                                      std::size_t seasons);

}  // namespace motherbulb

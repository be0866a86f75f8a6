// What the cuts of one clone gave, as the screen shows it: by ways of cutting, each with the pots that it was counted
// from, and compared by what one mother comes to.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "app/outlook_picture.hpp"
#include "core/logbook.hpp"
#include "core/science/yield_records.hpp"

namespace motherbulb {

// One way in which a clone was cut: its counts, the estimate, and the pots that both were made from.
struct YieldsOfWay {
  YieldRow row;
  std::vector<FinishedPot> pots;
  std::vector<double> saleable;  // bulbs in the mean after season 1, 2 ... of one mother cut this way now
};
struct YieldsPicture {
  std::vector<YieldsOfWay> ways;
  Grade mother;                                     // the size of the mother by whom ways are compared
  std::vector<double> left_whole;                   // likewise, of one that is not cut; empty: nothing can be said
  std::int64_t taken_pots = 0, uncounted_pots = 0;  // left out, of the whole book
};
// Fails where the store does; `cancelled` where go_on says no.
Result<YieldsPicture> yields_of_clone(const Logbook& book, const std::string& clone, Day on, const GoOn& go_on);

}  // namespace motherbulb

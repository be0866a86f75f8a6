// What was treated with what, as an inspector asks for it (trade-facts.md, section 7, "Pesticide records": product and
// registration number, amount, place and area, crop, moment, who and by which licence, and when people may go in
// again).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/logbook.hpp"

namespace motherbulb {

struct TreatmentRow {
  When when;
  std::string helper;
  Treatment fact;  // of a Treated what that says; the rest is empty
  std::optional<When> enter_again;
  // Where and on what, each once, in the order met.
  std::vector<std::string> pots;    // by label; of a whole batch its label alone
  std::vector<std::string> places;  // where they stood then
  struct Crop {
    std::string genus, clone;
    friend bool operator==(const Crop& a, const Crop& b) { return a.genus == b.genus && a.clone == b.clone; }
  };
  std::vector<Crop> crops;
};

// Those of the days from `from` to `to`, both among them, in the order in which they were done. One act on many pots,
// which is an entry for each of them, is one row: by one helper, with the same said, each within a minute of the one
// before. What stands on a bare day is a row each.
std::vector<TreatmentRow> treatments_of(const Logbook& book, Day from, Day to);

// When people may go in again; of a bare day the time counts from its end, since nobody knows the hour.
std::optional<When> enter_again(const When& when, const std::optional<std::int32_t>& hours);

}  // namespace motherbulb

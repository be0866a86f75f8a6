// What is due, gathered for the command line, a calendar and a printed page: of a book as it is, or as it stood at the
// end of a day.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/due/due.hpp"
#include "core/logbook.hpp"

namespace motherbulb {

struct DueItem {
  std::size_t at = 0;  // of its batch in the list
  std::string label;   // of the pot; of the batch where it waits
  Due due;             // by and put_off live as long as the list that it came in
  std::string place;
  std::string why;
};

// Batches, their pots and plans stay with what was reckoned from them.
struct DueList {
  PlanBook plans;
  std::vector<BatchPots> batches;
  std::vector<DueItem> items;  // by opening day, label, step
  // Genus and method of batches that no plan speaks of, and plans that batches name and this device lacks; how many.
  std::vector<std::pair<std::string, int>> without_plan;
  std::vector<std::string> unread;  // plans of the book or of a batch that cannot be read, and why
  [[nodiscard]] const BatchState& batch(const DueItem& item) const { return batches[item.at].batch; }
};

// What opens up to that day. `then`: the book as it stood at the end of `on`.
[[nodiscard]] DueList due_list(const Logbook& book, Day on, Day upto, Hemisphere where, bool then = false);

}  // namespace motherbulb

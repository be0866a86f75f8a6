#include "app/print/due_list.hpp"

#include <algorithm>
#include <map>
#include <tuple>

#include "app/due_words.hpp"

namespace motherbulb {

DueList due_list(const Logbook& book, Day on, Day upto, Hemisphere where, bool then) {
  DueList list{PlanBook(book.story(BatchId{})),
               book.batches_with_pots(then ? std::optional<Day>(on) : std::nullopt),
               {},
               {},
               {}};
  list.unread = list.plans.faults();
  std::map<std::string, int> without;
  std::vector<Due> due;
  for (std::size_t at = 0; at < list.batches.size(); ++at) {
    const BatchPots& one = list.batches[at];
    const auto take = [&](const PotState* pot) {
      for (const Due& step : due) {
        if (upto < step.opens || step.lapsed(on)) continue;
        DueItem item{at, pot_label(one.batch, step.pot), step,
                     pot != nullptr ? place_of(one.batch, *pot) : one.batch.place, why_due(one.batch, step, on, where)};
        list.items.push_back(std::move(item));
      }
      due.clear();
    };
    bool lacks_pieces = false, lacks_bulbs = false;
    for (const PotState& pot : one.pots) {
      if (!pot.filled || pot.emptied) continue;
      const bool pieces = pot.unit == Unit::pieces;
      if (list.plans.plan_for(one.batch, pieces) == nullptr) (pieces ? lacks_pieces : lacks_bulbs) = true;
      add_due(list.plans, one.batch, pot, where, due);
      take(&pot);
    }
    add_due_waiting(list.plans, one.batch, where, due);
    take(nullptr);
    if (lacks_pieces) ++without[one.batch.genus + ", " + std::string(to_text(one.batch.method))];
    if (lacks_bulbs) ++without[one.batch.genus + ", " + std::string(to_text(Method::growing_on))];
    if (const std::string missing = list.plans.missing_for(one.batch); !missing.empty())
      ++without["the plan " + missing + ", which this device does not have"];
    if (std::string fault = list.plans.unread_for(one.batch); !fault.empty()) list.unread.push_back(std::move(fault));
  }
  std::stable_sort(list.items.begin(), list.items.end(), [](const DueItem& a, const DueItem& b) {
    if (!(a.due.opens == b.due.opens)) return a.due.opens < b.due.opens;
    // Batches stand by label; pot 10 comes after pot 9.
    return std::tie(a.at, a.due.pot, a.due.step) < std::tie(b.at, b.due.pot, b.due.step);
  });
  list.without_plan.assign(without.begin(), without.end());
  return list;
}

}  // namespace motherbulb

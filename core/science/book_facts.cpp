#include "core/science/book_facts.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace motherbulb {

Result<std::vector<PastFact>> past_facts(const Logbook& book) {
  struct Named {
    std::string clone, genus;
  };
  std::map<BatchId, Named> names;
  for (BatchState& batch : book.batches()) {
    if (batch.begun) names[batch.id] = {std::move(batch.clone), std::move(batch.genus)};
  }
  std::vector<std::pair<FoldOrder, PastFact>> ordered;
  const Outcome told = book.each_standing_fact([&](const StoryLine& line) {
    const BatchId batch = story_of(line.entry);
    const auto named = names.find(batch);
    if (named == names.end()) return;
    ordered.emplace_back(line.order, PastFact{batch, named->second.clone, named->second.genus, line.entry.pot,
                                              line.entry.when, line.fact});
  });
  if (!told) return told.error();
  // The book tells them batch by batch; a mother leaves her pot when the batch made of her begins.
  std::stable_sort(ordered.begin(), ordered.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<PastFact> facts;
  facts.reserve(ordered.size());
  for (auto& [order, fact] : ordered) facts.push_back(std::move(fact));
  return facts;
}

}  // namespace motherbulb

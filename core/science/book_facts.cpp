#include "core/science/book_facts.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace motherbulb {
namespace {

// Pieces and bulbs that wait in each batch, so that a potting of which nobody said what was potted is told as the fold
// understood it: pieces while any wait, then bulbs, and bulbs where a size was written.
class Waiting {
public:
  void take_in(PastFact& past) {
    if (const auto* begun = std::get_if<Begun>(&past.fact)) return begin(past, *begun);
    Heap& here = batches_[past.batch];
    if (auto* potted = std::get_if<Potted>(&past.fact)) return fill(*potted, here);
    if (past.pot != 0) {
      if (const auto* unpotted = std::get_if<Unpotted>(&past.fact)) here.bulbs += total(unpotted->lines);
      if (const auto* divided = std::get_if<Divided>(&past.fact)) here.bulbs += total(divided->lines);
      return;
    }
    if (const auto* lost = std::get_if<Lost>(&past.fact))
      leave(lost->lines, here.pieces > 0 ? here.pieces : here.bulbs);
    if (const auto* sold = std::get_if<Sold>(&past.fact)) leave(sold->lines, here.bulbs);
    if (const auto* given = std::get_if<Given>(&past.fact)) leave(given->lines, here.bulbs);
    if (const auto* discarded = std::get_if<Discarded>(&past.fact)) leave(discarded->lines, here.bulbs);
  }

private:
  struct Heap {
    bool cut = false;
    std::int64_t pieces = 0, bulbs = 0;
  };

  static void leave(const Lines& lines, std::int64_t& there) {
    there = std::max<std::int64_t>(0, there - total(lines));
  }

  void begin(const PastFact& past, const Begun& begun) {
    if (begun.parent && begun.parent_pot == 0) leave(begun.mothers, batches_[*begun.parent].bulbs);
    Heap& here = batches_[past.batch];
    here.cut = cuts(begun.method);
    const std::int64_t mothers = total(begun.mothers);
    if (!here.cut) {
      here.bulbs += mothers;
    } else {
      here.pieces += leaves_mother_whole(begun.method) ? mothers : mothers * std::max(begun.sections, 1);
    }
  }

  static void fill(Potted& potted, Heap& here) {
    const bool sized =
        std::any_of(potted.lines.begin(), potted.lines.end(), [](const Line& line) { return line.grade.has_value(); });
    if (sized) {
      potted.unit = Unit::bulbs;
    } else if (potted.unit == Unit::unsaid) {
      const bool pieces = here.pieces > 0 || (here.bulbs == 0 && here.cut);
      potted.unit = pieces ? Unit::pieces : Unit::bulbs;
    }
    leave(potted.lines, potted.unit == Unit::pieces ? here.pieces : here.bulbs);
  }

  std::map<BatchId, Heap> batches_;
};

}  // namespace

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
  Waiting waiting;
  for (auto& [order, fact] : ordered) {
    waiting.take_in(fact);
    facts.push_back(std::move(fact));
  }
  return facts;
}

}  // namespace motherbulb

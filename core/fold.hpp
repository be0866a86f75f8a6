// The fold: a batch's entries -> its folded picture. Pure: no store, no clock. It works for every book and never fails;
// what cannot be right is raised as a matter.
//
// Two steps. resolve() makes facts of entries: unites what came from one table, takes out what was withdrawn, puts in
// what replaced it, applies settled clock shifts, and sorts. StoryFold then applies facts one after the other. Facts
// that come later in the order than all that is folded can be applied to a picture that was put away and taken out
// again. Counting is that of design.md, "Counting".
#pragma once

#include <functional>
#include <map>
#include <set>
#include <string_view>
#include <vector>

#include "core/state.hpp"

namespace motherbulb {

// An entry's content as it stands.
struct Fact {
  std::optional<FactKey> table_key;  // where it came from a table
  FoldOrder order;
  When when;  // after a settled shift
  std::string helper;
  std::string_view device;  // name, else the writer in hexadecimal; lives as long as the BookView
  std::int32_t pot = 0;
  Payload payload;

  FactKey key() const { return table_key ? *table_key : fact_key(order.id); }  // a digest: made only when it is needed
};

// What a fact of one batch does to another: mothers or bulbs that leave a parent, bulbs that come by combining.
struct Link {
  BatchId from, to;  // the fact stands in the story of `from`; `to` feels it
  FactKey fact;
  FoldOrder order;
  When when;
  std::string helper;
  std::int32_t pot = 0;  // of `to`
  bool arrives = false;  // else it leaves
  bool cut = false;      // leaves because it was cut up
  Lines lines;
  std::int64_t pieces = 0;
};

struct Settled {
  Take take = Take::first;
  std::string text;
  FoldOrder order;
};
using Settlements = std::map<MatterId, Settled>;

// What resolving needs to know of the rest of the book.
struct BookView {
  virtual ~BookView() = default;
  virtual std::int64_t shift_ms(const EntryId& id) const = 0;         // settled; to be added to `when`
  virtual std::string_view device(const WriterId& writer) const = 0;  // lives as long as this view
};

struct Resolved {
  std::vector<Fact> facts;  // in the order of the fold, what began the batch first
  Settlements settlements;
  std::vector<Link> links;
  bool amended = false;     // by corrections or settlements
  bool from_table = false;  // some came from a table
};
// All entries of one story (of the whole book: story zero), in any order. `on`: only what was done by the end of that
// day counts.
Resolved resolve(const BatchId& story, const std::vector<Entry>& entries, const BookView& view,
                 std::optional<Day> on = std::nullopt);
// For each entry, in the same order: the fact as it stands, or none where it was withdrawn or another entry of the same
// fact speaks for it.
struct Standing {
  Payload payload;
  std::vector<std::uint64_t> rows;  // marks of the rows that stand, where it came from a table
};
std::vector<std::optional<Standing>> standing(const std::vector<Entry>& entries);
// Rows of a table's fact that corrections withdraw; `whole`: the fact itself was withdrawn.
struct Withdrawn {
  bool whole = false;
  std::set<std::uint64_t> rows;
};
std::map<FactKey, Withdrawn> withdrawn_facts(const std::vector<Entry>& entries);
FoldOrder order_of(const Entry& entry, std::int64_t shift_ms);
// The link that a standing fact makes, if it makes one.
std::optional<Link> link_of(const BatchId& story, const Fact& fact);

class StoryFold {
public:
  StoryFold(const BatchId& story, const Settlements& settlements);
  // Goes on from a picture put away: the batch, and the pot that the next fact is about.
  StoryFold(BatchState batch, const Settlements& settlements);
  void put_pot(PotState pot);

  void apply(const Fact& fact);
  void apply(const Link& link);

  BatchState& batch() { return batch_; }
  std::map<std::int32_t, PotState>& pots() { return pots_; }
  // Raised so far and not settled, without balances.
  const std::vector<Matter>& raised() const { return raised_; }
  // Facts that a settlement sets aside: met only after they were applied, so the story must be folded again without.
  const std::set<FactKey>& set_aside() const { return set_aside_; }
  // Facts that a settlement keeps from counting.
  const std::set<FactKey>& kept_out() const { return kept_out_; }
  void without(const std::set<FactKey>& facts) { without_ = facts; }

private:
  struct Place;
  struct Named;
  PotState& pot(std::int32_t number);
  bool meets_settled(const Matter& matter, Take& take);
  void begin(const Fact& fact, const Begun& begun);
  void fill(const Fact& fact, std::int32_t number, Unit unit, const Lines& lines, const std::string& place);
  void empty(const Fact& fact, const Lines& lines, const std::optional<std::int64_t>& alive, const Lines& dead,
             bool stays_in_pot);
  void count_again(PotState& pot, const Lines& lines, const std::optional<std::int64_t>& alive, const Lines& dead);
  void regrade(const Fact& fact, const Lines& lines);
  void lose(const Fact& fact, const Lines& lines);
  void act_on_bulbs(const Named& fact, std::int32_t number, const Lines& lines, std::int64_t BulbBalance::*booked);
  bool on_emptied(const FactKey& key, const std::string& helper, const When& when, std::int32_t number,
                  std::string_view work, std::int64_t count, bool& both);
  void observe(const Fact& fact, std::optional<PotState::Seen> PotState::*last, MatterKind kind, std::int64_t value,
               const std::string& text);
  void settle_open(BulbBalance& balance, FactKey& open_fact, std::int64_t before, const Named& fact,
                   std::int32_t number);
  Place place_for(std::int32_t number);
  void note_step(const Fact& fact, Step step);
  void note_plan_facts(const Fact& fact, Kind kind);

  BatchState batch_;
  std::map<std::int32_t, PotState> pots_;
  const Settlements& settlements_;
  std::vector<Matter> raised_;
  std::set<FactKey> set_aside_, without_, kept_out_;
};

// The matters of open balances, from a picture alone. None where it was settled to leave it open.
std::optional<Matter> balance_matter(const BatchState& batch, const PotState* pot, const Settlements& settlements);

// A whole story at once.
struct FoldedStory {
  BatchState batch;
  std::map<std::int32_t, PotState> pots;
  std::vector<Matter> matters;  // open, balances among them; sorted by id
  std::set<FactKey> set_aside;  // facts that stand but count nothing, because a person said so
};
FoldedStory fold_story(const BatchId& story, const Resolved& resolved, const std::vector<Link>& links_here);

}  // namespace motherbulb

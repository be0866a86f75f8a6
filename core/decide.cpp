#include "core/decide.hpp"

#include <algorithm>

#include "core/label.hpp"
#include "core/names.hpp"
#include "core/places.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t longest_text = 20000;  // bytes; a name of 10,000 characters still fits

std::string who(const std::string& helper) {
  return helper.empty() ? "somebody" : helper;
}

Entry entry_of(const std::string& helper, const When& when, const BatchId& batch, std::int32_t pot,
               const Payload& fact) {
  Entry entry;
  entry.helper = helper;
  entry.when = when;
  entry.batch = batch;
  entry.pot = pot;
  entry.kind = kind_number(fact);
  entry.payload = encode(fact);
  return entry;
}

bool takes_bulbs_out(const Payload& fact) {
  return std::holds_alternative<Sold>(fact) || std::holds_alternative<Given>(fact) ||
         std::holds_alternative<Moved>(fact);
}

// A pot is found, filled and not emptied; else why not.
std::optional<Error> pot_missing(const BatchState& batch, const std::optional<PotState>& pot, std::int32_t number) {
  const std::string label = pot_label(batch, number);
  if (!pot || !pot->filled) return refusal("pot " + label + " was never potted; choose another, or record its potting");
  if (!pot->emptied) return std::nullopt;
  std::string by;
  if (pot->count) by = " by " + who(pot->count->helper) + " on " + to_text(local_day(pot->count->when));
  return refusal("pot " + label + " was unpotted" + by + "; choose another, or take that unpotting back first");
}

// What stands against cutting: the mothers, or others of their clone, are on hold or were found bad. A cut copies what
// a bulb has into every section (trade-facts.md, section 5).
std::string against_cutting(BookQuestions& book, const Begun& begun, const When& now) {
  if (!cuts(begun.method) && begun.method != Method::offsets) return "";
  std::string of_clone;
  for (const PotRow& row : book.guarded(now.utc_ms)) {
    std::string why = held_because(row.batch, row.pot);
    if (row.pot.emptied || why.empty()) continue;
    if (folded_name(row.batch.clone) != folded_name(begun.clone) ||
        folded_name(row.batch.genus) != folded_name(begun.genus))
      continue;
    const std::string told = pot_label(row.batch, row.pot.pot.number) + " is " + why;
    const bool same_batch = begun.parent && row.batch.id == *begun.parent;
    if (same_batch && (row.pot.pot.number == 0 || begun.parent_pot == 0 || row.pot.pot.number == begun.parent_pot))
      return told;
    if (of_clone.empty()) of_clone = told + ", of the same clone";
  }
  return of_clone;
}

// Work that is done with the hands in the pot: not while a treatment's re-entry time runs on its bench.
bool is_work_at_the_bench(const Payload& fact) {
  switch (static_cast<Kind>(kind_number(fact))) {
    case Kind::note:
    case Kind::hours:
    case Kind::money:
    case Kind::postponed:
    case Kind::plan_edited:
    case Kind::held:
    case Kind::cleared:
    case Kind::treated:  // whoever treats knows; the longest time rules
    case Kind::treatment:
      return false;
    default:
      return true;
  }
}

std::string against_entering(BookQuestions& book, const BatchState& batch, const std::optional<PotState>& pot,
                             const Payload& fact, const When& now, const When& when) {
  // What was done at another time is only written down now.
  if (!is_work_at_the_bench(fact) || !(when == now)) return "";
  const std::string bench = pot ? split_place(place_of(batch, *pot)).bench : split_place(batch.place).bench;
  const auto stands_there = [&](const PotRow& row) {
    if (bench.empty()) return false;
    if (split_place(place_of(row.batch, row.pot)).bench == bench) return true;
    if (row.pot.pot.number != 0) return false;
    // What was done to a whole batch was done wherever its pots stand.
    const std::vector<PotState> pots = book.filled_pots_of(row.batch.id);
    return std::any_of(pots.begin(), pots.end(),
                       [&](const PotState& one) { return split_place(place_of(row.batch, one)).bench == bench; });
  };
  const NoEntry* last = nullptr;
  const std::vector<PotRow>& rows = book.guarded(now.utc_ms);
  for (const PotRow& row : rows) {
    const NoEntry* here = no_entry_of(row.batch, row.pot);
    if (here == nullptr || here->until.utc_ms <= now.utc_ms) continue;
    const bool same =
        row.batch.id == batch.id && (row.pot.pot.number == 0 || !pot || row.pot.pot.number == pot->pot.number);
    if ((same || stands_there(row)) && (last == nullptr || last->until.utc_ms < here->until.utc_ms)) last = here;
  }
  if (last == nullptr) return "";
  return "nobody enters before " + to_text(last->until) + " (" +
         (last->product.empty() ? std::string("a treatment") : last->product) + ")";
}

Result<std::vector<Entry>> record(BookQuestions& book, const Record& wish, const When& now) {
  if (wish.helper.size() > longest_text) return refusal("the helper's name is too long; shorten it");
  const When when = wish.when.value_or(now);
  Payload fact = wish.fact;
  if (const Lines* lines = lines_of(fact)) {
    for (const Line& line : *lines) {
      if (line.count < 0 || line.count > greatest_count) {
        return refusal("a count of " + std::to_string(line.count) + " cannot be kept; give 0 to 1,000,000");
      }
    }
  }
  // What would not be read back as it was written is never written.
  if (std::holds_alternative<FromNewerVersion>(decode(kind_number(fact), encode(fact)))) {
    return refusal("this cannot be kept: a text in it is not UTF-8, or a number is out of its range; write it again");
  }
  if (auto* begun = std::get_if<Begun>(&fact)) {
    if (folded_name(begun->clone).empty()) return refusal("the batch has no clone; choose or name one");
    if (folded_name(begun->genus).empty()) return refusal("the clone has no genus; choose one");
    if (total(begun->mothers) < 1) return refusal("no mothers or bulbs are given; count at least one");
    if (cuts(begun->method) && begun->sections < 1) return refusal("no sections are given; say into how many");
    std::optional<PotState> from;
    std::string entering;
    if (begun->parent) {
      const auto parent = book.batch(*begun->parent);
      if (!parent || !parent->begun) return refusal("the parent batch is not in this book; merge its parcel first");
      if (folded_name(parent->clone) != folded_name(begun->clone)) {
        return refusal("the parent batch is of clone '" + parent->clone + "', not '" + begun->clone +
                       "'; choose the parent again");
      }
      if (begun->parent_pot != 0) from = book.pot({*begun->parent, begun->parent_pot});
      // Uncut they would leave the pot whole: the same as moved.
      const std::string held = held_because(*parent, from.value_or(PotState{}));
      if (!cuts(begun->method) && begun->method != Method::offsets && !held.empty())
        return refusal(pot_label(*parent, begun->parent_pot) + " is " + held + "; clear it first");
      entering = against_entering(book, *parent, from, fact, now, when);
    }
    std::vector<Entry> despite;
    std::string against = against_cutting(book, *begun, now);
    if (!entering.empty()) against += (against.empty() ? "" : "; ") + entering;
    if (!against.empty()) {
      if (wish.despite.empty()) return refusal(std::string(guarded_prefix) + against);
      if (begun->parent) {
        despite.push_back(entry_of(wish.helper, when, *begun->parent, begun->parent_pot,
                                   Note{"done all the same, " + against + ": " + wish.despite}));
      } else {
        begun->note += (begun->note.empty() ? "" : "; ") + ("done all the same, " + against + ": " + wish.despite);
      }
    }
    if (begun->label.empty()) {
      begun->label = book.next_label(civil(local_day(when)).year);
    } else if (!label_from_text(begun->label)) {
      return refusal("'" + begun->label + "' is not a label with its right check character");
    }
    std::vector<Entry> entries{entry_of(wish.helper, when, {}, 0, fact)};
    entries.insert(entries.end(), despite.begin(), despite.end());
    return entries;
  }
  if (wish.batch.is_zero()) return std::vector<Entry>{entry_of(wish.helper, when, {}, 0, fact)};

  const auto batch = book.batch(wish.batch);
  if (!batch || !batch->begun)
    return refusal("this book does not know the batch; merge the parcel it comes from first");
  std::optional<PotState> pot;
  if (wish.pot != 0) pot = book.pot({wish.batch, wish.pot});
  const bool makes_pot = std::holds_alternative<Potted>(fact) || std::holds_alternative<Note>(fact) ||
                         (std::holds_alternative<Repotted>(fact) && total(std::get<Repotted>(fact).lines) > 0);
  if (wish.pot != 0 && !makes_pot) {
    if (auto missing = pot_missing(*batch, pot, wish.pot)) return *missing;
  }
  if (wish.pot != 0 && pot && takes_bulbs_out(fact)) {
    if (const std::string held = held_because(*batch, *pot); !held.empty()) {
      return refusal("pot " + pot_label(*batch, wish.pot) + " is " + held + "; clear it first");
    }
  }
  std::vector<Entry> despite;
  if (const std::string against = against_entering(book, *batch, pot, fact, now, when); !against.empty()) {
    if (wish.despite.empty()) return refusal(std::string(guarded_prefix) + against);
    despite.push_back(
        entry_of(wish.helper, when, wish.batch, wish.pot, Note{"done all the same, " + against + ": " + wish.despite}));
  }
  if (wish.pot == 0 && std::holds_alternative<Potted>(fact)) return refusal("a potting needs its pot; number it");
  if (const auto* unpotted = std::get_if<Unpotted>(&fact)) {
    if (wish.pot == 0) return refusal("an unpotting needs its pot; choose one");
    const std::int64_t counted = total(unpotted->lines);
    // Twice what whole-bulb cuttings have been seen to give per section (trade-values.csv V003: 10 from 4) is asked
    // about once; common practice, not a limit.
    // A mother left whole is one piece with as many sectors.
    const std::int64_t most =
        pot->pieces * 5 * (leaves_mother_whole(batch->method) ? std::max<std::int64_t>(batch->sections, 1) : 1);
    if (!wish.sure && pot->pieces > 0 && counted > most) {
      return refusal(std::string(unlikely_prefix) + "more than " + std::to_string(most) + " bulblets from " +
                     std::to_string(pot->pieces) + (pot->pieces == 1 ? " piece" : " pieces") + ", is that right?");
    }
    if (pot->pieces > 0 && unpotted->alive.value_or(0) + total(unpotted->dead) > pot->pieces && !wish.sure) {
      return refusal(std::string(unlikely_prefix) + "more pieces alive and dead than the " +
                     std::to_string(pot->pieces) + " potted, is that right?");
    }
  }
  if (!wish.sure && (std::holds_alternative<Sold>(fact) || std::holds_alternative<Given>(fact) ||
                     std::holds_alternative<Discarded>(fact))) {
    const BulbsByGrade& there = wish.pot != 0 ? pot->bulbs : batch->bulbs_waiting;
    const std::int64_t out = total(*lines_of(fact));
    if (out > total(there)) {
      return refusal(std::string(unlikely_prefix) + std::to_string(out) + " out, but only " +
                     std::to_string(total(there)) + " are there by the book; is that right?");
    }
  }
  std::vector<Entry> entries{entry_of(wish.helper, when, wish.batch, wish.pot, fact)};
  entries.insert(entries.end(), despite.begin(), despite.end());
  return entries;
}

Result<std::vector<Entry>> take_back(BookQuestions& book, const TakeBack& wish, const When& now) {
  const std::vector<Entry> story = book.entries_of_story(wish.batch);
  const auto stands = standing(story);
  for (std::size_t i = 0; i < story.size(); ++i) {
    if (!(fact_key(story[i]) == wish.fact) || !stands[i]) continue;
    Correction correction;
    correction.target = wish.fact;
    // Of a table's fact the rows are named, so that the table can be imported again.
    if (story[i].table) correction.rows = stands[i]->rows;
    correction.why = wish.why;
    return std::vector<Entry>{entry_of(wish.helper, now, wish.batch, story[i].pot, correction)};
  }
  return refusal("there is nothing to take back: it was taken back already, or is not in this book");
}

Result<std::vector<Entry>> settle(BookQuestions& book, const Settle& wish, const When& now) {
  for (const Matter& matter : book.matters()) {
    if (!(matter.id == wish.matter)) continue;
    Settlement settlement;
    settlement.matter = matter.id;
    settlement.take = wish.take;
    const auto to_book = [&](std::vector<Payload> more = {}) -> std::vector<Entry> {
      std::vector<Entry> entries{entry_of(wish.helper, now, {}, 0, settlement)};
      for (const Payload& payload : more) entries.push_back(entry_of(wish.helper, now, {}, 0, payload));
      return entries;
    };
    const bool both = wish.take == Take::both;
    switch (matter.kind) {
      case MatterKind::balance:
        if (both) return refusal("an open balance is left (first) or booked (second); take one of the two");
        break;
      case MatterKind::clock:
        if (both) return refusal("a clock is shifted (first) or left as written (second); take one of the two");
        return to_book();
      case MatterKind::fork:
        return to_book();
      case MatterKind::unknown_device:
        if (wish.take != Take::first) return refusal("a device without a name can only be given one; take first");
        settlement.text = matter.first.text;
        return to_book();
      case MatterKind::near_names: {
        if (both) return to_book();
        const MatterSide& keep = wish.take == Take::first ? matter.first : matter.second;
        const MatterSide& drop = wish.take == Take::first ? matter.second : matter.first;
        return to_book({CloneRenamed{matter.first.helper, drop.text, keep.text}});
      }
      case MatterKind::label_twice: {
        if (both) return to_book();
        // The one that is not taken gets a new label.
        const MatterSide& other = wish.take == Take::first ? matter.second : matter.first;
        const BatchId batch = batch_of(*other.fact);
        const auto state = book.batch(batch);
        if (!state) return refusal("the batch is not in this book any more");
        settlement.text = book.next_label(civil(local_day(state->begun_on)).year);
        return std::vector<Entry>{entry_of(wish.helper, now, batch, 0, settlement)};
      }
      default:
        break;
    }
    return std::vector<Entry>{entry_of(wish.helper, now, matter.pot.batch, matter.pot.number, settlement)};
  }
  return refusal("there is no open matter " + hex(wish.matter) + "; list them with 'motherbulb matters'");
}

}  // namespace

Result<std::vector<Entry>> decide(BookQuestions& book, const Command& command, const When& now) {
  if (const auto* wish = std::get_if<Record>(&command)) return record(book, *wish, now);
  if (const auto* wish = std::get_if<TakeBack>(&command)) return take_back(book, *wish, now);
  return settle(book, std::get<Settle>(command), now);
}

}  // namespace motherbulb

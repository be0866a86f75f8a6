// All that a book shows, as text, so that two books can be compared and a difference read. And all that it holds.
#pragma once

#include <algorithm>
#include <map>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "core/logbook.hpp"
#include "shared/parcel.hpp"
#include "tests/make.hpp"

namespace motherbulb::make {

inline void show(std::ostream& out, const When& when) {
  out << to_text(when);
}
inline void show(std::ostream& out, const FoldOrder& order) {
  out << order.at << '/' << order.stamp.value << '/' << hex(order.id.writer) << ':' << order.id.seq;
}
inline void show(std::ostream& out, const FactKey& key) {
  out << hex(key);
}
inline void show(std::ostream& out, const BulbsByGrade& bulbs) {
  for (const auto& [of, count] : bulbs) out << " [" << to_text(of) << "]x" << count;
}
inline void show(std::ostream& out, const LossByCause& lost) {
  out << " lost";
  for (const std::int64_t count : lost) out << ' ' << count;
}
inline void show(std::ostream& out, const BulbBalance& b) {
  out << "bulbs: begun " << b.begun << " increase " << b.increase << " brought " << b.brought << " there " << b.there
      << " cut " << b.cut << " sold " << b.sold << " given " << b.given << " discarded " << b.discarded << " open "
      << b.open << " taken " << b.taken;
  show(out, b.lost);
}
inline void show(std::ostream& out, const PieceBalance& b) {
  out << "pieces: made " << b.made << " brought " << b.brought << " waiting " << b.waiting << " growing " << b.growing
      << " unpotted " << b.unpotted << " alive " << b.alive << " open " << b.open << " taken " << b.taken;
  show(out, b.lost);
}
inline void show(std::ostream& out, const PotState::Seen& seen) {
  out << seen.device << ' ' << to_text(seen.day) << ' ' << hex(seen.fact) << ' ' << seen.helper << ' '
      << to_text(seen.when) << ' ' << seen.value << ' ' << seen.text;
}
inline void show(std::ostream& out, const PotState::Count& count) {
  out << hex(count.fact) << ' ' << count.helper << ' ' << to_text(count.when) << ' ' << count.pieces << ' '
      << count.bulbs_before << ' ' << count.counted << ' ' << count.alive << ' ' << count.dead << ' '
      << count.alive_said << ' ' << count.open_bulbs << ' ' << count.increase << ' ' << count.open_pieces;
}
inline void show(std::ostream& out, const NoEntry& none) {
  out << to_text(none.until) << ' ' << none.product;
}
inline void show(std::ostream& out, const TestSeen& test) {
  out << test.subject << ' ' << to_text(test.result) << ' ' << test.helper << ' ' << to_text(test.when) << ' ';
  show(out, test.order);
}
inline void show(std::ostream& out, const std::vector<StepDone>& done) {
  for (const StepDone& one : done) {
    out << "\n    done " << to_text(one.step) << ' ' << to_text(one.when) << ' ';
    show(out, one.order);
  }
}
inline void show(std::ostream& out, const std::vector<StepPutOff>& put_off) {
  for (const StepPutOff& one : put_off) {
    out << "\n    put off " << one.step << ' ' << one.days << ' ' << one.why << ' ' << one.helper << ' '
        << to_text(one.when) << ' ';
    show(out, one.order);
  }
}
template <class T>
void show(std::ostream& out, const std::optional<T>& value) {
  if (!value) {
    out << "none";
  } else if constexpr (std::is_arithmetic_v<T>) {
    out << *value;
  } else {
    show(out, *value);
  }
}
inline void show(std::ostream& out, const PotState& pot) {
  out << "  pot " << pot.pot.number << " unit " << static_cast<int>(pot.unit) << " pieces " << pot.pieces;
  show(out, pot.bulbs);
  out << " emptied " << pot.emptied << " filled " << pot.filled << ' ';
  show(out, pot.filled_on);
  out << ' ';
  show(out, pot.filled_order);
  out << " place '" << pot.place << "'\n    ";
  show(out, pot.bulb_balance);
  out << "\n    ";
  show(out, pot.piece_balance);
  out << "\n    assumed " << pot.assumed_grade << " shoots ";
  show(out, pot.shoots);
  out << " looked ";
  show(out, pot.last_looked);
  for (const auto& seen : pot.damage) {
    out << "\n    damage " << to_text(seen.when) << ' ' << to_text(seen.cause) << ' ' << seen.detail << ' '
        << seen.helper << ' ' << seen.note << ' ' << seen.how_bad;
  }
  out << "\n    covered " << pot.covered << " phase " << to_text(pot.phase) << ' ';
  show(out, pot.phase_order);
  out << ' ';
  show(out, pot.phase_on);
  out << " held " << pot.held << ' ' << pot.held_reason << " look ";
  show(out, pot.last_look);
  out << " grading ";
  show(out, pot.last_grading);
  out << " move ";
  show(out, pot.last_move);
  out << " count ";
  show(out, pot.count);
  out << ' ' << hex(pot.open_fact);
  show(out, pot.done);
  show(out, pot.put_off);
  out << "\n    no entry ";
  show(out, pot.no_entry);
  out << " test ";
  show(out, pot.last_test);
  out << '\n';
}
inline void show(std::ostream& out, const BatchState& batch) {
  out << "batch " << hex(batch.id) << " begun " << batch.begun << ' ' << batch.clone << '/' << batch.genus << ' '
      << batch.label << ' ' << batch.mark << ' ' << batch.helper << ' ' << batch.medium << ' ' << batch.note
      << " parent " << (batch.parent ? hex(*batch.parent) : "none") << ' ' << to_text(batch.method) << ' '
      << batch.sections << ' ' << batch.mothers << ' ' << (batch.mother_grade ? to_text(*batch.mother_grade) : "none")
      << ' ';
  show(out, batch.begun_on);
  out << ' ' << to_text(batch.blade) << "\n  waiting " << batch.pieces_waiting;
  show(out, batch.bulbs_waiting);
  out << "\n  ";
  show(out, batch.bulb_balance);
  out << "\n  ";
  show(out, batch.piece_balance);
  out << "\n  assumed " << batch.assumed_grade << ' ' << hex(batch.open_fact) << " place '" << batch.place << "' ";
  show(out, batch.place_order);
  out << ' ' << to_text(batch.phase) << ' ';
  show(out, batch.phase_order);
  out << " looked ";
  show(out, batch.last_looked);
  out << " held " << batch.held << ' ' << batch.held_reason << " highest " << batch.highest_pot << " entries "
      << batch.entries << ' ';
  show(out, batch.last_order);
  show(out, batch.done);
  show(out, batch.put_off);
  out << "\n    no entry ";
  show(out, batch.no_entry);
  out << " test ";
  show(out, batch.last_test);
  for (const PlanFollowed& plan : batch.plans) {
    out << "\n    plan " << plan.plan << ' ' << plan.content << ' ';
    show(out, plan.order);
  }
  out << '\n';
}
inline void show(std::ostream& out, const MatterSide& side) {
  out << side.helper << ' ' << (side.when ? to_text(*side.when) : "none") << ' ' << side.text << ' ' << side.bulbs
      << ' ' << (side.fact ? hex(*side.fact) : "none");
}

// Batches, pots, matters and stock: the folded picture, which is to be the same in every book of the same entries.
inline std::string picture(const Logbook& book) {
  std::ostringstream out;
  out << "digest " << book.digest() << " entries " << book.entry_count() << '\n';
  for (const BatchState& batch : book.batches()) {
    show(out, batch);
    for (const PotState& pot : book.pots_of(batch.id)) show(out, pot);
  }
  for (const Matter& matter : book.matters()) {
    out << "matter " << hex(matter.id) << ' ' << to_text(matter.kind) << ' ' << hex(matter.pot.batch) << '/'
        << matter.pot.number << ' ' << static_cast<int>(matter.proposal) << "\n  ";
    show(out, matter.first);
    out << "\n  ";
    show(out, matter.second);
    out << '\n';
  }
  const Stock stock = book.stock();
  for (const StockRow& row : stock.rows) {
    out << "stock " << row.clone << '/' << row.genus << ' ' << to_text(row.grade) << ' ' << row.bulbs << '\n';
  }
  for (const CloneBalance& clone : stock.balance) {
    out << "clone " << clone.clone << '/' << clone.genus << ' ' << clone.batches << ' ';
    show(out, clone.bulbs);
    out << ' ';
    show(out, clone.pieces);
    out << '\n';
  }
  return out.str();
}

// The first lines in which two pictures differ; nothing where they are equal.
inline std::string difference(const std::string& a, const std::string& b) {
  std::istringstream left(a), right(b);
  std::string of_a, of_b;
  for (int line = 1;; ++line) {
    const bool more_a = static_cast<bool>(std::getline(left, of_a)),
               more_b = static_cast<bool>(std::getline(right, of_b));
    if (!more_a && !more_b) return "";
    if (!more_a) of_a = "(nothing)";
    if (!more_b) of_b = "(nothing)";
    if (of_a != of_b) return "line " + std::to_string(line) + ":\n" + of_a + "\n" + of_b;
  }
}
inline std::string difference(const Logbook& a, const Logbook& b) {
  return difference(picture(a), picture(b));
}

// Every entry that the book would hand on, with its canonical bytes. An id with two contents stands twice.
inline std::multimap<EntryId, ByteString> entries_in(const std::vector<std::uint8_t>& parcel_bytes) {
  std::vector<std::pair<EntryId, ByteString>> found;
  MemorySource source(parcel_bytes);
  const auto reader = must(ParcelReader::open(source));
  while (true) {
    const auto run = must(reader->next_run());
    if (!run) break;
    Entry entry;
    Hash hash;
    while (must(reader->next_entry(entry, hash))) found.emplace_back(entry.id, canonical_body(entry));
  }
  std::sort(found.begin(), found.end());  // contents of one id too have an order then
  return {found.begin(), found.end()};
}
inline std::multimap<EntryId, ByteString> entries_in(Logbook& book) {
  return entries_in(parcel(book));
}

}  // namespace motherbulb::make

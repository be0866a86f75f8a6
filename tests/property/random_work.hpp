// Work as it comes, by chance: taps of every kind that counts, on whatever the book knows, sensible or not.
#pragma once

#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "tests/fake_host.hpp"
#include "tests/make.hpp"

namespace motherbulb::make {

// What was acknowledged, kept apart from any book: the model that books are held against.
struct Told {
  BatchId batch;
  std::int32_t pot = 0;
  std::string helper;
  std::uint16_t kind = 0;
  ByteString payload;
};
using Model = std::map<EntryId, Told>;

inline Lines random_lines(Chance& chance, std::int64_t most) {
  static const char* const grades[] = {"", "-2", "2-4", "4-6", "6-8", "8-10"};
  Lines made;
  const std::int64_t count = chance.between(1, 2);
  for (std::int64_t i = 0; i < count; ++i) {
    Line line;
    const char* text = grades[chance.below(6)];
    if (*text != '\0') line.grade = grade(text);
    line.count = chance.between(0, most);
    line.cause = static_cast<Cause>(chance.below(cause_count));
    made.push_back(line);
  }
  return made;
}

inline Payload random_fact(Chance& chance, const std::vector<BatchState>& batches) {
  static const char* const places[] = {"", "house 1, bench 1", "house 1, bench 2", "house 2, bench 7"};
  static const char* const steps[] = {"uncover", "unpot", "repot", "water", "a step of later"};
  switch (chance.below(30)) {
    case 0:
      return pieces_potted(chance.between(1, 8), places[chance.below(4)]);
    case 1:
      return bulbs_potted(random_lines(chance, 6), places[chance.below(4)]);
    case 2:
      return looked(chance.between(0, 9));
    case 3:
      return lost(static_cast<Cause>(chance.below(cause_count)), chance.between(0, 3));
    case 4:
      return Moved{places[1 + chance.below(3)], ""};
    case 5:
    case 6:
      return unpotted(random_lines(chance, 5),
                      chance.one_in(2) ? std::optional<std::int64_t>(chance.between(0, 8)) : std::nullopt);
    case 7:
      return Graded{random_lines(chance, 5), ""};
    case 8:
      return Divided{random_lines(chance, 4), std::nullopt, {}, ""};
    case 9:
      return DriedOff{};
    case 10:
      return Started{};
    case 11:
      return Repotted{chance.one_in(2) ? Lines{} : random_lines(chance, 5), places[chance.below(4)], ""};
    case 12:
      return Flowered{chance.between(0, 3), chance.between(0, 1), ""};
    case 13:
      return Sold{random_lines(chance, 2), chance.between(0, 900), ""};
    case 14:
      return Given{random_lines(chance, 2), ""};
    case 15:
      return Discarded{random_lines(chance, 2), ""};
    case 16:
      return Held{"looks striped"};
    case 17:
      return Cleared{"tested"};
    case 18:
      return Note{"wet corner"};
    case 19:
      return Damage{Cause::pest, "thrips", static_cast<std::int32_t>(chance.below(4)), ""};
    case 20:
      return Covered{};
    case 21:
      return Uncovered{};
    case 22:
      return Watered{};
    case 23:
      return Fed{"half strength"};
    case 24: {
      Treated fact{"soft soap", "", std::nullopt, ""};
      if (chance.one_in(2)) fact.re_entry_hours = static_cast<std::int32_t>(chance.below(3));
      return fact;
    }
    case 25: {
      Treatment fact;
      fact.product = "Invented product";
      fact.registration = "INV-0815";
      if (chance.one_in(2)) fact.re_entry_hours = static_cast<std::int32_t>(chance.below(3));
      return fact;
    }
    case 26:
      return Postponed{steps[chance.below(5)], static_cast<std::int32_t>(chance.below(3)), "roots still white"};
    case 27:
      return Tested{"mosaic virus", static_cast<TestResult>(chance.below(4)), ""};
    case 28:
      return PlanEdited{chance.one_in(2) ? "hippeastrum-chipping" : "own", chance.one_in(2) ? "" : "{}"};
    default: {
      Combined fact;
      if (!batches.empty()) fact.into = batches[chance.below(batches.size())].id;
      fact.pieces = chance.between(0, 2);
      fact.lines = random_lines(chance, 2);
      return fact;
    }
  }
}

inline Begun random_begun(Chance& chance, Logbook& book, const std::vector<BatchState>& batches) {
  static const char* const clones[] = {"Tirna Red", "Skarn Blue", "Vell 7", "Tirna red "};
  const bool cut = chance.one_in(2);
  Begun fact = begun(clones[chance.below(4)], cut ? Method::chipping : Method::growing_on, random_lines(chance, 4),
                     cut ? static_cast<std::int32_t>(chance.between(2, 16)) : 0);
  if (!batches.empty() && chance.one_in(2)) {
    const BatchState& parent = batches[chance.below(batches.size())];
    fact.parent = parent.id;
    fact.parent_pot = static_cast<std::int32_t>(chance.below(3));
    fact.clone = parent.clone.empty() ? fact.clone : parent.clone;
  }
  fact.label = book.next_label(2026);
  return fact;
}

// One act on this book; what was acknowledged goes into the model. False where the book refused it, which it may.
inline bool random_act(Logbook& book, Chance& chance, Model& model) {
  static const char* const helpers[] = {"Runa", "Iven", "Osk"};
  const std::string helper = helpers[chance.below(3)];
  const std::vector<BatchState> batches = book.batches();
  const auto keep = [&](const Result<Receipt>& kept, const Record& wish) {
    if (!kept) {
      REQUIRE_MESSAGE(kept.error().kind == ErrorKind::refused, kept.error().what);
      return false;
    }
    REQUIRE(kept->kept);
    const bool first =
        model.emplace(kept->id, Told{wish.batch, wish.pot, helper, kind_number(wish.fact), encode(wish.fact)}).second;
    REQUIRE_MESSAGE(first, "an entry's id was given out twice");
    return true;
  };
  if (batches.empty() || chance.one_in(8)) {
    const Record wish = record({}, 0, random_begun(chance, book, batches), helper);
    return keep(book.run(wish), wish);
  }
  const BatchState& batch = batches[chance.below(batches.size())];
  if (chance.one_in(12)) {
    const std::vector<StoryLine> story = book.story(batch.id);
    if (!story.empty()) {
      const StoryLine& line = story[chance.below(story.size())];
      const TakeBack wish{helper, batch.id, line.key, "a slip"};
      const Result<Receipt> kept = book.run(wish);
      if (!kept) {
        REQUIRE_MESSAGE(kept.error().kind == ErrorKind::refused, kept.error().what);
        return false;
      }
      const bool first =
          model.emplace(kept->id, Told{batch.id, 0, helper, static_cast<std::uint16_t>(Kind::correction), {}}).second;
      REQUIRE_MESSAGE(first, "an entry's id was given out twice");
      return true;
    }
  }
  if (chance.one_in(12)) {
    const std::vector<Matter> matters = book.matters();
    if (!matters.empty()) {
      const Matter& matter = matters[chance.below(matters.size())];
      const Result<Receipt> kept = book.run(Settle{helper, matter.id, static_cast<Take>(1 + chance.below(3))});
      if (!kept) {
        REQUIRE_MESSAGE(kept.error().kind == ErrorKind::refused, kept.error().what);
        return false;
      }
      const bool first =
          model.emplace(kept->id, Told{{}, 0, helper, static_cast<std::uint16_t>(Kind::settlement), {}}).second;
      REQUIRE_MESSAGE(first, "an entry's id was given out twice");
      return true;
    }
  }
  Record wish = record(batch.id, static_cast<std::int32_t>(chance.below(4)), random_fact(chance, batches), helper);
  Result<Receipt> kept = book.run(wish);
  if (!kept && kept.error().what.rfind(guarded_prefix, 0) == 0 && chance.one_in(2)) {
    // Done all the same: the reason is a second entry, behind it.
    const std::string against = kept.error().what.substr(guarded_prefix.size());
    wish.despite = "could not wait";
    kept = book.run(wish);
    if (kept) {
      const Note why{"done all the same, " + against + ": could not wait"};
      const bool first = model
                             .emplace(EntryId{kept->id.writer, kept->id.seq + 1},
                                      Told{wish.batch, wish.pot, helper, kind_number(why), encode(why)})
                             .second;
      REQUIRE_MESSAGE(first, "an entry's id was given out twice");
    }
  }
  return keep(kept, wish);
}

// A table's rows, imported: the same `number` gives the same facts on whichever device, of which one or two are sent.
inline void import_rows(Logbook& book, std::uint64_t number, std::int64_t now_ms, Model& model) {
  Chance chance(number);
  Entry begins;
  Begun fact = begun("Vell 7", Method::growing_on, lines({{"4-6", 9}}));
  fact.label = "";
  fact.mark = "table " + std::to_string(number);
  begins.when = moment(now_ms - 86'400'000, 60);
  begins.helper = "Osk";
  begins.kind = static_cast<std::uint16_t>(Kind::begun);
  begins.payload = encode(fact);
  begins.table.emplace();
  for (std::uint8_t& byte : begins.table->fact.bytes) byte = static_cast<std::uint8_t>(chance.next());
  begins.table->rows = {chance.next()};
  begins.table->device = book.device_letter();
  Entry loses;
  loses.when = moment(now_ms - 80'000'000, 60);
  loses.helper = "Osk";
  loses.batch = batch_of(begins.table->fact);
  loses.kind = static_cast<std::uint16_t>(Kind::lost);
  loses.payload = encode(lost(Cause::frost, 2));
  loses.table = begins.table;
  for (std::uint8_t& byte : loses.table->fact.bytes) byte = static_cast<std::uint8_t>(chance.next());
  loses.table->rows = {chance.next()};
  const std::vector<Entry> entries = {begins, loses};
  const std::vector<Receipt> kept = must(book.append(entries));
  REQUIRE(kept.size() == entries.size());
  for (std::size_t i = 0; i < kept.size(); ++i) {
    const bool first =
        model.emplace(kept[i].id, Told{entries[i].batch, 0, "Osk", entries[i].kind, entries[i].payload}).second;
    REQUIRE_MESSAGE(first, "an entry's id was given out twice");
  }
}

}  // namespace motherbulb::make

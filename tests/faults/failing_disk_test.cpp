// A disk that fails or is full (R5), at every operation of five pieces of work, once and for ever. The person is told
// in words; what was refused has changed nothing; and when the disk works again, so does the open book, without a
// restart.
#include <doctest/doctest.h>

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "tests/faults/power_vfs.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"

namespace motherbulb {
namespace {

using faults::Disk;
using faults::Fault;
using faults::Image;
using faults::UnderSqlite;
using make::must;

const std::string store = faults::place("island.book");

// One piece of work: how many entries it has added by the time it is refused or done.
struct Work {
  std::string name;
  std::function<Outcome(Logbook&)> does;  // wholly or not at all
  std::int64_t adds = 0;
};

struct Start {
  Image image;
  FakeHost host{1};
  BatchId batch;
  std::vector<std::uint8_t> parcel;
};

const Start& start() {
  static const Start made = [] {
    Start start;
    Disk disk;
    disk.write_down(false);
    const UnderSqlite under(disk);
    FakeHost other_host(2);
    auto book = make::new_book(store, start.host, "A");
    make::write_small_day(*book, start.host);
    for (const BatchState& batch : book->batches()) {
      if (batch.method == Method::chipping) start.batch = batch.id;
    }
    auto other = make::new_book(faults::place("other"), other_host, "B");
    other_host.set_now(start.host.now_ms());
    make::merge(*other, make::parcel(*book));
    make::write_small_day(*other, other_host, "Iven");
    start.host.set_now(other_host.now_ms());
    start.parcel = make::parcel(*other);
    book.reset();
    other.reset();
    start.image = disk.image();
    start.image.erase(faults::place("other"));
    return start;
  }();
  return made;
}

template <class T>
Outcome as_outcome(const Result<T>& result) {
  return result ? Outcome(Done{}) : Outcome(result.error());
}

const std::vector<Work>& works() {
  static const std::vector<Work> all = {
      {"one tap", [](Logbook& book) { return as_outcome(book.run(make::record(start().batch, 3, make::looked(4)))); },
       1},
      {"several taps as one",
       [](Logbook& book) {
         const std::vector<Command> wishes = {make::record(start().batch, 2, make::looked(4)),
                                              make::record(start().batch, 3, make::lost(Cause::rot, 1)),
                                              make::record(start().batch, 0, Note{std::string(9'000, 'x')})};
         return as_outcome(book.run_all(wishes));
       },
       3},
      {"a merge",
       [](Logbook& book) {
         MemorySource source(start().parcel);
         return as_outcome(book.merge({&source}));
       },
       11},
      {"a table",
       [](Logbook& book) {
         std::vector<Entry> entries(12);
         for (Entry& entry : entries) {
           entry.when = make::when("2026-02-11");
           entry.helper = "Osk";
           entry.batch = start().batch;
           entry.kind = static_cast<std::uint16_t>(Kind::note);
           entry.payload = encode(Note{"from the table"});
         }
         return as_outcome(book.append(entries));
       },
       12},
  };
  return all;
}

std::string words(const Outcome& outcome) {
  return outcome ? "" : outcome.error().what;
}

struct Tally {
  std::uint64_t faults = 0, refused = 0, withstood = 0, kept_after_all = 0;
};

// At each operation until the work gets through without meeting the fault.
void fail_everywhere(const Work& work, Fault::Kind kind, bool for_ever, Tally& tally) {
  for (std::uint64_t at = 1;; ++at) {
    const std::string what = kind == Fault::Kind::full ? "disk full" : "input or output error";
    const std::string how_long = for_ever ? " and for ever after" : "";
    INFO(work.name << ", " << what << " at operation " << at << how_long);
    Disk disk(start().image);
    const UnderSqlite under(disk);
    FakeHost host = start().host;
    auto book = make::open_book(store, host);
    const std::string before = make::picture(*book);
    const std::int64_t entries = book->entry_count();

    disk.set_fault({kind, at, for_ever});
    const Outcome outcome = work.does(*book);
    const bool met = disk.faults() > 0;
    disk.set_fault({});
    if (!met) {
      must(outcome);
      REQUIRE(book->entry_count() == entries + work.adds);
      break;
    }
    ++tally.faults;
    std::int64_t expected = entries;
    if (outcome) {
      // The fault hit something that the work could do without.
      ++tally.withstood;
      expected += work.adds;
    } else {
      ++tally.refused;
      REQUIRE(outcome.error().kind == ErrorKind::failed);
      REQUIRE(words(outcome).size() > 20);
      if (for_ever && words(outcome).find("Look before you do it again") != std::string::npos &&
          book->entry_count() == entries + work.adds) {
        // All was written, the disk stopped answering at the sync, and had kept it after all: so the person was told.
        ++tally.kept_after_all;
        expected += work.adds;
      } else {
        REQUIRE(make::difference(make::picture(*book), before) == "");
      }
    }
    REQUIRE(book->entry_count() == expected);

    // The disk works again: so does the book.
    host.advance_minutes(5);
    const Outcome again = work.does(*book);
    REQUIRE_MESSAGE(again.ok(), "does not go on once the disk works again: " << words(again));
    if (expected == entries || work.name != "a merge") expected += work.adds;
    REQUIRE(book->entry_count() == expected);
    const std::string after = make::picture(*book);
    CheckReport report = must(book->check());
    REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
    REQUIRE(report.folded_equal);

    // And what it has acknowledged since is on the platter, though the system may have forgotten what a failed sync
    // was for.
    faults::Cuts cuts(disk.first(), disk.operations());
    while (cuts.step()) {
    }
    Chance chance(at);
    Disk left(cuts.draw(0, chance));
    left.write_down(false);
    {
      const UnderSqlite under_left(left);
      FakeHost same = host;
      const auto opened = Logbook::open(store, OpenWish{}, same);
      REQUIRE_MESSAGE(opened.ok(), opened.error().what);
      REQUIRE(make::difference(make::picture(**opened), after) == "");
    }
    book.reset();
    book = make::open_book(store, host);
    report = must(book->check());
    REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
    REQUIRE(make::difference(make::picture(*book), after) == "");
  }
}

TEST_CASE("a failing or full disk at any operation: told in words, nothing changed, and it goes on afterwards") {
  for (const Work& work : works()) {
    for (const Fault::Kind kind : {Fault::Kind::input_output, Fault::Kind::full}) {
      for (const bool for_ever : {false, true}) {
        Tally tally;
        fail_everywhere(work, kind, for_ever, tally);
        const std::string what =
            std::string(kind == Fault::Kind::full ? "full" : "error") + (for_ever ? ", for ever" : ", once");
        MESSAGE(work.name << ", " << what << ": " << tally.faults << " faults, " << tally.refused << " refused ("
                          << tally.kept_after_all << " kept after all), " << tally.withstood << " withstood");
        CHECK(tally.refused > 0);
      }
    }
  }
}

TEST_CASE("a failing or full disk while a store is made or opened: told in words, and the next try is good") {
  for (const bool existing : {false, true}) {
    for (const Fault::Kind kind : {Fault::Kind::input_output, Fault::Kind::full}) {
      for (const bool for_ever : {false, true}) {
        std::uint64_t faults = 0;
        for (std::uint64_t at = 1;; ++at) {
          INFO((existing ? "opening" : "making") << ", " << (kind == Fault::Kind::full ? "disk full" : "error")
                                                 << " at operation " << at << (for_ever ? " and for ever after" : ""));
          Disk disk(existing ? start().image : Image{});
          const UnderSqlite under(disk);
          FakeHost host = start().host;
          OpenWish wish;
          wish.create = !existing;
          disk.set_fault({kind, at, for_ever});
          auto opened = Logbook::open(store, wish, host);
          const bool met = disk.faults() > 0;
          if (!opened) {
            REQUIRE(opened.error().what.size() > 20);
            REQUIRE(opened.error().kind == ErrorKind::failed);
          }
          disk.set_fault({});
          if (!met) {
            REQUIRE_MESSAGE(opened.ok(), opened.error().what);
            break;
          }
          ++faults;
          if (!opened) opened = Logbook::open(store, wish, host);
          REQUIRE_MESSAGE(opened.ok(), "the next try: " << opened.error().what);
          make::tap(**opened, {}, 0, Note{"goes on"});
          const CheckReport report = must((*opened)->check());
          REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
          REQUIRE(report.entries == (existing ? 12 : 1));
        }
        if (kind == Fault::Kind::input_output || !existing) CHECK(faults > 0);
      }
    }
  }
}

TEST_CASE("a disk that fails or fills up while the book rests takes nothing away") {
  for (const Fault::Kind kind : {Fault::Kind::input_output, Fault::Kind::full}) {
    for (const bool for_ever : {false, true}) {
      std::uint64_t faults = 0;
      for (std::uint64_t at = 1;; ++at) {
        INFO((kind == Fault::Kind::full ? "disk full" : "error")
             << " at operation " << at << (for_ever ? " for ever" : ""));
        Disk disk(start().image);
        const UnderSqlite under(disk);
        FakeHost host = start().host;
        auto book = make::open_book(store, host);
        must(works()[1].does(*book));
        const std::string before = make::picture(*book);
        disk.set_fault({kind, at, for_ever});
        book->rest();
        const bool met = disk.faults() > 0;
        disk.set_fault({});
        REQUIRE(make::difference(make::picture(*book), before) == "");
        if (!met) break;
        ++faults;
        must(works()[0].does(*book));
        book->rest();
        const std::string after = make::picture(*book);
        book.reset();
        book = make::open_book(store, host);
        REQUIRE(make::difference(make::picture(*book), after) == "");
        REQUIRE(must(book->check()).faults.empty());
      }
      CHECK(faults > 0);
    }
  }
}

}  // namespace
}  // namespace motherbulb

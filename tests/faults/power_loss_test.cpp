// Power loss (R3 of the reliability goals): while a store is made, while tapping, merging and importing, at every
// operation on the disk and in several kinds of luck. What was acknowledged is there, a merge or an import is there
// wholly or not at all, the folded picture is that of the entries, and tapping goes on.
#include <doctest/doctest.h>

#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "tests/faults/power_vfs.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"

namespace motherbulb {
namespace {

using faults::Cuts;
using faults::Disk;
using faults::Image;
using faults::UnderSqlite;
using make::must;

const std::string store = faults::place("island.book");

// A run that was written down. Milestone i is what the book showed when i things had been acknowledged; the last one
// may stand once more for what was under way when the power went.
struct Run {
  Disk disk;
  std::vector<std::string> milestones;
  std::vector<FakeHost> hosts;
  explicit Run(Image first = {}) : disk(std::move(first)) {}
  void reached(const Logbook& book, const FakeHost& host) {
    milestones.push_back(make::picture(book));
    hosts.push_back(host);
    disk.acknowledge(milestones.size() - 1);
  }
};

struct Tally {
  std::uint64_t points = 0, before = 0, after = 0, unmade = 0, second_cuts = 0;
};

// Opens what a cut has left, holds it against the milestones and taps once more. Gives the picture found.
std::string recover(const Run& run, std::uint64_t acknowledged, Disk& left, Tally& tally) {
  const UnderSqlite under(left);
  FakeHost host = run.hosts[acknowledged];
  OpenWish wish;
  // Before anything was acknowledged there may be no store, as there was none; a person opens it anew.
  wish.create = acknowledged == 0;
  auto opened = Logbook::open(store, wish, host);
  if (!opened && acknowledged == 0) {
    // Cut short in the making: nothing was ever kept in it, and the words say what to do.
    REQUIRE((opened.error().kind == ErrorKind::foreign || opened.error().kind == ErrorKind::damaged));
    REQUIRE(opened.error().what.find("delete") != std::string::npos);
    ++tally.points;
    ++tally.unmade;
    return "";
  }
  REQUIRE_MESSAGE(opened.ok(), opened.error().what);
  Logbook& book = **opened;
  const CheckReport report = must(book.check());
  REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
  REQUIRE(report.folded_equal);
  REQUIRE(report.chains_ok);
  const std::string found = make::picture(book);
  const bool as_before = found == run.milestones[acknowledged];
  const bool as_after = acknowledged + 1 < run.milestones.size() && found == run.milestones[acknowledged + 1];
  REQUIRE_MESSAGE((as_before || as_after),
                  "after the cut the book shows neither what was acknowledged nor that and what "
                  "was under way:\n"
                      << found << "instead of\n"
                      << run.milestones[acknowledged]);
  ++tally.points;
  ++(as_before ? tally.before : tally.after);
  host.advance_minutes(30);
  make::tap(book, {}, 0, Note{"after the cut"});
  REQUIRE(book.entry_count() == report.entries + 1);
  return found;
}

// Every crash point of the run, with so many kinds of luck at each, until patience ends; then those reached are spread
// over the run, since the stride was chosen for that.
void cut_everywhere(const Run& run, std::uint64_t wanted, double seconds, Tally& tally) {
  const std::uint64_t seed = make::seed();
  const std::uint64_t operations = run.disk.operations().size();
  const auto lucks = static_cast<int>(std::max<std::uint64_t>(3, (wanted + operations - 1) / operations));
  const make::Patience patience(seconds, operations);
  Chance chance(seed);
  std::uint64_t done = 0;
  for (int luck = 0; luck < lucks && patience.left(done); ++luck) {
    Cuts cuts(run.disk.first(), run.disk.operations());
    while (cuts.step() && patience.left(done)) {
      INFO("MOTHERBULB_SEED=" << seed << ", cut after operation " << cuts.at() << " of " << operations << ", luck "
                              << luck);
      Disk left(cuts.draw(luck, chance), chance.next());
      const bool cut_again = chance.one_in(25);
      left.write_down(cut_again);
      const std::string found = recover(run, cuts.acknowledged(), left, tally);
      ++done;
      if (!cut_again || found.empty() || cuts.acknowledged() == 0) continue;
      // The power goes again while the first cut is being mended, or in the tap after it.
      Cuts second(left.first(), left.operations());
      const std::uint64_t upto = chance.below(left.operations().size()) + 1;
      for (std::uint64_t i = 0; i < upto && second.step();) ++i;
      Disk left_again(second.draw(static_cast<int>(chance.below(6)), chance));
      left_again.write_down(false);
      const UnderSqlite under(left_again);
      FakeHost host = run.hosts[cuts.acknowledged()];
      const auto opened = Logbook::open(store, OpenWish{}, host);
      REQUIRE_MESSAGE(opened.ok(), opened.error().what);
      const CheckReport report = must((*opened)->check());
      REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
      const std::string now = make::picture(**opened);
      if (now != found) REQUIRE(report.entries >= 1);  // then the note after the cut has been kept too
      ++tally.second_cuts;
    }
  }
  MESSAGE(operations << " operations, " << done << " crash points from seed " << seed << ": " << tally.before
                     << " with what was acknowledged, " << tally.after << " with what was under way too; "
                     << tally.second_cuts << " cut again while mending");
}

void tap_for_a_while(Run& run, Logbook& book, FakeHost& host) {
  const auto kept = [&](const Receipt& receipt) {
    REQUIRE(receipt.kept);
    run.reached(book, host);
    host.advance_minutes(2);
    return receipt.batch;
  };
  Begun chips = make::begun("Tirna Red", Method::chipping, make::lines({{"20-22", 2}}), 8);
  chips.label = book.next_label(2026);
  const BatchId batch = kept(make::tap(book, {}, 0, chips));
  for (std::int32_t pot = 1; pot <= 4; ++pot) kept(make::tap(book, batch, pot, make::pieces_potted(4, "house 1")));
  book.rest();
  for (std::int32_t pot = 1; pot <= 4; ++pot) kept(make::tap(book, batch, pot, make::looked(pot)));
  kept(make::tap(book, batch, 2, make::lost(Cause::rot, 1)));
  kept(make::tap(book, batch, 1, make::unpotted(make::lines({{"2-4", 3}}), 3, make::dead(Cause::rot, 1))));
  book.rest();
  kept(make::tap(book, batch, 4, make::unpotted(make::lines({{"2-4", 4}}), 4), "Iven"));
  kept(make::tap(book, batch, 0, Sold{make::lines({{"2-4", 1}}), 400, ""}));
  std::string long_note(20'000, 'x');
  kept(make::tap(book, batch, 0, Note{long_note}));
  kept(make::tap(book, batch, 3, Watered{}));
}

const double patience_each = 22;

TEST_CASE("power lost while a store is made and tapped into: all that was acknowledged is there") {
  Run run;
  FakeHost host;
  {
    const UnderSqlite under(run.disk);
    {
      // Milestone 0 is the new, empty book; before it there may be no store.
      Disk aside;
      aside.write_down(false);
      const UnderSqlite elsewhere(aside);
      FakeHost same = host;
      run.hosts.push_back(host);
      run.milestones.push_back(make::picture(*make::new_book(store, same)));
    }
    auto book = make::new_book(store, host);
    tap_for_a_while(run, *book, host);
  }
  Tally tally;
  cut_everywhere(run, make::short_or_long<std::uint64_t>(8'000, 400'000), make::short_or_long(patience_each, 3600.0),
                 tally);
  CHECK(tally.points >= run.disk.operations().size());
  CHECK(tally.after > 0);
}

// A book that has been used and rested, and a parcel of another device's day for it.
struct Merging {
  Image image;
  FakeHost host{1};
  std::vector<std::uint8_t> parcel;
  explicit Merging(int days) {
    Disk disk;
    disk.write_down(false);
    const UnderSqlite under(disk);
    FakeHost other_host(2);
    auto book = make::new_book(store, host, "A");
    make::write_small_day(*book, host);
    auto other = make::new_book(faults::place("other"), other_host, "B");
    other_host.set_now(host.now_ms());
    make::merge(*other, make::parcel(*book));
    for (int i = 0; i < days; ++i) make::write_small_day(*other, other_host, "Iven");
    host.set_now(other_host.now_ms());
    parcel = make::parcel(*other);
    book.reset();
    other.reset();
    image = disk.image();
  }
};

// The book opened, something done to it that is one whole, and the book closed.
Run one_whole(const Image& image, FakeHost host, const std::function<void(Logbook&)>& work) {
  Run run(image);
  const UnderSqlite under(run.disk);
  auto book = make::open_book(store, host);
  run.reached(*book, host);
  work(*book);
  run.reached(*book, host);
  book->rest();
  book.reset();
  return run;
}

TEST_CASE("power lost while a parcel is merged: the merge has happened or it has not") {
  const Merging merging(3);
  const Run run = one_whole(merging.image, merging.host, [&](Logbook& book) {
    const MergeReport report = make::merge(book, merging.parcel);
    REQUIRE(report.new_entries == 33);
  });
  Tally tally;
  cut_everywhere(run, make::short_or_long<std::uint64_t>(6'000, 300'000), make::short_or_long(patience_each, 3600.0),
                 tally);
  CHECK(tally.points >= run.disk.operations().size());
  CHECK(tally.before > 0);
  CHECK(tally.after > 0);
}

TEST_CASE("power lost while a large parcel is merged, larger than what SQLite keeps in memory") {
  const Merging merging(make::short_or_long(250, 2'000));
  const Run run = one_whole(merging.image, merging.host, [&](Logbook& book) { make::merge(book, merging.parcel); });
  // Too many operations for all: a few dozen at least, drawn over the whole.
  const std::uint64_t least = 20;
  Tally tally;
  const std::uint64_t seed = make::seed();
  Chance chance(seed);
  const std::uint64_t operations = run.disk.operations().size();
  const make::Patience patience(make::short_or_long(12.0, 3600.0), least);
  const std::uint64_t stride = std::max<std::uint64_t>(1, operations / make::short_or_long<std::uint64_t>(60, 5'000));
  Cuts cuts(run.disk.first(), run.disk.operations());
  std::uint64_t next = 1 + chance.below(stride);
  while (cuts.step() && patience.left(tally.points)) {
    if (cuts.at() < next) continue;
    next += 1 + chance.below(2 * stride);
    INFO("MOTHERBULB_SEED=" << seed << ", cut after operation " << cuts.at() << " of " << operations);
    Disk left(cuts.draw(static_cast<int>(chance.below(6)), chance));
    left.write_down(false);
    recover(run, cuts.acknowledged(), left, tally);
  }
  MESSAGE(operations << " operations, " << tally.points << " crash points, of which " << tally.after << " after");
  CHECK(tally.points >= least);
}

TEST_CASE("power lost while a table is imported: all of its rows are there or none") {
  const Merging merging(1);
  const Run run = one_whole(merging.image, merging.host, [&](Logbook& book) {
    std::vector<Entry> entries;
    for (int i = 0; i < 40; ++i) {
      Entry entry;
      entry.when = make::when("2026-02-" + std::string(i % 28 < 9 ? "0" : "") + std::to_string(i % 28 + 1));
      entry.helper = "Osk";
      entry.batch = i % 4 == 0 ? BatchId{} : book.batches().front().id;
      entry.kind = static_cast<std::uint16_t>(i % 4 == 0 ? Kind::begun : Kind::lost);
      entry.payload = i % 4 == 0 ? encode(make::begun("Vell 7", Method::growing_on, make::lines({{"4-6", i + 1}})))
                                 : encode(make::lost(Cause::frost, i));
      entries.push_back(entry);
    }
    REQUIRE(must(book.append(entries)).size() == entries.size());
  });
  Tally tally;
  cut_everywhere(run, make::short_or_long<std::uint64_t>(6'000, 300'000), make::short_or_long(patience_each, 3600.0),
                 tally);
  CHECK(tally.points >= run.disk.operations().size());
  CHECK(tally.before > 0);
  CHECK(tally.after > 0);
}

}  // namespace
}  // namespace motherbulb

#include "core/demo.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "core/logbook.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

Day day(const std::string& text) {
  const auto read = day_from_text(text);
  REQUIRE(read);
  return *read;
}

std::vector<std::uint8_t> bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE_MESSAGE(file.good(), path);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

// The demo in a folder of its own.
struct Demo {
  make::Folder folder;
  FakeHost host;
  std::string store = folder.file("demo.book");
  std::array<std::string, 2> parcels = demo_parcels(store);

  explicit Demo(const std::string& on, std::uint64_t chance = 1) : host(chance) {
    // A year after the last morning: who looks at a demo comes later.
    host.set_now((std::int64_t{day(on).days} + 365) * 86'400'000);
    make::must(write_demo(store, day(on), host));
  }
  std::unique_ptr<Logbook> open() { return make::open_book(store, host); }
  std::vector<std::vector<std::uint8_t>> parcel_bytes() const { return {bytes_of(parcels[0]), bytes_of(parcels[1])}; }
};

std::map<MatterKind, int> kinds(const Logbook& book) {
  std::map<MatterKind, int> counts;
  for (const Matter& matter : book.matters()) ++counts[matter.kind];
  return counts;
}

// What the pots of pieces of one batch gave, as far as they have been counted.
struct Yield {
  std::int64_t pieces_potted = 0, pieces_lost = 0, pieces_alive = 0, bulblets = 0, pots = 0;
};
Yield first_counts(const Logbook& book, const BatchState& batch) {
  Yield given;
  std::map<std::int32_t, Yield> by_pot;
  for (const StoryLine& line : book.story(batch.id)) {
    if (!line.stands) continue;
    Yield& pot = by_pot[line.entry.pot];
    if (const auto* potted = std::get_if<Potted>(&line.fact); potted != nullptr && potted->unit == Unit::pieces) {
      for (const Line& one : potted->lines) pot.pieces_potted += one.count;
    } else if (const auto* lost = std::get_if<Lost>(&line.fact); lost != nullptr && pot.pieces_potted > 0) {
      for (const Line& one : lost->lines) pot.pieces_lost += one.count;
    } else if (const auto* unpotted = std::get_if<Unpotted>(&line.fact);
               unpotted != nullptr && pot.pieces_potted > 0 && pot.pots == 0) {
      pot.pots = 1;
      pot.pieces_alive = unpotted->alive.value_or(0);
      for (const Line& one : unpotted->lines) pot.bulblets += one.count;
    }
  }
  for (const auto& [number, pot] : by_pot) {
    if (pot.pots == 0) continue;
    given.pots += 1;
    given.pieces_potted += pot.pieces_potted;
    given.pieces_lost += pot.pieces_lost;
    given.pieces_alive += pot.pieces_alive;
    given.bulblets += pot.bulblets;
  }
  return given;
}

Yield first_counts(const Logbook& book, const std::string& genus, Method method, std::int32_t sections) {
  Yield all;
  for (const BatchState& batch : book.batches()) {
    if (batch.genus != genus || batch.method != method || batch.sections != sections) continue;
    const Yield one = first_counts(book, batch);
    all.pots += one.pots;
    all.pieces_potted += one.pieces_potted;
    all.pieces_lost += one.pieces_lost;
    all.pieces_alive += one.pieces_alive;
    all.bulblets += one.bulblets;
  }
  return all;
}

double ratio(std::int64_t a, std::int64_t b) {
  REQUIRE(b > 0);
  return static_cast<double>(a) / static_cast<double>(b);
}

}  // namespace

TEST_CASE("one day gives one demo, byte for byte, whatever the device's clock and zone") {
  Demo first("2026-11-25", 1), second("2026-11-25", 2);
  second.host.set_offset(-570);
  second.host.advance_days(400);
  Demo third("2026-11-26", 1);
  CHECK(first.open()->digest() == second.open()->digest());
  CHECK(first.parcel_bytes() == second.parcel_bytes());
  CHECK(first.open()->digest() != third.open()->digest());
}

TEST_CASE("the demo holds some three thousand entries of three helpers, five clones and three genera, in any season") {
  for (const char* on : {"2026-01-15", "2026-04-15", "2026-07-15", "2026-10-15", "2028-02-29", "1999-12-31"}) {
    CAPTURE(on);
    Demo demo(on);
    auto book = demo.open();
    CHECK(book->entry_count() > 2700);
    CHECK(book->entry_count() < 3700);
    std::set<std::string> clones, genera, helpers;
    Day first = day("2999-01-01"), last{};
    for (const BatchState& batch : book->batches()) {
      clones.insert(batch.clone);
      genera.insert(batch.genus);
      for (const StoryLine& line : book->story(batch.id)) {
        helpers.insert(line.entry.helper);
        first = std::min(first, local_day(line.entry.when), [](Day a, Day b) { return a < b; });
        last = std::max(last, local_day(line.entry.when), [](Day a, Day b) { return a < b; });
      }
    }
    CHECK(clones.size() == 5);
    CHECK(genera.size() == 3);
    CHECK(helpers.size() == 3);
    CHECK(to_text(last) == on);
    CHECK(day(on).days - first.days == 4 * 52 * 7);  // four seasons
  }
}

TEST_CASE("the demo says that it is invented") {
  Demo demo("2026-11-25");
  bool said = false;
  for (const StoryLine& line : demo.open()->story(BatchId{})) {
    const auto* note = std::get_if<Note>(&line.fact);
    said = said || (note != nullptr && note->text.find("Invented") == 0);
  }
  CHECK(said);
}

TEST_CASE("every bulb and piece of the demo is accounted for, but for the two that stay open") {
  Demo demo("2026-11-25");
  auto book = demo.open();
  std::int64_t open = 0, batches = 0;
  for (const BatchState& batch : book->batches()) {
    ++batches;
    CHECK(balanced(batch.bulb_balance));
    CHECK(balanced(batch.piece_balance));
    for (const PotState& pot : book->pots_of(batch.id)) {
      CAPTURE(pot_label(batch, pot.pot.number));
      CHECK(balanced(pot.bulb_balance));
      CHECK(balanced(pot.piece_balance));
      CHECK(pot.bulb_balance.there == total(pot.bulbs));
      CHECK(pot.piece_balance.growing == pot.pieces);
      CHECK(pot.piece_balance.open >= 0);
      open += pot.bulb_balance.open;
    }
    CHECK(batch.bulb_balance.open == 0);
  }
  CHECK(batches > 20);
  CHECK(open == 2);
  // design.md, "Bulb balance", added up here from its own parts.
  std::int64_t clone_open = 0;
  for (const CloneBalance& clone : book->stock().balance) {
    const BulbBalance& b = clone.bulbs;
    CAPTURE(clone.clone);
    CHECK(b.begun + b.increase == b.there + b.cut + b.sold + b.given + b.discarded + total(b.lost) + b.open);
    const PieceBalance& p = clone.pieces;
    CHECK(p.made == p.waiting + p.growing + total(p.lost) + p.alive + p.open);
    clone_open += b.open;
  }
  CHECK(clone_open == 2);
  std::int64_t in_rows = 0, there = 0;
  for (const StockRow& row : book->stock().rows) in_rows += row.bulbs;
  for (const CloneBalance& clone : book->stock().balance) there += clone.bulbs.there;
  CHECK(in_rows == there);

  const CheckReport report = make::must(book->check());
  CHECK(report.folded_equal);
  CHECK(report.chains_ok);
  CHECK(report.faults.empty());
  CHECK(report.balances_open == 1);
}

TEST_CASE("the demo's cuts give what the trade's sources say they give") {
  Demo demo("2026-11-25");
  auto book = demo.open();
  make::merge(*book, demo.parcel_bytes());

  SUBCASE("Hippeastrum cut crosswise into 8: 8 to 9 bulblets a mother (V535, common practice)") {
    const Yield given = first_counts(*book, "Hippeastrum", Method::cross_cutting, 8);
    CHECK(given.pots >= 3);
    CHECK(ratio(given.bulblets, given.pots) >= 8);
    CHECK(ratio(given.bulblets, given.pots) <= 9);
  }
  SUBCASE("Hippeastrum chips that live: more than 1 each (V009) and at most 2.6 (V041)") {
    for (const std::int32_t sections : {8, 12}) {
      const Yield given = first_counts(*book, "Hippeastrum", Method::chipping, sections);
      CAPTURE(sections);
      CHECK(given.pots >= 4);
      CHECK(ratio(given.bulblets, given.pieces_alive) > 1.0);
      CHECK(ratio(given.bulblets, given.pieces_alive) <= 2.6);
    }
  }
  SUBCASE("Narcissus chips: 0.51 to 1.50 bulbs a propagule (V075)") {
    const Yield given = first_counts(*book, "Narcissus", Method::chipping, 8);
    CHECK(given.pieces_potted >= 48);
    CHECK(ratio(given.bulblets, given.pieces_potted) >= 0.51);
    CHECK(ratio(given.bulblets, given.pieces_potted) <= 1.50);
  }
  SUBCASE("Narcissus twin-scales: 80 to 90 in a hundred form a bulblet (V064), usually one (V065)") {
    const Yield given = first_counts(*book, "Narcissus", Method::twin_scaling, 60);
    CHECK(given.pieces_potted >= 60);
    CHECK(ratio(given.bulblets, given.pieces_potted) > 0.75);
    CHECK(ratio(given.bulblets, given.pieces_potted) < 0.95);
    CHECK(given.bulblets == given.pieces_alive);
  }
  SUBCASE("Nerine twin-scales: 0.5 to 0.9 bulblets each (V126, common practice)") {
    const Yield given = first_counts(*book, "Nerine", Method::twin_scaling, 24);
    CHECK(given.pieces_potted >= 96);
    CHECK(ratio(given.bulblets, given.pieces_potted) >= 0.5);
    CHECK(ratio(given.bulblets, given.pieces_potted) <= 0.9);
  }
  SUBCASE("of the pieces of a genus no more than 38 in a hundred are lost (V086: 62 to 95 live)") {
    for (const char* genus : {"Hippeastrum", "Narcissus", "Nerine"}) {
      Yield all;
      for (const BatchState& batch : book->batches()) {
        if (batch.genus != genus || !cuts(batch.method)) continue;
        const Yield one = first_counts(*book, batch);
        all.pieces_potted += one.pieces_potted;
        all.pieces_alive += one.pieces_alive;
      }
      CAPTURE(genus);
      CHECK(ratio(all.pieces_alive, all.pieces_potted) >= 0.62);
      CHECK(all.pieces_alive < all.pieces_potted);
    }
  }
}

TEST_CASE("the demo's Hippeastrum rest and grow no faster than the trade's sources say") {
  Demo demo("2026-11-25");
  auto book = demo.open();
  int rests = 0, large = 0;
  for (const BatchState& batch : book->batches()) {
    if (batch.genus != "Hippeastrum") continue;
    std::optional<When> dried_off;
    for (const StoryLine& line : book->story(batch.id)) {
      if (!line.stands) continue;
      if (std::holds_alternative<DriedOff>(line.fact)) dried_off = line.entry.when;
      if (std::holds_alternative<Started>(line.fact) && dried_off) {
        const std::int32_t days = local_day(line.entry.when).days - local_day(*dried_off).days;
        CHECK(days >= 8 * 7);   // V132, V145
        CHECK(days <= 10 * 7);  // V145
        dried_off.reset();
        ++rests;
      }
      if (const auto* looked = std::get_if<Looked>(&line.fact); looked != nullptr && looked->shoots.value_or(0) > 0) {
        CHECK(local_day(line.entry.when).days - local_day(batch.begun_on).days >= 8 * 7);  // V536
      }
      if (const auto* unpotted = std::get_if<Unpotted>(&line.fact); unpotted != nullptr && cuts(batch.method)) {
        for (const Line& one : unpotted->lines) {
          if (!one.grade || one.grade->low_mm < 220) continue;
          ++large;
          // V027, V028, V153: a warm bed has 22 cm after 21 months. Pots are no quicker.
          CHECK(local_day(line.entry.when).days - local_day(batch.begun_on).days >= 21 * 30);
        }
      }
    }
  }
  CHECK(rests >= 8);
  CHECK(large >= 1);
}

TEST_CASE("on the demo's last day about nine pots of cut bulbs are ready, some have notes of damage, one is on hold") {
  for (const char* on : {"2026-11-25", "2027-06-08"}) {
    CAPTURE(on);
    Demo demo(on);
    auto book = demo.open();
    make::merge(*book, demo.parcel_bytes());
    int ready = 0, damaged = 0, held = 0, resting = 0, overdue = 0;
    for (const PotRow& row : book->pots(false)) {
      // V537: 32 weeks from the cut.
      if (row.pot.unit == Unit::pieces && row.batch.genus == "Hippeastrum" &&
          day(on).days - local_day(row.pot.filled_on).days >= 32 * 7) {
        ++ready;
      }
      for (const PotState::Damaged& damage : row.pot.damage) {
        if (day(on).days - local_day(damage.when).days <= 30) {
          ++damaged;
          break;
        }
      }
      held += on_hold(row.batch, row.pot) ? 1 : 0;
      if (row.batch.genus == "Hippeastrum" && stage_of(row.batch, row.pot) == Stage::drying_off) {
        ++resting;
        if (row.batch.phase_on && day(on).days - local_day(*row.batch.phase_on).days > 10 * 7) ++overdue;  // V145
      }
    }
    CHECK(ready == 9);
    CHECK(damaged >= 4);
    CHECK(held == 1);
    CHECK(resting >= 10);
    CHECK(overdue >= 1);
    CHECK(overdue < resting);
  }
}

TEST_CASE("merging the demo's two parcels raises the three matters that were planted, and nothing else") {
  for (const char* on : {"2026-11-25", "2027-06-08", "2028-02-29"}) {
    CAPTURE(on);
    Demo demo(on);
    auto book = demo.open();
    CHECK(kinds(*book) == std::map<MatterKind, int>{{MatterKind::balance, 1}});
    const std::int64_t before = book->entry_count();
    const MergeReport report = make::merge(*book, demo.parcel_bytes());
    CHECK(report.matters == 3);
    CHECK(report.known == 0);
    CHECK(report.parked == 0);
    CHECK(report.new_entries > 50);
    CHECK(book->entry_count() == before + report.new_entries);
    CHECK(kinds(*book) == std::map<MatterKind, int>{{MatterKind::balance, 1},
                                                    {MatterKind::clock, 1},
                                                    {MatterKind::counted_twice, 1},
                                                    {MatterKind::observations_differ, 1}});
    for (const Matter& matter : book->matters()) {
      if (matter.kind == MatterKind::clock) {
        CHECK(matter.first.bulbs == 47);  // minutes
        CHECK(matter.first.helper == "sill tablet");
      }
      if (matter.kind == MatterKind::counted_twice) {
        CHECK(matter.first.helper == "Bo");
        CHECK(matter.second.helper == "Marit");
        CHECK(matter.first.bulbs == matter.second.bulbs + 1);
        CHECK(matter.first.bulbs >= 4);
      }
    }
    const MergeReport again = make::merge(*book, demo.parcel_bytes());
    CHECK(again.new_entries == 0);
    CHECK(again.matters == 0);
  }
}

TEST_CASE("in the hour when the parcels are brought, the clock that is off is still one matter of 47 minutes") {
  Demo demo("2026-11-25");
  // 8 in the morning on the island, whose clocks are 12 hours ahead of UTC.
  demo.host.set_now(std::int64_t{day("2026-11-25").days} * 86'400'000 - 4 * 3'600'000);
  auto book = demo.open();
  for (const auto& parcel : demo.parcel_bytes()) make::merge(*book, parcel);
  int clocks = 0;
  for (const Matter& matter : book->matters()) {
    if (matter.kind != MatterKind::clock) continue;
    ++clocks;
    CHECK(matter.first.bulbs == 47);
  }
  CHECK(clocks == 1);
}

TEST_CASE("in whatever order the demo's books are merged, they are one, and settled on one they are settled on all") {
  Demo demo("2026-11-25");
  const auto parcels = demo.parcel_bytes();
  std::vector<std::unique_ptr<FakeHost>> hosts;
  std::vector<std::unique_ptr<Logbook>> books;
  for (std::uint64_t i = 0; i < 3; ++i) {
    hosts.push_back(std::make_unique<FakeHost>(10 + i, demo.host.now_ms()));
    const std::string path = demo.folder.file("copy" + std::to_string(i) + ".book");
    make::must(demo.open()->backup(path));
    books.push_back(make::open_book(path, *hosts.back()));
  }
  make::merge(*books[0], parcels[0]);
  make::merge(*books[0], parcels[1]);
  make::merge(*books[1], parcels[1]);
  make::merge(*books[1], parcels[0]);
  make::merge(*books[2], parcels);
  // A device that starts with nothing takes a helper's day first, and then what came before it.
  FakeHost fresh_host(20, demo.host.now_ms());
  auto fresh = make::new_book(demo.folder.file("fresh.book"), fresh_host);
  CHECK(make::merge(*fresh, parcels[1]).parked > 0);
  make::merge(*fresh, make::parcel(*demo.open()));
  make::merge(*fresh, parcels[0]);
  books.push_back(std::move(fresh));
  for (const auto& book : books) {
    CHECK(book->digest() == books[0]->digest());
    CHECK(kinds(*book) == kinds(*books[0]));
  }

  for (const Matter& matter : books[1]->matters())
    make::must(books[1]->run(Settle{"Ines", matter.id, matter.proposal}));
  // Whoever only settles on a new device is not asked for its name: nothing is left.
  CHECK(books[1]->matters().empty());
  for (const auto& book : books) {
    if (book == books[1]) continue;
    const std::vector<Known> known = book->vector();
    make::merge(*book, make::parcel(*books[1], &known));
    CHECK(book->digest() == books[1]->digest());
    CHECK(kinds(*book) == kinds(*books[1]));
    CHECK(make::must(book->check()).faults.empty());
  }
  std::int64_t open = 0;
  for (const CloneBalance& clone : books[0]->stock().balance) open += clone.bulbs.open;
  CHECK(open == 0);  // the proposal books the two as lost
}

TEST_CASE("an existing store or parcel is refused and left as it is, and nothing is left beside it") {
  make::Folder folder;
  FakeHost host;
  const std::string store = folder.file("my.book");
  const std::string parcel = demo_parcels(store)[1];
  for (const std::string& there : {store, parcel}) {
    {
      std::ofstream file(there);
      file << "mine";
    }
    const Outcome refused = write_demo(store, day("2026-11-25"), host);
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.error().what.find(there) != std::string::npos);
    const std::vector<std::uint8_t> kept = bytes_of(there);
    CHECK(std::string(kept.begin(), kept.end()) == "mine");
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder.file("."))) files += entry.exists() ? 1 : 0;
    CHECK(files == 1);
    std::remove(there.c_str());
  }
}

TEST_CASE("the demo leaves the book and two parcels, and nothing else") {
  Demo demo("2026-11-25");
  std::set<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(demo.folder.file("."))) {
    names.insert(entry.path().filename().string());
  }
  CHECK(names == std::set<std::string>{"demo.book", "demo-bo.parcel", "demo-marit.parcel"});
}

TEST_CASE("parcels are named after the book, whatever its name") {
  CHECK(demo_parcels("demo.book")[0] == "demo-bo.parcel");
  CHECK(demo_parcels("a.b/demo")[0] == "a.b/demo-bo.parcel");
  CHECK(demo_parcels("a.b/.demo")[1] == "a.b/.demo-marit.parcel");
}

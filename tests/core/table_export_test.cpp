#include <doctest/doctest.h>

#include <algorithm>
#include <vector>

#include "core/table.hpp"
#include "tests/core/tables.hpp"

using namespace motherbulb;
using namespace motherbulb::tables;

namespace {

// A book of taps: every kind that a table knows, notes that a spreadsheet would run, and a withdrawn fact.
void tap_a_season(Site& site) {
  const auto tap = [&](const Payload& fact, const BatchId& batch = {}, std::int32_t pot = 0) {
    site.host.advance_minutes(7);
    return make::must(site.book->run(Record{"Ru\nna \"x\"", std::nullopt, batch, pot, fact, true}));
  };
  Begun begun = make::begun("=Star, \"the\" \n☘ نجمة", Method::chipping, make::lines({{"26-28", 3}, {"28+", 1}}), 8);
  begun.blade = Blade::per_bulb;
  begun.dip = YesNo::yes;
  begun.medium = "perlite";
  begun.note = "-first";
  const BatchId batch = tap(begun).batch;
  tap(make::pieces_potted(20, "House 1"), batch, 1);
  tap(make::pieces_potted(12, "@east"), batch, 2);
  tap(Covered{"bag"}, batch, 1);
  tap(Uncovered{""}, batch, 1);
  tap(Looked{7, Moisture::damp, YesNo::no, "+fine"}, batch, 1);
  tap(Looked{std::nullopt, Moisture::unsaid, YesNo::unsaid, ""}, batch, 2);
  tap(Watered{""}, batch);
  tap(Fed{"half strength"}, batch, 2);
  tap(Treated{"soft soap", "2 %", 4, "by day"}, batch, 2);
  site.host.advance_minutes(4 * 60);
  tap(Treatment{"Invented product", "INV-0815", "40 ml", "2 ml to 1 l", "6 m2", "thrips", "LIC 17", 12, "by its label"},
      batch, 2);
  site.host.advance_minutes(12 * 60);
  tap(Treatment{}, batch);
  tap(Moved{"House 2", "'=x"}, batch, 2);
  tap(Lost{make::dead(Cause::rot, 2), "all soft"}, batch, 1);
  tap(Damage{Cause::pest, "thrips", 2, "=cmd"}, batch, 1);
  Unpotted unpotted{make::lines({{"2-4", 9}, {"4-6", 4}, {"", 2}}), 12, make::dead(Cause::rot, 3), "\ttab"};
  tap(unpotted, batch, 1);
  tap(make::bulbs_potted(make::lines({{"2-4", 5}})), batch, 3);
  tap(DriedOff{""}, batch, 3);
  tap(Started{""}, batch, 3);
  tap(Repotted{{}, "House 3", ""}, batch, 3);
  tap(Repotted{make::lines({{"4-6", 5}}), "House 3", "grown"}, batch, 3);
  tap(Graded{make::lines({{"6-8", 5}}), ""}, batch, 3);
  tap(Flowered{2, 1, ""}, batch, 3);
  tap(Tested{"virus", TestResult::negative, ""}, batch, 3);
  tap(Held{"awaits a test"}, batch, 3);
  tap(Cleared{"came back clean"}, batch, 3);
  tap(Sold{make::lines({{"4-6", 1}, {"2-4", 1}}), 1250, "to a friend"}, batch);
  tap(Given{make::lines({{"", 1}}), ""}, batch);
  const auto wrong = tap(Discarded{make::lines({{"4-6", 1}}), "wrong"}, batch);
  make::must(site.book->run(TakeBack{"Runa", batch, wrong.fact, "never happened"}));
  tap(Discarded{make::lines({{"4-6", 1}}), "not true"}, batch);
  tap(Note{"a line\r\nand another"}, batch);
  tap(Hours{90, "potting"});
}

std::size_t rows_in(const std::string& text) {
  MemorySource source({text.begin(), text.end()}, "table");
  CellReader reader(source);
  CellRow row;
  std::size_t count = 0;
  while (make::must(reader.next(row))) ++count;
  return count;
}

}  // namespace

TEST_CASE("a book of taps goes through a table into a new book: equal stock, equal pots, an equal table again") {
  Site site;
  tap_a_season(site);
  const std::string table = site.exported();
  CHECK(table.find(
            "when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count,cause,place,note,more\r\n") ==
        0);
  Site other(2, "C");
  other.take_in(table);
  CHECK(other.stock() == site.stock());
  CHECK(other.exported() == table);
  const auto here = site.book->pots(true), there = other.book->pots(true);
  REQUIRE(here.size() == there.size());
  for (std::size_t i = 0; i < here.size(); ++i) {
    CHECK(pot_label(here[i].batch, here[i].pot.pot.number) == pot_label(there[i].batch, there[i].pot.pot.number));
    CHECK(here[i].pot.bulbs == there[i].pot.bulbs);
    CHECK(here[i].pot.pieces == there[i].pot.pieces);
    CHECK(here[i].pot.damage.size() == there[i].pot.damage.size());
    CHECK(place_of(here[i].batch, here[i].pot) == place_of(there[i].batch, there[i].pot));
    CHECK(stage_of(here[i].batch, here[i].pot) == stage_of(there[i].batch, there[i].pot));
    CHECK(last_looked(here[i].batch, here[i].pot) == last_looked(there[i].batch, there[i].pot));
  }
}

TEST_CASE("a treatment comes out of a table as what it was, also where nothing was said with it") {
  Site site;
  tap_a_season(site);
  Site other(2, "C");
  other.take_in(site.exported());
  const auto treatments_in = [](const Site& at) {
    std::vector<ByteString> found;
    for (const StoryLine& line : at.book->story(at.book->batches().front().id)) {
      if (std::holds_alternative<Treatment>(line.fact)) found.push_back(encode(line.fact));
    }
    return found;
  };
  CHECK(treatments_in(site).size() == 2);
  CHECK(treatments_in(other) == treatments_in(site));
}

TEST_CASE("an export brings nothing new to the book that it came from, nor to one that merges it") {
  Site site;
  tap_a_season(site);
  const std::string table = site.exported(), stock = site.stock();
  auto report = site.take_in(table);
  CHECK(report.new_rows == 0);
  CHECK(static_cast<std::size_t>(report.known) + 1 == rows_in(table));
  Site other(2, "C");
  other.take_in(table);
  other.merge(site);
  CHECK(other.stock() == stock);
  site.merge(other);
  CHECK(site.stock() == stock);
  CHECK(site.book->batches().size() == 1);
}

TEST_CASE("a row that was changed after the export is a row like any other") {
  Site site;
  site.take_in({begun(), potted(), looked()});
  std::string table = site.exported();
  const std::size_t at = table.find(",9,");
  REQUIRE(at != std::string::npos);
  table.replace(at, 3, ",8,");
  CHECK(site.take_in(table).new_rows == 1);
  CHECK(site.take_in(table).new_rows == 0);
}

TEST_CASE("what a table has no word for is left out and counted") {
  Site site;
  tap_a_season(site);
  MemorySink sink;
  const auto report = make::must(export_table(*site.book, sink));
  CHECK(report.left_out >= 1);
  CHECK(static_cast<std::size_t>(report.rows) + 1 == rows_in({sink.bytes().begin(), sink.bytes().end()}));
}

TEST_CASE("a long table is written and taken back under progress; stopped, nothing of it is done") {
  struct Watched : Progress {
    std::vector<double> told;
    std::size_t most = 1000;
    bool go_on(double share) override {
      told.push_back(share);
      return told.size() < most;
    }
  };
  Site site;
  std::vector<Row> rows{begun(), potted()};
  for (int i = 0; i < 9000; ++i) rows.push_back(looked());
  const std::string table = text_of(rows);
  site.take_in(table);
  const std::string before = site.book->digest();
  for (const std::size_t most : {std::size_t{1}, std::size_t{1000}}) {
    Watched watched;
    watched.most = most;
    MemorySink sink;
    const auto written = export_table(*site.book, sink, &watched);
    CHECK(written.ok() == (most > 1));
    if (!written) CHECK(written.error().kind == ErrorKind::cancelled);
    CHECK(watched.told.size() >= (most > 1 ? 2U : 1U));
    CHECK(std::is_sorted(watched.told.begin(), watched.told.end()));
    CHECK(watched.told.back() <= 1);
    CHECK(site.book->digest() == before);
  }
  for (const std::size_t most : {std::size_t{1}, std::size_t{1000}}) {
    Watched watched;
    watched.most = most;
    MemorySource source({table.begin(), table.end()}, "table.csv");
    const auto back = withdraw_table(*site.book, site.host, source, "Runa", &watched);
    CHECK(back.ok() == (most > 1));
    CHECK(watched.told.size() >= 1);
    if (!back) {
      CHECK(back.error().kind == ErrorKind::cancelled);
      CHECK(site.book->digest() == before);
    } else {
      CHECK(back->withdrawn == 9002);
    }
  }
}

TEST_CASE("no cell of an export runs in a spreadsheet") {
  Site site;
  tap_a_season(site);
  const std::string table = site.exported();
  MemorySource source({table.begin(), table.end()}, "table");
  CellReader reader(source);
  CellRow row;
  bool guarded_one = false;
  while (make::must(reader.next(row))) {
    for (std::size_t i = 0; i < row.cells.size(); ++i) {
      const std::string& cell = row.cells[i];
      if (i == 10) continue;  // sizes, as -2
      CHECK((cell.empty() || std::string("=+-@\t\r").find(cell[0]) == std::string::npos));
      guarded_one = guarded_one || (!cell.empty() && cell[0] == '\'');
    }
  }
  CHECK(guarded_one);
}

TEST_CASE("two batches that bear one label keep apart in a table") {
  Site a(1, "A"), b(2, "A");
  a.take_in({begun(), potted()});
  b.take_in({begun({{"clone", "Moon"}}), potted({{"count", "3"}})});
  a.merge(b);
  const std::string table = a.exported();
  Site c(3, "C");
  c.take_in(table);
  CHECK(c.stock() == a.stock());
  CHECK(c.exported() == table);
}

TEST_CASE("an export can be withdrawn, also where its facts were tapped") {
  Site site;
  tap_a_season(site);
  const auto report = site.take_back(site.exported());
  CHECK(report.withdrawn == report.rows);
  CHECK(site.book->stock().rows.empty());
  CHECK(site.book->batches().empty());
}

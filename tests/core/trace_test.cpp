// The trace, on books small enough to walk by hand. Every expected row follows from the rules of design.md, section 7,
// and mathematics.md, section 7: descent, then the blade up to the twentieth plant, then what was combined, then the
// bench.
#include "core/health/trace.hpp"

#include <doctest/doctest.h>

#include <ctime>

#include "core/label.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

struct Book {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("a.book"), host, "A");

  Receipt tap(const BatchId& batch, std::int32_t pot, Payload fact, const std::string& helper = "Runa") {
    host.advance_minutes(5);
    return make::tap(*book, batch, pot, std::move(fact), helper);
  }
  // Mothers cut into eight each, all pieces into pot 1. `parent_pot` of the parent, 0: of what waits there.
  Receipt cut(const std::string& clone, std::int64_t mothers, Blade blade = Blade::unsaid,
              const std::string& helper = "Runa", std::optional<BatchId> parent = std::nullopt,
              std::int32_t parent_pot = 0) {
    Begun fact = make::begun(clone, Method::chipping, make::lines({{"20-22", mothers}}), 8);
    fact.blade = blade;
    fact.parent = parent;
    fact.parent_pot = parent_pot;
    fact.label = book->next_label(2026);
    const Receipt receipt = tap({}, 0, fact, helper);
    tap(receipt.batch, 1, make::pieces_potted(mothers * 8), helper);
    return receipt;
  }
  // Bulbs grown on, out of the parent where one is named; nothing potted.
  Receipt grow(const std::string& clone, std::int64_t bulbs, std::optional<BatchId> parent = std::nullopt,
               std::int32_t parent_pot = 0) {
    Begun fact = make::begun(clone, Method::growing_on, make::lines({{"20-22", bulbs}}));
    fact.parent = parent;
    fact.parent_pot = parent_pot;
    fact.label = book->next_label(2026);
    return tap({}, 0, fact);
  }
  Receipt pot(const BatchId& batch, std::int32_t number, std::int64_t bulbs, const std::string& place = "") {
    return tap(batch, number, make::bulbs_potted(make::lines({{"20-22", bulbs}}), place));
  }
  Trace ask(const BatchId& batch, std::int32_t number) const { return make::must(trace(*book, {batch, number})); }
  std::string label(const BatchId& batch, std::int32_t number = 0) const {
    return pot_label(*book->batch(batch), number);
  }
};

// "descent 1 26A001-X/1" a row, in their order.
std::vector<std::string> rows(const Trace& trace) {
  std::vector<std::string> all;
  for (const Touched& pot : trace.pots) {
    all.push_back(std::string(to_text(pot.reason)) + " " + std::to_string(pot.steps) + " " + pot.label);
  }
  return all;
}
using Rows = std::vector<std::string>;

}  // namespace

TEST_CASE("the whole tree of begetting has it: parent, siblings, children and their children, with what began each") {
  Book it;
  const Receipt grandmother = it.grow("Tirna Red", 12);
  it.pot(grandmother.batch, 1, 4);
  const Receipt sick = it.grow("Tirna Red", 3, grandmother.batch);
  it.pot(sick.batch, 1, 2);
  it.pot(sick.batch, 2, 1);
  const Receipt sibling = it.grow("Tirna Red", 2, grandmother.batch);
  it.pot(sibling.batch, 1, 2);
  const Receipt child = it.grow("Tirna Red", 1, sick.batch, 1);
  it.pot(child.batch, 1, 1);
  const Receipt stranger = it.grow("Skarn Blue", 5);
  it.pot(stranger.batch, 1, 5);

  const Trace found = it.ask(sick.batch, 1);
  // Of the twelve of the grandmother 4 are potted, 3 and 2 went on: 3 wait.
  CHECK(rows(found) == Rows{"descent 0 " + it.label(sick.batch, 2), "descent 1 " + it.label(grandmother.batch),
                            "descent 1 " + it.label(grandmother.batch, 1), "descent 1 " + it.label(child.batch, 1),
                            "descent 2 " + it.label(sibling.batch, 1)});
  CHECK(found.pots[0].entries == std::vector<EntryId>{sick.id});
  CHECK(found.pots[1].entries == std::vector<EntryId>{sick.id});
  CHECK(found.pots[1].pot.number == 0);
  CHECK(found.pots[3].entries == std::vector<EntryId>{child.id});
  CHECK(found.pots[4].entries == std::vector<EntryId>{sick.id, sibling.id});
  CHECK(found.pots[4].clone == "Tirna Red");
  CHECK(found.trails.empty());  // nothing was cut
}

TEST_CASE("of a whole batch every pot of it is the one asked about, and an emptied pot is not told") {
  Book it;
  const Receipt mother = it.grow("Tirna Red", 10);
  it.pot(mother.batch, 1, 3);
  it.pot(mother.batch, 2, 3);
  const Receipt child = it.grow("Tirna Red", 2, mother.batch);
  it.pot(child.batch, 1, 1);
  it.pot(child.batch, 2, 1);
  it.tap(child.batch, 2, make::unpotted(make::lines({{"20-22", 1}})));
  it.pot(child.batch, 3, 1);
  CHECK(rows(it.ask(mother.batch, 0)) ==
        Rows{"descent 1 " + it.label(child.batch, 1), "descent 1 " + it.label(child.batch, 3)});
  // An emptied pot may be asked about all the same.
  CHECK(rows(it.ask(child.batch, 2)) ==
        Rows{"descent 0 " + it.label(child.batch, 1), "descent 0 " + it.label(child.batch, 3),
             "descent 1 " + it.label(mother.batch), "descent 1 " + it.label(mother.batch, 1),
             "descent 1 " + it.label(mother.batch, 2)});
}

TEST_CASE("the blade carries it to the plants cut after, until it is disinfected before a batch") {
  Book it;
  const Receipt before = it.cut("Vanora", 1);
  const Receipt sick = it.cut("Tirna Red", 2, Blade::per_batch);  // disinfected before this batch, not after it
  const Receipt next = it.cut("Skarn Blue", 3);
  const Receipt unclean = it.cut("Holm Gold", 2, Blade::not_disinfected);
  const Receipt clean = it.cut("Sule White", 1, Blade::per_batch);
  const Receipt after = it.cut("Noss Pink", 1);

  const Trace found = it.ask(sick.batch, 1);
  CHECK(rows(found) == Rows{"blade 1 " + it.label(next.batch, 1), "blade 4 " + it.label(unclean.batch, 1)});
  CHECK(found.pots[1].entries == std::vector<EntryId>{sick.id, unclean.id});
  REQUIRE(found.trails.size() == 1);
  CHECK(found.trails[0].cut == sick.id);
  CHECK(found.trails[0].end == Trace::End::disinfected);
  CHECK(found.trails[0].plants == 5);
  CHECK(found.trails[0].helper == "Runa");
  CHECK(found.trails[0].batch == it.label(sick.batch));
  // Nothing was cut after the last one.
  const Trace last = it.ask(after.batch, 1);
  CHECK(last.pots.empty());
  REQUIRE(last.trails.size() == 1);
  CHECK(last.trails[0].end == Trace::End::last_cut);
  CHECK(last.trails[0].plants == 0);
  CHECK(rows(it.ask(before.batch, 1)).empty());  // the next cut began with a disinfected blade
  CHECK(it.ask(before.batch, 1).trails[0].end == Trace::End::disinfected);
  CHECK(rows(it.ask(clean.batch, 1)) == Rows{"blade 1 " + it.label(after.batch, 1)});
}

TEST_CASE("a blade disinfected before every bulb carries nothing in and nothing out") {
  Book it;
  const Receipt sick = it.cut("Tirna Red", 1);
  const Receipt careful = it.cut("Skarn Blue", 3, Blade::per_bulb);
  it.cut("Holm Gold", 1);
  CHECK(it.ask(sick.batch, 1).pots.empty());
  CHECK(it.ask(sick.batch, 1).trails[0].end == Trace::End::disinfected);
  const Trace out = it.ask(careful.batch, 1);
  CHECK(out.pots.empty());
  CHECK(out.trails[0].end == Trace::End::disinfected);
  CHECK(out.trails[0].plants == 0);
}

TEST_CASE("the trail reaches the batch whose first mother is the twentieth plant, and no further") {
  Book it;
  const Receipt sick = it.cut("Tirna Red", 1);
  const Receipt nineteen = it.cut("Skarn Blue", 19);
  const Receipt twentieth = it.cut("Holm Gold", 4);
  const Receipt beyond = it.cut("Sule White", 1);
  const Trace found = it.ask(sick.batch, 1);
  CHECK(rows(found) == Rows{"blade 1 " + it.label(nineteen.batch, 1), "blade 20 " + it.label(twentieth.batch, 1)});
  CHECK(found.trails[0].end == Trace::End::twentieth);
  CHECK(found.trails[0].plants == 20);
  // From the nineteen on, the four are plants 1 to 4 and the last one the fifth.
  CHECK(rows(it.ask(nineteen.batch, 1)) ==
        Rows{"blade 1 " + it.label(twentieth.batch, 1), "blade 5 " + it.label(beyond.batch, 1)});
}

TEST_CASE("another helper's knife is another knife, and one that nobody named is one of its own") {
  Book it;
  const Receipt sick = it.cut("Tirna Red", 1, Blade::unsaid, "Runa");
  it.cut("Skarn Blue", 1, Blade::unsaid, "Ivo");
  it.cut("Holm Gold", 1, Blade::unsaid, "");
  const Receipt hers = it.cut("Sule White", 1, Blade::unsaid, "Runa");
  it.cut("Noss Pink", 1, Blade::per_batch, "Ivo");  // his blade is clean, hers is not
  const Receipt hers_too = it.cut("Vanora", 1, Blade::unsaid, "Runa");
  CHECK(rows(it.ask(sick.batch, 1)) ==
        Rows{"blade 1 " + it.label(hers.batch, 1), "blade 2 " + it.label(hers_too.batch, 1)});
}

TEST_CASE("cutting mothers out of the bad batch contaminates too; the nearest cut before counts") {
  Book it;
  const Receipt sick = it.grow("Tirna Red", 6);
  it.pot(sick.batch, 1, 2);
  it.pot(sick.batch, 2, 2);
  const Receipt first = it.cut("Tirna Red", 1, Blade::unsaid, "Runa", sick.batch, 1);
  const Receipt between = it.cut("Skarn Blue", 2);
  const Receipt second = it.cut("Tirna Red", 1, Blade::unsaid, "Runa", sick.batch, 2);
  const Receipt last = it.cut("Holm Gold", 1);
  const Trace found = it.ask(sick.batch, 1);
  // Bulbs of the batch that wait, its other pot, and what was cut of it have it by descent. The last was cut fourth
  // after the first of them, and first after the second.
  CHECK(rows(found) == Rows{"descent 0 " + it.label(sick.batch), "descent 0 " + it.label(sick.batch, 2),
                            "descent 1 " + it.label(first.batch, 1), "descent 1 " + it.label(second.batch, 1),
                            "blade 1 " + it.label(between.batch, 1), "blade 1 " + it.label(last.batch, 1)});
  CHECK(found.pots[4].entries == std::vector<EntryId>{first.id, between.id});
  CHECK(found.pots[5].entries == std::vector<EntryId>{second.id, last.id});
  REQUIRE(found.trails.size() == 2);
  CHECK(found.trails[0].cut == first.id);
  CHECK(found.trails[0].plants == 4);
  CHECK(found.trails[1].cut == second.id);
  CHECK(found.trails[1].plants == 1);
}

TEST_CASE("pieces that wait in a touched batch are told as the batch, not as a pot") {
  Book it;
  const Receipt sick = it.cut("Tirna Red", 1);
  Begun fact = make::begun("Skarn Blue", Method::chipping, make::lines({{"20-22", 1}}), 8);
  fact.label = it.book->next_label(2026);
  const Receipt waiting = it.tap({}, 0, fact);
  const Trace found = it.ask(sick.batch, 1);
  REQUIRE(found.pots.size() == 1);
  CHECK(found.pots[0].pot == PotId{waiting.batch, 0});
  CHECK(found.pots[0].label == it.label(waiting.batch));
  CHECK(found.pots[0].reason == TouchedBy::blade);
  it.tap(waiting.batch, 1, make::pieces_potted(8));
  CHECK(rows(it.ask(sick.batch, 1)) == Rows{"blade 1 " + it.label(waiting.batch, 1)});
}

TEST_CASE("a batch that was combined with the bad one may hold some of it, whichever way it went") {
  Book it;
  const Receipt sick = it.grow("Tirna Red", 6);
  it.pot(sick.batch, 1, 2);
  const Receipt into = it.grow("Tirna Red", 3);
  it.pot(into.batch, 1, 3);
  const Receipt from = it.grow("Tirna Red", 3);
  it.pot(from.batch, 1, 1);
  const Receipt apart = it.grow("Tirna Red", 1);
  it.pot(apart.batch, 1, 1);
  const Receipt out = it.tap(sick.batch, 0, Combined{into.batch, 0, make::lines({{"20-22", 1}}), ""});
  const Receipt in = it.tap(from.batch, 0, Combined{sick.batch, 0, make::lines({{"20-22", 2}}), ""});
  const Trace found = it.ask(sick.batch, 1);
  CHECK(rows(found) == Rows{"descent 0 " + it.label(sick.batch), "pot 0 " + it.label(into.batch),
                            "pot 0 " + it.label(into.batch, 1), "pot 0 " + it.label(from.batch, 1)});
  CHECK(found.pots[2].entries == std::vector<EntryId>{out.id});
  CHECK(found.pots[3].entries == std::vector<EntryId>{in.id});
}

TEST_CASE("on a laid-out bench the neighbours are those beside, before and behind, and across the corners") {
  Book it;
  // Four columns: 1 2 3 4 / 5 6 7 8 / 9 10 11 12.
  it.tap({}, 0, BenchLaidOut{"Skerry House, bench 2", 3, 4, ""});
  const Receipt sick = it.grow("Tirna Red", 1);
  const Receipt sick_potted = it.pot(sick.batch, 1, 1, "Skerry House, bench 2, no. 5");
  std::map<int, std::string> at;
  std::map<int, EntryId> potted;
  for (const int position : {1, 2, 3, 4, 6, 8, 9, 10, 12}) {
    const Receipt other = it.grow("Clone of place " + std::to_string(position), 1);
    potted[position] = it.pot(other.batch, 1, 1, "Skerry House, bench 2, no. " + std::to_string(position)).id;
    at[position] = it.label(other.batch, 1);
  }
  const Receipt elsewhere = it.grow("Skarn Blue", 1);
  it.pot(elsewhere.batch, 1, 1, "Skerry House, bench 3, no. 6");
  const Trace found = it.ask(sick.batch, 1);
  // 4 is the number before 5, but at the other end of the row before.
  CHECK(rows(found) ==
        Rows{"bench 1 " + at[1], "bench 1 " + at[2], "bench 1 " + at[6], "bench 1 " + at[9], "bench 1 " + at[10]});
  CHECK(found.pots[0].bench == "Skerry House, bench 2");
  CHECK(found.pots[0].entries == std::vector<EntryId>{sick_potted.id, potted[1]});
}

TEST_CASE("without a layout the neighbours are the numbers before and behind; without a number, the whole bench") {
  Book it;
  const Receipt sick = it.grow("Tirna Red", 2);
  it.pot(sick.batch, 1, 1, "bench 2, no. 5");
  const auto stand = [&it](const std::string& clone, const std::string& place) {
    const Receipt batch = it.grow(clone, 1);
    it.pot(batch.batch, 1, 1, place);
    return it.label(batch.batch, 1);
  };
  const std::string four = stand("Skarn Blue", "Bench 2, no. 4");
  const std::string nine = stand("Holm Gold", "bench 2, no. 9");
  const std::string somewhere = stand("Sule White", "bench 2");
  stand("Noss Pink", "bench 1, no. 5");
  CHECK(rows(it.ask(sick.batch, 1)) ==
        Rows{"descent 0 " + it.label(sick.batch), "bench 1 " + four, "bench 2 " + somewhere});
  const Receipt moved = it.tap(sick.batch, 1, Moved{"bench 2", ""});
  const Trace found = it.ask(sick.batch, 1);
  CHECK(rows(found) ==
        Rows{"descent 0 " + it.label(sick.batch), "bench 2 " + four, "bench 2 " + nine, "bench 2 " + somewhere});
  CHECK(found.pots[1].entries.back() == moved.id);  // the move is what put it there, and younger than the potting
  it.tap(sick.batch, 1, Moved{"bench 7", ""});
  CHECK(rows(it.ask(sick.batch, 1)) == Rows{"descent 0 " + it.label(sick.batch)});
}

TEST_CASE("each pot is told once, by its surest reason") {
  Book it;
  const Receipt sick = it.cut("Tirna Red", 1);
  it.tap(sick.batch, 1, Moved{"bench 2, no. 1", ""});
  const Receipt child = it.cut("Tirna Red", 1, Blade::unsaid, "Runa", sick.batch, 0);  // child, and cut next
  it.tap(child.batch, 1, Moved{"bench 2, no. 2", ""});
  const Receipt next = it.cut("Skarn Blue", 1);  // cut next, and beside it
  it.tap(next.batch, 1, Moved{"bench 2, no. 2", ""});
  CHECK(rows(it.ask(sick.batch, 1)) ==
        Rows{"descent 1 " + it.label(child.batch, 1), "blade 1 " + it.label(next.batch, 1)});
}

TEST_CASE("a cut that was taken back touched nothing") {
  Book it;
  const Receipt sick = it.cut("Tirna Red", 1);
  const Receipt slip = it.cut("Skarn Blue", 25);
  const Receipt next = it.cut("Holm Gold", 1);
  CHECK(rows(it.ask(sick.batch, 1)) == Rows{"blade 1 " + it.label(slip.batch, 1)});
  TakeBack back;
  back.helper = "Runa";
  back.batch = slip.batch;
  back.fact = slip.fact;
  make::must(it.book->run(back));
  CHECK(rows(it.ask(sick.batch, 1)) == Rows{"blade 1 " + it.label(next.batch, 1)});
}

TEST_CASE("a pot that the book does not know is refused in words") {
  Book it;
  const Receipt batch = it.cut("Tirna Red", 1);
  const Result<Trace> no_pot = trace(*it.book, {batch.batch, 7});
  REQUIRE_FALSE(no_pot.ok());
  CHECK(no_pot.error().kind == ErrorKind::refused);
  CHECK(no_pot.error().what.find("has no pot 7") != std::string::npos);
  BatchId nobody;
  nobody.bytes[3] = 9;
  const Result<Trace> no_batch = trace(*it.book, {nobody, 1});
  REQUIRE_FALSE(no_batch.ok());
  CHECK(no_batch.error().kind == ErrorKind::refused);
}

TEST_CASE("a house of 2,000 batches and 20,000 pots is traced while a person waits") {
  Book it;
  make::Device device(7);
  std::vector<Entry> cuts;
  for (int i = 0; i < 2'000; ++i) {
    Begun fact = make::begun("Clone " + std::to_string(i % 50), Method::chipping, make::lines({{"20-22", 2}}), 40);
    fact.label = to_text(Label{26, 'C', i + 1});
    cuts.push_back(device.entry(fact));
  }
  const std::vector<Receipt> begun = make::must(it.book->append(cuts));
  std::vector<Entry> potted;
  for (int i = 0; i < 2'000; ++i) {
    const std::string place =
        "house " + std::to_string(i % 7) + ", bench " + std::to_string(i % 30) + ", no. " + std::to_string(i % 90 + 1);
    for (int pot = 1; pot <= 10; ++pot) {
      potted.push_back(device.entry(make::pieces_potted(7, place), begun[static_cast<std::size_t>(i)].batch, pot));
    }
  }
  make::must(it.book->append(potted));
  const BatchId bad = begun[0].batch;
  const std::clock_t from = std::clock();
  const Trace found = it.ask(bad, 3);
  const double seconds = static_cast<double>(std::clock() - from) / CLOCKS_PER_SEC;
  MESSAGE("traced in " << seconds * 1000 << " ms");
  // Its own nine other pots, and the ten pieces that wait of its 80; then ten batches of two mothers each within twenty
  // plants, ten pots and what waits of each.
  REQUIRE(found.pots.size() >= 10 + 110);
  CHECK(found.pots[9].reason == TouchedBy::descent);
  CHECK(found.pots[10].reason == TouchedBy::blade);
  CHECK(found.pots[119].reason == TouchedBy::blade);
  CHECK(found.pots[119].steps == 19);
  CHECK((found.pots.size() == 120 || found.pots[120].reason == TouchedBy::bench));
  CHECK(seconds < 3);  // measured far below one; other builds may run beside it, under a sanitizer
}

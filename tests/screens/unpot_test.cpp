// Unpot & count, driven by real events in the real window, and looked up in the book afterwards.

#include "tests/screens/drive.hpp"

namespace motherbulb {
namespace {

struct Bench {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId chips = make::begin_batch(*book, "Tirna Red", 2, 8);
  std::string label;

  Bench() {
    pot(1, 6);
    pot(2, 6);
    pot(3, 4);
    label = book->batch(chips)->label;
  }
  void pot(std::int32_t number, std::int64_t pieces) {
    host.advance_minutes(1);
    make::tap(*book, chips, number, make::pieces_potted(pieces, "bench 2"));
  }
  [[nodiscard]] std::string name(int pot) const { return "pot:" + label + "/" + std::to_string(pot); }
  // The facts of this kind that stand, the latest last.
  template <class Fact>
  [[nodiscard]] std::vector<Fact> standing() const {
    std::vector<Fact> facts;
    for (const StoryLine& line : book->story(chips)) {
      if (const auto* fact = std::get_if<Fact>(&line.fact); fact != nullptr && line.stands) facts.push_back(*fact);
    }
    return facts;
  }
  void open_pot(drive::Driver& driver, int pot) const {
    driver.tap("bar:unpot");
    driver.tap("batch:" + label);
    if (pot != 1) {
      driver.tap("pot:other");
      driver.tap(name(pot));
    }
    REQUIRE(driver.ui().screen == Screen::unpot);
    REQUIRE(driver.ui().unpot.pot->pot.pot.number == pot);
  }
};

std::int64_t count_of(const Lines& lines, const char* grade) {
  for (const Line& line : lines) {
    if (line.grade && *line.grade == make::grade(grade)) return line.count;
  }
  return 0;
}

}  // namespace

TEST_CASE("a pot is unpotted into three grades with one dead section, and the book has just that") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host);
  driver.tap("quarter:unpot");
  driver.tap("batch:" + bench.label);
  driver.tap("pot:other");
  driver.tap(bench.name(2));
  const std::int64_t entries_before = bench.book->entry_count();

  driver.tap("grade:2–4");
  driver.tap("pad:3");
  driver.tap("pad:2");
  driver.tap("grade:4–6");
  driver.tap("pad:4");
  driver.tap("pad:next");
  driver.tap("pad:1");
  driver.tap("mother");
  driver.tap("dead:rot");
  driver.tap("dead:done");
  CHECK(driver.ui().unpot.total() == 10);
  CHECK(bench.book->entry_count() == entries_before);  // nothing is kept before it is kept
  CHECK_FALSE(driver.ui().kept.has_value());
  driver.tap("keep");

  REQUIRE(bench.book->entry_count() == entries_before + 1);
  const std::vector<Unpotted> facts = bench.standing<Unpotted>();
  REQUIRE(facts.size() == 1);
  CHECK(facts[0].lines.size() == 3);
  CHECK(count_of(facts[0].lines, "2-4") == 5);
  CHECK(count_of(facts[0].lines, "4-6") == 4);
  CHECK(count_of(facts[0].lines, "6-8") == 1);
  CHECK(facts[0].alive == 5);
  REQUIRE(facts[0].dead.size() == 1);
  CHECK(facts[0].dead[0].cause == Cause::rot);
  CHECK(facts[0].dead[0].count == 1);
  CHECK(bench.book->pot({bench.chips, 2})->emptied);
  const std::vector<StoryLine> story = bench.book->story(bench.chips);
  CHECK(story.back().entry.helper == "Runa");
  CHECK(story.back().entry.pot == 2);

  // The slip says so, and the next pot is on the bench.
  REQUIRE(driver.ui().kept.has_value());
  CHECK(driver.ui().kept->words == "Pot 2: 10 kept");
  CHECK(driver.ui().unpot.pot->pot.pot.number == 3);
  CHECK(driver.ui().unpot.total() == 0);
}

TEST_CASE("undo takes the count back by a correction, and the pot is on the bench again") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host);
  bench.open_pot(driver, 1);
  driver.tap("pad:7");
  driver.tap("keep");
  REQUIRE(bench.book->pot({bench.chips, 1})->emptied);
  const std::int64_t entries = bench.book->entry_count();

  driver.tap("undo");
  CHECK(bench.book->entry_count() == entries + 1);  // nothing was removed: a newer entry withdraws the older one
  CHECK_FALSE(bench.book->pot({bench.chips, 1})->emptied);
  CHECK(bench.book->pot({bench.chips, 1})->pieces == 6);
  CHECK(bench.standing<Unpotted>().empty());
  CHECK(driver.ui().unpot.pot->pot.pot.number == 1);
  CHECK_FALSE(driver.has("undo"));
}

TEST_CASE("pad undo takes exactly the last handful, in any shape of window") {
  Bench bench;
  for (const auto& [width, height] : {std::pair{1280, 800}, std::pair{800, 1280}, std::pair{360, 740}}) {
    drive::Driver driver(*bench.book, bench.host, {width, height});
    bench.open_pot(driver, 1);
    CHECK_FALSE(driver.target("pad:undo").enabled);
    driver.tap("pad:3");
    driver.tap("pad:10");
    driver.tap("pad:undo");
    CHECK(driver.ui().unpot.total() == 3);
    REQUIRE(driver.ui().unpot.handfuls.size() == 1);
  }
}

TEST_CASE("quick fingers count on the pad, and a wet double touch keeps only once") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host, {800, 1280});
  bench.open_pot(driver, 1);
  const Point three = driver.target("pad:3").rect.middle();
  // Four taps without a pause, from two fingers.
  for (int i = 0; i < 4; ++i) driver.touch_at(three, i % 2 + 1);
  driver.settle();
  CHECK(driver.ui().unpot.total() == 12);
  SDL_Delay(100);
  const std::int64_t entries = bench.book->entry_count();
  const Point keep = driver.target("keep").rect.middle();
  driver.touch_at(keep);
  driver.touch_at(keep);
  driver.settle();
  CHECK(bench.book->entry_count() == entries + 1);
}

TEST_CASE("the keyboard counts as the pad does") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host);
  bench.open_pot(driver, 3);
  driver.type("3");
  driver.type("0");
  driver.type("5");
  CHECK(driver.ui().unpot.total() == 18);
  driver.key(SDLK_BACKSPACE);
  CHECK(driver.ui().unpot.total() == 13);
  driver.key(SDLK_RETURN);
  CHECK(bench.book->pot({bench.chips, 3})->emptied);
  driver.key(SDLK_ESCAPE);
  CHECK(driver.ui().screen == Screen::unpot_choose);
}

TEST_CASE("the tabulator goes from control to control, and Enter taps the one it is on") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host);
  for (int i = 0; i < 30; ++i) {
    driver.key(SDLK_TAB);
    const Target* focus = driver.app->touch().focus();
    REQUIRE(focus != nullptr);
    if (focus->name == "quarter:pests") break;
  }
  driver.key(SDLK_RETURN);
  CHECK(driver.ui().screen == Screen::pots);
}

TEST_CASE("from the start screen one pot with three grades is unpotted in eight taps") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host);
  const std::vector<std::string> taps{
      "quarter:unpot", "batch:" + bench.label, "pad:3", "pad:next", "pad:2", "pad:next", "pad:1", "keep"};
  CHECK(taps.size() <= 8);
  for (const std::string& one : taps) driver.tap(one);
  const std::vector<Unpotted> facts = bench.standing<Unpotted>();
  REQUIRE(facts.size() == 1);
  REQUIRE(facts[0].lines.size() == 3);
  CHECK(facts[0].lines[0].count == 3);
  CHECK(facts[0].lines[1].count == 2);
  CHECK(facts[0].lines[2].count == 1);
  CHECK(facts[0].alive == 6);
  CHECK(bench.book->pot({bench.chips, 1})->emptied);
}

TEST_CASE("the mother opens large, and each section is told what it bore") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host);
  bench.open_pot(driver, 1);
  driver.tap("pad:next");
  driver.tap("pad:5");
  driver.tap("mother");
  driver.tap("sections");
  driver.tap("section:2");  // 1
  driver.tap("section:1");  // 2
  driver.tap("section:0");  // 3
  driver.tap("why:rot");
  driver.tap("wedge:5");
  driver.tap("section:together");  // 5
  driver.tap("section:0");         // 6
  driver.tap("why:alive");
  driver.tap("dead:done");
  driver.tap("keep");
  const std::vector<Unpotted> facts = bench.standing<Unpotted>();
  REQUIRE(facts.size() == 1);
  CHECK(facts[0].note == "By section: 2, 1, rot, not said, two together, 0");
  CHECK(facts[0].alive == 5);
  REQUIRE(facts[0].dead.size() == 1);
  CHECK(facts[0].dead[0].cause == Cause::rot);
  CHECK(facts[0].dead[0].count == 1);
}

TEST_CASE("a count far beyond its sections is asked about once, and kept when it is meant") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host);
  bench.open_pot(driver, 1);
  for (int i = 0; i < 40; ++i) driver.tap("pad:10");
  const std::int64_t entries = bench.book->entry_count();
  driver.tap("keep");
  CHECK(bench.book->entry_count() == entries);
  REQUIRE_FALSE(driver.ui().unpot.asked.empty());
  CHECK_FALSE(driver.ui().kept.has_value());
  driver.picture("unpot-asked-1280x800-day");
  driver.tap("sure:no");
  CHECK(driver.ui().unpot.total() == 400);  // the draft stays
  driver.tap("keep");
  driver.tap("sure:yes");
  CHECK(bench.book->entry_count() == entries + 1);
  CHECK(driver.ui().kept.has_value());
}

TEST_CASE("bulbs that are gone are a loss with its cause, what is there is counted, and both are undone together") {
  Bench bench;
  const BatchId bulbs = make::begin_bulbs(*bench.book, "Skarn Blue", make::lines({{"8-10", 5}}));
  make::tap(*bench.book, bulbs, 1, make::bulbs_potted(make::lines({{"8-10", 5}})));
  drive::Driver driver(*bench.book, bench.host, {800, 1280});
  driver.tap("bar:unpot");
  driver.tap("filter:bulbs");
  driver.tap("batch:" + bench.book->batch(bulbs)->label);
  REQUIRE(driver.ui().screen == Screen::unpot);  // a batch with one pot leads straight to it
  driver.tap("pad:4");
  driver.tap("mother");
  driver.tap("dead:animal");
  driver.tap("dead:done");
  driver.tap("keep");
  const std::optional<PotState> pot = bench.book->pot({bulbs, 1});
  REQUIRE(pot.has_value());
  CHECK(pot->emptied);
  CHECK(pot->bulb_balance.lost[static_cast<std::size_t>(Cause::animal)] == 1);
  CHECK(pot->bulb_balance.open == 0);
  CHECK(bench.book->batch(bulbs)->bulbs_waiting.at(make::grade("8-10")) == 4);
  driver.tap("undo");
  CHECK_FALSE(bench.book->pot({bulbs, 1})->emptied);
  CHECK(total(bench.book->pot({bulbs, 1})->bulbs) == 5);
}

TEST_CASE("without a name the first pot asks who is here, and goes on to the pot") {
  Bench bench;
  drive::Wish wish;
  wish.helper = "";
  drive::Driver driver(*bench.book, bench.host, wish);
  driver.tap("bar:unpot");
  driver.tap("batch:" + bench.label);
  REQUIRE(driver.ui().screen == Screen::who);
  driver.tap("who:other");
  for (const char* letter : {"letter:I", "letter:D", "letter:A"}) driver.tap(letter);
  driver.tap("who:keep");
  CHECK(driver.ui().screen == Screen::unpot);
  driver.tap("pad:2");
  driver.tap("keep");
  CHECK(bench.book->story(bench.chips).back().entry.helper == "Ida");
}

TEST_CASE("what the store refuses stays on the bench, with the reason in words") {
  Bench bench;
  drive::Driver driver(*bench.book, bench.host);
  bench.open_pot(driver, 1);
  driver.tap("pad:5");
  // Meanwhile the pot is emptied by other hands on this device's book: the count no longer fits.
  make::tap(*bench.book, bench.chips, 1, make::unpotted(make::lines({{"2-4", 5}}), 6), "Odd");
  const std::int64_t entries = bench.book->entry_count();
  driver.tap("keep");
  if (bench.book->entry_count() == entries) {
    REQUIRE(driver.ui().trouble.has_value());
    CHECK_FALSE(driver.ui().trouble->words.empty());
    CHECK_FALSE(driver.ui().kept.has_value());
    CHECK(driver.ui().unpot.total() == 5);
    CHECK(driver.has("error:aside"));
    driver.picture("unpot-refused-1280x800-day");
    driver.tap("error:aside");
    CHECK_FALSE(driver.ui().trouble.has_value());
    CHECK(driver.ui().unpot.total() == 5);
  } else {
    // Taken as a second count: then it is a matter, never silently one of the two.
    CHECK(bench.book->matters().size() == 1);
  }
}

}  // namespace motherbulb

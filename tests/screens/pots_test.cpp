// Pests & damage on the benches, driven by real events in the real window, and looked up in the book afterwards.

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Demo;
using drive::sizes;

// Two benches: bulbs in pots 1 to `many` on "house 1, bench 1", one pot of pieces on "house 1, bench 2, no. 7".
struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId bulbs;
  BatchId chips;
  std::string label, chips_label;

  explicit House(int many = 12) {
    bulbs = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 3 * many}}));
    std::vector<Command> potted;
    for (int number = 1; number <= many; ++number) {
      potted.emplace_back(make::record(
          bulbs, number,
          make::bulbs_potted(make::lines({{"8-10", 3}}), "house 1, bench 1, no. " + std::to_string(number))));
    }
    make::must(book->run_all(potted));
    chips = make::begin_batch(*book, "Tirna Red", 1, 8);
    make::tap(*book, chips, 1, make::pieces_potted(8, "house 1, bench 2, no. 7"));
    label = book->batch(bulbs)->label;
    chips_label = book->batch(chips)->label;
  }
  [[nodiscard]] std::string circle(int number) const { return "bench:" + label + "/" + std::to_string(number); }
  template <class Fact>
  [[nodiscard]] std::vector<std::pair<int, Fact>> standing(const BatchId& batch) const {
    std::vector<std::pair<int, Fact>> facts;
    for (const StoryLine& line : book->story(batch)) {
      if (const auto* fact = std::get_if<Fact>(&line.fact); fact != nullptr && line.stands)
        facts.emplace_back(line.entry.pot, *fact);
    }
    return facts;
  }
};

int tapped(drive::Driver& driver, std::initializer_list<std::string> names) {
  for (const std::string& name : names) driver.tap(name);
  return static_cast<int>(names.size());
}

}  // namespace

TEST_CASE("a damage note takes five taps from the start screen in every size, and the book has just that") {
  for (const drive::Size& size : sizes) {
    CAPTURE(size.text());
    House house;
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    const std::int64_t entries = house.book->entry_count();
    CHECK(tapped(driver, {"quarter:pests", house.circle(3), "see:thrips", "bad:2", "keep"}) <= 5);
    REQUIRE(house.book->entry_count() == entries + 1);
    const auto notes = house.standing<Damage>(house.bulbs);
    REQUIRE(notes.size() == 1);
    CHECK(notes[0].first == 3);
    CHECK(notes[0].second.cause == Cause::pest);
    CHECK(notes[0].second.detail == "thrips");
    CHECK(notes[0].second.how_bad == 2);
    CHECK(house.book->story(house.bulbs).back().entry.helper == "Runa");
    REQUIRE(driver.ui().kept);
    CHECK(driver.ui().kept->words == house.label + "/3: thrips, some");
    CHECK_FALSE(driver.ui().bench.seen);  // nothing of it is left to be kept twice
    driver.tap("undo");
    CHECK(house.standing<Damage>(house.bulbs).empty());
  }
}

TEST_CASE("a rarer cause is behind other, and a note goes with it") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  driver.tap("bar:pots");
  driver.tap(house.circle(5));
  driver.tap("see:other");
  driver.tap("see:mealybug");
  driver.tap("see:other");
  driver.tap("see:other");
  CHECK(driver.has("see:bulb mite"));
  driver.tap("note");
  driver.type("w");
  driver.type("o");
  driver.type("o");
  driver.type("l");
  driver.tap("type:keep");
  driver.tap("keep");
  const auto notes = house.standing<Damage>(house.bulbs);
  REQUIRE(notes.size() == 1);
  CHECK(notes[0].first == 5);
  CHECK(notes[0].second.detail == "mealybug");
  CHECK(notes[0].second.how_bad == 0);
  CHECK(notes[0].second.note == "wool");
}

TEST_CASE("a tile that stands for several troubles asks which, and one tap is enough all the same") {
  House house;
  drive::Driver driver(*house.book, house.host, {1280, 800});
  driver.tap("bar:pots");
  driver.tap(house.circle(5));
  driver.tap("see:thrips");
  CHECK_FALSE(driver.has("see:which"));  // there is one kind of it
  driver.tap("see:thrips");
  driver.tap("see:bulb mite");
  driver.tap("see:which");
  driver.tap("which:mite");
  driver.tap("keep");
  const auto notes = house.standing<Damage>(house.bulbs);
  REQUIRE(notes.size() == 1);
  CHECK(notes[0].second.cause == Cause::pest);
  CHECK(notes[0].second.detail == "mite");  // the scale mite's id in assets/troubles.json
}

TEST_CASE("looked, nothing to see: one tap a pot, along the bench") {
  House house(4);
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  driver.tap(house.circle(2));
  driver.tap("keep");
  driver.tap("keep");
  driver.tap("keep");  // pot 4 is the last
  const auto looks = house.standing<Looked>(house.bulbs);
  REQUIRE(looks.size() == 3);
  CHECK(looks[0].first == 2);
  CHECK(looks[1].first == 3);
  CHECK(looks[2].first == 4);
  CHECK_FALSE(looks[0].second.shoots);
  CHECK(driver.ui().bench.pot == PotId{house.bulbs, 4});
  CHECK(house.standing<Damage>(house.bulbs).empty());
}

TEST_CASE("a pot is put on hold for a reason, and cleared for a typed one") {
  House house;
  drive::Driver driver(*house.book, house.host, {1440, 900});
  driver.tap("bar:pots");
  driver.tap(house.circle(6));
  driver.tap("pot:hold");
  driver.tap("reason:1");
  REQUIRE(house.book->pot({house.bulbs, 6})->held);
  CHECK_FALSE(house.book->pot({house.bulbs, 6})->held_reason.empty());
  CHECK_FALSE(house.book->pot({house.bulbs, 5})->held);
  driver.tap("filter:held");
  CHECK(driver.ui().bench.pot == PotId{house.bulbs, 6});
  driver.tap("pot:hold");
  driver.tap("reason:other");
  driver.type("o");
  driver.type("k");
  driver.tap("type:keep");
  CHECK_FALSE(house.book->pot({house.bulbs, 6})->held);
  REQUIRE(house.standing<Cleared>(house.bulbs).size() == 1);
  CHECK(house.standing<Cleared>(house.bulbs)[0].second.reason == "ok");
}

TEST_CASE("one walks from bench to bench, and the filter goes to the bench that has what it asks for") {
  House house;
  make::tap(*house.book, house.chips, 1, Damage{Cause::pest, "bulb mite", 2, ""});
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  // The pieces were potted last, but nothing was tapped here: the first bench of the walk.
  CHECK(driver.ui().bench.bench == "house 1, bench 1");
  CHECK_FALSE(driver.target("bench:back").enabled);
  driver.tap("bench:next");
  CHECK(driver.ui().bench.bench == "house 1, bench 2");
  // Positions 1 to 6 are free: nothing to tap there.
  CHECK(driver.has("bench:" + house.chips_label + "/1"));
  CHECK_FALSE(driver.target("bench:next").enabled);
  driver.tap("bench:choose");
  driver.tap("bench:go:house 1, bench 1");
  CHECK(driver.ui().bench.bench == "house 1, bench 1");
  driver.tap("filter:damage");
  CHECK(driver.ui().bench.bench == "house 1, bench 2");
  CHECK(driver.ui().bench.pot == PotId{house.chips, 1});
}

TEST_CASE("a bench of many pots scrolls, and a tap after it hits the pot that is drawn there") {
  for (const drive::Size& size : {drive::Size{360, 740}, drive::Size{1280, 800}}) {
    CAPTURE(size.text());
    House house(400);
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    driver.tap("bar:pots");
    const Point on_bench = driver.target(house.circle(2)).rect.middle();
    CHECK_FALSE(driver.has(house.circle(300)));  // only what is in sight is listed
    for (int i = 0; i < 60 && !(driver.has(house.circle(300)) && driver.target(house.circle(300)).whole); ++i) {
      driver.wheel(on_bench, -3);
    }
    REQUIRE(driver.target(house.circle(300)).whole);
    driver.tap(house.circle(300));
    CHECK(driver.ui().bench.pot == PotId{house.bulbs, 300});
    driver.tap("see:slug");
    driver.tap("keep");
    const auto notes = house.standing<Damage>(house.bulbs);
    REQUIRE_FALSE(notes.empty());
    CHECK(notes.back().first == 300);
    // What was chosen stays in sight when one goes on.
    driver.tap("keep");
    CHECK(driver.ui().bench.pot == PotId{house.bulbs, 301});
    if (size.width > 1000) CHECK(driver.target(house.circle(301)).whole);
  }
}

TEST_CASE("a pot emptied elsewhere while it is open is said in words, and what was chosen is not lost") {
  for (const drive::Size& size : {drive::Size{360, 740}, drive::Size{800, 1280}, drive::Size{1280, 800}}) {
    CAPTURE(size.text());
    House house;
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    driver.tap("bar:pots");
    driver.tap(house.circle(4));
    driver.tap("see:rot");
    driver.tap("bad:3");
    make::tap(*house.book, house.bulbs, 4, make::unpotted(make::lines({{"8-10", 3}})), "Bo");
    const std::int64_t entries = house.book->entry_count();
    check_scene(driver, "pots-gone-" + size.text() + "-day");
    CHECK_FALSE(driver.target("keep").enabled);
    CHECK(driver.ui().bench.seen.has_value());
    if (size.width < 600) driver.tap("back");
    CHECK_FALSE(driver.has(house.circle(4)));
    driver.tap(house.circle(5));
    CHECK(driver.ui().bench.how_bad == 3);
    driver.tap("keep");
    REQUIRE(house.book->entry_count() == entries + 1);
    const auto notes = house.standing<Damage>(house.bulbs);
    REQUIRE(notes.size() == 1);
    CHECK(notes[0].first == 5);
    CHECK(notes[0].second.cause == Cause::rot);
    CHECK(notes[0].second.how_bad == 3);
  }
}

TEST_CASE("the whole bench, or those that the filter asks for, are handed on to be worked on") {
  House house;
  make::tap(*house.book, house.bulbs, 2, Damage{Cause::animal, "slug", 1, ""});
  make::tap(*house.book, house.bulbs, 9, Damage{Cause::animal, "slug", 1, ""});
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  driver.tap("bench:work");
  REQUIRE(driver.ui().screen == Screen::care);
  CHECK(driver.ui().about.pots.size() == 12);
  driver.tap("bar:pots");
  driver.tap("filter:damage");
  driver.tap("bench:work");
  REQUIRE(driver.ui().about.pots.size() == 2);
  CHECK(driver.ui().about.pots[1] == PotId{house.bulbs, 9});
  driver.tap("bar:pots");
  driver.tap(house.circle(9));
  driver.tap("pot:work");
  CHECK(driver.ui().about.pots == std::vector<PotId>{{house.bulbs, 9}});
  driver.tap("bar:pots");
  driver.tap("pot:story");
  CHECK(driver.ui().screen == Screen::pot);
  CHECK(driver.ui().about.pots == std::vector<PotId>{{house.bulbs, 9}});
}

TEST_CASE("the benches of the demo in every size and theme") {
  Demo demo;
  for (const drive::Size& size : sizes) {
    for (const bool night : {false, true}) {
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      driver.tap("bar:pots");
      check_scene(driver, "pots-all" + end);
      driver.tap("filter:damage");
      check_scene(driver, "pots" + end);
      driver.tap(drive::first_named(driver, "bench:2"));
      driver.tap("see:bulb mite");
      driver.tap("bad:2");
      check_scene(driver, "pots-seen" + end);
      driver.tap("see:which");
      check_scene(driver, "pots-which" + end);
      driver.tap("which:mite");
      check_scene(driver, "pots-particular" + end);
      driver.tap("see:bulb mite");  // taken back: the other pages are there again
      driver.tap("see:rot");
      driver.tap("see:which");
      check_scene(driver, "pots-which-rot" + end);
      driver.tap("which:any");
      driver.tap("see:rot");
      driver.tap("see:other");
      check_scene(driver, "pots-other" + end);
      driver.tap("see:other");
      check_scene(driver, "pots-more" + end);
      driver.tap("note");
      check_scene(driver, "pots-note" + end);
      driver.tap("type:drop");
      if (size.width < 600) {
        driver.wheel({180, 400}, -20);
        check_scene(driver, "pots-seen-lower" + end);
      }
      driver.tap("pot:hold");
      if (size.width < 600) driver.wheel({180, 400}, 20);
      check_scene(driver, "pots-hold" + end);
      driver.tap("reason:cancel");
      if (size.width < 600) driver.tap("back");
      driver.tap("bench:choose");
      check_scene(driver, "pots-benches" + end);
    }
  }
}

}  // namespace motherbulb

// Finding a pot, driven by real events in the real window.

#include "core/label.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Demo;
using drive::sizes;

struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId red, blue;
  std::string red_label, blue_label;

  House() {
    red = make::begin_bulbs(*book, "Tirna Red", make::lines({{"8-10", 4}}));
    for (int number = 1; number <= 3; ++number)
      make::tap(*book, red, number, make::bulbs_potted(make::lines({{"8-10", 1}}), "house 1, bench 1"));
    blue = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 4}}));
    make::tap(*book, blue, 1, make::bulbs_potted(make::lines({{"8-10", 4}}), "house 1, bench 2"));
    red_label = book->batch(red)->label;
    blue_label = book->batch(blue)->label;
  }
};

// Taps the keys of a text; on a phone letters have keys of their own.
void tap_keys(drive::Driver& driver, const std::string& text) {
  for (const char c : text) {
    const std::string key = std::string("key:") + c;
    if (!driver.has(key)) driver.tap("key:other");
    driver.tap(key);
  }
}

}  // namespace

TEST_CASE("a pot is found by its label typed on the keys, in every size") {
  House house;
  for (const drive::Size& size : sizes) {
    CAPTURE(size.text());
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    driver.tap("bar:pots");
    driver.tap("find");
    REQUIRE(driver.ui().screen == Screen::find);
    tap_keys(driver, house.red_label + "/2");
    CHECK(driver.ui().find.typed == house.red_label + "/2");
    driver.tap(size.width < 600 ? "find:open" : "found:" + house.red_label + "/2");
    CHECK(driver.ui().screen == Screen::pot);
    CHECK(driver.ui().about.pots == std::vector<PotId>{{house.red, 2}});
  }
}

TEST_CASE("part of a label will do, and a batch asks which of its pots") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  driver.tap("find");
  driver.type("1");
  CHECK(driver.has("found:" + house.red_label));
  CHECK_FALSE(driver.has("found:" + house.blue_label));
  driver.tap("found:" + house.red_label);
  CHECK(driver.ui().screen == Screen::find);
  driver.tap("found:" + house.red_label + "/3");
  CHECK(driver.ui().about.pots == std::vector<PotId>{{house.red, 3}});
  driver.tap("back");
  driver.tap("key:undo");
  driver.type("2");
  driver.key(SDLK_RETURN);  // the only pot of its batch
  CHECK(driver.ui().screen == Screen::pot);
  CHECK(driver.ui().about.pots == std::vector<PotId>{{house.blue, 1}});
}

TEST_CASE("a slip is caught by the check character, which says which one is doubtful") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  driver.tap("find");
  // The number's last figure misread: 26A007 in place of 26A001.
  std::string wrong = house.red_label;
  wrong[5] = '7';
  REQUIRE_FALSE(label_from_text(wrong));
  tap_keys(driver, wrong + "/2");
  REQUIRE(driver.ui().find.answer.slip);
  REQUIRE(driver.ui().find.answer.found.size() == 1);
  CHECK(driver.ui().find.answer.found[0].mend.at == 5);
  CHECK(driver.ui().find.answer.found[0].mend.was == '7');
  CHECK(driver.ui().find.answer.found[0].mend.is == '1');
  check_scene(driver, "find-slip-1280x800-day");
  driver.tap("found:" + house.red_label + "/2");
  CHECK(driver.ui().about.pots == std::vector<PotId>{{house.red, 2}});

  // Far off: nothing is guessed.
  driver.tap("back");
  while (!driver.ui().find.typed.empty()) driver.tap("key:undo");
  tap_keys(driver, "19Z843-*");
  CHECK(driver.ui().find.answer.slip);
  CHECK(driver.ui().find.answer.found.empty());
  check_scene(driver, "find-far-1280x800-day");
}

TEST_CASE("letters of a clone's name find its batches, and an emptied pot has a story still") {
  House house;
  make::tap(*house.book, house.red, 2, make::unpotted(make::lines({{"8-10", 1}})));
  for (const drive::Size& size : {drive::Size{360, 740}, drive::Size{800, 1280}}) {
    CAPTURE(size.text());
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    driver.tap("bar:pots");
    driver.tap("find");
    driver.tap("by:name");
    tap_keys(driver, "BLU");
    driver.tap(size.width < 600 ? "find:open" : "found:" + house.blue_label);
    CHECK(driver.ui().about.pots == std::vector<PotId>{{house.blue, 1}});
    driver.tap("back");
    driver.tap("by:label");
    tap_keys(driver, "1/2");
    driver.tap(size.width < 600 ? "find:open" : "found:" + house.red_label + "/2");
    CHECK(driver.ui().screen == Screen::pot);
    CHECK(driver.ui().about.pots == std::vector<PotId>{{house.red, 2}});
  }
}

TEST_CASE("a batch of which nothing was potted yet has a story too") {
  House house;
  const BatchId waits = make::begin_bulbs(*house.book, "Wold Green", make::lines({{"8-10", 4}}));
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  driver.tap("find");
  driver.tap("by:name");
  tap_keys(driver, "WOLD");
  driver.tap("found:" + house.book->batch(waits)->label);
  CHECK(driver.ui().screen == Screen::pot);
  CHECK(driver.ui().about.pots == std::vector<PotId>{{waits, 0}});
  CHECK(driver.has("pot:work"));
}

TEST_CASE("those used last are there before anything is typed") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  driver.tap("bench:" + house.red_label + "/3");
  driver.tap("keep");
  driver.tap("find");
  driver.tap("found:" + house.red_label + "/3");
  CHECK(driver.ui().about.pots == std::vector<PotId>{{house.red, 3}});
}

TEST_CASE("finding in every size and theme") {
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
      driver.tap("find");
      check_scene(driver, "find-empty" + end);
      driver.type("1");
      check_scene(driver, "find" + end);
      if (size.width < 600) {
        driver.tap("find:show");
        check_scene(driver, "find-list" + end);
        driver.tap("find:keys");
        driver.tap("key:other");
        check_scene(driver, "find-letters" + end);
      } else {
        driver.tap(drive::first_named(driver, "found:"));
        check_scene(driver, "find-pots" + end);
      }
      driver.tap("by:name");
      driver.type("e");
      check_scene(driver, "find-name" + end);
    }
  }
}

}  // namespace motherbulb

// Rest & repot, driven by real events in the real window, and looked up in the book afterwards.

#include <algorithm>

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Demo;
using drive::sizes;

// A batch of five pots of bulbs dried off on one day, and one pot that grows.
struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId resting, growing;
  std::string label, growing_label;

  House() {
    growing = make::begin_bulbs(*book, "Tirna Red", make::lines({{"8-10", 4}}));
    make::tap(*book, growing, 1, make::bulbs_potted(make::lines({{"8-10", 4}}), "house 1, bench 1, no. 1"));
    resting = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 10}}));
    for (int number = 1; number <= 5; ++number) {
      make::tap(*book, resting, number, make::bulbs_potted(make::lines({{"8-10", 2}}), "house 1, bench 2"));
    }
    host.advance_minutes(7 * 24 * 60);
    for (int number = 1; number <= 5; ++number) make::tap(*book, resting, number, DriedOff{});
    host.advance_minutes(77 * 24 * 60);
    label = book->batch(resting)->label;
    growing_label = book->batch(growing)->label;
  }
  [[nodiscard]] Stage stage(const BatchId& batch, int pot) const {
    return stage_of(*book->batch(batch), *book->pot({batch, pot}));
  }
  template <class Fact>
  [[nodiscard]] std::vector<int> pots_with(const BatchId& batch) const {
    std::vector<int> pots;
    for (const StoryLine& line : book->story(batch)) {
      if (line.stands && std::holds_alternative<Fact>(line.fact)) pots.push_back(line.entry.pot);
    }
    return pots;
  }
};

// The pots by stage, from what is due.
void to_stages(drive::Driver& driver) {
  driver.tap("bar:due");
  if (driver.has("due:more")) driver.tap("due:more");
  driver.tap("due:stages");
  REQUIRE(driver.ui().screen == Screen::rest);
}

}  // namespace

TEST_CASE("resting pots are started by stage: one entry a pot, one slip, one undo") {
  for (const drive::Size& size : sizes) {
    CAPTURE(size.text());
    House house;
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    const std::int64_t entries = house.book->entry_count();
    to_stages(driver);
    driver.tap(drive::first_named(driver, "rest:start:" + house.label));
    CHECK(house.book->entry_count() == entries + 5);
    CHECK(house.pots_with<Started>(house.resting) == std::vector<int>{1, 2, 3, 4, 5});
    CHECK(house.stage(house.resting, 3) == Stage::started);
    REQUIRE(driver.ui().kept);
    CHECK(driver.ui().kept->words == house.label + ": 5 pots started");
    driver.tap("undo");
    CHECK(house.pots_with<Started>(house.resting).empty());
    CHECK(house.stage(house.resting, 3) == Stage::drying_off);
  }
}

TEST_CASE("a batch opens, and one pot of it is started in three taps") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  to_stages(driver);
  driver.tap(drive::first_named(driver, "rest:group:" + house.label));
  driver.tap("rest:start:" + house.label + "/4");
  CHECK(house.pots_with<Started>(house.resting) == std::vector<int>{4});
  CHECK(driver.ui().kept->words == house.label + "/4: started");
  CHECK_FALSE(driver.has("rest:start:" + house.label + "/4"));  // it does not rest any more
  CHECK(driver.has("rest:start:" + house.label + "/5"));        // and the batch is still open
  driver.tap("show:started");
  driver.tap("rest:repot:" + house.label + "/4");
  CHECK(house.pots_with<Repotted>(house.resting) == std::vector<int>{4});
  CHECK(total(house.book->pot({house.resting, 4})->bulbs) == 2);
  CHECK(house.stage(house.resting, 4) == Stage::growing);
}

TEST_CASE("what grows is dried off, from its row and from beside the list") {
  House house;
  drive::Driver driver(*house.book, house.host);
  to_stages(driver);
  driver.tap("show:growing");
  driver.tap("rest:pot:" + house.growing_label + "/1");
  CHECK(driver.ui().rest.pot == PotId{house.growing, 1});
  driver.tap("rest:act");
  CHECK(house.pots_with<DriedOff>(house.growing) == std::vector<int>{1});
  CHECK(driver.ui().kept->words == house.growing_label + "/1: dried off");
  const auto written = driver.app->fonts().written();
  CHECK(std::any_of(written.begin(), written.end(), [](const auto& one) { return one.words == "Dried off today"; }));
  // Beside the list it offers what comes next.
  driver.tap("rest:act");
  CHECK(house.pots_with<Started>(house.growing) == std::vector<int>{1});
  driver.tap("rest:story");
  CHECK(driver.ui().screen == Screen::pot);
  CHECK(driver.ui().about.pots == std::vector<PotId>{{house.growing, 1}});
}

TEST_CASE("on a phone a row leads to its pot's story") {
  House house;
  drive::Driver phone(*house.book, house.host, {360, 740});
  to_stages(phone);
  phone.tap("show:growing");
  phone.tap("rest:pot:" + house.growing_label + "/1");
  CHECK(phone.ui().screen == Screen::pot);
  CHECK(phone.ui().about.pots == std::vector<PotId>{{house.growing, 1}});
}

TEST_CASE("a pot emptied meanwhile leaves the list, and is said beside it") {
  House house;
  drive::Driver driver(*house.book, house.host);
  to_stages(driver);
  driver.tap("show:growing");
  make::tap(*house.book, house.growing, 1, make::unpotted(make::lines({{"8-10", 4}})), "Bo");
  driver.session->ask_for_frame();
  driver.settle();
  CHECK_FALSE(driver.has("rest:act"));
  CHECK_FALSE(driver.has("rest:dry-off:" + house.growing_label + "/1"));
  check_scene(driver, "rest-gone-1280x800-day");
}

TEST_CASE("a list of many pots scrolls, and its rows are drawn only where they are seen") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("many.book"), host, "A");
  const BatchId batch = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 300}}));
  std::vector<Command> commands;
  for (int number = 1; number <= 300; ++number)
    commands.emplace_back(make::record(batch, number, make::bulbs_potted(make::lines({{"8-10", 1}}), "house 1")));
  make::must(book->run_all(commands));
  const std::string label = book->batch(batch)->label;
  drive::Driver driver(*book, host, {800, 1280});
  to_stages(driver);
  driver.tap(drive::first_named(driver, "rest:group:" + label));
  const std::string wanted = "rest:dry-off:" + label + "/250";
  CHECK_FALSE(driver.has(wanted));
  for (int i = 0; i < 120 && !(driver.has(wanted) && driver.target(wanted).whole); ++i) driver.wheel({400, 900}, -6);
  REQUIRE(driver.target(wanted).whole);
  CHECK(driver.names().size() < 60);
  driver.tap(wanted);
  CHECK(stage_of(*book->batch(batch), *book->pot({batch, 250})) == Stage::drying_off);
  CHECK(stage_of(*book->batch(batch), *book->pot({batch, 249})) == Stage::growing);
}

TEST_CASE("the demo's rest in every size and theme") {
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
      to_stages(driver);
      check_scene(driver, "rest" + end);
      driver.tap(drive::first_named(driver, "rest:group:"));
      check_scene(driver, "rest-opened" + end);
      driver.tap("show:started");
      check_scene(driver, "rest-started" + end);
      driver.tap("show:growing");
      check_scene(driver, "rest-growing" + end);
    }
  }
}

}  // namespace motherbulb

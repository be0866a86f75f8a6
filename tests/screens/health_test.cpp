// Health and the trace, driven by real events in the real window.

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Demo;
using drive::Size;
using drive::sizes;
using drive::wish_of;

// Scrolls until the control is whole.
void bring(drive::Driver& driver, const std::string& name) {
  const float scale = driver.app->fonts().scale();
  const Point middle{static_cast<float>(driver.window->width_px()) / scale * 0.6F,
                     static_cast<float>(driver.window->height_px()) / scale * 0.6F};
  for (int i = 0; i < 60 && !(driver.has(name) && driver.target(name).whole); ++i) driver.wheel(middle, -2);
}

// A mother's sections in two pots, another clone cut with the same blade, and a neighbour of another clone.
struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId red, blue, green;
  std::string red_label, blue_label, green_label;

  House() {
    red = cut("Tirna Red");
    make::tap(*book, red, 1, make::pieces_potted(4, "house 1, bench 1, no. 1"));
    make::tap(*book, red, 2, make::pieces_potted(4, "house 1, bench 1, no. 5"));
    host.advance_minutes(5);
    blue = cut("Skarn Blue");
    make::tap(*book, blue, 1, make::pieces_potted(8, "house 1, bench 2, no. 1"));
    green = make::begin_bulbs(*book, "Moss Green", make::lines({{"8-10", 2}}));
    make::tap(*book, green, 1, make::bulbs_potted(make::lines({{"8-10", 2}}), "house 1, bench 1, no. 2"));
    red_label = book->batch(red)->label;
    blue_label = book->batch(blue)->label;
    green_label = book->batch(green)->label;
  }
  BatchId cut(const std::string& clone) {
    Begun fact = make::begun(clone, Method::chipping, make::lines({{"20-22", 1}}), 8);
    fact.label = book->next_label(2026);
    fact.blade = Blade::not_disinfected;
    return make::tap(*book, BatchId{}, 0, fact).batch;
  }
  [[nodiscard]] bool held(const BatchId& batch, std::int32_t number) const {
    return on_hold(*book->batch(batch), *book->pot({batch, number}));
  }
};

void open_health(drive::Driver& driver) {
  driver.tap("bar:pots");
  driver.tap("health");
  REQUIRE(driver.ui().screen == Screen::health);
}

}  // namespace

TEST_CASE("every page of health is whole in every size and theme") {
  for (const Size& size : sizes) {
    for (const bool night : {false, true}) {
      Demo demo;
      drive::Driver driver(*demo.book, demo.host, wish_of(size, night));
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      const Point middle{static_cast<float>(size.width) * 0.6F, static_cast<float>(size.height) * 0.6F};
      open_health(driver);
      check_scene(driver, "health" + end);
      for (int i = 1; i <= 4; ++i) {
        driver.wheel(middle, -6);
        check_scene(driver, "health-lower" + std::to_string(i) + end);
      }
      driver.tap("page:1");
      check_scene(driver, "health-troubles" + end);
      driver.tap(drive::first_named(driver, "look:"));
      check_scene(driver, "health-trouble" + end);
      driver.tap("page:2");
      check_scene(driver, "health-sample" + end);
      bring(driver, "share:other");
      driver.tap("share:other");
      driver.tap("key:3");
      check_scene(driver, "health-sample-pad" + end);
      driver.tap("pad:done");
      driver.tap("page:3");
      check_scene(driver, "health-water" + end);
      driver.tap("page:4");
      check_scene(driver, "health-treated" + end, true);
      driver.tap("page:5");
      check_scene(driver, "health-off-types" + end, true);
      driver.tap("page:0");
      bring(driver, drive::first_named(driver, "clear:"));
      driver.tap(drive::first_named(driver, "clear:"));
      check_scene(driver, "health-clear" + end, true);
      driver.tap("clear:cancel");
      driver.tap(drive::first_named(driver, "trace:"));
      REQUIRE(driver.ui().screen == Screen::trace);
      check_scene(driver, "trace" + end, true);
      if (driver.has("view:1")) {
        driver.tap("view:1");
        check_scene(driver, "trace-descent" + end, true);
        driver.tap("view:2");
        check_scene(driver, "trace-bench" + end, true);
        driver.tap("view:0");
      }
      driver.wheel(middle, -30);
      check_scene(driver, "trace-lower" + end, true);
    }
  }
}

TEST_CASE("all that a held pot touched is put on hold by one tap, and let go by one undo") {
  for (const Size& size : {Size{360, 740}, Size{1280, 800}}) {
    CAPTURE(size.text());
    House house;
    make::tap(*house.book, house.red, 1, Held{"virus?"});
    drive::Driver driver(*house.book, house.host, wish_of(size, false));
    open_health(driver);
    driver.tap("trace:" + house.red_label + "/1");
    REQUIRE(driver.ui().screen == Screen::trace);
    // Its clone-mate, what the blade cut after it, and what stands next to it; not the pot itself.
    bring(driver, "touched:" + house.green_label + "/1");
    CHECK(driver.has("touched:" + house.green_label + "/1"));
    CHECK(driver.ui().health.traced.trace.pots.size() == 3);
    check_scene(driver, "trace-house-" + size.text() + "-day", true);
    driver.tap("trace:hold-all");
    CHECK(house.held(house.red, 2));
    CHECK(house.held(house.blue, 1));
    CHECK(house.held(house.green, 1));
    CHECK(house.book->pot({house.blue, 1})->held_reason == "traced from " + house.red_label + "/1: virus?");
    REQUIRE(driver.ui().kept);
    CHECK(driver.ui().kept->words == "3 pots put on hold");
    CHECK_FALSE(driver.target("trace:hold-all").enabled);
    driver.tap("undo");
    CHECK_FALSE(house.held(house.red, 2));
    CHECK_FALSE(house.held(house.blue, 1));
    CHECK_FALSE(house.held(house.green, 1));
    CHECK(house.held(house.red, 1));
  }
}

TEST_CASE("a group alone is held, and what is on hold already is not held again") {
  House house;
  make::tap(*house.book, house.red, 1, Held{"virus?"});
  make::tap(*house.book, house.red, 2, Held{"looks sick"});
  drive::Driver driver(*house.book, house.host);
  open_health(driver);
  driver.tap("trace:" + house.red_label + "/1");
  bring(driver, "trace:hold:blade");
  driver.tap("trace:hold:blade");
  CHECK(house.held(house.blue, 1));
  CHECK_FALSE(house.held(house.green, 1));
  CHECK(driver.ui().kept->words == "1 pot put on hold");
  driver.tap("trace:hold-all");
  CHECK(driver.ui().kept->words == "1 pot put on hold");
  CHECK(house.held(house.green, 1));
  CHECK(house.book->pot({house.red, 2})->held_reason == "looks sick");
}

TEST_CASE("a pot that touched nothing says so") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("one.book"), host, "A");
  const BatchId only = make::begin_bulbs(*book, "Tirna Red", make::lines({{"8-10", 1}}));
  make::tap(*book, only, 1, make::bulbs_potted(make::lines({{"8-10", 1}}), "house 1, bench 1"));
  make::tap(*book, only, 1, Held{"looks sick"});
  drive::Driver driver(*book, host);
  open_health(driver);
  driver.tap("trace:" + book->batch(only)->label + "/1");
  CHECK_FALSE(driver.has("trace:hold-all"));
  check_scene(driver, "trace-nothing-1280x800-day", true);
}

TEST_CASE("a positive test stands among what was found bad, is held from there, and cleared with a reason") {
  House house;
  Tested tested;
  tested.subject = "mosaic virus";
  tested.result = TestResult::positive;
  make::tap(*house.book, house.blue, 1, tested);
  drive::Driver driver(*house.book, house.host);
  open_health(driver);
  const std::string label = house.blue_label + "/1";
  REQUIRE(driver.has("hold:" + label));
  check_scene(driver, "health-tested-1280x800-day", true);
  driver.tap("hold:" + label);
  CHECK(house.held(house.blue, 1));
  CHECK_FALSE(driver.has("hold:" + label));
  driver.tap("clear:" + label);
  driver.tap("clear:1");
  CHECK_FALSE(house.held(house.blue, 1));
  CHECK_FALSE(found_bad(*house.book->batch(house.blue), *house.book->pot({house.blue, 1})));
  CHECK_FALSE(driver.has("clear:" + label));
}

TEST_CASE("a bench that nobody has looked at is looked at by one tap") {
  House house;
  house.host.advance_minutes(15 * 24 * 60);
  drive::Driver driver(*house.book, house.host);
  open_health(driver);
  bring(driver, "weeks:2");
  // Fifteen days: more than two weeks, less than four.
  CHECK_FALSE(driver.has("looked:house 1, bench 1"));
  driver.tap("weeks:2");
  bring(driver, "looked:house 1, bench 1");
  driver.tap("looked:house 1, bench 1");
  CHECK(driver.ui().kept->words == "house 1, bench 1: 3 pots looked at");
  CHECK(house.book->pot({house.green, 1})->last_looked.has_value());
  CHECK(house.book->pot({house.red, 2})->last_looked.has_value());
  CHECK_FALSE(house.book->pot({house.blue, 1})->last_looked.has_value());
  CHECK_FALSE(driver.has("looked:house 1, bench 1"));
}

TEST_CASE("a mark and a trouble list the pots behind them") {
  House house;
  make::tap(*house.book, house.red, 1, Damage{Cause::pest, "thrips", 2, ""});
  make::tap(*house.book, house.blue, 1, Damage{Cause::pest, "thrips", 1, ""});
  drive::Driver driver(*house.book, house.host);
  open_health(driver);
  bring(driver, "trouble:thrips");
  driver.tap("cell:thrips:11");
  CHECK(driver.has("list:" + house.red_label + "/1"));
  CHECK(driver.has("list:" + house.blue_label + "/1"));
  check_scene(driver, "health-list-1280x800-day", true);
  driver.tap("list:close");
  bring(driver, "place:house 1, bench 2");
  driver.tap("place:house 1, bench 2");
  CHECK_FALSE(driver.has("list:" + house.red_label + "/1"));
  driver.tap("list:" + house.blue_label + "/1");
  CHECK(driver.ui().screen == Screen::pot);
  CHECK(driver.ui().about.pots == std::vector<PotId>{{house.blue, 1}});
}

TEST_CASE("of a large lot 59 bulbs find 5 % with 95 %") {
  // ISPM 31, table 1 (no replacement): 59 for lots so large that the lot's size no longer matters.
  House house;
  drive::Driver driver(*house.book, house.host);
  open_health(driver);
  driver.tap("page:2");
  driver.tap("lot:other");
  for (const char* key : {"key:1", "key:0", "key:0", "key:0", "key:0", "key:0", "key:0"}) driver.tap(key);
  driver.tap("pad:done");
  CHECK(driver.ui().health.lot == 1'000'000);
  driver.tap("share:5");
  driver.tap("sure:95");
  const auto& answer = driver.ui().health.answer;
  REQUIRE(answer.single);
  CHECK(answer.single->tests == 59);
  const auto written = [&](const std::string& words_wanted) {
    for (const Fonts::Written& one : driver.app->fonts().written()) {
      if (one.words == words_wanted) return true;
    }
    return false;
  };
  CHECK(written("59 bulbs"));
  driver.tap("pool:5");
  // 60 bulbs in 12 pools of 5: 0.95^60 = 4.6 %.
  CHECK(written("or 12 pools of 5, 60 bulbs in all"));
  // A test that finds 8 of 10, on a lot of which one of ten is infected: all ten find it with 80 %.
  driver.tap("lot:other");
  driver.tap("key:1");
  driver.tap("key:0");
  driver.tap("pad:done");
  driver.tap("pool:1");
  driver.tap("test:80");
  CHECK(written("Even all are not enough"));
  check_scene(driver, "health-sample-not-enough-1280x800-day", true);
}

TEST_CASE("off-types are taken out from the list, by the work that discards") {
  House house;
  Flowered flowered;
  flowered.true_to_type = 1;
  flowered.off_type = 1;
  make::tap(*house.book, house.green, 1, flowered);
  drive::Driver driver(*house.book, house.host);
  open_health(driver);
  driver.tap("page:5");
  check_scene(driver, "health-off-type-1280x800-day", true);
  driver.tap("rogue:" + house.green_label + "/1");
  CHECK(driver.ui().screen == Screen::care);
  CHECK(driver.ui().care.job == Kind::discarded);
}

TEST_CASE("the list of treatments is written to be printed") {
  House house;
  Treatment treatment;
  treatment.product = "Soft soap";
  treatment.amount = "2 l";
  treatment.re_entry_hours = 12;
  make::tap(*house.book, house.green, 1, treatment);
  drive::Driver driver(*house.book, house.host);
  open_health(driver);
  driver.tap("page:4");
  check_scene(driver, "health-treatment-1280x800-day", true);
  driver.tap("treated:print");
  REQUIRE(driver.ui().kept);
  bool found = false;
  for (const auto& file : std::filesystem::directory_iterator(std::filesystem::path(house.folder.file(""))))
    found = found || file.path().extension() == ".html";
  CHECK(found);
}

}  // namespace motherbulb

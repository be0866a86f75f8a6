// The outlook of a clone: the geometry of its pictures, and the screens driven by real events in the real window.

#include <algorithm>
#include <cmath>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/chance.hpp"
#include "app/widgets/fan.hpp"
#include "app/widgets/ladder.hpp"
#include "app/widgets/size_columns.hpp"
#include "app/widgets/smooth.hpp"
#include "tests/screens/outlook_scenes.hpp"

namespace motherbulb {
namespace {

using ahead_scenes::open_clone;
using ahead_scenes::open_list;
using ahead_scenes::open_plan;
using ahead_scenes::says;
using drive::check_scene;
using drive::Demo;
using drive::find_and_tap;
using drive::Size;
using drive::sizes;
using drive::wheel;
using drive::wish_of;
using make::AheadHouse;

}  // namespace

TEST_CASE("a hundred bulbs are none only where there is no chance, and all only where it is certain") {
  CHECK(in_a_hundred(0) == 0);
  CHECK(in_a_hundred(0.0001) == 1);
  CHECK(in_a_hundred(0.724) == 72);
  CHECK(in_a_hundred(0.9999) == 99);
  CHECK(in_a_hundred(1) == 100);
}

TEST_CASE("small chances are said as one in so many, with the two figures that are known of them") {
  CHECK(ahead::chance_words(0.72) == "72 in 100");
  CHECK(ahead::chance_words(1.0 / 160) == "1 in 160");
  CHECK(ahead::chance_words(1.0 / 15432) == "1 in 15,000");
  CHECK(ahead::chance_words(1e-9) == "under 1 in a million");
  CHECK(ahead::chance_words(0) == "no chance");
}

TEST_CASE("numbers of sources are not shown to whoever has no list of them") {
  CHECK(ahead::without_numbers_of_sources("5 % are lost (S76: 4 to 6 % a year).") ==
        "5 % are lost (a published trial: 4 to 6 % a year).");
  CHECK(ahead::without_numbers_of_sources("as usual (S01, S04, S06)") == "as usual (published trials)");
  CHECK(ahead::without_numbers_of_sources("S38b: three to four years") == "a published trial: three to four years");
  CHECK(ahead::without_numbers_of_sources("about 23 (as published (S01, S04)).") == "about 23 (as published).");
  CHECK(ahead::without_numbers_of_sources("S36, weak") == "a published trial, weak");
  CHECK(ahead::without_numbers_of_sources("Sown in S, BS12 and Skarn") == "Sown in S, BS12 and Skarn");
}

TEST_CASE("where there is no room for all sizes the smallest go together, and no bulb is left out") {
  const BulbsByGrade all{
      {make::grade("-2"), 3}, {make::grade("2-4"), 5}, {make::grade("4-6"), 7}, {make::grade("6+"), 1}, {Grade{}, 2}};
  CHECK(sizes_together(all, 5) == all);
  CHECK(sizes_together(all, 3) == BulbsByGrade{{make::grade("-6"), 15}, {make::grade("6+"), 1}, {Grade{}, 2}});
  CHECK(total(sizes_together(all, 1)) == 18);
}

TEST_CASE("a target goes up and down by steps that are easily said") {
  CHECK(next_target(8, true) == 9);
  CHECK(next_target(10, true) == 12);
  CHECK(next_target(45, true) == 50);
  CHECK(next_target(100, true) == 120);
  CHECK(next_target(432, true) == 450);
  CHECK(next_target(100, false) == 90);
  CHECK(next_target(432, false) == 400);
  CHECK(next_target(1, false) == 1);
  CHECK(next_target(most_target, true) == most_target);
  for (std::int64_t target = 1; target < 2000; target += 7) {
    CAPTURE(target);
    CHECK(next_target(target, true) > target);
    CHECK(next_target(next_target(target, true), false) <= target);
  }
}

TEST_CASE("a smooth line runs through its points and never beyond them") {
  const SmoothLine line({0, 1, 1, 10, 4});
  for (std::size_t i = 0; i < 5; ++i)
    CHECK(line.at(static_cast<double>(i)) == std::vector<double>({0, 1, 1, 10, 4})[i]);
  CHECK(line.at(-1) == 0);
  CHECK(line.at(9) == 4);
  double before = 0;
  for (double at = 0; at <= 3; at += 0.01) {
    CHECK(line.at(at) >= before);
    CHECK(line.at(at) <= 10);
    before = line.at(at);
  }
  CHECK(line.at(1.5) == 1);
  // Through points on a straight line it is that line.
  CHECK(SmoothLine({2, 4, 6, 8}).at(1.25) == doctest::Approx(4.5));
}

TEST_CASE("the fan's lines are numbers that are easily read, at most five, and the top holds all") {
  CHECK(fan_scale(1040).step == 200);  // as in the look: 0 to 1,000 by 200
  CHECK(fan_scale(9).step == 2);
  CHECK(fan_scale(620).step == 200);
  CHECK(fan_scale(0).top > 0);
  for (double most = 0.3; most < 1e9; most *= 1.37) {
    CAPTURE(most);
    const FanScale scale = fan_scale(most);
    CHECK(scale.top >= most);
    CHECK(scale.top / scale.step < 6);
    CHECK(scale.top >= scale.step);
    CHECK(scale.step == std::floor(scale.step));
  }
}

TEST_CASE("words at the fan's end stand apart and inside, in the order of the lines") {
  const std::array<float, 5> together = fan_end_words({100, 100, 100, 100, 100}, 20, 0, 300);
  CHECK(together == std::array<float, 5>{100, 120, 140, 160, 180});
  const std::array<float, 5> low = fan_end_words({290, 290, 290, 290, 290}, 20, 0, 300);
  CHECK(low == std::array<float, 5>{220, 240, 260, 280, 300});
  const std::array<float, 5> free = fan_end_words({10, 60, 110, 160, 210}, 20, 0, 300);
  CHECK(free == std::array<float, 5>{10, 60, 110, 160, 210});
}

TEST_CASE("the ladder shows every season where there is room, and else every second") {
  // The look: six seasons on 334 dp by 62 are 2026, 2028, 2030; on 612 all of them.
  CHECK(ladder_seasons(6, 334, 62) == std::vector<std::size_t>{0, 2, 4});
  CHECK(ladder_seasons(6, 612, 62) == std::vector<std::size_t>{0, 1, 2, 3, 4, 5});
  CHECK(ladder_seasons(6, 20, 62) == std::vector<std::size_t>{0});
  // Widths are true: half as many are half as wide.
  CHECK(ladder_half_width(200, 400, 30) == doctest::Approx(15));
  CHECK(ladder_half_width(400, 400, 30) == doctest::Approx(30));
  CHECK(ladder_half_width(0, 400, 30) > 0);
  CHECK(ladder_half_width(0, 0, 30) > 0);
}

TEST_CASE("the chance on the screen is the one that the outlook of the model gives") {
  AheadHouse house;
  drive::Driver driver(*house.book, house.host, wish_of({1280, 800}));
  open_clone(driver, house.clone);
  const OutlookDraft& draft = driver.ui().outlook;
  REQUIRE(draft.ahead.picture);
  REQUIRE(draft.shown);
  REQUIRE(draft.shown->chance);
  for (int taps = 0; taps < 3; ++taps) {
    OutlookWish wish;
    wish.seasons = draft.ahead.picture->seasons;
    wish.target = draft.shown->wanted.target;
    const Outlook by_core = make::must(outlook(draft.ahead.picture->known.growth.model, wish));
    const OutlookSeason& then = by_core.seasons[draft.shown->wanted.season - 1];
    REQUIRE(then.p_target);
    CHECK(*draft.shown->chance == doctest::Approx(*then.p_target));
    CHECK(says(driver, std::to_string(in_a_hundred(*then.p_target))));
    driver.tap(taps == 0 ? "target:more" : "season:more");
  }
}

TEST_CASE("what is wanted changes by taps without reckoning anew, and less is the surer the more is wanted") {
  for (const Size& size : {Size{360, 740}, Size{800, 1280}, Size{1280, 800}}) {
    CAPTURE(size.text());
    AheadHouse house;
    drive::Driver driver(*house.book, house.host, wish_of(size));
    open_clone(driver, house.clone);
    const OutlookDraft& draft = driver.ui().outlook;
    const auto picture = draft.ahead.picture;
    REQUIRE(picture);
    const std::int64_t target = draft.shown->wanted.target;
    const double chance = *draft.shown->chance;
    driver.tap("target:more");
    driver.tap("target:more");
    CHECK(draft.shown->wanted.target == next_target(next_target(target, true), true));
    CHECK(*draft.shown->chance <= chance);
    driver.tap("season:more");
    CHECK(draft.shown->wanted.season == 5);
    driver.tap("season:less");
    driver.tap("target:less");
    driver.tap("target:less");
    CHECK(draft.shown->wanted.target == target);
    CHECK(*draft.shown->chance == chance);
    // Typed.
    driver.tap("target:type");
    driver.tap("key:1");
    driver.tap("key:2");
    driver.tap("key:0");
    check_scene(driver, "outlook-typing-" + size.text() + "-day", true);
    driver.tap("typed:keep");
    CHECK(draft.shown->wanted.target == 120);
    CHECK(draft.ahead.picture == picture);
    // It is remembered when one comes again.
    open_clone(driver, house.clone);
    CHECK(draft.shown->wanted.target == 120);
    CHECK(draft.ahead.picture == picture);
  }
}

TEST_CASE("stopped, the screen says so and reckons again when asked") {
  AheadHouse house;
  drive::Driver driver(*house.book, house.host, wish_of({800, 1280}));
  open_list(driver);
  driver.app->set_breathe([](double) { return false; });
  driver.tap("ahead:" + house.clone + ":Hippeastrum");
  CHECK(driver.ui().outlook.ahead.stopped);
  CHECK_FALSE(driver.ui().outlook.ahead.picture);
  check_scene(driver, "outlook-stopped-800x1280-day", true);
  driver.app->set_breathe([](double) { return true; });
  driver.tap("again");
  CHECK(driver.ui().outlook.ahead.picture);
  CHECK_FALSE(driver.ui().outlook.ahead.stopped);
}

TEST_CASE("when the book changes the years ahead are reckoned anew, and where nothing stands that is said") {
  AheadHouse house;
  drive::Driver driver(*house.book, house.host, wish_of({1280, 800}));
  open_clone(driver, house.clone);
  const auto before = driver.ui().outlook.ahead.picture;
  make::tap(*house.book, house.bulbs, 1, make::lost(Cause::rot, 3));
  wheel(driver, -1);
  driver.settle();
  CHECK(driver.ui().outlook.ahead.picture);
  CHECK(driver.ui().outlook.ahead.picture != before);
}

TEST_CASE("where nothing of the clone stands any more the screen says so, with one act") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("one.book"), host);
  const BatchId one = make::begin_bulbs(*book, "Tirna Red", make::lines({{"22-24", 1}}));
  make::tap(*book, one, 1, make::bulbs_potted(make::lines({{"22-24", 1}}), "house 1, bench 1"));
  drive::Driver driver(*book, host, wish_of({800, 1280}));
  open_clone(driver, "Tirna Red");
  check_scene(driver, "outlook-one-bulb-800x1280-day", true);
  make::tap(*book, one, 1, make::lost(Cause::rot, 1));
  wheel(driver, -1);
  driver.settle();
  REQUIRE(driver.ui().outlook.ahead.picture);
  CHECK(driver.ui().outlook.ahead.picture->nothing_stands());
  check_scene(driver, "outlook-nothing-800x1280-day", true);
  driver.tap("cut");
  CHECK(driver.ui().screen == Screen::cut);
}

TEST_CASE("an empty book has one sentence and one act on the outlook") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("empty.book"), host);
  for (const Size& size : sizes) {
    drive::Driver driver(*book, host, wish_of(size));
    open_list(driver);
    check_scene(driver, "empty-outlook-" + size.text() + "-day", true);
    driver.tap("cut");
    CHECK(driver.ui().screen == Screen::cut);
  }
}

TEST_CASE("outlook, plan and yields are whole with text of twice the size") {
  for (const Size& size : {Size{800, 1280}, Size{1280, 800}}) {
    AheadHouse house;
    drive::Wish wish = wish_of(size);
    wish.text_percent = 200;
    drive::Driver driver(*house.book, house.host, wish);
    const std::string end = "-" + size.text() + "-twice";
    open_clone(driver, house.clone);
    check_scene(driver, "outlook-clone" + end, true);
    for (int page = 1; page <= 5; ++page) {
      wheel(driver, -6);
      check_scene(driver, "outlook-clone-" + std::to_string(page) + end, true);
    }
    open_plan(driver, house.clone);
    check_scene(driver, "plan" + end, true);
    for (int page = 1; page <= 5; ++page) {
      wheel(driver, -6);
      check_scene(driver, "plan-" + std::to_string(page) + end, true);
    }
    open_clone(driver, house.clone);
    find_and_tap(driver, "yields");
    check_scene(driver, "yields" + end, true);
  }
}

TEST_CASE("the outlook, the plan and the yields of the demo in every size and theme") {
  Demo demo;
  for (const Size& size : sizes) {
    drive::Driver driver(*demo.book, demo.host, wish_of(size));
    for (const bool night : {false, true}) {
      if (night) {
        driver.tap("bar:start");
        driver.tap("theme");  // what was reckoned stays
      }
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      open_list(driver);
      check_scene(driver, "outlook-list" + end);
      const std::string row = drive::first_named(driver, "ahead:");
      driver.tap(row);
      REQUIRE(driver.ui().outlook.ahead.picture);
      check_scene(driver, "outlook-clone" + end);
      for (int page = 1; page <= 4; ++page) {
        wheel(driver, -8);
        check_scene(driver, "outlook-clone-" + std::to_string(page) + end, true);
      }
      find_and_tap(driver, "yields");
      check_scene(driver, "yields" + end, true);
      wheel(driver, -9);
      check_scene(driver, "yields-lower" + end, true);
    }
  }
}

}  // namespace motherbulb

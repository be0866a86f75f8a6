// Every screen in every size and both themes, on the demo book: sizes and distances of what can be touched, nothing
// cut, and a picture of each in build/pictures for a person to look at.

#include "tests/screens/scenes.hpp"

namespace motherbulb {

using drive::check_scene;
using drive::Demo;
using drive::first_named;
using drive::Size;
using drive::sizes;
TEST_CASE("every screen of the demo in every size and theme is whole, and can be touched") {
  Demo demo;
  for (const Size& size : sizes) {
    for (const bool night : {false, true}) {
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      check_scene(driver, "start" + end);
      driver.tap("who");
      check_scene(driver, "who" + end);
      driver.tap("who:other");
      check_scene(driver, "who-other" + end);
      driver.tap("bar:unpot");
      check_scene(driver, "choose" + end);
      driver.tap("filter:bulbs");
      check_scene(driver, "choose-bulbs" + end);
      driver.tap("bar:pots");
      check_scene(driver, "pests" + end);
      driver.tap("bar:due");
      check_scene(driver, "rest" + end);
      driver.tap("bar:merge");
      check_scene(driver, "merge-waiting" + end);
      for (const char* link : {"outlook", "clones", "cutting", "labels"}) {
        driver.tap("bar:start");
        const std::string target = std::string("link:") + link;
        for (int i = 0; i < 30 && !(driver.has(target) && driver.target(target).whole); ++i) {
          driver.wheel({static_cast<float>(size.width) / 2, static_cast<float>(size.height) / 2}, -2);
        }
        driver.tap(target);
        check_scene(driver, link + end);
      }
    }
  }
}

TEST_CASE("unpot & count in every size and theme, from the empty pad to the kept slip") {
  for (const Size& size : sizes) {
    for (const bool night : {false, true}) {
      Demo demo;
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      driver.tap("quarter:unpot");
      driver.tap(first_named(driver, "batch:"));
      REQUIRE(driver.ui().screen == Screen::unpot);
      driver.tap("back");
      check_scene(driver, "choose-pot" + end);
      driver.tap(first_named(driver, "pot:"));
      REQUIRE(driver.ui().screen == Screen::unpot);
      check_scene(driver, "unpot-empty" + end);
      for (const char* key : {"pad:2", "pad:1", "pad:next", "pad:3", "pad:2", "pad:next", "pad:1"}) driver.tap(key);
      driver.tap("mother");
      driver.tap("dead:rot");
      check_scene(driver, "unpot-dead" + end);
      driver.tap("sections");
      driver.tap("section:2");
      driver.tap("section:together");
      check_scene(driver, "unpot-sections" + end);
      driver.tap("section:0");
      check_scene(driver, "unpot-why" + end);
      driver.tap("why:alive");
      driver.tap("dead:done");
      check_scene(driver, "unpot" + end);
      driver.tap("keep");
      if (driver.has("sure:yes")) driver.tap("sure:yes");
      REQUIRE(driver.ui().kept.has_value());
      check_scene(driver, "unpot-kept" + end);
    }
  }
}

TEST_CASE("the demo's day is merged in every size and theme") {
  for (const Size& size : sizes) {
    for (const bool night : {false, true}) {
      Demo demo;
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      REQUIRE(driver.ui().merge.waiting.size() == 2);
      driver.tap("bar:merge");
      driver.tap("merge");
      REQUIRE(driver.ui().merge.merged.size() == 2);
      check_scene(driver, "merge" + end);
      driver.wheel({static_cast<float>(size.width) * 0.8F, static_cast<float>(size.height) / 2}, -11);
      check_scene(driver, "merge-lower" + end);
      driver.tap("bar:start");
      check_scene(driver, "start-merged" + end);
    }
  }
}

TEST_CASE("a parcel as codes in every size and theme; what a camera reads is looked at in codes_test") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("house.book"), host);
  make::write_small_day(*book, host);
  for (int i = 0; i < 12; ++i) make::begin_batch(*book, "Tirna Red " + std::to_string(i * 7919), 1, 8);
  for (const Size& size : sizes) {
    for (const bool night : {false, true}) {
      drive::Driver driver(*book, host, drive::wish_of(size, night));
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      drive::find_and_tap(driver, "link:parcels");
      drive::find_and_tap(driver, "as codes");
      REQUIRE(driver.ui().screen == Screen::codes);
      driver.tap("codes:still");
      check_scene(driver, "codes" + end);
    }
  }
}

TEST_CASE("the theme changes by one tap, from the rail and from the start screen's head") {
  Demo demo;
  for (const Size& size : sizes) {
    drive::Wish wish;
    wish.width = size.width;
    wish.height = size.height;
    drive::Driver driver(*demo.book, demo.host, wish);
    const std::vector<std::uint8_t> day = driver.window->pixels();
    driver.tap("theme");
    CHECK(driver.ui().settings.night);
    CHECK(driver.window->pixels() != day);
    driver.tap("theme");
    CHECK_FALSE(driver.ui().settings.night);
    CHECK(driver.window->pixels() == day);
  }
}

TEST_CASE("an empty book says what is not there, on every screen") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("empty.book"), host);
  for (const Size& size : sizes) {
    drive::Wish wish;
    wish.width = size.width;
    wish.height = size.height;
    drive::Driver driver(*book, host, wish);
    const std::string end = "-" + size.text() + "-day";
    check_scene(driver, "empty-start" + end, true);
    for (const char* place : {"unpot", "pots", "due", "merge"}) {
      driver.tap(std::string("bar:") + place);
      check_scene(driver, std::string("empty-") + place + end, true);
    }
  }
}

namespace {

// The daily screens and the ways to the others, each from the start.
void look_round(drive::Driver& driver, const std::string& end) {
  check_scene(driver, "start" + end);
  for (const char* place : {"unpot", "pots", "due", "merge"}) {
    driver.tap(std::string("bar:") + place);
    check_scene(driver, place + end, true);
  }
  const float scale = driver.app->fonts().scale();
  const Point middle{static_cast<float>(driver.window->width_px()) / scale / 2,
                     static_cast<float>(driver.window->height_px()) / scale / 2};
  for (const char* link : {"clones", "cutting", "find", "parcels", "settings"}) {
    driver.tap("bar:start");
    const std::string target = std::string("link:") + link;
    for (int i = 0; i < 30 && !(driver.has(target) && driver.target(target).whole); ++i) driver.wheel(middle, -2);
    driver.tap(target);
    check_scene(driver, link + end, true);
  }
}

}  // namespace

TEST_CASE("with the text at twice its size every screen is whole, where the window has room for it") {
  Demo demo;
  drive::Wish wish;
  wish.width = 800;
  wish.height = 1280;
  wish.text_percent = 200;
  wish.helper = "Ines";
  {
    drive::Driver driver(*demo.book, demo.host, wish);
    CHECK(driver.app->fonts().scale() == doctest::Approx(2.0));
    look_round(driver, "-800x1280-text200");
  }
  // A laptop has room for a part of it: as much as leaves a whole screen.
  drive::Wish low = wish;
  low.width = 1280;
  low.height = 800;
  drive::Driver laptop(*demo.book, demo.host, low);
  CHECK(laptop.app->fonts().scale() > 1.2F);
  CHECK(laptop.app->fonts().scale() < 2.0F);
  look_round(laptop, "-1280x800-text200");
}

TEST_CASE("for the left hand the rail and the acts lie on the left") {
  Demo demo;
  drive::Wish wish;
  wish.left_hand = true;
  wish.helper = "Ines";
  drive::Driver driver(*demo.book, demo.host, wish);
  CHECK(driver.target("bar:start").rect.x > 1100);
  look_round(driver, "-1280x800-left");
  driver.tap("bar:unpot");
  driver.tap(first_named(driver, "batch:"));
  CHECK(driver.target("keep").rect.right() < 640);
  check_scene(driver, "unpot-1280x800-left");
}

TEST_CASE("on displays of two and three pixels a dp the screens are the same, and sharp") {
  Demo demo;
  for (const float scale : {2.0F, 3.0F}) {
    drive::Wish wish;
    wish.width = static_cast<int>(360 * scale);
    wish.height = static_cast<int>(520 * scale);
    wish.scale = scale;
    wish.helper = "Ines";
    drive::Driver driver(*demo.book, demo.host, wish);
    CHECK(driver.app->fonts().scale() == doctest::Approx(scale));
    const std::string end = "-360x520-at" + std::to_string(static_cast<int>(scale));
    check_scene(driver, "start" + end);
    driver.tap("bar:pots");
    check_scene(driver, "pots" + end);
  }
}

}  // namespace motherbulb

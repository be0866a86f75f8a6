// The first start in the real window: three questions, then the start screen of an empty book.

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

void reach(drive::Driver& driver, const std::string& name) {
  const float w = static_cast<float>(driver.window->width_px());
  const float h = static_cast<float>(driver.window->height_px());
  for (int i = 0; i < 40 && !(driver.has(name) && driver.target(name).whole); ++i) driver.wheel({w / 2, h / 2}, -2);
  driver.tap(name);
}

}  // namespace

TEST_CASE("an empty book and nobody remembered: three answers, and all of them hold") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("new.book"), host);
  drive::Driver driver(*book, host, {1280, 800, false, ""});
  REQUIRE(driver.ui().screen == Screen::first);
  driver.tap("letter:R");
  for (const char* key : {"letter:U", "letter:N", "letter:A"}) driver.tap(key);
  driver.tap("first:keep");
  CHECK(driver.ui().helper == "Runa");
  CHECK(driver.ui().screen == Screen::first);
  driver.tap("device:glasshouse");
  driver.tap("own letter:G");
  driver.tap("device:keep");
  CHECK(driver.ui().screen == Screen::first);
  REQUIRE(book->entry_count() == 1);
  CHECK(book->devices().front().name == "glasshouse");
  CHECK(book->device_letter() == "G");
  CHECK(book->story(BatchId{}).front().entry.helper == "Runa");
  driver.tap("first:south");
  CHECK(driver.ui().settings.south);
  CHECK(driver.ui().screen == Screen::start);
  // The start screen says what to do first.
  driver.tap("first:bulbs");
  CHECK(driver.ui().screen == Screen::cut);
  driver.tap("bar:start");
  driver.tap("first:merge");
  CHECK(driver.ui().screen == Screen::merge);
}

TEST_CASE("what can be asked later is left for later, and one can go back a question") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("new.book"), host);
  drive::Driver driver(*book, host, {800, 1280, false, ""});
  driver.tap("first:later");
  CHECK(driver.has("device:keep"));
  driver.tap("back");
  CHECK(driver.has("first:keep"));
  driver.tap("first:later");
  driver.tap("first:later");
  driver.tap("first:north");
  CHECK(driver.ui().screen == Screen::start);
  CHECK_FALSE(driver.ui().settings.south);
  CHECK(driver.ui().helper.empty());
  CHECK(book->entry_count() == 0);
}

TEST_CASE("a device named before anybody said who they are asks who, and loses nothing") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("new.book"), host);
  drive::Driver driver(*book, host, {800, 1280, false, ""});
  driver.tap("first:later");
  driver.tap("device:office");
  driver.tap("device:keep");
  REQUIRE(driver.ui().screen == Screen::who);
  driver.type("Bo");
  driver.tap("who:keep");
  CHECK(driver.ui().screen == Screen::first);
  REQUIRE(book->entry_count() == 1);
  CHECK(book->devices().front().name == "office");
  CHECK(driver.has("first:north"));
}

TEST_CASE("with entries, or with somebody remembered, nothing is asked") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("new.book"), host);
  {
    drive::Driver driver(*book, host, {1280, 800, false, "Runa"});
    CHECK(driver.ui().screen == Screen::start);
  }
  make::write_small_day(*book, host);
  drive::Driver driver(*book, host, {1280, 800, false, ""});
  CHECK(driver.ui().screen == Screen::start);
}

TEST_CASE("the first start and the empty start in every size and theme") {
  for (const drive::Size& size : drive::sizes) {
    for (const bool night : {false, true}) {
      make::Folder folder;
      FakeHost host;
      auto book = make::new_book(folder.file("new.book"), host);
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "";
      drive::Driver driver(*book, host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      drive::check_scene(driver, "first-who" + end);
      driver.type("Ines");
      reach(driver, "first:keep");
      drive::check_scene(driver, "first-device" + end);
      driver.tap("device:potting bench");
      reach(driver, "device:keep");
      drive::check_scene(driver, "first-house" + end);
      reach(driver, "first:north");
      drive::check_scene(driver, "empty-first" + end);
      if (size.width < 1000) {
        driver.wheel({static_cast<float>(size.width) / 2, static_cast<float>(size.height) / 2}, -40);
        drive::check_scene(driver, "empty-first-lower" + end);
      }
    }
  }
}

}  // namespace motherbulb

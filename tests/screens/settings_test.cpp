// Settings in the real window: what is chosen holds at once, what the device is called stands in the book.

#include "app/words.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

void reach(drive::Driver& driver, const std::string& name, float lines = -2) {
  const float w = static_cast<float>(driver.window->width_px());
  const float h = static_cast<float>(driver.window->height_px());
  for (int i = 0; i < 40 && !(driver.has(name) && driver.target(name).whole); ++i)
    driver.wheel({w * 0.6F, h / 2}, lines);
  driver.tap(name);
}

void open_settings(drive::Driver& driver) {
  reach(driver, "link:settings");
  REQUIRE(driver.ui().screen == Screen::settings);
}

}  // namespace

TEST_CASE("each setting changes by one tap, and the loop is told of it") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("house.book"), host);
  make::write_small_day(*book, host);
  drive::Driver driver(*book, host, {1440, 900});
  open_settings(driver);
  const std::int64_t entries = book->entry_count();
  driver.tap("house:south");
  CHECK(driver.ui().settings.south);
  driver.tap("theme:night");
  CHECK(driver.ui().settings.night);
  driver.tap("motion:all");
  CHECK_FALSE(driver.ui().settings.less_motion);
  const float right = driver.target("parcels").rect.x;
  driver.tap("hand:left");
  CHECK(driver.ui().settings.left_hand);
  CHECK(driver.target("parcels").rect.x < right);  // the acting hand's side
  driver.tap("hand:right");
  CHECK_FALSE(driver.ui().settings.left_hand);
  CHECK(book->entry_count() == entries);  // nothing of it is in the book
  driver.tap("parcels");
  CHECK(driver.ui().screen == Screen::parcels);
  driver.tap("back");
  driver.tap("helper");
  CHECK(driver.ui().screen == Screen::who);
  driver.tap("back");
  driver.tap("text:125");
  CHECK(driver.ui().settings.text_percent == 125);
  CHECK(driver.app->fonts().scale() == doctest::Approx(1.25));
}

TEST_CASE("the device's name and letter are an entry, its labels bear the letter, and Undo takes both back") {
  make::Folder folder, elsewhere;
  FakeHost host{1}, other_host{2};
  auto book = make::new_book(folder.file("house.book"), host, "A");
  auto other = make::new_book(elsewhere.file("other.book"), other_host, "C");
  make::tap(*other, BatchId{}, 0, DeviceNamed{"her phone", "C"}, "Marit");
  make::merge(*book, make::parcel(*other));
  make::write_small_day(*book, host);
  drive::Driver driver(*book, host, {800, 1280});
  open_settings(driver);
  const std::int64_t entries = book->entry_count();
  driver.tap("device");
  driver.tap("device:potting bench");
  driver.type(" 2");
  // C is another device's: refused in words, and not taken.
  reach(driver, "own letter:C");
  CHECK(driver.ui().house.letter_refused.find("her phone") != std::string::npos);
  CHECK(driver.ui().house.device_letter != "C");
  drive::check_scene(driver, "device-letter-refused-800x1280-day");
  reach(driver, "own letter:K");
  CHECK(driver.ui().house.letter_refused.empty());
  reach(driver, "device:keep");
  CHECK(book->entry_count() == entries + 1);
  CHECK(driver.ui().screen == Screen::settings);
  CHECK(book->device_letter() == "K");
  CHECK(book->next_label(2026).substr(0, 3) == "26K");
  bool found = false;
  for (const DeviceRow& device : book->devices()) {
    if (!device.self) continue;
    found = true;
    CHECK(device.name == "potting bench 2");
    CHECK(device.letter == "K");
  }
  CHECK(found);
  driver.tap("undo");
  CHECK(book->device_letter() == "A");
  for (const DeviceRow& device : book->devices()) {
    if (device.self) CHECK(device.name.empty());
  }
}

TEST_CASE("a window without room for the text wished for says so, and is whole") {
  drive::Demo demo;
  drive::Wish wish;
  wish.width = 800;
  wish.height = 1280;
  wish.helper = "Ines";
  drive::Driver driver(*demo.book, demo.host, wish);
  open_settings(driver);
  driver.tap("text:200");
  // 800 dp have room for all of 200 %: 400 dp by 640.
  bool said = false;
  const auto look = [&] {
    for (const Fonts::Written& one : driver.app->fonts().written())
      said = said || one.words.find("no room") != std::string::npos;
  };
  look();
  CHECK_FALSE(said);
  driver.resize(400, 740);
  for (int i = 0; i < 30 && !said; ++i) {
    driver.wheel({200, 400}, -1);
    look();
  }
  CHECK(said);
  drive::check_scene(driver, "settings-no-room-400x740-day");
}

TEST_CASE("settings in every size and theme") {
  drive::Demo demo;
  for (const drive::Size& size : drive::sizes) {
    for (const bool night : {false, true}) {
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      open_settings(driver);
      drive::check_scene(driver, "settings" + end);
      for (int part = 1; part < 5 && size.width < 1000; ++part) {
        driver.wheel({static_cast<float>(size.width) / 2, static_cast<float>(size.height) / 2}, -8);
        drive::check_scene(driver, "settings-lower" + std::to_string(part) + end);
        if (size.width > 400 && part == 1) break;
      }
      driver.wheel({static_cast<float>(size.width) / 2, static_cast<float>(size.height) / 2}, 100);
      driver.tap("device");
      drive::check_scene(driver, "device" + end);
      driver.wheel({static_cast<float>(size.width) / 2, static_cast<float>(size.height) / 2}, -60);
      if (size.width < 1000) drive::check_scene(driver, "device-lower" + end);
      driver.tap("back");
      CHECK(driver.ui().screen == Screen::settings);
    }
  }
}

}  // namespace motherbulb

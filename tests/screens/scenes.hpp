// What picture tests share: the four sizes, the demo book, and the look at one scene: all that can be touched is large
// enough and apart, nothing is cut off, and a picture of it lies in build/pictures for a person to look at.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "core/demo.hpp"
#include "tests/screens/drive.hpp"

namespace motherbulb::drive {

struct Size {
  int width, height;
  [[nodiscard]] std::string text() const { return std::to_string(width) + "x" + std::to_string(height); }
};
inline constexpr Size sizes[] = {{360, 740}, {800, 1280}, {1280, 800}, {1440, 900}};

// A window of that size in which Ines works.
inline Wish wish_of(const Size& size, bool night = false) {
  Wish wish;
  wish.width = size.width;
  wish.height = size.height;
  wish.night = night;
  wish.helper = "Ines";
  return wish;
}

// The demo is written once and copied for each test: what one test merges is still to be merged in the next.
struct Demo {
  make::Folder folder;
  FakeHost host{1, 1'794'476'400'000};  // 2026-11-12T09:00Z
  std::unique_ptr<Logbook> book;

  Demo() {
    static const make::Folder once;
    static const bool written = [] {
      FakeHost writing;
      make::must(write_demo(once.file("demo.book"), *day_from_civil({2026, 11, 12}), writing));
      return true;
    }();
    CHECK(written);
    for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(once.file("")))) {
      std::filesystem::copy(entry.path(), folder.file(entry.path().filename().string()));
    }
    book = make::open_book(folder.file("demo.book"), host);
  }
};

// A device that has no folders and no command line, as the page in a browser.
inline void be_a_page(Surroundings& around) {
  around.hand_over = [](const std::string&) {};
  around.pick_files = [] {};
  around.open_demo = [] {};
  around.places_to_write = [look = around.places_to_write] {
    std::vector<PlaceToWrite> places = look();
    places.resize(std::min<std::size_t>(places.size(), 1));
    for (PlaceToWrite& place : places) place.leaves = true;
    return places;
  };
}

// `sparse`: what there is fills no page (an empty book).
inline void check_scene(Driver& driver, const std::string& where, bool sparse = false) {
  driver.check_targets(where);
  for (const std::string& cut : driver.app->fonts().cut()) {
    CAPTURE(where);
    CHECK_MESSAGE(cut.empty(), "cut off: " << cut);
  }
  driver.picture(where);
  driver.check_picture(where, sparse);
}

// Turns the wheel at that part of the page's width: beside each other may stand two that scroll apart.
inline void wheel(Driver& driver, float lines, float across = 0.6F) {
  const float scale = driver.app->fonts().scale();
  driver.wheel({static_cast<float>(driver.window->width_px()) / scale * across,
                static_cast<float>(driver.window->height_px()) / scale * 0.6F},
               lines);
}

// Scrolls down, then up, until it is whole, and taps it.
inline void find_and_tap(Driver& driver, const std::string& name) {
  const auto seen = [&] { return driver.has(name) && driver.target(name).whole; };
  for (const float lines : {-2.0F, 1.0F}) {
    for (int i = 0; i < 80 && !seen(); ++i) {
      wheel(driver, lines, 0.4F);
      if (!seen()) wheel(driver, lines, 0.8F);
    }
  }
  driver.tap(name);
}

// The first control whose name begins so.
inline std::string first_named(const Driver& driver, const std::string& start) {
  for (const std::string& name : driver.names()) {
    if (name.rfind(start, 0) == 0 && driver.target(name).whole) return name;
  }
  FAIL("no control begins with " << start);
  return {};
}

}  // namespace motherbulb::drive

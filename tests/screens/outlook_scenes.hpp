// The ways to the screens that show the years ahead, in the real window.
#pragma once

#include <algorithm>
#include <string>

#include "tests/ahead_house.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb::ahead_scenes {

using drive::find_and_tap;

inline void open_list(drive::Driver& driver) {
  driver.tap("bar:start");
  find_and_tap(driver, "link:outlook");
  REQUIRE(driver.ui().screen == Screen::outlook);
}

inline void open_clone(drive::Driver& driver, const std::string& clone) {
  open_list(driver);
  find_and_tap(driver, "ahead:" + clone + ":Hippeastrum");
  REQUIRE(driver.ui().screen == Screen::clone_outlook);
}

inline bool says(const drive::Driver& driver, const std::string& words) {
  const auto written = driver.app->fonts().written();
  return std::any_of(written.begin(), written.end(), [&](const auto& one) { return one.words == words; });
}

inline void open_plan(drive::Driver& driver, const std::string& clone) {
  open_clone(driver, clone);
  find_and_tap(driver, "plan:limits");
  REQUIRE(driver.ui().screen == Screen::season_plan);
}

}  // namespace motherbulb::ahead_scenes

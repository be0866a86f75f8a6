// Drives the real window: a SdlWindow on the test's display, the real App and Session, a book on the disk, and
// SDL's own events pushed into SDL's queue. Controls are found by their names in the touch map, and pressed where they
// are.
#pragma once

#include <SDL.h>
#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "app/window.hpp"
#include "platform/desktop/nearby.hpp"
#include "platform/sdl_window.hpp"
#include "tests/make.hpp"

namespace motherbulb::drive {

// Where the build put fonts, and where pictures go.
inline std::string build_folder() {
  const char* given = std::getenv("MOTHERBULB_BUILD_DIR");
  return given != nullptr ? given : ".";
}

void write_picture(const std::string& name, const std::vector<std::uint8_t>& rgb, int width, int height);

std::unique_ptr<SdlWindow> open_window(int width, int height);

struct Wish {
  int width = 1280;
  int height = 800;
  bool night = false;
  std::string helper = "Runa";
  bool less_motion = true;  // pictures of what is, not of what is on its way
  bool left_hand = false;
  int text_percent = 100;
  float scale = 1;  // pixels a dp, as on a dense display; width and height are pixels
  // Changes what the app asks of the device, such as a camera that is none.
  std::function<void(Surroundings&)> around;
};

class Driver {
public:
  // Opens a window on the book; `host` gives the time of day.
  Driver(Logbook& book, Host& host, const Wish& wish = {});

  // Steps until no frame is due any more.
  void settle();
  // A mouse press and lift in the middle of a control. Fails the test where there is no such control, or it is not
  // enabled.
  void tap(const std::string& name);
  // The same with a finger.
  void touch(const std::string& name);
  void touch_at(Point at, SDL_FingerID finger = 1);
  void drag(Point from, Point to, int steps, int ms_each);
  void finger(Uint32 type, Point at, SDL_FingerID finger = 1);
  void key(SDL_Keycode key, Uint16 modifiers = 0);
  void type(const std::string& text);
  void wheel(Point at, float lines);
  void drop(const std::string& path);
  void resize(int width, int height);
  // Lets the window's own clock run on, without an event.
  void wait(int ms);

  [[nodiscard]] bool has(const std::string& name) const { return app->touch().find(name) != nullptr; }
  [[nodiscard]] Target target(const std::string& name) const;
  [[nodiscard]] std::vector<std::string> names() const;
  [[nodiscard]] const UiState& ui() const { return app->ui(); }
  [[nodiscard]] long frames() const { return session->frames_shown(); }
  // Writes what is shown to pictures/NAME.png in the build folder.
  void picture(const std::string& name);
  // Sizes and distances of all that can be touched: at least 56 dp (48 off the bench), 8 dp apart, inside the window;
  // and that each can be told in words.
  void check_targets(const std::string& where) const;
  // The picture shown, against what was written on it: contrast of at least 7:1 on the ground that is really there, no
  // text over another or out of its panel or window, no half of the page empty, no colour of the library's own.
  void check_picture(const std::string& where, bool half_may_be_empty = false);

  std::unique_ptr<SdlWindow> window;
  std::unique_ptr<App> app;
  std::unique_ptr<Session<SdlWindow>> session;
  bool open = true;

private:
  void push(SDL_Event event);
  void step();
};

}  // namespace motherbulb::drive

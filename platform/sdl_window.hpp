// A window on the desktop: what happens to it, and pixels on it. Knows nothing of what is drawn.
//
// Promises: a finger is a finger and a mouse a mouse, neither is ever turned into the other; nothing is drawn unless
// asked; while nothing happens, wait() sleeps. Places are pixels of the drawing surface. Works without a graphics
// processor. One window a process.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "shared/result.hpp"

namespace motherbulb {

struct WindowWish {
  std::string title;
  int width = 1280;
  int height = 800;
};

enum class WindowKey { none, enter, escape, backspace, tab, back_tab, up, down, page_up, page_down };

struct WindowInput {
  enum class Kind { press, move, release, cancel, wheel, key, text, drop, redraw, quit } kind = Kind::redraw;
  std::int64_t pointer = 0;  // 0 the mouse, else a finger
  float x = 0, y = 0;
  double time_ms = 0;  // of the same clock as now_ms
  float wheel = 0;     // lines, up is positive
  WindowKey key = WindowKey::none;
  std::string text;  // what was typed; of a drop: the file
};

class SdlWindow {
public:
  // Fails, in words, where there is no display.
  static Result<std::unique_ptr<SdlWindow>> open(const WindowWish& wish);
  ~SdlWindow();

  // Waits until something happens, at most `most_ms` (negative: without end), and hands over all that has happened.
  std::vector<WindowInput> wait(int most_ms);
  [[nodiscard]] double now_ms() const;
  [[nodiscard]] int width_px() const;
  [[nodiscard]] int height_px() const;
  // Pixels of the surface for each point of the desktop: 1, or more on a dense display.
  [[nodiscard]] float density() const;

  // A frame: begin, draw through the library, then either show it or drop it.
  void begin_frame();
  void show_frame(std::uint32_t ground);
  void drop_frame();
  // After the font atlas has been built anew.
  void fonts_changed();

  // Of the frame shown last: width * height * 3 bytes, red, green, blue, from the top.
  [[nodiscard]] std::vector<std::uint8_t> pixels() const;
  [[nodiscard]] std::string painter_name() const;
  // The folder in which the program itself lies, with a slash at its end; assets/ is in it.
  [[nodiscard]] static std::string program_folder();
  void resize(int width, int height);

private:
  struct Inside;
  explicit SdlWindow(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace motherbulb

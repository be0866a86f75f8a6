// Draws in dp with one theme and one set of fonts, and lists what can be touched. Every widget and screen draws
// through it; it holds nothing between frames.
// Text stands on whole pixels; a text that does not fit is cut with an ellipsis at the start of a character.
#pragma once

#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "app/fonts.hpp"
#include "app/geometry.hpp"
#include "app/motion.hpp"
#include "app/theme.hpp"
#include "app/touch_map.hpp"

struct ImDrawList;

namespace motherbulb {

enum class Align { left, middle, right };
// Where the stake point of a label is.
enum class Stake { none, right, down, left };

// Depth of a stake point for a label of this height (or width, where it points down).
[[nodiscard]] constexpr float stake_depth(float height) {
  return 0.34F * height;
}

class Pen {
public:
  Pen(ImDrawList& list, const Theme& theme_to_use, Fonts& fonts, TouchMap& touch_map, Motion& motion_to_use)
      : theme(theme_to_use),
        touch(touch_map),
        motion(motion_to_use),
        list_(list),
        fonts_(fonts),
        scale_(fonts.scale()) {}

  const Theme& theme;
  TouchMap& touch;
  Motion& motion;

  // Shapes. A frame's stroke lies inside its rectangle.
  void fill(Rect rect, Color color, float radius = 0);
  // A strip of an area that is drawn pixel by pixel: as `fill`, but no ground that words stand on.
  void fill_column(Rect rect, Color color);
  void frame(Rect rect, Color color, float thickness = 2, float radius = 6);
  void dashed_line(Point from, Point to, Color color, float thickness, float dash = 8, float gap = 5);
  void line(Point from, Point to, Color color, float thickness = 2);
  void path(const std::vector<Point>& points, Color color, float thickness, bool closed = false);
  void disc(Point middle, float radius, Color color);
  void ring(Point middle, float radius, Color color, float thickness = 2);
  // Angles in radians, clockwise from the right.
  void arc(Point middle, float radius, float from, float to, Color color, float thickness);
  void dashed_ring(Point middle, float radius, Color color, float thickness, int dashes);
  void fill_convex(const std::vector<Point>& points, Color color);
  // Any simple outline: triangles without fringes, then a thin line of the same colour round it.
  void fill_outline(const std::vector<Point>& points, Color color);
  // Slanting lines inside a convex outline.
  void hatch(const std::vector<Point>& convex, Color color, float thickness = 2, float apart = 6);
  // A label: rounded stock with a point where it leads.
  void label(Rect rect, Stake stake, Color stock, Color outline, float thickness = 2, float radius = 6);

  // Text. `at` is the start, middle or end of its baseline. Returns its width.
  float text(Type type, Point at, Color color, std::string_view words, Align align = Align::left);
  // Centred down the rectangle by the height of capitals, cut to its width.
  float text_in(Rect rect, Type type, Color color, std::string_view words, Align align = Align::left);
  // Broken into lines of even width, at most `most_lines`. Returns the height used: lines * 1.4 * dp.
  float paragraph(Rect rect, Type type, Color color, std::string_view words, int most_lines = 99,
                  Align align = Align::left);
  [[nodiscard]] float paragraph_height(float width, Type type, std::string_view words, int most_lines = 99);
  [[nodiscard]] float width(Type type, std::string_view words);
  [[nodiscard]] float cap(Type type) const;
  [[nodiscard]] std::string fitted(Type type, std::string_view words, float width);
  // The first of `types` in which the words fit, else the last.
  [[nodiscard]] Type fitting(std::initializer_list<Type> types, std::string_view words, float width);

  void begin_clip(Rect rect);
  void end_clip();
  // A panel that scrolls, both for the eye and for the finger. Returns the place of its content's top.
  float begin_scroll(std::string_view name, Rect area, float content_height);
  void end_scroll(std::string_view name);

  [[nodiscard]] float scale() const { return scale_; }
  // Texts written in this frame, where the fonts keep a log.
  // Somebody is told what is drawn (Fonts::keep_log).
  [[nodiscard]] bool is_told() const { return fonts_.keeps_log(); }
  [[nodiscard]] std::size_t texts_so_far() const { return fonts_.written().size(); }

private:
  std::vector<std::string> lines_of(float width, Type type, std::string_view words, int most_lines);

  ImDrawList& list_;
  Fonts& fonts_;
  float scale_;
};

// An outline from a start and cubic curves (two handles and an end each), flattened.
[[nodiscard]] std::vector<Point> curve(Point start, const std::vector<Point>& handles_and_ends, int steps = 14);

}  // namespace motherbulb

// The box of 24 in which every icon is drawn, by strokes of one width. For the widgets that draw icons.
#pragma once

#include <algorithm>
#include <initializer_list>
#include <vector>

#include "app/pen.hpp"

namespace motherbulb {

// The box of 24 on the screen.
struct IconBox {
  Pen& pen;
  Point corner;
  float unit;
  Color color;
  float stroke;

  static constexpr float radians = 3.14159265F / 180;  // of a degree

  [[nodiscard]] Point at(float x, float y) const { return {corner.x + x * unit, corner.y + y * unit}; }
  [[nodiscard]] std::vector<Point> all(std::initializer_list<Point> points) const {
    std::vector<Point> placed;
    for (const Point p : points) placed.push_back(at(p.x, p.y));
    return placed;
  }
  void open(std::initializer_list<Point> points) const { pen.path(all(points), color, stroke); }
  void closed(std::initializer_list<Point> points) const { pen.path(all(points), color, stroke, true); }
  void bend(Point start, std::initializer_list<Point> handles) const {
    pen.path(curve(at(start.x, start.y), all(handles)), color, stroke);
  }
  void ring(float x, float y, float r) const { pen.ring(at(x, y), r * unit, color, stroke); }
  void dot(float x, float y, float r) const { pen.disc(at(x, y), r * unit, color); }
  void arc(float x, float y, float r, float from, float to) const {
    pen.arc(at(x, y), r * unit, from * radians, to * radians, color, stroke);
  }
};

// The box of an icon of this size round its middle.
[[nodiscard]] inline IconBox icon_box(Pen& pen, Point middle, float size, Color color) {
  const float unit = size / 24;
  return {pen, {middle.x - size / 2, middle.y - size / 2}, unit, color, std::clamp(2.4F * unit, 1.6F, 3.0F)};
}

}  // namespace motherbulb

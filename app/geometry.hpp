// Places on a screen, in dp (device-independent points). One dp is `scale` pixels; only Pen knows the scale.
#pragma once

namespace motherbulb {

struct Point {
  float x = 0;
  float y = 0;
};

inline Point operator+(Point a, Point b) {
  return {a.x + b.x, a.y + b.y};
}
inline Point operator-(Point a, Point b) {
  return {a.x - b.x, a.y - b.y};
}
inline Point operator*(Point a, float factor) {
  return {a.x * factor, a.y * factor};
}

struct Rect {
  float x = 0;
  float y = 0;
  float w = 0;
  float h = 0;

  [[nodiscard]] float right() const { return x + w; }
  [[nodiscard]] float bottom() const { return y + h; }
  [[nodiscard]] Point middle() const { return {x + w / 2, y + h / 2}; }
  [[nodiscard]] bool empty() const { return w <= 0 || h <= 0; }
  [[nodiscard]] bool contains(Point p) const { return p.x >= x && p.x < right() && p.y >= y && p.y < bottom(); }
  [[nodiscard]] Rect inset(float across, float down) const {
    return {x + across, y + down, w - 2 * across, h - 2 * down};
  }
  [[nodiscard]] Rect inset(float all) const { return inset(all, all); }
  [[nodiscard]] Rect moved(float across, float down) const { return {x + across, y + down, w, h}; }

  // Cuts a strip off one side and returns it; this rectangle keeps the rest, `gap` further on.
  Rect take_top(float height, float gap = 0) {
    const Rect taken{x, y, w, height};
    y += height + gap;
    h -= height + gap;
    return taken;
  }
  Rect take_bottom(float height, float gap = 0) {
    const Rect taken{x, bottom() - height, w, height};
    h -= height + gap;
    return taken;
  }
  Rect take_left(float width, float gap = 0) {
    const Rect taken{x, y, width, h};
    x += width + gap;
    w -= width + gap;
    return taken;
  }
  Rect take_right(float width, float gap = 0) {
    const Rect taken{right() - width, y, width, h};
    w -= width + gap;
    return taken;
  }
};

[[nodiscard]] inline Rect intersection(const Rect& a, const Rect& b) {
  const float left = a.x > b.x ? a.x : b.x;
  const float top = a.y > b.y ? a.y : b.y;
  const float right = a.right() < b.right() ? a.right() : b.right();
  const float bottom = a.bottom() < b.bottom() ? a.bottom() : b.bottom();
  if (right <= left || bottom <= top) return {left, top, 0, 0};
  return {left, top, right - left, bottom - top};
}

}  // namespace motherbulb

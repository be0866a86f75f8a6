#include "app/pen.hpp"

#define IMGUI_DEFINE_MATH_OPERATORS
#include <imgui.h>
#include <imgui_internal.h>

#include <algorithm>
#include <cmath>

namespace motherbulb {
namespace {

constexpr float pi = 3.14159265F;
constexpr float deepest_down = 20;  // of a point that looks down from a wide label

int arc_segments(float radius_px, float angle) {
  return std::max(8, static_cast<int>(std::ceil(radius_px * std::abs(angle) / 3)));
}

// One line as the library can draw it: no control characters.
std::string one_line(std::string_view words) {
  std::string plain(words);
  for (char& c : plain) {
    if (static_cast<unsigned char>(c) < 0x20 || c == 0x7F) c = ' ';
  }
  return plain;
}

bool starts_character(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
}

float cross(Point a, Point b, Point c) {
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

}  // namespace

void Pen::fill(Rect r, Color color, float radius) {
  if (r.empty()) return;
  if (fonts_.keeps_log()) fonts_.note_panel(r);
  list_.AddRectFilled({std::round(r.x * scale_), std::round(r.y * scale_)},
                      {std::round(r.right() * scale_), std::round(r.bottom() * scale_)}, color, radius * scale_);
}

void Pen::fill_column(Rect r, Color color) {
  if (r.empty()) return;
  list_.AddRectFilled({std::round(r.x * scale_), std::round(r.y * scale_)},
                      {std::round(r.right() * scale_), std::round(r.bottom() * scale_)}, color);
}

void Pen::frame(Rect r, Color color, float thickness, float radius) {
  if (r.empty()) return;
  const float half = thickness * scale_ / 2;
  // AddRect moves its corners by half a pixel inwards; undo that so the stroke fills whole pixels.
  list_.AddRect({std::round(r.x * scale_) + half - 0.5F, std::round(r.y * scale_) + half - 0.5F},
                {std::round(r.right() * scale_) - half + 0.5F, std::round(r.bottom() * scale_) - half + 0.5F}, color,
                std::max(0.0F, radius * scale_ - half), 0, thickness * scale_);
}

void Pen::line(Point a, Point b, Color color, float thickness) {
  list_.PathLineTo({a.x * scale_, a.y * scale_});
  list_.PathLineTo({b.x * scale_, b.y * scale_});
  list_.PathStroke(color, 0, thickness * scale_);
}

void Pen::dashed_line(Point a, Point b, Color color, float thickness, float dash, float gap) {
  const float length = std::hypot(b.x - a.x, b.y - a.y);
  if (length <= 0) return;
  const Point step{(b.x - a.x) / length, (b.y - a.y) / length};
  for (float at = 0; at < length; at += dash + gap) {
    line(a + step * at, a + step * std::min(length, at + dash), color, thickness);
  }
}

void Pen::path(const std::vector<Point>& points, Color color, float thickness, bool closed) {
  for (const Point p : points) list_.PathLineTo({p.x * scale_, p.y * scale_});
  list_.PathStroke(color, closed ? ImDrawFlags_Closed : 0, thickness * scale_);
}

void Pen::disc(Point m, float radius, Color color) {
  const float r = radius * scale_;
  list_.AddCircleFilled({m.x * scale_, m.y * scale_}, r, color, arc_segments(r, 2 * pi));
}

void Pen::ring(Point m, float radius, Color color, float thickness) {
  const float r = radius * scale_;
  list_.AddCircle({m.x * scale_, m.y * scale_}, r, color, arc_segments(r, 2 * pi), thickness * scale_);
}

void Pen::arc(Point m, float radius, float from, float to, Color color, float thickness) {
  const float r = radius * scale_;
  list_.PathArcTo({m.x * scale_, m.y * scale_}, r, from, to, arc_segments(r, to - from));
  list_.PathStroke(color, 0, thickness * scale_);
}

void Pen::dashed_ring(Point m, float radius, Color color, float thickness, int dashes) {
  const float turn = 2 * pi / static_cast<float>(dashes);
  for (int i = 0; i < dashes; ++i) {
    const float from = static_cast<float>(i) * turn;
    arc(m, radius, from, from + turn * 0.58F, color, thickness);
  }
}

void Pen::fill_convex(const std::vector<Point>& points, Color color) {
  for (const Point p : points) list_.PathLineTo({p.x * scale_, p.y * scale_});
  list_.PathFillConvex(color);
}

void Pen::fill_outline(const std::vector<Point>& outline, Color color) {
  // Ear clipping: fine for the few dozen corners of a drawing.
  std::vector<Point> points = outline;
  float area = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const Point a = points[i];
    const Point b = points[(i + 1) % points.size()];
    area += a.x * b.y - b.x * a.y;
  }
  if (area < 0) std::reverse(points.begin(), points.end());
  const ImDrawListFlags kept = list_.Flags;
  list_.Flags &= ~ImDrawListFlags_AntiAliasedFill;
  std::size_t tries = 0;
  std::size_t i = 0;
  while (points.size() > 2 && tries <= points.size()) {
    const std::size_t n = points.size();
    const Point a = points[(i + n - 1) % n];
    const Point b = points[i % n];
    const Point c = points[(i + 1) % n];
    bool ear = cross(a, b, c) > 0;
    for (std::size_t k = 0; ear && k + 3 < n + 0; ++k) {
      const Point p = points[(i + 2 + k) % n];
      if (cross(a, b, p) > 0 && cross(b, c, p) > 0 && cross(c, a, p) > 0) ear = false;
    }
    if (ear || cross(a, b, c) == 0) {
      list_.AddTriangleFilled({a.x * scale_, a.y * scale_}, {b.x * scale_, b.y * scale_}, {c.x * scale_, c.y * scale_},
                              color);
      points.erase(points.begin() + static_cast<std::ptrdiff_t>(i % n));
      tries = 0;
      i = i % n;
      if (i >= points.size()) i = 0;
    } else {
      i = (i + 1) % n;
      ++tries;
    }
  }
  list_.Flags = kept;
  path(outline, color, 1.0F / scale_ + 0.2F, true);
}

void Pen::hatch(const std::vector<Point>& convex, Color color, float thickness, float apart) {
  if (convex.size() < 3) return;
  float area = 0;
  float lowest = 1e9F;
  float highest = -1e9F;
  for (std::size_t i = 0; i < convex.size(); ++i) {
    const Point a = convex[i];
    const Point b = convex[(i + 1) % convex.size()];
    area += a.x * b.y - b.x * a.y;
    lowest = std::min(lowest, a.x - a.y);
    highest = std::max(highest, a.x - a.y);
  }
  const float sign = area < 0 ? -1.0F : 1.0F;
  // Lines x - y = c, cut by each edge in turn. Stepping from a fixed grid keeps neighbours in step.
  const float step = apart * 1.41421356F;
  for (float c = std::ceil(lowest / step) * step; c < highest; c += step) {
    float from = -1e6F;
    float to = 1e6F;
    bool outside = false;
    for (std::size_t i = 0; i < convex.size() && !outside; ++i) {
      const Point a = convex[i];
      const Point b = convex[(i + 1) % convex.size()];
      const Point normal{-(b.y - a.y) * sign, (b.x - a.x) * sign};
      // The point (c + t, t): inside where normal . (point - a) >= 0.
      const float at_zero = normal.x * (c - a.x) + normal.y * (0 - a.y);
      const float slope = normal.x + normal.y;
      if (std::abs(slope) < 1e-6F) {
        outside = at_zero < 0;
      } else if (slope > 0) {
        from = std::max(from, -at_zero / slope);
      } else {
        to = std::min(to, -at_zero / slope);
      }
    }
    if (!outside && to - from > 0.5F) line({c + from, from}, {c + to, to}, color, thickness);
  }
}

void Pen::label(Rect r, Stake stake, Color stock, Color outline, float thickness, float radius) {
  if (fonts_.keeps_log()) fonts_.note_panel(r);
  const auto trace = [&](float in) {
    const float k = scale_;
    const float left = std::round(r.x * k) + in;
    const float top = std::round(r.y * k) + in;
    const float right = std::round(r.right() * k) - in;
    const float bottom = std::round(r.bottom() * k) - in;
    const float round = std::max(0.0F, radius * k - in);
    const auto corner = [&](float x, float y, int from) { list_.PathArcToFast({x, y}, round, from, from + 3); };
    if (stake == Stake::right) {
      const float depth = stake_depth(r.h) * k;
      corner(left + round, top + round, 6);
      list_.PathLineTo({right - depth, top});
      list_.PathLineTo({right, (top + bottom) / 2});
      list_.PathLineTo({right - depth, bottom});
      corner(left + round, bottom - round, 3);
    } else if (stake == Stake::left) {
      const float depth = stake_depth(r.h) * k;
      corner(right - round, top + round, 9);
      corner(right - round, bottom - round, 0);
      list_.PathLineTo({left + depth, bottom});
      list_.PathLineTo({left, (top + bottom) / 2});
      list_.PathLineTo({left + depth, top});
    } else if (stake == Stake::down) {
      const float depth = std::min({stake_depth(r.h), r.w * 0.17F, deepest_down}) * k;
      corner(left + round, top + round, 6);
      corner(right - round, top + round, 9);
      list_.PathLineTo({right, bottom - depth});
      list_.PathLineTo({(left + right) / 2, bottom});
      list_.PathLineTo({left, bottom - depth});
    } else {
      corner(left + round, top + round, 6);
      corner(right - round, top + round, 9);
      corner(right - round, bottom - round, 0);
      corner(left + round, bottom - round, 3);
    }
  };
  trace(thickness > 0 ? thickness * scale_ * 0.25F : 0.0F);
  list_.PathFillConvex(stock);
  if (thickness > 0) {
    trace(thickness * scale_ / 2);
    list_.PathStroke(outline, ImDrawFlags_Closed, thickness * scale_);
  }
}

float Pen::width(Type type, std::string_view words) {
  fonts_.want(words);
  const ImFont* font = fonts_.get(type);
  const std::string plain = one_line(words);
  return font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, plain.data(), plain.data() + plain.size()).x / scale_;
}

float Pen::cap(Type type) const {
  return fonts_.cap(type) / scale_;
}

float Pen::text(Type type, Point at, Color color, std::string_view words, Align align) {
  fonts_.want(words);
  const ImFont* font = fonts_.get(type);
  const std::string plain = one_line(words);
  const char* end = plain.data() + plain.size();
  const float wide = font->CalcTextSizeA(font->FontSize, FLT_MAX, 0, plain.data(), end).x;
  float x = at.x * scale_;
  if (align == Align::middle) x -= wide / 2;
  if (align == Align::right) x -= wide;
  const ImVec2 where{std::round(x), std::round(at.y * scale_) - font->Ascent};
  list_.AddText(font, font->FontSize, where, color, plain.data(), end);
  if (fonts_.keeps_log() && !plain.empty()) {
    const float cap_height = fonts_.cap(type);
    const ImVec2 low = list_.GetClipRectMin();
    const ImVec2 high = list_.GetClipRectMax();
    fonts_.note_written({{where.x / scale_, std::round(at.y * scale_) / scale_ - cap_height / scale_, wide / scale_,
                          cap_height / scale_},
                         {low.x / scale_, low.y / scale_, (high.x - low.x) / scale_, (high.y - low.y) / scale_},
                         {},
                         color,
                         plain});
  }
  return wide / scale_;
}

std::string Pen::fitted(Type type, std::string_view words, float wide) {
  // Nobody's screen holds more than this; a name of 10,000 characters costs no more than one of 300.
  constexpr std::size_t most_bytes = 400;
  std::string cut = one_line(words.substr(0, most_bytes));
  if (words.size() <= most_bytes && width(type, cut) <= wide + 0.5F) return cut;
  fonts_.note_cut(words);
  while (!cut.empty()) {
    std::size_t last = cut.size() - 1;
    while (last > 0 && !starts_character(cut[last])) --last;
    cut.resize(last);
    while (!cut.empty() && cut.back() == ' ') cut.pop_back();
    if (width(type, cut + "…") <= wide) return cut + "…";
  }
  return cut;
}

Type Pen::fitting(std::initializer_list<Type> types, std::string_view words, float wide) {
  for (const Type type : types) {
    if (width(type, words) <= wide) return type;
  }
  return *(types.end() - 1);
}

float Pen::text_in(Rect r, Type type, Color color, std::string_view words, Align align) {
  const std::string shown = fitted(type, words, r.w);
  const float baseline = r.y + (r.h + cap(type)) / 2;
  float x = r.x;
  if (align == Align::middle) x = r.x + r.w / 2;
  if (align == Align::right) x = r.right();
  return text(type, {x, baseline}, color, shown, align);
}

std::vector<std::string> Pen::lines_of(float wide, Type type, std::string_view words, int most_lines) {
  std::vector<std::string> pieces;
  std::string word;
  for (const char c : one_line(words.substr(0, 2000))) {
    if (c != ' ') {
      word += c;
    } else if (!word.empty()) {
      pieces.push_back(std::move(word));
      word.clear();
    }
  }
  if (!word.empty()) pieces.push_back(std::move(word));

  const auto broken_at = [&](float limit) {
    std::vector<std::string> lines;
    for (const std::string& piece : pieces) {
      if (!lines.empty() && width(type, lines.back() + " " + piece) <= limit) {
        lines.back() += " " + piece;
      } else {
        lines.push_back(piece);
      }
    }
    return lines;
  };
  std::vector<std::string> lines = broken_at(wide);
  // Even the lines out: the narrowest measure that needs no more of them.
  if (lines.size() > 1 && static_cast<int>(lines.size()) <= most_lines) {
    float narrow = wide * 0.5F;
    float broad = wide;
    for (int i = 0; i < 6; ++i) {
      const float middle = (narrow + broad) / 2;
      const std::vector<std::string> tried = broken_at(middle);
      const bool fits =
          tried.size() <= lines.size() &&
          std::all_of(tried.begin(), tried.end(), [&](const std::string& l) { return width(type, l) <= middle; });
      (fits ? broad : narrow) = middle;
    }
    lines = broken_at(broad);
  }
  if (static_cast<int>(lines.size()) > most_lines) {
    for (std::size_t i = static_cast<std::size_t>(most_lines); i < lines.size(); ++i)
      lines[static_cast<std::size_t>(most_lines) - 1] += " " + lines[i];
    lines.resize(static_cast<std::size_t>(most_lines));
  }
  for (std::string& one : lines) one = fitted(type, one, wide);
  return lines;
}

float Pen::paragraph(Rect r, Type type, Color color, std::string_view words, int most_lines, Align align) {
  const float line_height = type_dp(type) * 1.4F;
  const std::vector<std::string> lines = lines_of(r.w, type, words, most_lines);
  float y = r.y + line_height / 2 + cap(type) / 2;
  float x = r.x;
  if (align == Align::middle) x = r.x + r.w / 2;
  if (align == Align::right) x = r.right();
  for (const std::string& one : lines) {
    text(type, {x, y}, color, one, align);
    y += line_height;
  }
  return line_height * static_cast<float>(lines.size());
}

float Pen::paragraph_height(float wide, Type type, std::string_view words, int most_lines) {
  return type_dp(type) * 1.4F * static_cast<float>(lines_of(wide, type, words, most_lines).size());
}

void Pen::begin_clip(Rect r) {
  list_.PushClipRect({std::round(r.x * scale_), std::round(r.y * scale_)},
                     {std::round(r.right() * scale_), std::round(r.bottom() * scale_)}, true);
}

void Pen::end_clip() {
  list_.PopClipRect();
}

float Pen::begin_scroll(std::string_view name, Rect area, float content_height) {
  begin_clip(area);
  return area.y - touch.begin_scroll(name, area, content_height);
}

void Pen::end_scroll(std::string_view) {
  touch.end_scroll();
  end_clip();
}

std::vector<Point> curve(Point start, const std::vector<Point>& marks, int steps) {
  std::vector<Point> points{start};
  for (std::size_t i = 0; i + 2 < marks.size() + 0; i += 3) {
    const Point from = points.back();
    for (int s = 1; s <= steps; ++s) {
      const float t = static_cast<float>(s) / static_cast<float>(steps);
      const float u = 1 - t;
      points.push_back(from * (u * u * u) + marks[i] * (3 * u * u * t) + marks[i + 1] * (3 * u * t * t) +
                       marks[i + 2] * (t * t * t));
    }
  }
  return points;
}

}  // namespace motherbulb

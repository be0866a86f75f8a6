#include "app/widgets/start_bulb.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "app/widgets/icons.hpp"
#include "app/widgets/labels.hpp"

namespace motherbulb {
namespace {

constexpr float pi = 3.14159265F;
constexpr float cut = 10;

std::vector<Point> superellipse(Point m, float a, float b, float exponent) {
  std::vector<Point> outline;
  const int steps = 160;
  for (int i = 0; i < steps; ++i) {
    const float angle = 2 * pi * static_cast<float>(i) / steps;
    const float c = std::cos(angle);
    const float s = std::sin(angle);
    const float x = std::pow(std::abs(c), 2 / exponent);
    const float y = std::pow(std::abs(s), 2 / exponent);
    outline.push_back({m.x + (c < 0 ? -a : a) * x, m.y + (s < 0 ? -b : b) * y});
  }
  return outline;
}

// --- the four drawings, each in a box of 100 by 90 round `m`, `u` dp a unit

void small_bulb(Pen& pen, Point m, float h, Color paper, Color line, float stroke) {
  const std::vector<Point> outline = bulb_outline(m, h);
  pen.fill_outline(outline, paper);
  for (const float side : {-0.2F, 0.0F, 0.2F}) {
    pen.path(curve({m.x + side * h * 0.3F, m.y - h * 0.28F}, {{m.x + side * h * 1.1F, m.y},
                                                              {m.x + side * h * 1.1F, m.y + h * 0.25F},
                                                              {m.x + side * h * 0.3F, m.y + h * 0.46F}}),
             line, stroke * 0.65F);
  }
  pen.path(outline, line, stroke, true);
}

void draw_unpot(Pen& pen, Point m, float u) {
  const Theme& t = pen.theme;
  const Color pot = t.copper_fill;
  const auto at = [&](float x, float y) { return Point{m.x + x * u, m.y + y * u}; };
  pen.fill_convex({at(-50, -22), at(-30, -46), at(-2, -32), at(-14, 4)}, pot);
  pen.fill_convex({at(4, -34), at(13, -25), at(-12, 8), at(-22, 0)}, mix(pot, t.ink, t.night ? 0.0F : 0.28F));
  if (t.night) pen.fill_convex({at(4, -34), at(13, -25), at(-12, 8), at(-22, 0)}, mix(pot, t.pane, 0.28F));
  const Color paper = t.night ? t.sheet : mix(t.sheet, t.tunic, 0.1F);
  small_bulb(pen, at(15, 7), 60 * u, paper, t.tunic, 2.6F);
  small_bulb(pen, at(-20, 24), 30 * u, paper, t.tunic, 2);
  small_bulb(pen, at(48, 24), 30 * u, paper, t.tunic, 2);
  for (const float x : {-10.0F, -4.0F, 4.0F, 10.0F})
    pen.line(at(15 + x * 0.4F, 37), at(15 + x * 1.4F, 45), t.tunic, 1.8F);
}

void draw_pests(Pen& pen, Point m, float u) {
  const Theme& t = pen.theme;
  const auto at = [&](float x, float y) { return Point{m.x + x * u, m.y + y * u}; };
  pen.fill_outline(curve(at(-44, 42), {at(-46, -8), at(-8, -40), at(36, -42), at(40, 8), at(4, 38), at(-44, 42)}),
                   t.leaf_fill);
  pen.line(at(-40, 38), at(26, -28), t.night ? t.pane : t.sheet, 2.6F);
  const Color hole = t.night ? t.pane : t.sheet;
  pen.disc(at(4, -26), 5 * u, hole);
  pen.disc(at(-18, -12), 6.5F * u, hole);
  pen.disc(at(18, 0), 7 * u, hole);
  pen.disc(at(-8, 14), 4.5F * u, hole);
  std::vector<Point> slug = curve(at(-2, 46), {at(10, 44), at(10, 28), at(24, 28), at(34, 28), at(32, 18), at(40, 20),
                                               at(50, 24), at(48, 46), at(36, 46)});
  pen.fill_outline(slug, t.copper_fill);
  pen.line(at(38, 22), at(35, 10), t.copper_fill, 2.6F);
  pen.line(at(43, 22), at(48, 11), t.copper_fill, 2.6F);
  pen.disc(at(35, 9), 2.6F * u, t.copper_fill);
  pen.disc(at(48, 10), 2.6F * u, t.copper_fill);
}

void draw_rest(Pen& pen, Point m, float u, bool straw) {
  const Theme& t = pen.theme;
  const auto at = [&](float x, float y) { return Point{m.x + x * u, m.y + y * u}; };
  const Color line = straw ? t.on_straw : t.ink;
  const Color paper = straw ? mix(t.straw, rgb(0xFFFFFF), 0.72F) : t.sheet;
  const Color neck = mix(t.straw, t.night ? t.pane : t.ink, 0.45F);
  pen.line(at(-18, -42), at(-13, -26), neck, 7 * u);
  pen.line(at(-10, -45), at(-10, -26), neck, 7 * u);
  pen.line(at(0, -42), at(-6, -26), neck, 7 * u);
  small_bulb(pen, at(-10, 6), 72 * u, paper, line, 3);
  pen.line(at(-50, 42), at(46, 42), line, 4);
  pen.fill_convex({at(22, -34), at(42, -34), at(42, 32), at(32, 48), at(22, 32)}, paper);
  pen.path({at(22, -34), at(42, -34), at(42, 32), at(32, 48), at(22, 32)}, line, 2.6F, true);
  for (const float y : {-22.0F, -12.0F, -2.0F}) pen.line(at(27, y), at(y < -5 ? 37.0F : 34.0F, y), line, 2.4F);
}

void draw_strands(Pen& pen, Point m, float u, bool straw) {
  const Theme& t = pen.theme;
  const auto at = [&](float x, float y) { return Point{m.x + x * u, m.y + y * u}; };
  const auto strand = [&](float from, float to, Color color) {
    pen.path(curve(at(from, -44), {at(from, -12), at(to, -14), at(to, 20)}), color, 17 * u);
  };
  strand(-34, -14, straw && t.night ? rgb(0x8A1F4C) : t.tunic);
  strand(34, 14, t.slate_fill);
  strand(0, 0, t.leaf_fill);
  const Color stock = straw ? t.on_straw : t.ink;
  pen.fill_convex({at(-26, 16), at(26, 16), at(26, 36), at(0, 50), at(-26, 36)}, stock);
  draw_icon(pen, Icon::tick, at(0, 28), 20 * u, straw ? t.straw : t.on_ink);
}

void draw_picture(Pen& pen, std::size_t quarter, Point m, float size, bool straw) {
  const float u = size / 100;
  switch (quarter) {
    case 0:
      draw_unpot(pen, m, u);
      break;
    case 1:
      draw_pests(pen, m, u);
      break;
    case 2:
      draw_rest(pen, m, u, straw);
      break;
    default:
      draw_strands(pen, m, u, straw);
      break;
  }
}

}  // namespace

std::optional<std::size_t> draw_start_bulb(Pen& pen, Rect area, bool phone, const std::array<QuarterView, 4>& quarters,
                                           std::string_view week_word, int week) {
  const Theme& t = pen.theme;
  const Point m = area.middle();
  const float a = area.w / 2;
  const float b = area.h / 2;
  const float skin = phone ? 5.0F : 8.0F;
  const float heart = phone ? 33.0F : 52.0F;
  const float outer = phone ? 4.2F : 3.9F;
  std::optional<std::size_t> tapped;

  for (std::size_t i = 0; i < 4; ++i) {
    const QuarterView& q = quarters[i];
    const bool right = i % 2 == 1;
    const bool low = i >= 2;
    const Rect quarter{right ? m.x + cut / 2 : area.x, low ? m.y + cut / 2 : area.y, a - cut / 2, b - cut / 2};
    if (pen.touch.hit(q.target, quarter)) tapped = i;
    const bool straw = q.straw || is_pressed(pen, q.target);
    const Color ground = straw ? t.straw_large : t.sheet;
    const Color inner = straw ? mix(t.straw_large, t.night ? rgb(0x8A6A10) : rgb(0xC99A1E), 0.35F)
                              : mix(t.ring, t.leaf_fill, t.night ? 0.06F : 0.08F);

    pen.begin_clip(quarter);
    pen.fill_convex(superellipse(m, a, b, outer), t.skin);
    const std::vector<Point> light = superellipse(m, a - skin * 0.55F, b - skin * 0.55F, outer);
    pen.path(light, mix(t.skin, t.night ? t.tunic : t.sheet, 0.45F), 1.4F, true);
    const float shares[] = {1.0F, 0.80F, 0.61F, 0.43F, 0.26F};
    for (int s = 0; s < 5; ++s) {
      const float share = shares[s];
      const float exponent = 2 + (outer - 2) * share * share;
      const std::vector<Point> scale = superellipse(m, (a - skin) * share, (b - skin) * share, exponent);
      pen.fill_convex(scale, mix(ground, inner, static_cast<float>(s) * 0.2F));
      if (s > 0) pen.path(scale, mix(ground, inner, 0.75F), 1.6F, true);
    }
    pen.disc(m, heart + cut - 2, t.pane);

    const Color ink = straw ? t.on_straw : t.ink;
    const Color second = straw ? t.on_straw : t.ink2;
    const Color number = straw ? t.on_straw : t.tunic;
    const float side = phone ? 16.0F : 40.0F;
    const float text_room = quarter.w - side - (phone ? 8.0F : 16.0F);
    const Type title_type =
        phone ? pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, q.title, text_room)
              : pen.fitting({Type::heading_36, Type::heading_28, Type::heading_24}, q.title, text_room);
    const Type line_type =
        phone ? Type::body_15 : pen.fitting({Type::body_18, Type::body_16, Type::body_15}, q.line, text_room);
    const float x = right ? quarter.right() - side : quarter.x + side;
    const Align align = right ? Align::right : Align::left;
    // Words towards the middle of the bulb's height, the drawing and the count towards its skin.
    const float title_at = phone ? (low ? quarter.y + quarter.h * 0.34F : quarter.bottom() - quarter.h * 0.36F)
                                 : (low ? quarter.y + quarter.h * 0.30F
                                        : quarter.bottom() - quarter.h * (quarter.h < 260 ? 0.29F : 0.38F));
    const float line_gap = phone ? 21.0F : 30.0F;
    const float words_top = title_at - pen.cap(title_type);
    const float words_bottom = title_at + line_gap;
    const float room_top = low ? words_bottom + (phone ? 6.0F : 10.0F) : quarter.y + skin + (phone ? 4.0F : 10.0F);
    const float room_bottom =
        low ? quarter.bottom() - skin - (phone ? 4.0F : 10.0F) : words_top - (phone ? 4.0F : 8.0F);
    const float size = std::min({phone ? 62.0F : 108.0F, room_bottom - room_top, quarter.w * 0.34F});
    const Type count_type = phone ? Type::numeral_40 : Type::numeral_88;
    const Point middle{right ? quarter.x + quarter.w * 0.36F : quarter.right() - quarter.w * 0.36F,
                       (room_top + room_bottom) / 2};
    const std::string count = std::to_string(q.count);
    const float count_width = pen.width(count_type, count);
    const float gap = phone ? 10.0F : 20.0F;
    const float row = size + gap + count_width;
    // Never nearer to the cut than this, however many there are.
    const float from_cut = phone ? 10.0F : 24.0F;
    const Point mid{right ? std::max(middle.x, quarter.x + from_cut + row / 2)
                          : std::min(middle.x, quarter.right() - from_cut - row / 2),
                    middle.y};
    if (!right) {
      draw_picture(pen, i, {mid.x - row / 2 + size / 2, mid.y}, size, straw);
      pen.text(count_type, {mid.x + row / 2 - count_width, mid.y + pen.cap(count_type) / 2}, number, count);
    } else {
      pen.text(count_type, {mid.x - row / 2, mid.y + pen.cap(count_type) / 2}, number, count);
      draw_picture(pen, i, {mid.x + row / 2 - size / 2, mid.y}, size, straw);
    }
    pen.text(title_type, {x, title_at}, ink, pen.fitted(title_type, q.title, text_room), align);
    pen.text(line_type, {x, title_at + line_gap}, second, pen.fitted(line_type, q.line, text_room), align);
    pen.end_clip();
  }

  // The heart: the week, on leaf by day, ringed by night.
  pen.disc(m, heart, t.night ? t.pane : t.leaf);
  const Color on_heart = t.night ? t.leaf : t.on_leaf_bar;
  pen.ring(m, heart - (phone ? 4.0F : 8.0F), mix(t.night ? t.pane : t.leaf, on_heart, t.night ? 1.0F : 0.7F), 1.6F);
  const Type word_type = phone ? Type::body_15 : Type::body_16;
  const Type week_type = phone ? Type::heading_24 : Type::numeral_40;
  pen.text(word_type, {m.x, m.y - (phone ? 4.0F : 12.0F)}, on_heart, week_word, Align::middle);
  pen.text(week_type, {m.x, m.y + (phone ? 17.0F : 25.0F)}, on_heart, std::to_string(week), Align::middle);
  return tapped;
}

}  // namespace motherbulb

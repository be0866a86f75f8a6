#include "app/widgets/strands.hpp"

#include <algorithm>
#include <cmath>

#include "app/widgets/icons.hpp"

namespace motherbulb {
namespace {

constexpr float book_height = 76;

Color strand_color(const Theme& t, std::size_t i) {
  const Color colors[] = {t.tunic, t.leaf_fill, t.slate_fill};
  return colors[i % 3];
}

// A ribbon of one width along a curve, with `lines` fine lines inside it that tell it apart without colour.
void ribbon(Pen& pen, const std::vector<Point>& along, float width, Color color, std::size_t lines, Color line_color) {
  if (along.size() < 2) return;
  std::vector<Point> left;
  std::vector<Point> right;
  std::vector<Point> normals;
  for (std::size_t i = 0; i < along.size(); ++i) {
    const Point before = along[i == 0 ? 0 : i - 1];
    const Point after = along[i + 1 == along.size() ? i : i + 1];
    const float length = std::max(0.001F, std::hypot(after.x - before.x, after.y - before.y));
    Point normal{-(after.y - before.y) / length, (after.x - before.x) / length};
    normals.push_back(normal);
    left.push_back(along[i] + normal * (width / 2));
    right.push_back(along[i] - normal * (width / 2));
  }
  std::vector<Point> outline = left;
  outline.insert(outline.end(), right.rbegin(), right.rend());
  pen.fill_outline(outline, color);
  for (std::size_t k = 0; k < lines; ++k) {
    const float aside =
        lines == 1 ? 0.0F : (static_cast<float>(k) - 0.5F * static_cast<float>(lines - 1)) * width * 0.24F;
    std::vector<Point> inside;
    for (std::size_t i = 0; i < along.size(); ++i) inside.push_back(along[i] + normals[i] * aside);
    pen.path(inside, line_color, 1.8F);
  }
}

void draw_book(Pen& pen, Rect rect, const BookLabel& book) {
  const Theme& t = pen.theme;
  pen.fill(rect, t.ink, 6);
  const float from = book.ticked ? 68.0F : 24.0F;
  if (book.ticked) draw_icon(pen, Icon::tick, {rect.x + 38, rect.middle().y}, 26, t.on_ink);
  const float room = rect.w - from - 16;
  const Type title = pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, book.title, room);
  // A digest is compared group by group: the narrow figures stand close, so that its groups show.
  const Type second = Type::heading_18;
  const std::string_view words =
      pen.width(second, book.second) <= room || book.short_second.empty() ? book.second : book.short_second;
  pen.text(title, {rect.x + from, rect.y + 34}, t.on_ink, pen.fitted(title, book.title, room));
  pen.text(second, {rect.x + from, rect.y + 59}, t.on_ink2, pen.fitted(second, words, room));
}

void draw_badge(Pen& pen, Point right_top, const std::string& words, float most) {
  const Theme& t = pen.theme;
  const std::string shown = pen.fitted(Type::strong_15, words, most - 20);
  const float w = pen.width(Type::strong_15, shown) + 20;
  const Rect badge{right_top.x - w, right_top.y, w, 30};
  pen.fill(badge, t.straw, 4);
  pen.text_in(badge.inset(8, 0), Type::strong_15, t.on_straw, shown, Align::middle);
}

}  // namespace

float strands_height(std::size_t helpers, bool phone) {
  return phone ? static_cast<float>(helpers) * 100 + 16 + book_height : 388;
}

void draw_strands(Pen& pen, Rect area, const std::vector<HelperLabel>& helpers, const BookLabel& book, float joined,
                  bool phone) {
  const Theme& t = pen.theme;
  const std::size_t n = helpers.size();
  std::int64_t most = 1;
  for (const HelperLabel& h : helpers) most = std::max(most, h.weight);
  const auto width_of = [&](const HelperLabel& h, float widest) {
    return h.weight == 0 ? 3.0F
                         : std::max(8.0F, widest * std::sqrt(static_cast<float>(h.weight) / static_cast<float>(most)));
  };

  if (phone) {
    const Rect slab{area.x, area.bottom() - book_height, area.w, book_height};
    for (std::size_t i = n; i-- > 0;) {
      const HelperLabel& h = helpers[i];
      const Color color = strand_color(t, i);
      const Rect card{area.x + 48, area.y + static_cast<float>(i) * 100, area.w - 48, 88};
      const float lane = area.x + 8 + static_cast<float>(std::min<std::size_t>(i, 2)) * 13;
      const float wide = std::min(10.0F, width_of(h, 10));
      // What is still to come in is a fine line; what has come is as wide as it was new.
      const float bend = 16;
      std::vector<Point> along = curve({card.x + 2, card.middle().y}, {{card.x - 8, card.middle().y},
                                                                       {lane + bend, card.middle().y},
                                                                       {lane + bend, card.middle().y},
                                                                       {lane + 4, card.middle().y},
                                                                       {lane, card.middle().y + 4},
                                                                       {lane, card.middle().y + bend}});
      along.push_back({lane, slab.y + 2});
      pen.path(along, color, 2);
      if (joined > 0) {
        along.back().y = card.middle().y + bend + (slab.y + 2 - card.middle().y - bend) * joined;
        pen.path(along, color, wide);
      }
      pen.label(card, Stake::right, t.sheet, color, 3, 6);
      pen.text_in({card.x + 16, card.y + 12, card.w * 0.4F, 28}, Type::name_23, t.ink, h.name);
      pen.text_in({card.x + 16, card.y + 46, card.w * 0.42F, 22}, Type::body_15, t.ink2, h.device);
      const float end = card.right() - 38;
      const std::string number = h.number.empty() ? h.number_word : h.number + " " + h.number_word;
      const float number_room = card.w * 0.46F;
      const Type type = pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, number, number_room);
      pen.text_in({end - number_room, card.y + 10, number_room, 30}, type, t.ink, number, Align::right);
      if (h.badge.empty()) {
        pen.text_in({end - number_room, card.y + 46, number_room, 22}, Type::body_15, t.ink2, h.second, Align::right);
      } else {
        draw_badge(pen, {end, card.y + 46}, h.badge, number_room);
      }
    }
    draw_book(pen, slab, book);
    return;
  }

  const float gap = 16;
  const float card_height = 152;
  const float w = std::min((area.w - gap * static_cast<float>(n - 1)) / static_cast<float>(n), 300.0F);
  const float all = w * static_cast<float>(n) + gap * static_cast<float>(n - 1);
  const float left = area.x + (area.w - all) / 2;
  const Rect slab{area.x + (area.w - std::min(area.w, 470.0F)) / 2, area.bottom() - book_height,
                  std::min(area.w, 470.0F), book_height};

  float widths = 0;
  for (const HelperLabel& h : helpers) widths += width_of(h, 58) + 1;
  float into = slab.middle().x - widths / 2;
  for (std::size_t i = 0; i < n; ++i) {
    const HelperLabel& h = helpers[i];
    const Rect card{left + static_cast<float>(i) * (w + gap), area.y, w, card_height};
    const float wide = width_of(h, 58);
    const Point from{card.middle().x, card.bottom() - 4};
    const Point to{into + wide / 2, slab.y + 2};
    into += wide + 1;
    const float drop = (to.y - from.y) * 0.62F;
    std::vector<Point> along = curve(from, {{from.x, from.y + drop}, {to.x, to.y - drop}, to}, 48);
    const auto grown = static_cast<std::size_t>(std::lround(joined * static_cast<float>(along.size() - 1)));
    if (grown + 1 < along.size()) {
      // What is still to come in: a fine line where the strand will be.
      pen.path(along, strand_color(t, i), 2.4F);
    }
    along.resize(grown + 1);
    ribbon(pen, along, wide, strand_color(t, i), wide > 10 ? i % 3 : 0,
           mix(strand_color(t, i), t.night ? t.pane : t.sheet, 0.65F));
  }
  for (std::size_t i = 0; i < n; ++i) {
    const HelperLabel& h = helpers[i];
    const Rect card{left + static_cast<float>(i) * (w + gap), area.y, w, card_height};
    pen.label(card, Stake::down, t.sheet, strand_color(t, i), 3, 8);
    const float room = w - 36;
    const float x = card.x + 18;
    float badge_room = 0;
    if (!h.badge.empty()) {
      badge_room = std::min(pen.width(Type::strong_15, h.badge) + 20, room * 0.6F);
      draw_badge(pen, {card.right() - 14, card.y + 16}, h.badge, badge_room);
    }
    const Type name = pen.fitting({Type::name_28, Type::name_23}, h.name, room - badge_room);
    pen.text(name, {x, card.y + 37}, t.ink, pen.fitted(name, h.name, room - badge_room));
    pen.text(Type::body_15, {x, card.y + 59}, t.ink2, pen.fitted(Type::body_15, h.device, room));
    const float word = pen.width(Type::strong_16, h.number_word) + 8;
    const Type number_type = pen.fitting({Type::numeral_40, Type::heading_28, Type::heading_24}, h.number, room - word);
    const float number = pen.text(number_type, {x, card.y + 100}, t.ink, h.number);
    const float gap_here = h.number.empty() ? 0.0F : 8.0F;
    pen.text(Type::strong_16, {x + number + gap_here, card.y + 100}, t.ink,
             pen.fitted(Type::strong_16, h.number_word, room - number - 8));
    pen.text(Type::body_15, {x, card.y + 121}, t.ink2, pen.fitted(Type::body_15, h.second, room));
  }
  draw_book(pen, slab, book);
}

}  // namespace motherbulb

#include "app/screens/health/parts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "app/words.hpp"
#include "app/words/health.hpp"

namespace motherbulb::health {

void draw_blocks(Pen& pen, std::string_view panel, Rect area, const std::vector<Block>& blocks) {
  float height = 0;
  for (const Block& block : blocks) height += block.height;
  float y = pen.begin_scroll(panel, area, height);
  for (const Block& block : blocks) {
    const Rect at{area.x, y, area.w, block.height};
    y += block.height;
    if (at.bottom() < area.y || at.y > area.bottom() || !block.draw) continue;
    block.draw(at);
  }
  pen.end_scroll(panel);
}

Block heading_block(Pen& pen, std::string words_shown) {
  return {44, [&pen, text = std::move(words_shown)](Rect area) {
            const Rect line{area.x, area.y, area.w, 36};
            const Type type = pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, text, line.w);
            pen.text_in(line, type, pen.theme.ink, text);
          }};
}

Block paragraph_block(Pen& pen, float width, Type type, Color color, std::string words_shown, float below) {
  const float height = pen.paragraph_height(width, type, words_shown);
  return {height + below, [&pen, type, color, height, text = std::move(words_shown)](Rect area) {
            pen.paragraph({area.x, area.y, area.w, height}, type, color, text);
          }};
}

Block caution_block(Pen& pen, float width, std::string words_shown) {
  const float height = std::max(32.0F, pen.paragraph_height(width - 44, Type::body_16, words_shown));
  return {height + 8, [&pen, height, text = std::move(words_shown)](Rect area) {
            draw_icon(pen, Icon::warning, {area.x + 15, area.y + 13}, 24, pen.theme.copper);
            pen.paragraph({area.x + 44, area.y + 1, area.w - 44, height}, Type::body_16, pen.theme.ink, text);
          }};
}

Block rows_block(ScreenView& view, std::size_t count, float height, std::function<void(Rect, std::size_t)> draw) {
  return {height * static_cast<float>(count) + 16, [&view, count, height, draw_one = std::move(draw)](Rect area) {
            Pen& pen = view.pen;
            pen.fill({area.x, area.y, area.w, height * static_cast<float>(count)}, pen.theme.sheet, 8);
            const Rect sight = view.layout.window;
            const auto first = static_cast<std::size_t>(std::max(0.0F, (sight.y - area.y) / height));
            for (std::size_t i = first; i < count; ++i) {
              const Rect row{area.x, area.y + height * static_cast<float>(i), area.w, height};
              if (row.y > sight.bottom()) break;
              draw_one(row, i);
            }
          }};
}

void draw_damage_mark(Pen& pen, Point m, float size, std::int32_t worst, Color color) {
  constexpr float pi = 3.14159265F;
  // The bulb below, the leaves above.
  const float radius = size * 0.23F;
  const Point bulb{m.x, m.y + size * 0.22F};
  const float line = std::max(1.6F, size * 0.06F);
  // Its plate.
  pen.line({bulb.x - radius * 0.8F, bulb.y + radius + line}, {bulb.x + radius * 0.8F, bulb.y + radius + line}, color,
           line);
  if (worst <= 0) {
    pen.ring(bulb, radius, color, line);
    pen.line({bulb.x, bulb.y - radius}, {bulb.x, bulb.y - radius - size * 0.16F}, color, line);
    return;
  }
  pen.disc(bulb, radius, color);
  constexpr std::array<std::array<float, 3>, 3> angles{{{0, 0, 0}, {-0.36F, 0.36F, 0}, {-0.72F, 0, 0.72F}}};
  const auto leaves = static_cast<std::size_t>(std::min(worst, 3));
  for (std::size_t i = 0; i < leaves; ++i) {
    const float angle = angles[leaves - 1][i] - pi / 2;
    const Point along{std::cos(angle), std::sin(angle)};
    const Point across{-along.y, along.x};
    const Point foot{bulb.x + along.x * radius * 0.6F, bulb.y + along.y * radius * 0.6F};
    const float length = size * 0.64F;
    const float half = size * 0.085F;
    std::vector<Point> leaf;
    constexpr int steps = 6;
    for (int side = 0; side < 2; ++side) {
      for (int step = 0; step <= steps; ++step) {
        const float share = static_cast<float>(side == 0 ? step : steps - step) / steps;
        const float wide = half * std::sin(pi * share) * (side == 0 ? 1.0F : -1.0F);
        if (side == 1 && (step == 0 || step == steps)) continue;
        leaf.push_back(foot + along * (length * share) + across * wide);
      }
    }
    pen.fill_convex(leaf, color);
  }
}

float damage_mark_size(std::int64_t pots, std::int64_t most, float least, float greatest) {
  if (most <= 1) return greatest;
  // Areas, and not widths, go with the count.
  const float share = static_cast<float>(pots) / static_cast<float>(most);
  return least + (greatest - least) * std::sqrt(std::min(1.0F, share));
}

std::string bench_words_of(const std::string& bench) {
  return bench.empty() ? std::string(health_words().no_place) : bench;
}

std::string by_of(const ScreenView& view, const std::string& helper, const When& when) {
  const std::string then = when_about_words(view, when);
  return helper.empty() ? then : say(health_words().by, helper, then);
}

Go go_to_pot(const PotId& pot) {
  if (pot.number == 0) return Go{Screen::clone, {{}, pot.batch, {}, {}, {}}};
  return Go{Screen::pot, {{pot}, {}, {}, {}, {}}};
}

}  // namespace motherbulb::health

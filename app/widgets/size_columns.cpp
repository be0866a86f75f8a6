#include "app/widgets/size_columns.hpp"

#include <algorithm>

#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr float least_cell = 58;
constexpr float most_cell = 92;
constexpr float above = 26, below = 26;  // count, size

}  // namespace

BulbsByGrade sizes_together(const BulbsByGrade& bulbs, std::size_t most) {
  BulbsByGrade sized = bulbs;
  sized.erase(Grade{});
  const std::size_t unsized = bulbs.size() - sized.size();
  const std::size_t room = std::max<std::size_t>(1, most > unsized ? most - unsized : 1);
  while (sized.size() > room) {
    const auto first = sized.begin();
    const auto second = std::next(first);
    Grade both = first->first;
    const Grade upper = second->first;
    both.high_mm = both.high_mm < 0 || upper.high_mm < 0 ? -1 : std::max(both.high_mm, upper.high_mm);
    if (!both.sized()) break;  // from nothing to no end: that is said of bulbs that nobody sized
    const std::int64_t count = first->second + second->second;
    sized.erase(first, std::next(second));
    sized[both] += count;
  }
  if (unsized > 0) sized[Grade{}] = bulbs.at(Grade{});
  return sized;
}

void draw_size_columns(Pen& pen, Rect area, const BulbsByGrade& all) {
  const Theme& t = pen.theme;
  const BulbsByGrade bulbs = sizes_together(all, static_cast<std::size_t>(std::max(1.0F, area.w / least_cell)));
  if (bulbs.empty()) return;
  std::int64_t most = 1;
  for (const auto& [grade, count] : bulbs) most = std::max(most, count);
  const float cell = std::min(most_cell, area.w / static_cast<float>(bulbs.size()));
  float x = area.x;
  for (const auto& [grade, count] : bulbs) {
    const Rect column{x, area.y, cell, area.h};
    x += cell;
    const float room = area.h - above - below;
    const float high = std::max(2.0F, room * static_cast<float>(count) / static_cast<float>(most));
    const Rect bar{column.x + 4, column.bottom() - below - high, column.w - 8, high};
    pen.fill(bar, mix(t.sheet, t.leaf_fill, 0.6F), 3);
    pen.text(Type::heading_20, {column.middle().x, bar.y - 6}, t.ink, grouped(count), Align::middle);
    const std::string name = grade_words(grade);
    const Type type = pen.fitting({Type::body_16, Type::body_15}, name, cell - 2);
    pen.text_in({column.x + 1, column.bottom() - 24, cell - 2, 22}, type, t.ink2, name, Align::middle);
  }
}

}  // namespace motherbulb

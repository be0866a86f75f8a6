// What would change it most, in how many places to keep the bulbs, and what the book does not tell.

#include <algorithm>
#include <cmath>

#include "app/screens/outlook/parts.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {
namespace {

constexpr float title_high = 44;

}  // namespace

Panel levers_panel(ScreenView& view, float width) {
  const OutlookWords& w = outlook_words();
  const auto& levers = view.ui.outlook.shown->levers;
  const float inside = width - 2 * across(view);
  const float number = 86;
  std::vector<float> rows;
  float height = 28 + title_high + 26;
  for (const auto& [said, change] : levers) {
    rows.push_back(view.pen.paragraph_height(inside - number, Type::body_16, said, 3) + 24);
    height += rows.back();
  }
  if (levers.empty()) height += 34;
  return {
      height, [&view, &w, &levers, rows, number](Rect area) -> std::optional<Wish> {
        Pen& pen = view.pen;
        const Theme& t = pen.theme;
        pen.fill(area, t.sheet, 8);
        Rect at = area.inset(across(view), 14);
        pen.text_in(at.take_top(34), Type::heading_24, t.ink, w.levers_title);
        const std::string then = say(w.levers_said, month_after(view, view.ui.outlook.shown->wanted.season));
        pen.text_in(at.take_top(36), Type::body_15, t.ink2, then);
        if (levers.empty()) {
          pen.paragraph(at, Type::body_16, t.ink, w.levers_none, 2);
          return std::nullopt;
        }
        double most = 0;
        for (const auto& [said, change] : levers) most = std::max(most, std::abs(change));
        for (std::size_t i = 0; i < levers.size(); ++i) {
          const auto& [said, change] = levers[i];
          Rect row = at.take_top(rows[i]);
          const std::string count = say(change < 0 ? w.fewer : w.more, few_words(std::abs(change)));
          pen.text_in({row.right() - number, row.y, number, 26}, Type::heading_24, change < 0 ? t.copper : t.leaf,
                      count, Align::right);
          const float used = pen.paragraph({row.x, row.y + 2, row.w - number, row.h}, Type::body_16, t.ink, said, 3);
          const Rect track{row.x, row.y + used + 6, row.w, 6};
          pen.fill(track, t.night ? t.ring : t.well, 3);
          const float wide = track.w * static_cast<float>(std::abs(change) / most);
          pen.fill({track.x, track.y, std::max(4.0F, wide), track.h}, change < 0 ? t.copper_fill : t.leaf_fill, 3);
        }
        return std::nullopt;
      }};
}

Panel places_panel(ScreenView& view, float width) {
  const OutlookWords& w = outlook_words();
  const auto& shown = *view.ui.outlook.shown;
  if (shown.places.empty()) return {};
  const float inside = width - 2 * across(view);
  const float said = view.pen.paragraph_height(inside, Type::body_16, shown.places_said, 4);
  const float height = 28 + title_high + said + 10 + 30 * static_cast<float>(shown.places.size());
  return {height, [&view, &w, &shown, said](Rect area) -> std::optional<Wish> {
            Pen& pen = view.pen;
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect at = area.inset(across(view), 14);
            pen.text_in(at.take_top(34, 6), Type::heading_24, t.ink, w.places_title);
            pen.paragraph(at.take_top(said, 10), Type::body_16, t.ink, shown.places_said, 4);
            bool first = true;
            for (const auto& [name, chance] : shown.places) {
              const Rect row = at.take_top(30);
              if (!first) pen.fill({row.x, row.y - 0.75F, row.w, 1.5F}, t.night ? t.ring : t.well);
              first = false;
              pen.text_in(row, Type::body_16, t.ink2, name);
              pen.text_in(row, Type::strong_16, t.ink, chance, Align::right);
            }
            return std::nullopt;
          }};
}

Panel missing_panel(ScreenView& view, float width, const std::vector<std::string>& missing) {
  const OutlookWords& w = outlook_words();
  if (missing.empty()) return {};
  const float inside = width - 2 * across(view) - 18;
  std::vector<float> rows;
  const float said = view.pen.paragraph_height(inside + 18, Type::body_16, w.missing_said, 3) + 10;
  float height = 28 + 34 + said;
  for (const std::string& line : missing) {
    rows.push_back(view.pen.paragraph_height(inside, Type::body_15, line) + 8);
    height += rows.back();
  }
  return {height, [&view, &w, missing, rows, said](Rect area) -> std::optional<Wish> {
            Pen& pen = view.pen;
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect at = area.inset(across(view), 14);
            pen.text_in(at.take_top(34), Type::heading_24, t.ink, w.missing_title);
            pen.paragraph(at.take_top(said), Type::body_16, t.ink2, w.missing_said, 3);
            for (std::size_t i = 0; i < missing.size(); ++i) {
              const Rect row = at.take_top(rows[i]);
              pen.disc({row.x + 4, row.y + 11}, 3, t.tunic);
              pen.paragraph({row.x + 18, row.y, row.w - 18, row.h}, Type::body_15, t.ink2, missing[i]);
            }
            return std::nullopt;
          }};
}

}  // namespace motherbulb::ahead

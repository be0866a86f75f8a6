// The coming seasons as a fan, and the bulbs by size as a ladder.

#include <algorithm>

#include "app/screens/outlook/parts.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {

Panel fan_panel(ScreenView& view, float width, float height) {
  const OutlookWords& w = outlook_words();
  const float said = view.pen.paragraph_height(width - 2 * across(view), Type::body_15, w.fan_said, 3);
  return {height + said + 8, [&view, &w, said](Rect area) -> std::optional<Wish> {
            Pen& pen = view.pen;
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect inside = area.inset(across(view), 14);
            std::string title(w.fan_title_plain);
            for (const ClassGrowth& one : view.ui.outlook.ahead.picture->known.growth.classes) {
              if (!one.saleable) continue;
              title = say(w.fan_title, girth_words(one.grade.low_mm));
              break;
            }
            const Rect line = inside.take_top(34, 2);
            pen.text_in(line, pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, title, line.w), t.ink,
                        title);
            pen.paragraph(inside.take_bottom(said, 6), Type::body_15, t.ink2, w.fan_said, 3);
            draw_fan(pen, inside, view.ui.outlook.shown->fan);
            return std::nullopt;
          }};
}

Panel ladder_panel(ScreenView& view, float width) {
  const OutlookWords& w = outlook_words();
  const LadderView& ladder = view.ui.outlook.shown->ladder;
  const float rung = view.layout.portrait() ? 38.0F : 34.0F;
  const bool below = width < 560;
  const float height = 28 + 36 + (below ? 26.0F : 4.0F) + ladder_height(ladder, rung);
  return {height, [&view, &w, below](Rect area) -> std::optional<Wish> {
            Pen& pen = view.pen;
            const Theme& t = pen.theme;
            pen.fill(area, t.sheet, 8);
            Rect inside = area.inset(across(view), 14);
            const Rect line = inside.take_top(36);
            pen.text_in(line, Type::heading_24, t.ink, w.ladder_title);
            const Rect said = below ? inside.take_top(26) : inside.take_top(4);
            pen.text_in(below ? Rect{said.x, said.y - 4, said.w, 22} : line, Type::body_15, t.ink2, w.ladder_said,
                        below ? Align::left : Align::right);
            draw_ladder(pen, inside, view.ui.outlook.shown->ladder);
            return std::nullopt;
          }};
}

}  // namespace motherbulb::ahead

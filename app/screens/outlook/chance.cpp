// How sure what is wanted is; and what is wanted, changed by taps.

#include <algorithm>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/chance.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {
namespace {

constexpr float key = 56;
constexpr float dots = 112;

void draw_setters(ScreenView& view, Rect area) {
  const OutlookWords& w = outlook_words();
  OutlookDraft::Wanted& wanted = wanted_of(view);
  const std::size_t last = std::min(view.ui.outlook.ahead.picture->seasons, most_seasons_asked);
  const bool stacked = area.h > key + gap;
  const Rect first = stacked ? area.take_top(key, gap) : area.take_left((area.w - 16) / 2, 16);
  const Rect second = stacked ? area.take_top(key) : area;
  const std::string target = grouped(wanted.target) + " " + std::string(w.saleable);
  const Stepped by =
      draw_stepper(view.pen, first, {"target", target, wanted.target > 1, wanted.target < most_target, true});
  if (by.by != 0) wanted.target = next_target(wanted.target, by.by > 0);
  if (by.middle) {
    view.ui.outlook.typing = OutlookDraft::Typing::target;
    view.ui.outlook.typed.clear();
    view.pen.touch.scroll_to("ahead", 0);
  }
  const Stepped season = draw_stepper(
      view.pen, second, {"season", month_after(view, wanted.season), wanted.season > 1, wanted.season < last, false});
  if (season.by > 0) ++wanted.season;
  if (season.by < 0) --wanted.season;
}

void draw_chance_words(ScreenView& view, Rect area, const Shown& shown) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const OutlookDraft::Wanted& wanted = shown.wanted;
  const std::string then = month_after(view, wanted.season);
  if (!shown.chance) {
    pen.paragraph(area, Type::body_16, t.ink2, say(w.chance_unknown, then), 5);
    return;
  }
  const bool phone = view.layout.phone();
  const Type number = phone ? Type::numeral_56 : Type::numeral_88;
  const std::string count = std::to_string(in_a_hundred(*shown.chance));
  const float line = area.y + (phone ? 4.0F : 2.0F) + pen.cap(number);
  const float wide = pen.text(number, {area.x, line}, t.leaf, count);
  pen.text(phone ? Type::heading_20 : Type::heading_28, {area.x + wide + 12, line}, t.ink, w.in_100);
  pen.paragraph({area.x, line + 10, area.w, 70}, Type::body_16, t.ink2, say(w.to_have, grouped(wanted.target), then),
                3);
}

void draw_lost(ScreenView& view, Rect area, std::size_t season, bool beside) {
  const OutlookWords& w = outlook_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const auto& lost = view.ui.outlook.ahead.picture->outlook.seasons[season - 1].lost;
  if (!lost) return;
  const std::string said = lost->chance > 0 ? chance_words(lost->chance) : std::string(w.none_lost);
  draw_mark(pen, Mark::lost, {area.x + 14, area.y + 18}, 26);
  const Type type =
      pen.fitting({Type::heading_28, Type::heading_24, Type::heading_20, Type::heading_18}, said, area.w - 38);
  pen.text_in({area.x + 38, area.y, area.w - 38, 36}, type, t.ink, said);
  const float from = beside ? 38.0F : 0.0F;
  pen.paragraph({area.x + from, area.y + (beside ? 34.0F : 44.0F), area.w - from, 60}, Type::body_16, t.ink2,
                w.lost_by_then, 3);
}

std::optional<Wish> draw_chance_panel(ScreenView& view, Rect area, bool wide) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const Shown& shown = *view.ui.outlook.shown;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(across(view), 18);
  Rect top = inside.take_top(wide ? 120.0F : 116.0F, 12);
  const int filled = shown.chance ? in_a_hundred(*shown.chance) : 0;
  draw_chance(pen, top.take_left(dots, wide ? 30.0F : 16.0F), filled);
  if (wide) {
    const Rect lost = top.take_right(std::min(200.0F, top.w * 0.42F), 24);
    pen.fill({lost.x - 22, lost.y + 4, 1.5F, lost.h - 12}, t.night ? t.edge : t.well);
    draw_lost(view, {lost.x, lost.y + 18, lost.w, lost.h - 18}, shown.wanted.season, false);
  }
  draw_chance_words(view, top, shown);
  if (!wide) draw_lost(view, inside.take_top(62, 10), shown.wanted.season, true);
  draw_setters(view, inside);
  return std::nullopt;
}

}  // namespace

Panel chance_panel(ScreenView& view, float width) {
  const float inside = width - 2 * across(view);
  if (view.ui.outlook.typing != OutlookDraft::Typing::none) return typing_panel(view);
  const bool wide = inside > 480;
  const bool stacked = inside < 460;
  const float setters = stacked ? 2 * key + gap : key;
  const float height = 36 + (wide ? 132.0F : 128.0F + 72) + setters;
  return {height, [&view, wide](Rect area) { return draw_chance_panel(view, area, wide); }};
}

}  // namespace motherbulb::ahead

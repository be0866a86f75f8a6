// The parts sheet: what every screen is made of, with names and counts invented for it, in both themes. A picture for a
// person to look at; the checks are that each part lists its controls, large enough and apart.

#include "app/widgets/balance.hpp"
#include "app/widgets/grade_picker.hpp"
#include "app/widgets/icons.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/widgets/slips.hpp"
#include "tests/screens/drive.hpp"

namespace motherbulb {
namespace {

constexpr int width = 1440;
constexpr int height = 900;

Rect panel(Pen& pen, Rect area, std::string_view title) {
  pen.fill(area, pen.theme.sheet, 8);
  Rect inside = area.inset(22, 16);
  pen.text_in(inside.take_top(28, 10), Type::heading_24, pen.theme.ink, title);
  return inside;
}

void draw_sheet(Pen& pen) {
  pen.fill({0, 0, width, height}, pen.theme.pane);
  Rect rest{36, 24, width - 72, height - 48};
  Rect icons = panel(pen, rest.take_right(400, 20), "Icons, 24 dp box, stroke 2.4");
  for (int i = 0; i < icon_count; ++i) {
    const float x = icons.x + 36 + static_cast<float>(i % 6) * 60;
    const float y = icons.y + 30 + static_cast<float>(i / 6) * 92;
    draw_icon(pen, static_cast<Icon>(i), {x, y}, 30, pen.theme.tunic);
  }
  Rect left = rest.take_left((rest.w - 20) / 2, 20);
  const Rect status = panel(pen, left.take_top(230, 20), "Status: shape, colour, word");
  static constexpr std::array<std::pair<Mark, const char*>, 10> marks{{{Mark::due, "due"},
                                                                       {Mark::overdue, "overdue"},
                                                                       {Mark::growing, "growing"},
                                                                       {Mark::drying_off, "dry off"},
                                                                       {Mark::resting, "resting"},
                                                                       {Mark::started, "start"},
                                                                       {Mark::on_hold, "on hold"},
                                                                       {Mark::lost, "lost"},
                                                                       {Mark::to_settle, "to settle"},
                                                                       {Mark::forming, "forming"}}};
  for (std::size_t i = 0; i < marks.size(); ++i) {
    const Point at{status.x + 18 + static_cast<float>(i % 3) * 150, status.y + 18 + static_cast<float>(i / 3) * 44};
    draw_mark(pen, marks[i].first, at, 28);
    pen.text_in({at.x + 26, at.y - 14, 110, 28}, Type::strong_18, mark_color(pen.theme, marks[i].first),
                marks[i].second);
  }
  Rect labels = panel(pen, left.take_top(270, 20), "Labels lead on");
  draw_pot_tag(pen, {labels.x, labels.y}, 34, "26B014-B/3");
  draw_pot_tag(pen, {labels.x + 160, labels.y}, 38, "bench 2");
  draw_pot_tag(pen, {labels.x + 290, labels.y}, 44, "Ж/Ω/ő");
  labels.take_top(64);
  Rect acts = labels.take_top(64, 10);
  labels = labels.take_top(56);
  draw_act(pen, acts.take_left(180, 12), {"act:main", "Start", ActStyle::main, {}, true});
  draw_act(pen, acts.take_left(180, 12), {"act:quiet", "Dry off", ActStyle::quiet, {}, true});
  draw_filter(pen, labels.take_left(120, 8), "filter:chosen", "Chosen", true);
  draw_filter(pen, labels.take_left(120, 8), "filter:other", "Other", false);
  draw_act(pen, labels.take_left(140, 8), {"act:not", "Not now", ActStyle::plain, {}, false});
  const Rect keys = panel(pen, left, "Keys and sizes");
  draw_grade_picker(pen, keys,
                    {{"under 2", 0, 0, false},
                     {"2–4", 3, 0.2F, false},
                     {"4–6", 5, 0.4F, false},
                     {"6–8", 4, 0.6F, false},
                     {"8–10", 1, 0.8F, false},
                     {"10+", 0, 1, true}},
                    3, false);

  Rect bars = panel(pen, rest.take_top(230, 20), "Bulb balance");
  using Kind = BalancePart::Kind;
  draw_balance(
      pen, bars.take_top(104, 0),
      {24,
       "24 bulbs in",
       {{Kind::there, 17, "17 there"}, {Kind::out, 3, "3 sold"}, {Kind::lost, 2, "2 rot"}, {Kind::open, 2, "2 open"}}});
  draw_mother(pen, {bars.x + 34, bars.y + 32}, 34, {8, false, {Cause::rot}});
  draw_mother(pen, {bars.x + 120, bars.y + 32}, 34, {8, true, {}});
  draw_mother(pen, {bars.x + 206, bars.y + 32}, 34, {24, false, {Cause::frost, Cause::rot, Cause::rot}});
  draw_mother(pen, {bars.x + 292, bars.y + 32}, 34, {60, false, std::vector<Cause>(12, Cause::rot)});
  Rect kept = panel(pen, rest.take_top(230, 20), "Kept, and not kept");
  draw_kept_slip(pen, kept.take_top(56, 12), {"13 bulblets kept", true, false}, true);
  draw_error_strip(pen, kept.take_top(92), "Not kept: the tablet is full", "Free some space; the count waits here.");
  draw_empty(pen, panel(pen, rest, "Nothing here yet"), "No pot is filled. What is potted up shows here.", "empty:act",
             "");
}

}  // namespace

TEST_CASE("the parts sheet is drawn in both themes") {
  const auto window = drive::open_window(width, height);
  for (const bool night : {false, true}) {
    Fonts fonts;
    TouchMap touch;
    Motion motion;
    const Theme& theme = night ? night_theme() : day_theme();
    CHECK(fonts.build(*ImGui::GetIO().Fonts, drive::build_folder() + "/assets/fonts", 1).empty());
    window->fonts_changed();
    for (int frame = 0; frame < 3; ++frame) {
      if (fonts.wants_rebuild()) {
        // Greek, Cyrillic and Hungarian letters were asked for by the first frame.
        CHECK(frame == 1);
        fonts.build(*ImGui::GetIO().Fonts, drive::build_folder() + "/assets/fonts", 1);
        window->fonts_changed();
      }
      window->wait(1);
      window->begin_frame();
      touch.begin_frame(window->now_ms(), {0, 0, width, height});
      motion.begin_frame(window->now_ms());
      fonts.begin_frame();
      Pen pen(*ImGui::GetBackgroundDrawList(), theme, fonts, touch, motion);
      draw_sheet(pen);
      touch.end_frame();
      window->show_frame(theme.pane);
    }
    CHECK_FALSE(fonts.wants_rebuild());
    CHECK(fonts.cut().empty());
    for (const Target& target : touch.targets()) {
      CAPTURE(target.name);
      CHECK(target.rect.w >= 56);
      CHECK(target.rect.h >= 56);
    }
    drive::write_picture(std::string("parts-1440x900-") + (night ? "night" : "day"), window->pixels(),
                         window->width_px(), window->height_px());
  }
}

}  // namespace motherbulb

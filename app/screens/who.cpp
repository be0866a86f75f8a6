// Who is here, and when it was done: what is tapped is kept under a name and at a time. Names that the book knows are
// tapped; another one is written on the keys shown or on a keyboard. A time set here holds until another is chosen.

#include <algorithm>
#include <array>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/words.hpp"
#include "app/words/who.hpp"

namespace motherbulb {
namespace {

constexpr float key = 64;        // of days and hours
constexpr float large_key = 88;  // of names and usual times, where there is room
constexpr float gap = 8;
constexpr float title_height = 44;
constexpr int days_back = 7;  // that can be chosen; older work is written into a table

When at_hour(Day day, int hour, std::int32_t offset_minutes) {
  const std::int64_t local = std::int64_t{day.days} * 86'400'000 + std::int64_t{hour} * 3'600'000;
  return moment(local - std::int64_t{offset_minutes} * 60'000, offset_minutes);
}

Day before(Day day, int days) {
  return {day.days - days};
}

// A choice: what is chosen lies on straw. `second` stands below, smaller.
bool draw_choice(Pen& pen, Rect at, std::string_view name, std::string_view text, std::string_view second, bool chosen,
                 bool enabled) {
  const Theme& t = pen.theme;
  const bool tapped = pen.touch.hit(name, at, enabled);
  if (!enabled) {
    pen.dashed_line({at.x, at.y + 1}, {at.right(), at.y + 1}, t.edge, 2);
    pen.dashed_line({at.x, at.bottom() - 1}, {at.right(), at.bottom() - 1}, t.edge, 2);
  } else {
    const bool straw = chosen || is_pressed(pen, name);
    pen.fill(at, straw ? t.straw : t.sheet, 6);
    pen.frame(at, straw ? t.on_straw : t.edge);
  }
  const bool straw = enabled && (chosen || is_pressed(pen, name));
  const Color ink = straw ? t.on_straw : enabled ? t.ink : t.ink2;
  const Rect inside = at.inset(4, 0);
  const Type type = pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, text, inside.w);
  if (second.empty()) {
    pen.text_in(inside, type, ink, text, Align::middle);
    return tapped;
  }
  const float top = at.y + (at.h - 52) / 2;
  pen.text_in({inside.x, top, inside.w, 28}, type, ink, text, Align::middle);
  pen.text_in({inside.x, top + 28, inside.w, 22}, Type::body_15, straw ? t.on_straw : t.ink2, second, Align::middle);
  return tapped;
}

struct Grid {
  std::size_t columns, rows;
  float key_height = key;
  [[nodiscard]] float height() const { return static_cast<float>(rows) * (key_height + gap) - gap; }
};

Rect cell(Rect area, const Grid& grid, std::size_t i) {
  const float wide = (area.w - gap * static_cast<float>(grid.columns - 1)) / static_cast<float>(grid.columns);
  return {area.x + static_cast<float>(i % grid.columns) * (wide + gap),
          area.y + static_cast<float>(i / grid.columns) * (grid.key_height + gap), wide, grid.key_height};
}

Grid grid_of(std::size_t count, std::size_t columns, float key_height = key) {
  return {columns, (count + columns - 1) / columns, key_height};
}

float usual_key(const ScreenView& view) {
  return view.layout.phone() ? key : large_key;
}

// ------------------------------------------------------------------------------------------------------------ who

bool writes_a_name(const ScreenView& view) {
  return view.ui.who.typing || view.rows.helpers().empty();
}

Grid name_grid(const ScreenView& view, float width) {
  return grid_of(view.rows.helpers().size() + 1, width >= 440 ? 2 : 1, usual_key(view));
}

float none_height(ScreenView& view, float width) {
  if (!view.rows.helpers().empty()) return 0;
  return view.pen.paragraph_height(width, Type::body_18, words().who_none, 2) + 12;
}

float who_height(ScreenView& view, float width) {
  if (writes_a_name(view)) return title_height + none_height(view, width) + text_entry_height(width < 620) + 12 + key;
  return title_height + name_grid(view, width).height();
}

std::optional<Wish> draw_who(ScreenView& view, Rect area) {
  const Words& w = words();
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  Rect head = area.take_top(title_height);
  pen.text_in(head, Type::heading_24, pen.theme.ink, w.who_title);
  if (writes_a_name(view)) {
    if (const float none = none_height(view, area.w); none > 0)
      pen.paragraph(area.take_top(none), Type::body_18, pen.theme.ink2, w.who_none, 2);
    const bool narrow = area.w < 620;
    std::string& name = view.ui.who.typed_name;
    const bool enter = draw_text_entry(pen, area.take_top(text_entry_height(narrow), 12),
                                       {"letter", w.who_type, 40, true}, name, narrow);
    const std::string trimmed = without_ends(name);
    const std::string act = trimmed.empty() ? std::string(w.who_keep_empty) : say(w.who_keep, trimmed);
    if (draw_act(pen, area.take_top(key), {"who:keep", act, ActStyle::main, Icon::tick, !trimmed.empty()}) ||
        (enter && !trimmed.empty()))
      wish = BeHelper{trimmed};
    return wish;
  }
  const Grid grid = name_grid(view, area.w);
  std::size_t i = 0;
  for (const std::string& name : view.rows.helpers()) {
    if (draw_choice(pen, cell(area, grid, i++), "who:" + name, name, "", name == view.ui.helper, true))
      wish = BeHelper{name};
  }
  if (draw_act(pen, cell(area, grid, i), {"who:other", w.who_other, ActStyle::quiet, Icon::plus, true})) {
    view.ui.who.typing = true;
    view.ui.who.typed_name.clear();
  }
  return wish;
}

// ----------------------------------------------------------------------------------------------------------- when

struct Usual {
  const char* name;
  std::string_view words;
  int days_ago, hour;
};

constexpr std::size_t usual_count = 3;
std::array<Usual, usual_count> usual_times() {
  const WhoWords& w = who_words();
  return {{{"when:morning", w.morning, 0, 8}, {"when:noon", w.noon, 1, 12}, {"when:evening", w.evening, 1, 18}}};
}

std::size_t usual_columns(float width) {
  return width >= 440 ? 2 : 1;
}

Grid hour_grid(float width) {
  return grid_of(24, width >= 6 * 56 + 5 * gap ? 6 : 4);
}

Grid day_grid() {
  return grid_of(days_back + 1, 4);
}

float line_height(ScreenView& view, float width) {
  return view.pen.paragraph_height(width, Type::body_16, who_words().when_line, 3) + 12;
}

float when_height(ScreenView& view, float width) {
  if (!view.ui.who.other_time)
    return title_height + line_height(view, width) +
           grid_of(usual_count + 2, usual_columns(width), usual_key(view)).height();
  float h = title_height + day_grid().height();
  if (view.ui.who.day) h += 8 + hour_grid(width).height();
  return h + 8 + key;
}

bool in_force(const ScreenView& view, const When& when) {
  return view.ui.when && *view.ui.when == when;
}

std::optional<Wish> draw_usual(ScreenView& view, Rect area) {
  const WhoWords& w = who_words();
  Pen& pen = view.pen;
  std::optional<Wish> wish;
  pen.paragraph(area.take_top(line_height(view, area.w)), Type::body_16, pen.theme.ink2, w.when_line, 3);
  const Grid grid = grid_of(usual_count + 2, usual_columns(area.w), usual_key(view));
  std::size_t i = 0;
  if (draw_choice(pen, cell(area, grid, i++), "when:now", w.now, say(w.now_at, clock_time(view.now)), !view.ui.when,
                  true))
    wish = SetWhen{std::nullopt};
  bool usual = !view.ui.when;
  for (const Usual& one : usual_times()) {
    const When then = at_hour(before(view.today, one.days_ago), one.hour, view.now.offset_minutes);
    usual = usual || in_force(view, then);
    // What has not been yet cannot have been done then.
    const bool past = then.utc_ms <= view.now.utc_ms;
    if (draw_choice(pen, cell(area, grid, i++), one.name, one.words, clock_time(then), in_force(view, then), past))
      wish = SetWhen{then};
  }
  // The last key takes the rest of its row.
  Rect last = cell(area, grid, i);
  last.w = area.right() - last.x;
  std::string chosen;
  if (!usual) {
    const std::string day = day_near(local_day(*view.ui.when), view.today);
    const std::string time = clock_time(*view.ui.when);
    chosen = time.empty() ? day : say(w.other_chosen, day, time);
  }
  if (draw_choice(pen, last, "when:other", w.other, chosen, !usual, true)) {
    view.ui.who.other_time = true;
    view.ui.who.day.reset();
    if (!usual) view.ui.who.day = local_day(*view.ui.when);
    if (view.ui.who.day && (view.ui.who.day->days < view.today.days - days_back)) view.ui.who.day.reset();
  }
  return wish;
}

std::optional<Wish> draw_other(ScreenView& view, Rect area) {
  const WhoWords& w = who_words();
  Pen& pen = view.pen;
  WhoDraft& draft = view.ui.who;
  std::optional<Wish> wish;
  const std::int32_t offset = view.now.offset_minutes;
  const Grid days = day_grid();
  for (int ago = 0; ago <= days_back; ++ago) {
    const Day day = before(view.today, ago);
    const std::string weekday = weekday_name(day).substr(0, 3);
    const std::string text = ago == 0   ? std::string(w.today)
                             : ago == 1 ? std::string(w.yesterday)
                                        : say(w.weekday_short, weekday, civil(day).day);
    if (draw_choice(pen, cell(area, days, static_cast<std::size_t>(ago)), "day:" + std::to_string(ago), text, "",
                    draft.day && *draft.day == day, true)) {
      draft.day = day;
      wish = SetWhen{bare_day(day, offset)};
    }
  }
  area.take_top(days.height());
  if (draft.day) {
    area.take_top(8);
    const Grid hours = hour_grid(area.w);
    for (int hour = 0; hour < 24; ++hour) {
      const When then = at_hour(*draft.day, hour, offset);
      if (draw_choice(pen, cell(area, hours, static_cast<std::size_t>(hour)), "hour:" + std::to_string(hour),
                      say(w.hour, hour), "", in_force(view, then), then.utc_ms <= view.now.utc_ms))
        wish = SetWhen{then};
    }
    area.take_top(hours.height());
  }
  // Last, the day as a whole, and the way back.
  area.take_top(8);
  Rect foot = area.take_top(key);
  if (draft.day) {
    const Rect no_hour = foot.take_right((foot.w - gap) / 2, gap);
    const When bare = bare_day(*draft.day, offset);
    if (draw_choice(pen, no_hour, "hour:none", w.no_hour, "", in_force(view, bare), true)) wish = SetWhen{bare};
  }
  if (draw_act(pen, foot, {"when:usual", w.back_to_usual, ActStyle::square, Icon::back, true}))
    draft.other_time = false;
  return wish;
}

std::optional<Wish> draw_when(ScreenView& view, Rect area) {
  const WhoWords& w = who_words();
  const bool other = view.ui.who.other_time;
  view.pen.text_in(area.take_top(title_height), Type::heading_24, view.pen.theme.ink, other ? w.which_day : w.when);
  return other ? draw_other(view, area) : draw_usual(view, area);
}

std::optional<Wish> draw_done(ScreenView& view, Rect area) {
  const WhoWords& w = who_words();
  const bool can = !view.ui.helper.empty();
  const std::string text = can ? say(w.done_at, by_words(view)) : std::string(w.done);
  const Type type =
      view.pen.fitting({Type::heading_28, Type::heading_24, Type::heading_20, Type::heading_18}, text, area.w - 90);
  const bool fits = view.pen.width(type, text) <= area.w - 90;
  if (draw_act(view.pen, area, {"who:done", fits ? text : std::string(w.done), ActStyle::main, Icon::tick, can}))
    return GoBack{};
  return std::nullopt;
}

// What was tapped before anybody said who they are: nothing of it is lost.
void draw_waiting(ScreenView& view) {
  if (!view.ui.waiting_for_helper) return;
  const WhoWords& w = who_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  Layout& l = view.layout;
  const std::string text = say(w.waits, view.ui.waiting_for_helper->slip);
  const float room = l.content.w - 72;
  const float head = pen.paragraph_height(room, Type::strong_18, text, 3);
  const float line = pen.paragraph_height(room, Type::body_16, w.waits_line, 2);
  const Rect panel = l.content.take_top(head + line + 24, 16);
  pen.fill(panel, t.proposed, 8);
  pen.frame(panel, t.night ? t.straw : t.ink, 2, 8);
  draw_icon(pen, Icon::clock, {panel.x + 32, panel.middle().y}, 28, t.ink);
  pen.paragraph({panel.x + 60, panel.y + 12, room, head}, Type::strong_18, t.ink, text, 3);
  pen.paragraph({panel.x + 60, panel.y + 12 + head, room, line}, Type::body_16, t.ink2, w.waits_line, 2);
}

}  // namespace

std::optional<Wish> draw_who_screen(ScreenView& view) {
  const WhoWords& w = who_words();
  Layout& l = view.layout;
  Pen& pen = view.pen;
  std::optional<Wish> wish = draw_top(view, {std::string(w.title), std::string(w.second), true, false, false, false});
  draw_waiting(view);

  if (l.landscape()) {
    const bool letters = writes_a_name(view);
    Layout::Columns split = l.columns(l.content, letters ? 0.6F : 0.5F, 36);
    // Reading hand: who. Acting hand: when, and what leads back.
    Rect who = split.reading;
    Rect when = split.acting;
    who.h = when.h = l.page.bottom() - l.content.y;
    const Rect done{when.x, l.content.bottom() - 84, when.w, 68};
    when.h = done.y - 12 - when.y;
    Rect inside{who.x, pen.begin_scroll("who", who, who_height(view, who.w) + 20), who.w, 0};
    if (const auto asked = draw_who(view, inside)) wish = asked;
    pen.end_scroll("who");
    inside = {when.x, pen.begin_scroll("when", when, when_height(view, when.w)), when.w, 0};
    if (const auto asked = draw_when(view, inside)) wish = asked;
    pen.end_scroll("when");
    if (const auto asked = draw_done(view, done)) wish = asked;
    return wish;
  }

  // One above the other; what leads back stays in sight, low for the thumb.
  const float width = l.content.w;
  const Rect done{l.content.x, l.page.bottom() - 84, width, 68};
  const Rect panel{l.page.x, l.content.y, l.page.w, done.y - 12 - l.content.y};
  const float of_who = who_height(view, width);
  const float of_when = when_height(view, width);
  Rect inside{l.content.x, pen.begin_scroll("who", panel, of_who + 24 + of_when + 8), width, 0};
  if (const auto asked = draw_who(view, inside.take_top(of_who, 24))) wish = asked;
  if (const auto asked = draw_when(view, inside.take_top(of_when))) wish = asked;
  pen.end_scroll("who");
  if (const auto asked = draw_done(view, done)) wish = asked;
  return wish;
}

}  // namespace motherbulb

// Start: one bulb cut crosswise whose four quarters are the four daily jobs; below or beside it what is due first, and
// the year in the house.

#include <algorithm>
#include <map>

#include "app/due_words.hpp"
#include "app/screens/due_parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/season_band.hpp"
#include "app/widgets/slips.hpp"
#include "app/widgets/start_bulb.hpp"
#include "app/words.hpp"
#include "app/words/house.hpp"
#include "app/words/rest.hpp"

namespace motherbulb {
namespace {

constexpr std::array<Screen, 4> screen_of_quarter{Screen::unpot_choose, Screen::pots, Screen::due, Screen::merge};

struct Link {
  const char* target;
  Icon icon;
  std::string_view words;
  Screen to;
  std::size_t cells;
};

std::array<QuarterView, 4> quarters(ScreenView& view) {
  const Words& w = words();
  const HouseCounts& counts = view.rows.counts();
  const int cut = counts.of_pieces;
  const int noted = counts.with_damage;
  const int held = counts.on_hold;
  int waiting = 0;
  for (const ParcelPreview& one : view.ui.merge.waiting) waiting += one.readable && one.fresh > 0 ? 1 : 0;
  const int matters = static_cast<int>(view.rows.matters().size());

  std::array<QuarterView, 4> quarters;
  quarters[0] = {"quarter:unpot", std::string(w.quarter_unpot),
                 std::string(cut == 1 ? w.quarter_unpot_line_one : w.quarter_unpot_line), cut, false};
  std::string pests(noted == 1 ? w.quarter_pests_line_one : w.quarter_pests_line);
  if (held > 0 && !view.layout.phone()) pests = say(w.quarter_pests_hold, held);
  quarters[1] = {"quarter:pests", std::string(w.quarter_pests), pests, noted, false};
  const RestWords& rest = rest_words();
  std::string due(rest.quarter_line);
  if (counts.overdue > 0)
    due = say(view.layout.phone() ? rest.quarter_line_phone : rest.quarter_line_overdue, grouped(counts.overdue));
  quarters[2] = {"quarter:rest", std::string(w.quarter_rest), due, counts.due, counts.overdue > 0};
  QuarterView& merge = quarters[3];
  merge = {"quarter:merge", std::string(w.quarter_merge), std::string(w.quarter_merge_none), 0, false};
  if (waiting > 0) {
    merge.count = waiting;
    merge.line = waiting == 1 ? w.quarter_merge_waits_one : w.quarter_merge_waits;
    merge.straw = true;
  } else if (matters > 0) {
    merge.count = matters;
    merge.line = w.quarter_merge_settle;
    merge.straw = true;
  }
  return quarters;
}

// ------------------------------------------------------------------------------------------------ the year

constexpr std::size_t most_years = 8;

// Of the clones with most pots of bulbs, where most of these pots stand in their year; made anew only when the book or
// the day has changed.
void refresh_years(ScreenView& view) {
  DueDraft::House& house = view.ui.due.house;
  const bool south = view.ui.settings.south;
  if (house.made && house.revision == view.rows.revision() && house.today == view.today && house.south == south) return;
  house = {};
  house.made = true;
  house.revision = view.rows.revision();
  house.today = view.today;
  house.south = south;
  struct Alike {
    const PotView* first = nullptr;
    std::int64_t pots = 0;
  };
  struct OfClone {
    std::int64_t pots = 0;
    std::map<std::pair<int, std::int32_t>, Alike> alike;  // by stage and since when
  };
  std::map<std::string, OfClone> clones;
  for (const PotView* pot : view.rows.pots()) {
    if (pot->of_pieces() || pot->batch.clone.empty()) continue;
    OfClone& one = clones[pot->batch.clone];
    ++one.pots;
    Alike& alike = one.alike[{static_cast<int>(pot->stage), local_day(pot->since).days}];
    if (alike.first == nullptr) alike.first = pot;
    ++alike.pots;
  }
  std::vector<const std::pair<const std::string, OfClone>*> order;
  for (const auto& one : clones) order.push_back(&one);
  std::stable_sort(order.begin(), order.end(),
                   [](const auto* a, const auto* b) { return a->second.pots > b->second.pots; });
  if (order.size() > most_years) order.resize(most_years);
  for (const auto* one : order) {
    const Alike* most = nullptr;
    for (const auto& [since, alike] : one->second.alike) {
      if (most == nullptr || alike.pots > most->pots) most = &alike;
    }
    const PotView& pot = *most->first;
    house.years.push_back(
        {one->first, one->second.pots, season_of(view.rows.plans(), pot.batch, pot.pot, where_of(view), view.today)});
  }
}

constexpr float year_head = 34;
constexpr float year_foot = 34;
constexpr float year_least = 36;  // a clone's line

// Title and months, a line a clone, the legend; as many clones as there is room for, none where there is not even room
// for two.
void draw_years(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  refresh_years(view);
  const std::vector<DueDraft::House::Year>& years = view.ui.due.house.years;
  const float room = area.h - year_head - year_foot;
  const auto shown = std::min(years.size(), static_cast<std::size_t>(std::max(0.0F, room / year_least)));
  if (shown == 0 || (shown == 1 && years.size() > 1)) return;
  const float pitch = std::clamp(room / static_cast<float>(shown), year_least, 46.0F);
  const float names = std::clamp(area.w * 0.34F, 180.0F, 230.0F);
  Rect head = area.take_top(year_head);
  pen.text_in({head.x, head.y, names - 8, head.h},
              pen.fitting({Type::heading_24, Type::heading_20}, rest_words().year_title, names - 8), t.ink,
              rest_words().year_title);
  const SeasonBand months = years.front().band;
  draw_season_months(pen, {head.x + names, head.y + 4, head.w - names, head.h - 6}, months);
  for (std::size_t i = 0; i < shown; ++i) {
    const DueDraft::House::Year& year = years[i];
    Rect line = area.take_top(pitch);
    Rect name = line.take_left(names);
    const std::string pots = grouped(year.pots);
    const Rect count = name.take_right(pen.width(Type::heading_18, pots) + 14, 6);
    pen.text_in({count.x, count.y, count.w - 14, count.h}, Type::heading_18, t.ink2, pots, Align::right);
    const std::string clone = clone_words(year.clone);
    const Type type = pen.fitting({Type::name_23, Type::strong_18, Type::strong_16, Type::strong_15}, clone, name.w);
    pen.text_in(name, type, t.ink, clone);
    const float high = std::clamp(pitch - 2 * season_over - 4, 18.0F, 28.0F);
    draw_season_band(pen, {line.x, line.middle().y - high / 2, line.w, high}, year.band);
  }
  const Rect foot = area.take_top(year_foot);
  draw_season_legend(pen, {foot.x + (area.w > 640 ? names : 0), foot.y + 4, foot.w - (area.w > 640 ? names : 0), 28});
}

// ------------------------------------------------------------------------------------------------ the links

std::vector<Link> links() {
  const Words& w = words();
  const HouseWords& house = house_words();
  return {{"link:outlook", Icon::outlook, w.link_outlook, Screen::outlook, 1},
          {"link:clones", Icon::clones, w.link_clones, Screen::clones, 1},
          {"link:cutting", Icon::cutting, w.link_cutting, Screen::cutting, 1},
          {"link:labels", Icon::label, w.link_labels, Screen::labels, 1},
          {"link:find", Icon::find, house.link_find, Screen::find, 1},
          {"link:settings", Icon::settle, house.link_settings, Screen::settings, 1},
          {"link:parcels", Icon::stick, house.link_parcels, Screen::parcels, 2}};
}

constexpr float link_height = 60;
constexpr float link_gap = 10;

float links_height(std::size_t columns) {
  std::size_t cells = 0;
  for (const Link& link : links()) cells += link.cells;
  const std::size_t rows = (cells + columns - 1) / columns;
  return static_cast<float>(rows) * (link_height + link_gap) - link_gap;
}

// Those from `first` on, `count` of them, in cells of even width; one with more to say takes two.
std::optional<Wish> draw_links(ScreenView& view, Rect area, std::size_t columns, std::size_t first, std::size_t count) {
  std::optional<Wish> wish;
  const float wide = (area.w - link_gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  std::size_t at = 0;
  const std::vector<Link> all = links();
  for (std::size_t i = first; i < std::min(all.size(), first + count); ++i) {
    const Link& link = all[i];
    const auto cells = static_cast<float>(std::min(link.cells, columns));
    const Rect cell{area.x + static_cast<float>(at % columns) * (wide + link_gap),
                    area.y + static_cast<float>(at / columns) * (link_height + link_gap),
                    wide * cells + link_gap * (cells - 1), link_height};
    at += link.cells;
    if (draw_act(view.pen, cell, {link.target, link.words, ActStyle::link, link.icon, true})) wish = Go{link.to, {}};
  }
  return wish;
}

// ------------------------------------------------------------------------------------------------ what is due first

constexpr float due_title = 48;
constexpr float due_none = 76;

std::size_t open_groups(const ScreenView& view) {
  return static_cast<std::size_t>(view.rows.counts().due);
}

// With so many rows at most.
float due_height(const ScreenView& view, std::size_t most, float row) {
  const std::size_t shown = std::min(most, open_groups(view));
  return due_title + (shown == 0 ? due_none : row * static_cast<float>(shown));
}

std::string none_due_words(const ScreenView& view) {
  const RestWords& w = rest_words();
  const DueGroup* next = nullptr;
  for (const DueGroup& group : view.rows.due()) {
    if (next == nullptr || group.due().opens < next->due().opens) next = &group;
  }
  if (next == nullptr) return std::string(w.none_due);
  return say(w.none_due_next, name_of(next->due().step), clone_words(next->batch()),
             day_near(next->due().opens, view.today));
}

std::optional<Wish> draw_due_first(ScreenView& view, Rect area, std::size_t most, float row_high) {
  Pen& pen = view.pen;
  const RestWords& w = rest_words();
  const std::size_t open = open_groups(view);
  std::optional<Wish> wish;
  const Rect title = area.take_top(due_title);
  pen.text_in(title, Type::heading_24, pen.theme.ink, w.due_first);
  if (draw_word_link(pen, {title.right(), title.middle().y}, "all due",
                     say(w.due_all, grouped(view.rows.counts().due))))
    wish = Go{Screen::due, {}};
  if (open == 0) {
    const Rect panel = area.take_top(due_none);
    pen.fill(panel, pen.theme.sheet, 8);
    const Rect inside = panel.inset(20, 12);
    const std::string text = none_due_words(view);
    const float high = pen.paragraph_height(inside.w, Type::body_16, text, 2);
    pen.paragraph({inside.x, panel.middle().y - high / 2, inside.w, high}, Type::body_16, pen.theme.ink2, text, 2);
    return wish;
  }
  const std::size_t rows = std::min(most, open);
  pen.fill({area.x, area.y, area.w, row_high * static_cast<float>(rows)}, pen.theme.sheet, 8);
  std::size_t shown = 0;
  for (const DueGroup& group : view.rows.due()) {
    if (shown == rows) break;
    if (!group.due().open(view.today)) continue;
    ReminderRow row = reminder_of(view, group);
    const std::string key = due_key(group);
    row.with_window = false;
    row.row = "due:row:" + key;
    row.act_name = "due:act:" + key;
    row.main = row.main || shown == 0;
    const ReminderAnswer answer = draw_reminder(pen, area.take_top(row_high), row, shown > 0, view.layout.phone());
    ++shown;
    if (answer.acted) {
      wish = do_due(view, group);
    } else if (answer.chosen) {
      // The whole group stands on the due screen, with what it is due for.
      view.ui.due.chosen = chosen_of(group);
      view.ui.due.show = DueDraft::Show::now;
      view.ui.due.only.reset();
      view.ui.due.list.made = false;
      wish = Go{Screen::due, {}};
    }
  }
  return wish;
}

struct RiskWords {
  std::string_view title, line;
};

RiskWords risk_words(StorageRisk risk) {
  const HouseWords& w = house_words();
  switch (risk) {
    case StorageRisk::full:
      return {w.risk_full, w.risk_full_line};
    case StorageRisk::only_here:
      return {w.risk_only_here, w.risk_only_here_line};
    case StorageRisk::may_be_cleared:
      return {w.risk_cleared, w.risk_cleared_line};
    case StorageRisk::none:
      break;
  }
  return {};
}

// What to do first where the book is empty: one act, and the other ways in.
struct FirstSteps {
  float first = 0, merge = 0, rest = 0;  // heights
  [[nodiscard]] float all() const { return first + merge + rest; }
};

constexpr float first_inner = 24;

FirstSteps first_steps(ScreenView& view, float width) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const float room = width - 2 * first_inner;
  FirstSteps steps;
  steps.first = 40 + pen.paragraph_height(room, Type::body_18, w.empty_line, 5) + 16 + 68 + 20;
  steps.merge = pen.paragraph_height(room, Type::strong_18, w.empty_other, 3) + 10 + 60 + 16;
  if (!view.ui.has_commands) {
    steps.rest = 60;
    return steps;
  }
  steps.rest = pen.paragraph_height(room, Type::body_16, w.empty_table, 3) + 6 +
               pen.paragraph_height(room, Type::body_16, w.empty_demo, 3) + 30;
  return steps;
}

float first_steps_height(ScreenView& view, float width) {
  return first_steps(view, width).all() + 2 * first_inner;
}

std::optional<Wish> draw_first_steps(ScreenView& view, Rect area) {
  const HouseWords& w = house_words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const FirstSteps steps = first_steps(view, area.w);
  std::optional<Wish> wish;
  const Rect panel = area.take_top(steps.all() + 2 * first_inner);
  pen.fill(panel, t.sheet, 8);
  Rect inside = panel.inset(first_inner);
  Rect first = inside.take_top(steps.first);
  pen.text_in(first.take_top(40), Type::heading_28, t.ink, w.empty_title);
  first.take_top(pen.paragraph(first, Type::body_18, t.ink2, w.empty_line, 5), 16);
  if (draw_act(pen, first.take_top(68), {"first:bulbs", w.empty_act, ActStyle::main, Icon::bulb, true}))
    wish = Go{Screen::cut, {}};
  pen.fill({inside.x, inside.y - 10, inside.w, 1.5F}, t.well);
  Rect merge = inside.take_top(steps.merge);
  merge.take_top(pen.paragraph(merge, Type::strong_18, t.ink, w.empty_other, 3), 10);
  if (draw_act(pen, merge.take_top(60), {"first:merge", w.empty_merge, ActStyle::quiet, Icon::merge, true}))
    wish = Go{Screen::merge, {}};
  if (!view.ui.has_commands) {
    if (draw_act(pen, inside.take_top(60), {"first:demo", w.empty_look, ActStyle::link, Icon::bulb, true}))
      wish = OpenDemo{};
    return wish;
  }
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.empty_table, 3), 6);
  inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, w.empty_demo, 3));
  const Type type = pen.fitting({Type::strong_16, Type::strong_15}, w.empty_demo_command, inside.w);
  pen.text_in(inside.take_top(24, 6), type, t.ink, w.empty_demo_command);
  return wish;
}

}  // namespace

std::optional<Wish> draw_start_screen(ScreenView& view) {
  const Words& w = words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  std::optional<Wish> wish;

  const YearMonthDay date = civil(view.today);
  const std::string title = say(w.day_title, weekday_name(view.today), date.day, month_name(date.month));
  const bool theme_key = !l.landscape();
  const float right = kept_room(view) + (theme_key ? 72.0F : 0.0F);
  draw_head(pen, l, {title, "", false, false, right});
  // Who is here stands under the date, and is a key.
  const std::string who = view.ui.helper.empty() ? std::string(w.who_is_here)
                          : view.ui.when         ? by_words(view)
                                                 : view.ui.helper;
  const float who_y = l.phone() ? 61.0F : l.portrait() ? 84.0F : 80.0F;
  const Type who_type = l.phone() ? Type::strong_15 : Type::strong_18;
  const float who_width = pen.width(who_type, who) + 22;
  const Rect who_key{l.head.x, who_y - 49, std::max(120.0F, who_width), 56};
  if (pen.touch.hit("who", who_key)) wish = Go{Screen::who, {}};
  const Color who_color = is_pressed(pen, "who") ? pen.theme.leaf : pen.theme.tunic;
  pen.text(who_type, {l.head.x, who_y}, who_color, who);
  draw_icon(pen, Icon::next, {l.head.x + who_width - 8, who_y - pen.cap(who_type) / 2}, 14, who_color);

  if (theme_key) {
    const float top = l.portrait() ? 28.0F : 10.0F;
    if (draw_icon_key(pen, {l.head.right() - 56, top, 56, 56}, "theme",
                      view.ui.settings.night ? Icon::sun : Icon::moon))
      wish = ChangeTheme{};
    l.head.w -= 72;
  }
  if (draw_kept(view)) wish = UndoKept{};
  if (draw_trouble(view)) wish = PutErrorAside{};
  const bool at_risk = view.ui.at_risk != StorageRisk::none && !view.ui.trouble;
  const RiskWords risk = risk_words(view.ui.at_risk);
  const float risk_height =
      at_risk ? notice_strip_height(pen, l.content.w, risk.title, risk.line, house_words().risk_act) : 0.0F;
  const auto draw_risk = [&](Rect area) {
    if (draw_notice_strip(pen, area, {risk.title, risk.line, "risk:hand out", house_words().risk_act}))
      wish = Go{Screen::parcels, {}};
  };
  // On a phone it scrolls with the rest: there is no room to lose above it.
  if (at_risk && !l.phone()) draw_risk(l.content.take_top(risk_height, 12));

  const std::array<QuarterView, 4> four = quarters(view);
  const int week = iso_week(view.today).week;
  std::optional<std::size_t> opened;
  // Nothing was begun: what to do first stands in the place of the list.
  const bool empty = view.rows.batches().empty();
  const auto draw_steps = [&](Rect area) {
    if (const auto asked = draw_first_steps(view, area)) wish = asked;
  };
  const auto draw_due = [&](Rect area, std::size_t most, float row) {
    if (const auto asked = draw_due_first(view, area, most, row)) wish = asked;
  };
  const auto draw_some_links = [&](Rect area, std::size_t columns, std::size_t first, std::size_t count) {
    if (const auto asked = draw_links(view, area, columns, first, count)) wish = asked;
  };
  // The last three in one row, each as wide as its words want.
  const auto draw_link_row = [&](Rect row) {
    constexpr std::array<float, 3> shares{0.31F, 0.28F, 0.41F};
    const float room = row.w - 2 * link_gap;
    for (std::size_t i = 0; i < shares.size(); ++i)
      draw_some_links(row.take_left(i + 1 == shares.size() ? row.w : room * shares[i], link_gap), 1, 4 + i, 1);
  };
  if (l.landscape()) {
    // One row of links along the foot: four below the bulb, the others below the list.
    Rect list = l.content;
    Rect left = list.take_left(list.w * 0.52F, 30);
    const Rect links = left.take_bottom(link_height, 16);
    opened = draw_start_bulb(pen, left, false, four, w.week, week);
    draw_some_links(links, 4, 0, 4);
    draw_link_row(list.take_bottom(link_height, 16));
    if (empty) {
      draw_steps(list);
    } else {
      // Three rows, and where the window is high a fourth.
      const std::size_t rows = list.h >= 660 ? 4 : 3;
      const float row = list.h >= 580 ? 92.0F : 84.0F;
      draw_due(list.take_top(due_height(view, rows, row), 14), rows, row);
      draw_years(view, list);
    }
  } else if (l.portrait()) {
    Rect area = l.content;
    const float links = links_height(4);
    constexpr float row = 84;
    constexpr float years = year_head + 3 * year_least + year_foot;
    const float due = due_height(view, 3, row);
    const float least = empty ? first_steps_height(view, area.w) : due + 8 + years;
    constexpr float bulb = 404;
    if (area.h >= bulb + 16 + links + 16 + least) {
      opened = draw_start_bulb(pen, area.take_top(bulb, 16), false, four, w.week, week);
      draw_some_links(area.take_bottom(links, 16), 4, 0, 7);
      if (empty) {
        draw_steps(area);
      } else {
        draw_due(area.take_top(due, 8), 3, row);
        draw_years(view, area);
      }
    } else {
      const Rect panel{l.page.x, area.y, l.page.w, l.page.bottom() - area.y};
      const float content = 420 + 24 + least + 24 + links + 20;
      Rect inside{area.x, pen.begin_scroll("start", panel, content), area.w, content};
      opened = draw_start_bulb(pen, inside.take_top(420, 24), false, four, w.week, week);
      if (empty) {
        draw_steps(inside.take_top(least, 24));
        draw_some_links(inside.take_top(links), 4, 0, 7);
      } else {
        draw_due(inside.take_top(due, 8), 3, row);
        draw_years(view, inside.take_top(years, 24));
        draw_some_links(inside.take_top(links), 4, 0, 7);
      }
      pen.end_scroll("start");
    }
  } else {
    const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};
    const float row = reminder_height(l);
    const float list = empty ? first_steps_height(view, l.content.w) : due_height(view, 3, row);
    const float links = links_height(2);
    const float strip = at_risk ? risk_height + 16 : 0.0F;
    const float content = strip + 322 + 20 + list + 20 + links + 20;
    Rect inside{l.content.x, pen.begin_scroll("start", panel, content), l.content.w, content};
    if (at_risk) draw_risk(inside.take_top(risk_height, 16));
    // In a low, wide window it keeps the shape of a bulb.
    Rect bulb = inside.take_top(322, 20);
    const float wide = std::min(bulb.w, 480.0F);
    bulb = {bulb.middle().x - wide / 2, bulb.y, wide, bulb.h};
    opened = draw_start_bulb(pen, bulb, true, four, w.week, week);
    if (empty) {
      draw_steps(inside.take_top(list, 20));
    } else {
      draw_due(inside.take_top(list, 20), 3, row);
    }
    draw_some_links(inside.take_top(links), 2, 0, 7);
    pen.end_scroll("start");
  }
  if (opened) wish = Go{screen_of_quarter[*opened], {}};
  return wish;
}

}  // namespace motherbulb

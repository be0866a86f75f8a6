// Start: one bulb cut crosswise whose four quarters are the four daily jobs; below or beside it what stands in the
// house.

#include <algorithm>
#include <map>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/widgets/start_bulb.hpp"
#include "app/words.hpp"
#include "app/words/house.hpp"

namespace motherbulb {
namespace {

constexpr std::array<Screen, 4> screen_of_quarter{Screen::unpot_choose, Screen::pots, Screen::rest, Screen::merge};

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
  const int resting = counts.resting;
  int waiting = 0;
  for (const ParcelPreview& one : view.ui.merge.waiting) waiting += one.readable && one.fresh > 0 ? 1 : 0;
  const int matters = static_cast<int>(view.rows.matters().size());

  std::array<QuarterView, 4> quarters;
  quarters[0] = {"quarter:unpot", std::string(w.quarter_unpot),
                 std::string(cut == 1 ? w.quarter_unpot_line_one : w.quarter_unpot_line), cut, false};
  std::string pests(noted == 1 ? w.quarter_pests_line_one : w.quarter_pests_line);
  if (held > 0 && !view.layout.phone()) pests = say(w.quarter_pests_hold, held);
  quarters[1] = {"quarter:pests", std::string(w.quarter_pests), pests, noted, false};
  quarters[2] = {"quarter:rest", std::string(w.quarter_rest),
                 std::string(resting == 1 ? w.quarter_rest_line_one : w.quarter_rest_line), resting, false};
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
  if (view.layout.phone() && quarters[2].line.size() > 14) quarters[2].line = "at rest";
  return quarters;
}

// The clones with the bulbs that are there, most first.
struct CloneRow {
  std::string clone;
  std::string genus;
  std::int64_t bulbs = 0;
  std::int64_t pieces = 0;
  std::int64_t batches = 0;
};

std::vector<CloneRow> clones(ScreenView& view) {
  std::vector<CloneRow> rows;
  for (const CloneBalance& one : view.rows.stock().balance) {
    rows.push_back({one.clone, one.genus, one.bulbs.there, one.pieces.growing + one.pieces.waiting, one.batches});
  }
  std::stable_sort(rows.begin(), rows.end(), [](const CloneRow& a, const CloneRow& b) { return a.bulbs > b.bulbs; });
  return rows;
}

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

std::optional<Wish> draw_house(ScreenView& view, Rect area, std::size_t most) {
  const Words& w = words();
  Pen& pen = view.pen;
  const std::vector<CloneRow> rows = clones(view);
  const Rect title = area.take_top(48);
  pen.text_in(title, Type::heading_24, pen.theme.ink, w.start_list);
  std::optional<Wish> wish;
  if (rows.size() > most &&
      draw_word_link(pen, {title.right(), title.middle().y}, "all clones", say(w.start_list_all, rows.size())))
    wish = Go{Screen::clones, {}};
  const float h = row_height(view.layout, false);
  const std::size_t shown = std::min({rows.size(), most, static_cast<std::size_t>(std::max(1.0F, area.h / h))});
  const Rect panel = area.take_top(h * static_cast<float>(shown));
  pen.fill(panel, pen.theme.sheet, 8);
  Rect rest = panel;
  for (std::size_t i = 0; i < shown; ++i) {
    const CloneRow& one = rows[i];
    RowView row;
    row.with_mark = false;
    row.name = clone_words(one.clone);
    row.line =
        view.layout.phone() ? one.genus : say(w.start_list_line, one.genus, counted(one.batches, "batch", "batches"));
    if (one.pieces > 0) row.line += ", " + grouped(one.pieces) + " forming";
    row.right = grouped(one.bulbs);
    row.right_word = one.bulbs == 1 ? w.bulb : w.bulbs;
    row.target = "clone:" + one.genus + "/" + one.clone;
    if (draw_row(pen, rest.take_top(h), row, i > 0, view.layout.phone())) {
      Subject about;
      about.clone = one.clone;
      about.genus = one.genus;
      wish = Go{Screen::clone, about};
    }
  }
  return wish;
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
  for (const auto& text : {w.empty_table, w.empty_demo}) {
    steps.rest += pen.paragraph_height(room, Type::body_16, text, 3) + 30;
  }
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
  const std::array<std::pair<std::string_view, std::string_view>, 2> typed{
      {{w.empty_table, w.empty_table_command}, {w.empty_demo, w.empty_demo_command}}};
  for (const auto& [text, command] : typed) {
    inside.take_top(pen.paragraph(inside, Type::body_16, t.ink2, text, 3));
    const Type type = pen.fitting({Type::strong_16, Type::strong_15}, command, inside.w);
    pen.text_in(inside.take_top(24, 6), type, t.ink, command);
  }
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

  const std::array<QuarterView, 4> four = quarters(view);
  const int week = iso_week(view.today).week;
  std::optional<std::size_t> opened;
  // Nothing was begun: what to do first stands in the place of the list.
  const bool empty = view.rows.batches().empty();
  const auto draw_list = [&](Rect area, std::size_t most) {
    if (const auto asked = empty ? draw_first_steps(view, area) : draw_house(view, area, most)) wish = asked;
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
    draw_list(list, 8);
  } else if (l.portrait()) {
    Rect area = l.content;
    const float links = links_height(4);
    const float least = empty ? first_steps_height(view, area.w) : 48 + row_height(l, false) * 3;
    if (area.h >= 420 + 24 + links + 20 + least) {
      opened = draw_start_bulb(pen, area.take_top(420, 24), false, four, w.week, week);
      draw_some_links(area.take_bottom(links, 20), 4, 0, 7);
      draw_list(area, 6);
    } else {
      const Rect panel{l.page.x, area.y, l.page.w, l.page.bottom() - area.y};
      const float list = empty ? least : 48 + row_height(l, false) * 5;
      const float content = 420 + 24 + list + 24 + links + 20;
      Rect inside{area.x, pen.begin_scroll("start", panel, content), area.w, content};
      opened = draw_start_bulb(pen, inside.take_top(420, 24), false, four, w.week, week);
      if (empty) {
        draw_list(inside.take_top(list, 24), 5);
        draw_some_links(inside.take_top(links), 4, 0, 7);
      } else {
        draw_some_links(inside.take_top(links, 24), 4, 0, 7);
        draw_list(inside, 5);
      }
      pen.end_scroll("start");
    }
  } else {
    const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};
    const std::size_t shown = std::min<std::size_t>(5, std::max<std::size_t>(1, view.rows.stock().balance.size()));
    const float list =
        empty ? first_steps_height(view, l.content.w) : 48 + row_height(l, false) * static_cast<float>(shown);
    const float links = links_height(2);
    const float content = 322 + 20 + list + 20 + links + 20;
    Rect inside{l.content.x, pen.begin_scroll("start", panel, content), l.content.w, content};
    // In a low, wide window it keeps the shape of a bulb.
    Rect bulb = inside.take_top(322, 20);
    const float wide = std::min(bulb.w, 480.0F);
    bulb = {bulb.middle().x - wide / 2, bulb.y, wide, bulb.h};
    opened = draw_start_bulb(pen, bulb, true, four, w.week, week);
    draw_list(inside.take_top(list, 20), shown);
    draw_some_links(inside.take_top(links), 2, 0, 7);
    pen.end_scroll("start");
  }
  if (opened) wish = Go{screen_of_quarter[*opened], {}};
  return wish;
}

}  // namespace motherbulb

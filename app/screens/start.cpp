// Start: one bulb cut crosswise whose four quarters are the four daily jobs; below or beside it what stands in the
// house.

#include <algorithm>
#include <map>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/widgets/start_bulb.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr std::array<Screen, 4> screen_of_quarter{Screen::unpot_choose, Screen::pots, Screen::rest, Screen::merge};

struct Link {
  const char* target;
  Icon icon;
  std::string_view words;
  Screen to;
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

std::optional<Wish> draw_links(ScreenView& view, Rect area, std::size_t columns) {
  const Words& w = words();
  const std::array<Link, 4> links{{{"link:outlook", Icon::outlook, w.link_outlook, Screen::outlook},
                                   {"link:clones", Icon::clones, w.link_clones, Screen::clones},
                                   {"link:cutting", Icon::cutting, w.link_cutting, Screen::cutting},
                                   {"link:labels", Icon::label, w.link_labels, Screen::labels}}};
  std::optional<Wish> wish;
  constexpr float gap = 10;
  const std::size_t rows = (links.size() + columns - 1) / columns;
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const float high = (area.h - gap * static_cast<float>(rows - 1)) / static_cast<float>(rows);
  for (std::size_t i = 0; i < links.size(); ++i) {
    const Rect cell{area.x + static_cast<float>(i % columns) * (wide + gap),
                    area.y + static_cast<float>(i / columns) * (high + gap), wide, high};
    if (draw_act(view.pen, cell, {links[i].target, links[i].words, ActStyle::link, links[i].icon, true}))
      wish = Go{links[i].to, {}};
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
  if (rows.empty()) {
    const Rect panel = area.take_top(std::min(area.h, 190.0F));
    pen.fill(panel, pen.theme.sheet, 8);
    if (draw_empty(pen, panel.inset(20, 20), w.clones_none, "", "")) return wish;
    return wish;
  }
  const float h = row_height(view.layout, false);
  const std::size_t shown = std::min({rows.size(), most, static_cast<std::size_t>(std::max(1.0F, area.h / h))});
  const Rect panel = area.take_top(h * static_cast<float>(shown));
  pen.fill(panel, pen.theme.sheet, 8);
  Rect rest = panel;
  for (std::size_t i = 0; i < shown; ++i) {
    const CloneRow& one = rows[i];
    RowView row;
    row.with_mark = false;
    row.name = one.clone.empty() ? std::string(w.clone_unknown) : say(w.clone_quoted, one.clone);
    row.line =
        view.layout.phone() ? one.genus : say(w.start_list_line, one.genus, counted(one.batches, "batch", "batches"));
    if (one.pieces > 0) row.line += ", " + grouped(one.pieces) + " forming";
    row.right = grouped(one.bulbs);
    row.right_word = one.bulbs == 1 ? w.bulb : w.bulbs;
    draw_row(pen, rest.take_top(h), row, i > 0, view.layout.phone());
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
  const std::string who = view.ui.helper.empty() ? std::string(w.who_is_here) : view.ui.when ? by_words(view) : view.ui.helper;
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
    if (draw_icon_key(pen, {l.head.right() - 56, top, 56, 56}, "theme", view.ui.settings.night ? Icon::sun : Icon::moon))
      wish = ChangeTheme{};
    l.head.w -= 72;
  }
  if (draw_kept(view)) wish = UndoKept{};
  if (draw_trouble(view)) wish = PutErrorAside{};

  const std::array<QuarterView, 4> four = quarters(view);
  const int week = iso_week(view.today).week;
  std::optional<std::size_t> opened;
  if (l.landscape()) {
    Rect left = l.content;
    Rect rest = left.take_left(left.w * 0.52F, 30);
    std::swap(left, rest);
    const Rect links = left.take_bottom(60, 16);
    opened = draw_start_bulb(pen, left, false, four, w.week, week);
    if (const auto asked = draw_links(view, links, left.w > 600 ? 4 : 4)) wish = asked;
    if (const auto asked = draw_house(view, rest, 8)) wish = asked;
  } else if (l.portrait()) {
    Rect area = l.content;
    if (area.h >= 760) {
      opened = draw_start_bulb(pen, area.take_top(420, 24), false, four, w.week, week);
      const Rect links = area.take_bottom(60, 20);
      if (const auto asked = draw_links(view, links, 4)) wish = asked;
      if (const auto asked = draw_house(view, area, 6)) wish = asked;
    } else {
      const Rect panel{l.page.x, area.y, l.page.w, l.page.bottom() - area.y};
      const float content = 420 + 24 + 48 + row_height(l, false) * 5 + 24 + 60 + 20;
      Rect inside{area.x, pen.begin_scroll("start", panel, content), area.w, content};
      opened = draw_start_bulb(pen, inside.take_top(420, 24), false, four, w.week, week);
      if (const auto asked = draw_links(view, inside.take_top(60, 24), 4)) wish = asked;
      if (const auto asked = draw_house(view, inside, 5)) wish = asked;
      pen.end_scroll("start");
    }
  } else {
    const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};
    const std::size_t shown = std::min<std::size_t>(5, std::max<std::size_t>(1, view.rows.stock().balance.size()));
    const float list =
        48 + (view.rows.stock().balance.empty() ? 240.0F : row_height(l, false) * static_cast<float>(shown));
    const float content = 322 + 20 + list + 20 + 130 + 20;
    Rect inside{l.content.x, pen.begin_scroll("start", panel, content), l.content.w, content};
    opened = draw_start_bulb(pen, inside.take_top(322, 20), true, four, w.week, week);
    if (const auto asked = draw_house(view, inside.take_top(list, 20), shown)) wish = asked;
    if (const auto asked = draw_links(view, inside.take_top(130), 2)) wish = asked;
    pen.end_scroll("start");
  }
  if (opened) wish = Go{screen_of_quarter[*opened], {}};
  return wish;
}

}  // namespace motherbulb

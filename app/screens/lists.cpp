// Plain lists for what is not built yet: what the book holds on the subject, and what will come.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

struct ListView {
  std::string title;
  std::string second;
  std::string later;  // what will come
  std::string none;   // where there is no row
  std::vector<RowView> rows;
};

ListView pests_list(ScreenView& view) {
  const Words& w = words();
  ListView list{std::string(w.pests_title), "", std::string(w.pests_later), std::string(w.pests_none), {}};
  std::int64_t pots = 0;
  std::int64_t held = 0;
  struct Noted {
    const PotView* pot;
    const PotState::Damaged* damage;
  };
  std::vector<Noted> notes;
  for (const PotView* noted : view.rows.pots()) {
    const PotView& row = *noted;
    if (!row.pot.damage.empty()) ++pots;
    if (on_hold(row.batch, row.pot)) ++held;
    for (const PotState::Damaged& damage : row.pot.damage) notes.push_back({&row, &damage});
  }
  std::stable_sort(notes.begin(), notes.end(),
                   [](const Noted& a, const Noted& b) { return a.damage->when.utc_ms > b.damage->when.utc_ms; });
  for (const Noted& one : notes) {
    RowView row;
    row.icon = icon_of(one.damage->cause);
    row.mark_word = one.damage->detail.empty() ? std::string(name_of(one.damage->cause)) : one.damage->detail;
    row.tag = pot_label(one.pot->batch, one.pot->pot.pot.number);
    row.name = clone_words(one.pot->batch);
    if (view.layout.phone()) row.line = row.mark_word + ", ";
    row.line += one.damage->helper + (one.damage->helper.empty() ? "" : ", ") +
                day_near(local_day(one.damage->when), view.today);
    static constexpr std::array<const char*, 4> how_bad{"", "a trace", "some", "much"};
    const auto bad = static_cast<std::size_t>(std::clamp<std::int32_t>(one.damage->how_bad, 0, 3));
    if (bad > 0) row.line += std::string(", ") + how_bad[bad];
    if (!one.damage->note.empty()) row.line += ": " + one.damage->note;
    list.rows.push_back(std::move(row));
  }
  for (const PotView* pot : view.rows.pots()) {
    const PotView& one = *pot;
    if (!on_hold(one.batch, one.pot)) continue;
    RowView row;
    row.mark = Mark::on_hold;
    row.mark_word = "on hold";
    row.tag = pot_label(one.batch, one.pot.pot.number);
    row.name = clone_words(one.batch);
    row.line = one.pot.held_reason.empty() ? one.batch.held_reason : one.pot.held_reason;
    list.rows.push_back(std::move(row));
  }
  list.second = say(w.pests_second, counted(pots, "pot with notes", "pots with notes"), held);
  return list;
}

ListView rest_list(ScreenView& view) {
  const Words& w = words();
  ListView list{std::string(w.rest_title), "", std::string(w.rest_later), std::string(w.rest_none), {}};
  std::vector<const PotView*> pots = view.rows.pots();
  const auto since = [](const PotView& row) {
    if (row.pot.phase_on) return row.pot.phase_on->utc_ms;
    return row.batch.phase_on && row.pot.filled_order < row.batch.phase_order ? row.batch.phase_on->utc_ms
                                                                              : row.pot.filled_on.utc_ms;
  };
  const auto rank = [](const PotView& row) {
    switch (stage_of(row.batch, row.pot)) {
      case Stage::drying_off:
        return 0;
      case Stage::resting:
        return 1;
      case Stage::started:
        return 2;
      case Stage::growing:
        return 3;
      default:
        return 4;
    }
  };
  std::stable_sort(pots.begin(), pots.end(), [&](const PotView* a, const PotView* b) {
    if (rank(*a) != rank(*b)) return rank(*a) < rank(*b);
    return since(*a) < since(*b);
  });
  for (const PotView* pot : pots) {
    const Stage stage = stage_of(pot->batch, pot->pot);
    const When start = moment(since(*pot), pot->pot.filled_on.offset_minutes);
    RowView row;
    row.mark = mark_of(stage);
    row.mark_word = std::string(name_of(stage));
    row.tag = pot_label(pot->batch, pot->pot.pot.number);
    row.name = clone_words(pot->batch);
    row.line = say(w.since_weeks, name_of(stage), day_near(local_day(start), view.today));
    row.line += " (" + weeks_between(local_day(start), view.today) + ")";
    const auto looked = last_looked(pot->batch, pot->pot);
    // A phone has no room for it.
    if (!view.layout.phone())
      row.line +=
          ", " + (looked ? say(w.looked_on, day_near(local_day(*looked), view.today)) : std::string(w.never_looked));
    list.rows.push_back(std::move(row));
  }
  list.second = say(w.rest_second, counted(static_cast<std::int64_t>(pots.size()), "pot", "pots"));
  return list;
}

ListView outlook_list(ScreenView& view) {
  const Words& w = words();
  ListView list{std::string(w.outlook_title),
                std::string(w.outlook_second),
                std::string(w.outlook_later),
                std::string(w.outlook_none),
                {}};
  for (const StockRow& one : view.rows.stock().rows) {
    RowView row;
    row.with_mark = false;
    row.name = one.clone.empty() ? std::string(w.clone_unknown) : say(w.clone_quoted, one.clone);
    row.line = one.grade.sized() ? grade_words(one.grade) + " cm round, " + one.genus
                                 : std::string(w.no_size) + ", " + one.genus;
    row.right = grouped(one.bulbs);
    row.right_word = one.bulbs == 1 ? w.bulb : w.bulbs;
    list.rows.push_back(std::move(row));
  }
  return list;
}

ListView labels_list(ScreenView& view) {
  const Words& w = words();
  ListView list{std::string(w.labels_title), "", std::string(w.labels_later), std::string(w.labels_none), {}};
  std::vector<const BatchState*> batches;
  for (const BatchState* batch : view.rows.batches()) {
    if (batch->begun && !batch->label.empty()) batches.push_back(batch);
  }
  std::stable_sort(batches.begin(), batches.end(),
                   [](const BatchState* a, const BatchState* b) { return a->label < b->label; });
  for (const BatchState* batch : batches) {
    RowView row;
    row.with_mark = false;
    row.tag = batch_words(*batch);
    row.name = clone_words(*batch);
    row.line = std::string(name_of(batch->method));
    if (cuts(batch->method) && batch->sections > 0) row.line += " into " + std::to_string(batch->sections);
    row.line += ", " + day_near(local_day(batch->begun_on), view.today);
    if (!batch->helper.empty()) row.line += ", " + batch->helper;
    row.right = grouped(batch->mothers);
    row.right_word =
        cuts(batch->method) ? (batch->mothers == 1 ? "mother" : "mothers") : (batch->mothers == 1 ? "bulb" : "bulbs");
    list.rows.push_back(std::move(row));
  }
  list.second = say(w.labels_second, counted(static_cast<std::int64_t>(batches.size()), "batch", "batches"));
  return list;
}

ListView list_of(ScreenView& view) {
  switch (view.ui.screen) {
    case Screen::pots:
      return pests_list(view);
    case Screen::rest:
      return rest_list(view);
    case Screen::outlook:
      return outlook_list(view);
    default:
      return labels_list(view);
  }
}

}  // namespace

std::optional<Wish> draw_list_screen(ScreenView& view) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  Layout& l = view.layout;
  std::optional<Wish> wish;
  const ListView list = list_of(view);
  const bool from_bar = view.ui.screen == Screen::pots || view.ui.screen == Screen::rest;
  if (draw_head(pen, l, {list.title, list.second, !from_bar, false, kept_room(view), {}, false}).back) wish = GoBack{};
  if (draw_kept(view)) wish = UndoKept{};
  if (draw_trouble(view)) wish = PutErrorAside{};

  const bool tagged =
      std::any_of(list.rows.begin(), list.rows.end(), [](const RowView& row) { return !row.tag.empty(); });
  // On a phone a row is as high as the longest of them asks for, up to four lines.
  float text = 21;
  if (l.phone()) {
    for (const RowView& row : list.rows) {
      const float beside =
          row.right.empty()
              ? 0.0F
              : std::max(pen.width(Type::numeral_40, row.right), pen.width(Type::body_15, row.right_word)) + 14;
      const float mark = row.with_mark || row.icon ? 66.0F : 24.0F;
      text = std::max(text, pen.paragraph_height(l.content.w - mark - 20 - beside, Type::body_15, row.line, 4));
    }
  }
  const float h = row_height(l, tagged, text);
  const Rect panel{l.page.x, l.content.y, l.page.w, l.page.bottom() - l.content.y};
  const float x = l.content.x;
  const float wide = l.content.w;
  const float note = pen.paragraph_height(wide - 76, Type::body_16, list.later, 5) + 24;
  const float rows = list.rows.empty() ? (l.phone() ? 290.0F : 180.0F) : h * static_cast<float>(list.rows.size());
  const float top = pen.begin_scroll("list", panel, note + 16 + rows + 20);
  // What will come, on a note with a rule round it: not a control.
  const Rect paper{x, top, wide, note};
  pen.frame(paper, t.edge, 1.5F, 8);
  draw_icon(pen, Icon::note, {x + 30, top + note / 2}, 26, t.tunic);
  pen.paragraph({x + 60, top + 12, wide - 76, note}, Type::body_16, t.ink2, list.later, 5);
  const Rect sheet{x, top + note + 16, wide, rows};
  pen.fill(sheet, t.sheet, 8);
  if (list.rows.empty()) {
    draw_empty(pen, sheet.inset(20), list.none, "", "");
  } else {
    // Only the rows in sight are drawn.
    const auto first = static_cast<std::size_t>(std::max(0.0F, (panel.y - sheet.y) / h));
    for (std::size_t i = first; i < list.rows.size(); ++i) {
      const Rect area{x, sheet.y + h * static_cast<float>(i), wide, h};
      if (area.y > panel.bottom()) break;
      draw_row(pen, area, list.rows[i], i > 0, l.phone());
    }
  }
  pen.end_scroll("list");
  return wish;
}

}  // namespace motherbulb

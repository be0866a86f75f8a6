// A plain list for what is not built yet: what the book holds on the subject, and what will come.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
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

}  // namespace

std::optional<Wish> draw_list_screen(ScreenView& view) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  Layout& l = view.layout;
  std::optional<Wish> wish;
  const ListView list = labels_list(view);
  if (draw_head(pen, l, {list.title, list.second, true, false, kept_room(view), {}, false}).back) wish = GoBack{};
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

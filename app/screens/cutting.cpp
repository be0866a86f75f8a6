// The cutting sessions so far, the latest first; each leads to its batch, and one act begins a new one.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/cutting.hpp"

namespace motherbulb {
namespace {

void refresh_sessions(ScreenView& view) {
  auto& sessions = view.ui.cut.sessions;
  if (sessions.made && sessions.revision == view.rows.revision()) return;
  sessions = {};
  sessions.made = true;
  sessions.revision = view.rows.revision();
  for (const BatchState* batch : view.rows.batches()) {
    if (batch->begun && cuts(batch->method)) sessions.latest_first.push_back(batch);
  }
  std::stable_sort(sessions.latest_first.begin(), sessions.latest_first.end(),
                   [](const BatchState* a, const BatchState* b) { return b->begun_on.utc_ms < a->begun_on.utc_ms; });
}

std::string line_of(const BatchState& batch, Day today) {
  const CuttingWords& w = cutting_words();
  const bool whole = leaves_mother_whole(batch.method);
  const std::string day = day_near(local_day(batch.begun_on), today);
  const std::string_view method = name_of(batch.method);
  if (batch.helper.empty()) return say(whole ? w.row_whole : w.row, method, batch.sections, day);
  return say(whole ? w.row_whole_by : w.row_by, method, batch.sections, day, batch.helper);
}

}  // namespace

std::optional<Wish> draw_cutting_screen(ScreenView& view) {
  const CuttingWords& w = cutting_words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  refresh_sessions(view);
  const std::vector<const BatchState*>& sessions = view.ui.cut.sessions.latest_first;
  Top top;
  top.title = w.list_title;
  top.second = say(w.list_second, counted(static_cast<std::int64_t>(sessions.size()), w.session, w.sessions));
  top.writes = false;
  std::optional<Wish> wish = draw_top(view, top);

  Rect area{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  if (sessions.empty()) {
    const Rect sheet = area.take_top(l.phone() ? 380.0F : 220.0F);
    pen.fill(sheet, pen.theme.sheet, 8);
    if (draw_empty(pen, sheet.inset(24), w.list_none, "cut", w.begin)) wish = Go{Screen::cut, {}};
    return wish;
  }
  // On a phone and in portrait the act lies low, for the thumb.
  area.take_bottom(l.phone() ? 12.0F : l.portrait() ? 16.0F : 24.0F);
  Rect act = l.landscape() ? area.take_top(64, 16) : area.take_bottom(64, 12);
  if (l.landscape()) act.w = std::min(act.w, 380.0F);
  if (draw_act(pen, act, {"cut", w.begin, ActStyle::main, Icon::cutting, true})) wish = Go{Screen::cut, {}};

  // A phone's row has room for two lines of how and when.
  const float h = row_height(l, true, 42);
  const float top_of = pen.begin_scroll("sessions", area, h * static_cast<float>(sessions.size()) + 12);
  pen.fill({area.x, top_of, area.w, h * static_cast<float>(sessions.size())}, pen.theme.sheet, 8);
  const auto first = static_cast<std::size_t>(std::max(0.0F, (area.y - top_of) / h));
  for (std::size_t i = first; i < sessions.size(); ++i) {
    const Rect at{area.x, top_of + h * static_cast<float>(i), area.w, h};
    if (at.y > area.bottom()) break;
    const BatchState& batch = *sessions[i];
    RowView row;
    row.with_mark = false;
    row.tag = batch_words(batch);
    row.name = clone_words(batch);
    row.line = line_of(batch, view.today);
    row.right = grouped(batch.mothers);
    row.right_word = batch.mothers == 1 ? w.mother : w.mothers;
    // Two sessions may bear one label.
    row.target = "session:" + batch_words(batch) + ":" + hex(batch.id).substr(0, 6);
    if (draw_row(pen, at, row, i > 0, l.phone())) {
      Subject about;
      about.clone = batch.clone;
      about.genus = batch.genus;
      about.batch = batch.id;
      view.ui.clones.from_tree.reset();
      wish = Go{Screen::clone, about};
    }
  }
  pen.end_scroll("sessions");
  return wish;
}

}  // namespace motherbulb

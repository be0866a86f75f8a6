// Before the count: which batch, and which of its pots, is on the bench. Batches by label, then the pots' tags.

#include <algorithm>
#include <map>

#include "app/screens/screens.hpp"
#include "app/widgets/grade_picker.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

struct BatchRow {
  const PotView* first = nullptr;
  std::int64_t pots = 0;
  std::int64_t holds = 0;  // pieces or bulbs
};

std::vector<BatchRow> batches_of(const BookRows& rows, bool cut_bulbs) {
  std::map<BatchId, BatchRow> by_batch;
  for (const PotView* view : rows.pots()) {
    const PotView& row = *view;
    if ((row.pot.unit == Unit::pieces) != cut_bulbs) continue;
    BatchRow& batch = by_batch[row.batch.id];
    if (batch.first == nullptr || row.pot.pot < batch.first->pot.pot) batch.first = view;
    ++batch.pots;
    batch.holds += cut_bulbs ? row.pot.pieces : total(row.pot.bulbs);
  }
  std::vector<BatchRow> batches;
  for (const auto& [id, batch] : by_batch) batches.push_back(batch);
  // The longest in the pot first: they are the ones to unpot.
  std::sort(batches.begin(), batches.end(), [](const BatchRow& a, const BatchRow& b) {
    if (a.first->batch.begun_on.utc_ms != b.first->batch.begun_on.utc_ms)
      return a.first->batch.begun_on.utc_ms < b.first->batch.begun_on.utc_ms;
    return a.first->batch.id < b.first->batch.id;
  });
  return batches;
}

std::optional<Wish> draw_pots(ScreenView& view, Rect area, const std::vector<const PotView*>& pots) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  constexpr float gap = 12;
  const float height = 116;
  const std::size_t columns =
      view.layout.phone() ? 1 : static_cast<std::size_t>(std::max(1.0F, (area.w + gap) / 330.0F));
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const std::size_t lines = (pots.size() + columns - 1) / columns;
  const float content = static_cast<float>(lines) * (height + gap) + 12;
  const float top = pen.begin_scroll("pots", area, content);
  std::optional<Wish> wish;
  for (std::size_t i = 0; i < pots.size(); ++i) {
    const PotView& row = *pots[i];
    const Rect cell{area.x + static_cast<float>(i % columns) * (wide + gap),
                    top + static_cast<float>(i / columns) * (height + gap), wide, height};
    if (cell.bottom() < area.y || cell.y > area.bottom()) continue;
    const std::string label = pot_label(row.batch, row.pot.pot.number);
    const std::string target = "pot:" + label;
    if (pen.touch.hit(target, cell)) wish = ChoosePot{row};
    const bool pressed = is_pressed(pen, target);
    pen.fill(cell, pressed ? t.straw : t.sheet, 8);
    draw_pot_tag(pen, {cell.x + 14, cell.y + 12}, 38, label, wide - 60);
    const std::string holds =
        row.pot.unit == Unit::pieces ? pieces_word(row.batch.method, row.pot.pieces) : contents_words(row.pot);
    const Color words_color = pressed ? t.on_straw : t.ink2;
    pen.text_in({cell.x + 16, cell.y + 56, wide - 60, 26}, Type::strong_16, pressed ? t.on_straw : t.ink, holds);
    const std::string place = place_of(row.batch, row.pot);
    pen.text_in({cell.x + 16, cell.y + 82, wide - 32, 24},
                pen.fitting({Type::body_16, Type::body_15}, place, wide - 32), words_color, place);
    draw_icon(pen, Icon::next, {cell.right() - 24, cell.middle().y}, 20, pressed ? t.on_straw : t.tunic);
    if (on_hold(row.batch, row.pot)) draw_mark(pen, Mark::on_hold, {cell.right() - 56, cell.y + 30}, 22);
  }
  pen.end_scroll("pots");
  return wish;
}

// Only the rows in sight of the panel are drawn.
std::optional<Wish> draw_batches(ScreenView& view, Rect list, Rect panel, const std::vector<BatchRow>& batches,
                                 bool cut_bulbs, std::string_view prefix) {
  const Layout& l = view.layout;
  const float h = list.h / static_cast<float>(batches.size());
  std::optional<Wish> wish;
  for (std::size_t i = 0; i < batches.size(); ++i) {
    const Rect area{list.x, list.y + h * static_cast<float>(i), list.w, h};
    if (area.bottom() < panel.y || area.y > panel.bottom()) continue;
    const BatchRow& one = batches[i];
    const BatchState& batch = one.first->batch;
    RowView row;
    row.mark = on_hold(batch, one.first->pot) ? Mark::on_hold : mark_of(one.first->stage);
    row.mark_word = std::string(name_of(one.first->stage));
    row.tag = batch_words(batch);
    row.name = clone_words(batch);
    const std::string holds = cut_bulbs ? pieces_word(batch.method, one.holds) : counted(one.holds, "bulb", "bulbs");
    row.line =
        say(words().batch_line, name_of(batch.method), weeks_between(local_day(batch.begun_on), view.today), holds);
    row.right = grouped(one.pots);
    row.right_word = one.pots == 1 ? "pot" : "pots";
    row.target = std::string(prefix) + batch_words(batch);
    if (draw_row(view.pen, area, row, i > 0, l.phone())) {
      // Its pots are taken in order; another one is chosen from there.
      wish = ChoosePot{*one.first};
      view.pen.touch.scroll_to("pots", 0);
    }
  }
  return wish;
}

// What the pots below have in common.
void draw_batch_card(ScreenView& view, Rect area, const PotView& first) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const Words& w = words();
  const BatchState& batch = first.batch;
  pen.fill(area, t.sheet, 8);
  // Beside the words, or below them where the card stands upright.
  const bool upright = area.h > area.w;
  const float radius = upright ? std::min({area.w * 0.34F, area.h - 330.0F, 170.0F}) : 116.0F;
  const Point middle{upright ? area.middle().x : area.right() - 160,
                     upright ? area.bottom() - radius - 32 : area.middle().y};
  if (first.of_pieces()) {
    MotherView mother;
    mother.whole = leaves_mother_whole(batch.method);
    mother.wedges = std::max(batch.sections, 1);
    draw_mother(pen, middle, radius, mother);
  } else {
    draw_size_rings(pen, middle, radius, 3, false);
  }
  const float x = area.x + 28;
  const float room = upright ? area.w - 56 : area.w - 28 - 300;
  draw_pot_tag(pen, {x, area.y + 28}, 44, batch_words(batch), room);
  float y = area.y + 128;
  const auto line = [&](Type type, Color color, const std::string& text) {
    y += pen.paragraph({x, y - 20, room, 60}, type, color, text, 2) + 6;
  };
  std::string method(name_of(batch.method));
  if (cuts(batch.method) && batch.sections > 0) method = say(w.method_into, method, batch.sections);
  line(Type::strong_18, t.ink, method);
  line(Type::body_18, t.ink2,
       say(w.batch_begun, day_near(local_day(batch.begun_on), view.today),
           weeks_between(local_day(batch.begun_on), view.today)));
  if (batch.mother_grade && batch.mother_grade->sized())
    line(Type::body_18, t.ink2, say(w.batch_mothers, batch.mothers, grade_words(*batch.mother_grade)));
  if (!batch.medium.empty()) line(Type::body_18, t.ink2, say(w.batch_medium, batch.medium));
}

}  // namespace

std::optional<Wish> draw_unpot_choose_screen(ScreenView& view) {
  const Words& w = words();
  Pen& pen = view.pen;
  Layout& l = view.layout;
  UnpotDraft& draft = view.ui.unpot;
  std::optional<Wish> wish;

  std::vector<const PotView*> pots;
  if (draft.batch) pots = view.rows.filled_of(*draft.batch);
  if (pots.empty()) draft.batch.reset();

  if (draft.batch) {
    const BatchState& batch = pots.front()->batch;
    const std::string second = batch_words(batch) + ". " + std::string(w.unpot_choose_pot);
    if (draw_head(pen, l, {clone_words(batch), second, true, true, kept_room(view), {}, false}).back)
      draft.batch.reset();
  } else {
    draw_head(pen, l, {w.unpot_title, w.unpot_choose, false, false, kept_room(view), {}, false});
  }
  if (draw_kept(view)) wish = UndoKept{};
  if (draw_trouble(view)) wish = PutErrorAside{};

  if (!pots.empty()) {
    Rect panel{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
    if (l.portrait()) draw_batch_card(view, panel.take_top(300, 20), *pots.front());
    if (l.landscape()) {
      const auto [reading, acting] = l.columns(panel, 0.38F);
      Rect card = reading;
      card.h -= 28;
      draw_batch_card(view, card, *pots.front());
      panel = acting;
    }
    if (const auto asked = draw_pots(view, panel, pots)) wish = asked;
    return wish;
  }

  const int cut = view.rows.counts().of_pieces;
  const int bulbs = view.rows.counts().of_bulbs;
  Rect filters = l.content.take_top(56, 16);
  const float half = std::min(190.0F, (filters.w - 8) / 2);
  if (draw_filter(pen, filters.take_left(half, 8), "filter:cut", say(w.unpot_cut, cut), draft.cut_bulbs))
    draft.cut_bulbs = true;
  if (draw_filter(pen, filters.take_left(half, 8), "filter:bulbs", say(w.unpot_bulbs, bulbs), !draft.cut_bulbs))
    draft.cut_bulbs = false;

  const std::vector<BatchRow> batches = batches_of(view.rows, draft.cut_bulbs);
  const float h = row_height(l, true, 42);
  const Rect panel{l.content.x, l.content.y, l.content.w, l.page.bottom() - l.content.y};
  const auto list_height = [&](const std::vector<BatchRow>& rows) { return h * static_cast<float>(rows.size()); };
  const float empty = l.phone() ? 300.0F : 180.0F;
  const float own = batches.empty() ? empty : list_height(batches);
  // A short list leaves room for the other kind.
  std::vector<BatchRow> others;
  if (own < panel.h * 0.6F) others = batches_of(view.rows, !draft.cut_bulbs);
  constexpr float heading = 64;
  const float content = own + 12 + (others.empty() ? 0.0F : heading + list_height(others) + 12);
  Rect inside{panel.x, pen.begin_scroll("batches", panel, content), panel.w, content};
  const Rect first = inside.take_top(own, 12);
  pen.fill(first, pen.theme.sheet, 8);
  if (batches.empty()) {
    draw_empty(pen, first.inset(24), view.rows.pots().empty() ? w.unpot_none : w.unpot_none_kind, "", "");
  } else if (const auto asked = draw_batches(view, first, panel, batches, draft.cut_bulbs, "batch:")) {
    wish = asked;
  }
  if (!others.empty()) {
    pen.text_in(inside.take_top(heading), Type::heading_24, pen.theme.ink,
                draft.cut_bulbs ? w.unpot_also_bulbs : w.unpot_also_cut);
    const Rect second = inside.take_top(list_height(others));
    pen.fill(second, pen.theme.sheet, 8);
    if (const auto asked = draw_batches(view, second, panel, others, !draft.cut_bulbs, "other-batch:")) wish = asked;
  }
  pen.end_scroll("batches");
  return wish;
}

}  // namespace motherbulb

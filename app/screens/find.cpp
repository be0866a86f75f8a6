// Finding a pot: by its label, of which any part will do and of which the check character catches a slip; by letters of
// its clone's name; or among those used last.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/label_keys.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/find.hpp"
#include "core/names.hpp"

namespace motherbulb {
namespace {

using By = FindDraft::By;
using Found = FindDraft::Found;

constexpr std::size_t most_found = 200;
constexpr std::size_t longest_typed = 40;
constexpr float gap = 8;
constexpr std::string_view figure_keys = "123456789-0/";
constexpr std::string_view letter_keys = "ABCDEFGHIJKLMNOPQRSTUVWXYZ*";
constexpr std::string_view name_keys = "ABCDEFGHIJKLMNOPQRSTUVWXYZ";
constexpr std::string_view name_and_figure_keys = "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-'";

std::string capitals(std::string_view text) {
  std::string folded;
  for (const char c : text) folded += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  return folded;
}

// ------------------------------------------------------------------------------------------------ what fits

void add(FindDraft::Answer& answer, const Found& found) {
  ++answer.all;
  if (answer.found.size() < most_found) answer.found.push_back(found);
}

// The pot, where it was ever filled, else the whole batch.
void add_pot(ScreenView& view, FindDraft::Answer& answer, const BatchState& batch, std::optional<std::int32_t> pot,
             bool doubtful, const LabelMend& mend) {
  Found found;
  found.doubtful = doubtful;
  found.mend = mend;
  found.pot = {batch.id, 0};
  if (pot) {
    const std::optional<PotState> known = view.rows.book().pot({batch.id, *pot});
    if (known && known->filled) found.pot.number = *pot;
  }
  if (found.pot.number == 0) found.pots = static_cast<std::int64_t>(view.rows.filled_of(batch.id).size());
  add(answer, found);
}

void find_label(ScreenView& view, FindDraft::Answer& answer, const std::string& typed) {
  const std::vector<TypedLabel> readings = label_readings(typed);
  const std::string wanted = capitals(typed);
  for (const BatchState* batch : view.rows.batches()) {
    const std::optional<Label> label = label_from_text(batch->label);
    std::optional<std::int32_t> pot;
    const bool fits_label = label && std::any_of(readings.begin(), readings.end(), [&](const TypedLabel& reading) {
                              pot = reading.pot;
                              return fits(reading, *label);
                            });
    const bool fits_mark = !batch->mark.empty() && capitals(batch->mark).find(wanted) != std::string::npos;
    if (fits_label || fits_mark) add_pot(view, answer, *batch, pot, false, {});
  }
  if (answer.all > 0) return;
  if (readings.empty()) {
    answer.no_label = true;
    return;
  }
  const auto whole =
      std::find_if(readings.begin(), readings.end(), [](const TypedLabel& reading) { return reading.whole(); });
  if (whole == readings.end()) return;
  const std::string text = to_text(Label{*whole->year, *whole->letter, *whole->number});
  if (text.back() == *whole->check) {
    answer.unknown = text;
    return;
  }
  answer.slip = true;
  std::vector<std::string> known;
  for (const BatchState* batch : view.rows.batches()) {
    if (!batch->label.empty()) known.push_back(batch->label);
  }
  std::sort(known.begin(), known.end());
  for (const LabelMend& mend : label_mends(*whole, known)) {
    const std::string mended = to_text(mend.label);
    for (const BatchState* batch : view.rows.batches()) {
      if (batch->label == mended) add_pot(view, answer, *batch, whole->pot, true, mend);
    }
  }
}

void find_name(ScreenView& view, FindDraft::Answer& answer, const std::string& typed) {
  const std::string wanted = folded_name(typed);
  if (wanted.empty()) return;
  const auto has = [&](const std::string& text) { return folded_name(text).find(wanted) != std::string::npos; };
  for (const BatchState* batch : view.rows.batches()) {
    if (has(batch->clone) || has(batch->label) || has(batch->mark))
      add_pot(view, answer, *batch, std::nullopt, false, {});
  }
}

const FindDraft::Answer& answer_of(ScreenView& view) {
  FindDraft& draft = view.ui.find;
  FindDraft::Answer& answer = draft.answer;
  const std::string& typed = draft.by == By::label ? draft.typed : draft.name;
  if (answer.made && answer.revision == view.rows.revision() && answer.by == draft.by && answer.typed == typed &&
      answer.batch == draft.batch && answer.last == view.ui.last_pots)
    return answer;
  answer = {};
  answer.made = true;
  answer.revision = view.rows.revision();
  answer.by = draft.by;
  answer.typed = typed;
  answer.batch = draft.batch;
  answer.last = view.ui.last_pots;
  if (draft.batch) {
    for (const PotView* pot : view.rows.filled_of(*draft.batch)) {
      Found found;
      found.pot = pot->id();
      add(answer, found);
    }
  } else if (typed.empty()) {
    for (const PotId& id : view.ui.last_pots) {
      Found found;
      found.pot = id;
      if (view.rows.batch(id.batch) != nullptr) add(answer, found);
    }
  } else if (draft.by == By::label) {
    find_label(view, answer, typed);
  } else {
    find_name(view, answer, typed);
  }
  return answer;
}

std::string heading_of(ScreenView& view, const FindDraft::Answer& answer) {
  const FindWords& w = find_words();
  if (answer.batch) {
    const BatchState* batch = view.rows.batch(*answer.batch);
    return batch == nullptr ? std::string() : say(w.pots_of, batch_words(*batch));
  }
  if (answer.typed.empty()) return answer.all == 0 ? std::string() : std::string(w.last_used);
  if (answer.slip && answer.all > 0) return std::string();
  if (answer.all == 0) return std::string();
  if (answer.all > static_cast<std::int64_t>(answer.found.size()))
    return say(w.found_first, grouped(answer.all), grouped(static_cast<std::int64_t>(answer.found.size())));
  return say(w.found, grouped(answer.all));
}

// What is wrong with what was typed, in words; empty: nothing.
std::string trouble_of(const FindDraft::Answer& answer) {
  const FindWords& w = find_words();
  if (answer.batch || answer.typed.empty()) return "";
  if (answer.slip) {
    if (answer.all == 0) return std::string(w.slip_none);
    if (answer.all > 1) return std::string(w.slip);
    const LabelMend& mend = answer.found.front().mend;
    return mend.swapped ? say(w.slip_swap, mend.was, mend.is) : say(w.slip_one, mend.was);
  }
  if (answer.all > 0) return "";
  if (answer.no_label) return std::string(w.no_label);
  return answer.unknown.empty() ? std::string(w.none) : say(w.unknown, answer.unknown);
}

std::string label_of(ScreenView& view, const Found& found) {
  const BatchState* batch = view.rows.batch(found.pot.batch);
  if (batch == nullptr) return "";
  return found.pot.number == 0 ? batch_words(*batch) : pot_label(*batch, found.pot.number);
}

// A pot that is the only one to go to, without a choice between.
std::optional<PotId> straight_to(ScreenView& view, const Found& found) {
  if (found.pot.number != 0) return found.pot;
  const std::vector<const PotView*> pots = view.rows.filled_of(found.pot.batch);
  if (pots.size() == 1) return pots.front()->id();
  return std::nullopt;
}

std::optional<Wish> go_to(ScreenView& view, const Found& found) {
  if (const auto pot = straight_to(view, found)) return Go{Screen::pot, {{*pot}, {}, {}, {}}};
  if (found.pots > 0) {
    view.ui.find.batch = found.pot.batch;
    view.ui.find.list = true;
    view.pen.touch.scroll_to("found", 0);
    return std::nullopt;
  }
  // A batch without a filled pot has a story all the same.
  return Go{Screen::pot, {{found.pot}, {}, {}, {}}};
}

RowView row_of(ScreenView& view, const Found& found, std::optional<std::int32_t> typed_pot) {
  const FindWords& w = find_words();
  RowView row;
  const BatchState& batch = *view.rows.batch(found.pot.batch);
  row.tag = label_of(view, found);
  row.name = clone_words(batch);
  row.target = "found:" + row.tag;
  std::string line;
  if (found.pot.number == 0) {
    row.with_mark = false;
    line = found.pots == 0 ? std::string(w.never_filled) : counted(found.pots, "pot", "pots");
    if (typed_pot && found.pots > 0) line = say(w.row, line, say(w.no_pot, *typed_pot));
    if (!batch.mark.empty() && batch.mark != batch.label) line = say(w.row, line, batch.mark);
  } else if (const PotView* pot = view.rows.filled(found.pot)) {
    row.mark = pot->held ? Mark::on_hold : mark_of(pot->stage);
    row.mark_word = std::string(name_of(pot->stage));
    line = pot->of_pieces() ? pieces_word(batch.method, pot->pot.pieces) : contents_words(pot->pot);
    const std::string place = join_place(pot->place);
    if (!place.empty() && !view.layout.phone()) line = say(w.row, line, place);
  } else {
    row.mark = Mark::lost;
    row.mark_word = std::string(w.emptied);
    line = std::string(w.emptied);
  }
  if (found.doubtful) {
    const LabelMend& mend = found.mend;
    const std::string slip = mend.swapped ? say(w.read_swapped, mend.was, mend.is) : say(w.read_as, mend.is, mend.was);
    line = say(w.row, slip, line);
  }
  row.line = line;
  return row;
}

// ------------------------------------------------------------------------------------------------ parts

void draw_ways(ScreenView& view, Rect area) {
  const FindWords& w = find_words();
  FindDraft& draft = view.ui.find;
  const float wide = std::min((area.w - gap) / 2, 200.0F);
  const auto one = [&](By by, std::string_view name, std::string_view words_shown) {
    if (!draw_filter(view.pen, area.take_left(wide, gap), name, words_shown, draft.by == by)) return;
    draft.by = by;
    draft.batch.reset();
    draft.list = false;
  };
  one(By::label, "by:label", w.by_label);
  one(By::name, "by:name", w.by_name);
}

// What was typed; a doubtful character stands on straw.
void draw_field(ScreenView& view, Rect field) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const FindWords& w = find_words();
  const FindDraft& draft = view.ui.find;
  const std::string& typed = draft.by == By::label ? draft.typed : draft.name;
  pen.fill(field, t.sheet, 6);
  pen.frame(field, t.ink);
  const Rect inside = field.inset(18, 0);
  if (typed.empty()) {
    const std::string_view hint = draft.by == By::label ? w.type_label : w.type_name;
    pen.text_in(inside, pen.fitting({Type::body_18, Type::body_16, Type::body_15}, hint, inside.w), t.ink2, hint);
    return;
  }
  const Type type = pen.fitting({Type::heading_36, Type::heading_28, Type::heading_20}, typed, inside.w - 8);
  std::string shown = typed;
  while (pen.width(type, shown) > inside.w - 8 && shown.size() > 1) {
    shown.erase(0, 1);
    while (!shown.empty() && (static_cast<unsigned char>(shown.front()) & 0xC0U) == 0x80U) shown.erase(0, 1);
  }
  const auto& answer = draft.answer;
  // Where it stands in the text as it was typed is looked for by the character: noughts may have been left out.
  std::size_t doubtful = std::string::npos;
  std::size_t length = 1;
  if (answer.slip && answer.all == 1 && draft.by == By::label) {
    const LabelMend& mend = answer.found.front().mend;
    const std::string whole = to_text(mend.label);
    const std::string upper = capitals(shown);
    const std::size_t end = std::min(upper.find('/'), upper.size());
    const std::size_t from_end = whole.size() - mend.at;
    if (from_end <= end) doubtful = end - from_end;
    if (mend.swapped) length = 2;
    if (doubtful != std::string::npos && upper[doubtful] != mend.was) doubtful = upper.find(mend.was);
  }
  if (doubtful != std::string::npos && doubtful + length <= shown.size()) {
    const float from = inside.x + pen.width(type, shown.substr(0, doubtful));
    const float wide = pen.width(type, shown.substr(doubtful, length));
    pen.fill({from - 2, field.y + 9, wide + 4, field.h - 18}, t.straw, 4);
    pen.text_in({inside.x, inside.y, from - inside.x, inside.h}, type, t.ink, shown.substr(0, doubtful));
    pen.text_in({from, inside.y, wide + 4, inside.h}, type, t.on_straw, shown.substr(doubtful, length));
    pen.text_in({from + wide, inside.y, inside.w, inside.h}, type, t.ink, shown.substr(doubtful + length));
  } else {
    pen.text_in(inside, type, t.ink, shown);
  }
  const float x = inside.x + pen.width(type, shown) + 4;
  pen.fill({std::min(x, inside.right()), field.y + 14, 2.5F, field.h - 28}, t.tunic);
}

void type_one(FindDraft& draft, char c) {
  std::string& text = draft.by == By::label ? draft.typed : draft.name;
  draft.batch.reset();
  const bool goes_on = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
  if (text.empty() && c == ' ') return;
  if (goes_on || text.size() < longest_typed) text += c;
}

void take_one_back(FindDraft& draft) {
  std::string& text = draft.by == By::label ? draft.typed : draft.name;
  draft.batch.reset();
  while (!text.empty() && (static_cast<unsigned char>(text.back()) & 0xC0U) == 0x80U) text.pop_back();
  if (!text.empty()) text.pop_back();
}

void draw_all_keys(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const FindWords& w = find_words();
  FindDraft& draft = view.ui.find;
  const bool any = !(draft.by == By::label ? draft.typed : draft.name).empty();
  KeysAnswer answer;
  const auto take = [&](const KeysAnswer& one) {
    if (one.typed != 0) answer.typed = one.typed;
    answer.undo = answer.undo || one.undo;
    answer.other = answer.other || one.other;
  };
  if (draft.by == By::name) {
    const bool narrow = area.w < 480;
    const std::size_t columns = narrow ? 5 : area.w < 640 ? 7 : 10;
    take(draw_keys(pen, area, {narrow ? name_keys : name_and_figure_keys, columns, {}, true, true, any}));
  } else if (view.layout.phone()) {
    if (draft.letters) {
      take(draw_keys(pen, area, {letter_keys, 5, w.keys_figures, false, true, any}));
    } else {
      take(draw_keys(pen, area, {figure_keys, 3, w.keys_letters, false, true, any}));
    }
  } else if (view.layout.portrait()) {
    Rect letters = area;
    const Rect figures = letters.take_left(area.w * 0.44F, 16);
    take(draw_keys(pen, figures, {figure_keys, 3, {}, false, false, any}));
    take(draw_keys(pen, letters, {letter_keys, 5, {}, false, true, any}));
  } else {
    const std::size_t rows = 4 + key_rows({letter_keys, 7, {}, false, true, any});
    const float high = (area.h - 8 - gap * static_cast<float>(rows - 1)) / static_cast<float>(rows);
    take(draw_keys(pen, area.take_top(4 * high + 3 * gap, gap + 8), {figure_keys, 3, {}, false, false, any}));
    take(draw_keys(pen, area, {letter_keys, 7, {}, false, true, any}));
  }
  if (answer.typed != 0) {
    type_one(draft, answer.typed);
    // A label has one letter, with figures behind it.
    draft.letters = false;
  }
  if (answer.undo) take_one_back(draft);
  if (answer.other) draft.letters = !draft.letters;
}

std::optional<Wish> draw_found(ScreenView& view, Rect area, Rect panel) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const FindWords& w = find_words();
  FindDraft& draft = view.ui.find;
  std::optional<Wish> wish;
  const std::string trouble = trouble_of(answer_of(view));
  if (!trouble.empty()) {
    const float h = std::max(56.0F, pen.paragraph_height(area.w - 76, Type::body_18, trouble, 5) + 24);
    const Rect strip = area.take_top(h, 12);
    pen.fill(strip, t.error_ground, 6);
    pen.frame(strip, t.copper);
    draw_icon(pen, Icon::warning, {strip.x + 30, strip.middle().y}, 26, t.copper);
    pen.paragraph({strip.x + 58, strip.y + 12, strip.w - 76, h - 24}, Type::body_18, t.ink, trouble, 5);
  }
  if (draft.batch) {
    if (draw_act(pen, area.take_top(56, 10), {"found:all", w.all_batches, ActStyle::square, Icon::back, true}))
      draft.batch.reset();
  }
  const FindDraft::Answer& answer = answer_of(view);
  if (const std::string heading = heading_of(view, answer); !heading.empty())
    pen.text_in(area.take_top(30, 8), Type::heading_24, t.ink, heading);
  if (answer.found.empty()) {
    if (answer.typed.empty()) {
      const Rect sheet = area.take_top(std::min(area.h, area.w > 500 ? 190.0F : 290.0F));
      pen.fill(sheet, t.sheet, 8);
      draw_empty(pen, sheet.inset(20), w.last_none, "", "");
    }
    return wish;
  }
  std::optional<std::int32_t> typed_pot;
  if (draft.by == By::label && !draft.batch) {
    for (const TypedLabel& reading : label_readings(draft.typed)) typed_pot = reading.pot;
  }
  const bool phone = view.layout.phone();
  const float h = row_height(view.layout, true);
  panel.h = panel.bottom() - area.y;
  panel.y = area.y;
  const float height = h * static_cast<float>(answer.found.size());
  const float top = pen.begin_scroll("found", panel, height + 8);
  pen.fill({area.x, top, area.w, height}, t.sheet, 8);
  for (auto i = static_cast<std::size_t>(std::max(0.0F, (panel.y - top) / h)); i < answer.found.size(); ++i) {
    const Rect row{area.x, top + h * static_cast<float>(i), area.w, h};
    if (row.y > panel.bottom()) break;
    const Found found = answer.found[i];
    if (view.rows.batch(found.pot.batch) == nullptr) continue;
    if (draw_row(pen, row, row_of(view, found, typed_pot), i > 0, phone)) {
      wish = go_to(view, found);
      break;
    }
  }
  pen.end_scroll("found");
  return wish;
}

// On a phone, below the keys: the one that was found, or the way to them all.
std::optional<Wish> draw_phone_act(ScreenView& view, Rect area) {
  const FindWords& w = find_words();
  FindDraft& draft = view.ui.find;
  const FindDraft::Answer& answer = answer_of(view);
  const bool one = answer.all == 1 && !answer.slip && straight_to(view, answer.found.front()).has_value();
  if (one) {
    const std::string label = label_of(view, answer.found.front());
    if (draw_act(view.pen, area, {"find:open", say(w.open, label), ActStyle::main, Icon::next, true}))
      return go_to(view, answer.found.front());
    return std::nullopt;
  }
  const bool something = answer.all > 0 || !trouble_of(answer).empty();
  const std::string text = answer.typed.empty() ? std::string(w.last_used) : say(w.show, grouped(answer.all));
  if (draw_act(view.pen, area, {"find:show", text, ActStyle::main, {}, something})) draft.list = true;
  return std::nullopt;
}

}  // namespace

std::optional<Wish> draw_find_screen(ScreenView& view) {
  Pen& pen = view.pen;
  const FindWords& w = find_words();
  const Layout& l = view.layout;
  FindDraft& draft = view.ui.find;
  Top top{std::string(w.title), std::string(w.second), true, false, false, false};
  std::optional<Wish> wish = draw_top(view, top);
  if (pen.touch.take_key(Key::backspace)) take_one_back(draft);
  if (const char typed = pen.touch.take_any_character(); typed != 0 && typed != '\n' && typed != '\r')
    type_one(draft, typed);
  std::optional<Wish> asked;
  if (l.landscape()) {
    const auto [left_column, right_column] = l.columns(l.content, 0.5F);
    Rect left = left_column;
    Rect right = right_column;
    draw_ways(view, left.take_top(56, 14));
    asked = draw_found(view, left, left);
    draw_field(view, right.take_top(64, 14));
    draw_all_keys(view, right);
  } else if (l.portrait()) {
    Rect area = l.content;
    const Rect keys = area.take_bottom(draft.by == By::label ? 6 * 64.0F - gap : 4 * 72.0F - gap, 14);
    const Rect field = area.take_bottom(64, 14);
    draw_ways(view, area.take_top(56, 14));
    asked = draw_found(view, area, area);
    draw_field(view, field);
    draw_all_keys(view, keys);
  } else {
    Rect area = l.content;
    Rect ways = area.take_top(56, gap);
    if (draft.list) {
      const Rect keys = ways.take_right(72, gap);
      draw_ways(view, ways);
      if (draw_act(pen, keys, {"find:keys", w.keys, ActStyle::square, {}, true})) draft.list = false;
      asked = draw_found(view, area, {l.page.x, area.y, l.page.w, l.page.bottom() - area.y});
    } else {
      draw_ways(view, ways);
      const Rect act = area.take_bottom(60, gap);
      // In a low window the keys keep their size and scroll.
      constexpr std::size_t most_rows = 6;
      const float keys = 60 + gap + static_cast<float>(most_rows) * (56 + gap);
      const float height = std::max(area.h, keys);
      Rect inside{area.x, pen.begin_scroll("find:keys", area, height), area.w, height};
      draw_field(view, inside.take_top(60, gap));
      draw_all_keys(view, inside);
      pen.end_scroll("find:keys");
      asked = draw_phone_act(view, act);
    }
  }
  if (pen.touch.take_key(Key::enter)) {
    const FindDraft::Answer& answer = answer_of(view);
    if (!answer.found.empty()) asked = go_to(view, answer.found.front());
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb

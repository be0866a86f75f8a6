// Unpot & count: one pot on the bench. Take a handful, tap how many; the total runs; one act keeps it.

#include <algorithm>
#include <cmath>
#include <map>

#include "app/screens/screens.hpp"
#include "app/screens/unpot_mother.hpp"
#include "app/widgets/balance.hpp"
#include "app/widgets/grade_picker.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/mother.hpp"
#include "app/widgets/number_pad.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t keys_shown = 6;

std::string bulbs_word(const UnpotDraft& draft, std::int64_t count) {
  const Words& w = words();
  if (of_pieces(draft)) return std::string(count == 1 ? w.bulblet : w.bulblets);
  return std::string(count == 1 ? w.bulb : w.bulbs);
}

std::string dead_words(const UnpotDraft& draft) {
  std::string text;
  for (const auto& [cause, count] : dead_by_cause(draft)) {
    text += (text.empty() ? "" : ", ") + std::to_string(count) + " " + std::string(name_of(cause));
  }
  return text;
}

std::string state_words(const UnpotDraft& draft) {
  const Words& w = words();
  if (draft.dead().empty()) return std::string(of_pieces(draft) ? w.all_alive : w.none_lost);
  if (!of_pieces(draft)) return dead_words(draft);
  return say(w.alive_word, was_in(draft) - dead_count(draft)) + ", " + dead_words(draft);
}

std::string per_piece_words(const UnpotDraft& draft) {
  const Words& w = words();
  const std::int64_t in = was_in(draft);
  if (!of_pieces(draft)) return say(w.was_in, counted(in, "bulb", "bulbs"));
  if (in <= 0 || draft.total() == 0) return "";
  const std::int64_t tenths = (draft.total() * 10 + in / 2) / in;
  const std::string share = std::to_string(tenths / 10) + "." + std::to_string(tenths % 10);
  const Method method = draft.pot->batch.method;
  const bool sections = method == Method::chipping || method == Method::halving || method == Method::quartering;
  return say(sections ? w.a_section : w.a_piece, share);
}

BalanceView balance_of(const UnpotDraft& draft) {
  const Words& w = words();
  BalanceView view;
  view.in = was_in(draft);
  using Kind = BalancePart::Kind;
  if (of_pieces(draft)) {
    view.in_words = say(w.in_word, pieces_word(draft.pot->batch.method, view.in));
    const std::int64_t alive = view.in - dead_count(draft);
    view.parts.push_back({Kind::there, alive, say(w.alive_word, alive)});
  } else {
    view.in_words = say(w.in_word, counted(view.in, "bulb", "bulbs"));
    const std::int64_t counted_now = draft.total();
    const std::int64_t left = view.in - dead_count(draft);
    const std::int64_t there = std::min(counted_now, std::max<std::int64_t>(left, 0));
    view.parts.push_back({Kind::there, there, say(w.there_word, there)});
    if (counted_now > left)
      view.parts.push_back({Kind::increase, counted_now - left, say(w.increase_word, counted_now - left)});
    if (counted_now < left && counted_now > 0)
      view.parts.push_back({Kind::open, left - counted_now, say(w.open_word, left - counted_now)});
  }
  for (const auto& [cause, count] : dead_by_cause(draft)) {
    view.parts.push_back({Kind::lost, count, std::to_string(count) + " " + std::string(name_of(cause))});
  }
  return view;
}

// --- parts

void draw_mother_target(ScreenView& view, Rect target, Point middle, float radius) {
  UnpotDraft& draft = view.ui.unpot;
  if (view.pen.touch.hit("mother", target)) {
    draft.choosing_cause = !draft.choosing_cause;
    draft.by_section = false;
  }
  if (is_pressed(view.pen, "mother")) view.pen.fill(target, view.pen.theme.straw, 6);
  if (of_pieces(draft)) {
    const bool whole = leaves_mother_whole(draft.pot->batch.method);
    const std::int64_t pieces = draft.pot->pot.pieces;
    MotherView mother;
    mother.whole = whole && pieces <= 1;
    mother.wedges = static_cast<int>(mother.whole ? draft.pot->batch.sections : pieces);
    const std::vector<Cause> dead = draft.dead();
    if (mother.whole && !dead.empty()) {
      mother.dead.assign(static_cast<std::size_t>(std::max(1, mother.wedges)), dead.front());
    } else {
      mother.dead = dead;
    }
    draw_mother(view.pen, middle, radius, mother);
    return;
  }
  // Bulbs: rings for size, no cuts; those lost are told by their icon.
  draw_size_rings(view.pen, middle, radius, 3, false);
  if (!draft.lost.empty()) {
    view.pen.disc(middle, radius * 0.4F, view.pen.theme.sheet);
    draw_icon(view.pen, icon_of(draft.lost.back()), middle, radius * 0.6F, view.pen.theme.copper);
  }
}

std::string story_line(const ScreenView& view, const UnpotDraft& draft) {
  const BatchState& batch = draft.pot->batch;
  std::string text(name_of(batch.method));
  if (cuts(batch.method) && batch.sections > 0) text += " into " + std::to_string(batch.sections);
  if (!batch.helper.empty()) text += ", by " + batch.helper;
  text += ", " + day_near(local_day(batch.begun_on), view.today);
  return text;
}

std::string history_line(const ScreenView& view, const UnpotDraft& draft, bool with_medium) {
  const BatchState& batch = draft.pot->batch;
  std::string text;
  if (batch.mother_grade && batch.mother_grade->sized()) text = "Mother " + grade_words(*batch.mother_grade) + " cm, ";
  const Day filled = local_day(draft.pot->pot.filled_on);
  text += filled == view.today ? "since today" : weeks_between(filled, view.today);
  text += batch.medium.empty() || !with_medium ? " in the pot" : " in " + batch.medium;
  return text;
}

// True where its tag was tapped: another pot is meant.
bool draw_pot_card(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  UnpotDraft& draft = view.ui.unpot;
  pen.fill(area, t.sheet, 8);
  const float mother_column = std::min(220.0F, area.w * 0.34F);
  const Rect right{area.right() - mother_column, area.y, mother_column, area.h};
  pen.fill({right.x, area.y + 18, 1.5F, area.h - 36}, t.well);
  const float radius = std::min({86.0F, (area.h - 66) / 2, mother_column / 2 - 20});
  draw_mother_target(view, right.inset(8, 8), {right.middle().x, area.y + 18 + radius}, radius);
  const Color words_color = is_pressed(pen, "mother") ? t.on_straw : t.ink;
  const Rect below{right.x + 12, area.bottom() - 40, right.w - 24, 24};
  pen.text_in(below, pen.fitting({Type::strong_16, Type::strong_15}, state_words(draft), below.w), words_color,
              state_words(draft), Align::middle);

  const float x = area.x + 24;
  const float room = right.x - x - 16;
  const std::string label = pot_label(draft.pot->batch, draft.pot->pot.pot.number);
  bool other = false;
  if (draft.of > 1) {
    const Rect tag{x - 6, area.y + 14, pot_tag_width(pen, 44, label) + 12, 56};
    other = pen.touch.hit("pot:other", tag);
    if (is_pressed(pen, "pot:other")) pen.fill(tag, t.straw, 6);
  }
  draw_pot_tag(pen, {x, area.y + 20}, 44, label, room);
  if (on_hold(draft.pot->batch, draft.pot->pot)) draw_mark(pen, Mark::on_hold, {x + room - 16, area.y + 42}, 28);
  const std::string clone = clone_words(draft.pot->batch);
  const Type name = pen.fitting({Type::name_36, Type::name_28, Type::name_23}, clone, room);
  pen.text(name, {x, area.y + 108}, t.ink, pen.fitted(name, clone, room));
  const std::string held =
      draft.pot->pot.held_reason.empty() ? draft.pot->batch.held_reason : draft.pot->pot.held_reason;
  const std::string first = story_line(view, draft);
  std::string second = history_line(view, draft, true);
  if (pen.width(Type::body_18, second) > room) second = history_line(view, draft, false);
  if (on_hold(draft.pot->batch, draft.pot->pot)) second = say(words().pot_held, held);
  const Type type =
      pen.fitting({Type::body_18, Type::body_16, Type::body_15}, first.size() > second.size() ? first : second, room);
  pen.text(type, {x, area.y + 144}, t.ink2, pen.fitted(type, first, room));
  pen.text(type, {x, area.y + 172}, t.ink2, pen.fitted(type, second, room));
  return other;
}

void draw_picker(ScreenView& view, Rect area, bool two_rows) {
  UnpotDraft& draft = view.ui.unpot;
  std::vector<GradeKey> keys;
  const std::size_t shown = std::min(keys_shown, draft.grades.size() - draft.first_shown);
  for (std::size_t i = 0; i < shown; ++i) {
    const std::size_t at = draft.first_shown + i;
    GradeKey key;
    key.name = grade_words(draft.grades[at]);
    for (const Handful& handful : draft.handfuls) {
      if (handful.grade == draft.grades[at]) key.count += handful.count;
    }
    key.share = shown > 1 ? static_cast<float>(i) / static_cast<float>(shown - 1) : 0.5F;
    key.opens_more = (i == 0 && draft.first_shown > 0) || (i + 1 == shown && at + 1 < draft.grades.size());
    keys.push_back(std::move(key));
  }
  const std::size_t chosen = draft.chosen - draft.first_shown;
  if (const auto tapped = draw_grade_picker(view.pen, area, keys, chosen, two_rows)) {
    draft.chosen = draft.first_shown + *tapped;
    // An end key opens the rest: the six move on by two, so that what was chosen stays in sight.
    if (*tapped == 0 && draft.first_shown > 0) draft.first_shown -= std::min<std::size_t>(2, draft.first_shown);
    if (*tapped + 1 == shown && draft.first_shown + shown < draft.grades.size()) {
      draft.first_shown += std::min<std::size_t>(2, draft.grades.size() - draft.first_shown - shown);
    }
  }
}

void draw_total_words(ScreenView& view, Point at, float room, bool large) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const UnpotDraft& draft = view.ui.unpot;
  const std::int64_t total = draft.total();
  const float shown = pen.motion.towards("total", static_cast<float>(total), 120);
  const std::string number = std::to_string(std::lround(shown));
  const Type type = large ? pen.fitting({Type::numeral_88, Type::numeral_56}, number, room * 0.6F) : Type::numeral_56;
  const float wide = pen.text(type, {at.x, at.y + pen.cap(type)}, t.tunic, number);
  const float x = at.x + wide + (large ? 22.0F : 14.0F);
  const float left = at.x + room - x;
  const std::string word = bulbs_word(draft, total);
  const Type word_type = large ? Type::heading_28 : Type::heading_20;
  pen.text(word_type, {x, at.y + (large ? 24.0F : 16.0F)}, t.ink, pen.fitted(word_type, word, left));
  const Type small = large ? Type::strong_16 : Type::strong_15;
  const std::string second = large ? per_piece_words(draft) : state_words(draft);
  pen.text(small, {x, at.y + (large ? 54.0F : 38.0F)}, t.ink2, pen.fitted(small, second, left));
}

void draw_handful_chips(ScreenView& view, Rect area, bool title) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const UnpotDraft& draft = view.ui.unpot;
  const Words& w = words();
  if (draft.handfuls.empty()) {
    if (title) pen.paragraph(area.moved(0, 8), Type::body_16, t.ink2, w.none_yet, 2);
    return;
  }
  float y = area.y;
  if (title) {
    pen.text(Type::strong_16, {area.x, y + 16}, t.ink2, w.each_handful);
    y += 32;
  }
  // From the last backwards, as many as there is room for.
  std::vector<std::string> chips;
  float used = 0;
  for (auto it = draft.handfuls.rbegin(); it != draft.handfuls.rend(); ++it) {
    const std::string chip = "+" + std::to_string(it->count);
    const float wide = std::max(40.0F, pen.width(Type::heading_20, chip) + 20);
    if (used + wide > area.w) break;
    used += wide + 7;
    chips.insert(chips.begin(), chip);
  }
  float x = area.x;
  for (std::size_t i = 0; i < chips.size(); ++i) {
    const bool last = i + 1 == chips.size();
    const float wide = std::max(40.0F, pen.width(Type::heading_20, chips[i]) + 20);
    const Rect chip{x, y, wide, 34};
    pen.fill(chip, last ? t.straw : t.well, 4);
    pen.text_in(chip, Type::heading_20, last ? t.on_straw : t.ink, chips[i], Align::middle);
    x += wide + 7;
  }
}

void draw_handful_list(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const UnpotDraft& draft = view.ui.unpot;
  const Words& w = words();
  if (draft.handfuls.empty()) {
    pen.paragraph(area, Type::body_16, t.ink2, w.none_yet, 2);
    return;
  }
  pen.text(Type::strong_16, {area.x, area.y + 16}, t.ink2, w.each_handful_took);
  const float h = 44;
  float y = area.y + 30;
  for (auto it = draft.handfuls.rbegin(); it != draft.handfuls.rend() && y + h <= area.bottom(); ++it) {
    const bool last = it == draft.handfuls.rbegin();
    const Rect row{area.x, y, area.w, last ? h - 6 : h};
    if (last) {
      pen.fill(row, t.straw, 4);
    } else {
      pen.fill({row.x, row.bottom() - 1.5F, row.w, 1.5F}, t.night ? t.ring : t.well);
    }
    const Color ink = last ? t.on_straw : t.ink;
    pen.text_in({row.x + 12, row.y, 48, row.h}, Type::heading_20, ink, "+" + std::to_string(it->count));
    const std::string size = it->grade.sized() ? say(w.handful_size, grade_words(it->grade)) : grade_words(it->grade);
    pen.text_in({row.x + 64, row.y, row.w - 130, row.h}, Type::strong_16, last ? t.on_straw : t.ink2, size);
    if (last) pen.text_in({row.x, row.y, row.w - 12, row.h}, Type::strong_16, ink, w.last_handful, Align::right);
    y += h;
  }
}

// An unlikely count is asked about once, in place of the pad.
std::optional<Wish> draw_question(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const Words& w = words();
  UnpotDraft& draft = view.ui.unpot;
  pen.fill(area, t.proposed, 8);
  pen.frame(area, t.night ? t.straw : t.ink, 2, 8);
  Rect inside = area.inset(20, 16);
  const float act = area.h >= 330 ? 72.0F : 56.0F;
  const Rect no = inside.take_bottom(act, 8);
  const Rect yes = inside.take_bottom(act, 12);
  pen.text_in(inside.take_top(36, 4), Type::heading_28, t.ink, w.sure_title);
  pen.paragraph(inside, Type::body_18, t.ink2, draft.asked, area.h >= 330 ? 8 : 4);
  std::optional<Wish> wish;
  if (draw_act(pen, yes, {"sure:yes", say(w.sure_yes, draft.total()), ActStyle::main, Icon::tick, true}))
    wish = KeepCount{true};
  if (draw_act(pen, no, {"sure:no", w.sure_no, ActStyle::plain, {}, true})) draft.asked.clear();
  return wish;
}

std::optional<Wish> draw_pad_place(ScreenView& view, Rect area) {
  UnpotDraft& draft = view.ui.unpot;
  if (!draft.asked.empty()) return draw_question(view, area);
  if (draft.choosing_cause) {
    draw_opened_mother(view, area);
    return std::nullopt;
  }
  const bool has_next = draft.chosen + 1 < draft.grades.size();
  const PadAnswer answer = draw_number_pad(view.pen, area, !draft.handfuls.empty(), has_next, view.layout.phone());
  if (answer.handful && draft.total() + *answer.handful <= greatest_count)
    draft.handfuls.push_back({draft.grades[draft.chosen], *answer.handful});
  if (answer.undo && !draft.handfuls.empty()) draft.handfuls.pop_back();
  if (answer.next && has_next) {
    ++draft.chosen;
    if (draft.chosen >= draft.first_shown + keys_shown) ++draft.first_shown;
    // A step on reaches for what is bigger still.
    if (draft.chosen + 1 == draft.first_shown + keys_shown && draft.chosen + 1 < draft.grades.size())
      ++draft.first_shown;
  }
  // A new handful answers the question whether the count was meant.
  return std::nullopt;
}

std::optional<Wish> draw_keep(ScreenView& view, Rect area) {
  const Words& w = words();
  const UnpotDraft& draft = view.ui.unpot;
  const std::int64_t total = draft.total();
  std::string text;
  if (total == 0) {
    text = of_pieces(draft) ? w.keep_none : w.keep_no_bulbs;
  } else if (draft.number >= draft.of) {
    text = say(w.keep_last, total);
  } else {
    text = say(view.layout.portrait() ? w.keep_next_long : w.keep_next, total);
  }
  const bool enter = view.pen.touch.take_key(Key::enter);
  const bool can = draft.asked.empty();
  if (draw_act(view.pen, area, {"keep", text, total == 0 ? ActStyle::quiet : ActStyle::main, Icon::tick, can}) ||
      (enter && can))
    return KeepCount{false};
  return std::nullopt;
}

void draw_heading(ScreenView& view, Rect area) {
  view.pen.text_in(area, Type::heading_24, view.pen.theme.ink, words().size_round);
}

std::optional<Wish> draw_wide(ScreenView& view) {
  Layout& l = view.layout;
  const auto [reading, acting] = l.columns(l.content, 0.589F, 30);
  Rect left = reading;
  Rect right = acting;
  std::optional<Wish> wish;
  if (draw_pot_card(view, left.take_top(left.h >= 760 ? 250.0F : 206.0F, 18))) wish = GoBack{};
  draw_heading(view, left.take_top(28, 8));
  const BalanceView balance = balance_of(view.ui.unpot);
  const float balance_room = balance_height(view.pen, left.w, balance);
  draw_balance(view.pen, left.take_bottom(balance_room, 12), balance);
  Rect totals = left.take_bottom(96, 10);
  draw_picker(view, left, false);
  draw_total_words(view, {totals.x, totals.y + 16}, totals.w * 0.42F, true);
  draw_handful_chips(view, {totals.x + totals.w * 0.44F, totals.y + 8, totals.w * 0.56F, 80}, true);
  const Rect keep = right.take_bottom(84, 18);
  if (const auto asked = draw_pad_place(view, right)) wish = asked;
  if (const auto asked = draw_keep(view, keep)) wish = asked;
  return wish;
}

std::optional<Wish> draw_tall(ScreenView& view) {
  Rect area = view.layout.content;
  std::optional<Wish> wish;
  const Rect keep = area.take_bottom(84, 18);
  if (draw_pot_card(view, area.take_top(212, 20))) wish = GoBack{};
  draw_heading(view, area.take_top(28, 8));
  const BalanceView balance = balance_of(view.ui.unpot);
  draw_balance(view.pen, area.take_bottom(balance_height(view.pen, area.w, balance), 20), balance);
  draw_picker(view, area.take_top(std::min(150.0F, area.h * 0.3F), 22), false);
  Rect left = area;
  const Rect pad = left.take_right(430, 26);
  draw_total_words(view, {left.x, left.y + 26}, left.w, true);
  draw_handful_list(view, {left.x, left.y + 118, left.w, left.h - 118});
  if (const auto asked = draw_pad_place(view, pad)) wish = asked;
  if (const auto asked = draw_keep(view, keep)) wish = asked;
  return wish;
}

std::optional<Wish> draw_narrow(ScreenView& view) {
  Layout& l = view.layout;
  Rect area{l.content.x, l.content.y, l.content.w, l.window.bottom() - 12 - l.content.y};
  std::optional<Wish> wish;
  const Rect keep = area.take_bottom(64, 10);
  if (view.ui.unpot.choosing_cause && view.ui.unpot.by_section && view.ui.unpot.asked.empty()) {
    // The mother needs all the room that a phone has.
    draw_opened_mother(view, area);
    if (const auto asked = draw_keep(view, keep)) wish = asked;
    return wish;
  }
  const Rect pad = area.take_bottom(4 * 64 + 3 * 8, 10);
  const Rect totals = area.take_bottom(56, 8);
  draw_picker(view, area, true);
  const auto slip = slip_of(view.ui);
  if (slip && (slip->waiting || !view.ui.unpot.begun())) {
    if (draw_kept_slip(view.pen, totals, *slip, true)) wish = UndoKept{};
  } else {
    draw_total_words(view, {totals.x, totals.y + 10}, totals.w * 0.6F, false);
    draw_handful_chips(view, {totals.x + totals.w * 0.6F, totals.y + 12, totals.w * 0.4F, 40}, false);
  }
  if (const auto asked = draw_pad_place(view, pad)) wish = asked;
  if (const auto asked = draw_keep(view, keep)) wish = asked;
  return wish;
}

}  // namespace

std::optional<Wish> draw_unpot_screen(ScreenView& view) {
  const Words& w = words();
  Layout& l = view.layout;
  UnpotDraft& draft = view.ui.unpot;
  std::optional<Wish> wish;
  const std::string label = pot_label(draft.pot->batch, draft.pot->pot.pot.number);
  bool back = false;
  bool who = false;
  const bool when_set = view.ui.when.has_value();
  if (l.phone()) {
    // Which pot is in the hand comes before whose it is.
    const HeadAnswer head =
        draw_head(view.pen, l, {label, clone_words(draft.pot->batch), true, false, 68, by_words(view), when_set});
    back = head.back;
    who = head.who;
    draw_mother_target(view, {l.head.right() - 60, 8, 60, 60}, {l.head.right() - 30, 38}, 27);
  } else {
    std::string second = say(w.pot_of_pots, draft.number, draft.of);
    const std::string place = place_of(draft.pot->batch, draft.pot->pot);
    if (!place.empty()) second += ", " + place;
    const HeadAnswer head =
        draw_head(view.pen, l, {w.unpot_title, second, true, false, kept_room(view), by_words(view), when_set});
    back = head.back;
    who = head.who;
    if (draw_kept(view)) wish = UndoKept{};
  }
  if (draw_trouble(view)) wish = PutErrorAside{};
  std::optional<Wish> asked;
  switch (l.shape) {
    case Shape::phone:
      asked = draw_narrow(view);
      break;
    case Shape::portrait:
      asked = draw_tall(view);
      break;
    case Shape::landscape:
      asked = draw_wide(view);
      break;
  }
  if (asked) wish = asked;
  if (back) wish = GoBack{};
  if (who) wish = Go{Screen::who, {}};
  return wish;
}

}  // namespace motherbulb

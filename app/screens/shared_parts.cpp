// What several screens share: words for records, what was kept, what went wrong, the rows of lists.

#include <algorithm>

#include "app/screens/screens.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/see_tiles.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/bench.hpp"

namespace motherbulb {

std::string clone_words(const std::string& clone) {
  return clone.empty() ? std::string(words().clone_unknown) : say(words().clone_quoted, clone);
}

std::string clone_words(const BatchState& batch) {
  return clone_words(batch.clone);
}

std::string batch_words(const BatchState& batch) {
  if (!batch.label.empty()) return batch.label;
  return batch.mark.empty() ? std::string(words().no_name) : batch.mark;
}

std::string pieces_word(Method method, std::int64_t count) {
  switch (method) {
    case Method::twin_scaling:
      return counted(count, "twin-scale", "twin-scales");
    case Method::scaling:
      return counted(count, "scale", "scales");
    case Method::cross_cutting:
    case Method::scoring:
    case Method::scooping:
      return counted(count, "cut bulb", "cut bulbs");
    default:
      return counted(count, "section", "sections");
  }
}

std::string contents_words(const PotState& pot) {
  if (pot.unit == Unit::pieces) return counted(pot.pieces, "piece", "pieces");
  const std::int64_t bulbs = total(pot.bulbs);
  std::string text = counted(bulbs, "bulb", "bulbs");
  if (pot.bulbs.size() == 1 && pot.bulbs.begin()->first.sized())
    text += ", " + grade_words(pot.bulbs.begin()->first) + " cm";
  return text;
}

std::string holds_words(const BatchState& batch, const PotState& pot) {
  return pot.unit == Unit::pieces ? pieces_word(batch.method, pot.pieces) : contents_words(pot);
}

namespace {
std::string words_of_slot(const PotView& pot) {
  const BenchWords& w = bench_words();
  std::string text = pot.label + ": " + holds_words(pot.batch, pot.pot);
  if (pot.stage == Stage::resting || pot.stage == Stage::drying_off) text += ", " + std::string(w.legend_resting);
  if (!pot.pot.damage.empty()) text += ", " + seen_words(pot.pot.damage.back().cause, pot.pot.damage.back().detail);
  if (pot.held) text += ", " + std::string(w.on_hold);
  return text;
}
}  // namespace

BenchSlot slot_of(const Pen& pen, const PotView& pot) {
  using What = BenchSlot::What;
  BenchSlot slot;
  slot.name = "bench:" + pot.label;
  slot.what = pot.of_pieces() ? What::pieces : What::growing;
  if (pot.stage == Stage::resting || pot.stage == Stage::drying_off) slot.what = What::resting;
  slot.count = pot.of_pieces() ? pot.pot.pieces : pot.bulbs;
  slot.held = pot.held;
  if (pen.is_told()) slot.words = words_of_slot(pot);
  return slot;
}

std::string holds_at_words(Pen& pen, Type first, const std::string& holds, const std::string& place, float room) {
  if (place.empty()) return holds;
  const Words& w = words();
  const std::string whole = say(w.holds_at, holds, place);
  if (pen.width(first, whole) <= room) return whole;
  PlaceParts near = split_place(place);
  near.bench = near_name(near.bench);
  const std::string nearer = say(w.holds_at, holds, join_place(near));
  return pen.width(Type::body_15, nearer) <= room ? nearer : holds;
}

std::string when_words(const ScreenView& view, const When& when) {
  const std::string day = day_near(local_day(when), view.today);
  const std::string time = clock_time(when);
  return time.empty() ? day : say(words().then_at, day, time);
}

std::string when_about_words(const ScreenView& view, const When& when) {
  const Day day = local_day(when);
  return day.days < view.today.days - 1 ? day_near(day, view.today) : when_words(view, when);
}

BalanceView balance_of(const BatchState& batch, const PotState& pot) {
  const Words& w = words();
  using Part = BalancePart::Kind;
  BalanceView view;
  const auto add = [&](Part kind, std::int64_t count, std::string_view pattern) {
    if (count != 0) view.parts.push_back({kind, count, say(pattern, grouped(count))});
  };
  const auto add_lost = [&](const LossByCause& lost) {
    for (std::size_t i = 0; i < lost.size(); ++i) {
      if (lost[i] != 0)
        view.parts.push_back(
            {Part::lost, lost[i], say(w.count_word, grouped(lost[i]), name_of(static_cast<Cause>(i)))});
    }
  };
  const bool of_pieces = pot.unit == Unit::pieces;
  if (of_pieces) {
    const PieceBalance& p = pot.piece_balance;
    view.in = p.made + p.brought;
    view.in_words = say(w.in_word, pieces_word(batch.method, view.in));
    add(Part::there, p.growing, w.b_growing);
    add(Part::out, p.alive, w.alive_word);
    add(Part::out, p.taken, w.b_taken);
    add_lost(p.lost);
    add(Part::open, p.open, w.open_word);
    return view;
  }
  const BulbBalance& p = pot.bulb_balance;
  view.in = p.begun + p.increase + p.brought;
  view.in_words = say(w.in_word, counted(view.in, w.bulb, w.bulbs));
  add(Part::there, p.there, w.there_word);
  add(Part::out, p.sold, w.b_sold);
  add(Part::out, p.cut, w.b_cut);
  add(Part::out, p.given, w.b_given);
  add(Part::out, p.discarded, w.b_discarded);
  add(Part::out, p.taken, w.b_taken);
  add_lost(p.lost);
  add(Part::open, p.open, w.open_word);
  return view;
}

Mark mark_of(Stage stage) {
  switch (stage) {
    case Stage::forming:
      return Mark::forming;
    case Stage::growing:
      return Mark::growing;
    case Stage::drying_off:
      return Mark::drying_off;
    case Stage::resting:
      return Mark::resting;
    case Stage::started:
      return Mark::started;
    case Stage::emptied:
      return Mark::lost;
  }
  return Mark::growing;
}

namespace {
std::string kept_pill_words(const ScreenView& view) {
  return say(words().all_kept, clock_time(*view.ui.last_kept));
}
}  // namespace

std::optional<Slip> slip_of(const UiState& ui) {
  if (ui.keeping) return Slip{words().keeping, false, true};
  if (ui.kept) return Slip{ui.kept->words, !ui.kept->receipts.empty(), false};
  return std::nullopt;
}

float kept_room(ScreenView& view) {
  if (view.layout.phone()) return 0;
  if (const auto slip = slip_of(view.ui)) {
    const float most = view.layout.head.w * 0.55F;
    return std::min(most, kept_slip_width(view.pen, slip->words, slip->with_undo)) + 16;
  }
  if (view.ui.last_kept) return view.pen.width(Type::strong_16, kept_pill_words(view)) + 52 + 16;
  return 0;
}

bool draw_kept(ScreenView& view, bool on_phone_too) {
  Layout& l = view.layout;
  const auto slip = slip_of(view.ui);
  if (l.phone()) {
    if (!slip || !on_phone_too) return false;
    return draw_kept_slip(view.pen, l.content.take_top(56, 12), *slip, true);
  }
  const float top = l.portrait() ? 28.0F : 24.0F;
  if (slip) {
    const float w = kept_room(view) - 16;
    return draw_kept_slip(view.pen, {l.head.right() - w, top, w, 56}, *slip, false);
  }
  if (view.ui.last_kept) draw_kept_pill(view.pen, {l.head.right(), top + 28}, kept_pill_words(view));
  return false;
}

bool draw_trouble(ScreenView& view) {
  if (!view.ui.trouble) return false;
  Layout& l = view.layout;
  const float h = error_strip_height(view.pen, l.content.w, view.ui.trouble->title, view.ui.trouble->words);
  return draw_error_strip(view.pen, l.content.take_top(h, 12), view.ui.trouble->title, view.ui.trouble->words);
}

namespace {

// A hold or a re-entry time stands against it: it is done only by saying why, and the reason is kept.
std::optional<Wish> draw_guarded(ScreenView& view) {
  const Words& w = words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  Layout& l = view.layout;
  Asked& asked = *view.ui.asked;
  const bool phone = l.phone();
  const float text = pen.paragraph_height(l.content.w - 40, Type::body_18, asked.question, 5);
  const auto& reasons = asked.entering ? w.entering_reasons : w.guarded_reasons;
  const float key = 56;
  const int columns = phone ? 1 : 2;
  const float rows = static_cast<float>((static_cast<int>(reasons.size()) + 2 + columns - 1) / columns);
  const float writing = text_entry_height(phone) + 12 + 64;
  const float below = asked.writing ? writing : 30 + rows * (key + 8);
  const Rect panel = l.content.take_top(34 + text + 10 + below + 32, 12);
  pen.fill(panel, t.proposed, 8);
  pen.frame(panel, t.copper_fill, 2, 8);
  Rect inside = panel.inset(20, 16);
  pen.text_in(inside.take_top(34), Type::heading_24, t.copper, w.guarded_title);
  pen.paragraph(inside.take_top(text, 10), Type::body_18, t.ink, asked.question, 5);
  std::optional<Wish> wish;
  if (asked.writing) {
    const Rect entry = inside.take_top(text_entry_height(phone), 12);
    const bool entered = draw_text_entry(pen, entry, {"guarded", w.guarded_hint, 80, false}, asked.why, phone);
    const std::string why = without_ends(asked.why);
    Rect acts = inside.take_top(60);
    const Rect keep = acts.take_left(acts.w * 0.62F, 10);
    if ((draw_act(pen, keep, {"guarded:keep", w.guarded_keep, ActStyle::main, {}, !why.empty()}) || entered) &&
        !why.empty())
      wish = AnswerWhy{why};
    if (draw_act(pen, acts, {"asked:no", w.asked_no, ActStyle::plain, {}, true})) wish = AnswerAsked{false};
    return wish;
  }
  pen.text_in(inside.take_top(30), Type::body_16, t.ink2, w.guarded_why);
  const float wide = (inside.w - 8 * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  int at = 0;
  const auto next = [&] {
    const Rect place{inside.x + static_cast<float>(at % columns) * (wide + 8),
                     inside.y + static_cast<float>(at / columns) * (key + 8), wide, key};
    ++at;
    return place;
  };
  for (std::size_t i = 0; i < reasons.size(); ++i) {
    if (draw_act(pen, next(), {"guarded:" + std::to_string(i), reasons[i], ActStyle::quiet, {}, true}))
      wish = AnswerWhy{std::string(reasons[i])};
  }
  if (draw_act(pen, next(), {"guarded:other", w.guarded_other, ActStyle::quiet, {}, true})) asked.writing = true;
  if (draw_act(pen, next(), {"asked:no", w.asked_no, ActStyle::main, {}, true})) wish = AnswerAsked{false};
  return wish;
}

}  // namespace

std::optional<Wish> draw_asked(ScreenView& view) {
  if (!view.ui.asked) return std::nullopt;
  if (view.ui.asked->guarded) return draw_guarded(view);
  const Words& w = words();
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  Layout& l = view.layout;
  const float text = pen.paragraph_height(l.content.w - 40, Type::body_18, view.ui.asked->question, 5);
  const Rect panel = l.content.take_top(34 + text + 10 + 60 + 32, 12);
  pen.fill(panel, t.proposed, 8);
  pen.frame(panel, t.night ? t.straw : t.ink, 2, 8);
  Rect inside = panel.inset(20, 16);
  pen.text_in(inside.take_top(34), Type::heading_24, t.ink, w.asked_title);
  pen.paragraph(inside.take_top(text, 10), Type::body_18, t.ink2, view.ui.asked->question, 5);
  Rect acts = inside.take_top(60);
  acts.w = std::min(acts.w, 520.0F);
  const Rect yes = acts.take_left((acts.w - 10) / 2, 10);
  std::optional<Wish> wish;
  if (draw_act(pen, yes,
               {"asked:yes", w.asked_yes, ActStyle::main, l.phone() ? std::nullopt : std::optional(Icon::tick), true}))
    wish = AnswerAsked{true};
  if (draw_act(pen, acts, {"asked:no", w.asked_no, ActStyle::plain, {}, true})) wish = AnswerAsked{false};
  return wish;
}

std::string by_words(const ScreenView& view) {
  const Words& w = words();
  const std::string who = view.ui.helper.empty() ? std::string(w.who_is_here) : view.ui.helper;
  if (!view.ui.when) return say(w.by_now, who);
  return say(w.by_then, who, when_words(view, *view.ui.when));
}

std::optional<Wish> draw_top(ScreenView& view, const Top& top) {
  std::optional<Wish> wish;
  const std::string by = top.writes ? by_words(view) : std::string();
  const Head head{top.title, top.second, top.back, top.clone_name, kept_room(view), by, view.ui.when.has_value()};
  const HeadAnswer answer = draw_head(view.pen, view.layout, head);
  if (answer.back) wish = GoBack{};
  if (answer.who) wish = Go{Screen::who, {}};
  if (draw_kept(view, top.kept_on_phone)) wish = UndoKept{};
  if (draw_trouble(view)) wish = PutErrorAside{};
  if (const auto asked = draw_asked(view)) wish = asked;
  return wish;
}

float row_height(const Layout& layout, bool tagged, float text_height) {
  if (!layout.phone()) return 84;
  return (tagged ? 100.0F : 64.0F) + text_height;
}

bool draw_row(Pen& pen, Rect area, const RowView& row, bool rule_above, bool phone) {
  const Theme& t = pen.theme;
  bool tapped = false;
  const bool can = !row.target.empty();
  if (can) tapped = pen.touch.hit(row.target, area.inset(0, 4));
  const bool pressed = can && is_pressed(pen, row.target);
  if (pressed) pen.fill(area.inset(4, 4), t.straw, 6);
  if (rule_above) pen.fill({area.x + 20, area.y - 0.75F, area.w - 40, 1.5F}, t.well);
  const Color ink = pressed ? t.on_straw : t.ink;
  const Color ink2 = pressed ? t.on_straw : t.ink2;
  float x = area.x + (row.with_mark || row.icon ? 16.0F : 24.0F);
  if (row.with_mark || row.icon) {
    const float column = phone ? 40.0F : 84.0F;
    const bool worded = !row.mark_word.empty() && !phone;
    const Point m{x + column / 2, area.y + (worded ? 30.0F : area.h / 2)};
    if (row.icon) {
      draw_icon(pen, *row.icon, m, 30, pressed ? ink : t.copper);
    } else {
      draw_mark(pen, row.mark, m, 28);
    }
    if (worded)
      pen.text_in({x - 8, area.y + 50, column + 16, 24}, Type::strong_16,
                  pressed    ? ink
                  : row.icon ? t.copper
                             : mark_color(t, row.mark),
                  row.mark_word, Align::middle);
    x += column + (phone ? 10 : 18);
  }
  float end = area.right() - 20;
  if (can) {
    draw_icon(pen, Icon::next, {end - 6, area.middle().y}, 20, pressed ? ink : t.tunic);
    end -= 28;
  }
  if (!row.right.empty()) {
    const Type number = Type::numeral_40;
    const float w = std::max(pen.width(number, row.right), pen.width(Type::body_15, row.right_word));
    const float baseline =
        row.right_word.empty() ? area.middle().y + pen.cap(number) / 2 : area.y + 18 + pen.cap(number);
    pen.text(number, {end, baseline}, ink, row.right, Align::right);
    if (!row.right_word.empty())
      pen.text(Type::body_15, {end, area.y + (phone ? 66.0F : area.h - 14)}, ink2, row.right_word, Align::right);
    end -= w + 14;
  }
  const float room = end - x;
  const float top = area.y + (phone ? 12.0F : 8.0F);
  float name_x = x;
  if (!row.tag.empty()) {
    const float w = draw_pot_tag(pen, {x, top}, 34, row.tag, phone || row.name.empty() ? room : room * 0.6F);
    name_x += w + 12;
  }
  if (!row.name.empty()) {
    // On a phone a name has a line of its own.
    const bool below = phone && !row.tag.empty();
    const Rect name = below ? Rect{x, top + 38, room, 30} : Rect{name_x, top, end - name_x, 34};
    if (name.w > 60) pen.text_in(name, Type::name_23, ink, row.name);
  }
  if (phone) {
    const float below = top + (row.tag.empty() ? 34.0F : 70.0F) + 4;
    const int lines = std::max(1, static_cast<int>((area.bottom() - 8 - below) / 21));
    pen.paragraph({x, below, room, area.bottom() - below}, Type::body_15, ink2, row.line, lines);
    return tapped;
  }
  const Type line = pen.fitting({Type::body_16, Type::body_15}, row.line, room);
  pen.text(line, {x, area.bottom() - 20}, ink2, pen.fitted(line, row.line, room));
  return tapped;
}

}  // namespace motherbulb

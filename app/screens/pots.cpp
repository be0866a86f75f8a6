// Pests & damage: the benches as they stand. A tap chooses a pot, a tap says what is seen, one act keeps it.

#include <algorithm>
#include <array>

#include "app/screens/due_parts.hpp"
#include "app/widgets/balance.hpp"
#include "app/widgets/bench.hpp"
#include "app/widgets/damage_note.hpp"
#include "app/widgets/how_bad.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/see_tiles.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/bench.hpp"
#include "app/words/rest.hpp"

namespace motherbulb {
namespace {

using Filter = BenchDraft::Filter;
using Panel = BenchDraft::Panel;

constexpr std::int32_t look_again_days = 14;
// Free positions between pots are drawn one by one up to here; beyond it a number was typed wrong, or stands for a
// house and not for a bench.
constexpr std::int64_t most_free = 400;
constexpr float gap = 8;

bool matches(const PotView& pot, Filter filter, Day today) {
  switch (filter) {
    case Filter::all:
      return true;
    case Filter::damage:
      return !pot.pot.damage.empty();
    case Filter::held:
      return pot.held;
    case Filter::not_looked: {
      // Who potted it saw it then.
      std::int32_t seen = local_day(pot.pot.filled_on).days;
      if (pot.looked) seen = std::max(seen, local_day(*pot.looked).days);
      return seen < today.days - look_again_days;
    }
  }
  return true;
}

std::string bench_name(const BenchView& bench) {
  return bench.name.empty() ? std::string(bench_words().no_place) : bench.name;
}
// "bench 2" of "Skerry House, bench 2".
std::string short_bench_name(const BenchView& bench) {
  return near_name(bench_name(bench));
}

const BenchView& bench_shown(ScreenView& view) {
  return view.rows.benches()[view.ui.bench.picture.bench_at];
}

// ------------------------------------------------------------------------------------------------ what is shown

std::vector<BenchDraft::Slot> slots_of(const BenchView& bench, Filter filter, Day today) {
  std::vector<BenchDraft::Slot> slots;
  const std::int64_t laid_out =
      std::min<std::int64_t>(static_cast<std::int64_t>(bench.rows) * bench.columns, most_free);
  std::int64_t position = 1;
  const auto free_up_to = [&](std::int64_t end) {
    if (end - position > most_free) position = end;
    for (; position < end; ++position) slots.push_back({});
  };
  for (const PotView* pot : bench.pots) {
    if (pot->place.position > 0) free_up_to(pot->place.position);
    slots.push_back({pot, matches(*pot, filter, today)});
    if (pot->place.position > 0) position = std::max<std::int64_t>(position, pot->place.position + std::int64_t{1});
  }
  if (position <= laid_out) free_up_to(laid_out + 1);
  return slots;
}

void choose(BenchDraft& draft, const PotView& pot) {
  draft.pot = pot.id();
  draft.pot_label = pot.label;
  draft.bring_pot = true;
  draft.bring_page = true;
  if (draft.panel != Panel::see) draft.panel = Panel::see;
}

// Looks at the rows again where they, the day or the choice have changed.
void refresh_picture(ScreenView& view) {
  BenchDraft& draft = view.ui.bench;
  const std::vector<BenchView>& benches = view.rows.benches();
  if (!view.ui.about.pots.empty()) {
    if (const PotView* pot = view.rows.filled(view.ui.about.pots.front())) {
      choose(draft, *pot);
      draft.bench = pot->place.bench;
      draft.opened = true;
    }
    view.ui.about.pots.clear();
  }
  if (!draft.bench) {
    // Where somebody worked last, else the first bench that one comes to.
    const PotView* last = nullptr;
    for (const PotId& id : view.ui.last_pots) {
      if (last == nullptr) last = view.rows.filled(id);
    }
    draft.bench = last != nullptr ? last->place.bench : benches.front().name;
  }
  auto& picture = draft.picture;
  if (picture.made && picture.revision == view.rows.revision() && picture.today == view.today &&
      picture.filter == draft.filter && picture.bench == *draft.bench)
    return;
  picture = {};
  picture.made = true;
  picture.revision = view.rows.revision();
  picture.today = view.today;
  picture.filter = draft.filter;
  const auto at =
      std::find_if(benches.begin(), benches.end(), [&](const BenchView& one) { return one.name == *draft.bench; });
  picture.bench_at = at == benches.end() ? 0 : static_cast<std::size_t>(at - benches.begin());
  draft.bench = benches[picture.bench_at].name;
  picture.bench = *draft.bench;
  for (const BenchView& bench : benches) {
    std::int64_t matching = 0;
    for (const PotView* pot : bench.pots) {
      if (matches(*pot, draft.filter, view.today)) ++matching;
      if (matches(*pot, Filter::not_looked, view.today)) ++picture.not_looked;
    }
    picture.matching_on.push_back(matching);
  }
  const BenchView& bench = benches[picture.bench_at];
  picture.slots = slots_of(bench, draft.filter, view.today);
  picture.pots = static_cast<std::int64_t>(bench.pots.size());
  picture.matching = picture.matching_on[picture.bench_at];
  for (const PotView* pot : bench.pots) {
    if (!pot->pot.damage.empty()) ++picture.with_damage;
  }
  if (!draft.pot) {
    // Something stands on the straw label from the beginning: the first that the filter asks for, best with a note.
    const PotView* first = nullptr;
    const PotView* noted = nullptr;
    for (const BenchDraft::Slot& slot : picture.slots) {
      if (slot.pot == nullptr || !slot.matches) continue;
      if (first == nullptr) first = slot.pot;
      if (noted == nullptr && !slot.pot->pot.damage.empty()) noted = slot.pot;
    }
    if (noted != nullptr) first = noted;
    if (first != nullptr) choose(draft, *first);
  }
}

void go_to_bench(ScreenView& view, std::size_t at) {
  BenchDraft& draft = view.ui.bench;
  draft.bench = view.rows.benches()[at].name;
  draft.choosing_bench = false;
  draft.pot.reset();
  draft.bring_pot = true;
  refresh_picture(view);
}

void set_filter(ScreenView& view, Filter filter) {
  BenchDraft& draft = view.ui.bench;
  draft.filter = filter;
  draft.choosing_bench = false;
  refresh_picture(view);
  const PotView* chosen = draft.pot ? view.rows.filled(*draft.pot) : nullptr;
  if (chosen != nullptr && matches(*chosen, filter, view.today)) {
    draft.bring_pot = true;
    return;
  }
  auto& picture = draft.picture;
  if (picture.matching == 0) {
    const auto first = std::find_if(picture.matching_on.begin(), picture.matching_on.end(),
                                    [](std::int64_t matching) { return matching > 0; });
    if (first == picture.matching_on.end()) return;
    return go_to_bench(view, static_cast<std::size_t>(first - picture.matching_on.begin()));
  }
  for (const BenchDraft::Slot& slot : picture.slots) {
    if (slot.pot == nullptr || !slot.matches) continue;
    return choose(draft, *slot.pot);
  }
}

// The pot behind the chosen one on the bench, among those that the filter asks for; none at the end.
std::optional<PotId> next_on_bench(const BenchDraft& draft) {
  bool behind = false;
  for (const BenchDraft::Slot& slot : draft.picture.slots) {
    if (slot.pot == nullptr) continue;
    if (behind && slot.matches) return slot.pot->id();
    if (draft.pot && slot.pot->id() == *draft.pot) behind = true;
  }
  return std::nullopt;
}

// ------------------------------------------------------------------------------------------------ filters, benches

std::string count_words(std::string_view pattern, std::int64_t count) {
  return say(pattern, grouped(count));
}

std::optional<Wish> draw_filters(ScreenView& view, Rect area, bool two_rows) {
  Pen& pen = view.pen;
  const BenchWords& w = bench_words();
  BenchDraft& draft = view.ui.bench;
  const HouseCounts& counts = view.rows.counts();
  std::optional<Wish> wish;
  struct One {
    Filter filter;
    std::string name, words, short_words;
  };
  const std::int64_t all = counts.of_pieces + counts.of_bulbs;
  const std::array<One, 4> filters{
      {{Filter::all, "filter:all", count_words(w.all, all), count_words(w.all, all)},
       {Filter::damage, "filter:damage", count_words(w.with_damage, counts.with_damage),
        count_words(w.with_damage_short, counts.with_damage)},
       {Filter::held, "filter:held", count_words(w.held, counts.on_hold), count_words(w.held, counts.on_hold)},
       {Filter::not_looked, "filter:not-looked", count_words(w.not_looked, draft.picture.not_looked),
        count_words(w.not_looked_short, draft.picture.not_looked)}}};
  const auto draw_row_of = [&](Rect row, std::size_t from, std::size_t to, bool stretch) {
    constexpr float least_pad = 22;
    float longs = 0;
    float shorts = 0;
    const auto n = static_cast<float>(to - from);
    for (std::size_t i = from; i < to; ++i) {
      longs += std::max(56.0F, pen.width(Type::strong_16, filters[i].words) + least_pad);
      shorts += std::max(56.0F, pen.width(Type::strong_16, filters[i].short_words) + least_pad);
    }
    const float room = row.w - gap * (n - 1);
    const bool use_short = longs > room;
    float extra = std::max(0.0F, room - (use_short ? shorts : longs)) / n;
    if (!stretch) extra = std::min(extra, 14.0F);
    for (std::size_t i = from; i < to; ++i) {
      const std::string& words_shown = use_short ? filters[i].short_words : filters[i].words;
      const float wide = std::max(56.0F, pen.width(Type::strong_16, words_shown) + least_pad) + extra;
      if (draw_filter(pen, row.take_left(wide, gap), filters[i].name, words_shown, draft.filter == filters[i].filter))
        set_filter(view, filters[i].filter);
    }
  };
  if (two_rows) {
    Rect second = area.take_bottom(56, gap);
    const Rect find = second.take_right(56, gap);
    draw_row_of(area.take_top(56), 0, 3, true);
    const float wide = pen.width(Type::strong_16, filters[3].short_words) + 22;
    draw_row_of(second.take_left(wide, gap), 3, 4, true);
    const std::string bench_act =
        draft.filter == Filter::all ? std::string(w.whole_bench) : count_words(w.these, draft.picture.matching);
    if (draw_act(pen, second, {"bench:work", bench_act, ActStyle::quiet, {}, draft.picture.matching > 0})) {
      Subject about;
      for (const BenchDraft::Slot& slot : draft.picture.slots) {
        if (slot.pot != nullptr && slot.matches) about.pots.push_back(slot.pot->id());
      }
      wish = Go{Screen::care, about};
    }
    if (draw_icon_key(pen, find, "find", Icon::find)) wish = Go{Screen::find, {}};
    return wish;
  }
  const float find_words = pen.width(Type::heading_20, w.find) + 90;
  float longs = 0;
  for (const One& one : filters) longs += pen.width(Type::strong_16, one.words) + 22 + gap;
  if (longs + find_words <= area.w) {
    if (draw_act(pen, area.take_right(find_words, gap), {"find", w.find, ActStyle::link, Icon::find, true}))
      wish = Go{Screen::find, {}};
  } else if (draw_icon_key(pen, area.take_right(56, gap), "find", Icon::find)) {
    wish = Go{Screen::find, {}};
  }
  draw_row_of(area, 0, 4, false);
  return wish;
}

// Back, the bench's name (it opens them all), on, and what is done with the whole of it.
std::optional<Wish> draw_chooser(ScreenView& view, Rect area, bool with_act) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const BenchWords& w = bench_words();
  BenchDraft& draft = view.ui.bench;
  const auto& picture = draft.picture;
  const std::vector<BenchView>& benches = view.rows.benches();
  std::optional<Wish> wish;
  if (with_act) {
    const std::string act =
        draft.filter == Filter::all ? std::string(w.whole_bench) : count_words(w.these, picture.matching);
    const float wide = std::clamp(pen.width(Type::heading_24, act) + 24 + 0.7F * stake_depth(56) + 16, 130.0F, 190.0F);
    if (draw_act(pen, area.take_right(wide, gap), {"bench:work", act, ActStyle::quiet, {}, picture.matching > 0})) {
      Subject about;
      for (const BenchDraft::Slot& slot : picture.slots) {
        if (slot.pot != nullptr && slot.matches) about.pots.push_back(slot.pot->id());
      }
      wish = Go{Screen::care, about};
    }
  }
  // Where a filter is set, one walks from bench to bench that has such pots.
  const auto walk = [&](int by) -> std::optional<std::size_t> {
    for (auto at = static_cast<std::int64_t>(picture.bench_at) + by;
         at >= 0 && at < static_cast<std::int64_t>(benches.size()); at += by) {
      if (draft.filter == Filter::all || picture.matching_on[static_cast<std::size_t>(at)] > 0)
        return static_cast<std::size_t>(at);
    }
    return std::nullopt;
  };
  std::optional<std::size_t> to;
  const std::optional<std::size_t> before = walk(-1);
  const std::optional<std::size_t> behind = walk(1);
  if (draw_act(pen, area.take_left(56, gap), {"bench:back", "", ActStyle::square, Icon::back, before.has_value()}))
    to = before;
  if (draw_act(pen, area.take_right(56, gap), {"bench:next", "", ActStyle::square, Icon::next, behind.has_value()}))
    to = behind;
  const bool tapped = pen.touch.hit("bench:choose", area, benches.size() > 1);
  const bool pressed = is_pressed(pen, "bench:choose");
  if (pressed) pen.fill(area, t.straw, 6);
  const BenchView& bench = benches[picture.bench_at];
  const float room = area.w - (benches.size() > 1 ? 34.0F : 12.0F);
  std::string name = bench_name(bench);
  if (pen.width(Type::heading_20, name) > room) name = short_bench_name(bench);
  const Type type = pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, name, room);
  pen.text_in({area.x + 8, area.y + 3, room, 28}, type, pressed ? t.on_straw : t.ink, pen.fitted(type, name, room));
  std::string line = draft.filter == Filter::all
                         ? say(w.bench_line, counted(picture.pots, "pot", "pots"), grouped(picture.with_damage))
                         : say(w.bench_line_matching, grouped(picture.matching), counted(picture.pots, "pot", "pots"));
  if (pen.width(Type::body_15, line) > room) line = counted(picture.pots, "pot", "pots");
  pen.text_in({area.x + 8, area.y + 30, room, 22}, Type::body_15, pressed ? t.on_straw : t.ink2, line);
  if (benches.size() > 1)
    draw_icon(pen, draft.choosing_bench ? Icon::back : Icon::bench, {area.right() - 16, area.middle().y}, 22,
              pressed ? t.on_straw : t.tunic);
  if (tapped) draft.choosing_bench = !draft.choosing_bench;
  if (to) go_to_bench(view, *to);
  return wish;
}

void draw_bench_list(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  BenchDraft& draft = view.ui.bench;
  const std::vector<BenchView>& benches = view.rows.benches();
  const std::size_t columns = area.w >= 460 ? 2 : 1;
  const float wide = (area.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  const std::size_t lines = (benches.size() + columns - 1) / columns;
  constexpr float pitch = 64;
  const float top = pen.begin_scroll("benches", area, pitch * static_cast<float>(lines));
  std::optional<std::size_t> to;
  for (std::size_t i = 0; i < benches.size(); ++i) {
    const Rect row{area.x + static_cast<float>(i % columns) * (wide + gap),
                   top + pitch * static_cast<float>(i / columns), wide, pitch - gap};
    if (row.bottom() < area.y || row.y > area.bottom()) continue;
    const std::string target = "bench:go:" + benches[i].name;
    if (pen.touch.hit(target, row)) to = i;
    const bool pressed = is_pressed(pen, target);
    const bool on = i == draft.picture.bench_at;
    pen.label(row, Stake::right, pressed ? t.straw : on ? t.ink : t.sheet, pressed ? t.on_straw : t.edge, 2, 6);
    const Color ink = pressed ? t.on_straw : on ? t.on_ink : t.ink;
    const std::string count = grouped(draft.picture.matching_on[i]);
    const float end = row.right() - 26;
    pen.text_in({row.x, row.y, end - row.x, row.h}, Type::heading_24, ink, count, Align::right);
    std::string name = bench_name(benches[i]);
    const float room = end - row.x - 26 - pen.width(Type::heading_24, count);
    if (pen.width(Type::heading_18, name) > room) name = short_bench_name(benches[i]);
    const Type type = pen.fitting({Type::heading_20, Type::heading_18, Type::strong_15}, name, room);
    pen.text_in({row.x + 14, row.y, room, row.h}, type, ink, pen.fitted(type, name, room));
  }
  pen.end_scroll("benches");
  if (to) go_to_bench(view, *to);
}

void draw_grid(ScreenView& view, Rect area, std::size_t columns) {
  Pen& pen = view.pen;
  BenchDraft& draft = view.ui.bench;
  const auto& slots = draft.picture.slots;
  const BenchGrid grid = bench_grid(area.w, slots.size(), columns);
  if (draft.bring_pot) {
    draft.bring_pot = false;
    for (std::size_t i = 0; i < slots.size(); ++i) {
      if (slots[i].pot == nullptr || !draft.pot || !(slots[i].pot->id() == *draft.pot)) continue;
      const float offset = grid.row_of(i) - std::max(0.0F, (area.h - grid.pitch_y) / 2);
      pen.begin_scroll("bench", area, grid.height);
      pen.end_scroll("bench");
      pen.touch.scroll_to("bench", std::max(0.0F, offset));
      break;
    }
  }
  const auto slot_at = [&](std::size_t i) {
    const PotView* pot = slots[i].pot;
    if (pot == nullptr) return BenchSlot{};
    BenchSlot slot = slot_of(pen, *pot);
    slot.chosen = draft.pot && pot->id() == *draft.pot;
    slot.faded = !slots[i].matches;
    if (!pot->pot.damage.empty()) slot.icon = seen_icon(pot->pot.damage.back().cause, pot->pot.damage.back().detail);
    return slot;
  };
  if (const auto tapped = draw_bench(pen, area, grid, slots.size(), slot_at)) {
    choose(draft, *slots[*tapped].pot);
    draft.bring_pot = false;  // it is in sight
    draft.opened = true;
  }
}

void draw_legend(ScreenView& view, Rect area) {
  const BenchWords& w = bench_words();
  using What = BenchSlot::What;
  const auto part = [](What what, std::string_view words_shown, bool held = false) {
    BenchSlot slot;
    slot.what = what;
    slot.held = held;
    return LegendPart{slot, std::string(words_shown)};
  };
  draw_bench_legend(view.pen, area,
                    {part(What::growing, area.w < 500 ? w.legend_growing_short : w.legend_growing),
                     part(What::resting, w.legend_resting), part(What::pieces, w.legend_pieces),
                     part(What::growing, w.legend_held, true), part(What::free, w.legend_free)});
}

// Nobody enters before that: over the bench until the time is over. Takes its room from `area`, which keeps the rest.
void draw_no_entry(ScreenView& view, Rect& area) {
  const NoEntry* no_entry = view.rows.no_entry_at(bench_shown(view).name, view.now.utc_ms);
  if (no_entry == nullptr) return;
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const std::string text = no_entry_words(view, *no_entry);
  const float room = area.w - 60;
  const float high = pen.paragraph_height(room, Type::strong_16, text, 3);
  const Rect strip = area.take_top(high + 20, 8);
  pen.fill(strip, t.error_ground, 6);
  pen.frame(strip, t.copper);
  draw_icon(pen, Icon::clock, {strip.x + 26, strip.middle().y}, 26, t.copper);
  pen.paragraph({strip.x + 50, strip.y + 10, room, high}, Type::strong_16, t.ink, text, 3);
}

// ------------------------------------------------------------------------------------------------ the pot

std::string by_of(const ScreenView& view, const std::string& helper, const When& when) {
  const std::string then = when_about_words(view, when);
  return helper.empty() ? then : say(words().by_then, helper, then);
}

DamageNoteView note_of(const ScreenView& view, const DamageSeen& damage) {
  return {seen_icon(damage.cause, damage.detail), seen_words(damage.cause, damage.detail),
          static_cast<int>(damage.how_bad), by_of(view, damage.helper, damage.when), damage.note};
}

// What it holds and where it stands, as long as there is room for.
std::string holds_line(Pen& pen, const PotView& pot, float room) {
  return holds_at_words(pen, Type::body_16, holds_words(pot.batch, pot.pot), join_place(pot.place), room);
}

// Says why the pot that is open here is not there any more.
std::string gone_words(ScreenView& view) {
  const BenchWords& w = bench_words();
  const BenchDraft& draft = view.ui.bench;
  const std::optional<PotState> pot = view.rows.book().pot(*draft.pot);
  if (pot && pot->emptied && pot->count)
    return say(w.emptied_by, draft.pot_label, pot->count->helper, when_about_words(view, pot->count->when));
  return say(w.gone, draft.pot_label);
}

void draw_gone(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const BenchDraft& draft = view.ui.bench;
  Rect line = area.take_top(44, 16);
  const float tag = draw_pot_tag(pen, {line.x, line.y}, 44, draft.pot_label, line.w * 0.6F);
  draw_mark(pen, Mark::lost, {line.x + tag + 30, line.middle().y}, 26);
  pen.text_in({line.x + tag + 54, line.y, line.w - tag - 54, line.h}, Type::strong_18, t.ink2, bench_words().emptied);
  area.take_top(pen.paragraph(area, Type::body_18, t.ink, gone_words(view), 4), 8);
  if (draft.seen || !draft.note.empty()) pen.paragraph(area, Type::body_18, t.ink2, bench_words().draft_waits, 3);
}

float stage_words(Pen& pen, Point at, float room, const PotView& pot) {
  const Mark mark = pot.held ? Mark::on_hold : mark_of(pot.stage);
  const std::string_view word = pot.held ? bench_words().on_hold : name_of(pot.stage);
  draw_mark(pen, mark, {at.x + 14, at.y}, 26);
  const Type type = pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, word, room - 36);
  pen.text_in({at.x + 36, at.y - 20, room - 36, 40}, type, mark_color(pen.theme, mark), word);
  return 36 + pen.width(type, word);
}

std::optional<Wish> draw_pot_acts(ScreenView& view, Rect first, Rect second, Rect third, const PotView* pot) {
  Pen& pen = view.pen;
  const BenchWords& w = bench_words();
  BenchDraft& draft = view.ui.bench;
  std::optional<Wish> wish;
  if (pot != nullptr) {
    if (draw_act(pen, first,
                 {"pot:hold", pot->held ? w.clear : w.hold, ActStyle::link, pot->held ? Icon::tick : Icon::hold, true}))
      draft.panel = draft.panel == Panel::reasons ? Panel::see : Panel::reasons;
    if (draw_act(pen, second, {"pot:work", w.work, ActStyle::link, Icon::pots, true}))
      wish = Go{Screen::care, {{pot->id()}, {}, {}, {}}};
  }
  if (draw_act(pen, third, {"pot:story", w.story, ActStyle::link, Icon::note, true}))
    wish = Go{Screen::pot, {{*draft.pot}, {}, {}, {}}};
  return wish;
}

// Balance and notes of a pot, one below the other. Returns the height they take; draws where `draw` is set.
float pot_record(ScreenView& view, Rect area, const PotView& pot, bool narrow, bool draw) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const BenchWords& w = bench_words();
  const float top = area.y;
  if (pot.held && !pot.held_reason().empty()) {
    const std::string why = say(w.on_hold_why, pot.held_reason());
    const float h = pen.paragraph_height(area.w, Type::body_16, why, 4);
    const Rect line = area.take_top(h, 12);
    if (draw) pen.paragraph(line, Type::body_16, t.tunic, why, 4);
  }
  const BalanceView balance = balance_of(pot.batch, pot.pot);
  const auto take_balance = [&] {
    if (balance.in <= 0 || balance.parts.empty()) return;
    const Rect bar = area.take_top(balance_height(pen, area.w, balance), 16);
    if (draw) draw_balance(pen, bar, balance);
  };
  // Upright the card is low: what was seen comes before what was counted.
  const bool notes_first = view.layout.portrait() && !pot.pot.damage.empty();
  if (!notes_first) take_balance();
  if (pot.pot.damage.empty()) {
    const float h = pen.paragraph_height(area.w, Type::body_16, w.no_damage, 2);
    const Rect line = area.take_top(h, 4);
    if (draw) pen.paragraph(line, Type::body_16, t.ink2, w.no_damage, 2);
  }
  const std::string looked =
      pot.looked ? say(w.looked, when_about_words(view, *pot.looked)) : std::string(w.never_looked);
  if (pot.pot.damage.empty()) {
    const Rect line = area.take_top(24, 4);
    if (draw) pen.text_in(line, Type::body_16, t.ink2, looked);
  }
  for (auto damage = pot.pot.damage.rbegin(); damage != pot.pot.damage.rend(); ++damage) {
    const DamageNoteView note = note_of(view, *damage);
    const Rect at = area.take_top(damage_note_height(pen, area.w, note, narrow));
    if (draw) draw_damage_note(pen, at, note, narrow);
  }
  if (notes_first) take_balance();
  return area.y - top;
}

// Landscape and portrait.
std::optional<Wish> draw_card(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  BenchDraft& draft = view.ui.bench;
  pen.fill(area, t.sheet, 8);
  const bool wide = area.w >= 600;
  Rect inside = area.inset(wide ? 26 : 28, 20);
  if (!draft.pot) {
    pen.paragraph(inside, Type::body_18, t.ink2, bench_words().choose, 4);
    return std::nullopt;
  }
  const PotView* pot = view.rows.filled(*draft.pot);
  std::optional<Wish> wish;
  Rect acts = inside.take_bottom(wide ? 56.0F : 120.0F, 14);
  if (wide) {
    const float third = (acts.w - 2 * gap) / 3;
    const Rect first = acts.take_left(third, gap);
    const Rect second = acts.take_left(third, gap);
    wish = draw_pot_acts(view, first, second, acts, pot);
  } else {
    const Rect lower = acts.take_bottom(56, gap);
    const Rect left = acts.take_left((acts.w - gap) / 2, gap);
    wish = draw_pot_acts(view, left, acts, lower, pot);
  }
  if (pot == nullptr) {
    draw_gone(view, inside);
    return wish;
  }
  Rect line = inside.take_top(44, 12);
  const float tag = draw_pot_tag(pen, {line.x, line.y}, 44, pot->label, line.w * 0.62F);
  const float stage = stage_words(pen, {line.x + tag + 18, line.middle().y}, line.w - tag - 18, *pot);
  const std::string clone = clone_words(pot->batch);
  const float beside = line.w - tag - 18 - stage - 20;
  if (wide && pen.width(Type::name_28, clone) <= beside) {
    // Portrait: what the card is for needs the height.
    pen.text_in({line.right() - beside, line.y, beside, line.h}, Type::name_28, t.ink, clone, Align::right);
  } else {
    pen.text_in(inside.take_top(38, 4), pen.fitting({Type::name_28, Type::name_23}, clone, inside.w), t.ink, clone);
  }
  const std::string holds = holds_line(pen, *pot, inside.w);
  pen.text_in(inside.take_top(26, 14), pen.fitting({Type::body_18, Type::body_16, Type::body_15}, holds, inside.w),
              t.ink2, holds);
  const float height = pot_record(view, inside, *pot, false, false);
  const Rect panel = inside;
  if (draft.bring_page) {
    draft.bring_page = false;
    pen.touch.scroll_to("card", 0);
  }
  inside.y = pen.begin_scroll("card", panel, height);
  pot_record(view, inside, *pot, false, true);
  pen.end_scroll("card");
  return wish;
}

// ------------------------------------------------------------------------------------------------ what is seen

// What is chosen, as it is kept and told.
std::string detail_of(const BenchDraft& draft) {
  return draft.particular.empty() ? std::string(seen_kinds()[*draft.seen].detail) : draft.particular;
}
std::string chosen_words(const BenchDraft& draft) {
  return seen_words(seen_kinds()[*draft.seen].cause, detail_of(draft));
}

Keep keep_seen(const ScreenView& view, const PotView& pot) {
  const BenchWords& w = bench_words();
  const BenchDraft& draft = view.ui.bench;
  Keep keep;
  if (!draft.seen) {
    keep.commands = {fact_of(pot.batch.id, pot.pot.pot.number, [&] {
      Looked looked;
      looked.note = draft.note;
      return looked;
    }())};
    keep.slip = say(w.kept_looked, pot.label);
    const std::optional<PotId> next = next_on_bench(draft);
    keep.after = [next](UiState& ui, const std::vector<Receipt>&) {
      ui.bench.note.clear();
      if (!next) return;
      ui.bench.pot = *next;
      ui.bench.bring_pot = true;
      ui.bench.bring_page = true;
    };
    return keep;
  }
  const std::string kind = chosen_words(draft);
  Damage damage;
  damage.cause = seen_kinds()[*draft.seen].cause;
  damage.detail = detail_of(draft);
  damage.how_bad = draft.how_bad;
  damage.note = draft.note;
  keep.commands = {fact_of(pot.batch.id, pot.pot.pot.number, std::move(damage))};
  keep.slip = draft.how_bad == 0
                  ? say(w.kept_seen, pot.label, kind)
                  : say(w.kept_seen_bad, pot.label, kind, w.how_bad[static_cast<std::size_t>(draft.how_bad)]);
  keep.after = [](UiState& ui, const std::vector<Receipt>&) {
    ui.bench.seen.reset();
    ui.bench.particular.clear();
    ui.bench.asking_which = false;
    ui.bench.how_bad = 0;
    ui.bench.note.clear();
    ui.bench.page = 0;
    ui.bench.bring_page = true;
  };
  return keep;
}

std::string keep_words(const BenchDraft& draft, bool narrow) {
  const BenchWords& w = bench_words();
  if (!draft.seen) return std::string(narrow ? w.nothing_short : w.nothing);
  const std::string kind = chosen_words(draft);
  return draft.how_bad == 0 ? say(w.keep_seen, kind)
                            : say(w.keep_seen_bad, kind, w.how_bad[static_cast<std::size_t>(draft.how_bad)]);
}

std::optional<Wish> draw_keep(ScreenView& view, Rect area) {
  const BenchDraft& draft = view.ui.bench;
  const PotView* pot = draft.pot ? view.rows.filled(*draft.pot) : nullptr;
  const std::string text = pot == nullptr ? std::string(bench_words().keep_choose) : keep_words(draft, area.w < 300);
  const bool enter = view.pen.touch.take_key(Key::enter);
  if ((draw_act(view.pen, area, {"keep", text, ActStyle::main, Icon::tick, pot != nullptr}) || enter) && pot != nullptr)
    return keep_seen(view, *pot);
  return std::nullopt;
}

// Tiles 152 and, below them, how bad it is and a note.
void draw_see(ScreenView& view, Rect tiles, Rect row) {
  Pen& pen = view.pen;
  BenchDraft& draft = view.ui.bench;
  SeeAnswer answer;
  if (draft.asking_which && draft.seen) {
    if (auto which = draw_which_tiles(pen, tiles, *draft.seen, draft.particular); which.particular) {
      draft.particular = std::move(*which.particular);
      draft.asking_which = false;
    }
  } else {
    answer = draw_see_tiles(pen, tiles, draft.page, draft.seen, draft.particular);
  }
  if (answer.which) draft.asking_which = true;
  if (answer.turn) draft.page = (draft.page + 1) % see_pages();
  if (answer.kind) {
    draft.particular.clear();
    // Tapped again it is taken back.
    if (draft.seen == answer.kind) {
      draft.seen.reset();
      draft.how_bad = 0;
    } else {
      draft.seen = answer.kind;
    }
  }
  const Theme& t = pen.theme;
  const Rect note = row.take_right(56, gap);
  if (const auto bad = draw_how_bad_keys(pen, row, draft.how_bad)) draft.how_bad = *bad == draft.how_bad ? 0 : *bad;
  if (pen.touch.hit("note", note)) {
    draft.note_before = draft.note;
    draft.panel = Panel::note;
  }
  const bool pressed = is_pressed(pen, "note");
  const bool on = !draft.note.empty() && !pressed;
  pen.fill(note, pressed ? t.straw : on ? t.tunic : t.sheet, 6);
  if (!on) pen.frame(note, pressed ? t.on_straw : t.edge);
  const Color ink = pressed ? t.on_straw : on ? t.on_tunic : t.ink;
  draw_icon(pen, Icon::note, {note.middle().x, note.y + 19}, 22, ink);
  pen.text_in({note.x + 2, note.y + 32, note.w - 4, 20}, Type::strong_15, ink, bench_words().note, Align::middle);
}

Keep keep_hold(const PotView& pot, const std::string& reason) {
  const BenchWords& w = bench_words();
  Keep keep;
  keep.commands = {pot.held ? fact_of(pot.batch.id, pot.pot.pot.number, Cleared{reason})
                            : fact_of(pot.batch.id, pot.pot.pot.number, Held{reason})};
  keep.slip = say(pot.held ? w.kept_cleared : w.kept_held, pot.label);
  keep.after = [](UiState& ui, const std::vector<Receipt>&) {
    ui.bench.panel = Panel::see;
    ui.bench.reason.clear();
  };
  return keep;
}

// Why it is put on hold, or cleared, in place of what is seen: a tap keeps it.
std::optional<Wish> draw_reasons(ScreenView& view, Rect area, const PotView& pot) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const BenchWords& w = bench_words();
  BenchDraft& draft = view.ui.bench;
  std::optional<Wish> wish;
  pen.text_in(area.take_top(28, 8), Type::heading_24, t.ink, pot.held ? w.why_clear : w.why_hold);
  const auto& reasons = pot.held ? w.clear_reasons : w.hold_reasons;
  const float high = std::clamp((area.h - 2 * gap) / 3, 56.0F, 84.0F);
  const float wide = (area.w - gap) / 2;
  for (std::size_t i = 0; i < 6; ++i) {
    const Rect key{area.x + static_cast<float>(i % 2) * (wide + gap), area.y + static_cast<float>(i / 2) * (high + gap),
                   wide, high};
    if (i == 4) {
      if (draw_act(pen, key, {"reason:other", w.reason_other, ActStyle::plain, {}, true})) {
        draft.reason.clear();
        draft.panel = Panel::reason;
      }
      continue;
    }
    if (i == 5) {
      if (draw_act(pen, key, {"reason:cancel", words().cancel, ActStyle::square, {}, true})) draft.panel = Panel::see;
      continue;
    }
    const std::string target = "reason:" + std::to_string(i + 1);
    if (pen.touch.hit(target, key)) wish = keep_hold(pot, std::string(reasons[i]));
    const bool pressed = is_pressed(pen, target);
    pen.fill(key, pressed ? t.straw : t.sheet, 6);
    pen.frame(key, pressed ? t.on_straw : t.edge);
    const Type type = Type::strong_16;
    const float text = pen.paragraph_height(wide - 24, type, reasons[i], 3);
    pen.paragraph({key.x + 12, key.middle().y - text / 2, wide - 24, text}, type, pressed ? t.on_straw : t.ink,
                  reasons[i], 3, Align::middle);
  }
  return wish;
}

// A note, or another reason, written with the keys: over the whole area.
std::optional<Wish> draw_typing(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const BenchWords& w = bench_words();
  BenchDraft& draft = view.ui.bench;
  const bool of_note = draft.panel == Panel::note;
  const PotView* pot = draft.pot ? view.rows.filled(*draft.pot) : nullptr;
  const bool narrow = area.w < 560;
  Rect acts = area.take_bottom(64, 12);
  const Rect panel = area;
  area.h = std::max(area.h, text_entry_height(narrow) + 8);
  area.y = pen.begin_scroll("bench:typing", panel, area.h);
  const Rect drop = acts.take_left((acts.w - gap) * 0.36F, gap);
  std::string& text = of_note ? draft.note : draft.reason;
  const bool enter = draw_text_entry(
      pen, area, {"type", of_note ? say(w.note_type, draft.pot_label) : std::string(w.reason_type), 200, false}, text,
      narrow);
  pen.end_scroll("bench:typing");
  std::optional<Wish> wish;
  const std::string trimmed = without_ends(text);
  if (draw_act(pen, drop, {"type:drop", of_note ? w.note_drop : words().cancel, ActStyle::square, {}, true})) {
    if (of_note) draft.note.clear();
    draft.panel = of_note ? Panel::see : Panel::reasons;
  }
  const std::string_view act = of_note ? w.note_keep : pot != nullptr && pot->held ? w.reason_clear : w.reason_hold;
  const bool can = !trimmed.empty() && (of_note || pot != nullptr);
  if (draw_act(pen, acts, {"type:keep", act, ActStyle::main, Icon::tick, can}) || (enter && can)) {
    if (of_note) {
      draft.note = trimmed;
      draft.panel = Panel::see;
    } else {
      wish = keep_hold(*pot, trimmed);
    }
  }
  return wish;
}

// ------------------------------------------------------------------------------------------------ the three shapes

// Heading, tiles, how bad and Keep: 28 + 8 + tiles + 8 + 56 + 8 + keep.
std::optional<Wish> draw_see_block(ScreenView& view, Rect area, float keep_height, bool hint) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const BenchWords& w = bench_words();
  BenchDraft& draft = view.ui.bench;
  const PotView* pot = draft.pot ? view.rows.filled(*draft.pot) : nullptr;
  if (draft.panel == Panel::reasons && pot != nullptr) return draw_reasons(view, area, *pot);
  const Rect heading = area.take_top(28, 8);
  pen.text_in(heading, Type::heading_24, t.ink, w.see);
  if (hint) pen.text_in(heading, Type::body_16, t.ink2, w.see_hint, Align::right);
  const Rect keep = area.take_bottom(keep_height, 8);
  const Rect row = area.take_bottom(56, 8);
  draw_see(view, area, row);
  return draw_keep(view, keep);
}

constexpr float see_block_height = 28 + 8 + 152 + 8 + 56 + 8;  // and Keep

void draw_bench_panel(ScreenView& view, Rect area, bool legend) {
  const BenchDraft& draft = view.ui.bench;
  if (draft.choosing_bench) return draw_bench_list(view, area);
  if (legend) draw_legend(view, area.take_bottom(26, 6));
  draw_grid(view, area, area.w < 480 ? 5 : 8);
}

std::optional<Wish> draw_wide(ScreenView& view) {
  const Layout& l = view.layout;
  Pen& pen = view.pen;
  BenchDraft& draft = view.ui.bench;
  const auto [left_column, right_column] = l.columns(l.content, 0.52F);
  Rect left = left_column;
  std::optional<Wish> wish = draw_filters(view, left.take_top(56, 12), false);
  if (draft.panel == Panel::note || draft.panel == Panel::reason) {
    if (const auto typed = draw_typing(view, left)) wish = typed;
  } else {
    const float keep = 64;
    const Rect see = left.take_bottom(see_block_height + keep, 12);
    pen.fill(left, pen.theme.sheet, 8);
    Rect inside = left.inset(12, 8);
    if (const auto asked = draw_chooser(view, inside.take_top(56, 8), true)) wish = asked;
    draw_no_entry(view, inside);
    draw_bench_panel(view, inside, inside.h >= 260);
    if (const auto asked = draw_see_block(view, see, keep, see.w >= 620)) wish = asked;
  }
  if (const auto asked = draw_card(view, right_column)) wish = asked;
  return wish;
}

std::optional<Wish> draw_tall(ScreenView& view) {
  Rect area = view.layout.content;
  Pen& pen = view.pen;
  BenchDraft& draft = view.ui.bench;
  std::optional<Wish> wish = draw_filters(view, area.take_top(56, 12), false);
  const bool typing = draft.panel == Panel::note || draft.panel == Panel::reason;
  const float keep = 68;
  const Rect lower = area.take_bottom(typing ? text_entry_height(false) + 16 + 64 + 8 : see_block_height + keep, 14);
  const Rect card = area.take_bottom(std::max(300.0F, area.h - 330), 14);
  pen.fill(area, pen.theme.sheet, 8);
  Rect inside = area.inset(24, 10);
  if (const auto asked = draw_chooser(view, inside.take_top(56, 8), true)) wish = asked;
  draw_no_entry(view, inside);
  draw_bench_panel(view, inside, true);
  if (const auto asked = draw_card(view, card)) wish = asked;
  if (typing) {
    if (const auto typed = draw_typing(view, lower)) wish = typed;
  } else if (const auto asked = draw_see_block(view, lower, keep, true)) {
    wish = asked;
  }
  return wish;
}

std::optional<Wish> draw_phone_bench(ScreenView& view) {
  Rect area = view.layout.content.inset(-4, 0);
  Pen& pen = view.pen;
  std::optional<Wish> wish = draw_filters(view, area.take_top(120, 10), true);
  pen.fill(area, pen.theme.sheet, 8);
  Rect inside = area.inset(12, 8);
  if (const auto asked = draw_chooser(view, inside.take_top(56, 8), false)) wish = asked;
  draw_no_entry(view, inside);
  draw_bench_panel(view, inside, true);
  return wish;
}

// The pot fills the phone: what is seen at once, what was noted below it; one act at the thumb.
std::optional<Wish> draw_phone_pot(ScreenView& view) {
  Rect area = view.layout.content.inset(-4, 0);
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  BenchDraft& draft = view.ui.bench;
  const PotView* pot = view.rows.filled(*draft.pot);
  std::optional<Wish> wish;
  if (draft.panel == Panel::note || draft.panel == Panel::reason) return draw_typing(view, area);
  const Rect keep = area.take_bottom(64, 10);
  Rect page = area;
  // The scroll panel runs to the edges of the window.
  const Rect panel{view.layout.page.x, area.y, view.layout.page.w, area.h};
  const float record = pot == nullptr ? 0 : pot_record(view, {page.x + 14, 0, page.w - 28, 0}, *pot, true, false) + 32;
  const float head = pot == nullptr ? 240.0F : 74.0F;
  const bool reasons = draft.panel == Panel::reasons && pot != nullptr;
  const float see = reasons ? 36.0F + 3 * 72 + 2 * gap : see_block_height - 8;
  const float height = head + see + 12 + record + 12 + 120;
  if (draft.bring_page) {
    draft.bring_page = false;
    pen.touch.scroll_to("page", 0);
  }
  const float top = pen.begin_scroll("page", panel, height);
  page.y = top;
  page.h = height;
  if (pot == nullptr) {
    const Rect card = page.take_top(head - 12, 12);
    pen.fill(card, t.sheet, 8);
    draw_gone(view, card.inset(14));
  } else {
    Rect words_at = page.take_top(head - 8, 8);
    const std::string clone = clone_words(pot->batch);
    const Rect name = words_at.take_top(36);
    const float stage_room = 130;
    pen.text_in({name.x, name.y, name.w - stage_room - 8, name.h},
                pen.fitting({Type::name_28, Type::name_23}, clone, name.w - stage_room - 8), t.ink, clone);
    stage_words(pen, {name.right() - stage_room, name.middle().y}, stage_room, *pot);
    const std::string holds = holds_line(pen, *pot, words_at.w);
    pen.text_in(words_at.take_top(24), pen.fitting({Type::body_16, Type::body_15}, holds, words_at.w), t.ink2, holds);
  }
  Rect block = page.take_top(see, 12);
  if (reasons) {
    if (const auto asked = draw_reasons(view, block, *pot)) wish = asked;
  } else {
    pen.text_in(block.take_top(28, 8), Type::heading_24, t.ink, bench_words().see);
    const Rect row = block.take_bottom(56, 8);
    draw_see(view, block, row);
  }
  if (pot != nullptr) {
    const Rect card = page.take_top(record, 12);
    pen.fill(card, t.sheet, 8);
    pot_record(view, card.inset(14, 16), *pot, true, true);
  }
  Rect acts = page.take_top(120);
  const Rect upper = acts.take_top(56, gap);
  const Rect right{acts.x + (acts.w + gap) / 2, acts.y, (acts.w - gap) / 2, 56};
  const Rect left{acts.x, acts.y, (acts.w - gap) / 2, 56};
  if (const auto asked = draw_pot_acts(view, upper, left, right, pot)) wish = asked;
  pen.end_scroll("page");
  if (const auto asked = draw_keep(view, keep)) wish = asked;
  return wish;
}

}  // namespace

std::optional<Wish> draw_pots_screen(ScreenView& view) {
  const BenchWords& w = bench_words();
  Layout& l = view.layout;
  BenchDraft& draft = view.ui.bench;
  const bool any = !view.rows.pots().empty();
  if (any) refresh_picture(view);
  const bool opened = any && l.phone() && draft.opened && draft.pot.has_value();
  Top top;
  top.title = opened ? draft.pot_label : std::string(w.title);
  if (any && !opened)
    top.second = say(w.second, short_bench_name(bench_shown(view)), counted(draft.picture.pots, "pot", "pots"),
                     grouped(draft.picture.with_damage));
  top.back = opened || (!view.ui.trail.empty() && view.ui.trail.back().to != Screen::start);
  top.writes = any;
  // At the head's right: the health of the whole house.
  std::optional<Wish> health;
  if (any && !opened) {
    const float wide = l.phone() ? 56.0F : 136.0F;
    const Rect room = l.head.take_right(wide, 12);
    const Rect key{room.x, l.phone() ? 10.0F : l.portrait() ? 28.0F : 24.0F, wide, 56};
    const bool tapped =
        l.phone() ? draw_icon_key(view.pen, key, "health", Icon::mite)
                  : draw_act(view.pen, key, {"health", rest_words().health, ActStyle::link, Icon::mite, true});
    if (tapped) health = Go{Screen::health, {}};
  }
  std::optional<Wish> wish = draw_top(view, top);
  if (health) wish = health;
  if (opened && wish && std::holds_alternative<GoBack>(*wish)) {
    draft.opened = false;
    draft.bring_pot = true;
    draft.panel = Panel::see;
    wish.reset();
  }
  if (!any) {
    const Rect sheet{l.content.x, l.content.y, l.content.w, l.phone() ? 290.0F : 200.0F};
    view.pen.fill(sheet, view.pen.theme.sheet, 8);
    draw_empty(view.pen, sheet.inset(24), w.empty, "", "");
    return wish;
  }
  std::optional<Wish> asked;
  switch (l.shape) {
    case Shape::phone:
      asked = opened ? draw_phone_pot(view) : draw_phone_bench(view);
      break;
    case Shape::portrait:
      asked = draw_tall(view);
      break;
    case Shape::landscape:
      asked = draw_wide(view);
      break;
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb

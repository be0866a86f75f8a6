// What is due: each piece of work with its reason and its window, what is overdue first. One tap records it for all
// pots that it is due for; it can be put off, with a reason; the weeks ahead stand beside it.

#include <algorithm>
#include <map>

#include "app/due_words.hpp"
#include "app/print/calendar.hpp"
#include "app/print/work_list.hpp"
#include "app/screens/due_parts.hpp"
#include "app/widgets/labels.hpp"
#include "app/widgets/letters.hpp"
#include "app/widgets/slips.hpp"
#include "app/words.hpp"
#include "app/words/rest.hpp"

namespace motherbulb {
namespace {

using Show = DueDraft::Show;
using Chosen = DueDraft::Chosen;

constexpr std::int32_t weeks_shown = 8;
constexpr std::int32_t weeks_in_calendar = 26;
constexpr std::size_t weeks_drawn = 26;  // as many of them as there is room for
constexpr float gap = 8;

// ------------------------------------------------------------------------------------------------ what is shown

// "No growing plan for Lilium, scooping: 3 pots".
std::string without_plan(ScreenView& view) {
  const RestWords& w = rest_words();
  const PlanBook& plans = view.rows.plans();
  std::map<std::string, std::int64_t> pots_of;
  std::map<std::pair<BatchId, bool>, bool> known;
  for (const PotView* pot : view.rows.pots()) {
    const auto [found, fresh] = known.emplace(std::pair{pot->batch.id, pot->of_pieces()}, true);
    if (fresh) found->second = plans.plan_for(pot->batch, pot->of_pieces()) != nullptr;
    if (fresh && !plans.unread_for(pot->batch).empty()) return say(w.plan_unread, batch_words(pot->batch));
    if (found->second) continue;
    if (const std::string missing = plans.missing_for(pot->batch); !missing.empty())
      return say(w.plan_missing, missing, batch_words(pot->batch));
    const Method method = pot->of_pieces() ? pot->batch.method : Method::growing_on;
    ++pots_of[pot->batch.genus.empty() ? std::string(name_of(method))
                                       : say(w.plan_of, pot->batch.genus, name_of(method))];
  }
  if (pots_of.empty()) return {};
  auto most = pots_of.begin();
  std::int64_t all = 0;
  for (auto it = pots_of.begin(); it != pots_of.end(); ++it) {
    all += it->second;
    if (it->second > most->second) most = it;
  }
  const std::string pots = counted(most->second, "pot", "pots");
  return pots_of.size() == 1 ? say(w.without_plan, most->first, pots)
                             : say(w.without_plan_more, most->first, pots, grouped(all - most->second));
}

bool shown_by(const Due& due, Show show, Day today) {
  return show == Show::now ? due.open(today) : due.opens.days <= today.days + 7 * weeks_shown;
}

void refresh_list(ScreenView& view) {
  DueDraft& draft = view.ui.due;
  DueDraft::List& list = draft.list;
  const bool south = view.ui.settings.south;
  const bool same_book =
      list.made && list.revision == view.rows.revision() && list.today == view.today && list.south == south;
  if (same_book && list.show == draft.show && list.only == draft.only) return;
  const std::vector<DueGroup>& due = view.rows.due();
  if (!same_book) {
    const std::string before = list.without_plan;
    list = {};
    list.made = true;
    list.revision = view.rows.revision();
    list.today = view.today;
    list.south = south;
    list.ahead = weeks_ahead(due, view.today, weeks_drawn);
    list.without_plan = without_plan(view);
    for (const DueGroup& group : due) list.within += shown_by(group.due(), Show::ahead, view.today) ? 1 : 0;
  }
  list.show = draft.show;
  list.only = draft.only;
  list.groups.clear();
  list.of_step = {};
  for (std::size_t i = 0; i < due.size(); ++i) {
    const Due& one = due[i].due();
    if (!shown_by(one, draft.show, view.today)) continue;
    ++list.of_step[static_cast<std::size_t>(one.step)];
    if (!draft.only || one.step == *draft.only) list.groups.push_back(i);
  }
  // What is open stays in the order in which it closes; what comes follows in the order in which it opens.
  const auto ahead = std::stable_partition(list.groups.begin(), list.groups.end(),
                                           [&](std::size_t i) { return due[i].due().open(view.today); });
  std::stable_sort(ahead, list.groups.end(),
                   [&](std::size_t a, std::size_t b) { return due[a].due().opens < due[b].due().opens; });
  list.chosen.reset();
  if (!draft.chosen) return;
  for (const std::size_t i : list.groups) {
    if (chosen_of(due[i]) == *draft.chosen) list.chosen = i;
  }
}

void choose(DueDraft& draft, const DueGroup& group, std::size_t at) {
  draft.chosen = chosen_of(group);
  draft.list.chosen = at;
}

// The group that is being put off; that pot alone, where it was asked of one. None: it is not due any more.
std::optional<DueGroup> group_of(const ScreenView& view, const Chosen& chosen, bool alone) {
  for (const DueGroup& group : view.rows.due()) {
    if (group.due().step != chosen.step || !(group.batch().id == chosen.pot.batch)) continue;
    for (const DueRow* row : group.rows) {
      if (row->due.pot != chosen.pot.number) continue;
      if (alone) return DueGroup{{row}};
      return group;
    }
  }
  return std::nullopt;
}

void begin_putting_off(DueDraft& draft, const DueGroup& group) {
  draft.putting_off = chosen_of(group);
  draft.alone = false;
  draft.leave = false;
  draft.days = 7;
  draft.writing = false;
  draft.why.clear();
}

// ------------------------------------------------------------------------------------------------ putting off

void put_off_done(UiState& ui, const std::vector<Receipt>& /*receipts*/) {
  ui.due.putting_off.reset();
  ui.due.writing = false;
  ui.due.why.clear();
}

Keep keep_put_off(const ScreenView& view, const DueGroup& group, const std::string& why) {
  const RestWords& w = rest_words();
  const DueDraft& draft = view.ui.due;
  const Step step = group.due().step;
  const std::string pots = counted(static_cast<std::int64_t>(group.rows.size()), "pot", "pots");
  const std::string act(name_of(step));
  Keep keep;
  for (const DueRow* row : group.rows)
    keep.commands.emplace_back(
        fact_of(row->batch->id, row->due.pot, Postponed{std::string(to_text(step)), draft.days, why}));
  const bool one = group.rows.size() == 1;
  if (draft.days > 0) {
    const Day from = view.ui.when ? local_day(*view.ui.when) : view.today;
    const std::string again = day_near(Day{from.days + draft.days}, view.today);
    keep.slip = one ? say(w.kept_put_off, due_tag(group), act, again)
                    : say(w.kept_put_off_many, due_tag(group), act, pots, again);
  } else {
    keep.slip = one ? say(w.kept_refused, due_tag(group), act) : say(w.kept_refused_many, due_tag(group), act, pots);
  }
  keep.after = put_off_done;
  keep.back = draft.leave;
  return keep;
}

// What must not be missed is left out only after it was asked once more, in words.
std::string_view sure_words(Step step) {
  const RestWords& w = rest_words();
  switch (step) {
    case Step::dry_off:
      return w.sure_dry_off;
    case Step::start:
      return w.sure_start;
    case Step::repot:
      return w.sure_repot;
    default:
      return {};
  }
}

std::optional<Wish> answer_put_off(ScreenView& view, const DueGroup& group, const std::string& why) {
  Keep keep = keep_put_off(view, group, why);
  const std::string_view sure = sure_words(group.due().step);
  if (view.ui.due.days > 0 || sure.empty()) return keep;
  Asked asked;
  asked.question = say(sure, due_tag(group));
  asked.wish = std::move(keep);
  view.ui.asked = std::move(asked);
  return std::nullopt;
}

std::optional<Wish> draw_writing(ScreenView& view, Rect area, const DueGroup& group) {
  Pen& pen = view.pen;
  const RestWords& w = rest_words();
  DueDraft& draft = view.ui.due;
  const bool narrow = area.w < 560;
  Rect acts = area.take_bottom(60, 12);
  const Rect panel = area;
  area.h = std::max(area.h, text_entry_height(narrow) + 8);
  area.y = pen.begin_scroll("due:typing", panel, area.h);
  const bool enter = draw_text_entry(pen, area, {"type", w.reason_type, 120, false}, draft.why, narrow);
  pen.end_scroll("due:typing");
  const std::string why = without_ends(draft.why);
  if (draw_act(pen, acts.take_left((acts.w - gap) * 0.36F, gap),
               {"type:drop", words().cancel, ActStyle::square, {}, true}))
    draft.writing = false;
  if ((draw_act(pen, acts, {"type:keep", w.reason_keep, ActStyle::main, Icon::tick, !why.empty()}) || enter) &&
      !why.empty())
    return answer_put_off(view, group, why);
  return std::nullopt;
}

// Until when, and why: a tap on a reason keeps it.
std::optional<Wish> draw_put_off(ScreenView& view, Rect area, const DueGroup& group) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  DueDraft& draft = view.ui.due;
  pen.fill(area, t.sheet, 8);
  const Rect panel = area.inset(view.layout.phone() ? 12 : 24, view.layout.phone() ? 10 : 18);
  if (draft.writing) return draw_writing(view, panel, group);
  const std::size_t columns = panel.w >= 560 ? 4 : 2;
  const std::size_t tile_columns = panel.w >= 560 ? 3 : 2;
  const float when_rows = columns == 4 ? 1 : 2;
  const float tile_rows = tile_columns == 3 ? 2 : 3;
  constexpr float tile = 64;
  const float fixed = 34 + 28 + 30 + when_rows * (56 + gap) + 6 + 34 + 60;
  const float height = fixed + tile_rows * (tile + gap) + 8;
  Rect page = panel;
  page.y = pen.begin_scroll("due:off", panel, height);
  page.h = height;
  std::optional<Wish> wish;
  const std::string title = say(w.put_off_title, name_of(group.due().step), due_tag(group));
  pen.text_in(page.take_top(34), pen.fitting({Type::heading_24, Type::heading_20, Type::heading_18}, title, page.w),
              t.ink, title);
  const std::string clone = group.rows.size() == 1
                                ? clone_words(group.batch())
                                : say(w.row_more, clone_words(group.batch()),
                                      counted(static_cast<std::int64_t>(group.rows.size()), "pot", "pots"));
  pen.text_in(page.take_top(28), pen.fitting({Type::strong_18, Type::strong_16, Type::strong_15}, clone, page.w),
              t.ink2, clone);
  pen.text_in(page.take_top(30), Type::body_16, t.ink2, w.put_off_until);
  const std::array<std::tuple<std::string_view, std::string_view, std::int32_t>, 4> whens{
      {{"off:week", w.weeks_1, 7},
       {"off:2-weeks", w.weeks_2, 14},
       {"off:4-weeks", w.weeks_4, 28},
       {"off:not", w.not_this_time, 0}}};
  const float wide = (page.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  for (std::size_t i = 0; i < whens.size(); ++i) {
    const auto& [name, words_of, days] = whens[i];
    const Rect key{page.x + static_cast<float>(i % columns) * (wide + gap),
                   page.y + static_cast<float>(i / columns) * (56 + gap), wide, 56};
    if (draw_filter(pen, key, name, words_of, draft.days == days)) draft.days = days;
  }
  page.take_top(when_rows * (56 + gap), 6);
  pen.text_in(page.take_top(34), Type::heading_20, t.ink, w.put_off_why);
  const float tile_wide = (page.w - gap * static_cast<float>(tile_columns - 1)) / static_cast<float>(tile_columns);
  for (std::size_t i = 0; i <= w.reasons.size(); ++i) {
    const Rect key{page.x + static_cast<float>(i % tile_columns) * (tile_wide + gap),
                   page.y + static_cast<float>(i / tile_columns) * (tile + gap), tile_wide, tile};
    if (i == w.reasons.size()) {
      if (draw_act(pen, key, {"why:other", w.reason_other, ActStyle::plain, {}, true})) draft.writing = true;
      continue;
    }
    if (draw_act(pen, key, {"why:" + std::to_string(i + 1), w.reasons[i], ActStyle::plain, {}, true}))
      wish = answer_put_off(view, group, std::string(w.reasons[i]));
  }
  page.take_top(tile_rows * (tile + gap));
  if (draw_act(pen, page.take_top(56), {"off:cancel", words().cancel, ActStyle::square, {}, true})) {
    draft.putting_off.reset();
    if (draft.leave) wish = GoBack{};
  }
  pen.end_scroll("due:off");
  return wish;
}

// ------------------------------------------------------------------------------------------------ the list

std::string count_words(std::string_view pattern, std::string_view shorter, std::int64_t count, bool no_count) {
  return no_count ? std::string(shorter) : say(pattern, grouped(count));
}

// What is shown: due now, eight weeks, one step alone; and where else one can go.
std::optional<Wish> draw_shows(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const RestWords& w = rest_words();
  DueDraft& draft = view.ui.due;
  const bool phone = view.layout.phone();
  std::optional<Wish> wish;
  const auto show = [&](Show what) {
    draft.show = what;
    draft.choosing_step = false;
    pen.touch.scroll_to("due", 0);
  };
  float wide = 0;
  if (phone) {
    if (draw_icon_key(pen, area.take_right(56, gap), "due:more", Icon::settle)) draft.more = !draft.more;
  } else {
    // Wide enough for all of it, the two that lead on stand here too.
    const float stage = pen.width(Type::strong_16, w.by_stage) + 32;
    const bool whole = area.w >= 700;
    const std::string_view plans = whole ? w.plans : w.plans_short;
    const float plans_wide = pen.width(Type::strong_16, plans) + 32;
    if (draw_filter(pen, area.take_right(plans_wide, gap), "due:plans", plans, false)) wish = Go{Screen::plans, {}};
    if (draw_filter(pen, area.take_right(stage, gap), "due:stages", w.by_stage, false)) wish = Go{Screen::rest, {}};
    area.take_right(0, 4);
  }
  wide = std::min(190.0F, (area.w - 2 * gap) / 3);
  const bool no_count = wide < 110;
  if (draw_filter(pen, area.take_left(wide, gap), "show:now",
                  count_words(w.show_due, w.show_due_short, view.rows.counts().due, no_count), draft.show == Show::now))
    show(Show::now);
  if (draw_filter(pen, area.take_left(wide, gap), "show:ahead",
                  count_words(w.show_ahead, w.show_ahead_short, draft.list.within, no_count),
                  draft.show == Show::ahead))
    show(Show::ahead);
  const std::string only = draft.only ? std::string(name_of(*draft.only)) : std::string(w.show_step);
  if (draw_filter(pen, area.take_left(wide, gap), "show:step", only, draft.only.has_value()))
    draft.choosing_step = !draft.choosing_step;
  return wish;
}

// The steps there are, as tiles in place of the list.
void draw_steps(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  DueDraft& draft = view.ui.due;
  std::vector<std::optional<Step>> steps{std::nullopt};
  for (std::size_t i = 0; i < draft.list.of_step.size(); ++i) {
    if (draft.list.of_step[i] > 0) steps.emplace_back(static_cast<Step>(i));
  }
  const std::size_t columns = area.w >= 560 ? 3 : 2;
  const auto rows = static_cast<float>((steps.size() + columns - 1) / columns);
  constexpr float tile = 72;
  const float height = rows * (tile + gap) + 24;
  const Rect sheet{area.x, area.y, area.w, std::min(area.h, height)};
  pen.fill(sheet, t.sheet, 8);
  const Rect panel = sheet.inset(12, 8);
  const float top = pen.begin_scroll("due:steps", panel, height - 16);
  const float wide = (panel.w - gap * static_cast<float>(columns - 1)) / static_cast<float>(columns);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    const Rect key{panel.x + static_cast<float>(i % columns) * (wide + gap),
                   top + 4 + static_cast<float>(i / columns) * (tile + gap), wide, tile};
    const std::string name = steps[i] ? "step:" + std::string(to_text(*steps[i])) : "step:all";
    const std::string text = steps[i] ? say(w.show_step_only, name_of(*steps[i]),
                                            grouped(draft.list.of_step[static_cast<std::size_t>(*steps[i])]))
                                      : std::string(w.show_all_steps);
    if (!draw_filter(pen, key, name, text, draft.only == steps[i])) continue;
    draft.only = steps[i];
    draft.choosing_step = false;
    pen.touch.scroll_to("due", 0);
  }
  pen.end_scroll("due:steps");
}

// The first that opens after today: rows.due() is in the order of closing.
const DueGroup* next_to_open(const ScreenView& view) {
  const DueGroup* next = nullptr;
  for (const DueGroup& group : view.rows.due()) {
    if (group.due().open(view.today)) continue;
    if (next == nullptr || group.due().opens < next->due().opens) next = &group;
  }
  return next;
}

std::optional<Wish> draw_none(ScreenView& view, Rect area) {
  const RestWords& w = rest_words();
  DueDraft& draft = view.ui.due;
  const Rect sheet{area.x, area.y, area.w, std::min(area.h, area.w > 500 ? 200.0F : 300.0F)};
  view.pen.fill(sheet, view.pen.theme.sheet, 8);
  if (draft.only) {
    if (draw_empty(view.pen, sheet.inset(20), w.none_of_step, "due:all-steps", w.show_all_steps)) draft.only.reset();
    return std::nullopt;
  }
  const DueGroup* next = next_to_open(view);
  if (next == nullptr) {
    if (draw_empty(view.pen, sheet.inset(20), w.none_due, "due:see-plans", w.see_plans)) return Go{Screen::plans, {}};
    return std::nullopt;
  }
  if (draft.show == Show::ahead) {
    draw_empty(view.pen, sheet.inset(20), w.none_ahead, "", "");
    return std::nullopt;
  }
  const std::string sentence = say(w.none_due_next, name_of(next->due().step), clone_words(next->batch()),
                                   day_near(next->due().opens, view.today));
  if (draw_empty(view.pen, sheet.inset(20), sentence, "due:see-weeks", w.see_weeks)) draft.show = Show::ahead;
  return std::nullopt;
}

std::optional<Wish> draw_one(ScreenView& view, Rect area, std::size_t nth) {
  DueDraft& draft = view.ui.due;
  const std::size_t at = draft.list.groups[nth];
  const DueGroup& group = view.rows.due()[at];
  ReminderRow row = reminder_of(view, group);
  const std::string key = due_key(group);
  row.row = "due:row:" + key;
  row.act_name = "due:act:" + key;
  row.main = row.main || nth == 0;
  row.chosen = draft.beside && draft.list.chosen == at;
  const ReminderAnswer answer = draw_reminder(view.pen, area, row, nth > 0, view.layout.phone());
  if (answer.acted) return do_due(view, group);
  if (!answer.chosen) return std::nullopt;
  if (draft.beside) {
    choose(draft, group, at);
    return std::nullopt;
  }
  if (group.rows.front()->pot == nullptr) {
    Subject about;
    about.batch = group.batch().id;
    return Go{Screen::care, about};
  }
  return Go{Screen::pot, {{group.rows.front()->pot->id()}, {}, {}, {}}};
}

// Only the rows in sight of the panel. `top` is the place of the first of them.
std::optional<Wish> draw_rows(ScreenView& view, Rect list, Rect panel) {
  std::optional<Wish> wish;
  const float h = reminder_height(view.layout);
  const std::size_t count = view.ui.due.list.groups.size();
  const auto first = static_cast<std::size_t>(std::max(0.0F, (panel.y - list.y) / h));
  for (std::size_t i = first; i < count; ++i) {
    const Rect row{list.x, list.y + h * static_cast<float>(i), list.w, h};
    if (row.y > panel.bottom()) break;
    if (const auto asked = draw_one(view, row, i)) wish = asked;
  }
  return wish;
}

std::optional<Wish> draw_list(ScreenView& view, Rect area, Rect panel) {
  Pen& pen = view.pen;
  const DueDraft& draft = view.ui.due;
  if (draft.choosing_step) {
    draw_steps(view, area);
    return std::nullopt;
  }
  if (draft.list.groups.empty()) return draw_none(view, area);
  const float height = reminder_height(view.layout) * static_cast<float>(draft.list.groups.size());
  // The sheet stands, and its rows run in it.
  if (panel.h == area.h) pen.fill({area.x, area.y, area.w, std::min(panel.h, height)}, pen.theme.sheet, 8);
  const float top = pen.begin_scroll("due", panel, height + (panel.h == area.h ? 0.0F : 16.0F));
  if (panel.h != area.h) pen.fill({area.x, top, area.w, height}, pen.theme.sheet, 8);
  const auto wish = draw_rows(view, {area.x, top, area.w, height}, panel);
  pen.end_scroll("due");
  return wish;
}

// What no plan is known for; a tap leads to the plans.
std::optional<Wish> draw_without_plan(ScreenView& view, Rect line) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const std::string& text = view.ui.due.list.without_plan;
  const bool tapped = pen.touch.hit("due:without-plan", line);
  const bool pressed = is_pressed(pen, "due:without-plan");
  pen.fill(line, pressed ? t.straw : t.sheet, 6);
  pen.frame(line, pressed ? t.on_straw : t.edge);
  const Color ink = pressed ? t.on_straw : t.ink;
  draw_icon(pen, Icon::next, {line.right() - 20, line.middle().y}, 18, pressed ? ink : t.tunic);
  const float room = line.w - 52;
  if (pen.width(Type::strong_15, text) <= room) {
    pen.text_in({line.x + 14, line.y, room, line.h}, pen.fitting({Type::strong_16, Type::strong_15}, text, room), ink,
                text);
  } else {
    const float high = pen.paragraph_height(room, Type::strong_15, text, 2);
    pen.paragraph({line.x + 14, line.middle().y - high / 2, room, high}, Type::strong_15, ink, text, 2);
  }
  if (tapped) return Go{Screen::plans, {}};
  return std::nullopt;
}

// ------------------------------------------------------------------------------------------------ out of the window

std::string escaped(const std::string& text) {
  std::string safe;
  for (const char c : text) {
    safe += c;
    if (c == '{' || c == '}') safe += c;
  }
  return safe;
}

std::optional<Wish> write_out(ScreenView& view, bool as_calendar) {
  const RestWords& w = rest_words();
  const HouseDraft& house = view.ui.house;
  const PlaceToWrite* place = nullptr;
  for (const PlaceToWrite& one : house.places) {
    if (place == nullptr || one.folder == house.place) place = &one;
  }
  if (place == nullptr) {
    view.ui.trouble = Mishap{std::string(as_calendar ? w.calendar : w.print), std::string(w.nowhere_to_write)};
    return std::nullopt;
  }
  const std::string where = escaped(place->name.empty() ? place->folder : place->name);
  WriteOut out;
  out.folder = place->folder;
  out.slip = say(w.written_in, where, "{}");
  if (as_calendar) {
    out.name = {std::string(w.calendar_part)};
    out.ending = ".ics";
    out.content = calendar(view.rows.book(), view.today, Day{view.today.days + 7 * weeks_in_calendar}, where_of(view));
  } else {
    out.name = {say(w.work_list_part, iso_week(view.today).week)};
    out.ending = ".html";
    out.content = work_list(view.rows.book(), view.today, where_of(view));
  }
  return out;
}

std::optional<Wish> draw_outs(ScreenView& view, Rect row) {
  std::optional<Wish> wish;
  const Rect left = row.take_left((row.w - 10) / 2, 10);
  if (draw_act(view.pen, left, {"due:calendar", rest_words().calendar, ActStyle::link, Icon::due, true}))
    wish = write_out(view, true);
  if (draw_act(view.pen, row, {"due:print", rest_words().print, ActStyle::link, Icon::label, true}))
    wish = write_out(view, false);
  return wish;
}

// ------------------------------------------------------------------------------------------------ beside the list

std::optional<Wish> draw_chosen(ScreenView& view, Rect area) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  DueDraft& draft = view.ui.due;
  pen.fill(area, t.sheet, 8);
  Rect inside = area.inset(24, 18);
  if (!draft.list.chosen) {
    pen.paragraph(inside, Type::body_18, t.ink2, w.choose, 4);
    return std::nullopt;
  }
  const DueGroup& group = view.rows.due()[*draft.list.chosen];
  const PotView* pot = group.rows.front()->pot;
  const Due& due = group.due();
  std::optional<Wish> wish;

  Rect links = inside.take_bottom(56, 10);
  if (pot != nullptr) {
    const Rect story = links.take_left((links.w - gap) / 2, gap);
    if (draw_act(pen, story, {"due:story", w.story, ActStyle::link, Icon::note, true}))
      wish = Go{Screen::pot, {{pot->id()}, {}, {}, {}}};
  }
  if (draw_act(pen, links, {"due:work", w.work, ActStyle::link, Icon::pots, true})) {
    Subject about;
    for (const DueRow* row : group.rows) {
      if (row->pot != nullptr) about.pots.push_back(row->pot->id());
    }
    if (about.pots.empty()) about.batch = group.batch().id;
    wish = Go{Screen::care, about};
  }
  Rect acts = inside.take_bottom(60, 12);
  const Rect later = acts.take_right((acts.w - gap) * 0.45F, gap);
  const std::string act = reminder_of(view, group).act;
  if (draw_act(pen, acts, {"due:act", act, ActStyle::main, {}, true})) wish = do_due(view, group);
  if (draw_act(pen, later, {"due:later", w.put_off, ActStyle::plain, {}, true})) begin_putting_off(draft, group);

  const Rect head = inside.take_top(38, 8);
  const std::string tag = due_tag(group);
  const float tag_wide = draw_pot_tag(pen, {head.x, head.y}, 38, tag, head.w - 44);
  if (pot != nullptr) {
    const Mark mark = pot->held ? Mark::on_hold : mark_of(pot->stage);
    draw_mark(pen, mark, {head.x + tag_wide + 26, head.middle().y}, 26);
    const std::string_view stage = name_of(pot->stage);
    if (tag_wide + 46 + pen.width(Type::strong_16, stage) <= head.w)
      pen.text_in({head.x + tag_wide + 46, head.y, head.w - tag_wide - 46, head.h}, Type::strong_16,
                  mark_color(t, mark), stage);
  }
  const std::string clone = clone_words(group.batch());
  pen.text_in(inside.take_top(34, 4), pen.fitting({Type::name_28, Type::name_23, Type::strong_18}, clone, inside.w),
              t.ink, clone);
  if (pot != nullptr) {
    Rect band = inside.take_top(24 + 2 * season_over, 4);
    band = band.inset(0, season_over);
    draw_season_band(pen, band, season_of(view.rows.plans(), pot->batch, pot->pot, where_of(view), view.today));
  }
  // Why, and when; below it as many entries as there is room for.
  const std::string why = why_due(group.batch(), due, view.today, where_of(view));
  const float high = pen.paragraph_height(inside.w, Type::body_16, why, 3);
  if (high + 32 <= inside.h) pen.paragraph(inside.take_top(high, 2), Type::body_16, t.ink2, why, 3);
  const std::string window = window_days(due, view.today);
  pen.text_in(inside.take_top(26, 4), pen.fitting({Type::strong_16, Type::strong_15}, window, inside.w),
              due.overdue(view.today) ? t.copper : t.ink, window);
  if (pot != nullptr) draw_last_entries(view, inside, *pot);
  return wish;
}

// ------------------------------------------------------------------------------------------------ the three shapes

void keep_first(std::optional<Wish>& wish, std::optional<Wish> asked) {
  if (asked) wish = std::move(asked);
}

std::optional<Wish> draw_wide(ScreenView& view, const DueGroup* putting_off) {
  DueDraft& draft = view.ui.due;
  std::optional<Wish> wish;
  const auto [list_column, side_column] = view.layout.columns(view.layout.content, 0.64F, 22);
  Rect list = list_column;
  Rect side = side_column;
  keep_first(wish, draw_shows(view, list.take_top(56, 12)));
  if (!draft.list.without_plan.empty()) keep_first(wish, draw_without_plan(view, list.take_bottom(56, 12)));
  keep_first(wish, draw_list(view, list, list));
  if (putting_off != nullptr) {
    side.h = std::min(side.h, 560.0F);
    keep_first(wish, draw_put_off(view, side, *putting_off));
    return wish;
  }
  if (draw_weeks_ahead(view.pen, side.take_top(weeks_ahead_height, 16), "due:weeks", draft.list.ahead))
    draft.show = Show::ahead;
  keep_first(wish, draw_outs(view, side.take_bottom(60, 14)));
  keep_first(wish, draw_chosen(view, side));
  return wish;
}

std::optional<Wish> draw_tall(ScreenView& view, const DueGroup* putting_off) {
  DueDraft& draft = view.ui.due;
  const Layout& l = view.layout;
  Rect area = l.content;
  std::optional<Wish> wish;
  if (draw_weeks_ahead(view.pen, area.take_top(weeks_ahead_height, 16), "due:weeks", draft.list.ahead))
    draft.show = Show::ahead;
  if (putting_off != nullptr) {
    area.h = std::min(area.h, draft.writing ? 620.0F : 480.0F);
    keep_first(wish, draw_put_off(view, area, *putting_off));
    return wish;
  }
  keep_first(wish, draw_shows(view, area.take_top(56, 12)));
  area.take_bottom(12);
  keep_first(wish, draw_outs(view, area.take_bottom(60, 14)));
  if (!draft.list.without_plan.empty()) keep_first(wish, draw_without_plan(view, area.take_bottom(56, 12)));
  // A short list leaves room for the pot of the row that is chosen.
  const float rows = reminder_height(l) * static_cast<float>(draft.list.groups.size());
  constexpr float card = 360;
  draft.beside = rows > 0 && !draft.choosing_step && rows + 16 + card <= area.h;
  if (draft.beside) {
    const Rect list = area.take_top(rows, 16);
    keep_first(wish, draw_list(view, list, list));
    area.h = std::min(area.h, card + 80);
    keep_first(wish, draw_chosen(view, area));
    return wish;
  }
  keep_first(wish, draw_list(view, area, area));
  return wish;
}

std::optional<Wish> draw_narrow(ScreenView& view, const DueGroup* putting_off) {
  Pen& pen = view.pen;
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  DueDraft& draft = view.ui.due;
  const Layout& l = view.layout;
  Rect area = l.content;
  std::optional<Wish> wish;
  if (putting_off != nullptr) {
    area = area.inset(-4, 0);
    area.h -= 8;
    keep_first(wish, draw_put_off(view, area, *putting_off));
    return wish;
  }
  keep_first(wish, draw_shows(view, area.take_top(56, 12)));
  if (draft.more) {
    Rect lead = area.take_top(56, gap);
    const Rect stages = lead.take_left((lead.w - gap) / 2, gap);
    if (draw_act(pen, stages, {"due:stages", w.by_stage, ActStyle::link, Icon::pots, true}))
      wish = Go{Screen::rest, {}};
    if (draw_act(pen, lead, {"due:plans", w.plans_short, ActStyle::link, Icon::note, true}))
      wish = Go{Screen::plans, {}};
    keep_first(wish, draw_outs(view, area.take_top(56, 12)));
  }
  if (draft.choosing_step) {
    draw_steps(view, area);
    return wish;
  }
  // Weeks and rows run together, to the bar and over the margin below.
  const Rect panel{l.page.x, area.y, l.page.w, l.page.bottom() - area.y};
  const bool none = draft.list.groups.empty();
  const float rows = none ? 300.0F : reminder_height(l) * static_cast<float>(draft.list.groups.size());
  const float lacking = draft.list.without_plan.empty() ? 0.0F : 56.0F + 12;
  const float height = weeks_ahead_height + 12 + lacking + rows + 16;
  Rect page{area.x, pen.begin_scroll("due", panel, height), area.w, height};
  const Rect weeks = page.take_top(weeks_ahead_height, 12);
  if (draw_weeks_ahead(pen, weeks, "due:weeks", draft.list.ahead)) draft.show = Show::ahead;
  if (lacking > 0) keep_first(wish, draw_without_plan(view, page.take_top(56, 12)));
  page.h = rows;
  if (none) {
    keep_first(wish, draw_none(view, page));
  } else {
    pen.fill(page, t.sheet, 8);
    keep_first(wish, draw_rows(view, page, panel));
  }
  pen.end_scroll("due");
  return wish;
}

}  // namespace

std::optional<Wish> draw_due_screen(ScreenView& view) {
  const RestWords& w = rest_words();
  const Layout& l = view.layout;
  DueDraft& draft = view.ui.due;
  refresh_list(view);
  std::optional<DueGroup> putting_off;
  if (draft.putting_off) {
    putting_off = group_of(view, *draft.putting_off, draft.alone);
    if (!putting_off) draft.putting_off.reset();
  }
  draft.beside = l.landscape();
  // Beside the list something stands from the beginning.
  if (!l.phone() && !draft.list.chosen && !draft.list.groups.empty()) {
    const std::size_t at = draft.list.groups.front();
    choose(draft, view.rows.due()[at], at);
  }
  const HouseCounts& counts = view.rows.counts();
  Top top;
  top.title = w.title;
  if (l.phone()) {
    top.second = counts.overdue > 0 ? say(w.due_second_phone, grouped(counts.due), grouped(counts.overdue))
                                    : say(w.due_second_phone_none, grouped(counts.due));
  } else {
    top.second = counts.overdue > 0
                     ? say(w.due_second, grouped(counts.due), grouped(counts.overdue), grouped(draft.list.within))
                     : say(w.due_second_none, grouped(counts.due), grouped(draft.list.within));
  }
  const bool on_the_way = !view.ui.trail.empty() && view.ui.trail.back().to != Screen::start;
  top.back = putting_off.has_value() || on_the_way;
  top.writes = !view.rows.pots().empty();
  std::optional<Wish> wish = draw_top(view, top);
  if (putting_off && wish && std::holds_alternative<GoBack>(*wish)) {
    const bool leave = draft.leave;
    draft.putting_off.reset();
    if (!leave) wish.reset();
  }
  const DueGroup* off = draft.putting_off && putting_off ? &*putting_off : nullptr;
  std::optional<Wish> asked;
  switch (l.shape) {
    case Shape::phone:
      asked = draw_narrow(view, off);
      break;
    case Shape::portrait:
      asked = draw_tall(view, off);
      break;
    case Shape::landscape:
      asked = draw_wide(view, off);
      break;
  }
  return asked ? asked : wish;
}

}  // namespace motherbulb

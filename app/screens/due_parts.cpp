#include "app/screens/due_parts.hpp"

#include <algorithm>

#include "app/due_words.hpp"
#include "app/screens/care/care.hpp"
#include "app/words.hpp"
#include "app/words/rest.hpp"

namespace motherbulb {
namespace {

std::string_view done_words(Step step) {
  const RestWords& w = rest_words();
  switch (step) {
    case Step::uncover:
      return w.done_uncover;
    case Step::dry_off:
      return w.done_dry_off;
    case Step::start:
      return w.done_start;
    case Step::repot:
      return w.done_repot;
    case Step::water:
      return w.done_water;
    case Step::feed:
      return w.done_feed;
    default:
      return w.done_look;
  }
}

Payload fact_for(Step step) {
  switch (step) {
    case Step::uncover:
      return Uncovered{};
    case Step::dry_off:
      return DriedOff{};
    case Step::start:
      return Started{};
    case Step::repot:
      return Repotted{};  // no lines: the same bulbs
    case Step::water:
      return Watered{};
    case Step::feed:
      return Fed{};
    default:
      return Looked{};
  }
}

// What waits in a batch has no pot to record it for: it is sized or worked on as a batch.
std::optional<Wish> do_waiting(ScreenView& view, const DueGroup& group) {
  Subject about;
  about.batch = group.batch().id;
  if (group.due().step == Step::grade) return go_to_work(view.ui, about, Kind::graded);
  return Go{Screen::care, about};
}

std::optional<Wish> count_out(ScreenView& view, const DueGroup& group) {
  const PotView& first = *group.rows.front()->pot;
  if (group.rows.size() == 1) return ChoosePot{first};
  view.ui.unpot.batch = first.batch.id;
  view.ui.unpot.cut_bulbs = first.of_pieces();
  return Go{Screen::unpot_choose, {}};
}

// Day, what and who of an entry, on one line.
void draw_entry(ScreenView& view, Rect line, const StoryLine& entry) {
  Pen& pen = view.pen;
  const RestWords& w = rest_words();
  const std::string day = day_near(local_day(entry.entry.when), view.today);
  const float day_wide = std::max(104.0F, pen.width(Type::strong_16, day) + 14);
  pen.text_in({line.x, line.y, day_wide, line.h}, Type::strong_16, pen.theme.ink, day);
  const std::size_t kind = entry.entry.kind <= last_known_kind ? entry.entry.kind : 0;
  const Rect room{line.x + day_wide, line.y, line.w - day_wide, line.h};
  std::string text(w.kinds[kind]);
  const std::string with_helper = say(w.entry_by, text, entry.entry.helper);
  if (!entry.entry.helper.empty() && pen.width(Type::body_15, with_helper) <= room.w) text = with_helper;
  pen.text_in(room, pen.fitting({Type::body_16, Type::body_15}, text, room.w), pen.theme.ink2, text);
}

Keep keep_step(const DueGroup& group) {
  const RestWords& w = rest_words();
  const Step step = group.due().step;
  Keep keep;
  for (const DueRow* row : group.rows)
    keep.commands.emplace_back(fact_of(row->batch->id, row->due.pot, fact_for(step)));
  keep.slip = group.rows.size() == 1
                  ? say(w.kept_done, due_tag(group), done_words(step))
                  : say(w.kept_done_many, due_tag(group),
                        counted(static_cast<std::int64_t>(group.rows.size()), "pot", "pots"), done_words(step));
  return keep;
}

}  // namespace

Hemisphere where_of(const ScreenView& view) {
  return view.ui.settings.south ? Hemisphere::south : Hemisphere::north;
}

std::string due_tag(const DueGroup& group) {
  const DueRow& first = *group.rows.front();
  return group.rows.size() == 1 && first.pot != nullptr ? first.pot->label : batch_words(*first.batch);
}

std::string due_key(const DueGroup& group) {
  const DueRow& first = *group.rows.front();
  std::string key = first.pot != nullptr ? first.pot->label : batch_words(*first.batch);
  key += ':';
  key += to_text(first.due.step);
  return key;
}

DueDraft::Chosen chosen_of(const DueGroup& group) {
  return {{group.batch().id, group.due().pot}, group.due().step};
}

ReminderRow reminder_of(const ScreenView& view, const DueGroup& group) {
  const RestWords& w = rest_words();
  const Due& due = group.due();
  const auto pots = static_cast<std::int64_t>(group.rows.size());
  ReminderRow row;
  row.state = due.overdue(view.today) ? ReminderRow::State::overdue
              : due.open(view.today)  ? ReminderRow::State::due
                                      : ReminderRow::State::ahead;
  switch (row.state) {
    case ReminderRow::State::overdue:
      row.state_word = w.overdue;
      break;
    case ReminderRow::State::due:
      row.state_word = w.due;
      break;
    case ReminderRow::State::ahead:
      row.state_word = say(w.in_week, iso_week(due.opens).week);
      break;
  }
  row.clone = clone_words(group.batch());
  row.tag = due_tag(group);
  row.reason = why_due(group.batch(), due, view.today, where_of(view));
  if (pots > 1) {
    // "9 pots, cut 40 weeks ago": the sentence goes on.
    if (!row.reason.empty() && row.reason[0] >= 'A' && row.reason[0] <= 'Z')
      row.reason[0] = static_cast<char>(row.reason[0] - 'A' + 'a');
    row.reason = say(w.row_more, counted(pots, "pot", "pots"), row.reason);
  } else if (group.rows.front()->pot == nullptr) {
    row.reason = say(w.row_more, row.reason, w.waiting);
  }
  row.opens = due.opens.days - due.since.days;
  row.closes = due.closes.days - due.since.days;
  row.now = view.today.days - due.since.days;
  row.now_words = elapsed_words(due, view.today);
  row.act = pots > 1 ? say(w.act_many, name_of(due.step), grouped(pots)) : std::string(name_of(due.step));
  row.main = row.state == ReminderRow::State::overdue;
  return row;
}

std::optional<Wish> do_due(ScreenView& view, const DueGroup& group) {
  if (group.rows.front()->pot == nullptr) return do_waiting(view, group);
  switch (group.due().step) {
    case Step::unpot:
      return count_out(view, group);
    case Step::grade: {
      Subject about;
      for (const DueRow* row : group.rows) about.pots.push_back(row->pot->id());
      return go_to_work(view.ui, about, Kind::graded);
    }
    default:
      return keep_step(group);
  }
}

std::string window_days(const Due& due, Day today) {
  const RestWords& w = rest_words();
  const std::string_view pattern = due.overdue(today) ? w.window_late
                                   : due.open(today)  ? w.window_open
                                                      : w.window_ahead;
  return say(pattern, day_near(due.opens, today), day_near(due.closes, today));
}

void draw_last_entries(ScreenView& view, Rect area, const PotView& pot) {
  constexpr float line = 27;
  const auto most = static_cast<std::size_t>(std::max(0.0F, area.h / line));
  std::vector<const StoryLine*> last;
  const std::vector<StoryLine>& told = view.rows.story(pot.batch.id);
  for (auto it = told.rbegin(); it != told.rend() && last.size() < most; ++it) {
    if (it->stands && (it->entry.pot == pot.pot.pot.number || it->entry.pot == 0)) last.push_back(&*it);
  }
  for (auto it = last.rbegin(); it != last.rend(); ++it) draw_entry(view, area.take_top(line), **it);
}

Go put_off_alone(UiState& ui, const DueGroup& group) {
  ui.due.putting_off = chosen_of(group);
  ui.due.alone = ui.due.leave = true;
  ui.due.days = 7;
  ui.due.writing = false;
  ui.due.why.clear();
  return Go{Screen::due, {}};
}

std::string time_left_words(std::int64_t until_ms, std::int64_t now_ms) {
  const RestWords& w = rest_words();
  constexpr std::int64_t minute_ms = 60'000;
  // The last minute that has begun counts whole: nobody goes in early.
  const std::int64_t minutes = std::max<std::int64_t>(0, (until_ms - now_ms + minute_ms - 1) / minute_ms);
  if (minutes < 60) return say(w.only_minutes, minutes);
  if (minutes < 48 * 60) return say(w.hours_minutes, minutes / 60, minutes % 60);
  return say(w.days_hours, minutes / (24 * 60), minutes / 60 % 24);
}

std::string no_entry_words(const ScreenView& view, const NoEntry& no_entry) {
  return say(rest_words().nobody_enters, when_words(view, no_entry.until),
             time_left_words(no_entry.until.utc_ms, view.now.utc_ms), no_entry.product);
}

}  // namespace motherbulb

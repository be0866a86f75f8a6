#include "app/print/calendar.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "app/due_words.hpp"
#include "app/words.hpp"
#include "app/words/due.hpp"

namespace motherbulb {
namespace {

constexpr std::int32_t gone_days = 8 * 7;  // how long a cancelled event stays in

// TEXT of RFC 5545, 3.3.11: backslash, semicolon and comma are escaped, a line break is written \n.
std::string escaped(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    if (c == '\r') continue;
    if (c == '\n') {
      safe += "\\n";
      continue;
    }
    if (c == '\\' || c == ';' || c == ',') safe += '\\';
    // Other control characters have no place in a content line.
    if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7f) safe += c;
  }
  return safe;
}

// A content line, folded at 75 octets (3.1) and never inside a character.
std::string line(const std::string& content) {
  std::string folded;
  std::size_t width = 0;
  for (std::size_t i = 0; i < content.size();) {
    std::size_t length = 1;
    while (i + length < content.size() && (static_cast<unsigned char>(content[i + length]) & 0xc0) == 0x80) ++length;
    if (width + length > 75) {
      folded += "\r\n ";
      width = 1;
    }
    folded.append(content, i, length);
    width += length;
    i += length;
  }
  return folded + "\r\n";
}

std::string date(Day day) {
  const YearMonthDay ymd = civil(day);
  return fmt::format("{:04}{:02}{:02}", ymd.year, ymd.month, ymd.day);
}

std::string moment_text(std::int64_t utc_ms) {
  const std::int64_t seconds = std::max<std::int64_t>(utc_ms, 0) / 1000;
  const Day day{static_cast<std::int32_t>(seconds / 86400)};
  const std::int64_t rest = seconds % 86400;
  return date(day) + fmt::format("T{:02}{:02}{:02}Z", rest / 3600, rest / 60 % 60, rest % 60);
}

std::optional<Step> step_of(const Payload& fact) {
  switch (static_cast<Kind>(kind_number(fact))) {
    case Kind::begun:
      return Step::begun;
    case Kind::potted:
      return Step::potted;
    case Kind::covered:
      return Step::covered;
    case Kind::uncovered:
      return Step::uncover;
    case Kind::looked:
    case Kind::damage:
      return Step::look;
    case Kind::unpotted:
    case Kind::divided:
      return Step::unpot;
    case Kind::graded:
      return Step::grade;
    case Kind::dried_off:
      return Step::dry_off;
    case Kind::started:
      return Step::start;
    case Kind::repotted:
      return Step::repot;
    case Kind::watered:
      return Step::water;
    case Kind::fed:
      return Step::feed;
    default:
      return std::nullopt;
  }
}

// What the entries of a batch say of one step of one pot (0: of what waits).
struct Told {
  std::vector<Day> done;      // each time: the rounds that are over
  std::int64_t sequence = 0;  // entries that moved it, those taken back and what took them back among them
  std::int64_t stamp_ms = 0;  // of the last of them
  std::optional<Day> moved;   // the day of the last of them
};

Told told_of(const std::vector<StoryLine>& story, std::int32_t pot, Step step) {
  Told told;
  std::map<FactKey, bool> of_it;  // facts that moved it
  for (const StoryLine& one : story) {
    const Payload fact = one.stands ? one.fact : decode(one.entry.kind, one.entry.payload);
    const std::int32_t about = one.entry.pot;
    const auto kind = static_cast<Kind>(one.entry.kind);
    const auto does = step_of(fact);
    bool moves = false;
    if (kind == Kind::correction) {
      const auto* correction = std::get_if<Correction>(&fact);
      moves = correction != nullptr && of_it.count(correction->target) != 0;
    } else if (about == 0 || about == pot || (pot == 0 && does == Step::unpot)) {
      // Which events it counts from the plan of the day says, and that may change; looking, watering and feeding move
      // nothing but themselves.
      moves = (does.has_value() && (!is_care(*does) || does == step)) || kind == Kind::plan_edited;
      if (const auto* off = std::get_if<Postponed>(&fact)) moves = off->step == to_text(step);
      if (moves) of_it[one.key] = true;
      if (one.stands && does == step) told.done.push_back(local_day(one.entry.when));
    }
    if (!moves) continue;
    ++told.sequence;
    told.stamp_ms = std::max(told.stamp_ms, one.entry.stamp.wall_ms());
    told.moved = std::max(told.moved.value_or(Day{INT32_MIN}), local_day(one.entry.when));
  }
  return told;
}

struct Event {
  std::string uid, text;
};

std::string uid_of(const BatchId& batch, std::int32_t pot, Step step, std::int64_t round) {
  return hex(batch) + "-" + std::to_string(pot) + "-" + std::string(to_text(step)) + "-" + std::to_string(round) +
         "@motherbulb";
}

}  // namespace

std::string calendar(const Logbook& book, Day on, Day upto, Hemisphere where, bool then) {
  const DueWords& w = due_words();
  // All that is outstanding, to tell what has gone from what is yet to come.
  const DueList list = due_list(book, on, Day{INT32_MAX}, where, then);
  std::map<std::size_t, std::vector<const DueItem*>> of_batch;
  for (const DueItem& item : list.items) of_batch[item.at].push_back(&item);
  std::vector<Event> events;
  const auto add = [&](const std::string& uid, const Told& told, Day from, Day last, const std::string& summary,
                       const std::string& why, const std::string& place, bool cancelled) {
    const std::int64_t stamp_ms = std::max(told.stamp_ms, list.plans.last_edit().wall_ms());
    std::string text = line("BEGIN:VEVENT") + line("UID:" + uid) + line("DTSTAMP:" + moment_text(stamp_ms)) +
                       line("SEQUENCE:" + std::to_string(told.sequence + list.plans.edits())) +
                       line("DTSTART;VALUE=DATE:" + date(from)) + line("DTEND;VALUE=DATE:" + date(Day{last.days + 1})) +
                       line("SUMMARY:" + escaped(summary));
    if (!why.empty()) text += line("DESCRIPTION:" + escaped(why));
    if (!place.empty()) text += line("LOCATION:" + escaped(place));
    text += line("TRANSP:TRANSPARENT") + line(cancelled ? "STATUS:CANCELLED" : "STATUS:CONFIRMED") + line("END:VEVENT");
    events.push_back({uid, std::move(text)});
  };
  const auto lately = [on](Day day) { return day <= on && on.days - day.days <= gone_days; };
  for (std::size_t at = 0; at < list.batches.size(); ++at) {
    const BatchPots& one = list.batches[at];
    const std::vector<DueItem const*>& items = of_batch[at];
    std::vector<StoryLine> story = book.story(one.batch.id);
    if (then) {
      story.erase(std::remove_if(story.begin(), story.end(),
                                 [&](const StoryLine& entry) { return on < local_day(entry.entry.when); }),
                  story.end());
    }
    // Batches at rest are not gone through pot by pot.
    const bool quiet = items.empty() && std::none_of(story.begin(), story.end(), [&](const StoryLine& entry) {
                         return lately(local_day(entry.entry.when));
                       });
    if (quiet) continue;
    const auto of_pot = [&](std::int32_t number, bool pieces, Of of) {
      const GrowingPlan* plan = list.plans.plan_for(one.batch, pieces);
      const std::string label = pot_label(one.batch, number);
      for (int s = 0; s < step_count; ++s) {
        const auto step = static_cast<Step>(s);
        if (!can_be_due(step)) continue;
        const DueItem* item = nullptr;
        for (const DueItem* due : items) {
          if (due->due.pot == number && due->due.step == step) item = due;
        }
        if (item == nullptr && (plan == nullptr || plan->step(step, of) == nullptr)) continue;
        const Told told = told_of(story, number, step);
        const auto round = static_cast<std::int64_t>(told.done.size());
        const std::string summary = say(w.summary, name_of(step), one.batch.clone, label);
        const bool moved_lately = told.moved && lately(*told.moved);
        if (item != nullptr && (item->due.opens <= upto || moved_lately)) {
          add(uid_of(one.batch.id, number, step, round), told, item->due.opens, item->due.closes, summary, item->why,
              item->place, false);
        }
        for (std::int64_t over = 0; over < round; ++over) {
          const Day day = told.done[static_cast<std::size_t>(over)];
          if (lately(day)) add(uid_of(one.batch.id, number, step, over), told, day, day, summary, "", "", true);
        }
        // Refused, emptied, or ended by another step.
        if (item == nullptr && moved_lately)
          add(uid_of(one.batch.id, number, step, round), told, *told.moved, *told.moved, summary, "", "", true);
      }
    };
    of_pot(0, false, Of::waiting);
    for (const PotState& pot : one.pots) {
      const bool pieces = pot.unit == Unit::pieces;
      of_pot(pot.pot.number, pieces, pieces ? Of::pieces : Of::bulbs);
    }
  }
  std::sort(events.begin(), events.end(), [](const Event& a, const Event& b) { return a.uid < b.uid; });
  std::string text = line("BEGIN:VCALENDAR") + line("VERSION:2.0") + line("PRODID:-//Motherbulb//EN");
  // A calendar holds one component at least (3.6).
  if (events.empty()) {
    for (const char* content : {"BEGIN:VTIMEZONE", "TZID:Etc/UTC", "BEGIN:STANDARD", "DTSTART:19700101T000000",
                                "TZOFFSETFROM:+0000", "TZOFFSETTO:+0000", "END:STANDARD", "END:VTIMEZONE"})
      text += line(content);
  }
  for (const Event& event : events) text += event.text;
  return text + line("END:VCALENDAR");
}

}  // namespace motherbulb

#include <algorithm>

#include "app/cli/command.hpp"
#include "app/cli/day.hpp"
#include "app/due_words.hpp"
#include "app/print/calendar.hpp"
#include "app/print/due_list.hpp"
#include "app/print/work_list.hpp"

namespace motherbulb::cli {
namespace {

constexpr std::int32_t most_weeks = 520;

Json row_json(const DueList& list, const DueItem& item, Day on) {
  const BatchState& batch = list.batch(item);
  return Json{{"pot", item.due.pot == 0 ? "" : item.label},
              {"batch", batch.label},
              {"clone", batch.clone},
              {"step", to_text(item.due.step)},
              {"opens", to_text(item.due.opens)},
              {"closes", to_text(item.due.closes)},
              {"overdue", item.due.overdue(on)},
              {"why", item.why},
              {"genus", batch.genus},
              {"mark", batch.mark},
              {"place", item.place},
              {"put_off", item.due.put_off != nullptr}};
}

// Pots 1 to 9 and 12 of one batch are "/1–9, 12".
std::string numbers_of(const std::vector<std::int32_t>& numbers) {
  std::string text;
  for (std::size_t i = 0; i < numbers.size();) {
    std::size_t last = i;
    while (last + 1 < numbers.size() && numbers[last + 1] == numbers[last] + 1) ++last;
    text += (text.empty() ? "/" : ", ") + std::to_string(numbers[i]);
    if (last > i + 1) {
      text += "–" + std::to_string(numbers[last]);
      i = last + 1;
    } else {
      ++i;
    }
  }
  return text;
}

std::string text_of(const DueList& list, Day on) {
  struct Group {
    const DueItem* first;
    std::vector<std::int32_t> pots;
  };
  std::vector<Group> groups;
  for (const DueItem& item : list.items) {
    const auto same = std::find_if(groups.begin(), groups.end(), [&](const Group& group) {
      const Due& due = group.first->due;
      if (group.first->at != item.at || due.step != item.due.step || (due.pot == 0) != (item.due.pot == 0))
        return false;
      // Everyday care of a batch is one line, whatever day each pot's fell on.
      if (is_care(due.step) && due.open(on) && item.due.open(on) && due.overdue(on) == item.due.overdue(on))
        return true;
      return due.opens == item.due.opens && due.closes == item.due.closes && group.first->why == item.why;
    });
    if (same == groups.end()) {
      groups.push_back({&item, {item.due.pot}});
    } else {
      same->pots.push_back(item.due.pot);
    }
  }
  const auto rank = [on](const Group& group) {
    return group.first->due.overdue(on) ? 0 : group.first->due.open(on) ? 1 : 2;
  };
  for (Group& group : groups) std::sort(group.pots.begin(), group.pots.end());
  std::stable_sort(groups.begin(), groups.end(), [&](const Group& a, const Group& b) { return rank(a) < rank(b); });
  static constexpr std::array<const char*, 3> names = {"overdue", "due", "coming"};
  TextTable table({"", "Work", "Clone", "Pots", "Opens", "Closes", "Why"});
  int last = -1;
  for (const Group& group : groups) {
    const BatchState& batch = list.batch(*group.first);
    const int now = rank(group);
    table.add({now == last ? "" : names[static_cast<std::size_t>(now)], std::string(name_of(group.first->due.step)),
               batch.clone, pot_label(batch, 0) + (group.pots.front() == 0 ? "" : numbers_of(group.pots)),
               to_text(group.first->due.opens), to_text(group.first->due.closes), group.first->why});
    last = now;
  }
  return table.text();
}

}  // namespace

int due(const DueWish& wish, const Context& context) {
  const auto today = day_or_today("", context.machine.host);
  const auto on = day_or_today(wish.on, context.machine.host);
  if (!on) return fail(on.error());
  std::int32_t weeks = context.format == Format::ics ? 8 : 0;
  if (!wish.weeks.empty()) {
    if (wish.weeks.size() > 3 || wish.weeks.find_first_not_of("0123456789") != std::string::npos ||
        std::stoi(wish.weeks) > most_weeks) {
      return fail_usage("--weeks takes a whole number from 0 to 520, not \"" + on_one_line(wish.weeks) + "\"");
    }
    weeks = std::stoi(wish.weeks);
  }
  auto opened = open_to_look(wish.store, context);
  if (!opened) return fail(opened.error());
  const Logbook& book = **opened;
  const Hemisphere where = wish.south ? Hemisphere::south : Hemisphere::north;
  const Day upto{on->days + weeks * 7};
  // Of a day that is past, the book as it stood then.
  const bool then = *on < *today;
  const DueList list = due_list(book, *on, upto, where, then);
  const bool late =
      std::any_of(list.items.begin(), list.items.end(), [&](const DueItem& item) { return item.due.overdue(*on); });
  const int code = late ? 1 : 0;
  if (context.format == Format::json) {
    Json rows = Json::array();
    for (const DueItem& item : list.items) rows.push_back(row_json(list, item, *on));
    return say_json(rows, code);
  }
  if (context.format == Format::ics) return say(calendar(book, *on, upto, where, then), code);
  if (context.format == Format::html) return say(work_list(book, *on, where, then), code);
  if (context.format == Format::csv) {
    std::string text = csv_row(
        {"pot", "batch", "clone", "step", "opens", "closes", "overdue", "why", "genus", "mark", "place", "put_off"});
    for (const DueItem& item : list.items) {
      const BatchState& batch = list.batch(item);
      text +=
          csv_row({item.due.pot == 0 ? "" : item.label, batch.label, batch.clone, std::string(to_text(item.due.step)),
                   to_text(item.due.opens), to_text(item.due.closes), item.due.overdue(*on) ? "yes" : "no", item.why,
                   batch.genus, batch.mark, item.place, item.due.put_off != nullptr ? "yes" : "no"});
    }
    return say(text, code);
  }
  std::string text = list.items.empty() ? "Nothing is due on " + to_text(*on) + ".\n"
                                        : "Due on " + to_text(*on) + "\n\n" + text_of(list, *on);
  for (const auto& [what, batches] : list.without_plan)
    text += "No growing plan for " + what + ": " + counted(batches, "batch", "batches") + ".\n";
  for (const std::string& fault : list.unread) text += "Not read: " + on_one_line(fault) + "\n";
  return say(text, code);
}

}  // namespace motherbulb::cli

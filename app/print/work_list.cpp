#include "app/print/work_list.hpp"

#include <algorithm>
#include <map>

#include "app/due_words.hpp"
#include "app/print/page.hpp"
#include "app/words.hpp"
#include "app/words/due.hpp"
#include "core/places.hpp"

namespace motherbulb {
namespace {

// Pots of one batch at one place with the same work: a line.
struct WorkLine {
  const DueItem* first = nullptr;
  std::vector<std::string> pots;
};

std::string tag(const std::string& text) {
  return "<span class=\"label\">" + html_escape(text) + "</span>";
}

}  // namespace

std::string work_list(const Logbook& book, Day on, Hemisphere where, bool then) {
  const DueWords& w = due_words();
  const IsoWeek week = iso_week(on);
  const Day monday{on.days - week.weekday + 1}, sunday{monday.days + 6};
  const DueList list = due_list(book, on, sunday, where, then);
  std::map<std::string, std::vector<WorkLine>> by_bench;
  for (const DueItem& item : list.items) {
    std::vector<WorkLine>& lines = by_bench[split_place(item.place).bench];
    const auto same = std::find_if(lines.begin(), lines.end(), [&](const WorkLine& line) {
      const Due& due = line.first->due;
      if (line.first->at != item.at || due.step != item.due.step || (due.pot == 0) != (item.due.pot == 0)) return false;
      if (is_care(due.step) && due.overdue(on) == item.due.overdue(on)) return true;
      return due.opens == item.due.opens && due.closes == item.due.closes && line.first->why == item.why;
    });
    if (same == lines.end()) {
      lines.push_back({&item, {item.label}});
    } else {
      same->pots.push_back(item.label);
    }
  }
  std::vector<std::string> benches;
  for (auto& [bench, lines] : by_bench) {
    benches.push_back(bench);
    std::stable_sort(lines.begin(), lines.end(),
                     [](const WorkLine& a, const WorkLine& b) { return a.first->due.closes < b.first->due.closes; });
  }
  std::sort(benches.begin(), benches.end(), [](const std::string& a, const std::string& b) {
    if (a.empty() != b.empty()) return b.empty();
    return walked_before(a, b);
  });
  const std::string title = say(w.list_title, week.week, week.year);
  std::string body = "<h1>" + html_escape(title) + "</h1>\n<p class=\"quiet\">" +
                     html_escape(say(w.list_days, day_and_month(monday), day_and_month(sunday))) + "</p>\n";
  if (benches.empty()) body += "<p>" + html_escape(w.list_none) + "</p>\n";
  for (const std::string& bench : benches) {
    body +=
        "<h2>" + html_escape(bench.empty() ? w.list_nowhere : std::string_view(bench)) + "</h2>\n<table>\n<thead><tr>";
    for (const std::string_view head :
         {std::string_view(), w.list_step, w.list_clone, w.list_pots, w.list_why, w.list_by})
      body += "<th>" + html_escape(head) + "</th>";
    body += "</tr></thead>\n<tbody>\n";
    for (const WorkLine& line : by_bench[bench]) {
      const Due& due = line.first->due;
      const BatchState& batch = list.batch(*line.first);
      body += "<tr><td><span class=\"box\"></span></td><td>" + html_escape(name_of(due.step)) + "</td><td>‘" +
              html_escape(batch.clone) + "’</td><td>";
      for (const std::string& pot : line.pots) body += tag(pot) + " ";
      body += "</td><td>" + html_escape(line.first->why) + "</td>";
      const std::string closes = day_and_month(due.closes);
      body += due.overdue(on) ? "<td class=\"late\">" + html_escape(say(w.list_overdue, closes)) + "</td>"
                              : "<td>" + html_escape(closes) + "</td>";
      body += "</tr>\n";
    }
    body += "</tbody>\n</table>\n";
  }
  for (const auto& [what, batches] : list.without_plan) {
    body +=
        "<p>" + html_escape(say(w.list_without_plan, what, counted(batches, w.list_batch, w.list_batches))) + "</p>\n";
  }
  for (const std::string& fault : list.unread) body += "<p>" + html_escape(say(w.list_unread, fault)) + "</p>\n";
  body += "<p class=\"quiet\">" + html_escape(say(w.list_foot, book.digest(), to_text(on))) + "</p>\n";
  return page(title, body);
}

}  // namespace motherbulb

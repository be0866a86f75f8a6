// Sentences on what is due, for the screens, the command line, calendars and printed pages alike. {} are filled by
// say().
#pragma once

#include <array>
#include <string_view>

#include "core/state.hpp"

namespace motherbulb {

struct DueWords {
  // By step: what is to be done.
  std::array<std::string_view, step_count> step{"Begin", "Pot",     "Cover", "Uncover", "Look",  "Unpot",
                                                "Grade", "Dry off", "Start", "Repot",   "Water", "Feed"};
  // By the event that it counts from: so long ago it happened, or it has gone on since.
  std::array<std::string_view, step_count> ago{
      "Begun {} ago",  "In this pot {}",   "Covered {} ago", "Uncovered {} ago", "Looked at {} ago", "Unpotted {} ago",
      "Graded {} ago", "Dried off {} ago", "Growing {}",     "In this pot {}",   "Watered {} ago",   "Fed {} ago"};
  std::array<std::string_view, step_count> today{
      "Begun today",  "Potted today",    "Covered today", "Uncovered today", "Looked at today", "Unpotted today",
      "Graded today", "Dried off today", "Started today", "Repotted today",  "Watered today",   "Fed today"};
  std::string_view cut_ago = "Cut {} ago";
  std::string_view cut_today = "Cut today";
  std::string_view waits = "Out of the pot {}";
  std::string_view plan_window = "{}, plan: {} to {}";
  std::string_view plan_from = "{}, plan: {}";
  std::string_view plan_every = "{}, plan: every {}";
  std::string_view plan_season = "{}, plan: weeks {} to {}";
  std::string_view seen = "{}; {}";
  std::string_view put_off = "Put off by {} until {}";
  std::string_view put_off_nobody = "Put off until {}";
  std::string_view put_off_why = "{}: {}";
  std::string_view day = "day", days = "days", week = "week", weeks = "weeks", month = "month", months = "months";
  // A calendar and a week on paper.
  std::string_view summary = "{}: ‘{}’ {}";
  std::string_view summary_many = "{}: ‘{}’ {}, {}";
  std::string_view list_title = "Week {}, {}";
  std::string_view list_days = "{} to {}";
  std::string_view list_nowhere = "No place noted";
  std::string_view list_step = "Work", list_clone = "Clone", list_pots = "Pots", list_why = "Why", list_by = "By";
  std::string_view list_overdue = "was due by {}";
  std::string_view list_none = "Nothing is due in this week.";
  std::string_view list_without_plan = "No growing plan for {}: {}. Its work is not listed.";
  std::string_view list_batch = "batch", list_batches = "batches";
  std::string_view list_unread = "Not read, so its work may be missing here: {}";
  std::string_view list_foot = "From the book {}, as of {}. Tick what is done, and record it in the book.";
};
[[nodiscard]] const DueWords& due_words();

}  // namespace motherbulb

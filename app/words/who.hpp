// The sentences of who is here, and when it was done.
#pragma once

#include <string_view>

namespace motherbulb {

struct WhoWords {
  std::string_view title = "Who, and when";
  std::string_view second = "What you tap is kept under your name";
  std::string_view waits = "Then kept: {}";  // the slip of what waits
  std::string_view waits_line = "It waits here until you say who you are.";
  std::string_view who = "Who is here?";
  std::string_view when = "When was it done?";
  std::string_view when_line =
      "Later taps are kept at this time, until you choose another or nobody taps for half an hour.";
  std::string_view now = "Now";
  std::string_view now_at = "as the clock goes, {}";  // 10:42
  std::string_view morning = "This morning";
  std::string_view noon = "Yesterday noon";
  std::string_view evening = "Yesterday evening";
  std::string_view other = "Another day or hour";
  std::string_view other_chosen = "{}, {}";  // day, hour
  std::string_view back_to_usual = "Usual times";
  std::string_view which_day = "Which day?";
  std::string_view which_hour = "Which hour?";
  std::string_view no_hour = "That day, no hour";
  std::string_view today = "Today";
  std::string_view yesterday = "Yesterday";
  std::string_view weekday_short = "{} {}";  // weekday cut short, day of the month
  std::string_view hour = "{}:00";
  std::string_view done = "Done";
  std::string_view done_at = "Done: {}";  // "Ines, yesterday 18:00"
};

[[nodiscard]] const WhoWords& who_words();

}  // namespace motherbulb

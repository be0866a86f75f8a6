// A row of what is due: mark and word, clone and tag with the reason, its window in time, and the act on a label.
#pragma once

#include <string>

#include "app/layout.hpp"
#include "app/pen.hpp"

namespace motherbulb {

struct ReminderRow {
  enum class State { overdue, due, ahead } state = State::due;
  std::string state_word;  // due, overdue, "week 48"
  std::string clone, tag, reason;
  // The window: a line from when it was recorded, straw from opens to closes, a stake now, copper where it is late.
  bool with_window = true;
  std::int32_t opens = 0, closes = 0, now = 0;  // days since then
  std::string now_words;                        // "11 weeks"
  std::string act;
  bool main = false;          // the act to do next
  bool chosen = false;        // its pot is shown beside the list
  std::string row, act_name;  // in the touch map; an empty row leads nowhere
};
struct ReminderAnswer {
  bool chosen = false, acted = false;
};

[[nodiscard]] float reminder_height(const Layout& layout);
ReminderAnswer draw_reminder(Pen& pen, Rect area, const ReminderRow& row, bool rule_above, bool phone);

}  // namespace motherbulb

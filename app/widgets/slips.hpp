// What was kept, what was not, what there is nothing of, and what is asked once.
#pragma once

#include <optional>
#include <string>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"

namespace motherbulb {

// "Pot 2: 11 kept | Undo"; or, before the disk has answered, that it is still waited for.
struct Slip {
  std::string_view words;
  bool with_undo = false;
  bool waiting = false;
};
// True when Undo is tapped. The width first, to leave room in the head.
[[nodiscard]] float kept_slip_width(Pen& pen, std::string_view words, bool with_undo);
bool draw_kept_slip(Pen& pen, Rect area, const Slip& slip, bool wants_filled);

// "All kept, 10:42": a pill, no control.
float draw_kept_pill(Pen& pen, Point right_middle, std::string_view words);

// What is wrong, where, and what would mend it. True when it is put aside.
[[nodiscard]] float error_strip_height(Pen& pen, float width, std::string_view title, std::string_view words);
bool draw_error_strip(Pen& pen, Rect area, std::string_view title, std::string_view words);

// What a person should know, and the one act that it asks for: what could go wrong with the book, as a warning; else
// what waits. True when the act is tapped.
struct Notice {
  std::string_view title, words;
  std::string_view target, act;
  Icon icon = Icon::warning;
};
[[nodiscard]] float notice_strip_height(Pen& pen, float width, std::string_view title, std::string_view words,
                                        std::string_view act);
bool draw_notice_strip(Pen& pen, Rect area, const Notice& notice);

// Broken ring, pale bulb, one sentence, at most one act. True when the act is tapped.
bool draw_empty(Pen& pen, Rect area, std::string_view sentence, std::string_view target, std::string_view act);

}  // namespace motherbulb

// What it costs to know what is due, from a folded book.
#pragma once

namespace motherbulb::bench {

struct DueFigures {
  double all_ms = 0;        // 20,000 pots of 8 steps, from states in memory
  double fresh_ms = 0;      // the rows of a whole book of as many pots, made anew
  double after_tap_ms = 0;  // the same rows after one entry
};
DueFigures due_figures(const char* folder);

}  // namespace motherbulb::bench

// What a frame of our own work costs, without showing it, on a book of many pots.
#pragma once

#include <string>
#include <vector>

#include "core/logbook.hpp"

namespace motherbulb::bench {

// A book of so many pots of sections, 8 a batch, 200 a bench.
void fill(Logbook& book, int pots);

struct FrameFigure {
  std::string what;
  double ms = 0;  // processor milliseconds of one frame
};
// Makes a book with so many filled pots in that folder, and draws each screen of it in the largest size.
std::vector<FrameFigure> frame_figures(const std::string& folder, int pots);

}  // namespace motherbulb::bench

// Who is here, and when it was done: what is being typed or chosen.
#pragma once

#include <optional>
#include <string>

#include "shared/day.hpp"

namespace motherbulb {

struct WhoDraft {
  std::string typed_name;
  bool typing = false;
  bool other_time = false;  // days and hours are shown
  std::optional<Day> day;   // among them
};

}  // namespace motherbulb

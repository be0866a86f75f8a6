// The number pad: a digit adds a handful at once, there is no enter key: take 3, tap 3. Last row: Undo, 10, Next size.
// The keys of a keyboard do the same: 1 to 9, 0 for ten, Backspace for Undo.
#pragma once

#include <optional>

#include "app/pen.hpp"

namespace motherbulb {

struct PadAnswer {
  std::optional<int> handful;
  bool undo = false;
  bool next = false;
};

// `area` holds 3 by 4 keys, 8 apart. `can_undo` false shows Undo as not now. `icons_only`: a narrow pad.
PadAnswer draw_number_pad(Pen& pen, Rect area, bool can_undo, bool has_next, bool narrow);

}  // namespace motherbulb

// Keys for a label's figures and letters, and for letters of a name: large, without an enter key.
#pragma once

#include <string_view>

#include "app/pen.hpp"

namespace motherbulb {

struct KeysAnswer {
  char typed = 0;      // 0: none
  bool undo = false;   // take the last one back
  bool other = false;  // the key that changes between letters and figures
};

// `keys` in a grid of so many columns, each at least 56 high where the area has room; the last row is filled up by
// `other` (empty: none), a space key where asked for, and Undo. Named "key:X", "key:undo", "key:space", "key:other".
struct KeyGrid {
  std::string_view keys;
  std::size_t columns = 3;
  std::string_view other;
  bool space = false;
  bool undo = true;
  bool can_undo = false;
};
[[nodiscard]] std::size_t key_rows(const KeyGrid& grid);
KeysAnswer draw_keys(Pen& pen, Rect area, const KeyGrid& grid);

}  // namespace motherbulb

// The merge as a picture: a label for each helper, strands as wide as what is new, into one book with its digest.
#pragma once

#include <string>
#include <vector>

#include "app/pen.hpp"

namespace motherbulb {

struct HelperLabel {
  std::string name;         // whose entries
  std::string device;       // "this device", "sill tablet", a file
  std::string number;       // "58"
  std::string number_word;  // "new"
  std::string second;       // "12 known"
  std::string badge;        // "2 to settle"; empty: none
  std::int64_t weight = 0;  // the strand's width
};

struct BookLabel {
  std::string title;         // "One book, 3,489 entries"
  std::string second;        // "Same on all when they show 5c1e a07d 93f4"
  std::string short_second;  // where the other does not fit
  bool ticked = false;
};

// `joined` 0 to 1: how far the strands have grown. Labels that do not fit beside each other are stacked (phones), or
// the last ones are gathered into one.
void draw_strands(Pen& pen, Rect area, const std::vector<HelperLabel>& helpers, const BookLabel& book, float joined,
                  bool phone);
// Labels beside each other and the book below them need so much; less, and they lie over each other.
inline constexpr float least_strands_height = 260;
// The height a stack of them needs on a phone.
[[nodiscard]] float strands_height(std::size_t helpers, bool phone);

}  // namespace motherbulb

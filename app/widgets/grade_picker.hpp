// The grade picker: six size classes round what the pot was potted as, circles growing with the class; both ends open
// the rest. 1 by 6, or 2 by 3 on a phone.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/pen.hpp"

namespace motherbulb {

struct GradeKey {
  std::string name;  // "4–6", "under 2", "10+"
  int count = 0;
  float share = 0;          // 0 the smallest class there is, 1 the largest: the circle's size
  bool opens_more = false;  // an end key behind which there are more classes: choosing it shows them
};

// The index of the key that was tapped.
std::optional<std::size_t> draw_grade_picker(Pen& pen, Rect area, const std::vector<GradeKey>& keys, std::size_t chosen,
                                             bool two_rows);

// A bulb cut across with its rings, as it stands for a size class.
void draw_size_rings(Pen& pen, Point middle, float radius, int rings, bool on_tunic);

}  // namespace motherbulb

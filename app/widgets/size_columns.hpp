// Counts by size as columns side by side: the count on top, the size below.
#pragma once

#include <cstddef>

#include "app/pen.hpp"
#include "core/state.hpp"

namespace motherbulb {

// At most `most` sizes: where there are more, the smallest ones go together, from the least end of them to the
// greatest. Bulbs that nobody sized stay apart.
[[nodiscard]] BulbsByGrade sizes_together(const BulbsByGrade& bulbs, std::size_t most);

void draw_size_columns(Pen& pen, Rect area, const BulbsByGrade& bulbs);

}  // namespace motherbulb

// A matter as its panel shows it.
#pragma once

#include <vector>

#include "app/book_rows.hpp"
#include "app/widgets/matter_panel.hpp"
#include "core/state.hpp"

namespace motherbulb {

[[nodiscard]] MatterView word_matter(const Matter& matter, BookRows& rows, Day today);

}  // namespace motherbulb

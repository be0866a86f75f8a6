// A week's work as a page to print: by place in walking order, what is overdue first.
#pragma once

#include <string>

#include "app/print/due_list.hpp"

namespace motherbulb {

// The work of the ISO week that `on` is in: what is open, overdue, or opens by its Sunday. `then`: by the book as it
// stood at the end of `on`.
[[nodiscard]] std::string work_list(const Logbook& book, Day on, Hemisphere where, bool then = false);

}  // namespace motherbulb

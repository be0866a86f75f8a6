// What is due as a calendar that any program reads: iCalendar, RFC 5545.
//
// Promise: equal books give equal bytes for the same day. An event keeps its UID while its window moves, and its
// SEQUENCE grows by each entry that moved it; what has gone (done, refused, or the pot emptied) stays in as CANCELLED
// for 8 weeks.
#pragma once

#include <string>

#include "app/print/due_list.hpp"

namespace motherbulb {

// What opens up to that day, seen on `on`, and what moved lately. `then`: the book as it stood at the end of `on`.
[[nodiscard]] std::string calendar(const Logbook& book, Day on, Day upto, Hemisphere where, bool then = false);

}  // namespace motherbulb

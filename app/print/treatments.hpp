// The list of treatments as a page to print: what an inspector asks for (trade-facts.md, section 7), a row for each
// act, what was not said as an empty cell, and at the end how often that was.
#pragma once

#include <string>

#include "core/health/treatments.hpp"

namespace motherbulb {

// The days from `from` to `to`, both among them.
std::string treatments_page(const Logbook& book, Day from, Day to);

}  // namespace motherbulb

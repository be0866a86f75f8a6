// Long work under way: what, how far, and the one act that stops it.
#pragma once

#include <string_view>

#include "app/layout.hpp"
#include "app/pen.hpp"

namespace motherbulb {

// `share` 0 to 1. True in the frame that answers a tap on "Stop".
bool draw_work(Pen& pen, const Layout& layout, std::string_view words, float share);

}  // namespace motherbulb

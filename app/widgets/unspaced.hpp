// Paths and file names: they have no spaces to be broken at.
#pragma once

#include <string>
#include <vector>

#include "app/pen.hpp"

namespace motherbulb {

// The lines of a path or a file's name at this width: broken behind a slash or a hyphen, else where it must be.
[[nodiscard]] std::vector<std::string> unspaced_lines(Pen& pen, Type type, const std::string& text, float width);

}  // namespace motherbulb

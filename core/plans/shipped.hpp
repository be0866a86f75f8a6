// What the build takes out of assets/ and puts into the program, so that it never misses it.
#pragma once

#include <string_view>

namespace motherbulb {

extern const std::string_view troubles_text;         // assets/troubles.json
extern const std::string_view starting_values_text;  // assets/starting_values.json

}  // namespace motherbulb

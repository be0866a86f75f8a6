// Names of files that a person will read on a stick: who, where, the day.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "shared/day.hpp"

namespace motherbulb {

// "ines-potting-bench-2026-11-25.parcel" of {"Ines", "potting bench"}: small letters, figures and what is beyond ASCII
// stay, everything else becomes one hyphen, so that any disk can hold the name. At most 120 bytes, whole characters.
// `nth` from 1: from the second on it stands behind the day.
[[nodiscard]] std::string file_name(const std::vector<std::string>& parts, Day day, std::string_view ending,
                                    int nth = 1);

}  // namespace motherbulb

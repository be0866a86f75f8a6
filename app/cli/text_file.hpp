// Whole text files, read and written for a command.
#pragma once

#include <string>
#include <string_view>

#include "app/cli/machine.hpp"

namespace motherbulb::cli {

// At most 64 MB; the fault names the file.
Result<std::string> read_text(const std::string& path, const Machine& machine);
// Under its name only when whole.
Outcome write_text(const std::string& path, std::string_view text, const Machine& machine);

}  // namespace motherbulb::cli

// The command line: words in, exit code out. See README.md for what each command does.
#pragma once

#include <string>
#include <vector>

#include "app/cli/machine.hpp"

namespace motherbulb::cli {

// `words`: what stands behind the program's name.
int run_command_line(const std::vector<std::string>& words, const Machine& machine);

}  // namespace motherbulb::cli

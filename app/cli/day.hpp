// Days as the command line takes them.
#pragma once

#include <string>

#include "core/host.hpp"
#include "shared/day.hpp"
#include "shared/result.hpp"

namespace motherbulb::cli {

// The day written, or the device's own today where nothing is written.
Result<Day> day_or_today(const std::string& text, Host& host);

}  // namespace motherbulb::cli

// The yields file: what `yields` reads with --model and writes with --save-model (section 1 of the mathematics). Of one
// way of cutting of one genus.
//
//   {"name": "...", "priors": {"u": {"mean", "sd"}, "b": {...}, "d": {...}, "log_f": {...}, "t": {"sd"}},
//    "pots": [{"clone", "k", "c", "s", "y"}, ...], "ask": [{"clone", "k", "c"}, ...]}
//
// The clone of an ask is null for a new one. `name` may be left out. What was written is read back equal, to the last
// bit of every number.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/science/yields.hpp"
#include "shared/result.hpp"

namespace motherbulb {

struct YieldFile {
  std::string name;
  YieldPriors priors;
  std::vector<YieldPot> pots;
  std::vector<YieldAsk> asks;
};

// `file` is what the error calls it. Refused, in one line with file and field, where anything is wrong.
Result<YieldFile> yield_file_from_json(std::string_view text, std::string_view file);
std::string to_json(const YieldFile& file);

}  // namespace motherbulb

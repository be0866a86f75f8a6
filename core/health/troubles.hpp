// Pests, diseases and animals: how each shows and what growers do (assets/troubles.json, made from trade-facts.md §5).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "shared/units.hpp"

namespace motherbulb {

struct Trouble {
  std::string id;    // the detail of a damage note: "bulb-scale-mite"
  std::string name;  // in plain words
  Cause cause = Cause::unknown;
  std::string shows;       // how it shows
  std::string usual;       // the usual response
  std::string caution;     // where the response can hurt; empty: none of its own
  bool never_cut = false;  // a mother that shows it must not be cut
  bool notify = false;     // may have to be reported to the authority
  std::string source;
};

const std::vector<Trouble>& troubles();              // in the order of the file
const Trouble* trouble_of(std::string_view detail);  // by id; null: none

}  // namespace motherbulb

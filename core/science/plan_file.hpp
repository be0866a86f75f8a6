// The plan's task as a file, and its answer as the command line gives it (section 5 of the mathematics, section 10 of
// the design).
//
//   {"name": "...", "classes": [{"name": "8-12", "saleable": false, "price": null}, ...], "start": [81, ...],
//    "acts": [{"name": "cut in 8", "class": "26+", "space": 1, "hours": 0.1, "cost": 0, "gives": [["2-4", 6.5], ...]},
//             ...],
//    "seasons": 5, "limits": {"space": 400, "hours": null},
//    "goal": {"kind": "most_saleable_by"} | {"kind": "fewest_seasons_to", "target": 200} |
//            {"kind": "most_money", "interest": 0.03, "wage": 20, "rent": 0.5},
//    "reserve": {"class": "26+", "count": 2}}
//
// Classes stand in order of size. space, hours and cost are for one bulb. A limit may be a list, one number for each
// season. name, saleable (false), price, cost (0), limits, reserve, interest, wage and rent (0) may be left out. A
// reserve may name "up_to", its last class, where it is not the last of all; several stand in a list. What was written
// is read back equal, to the last bit of every number.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/science/plan.hpp"
#include "shared/result.hpp"

namespace motherbulb {

// `file` is what the error calls it. Refused, in one line with file and field, where anything is wrong.
Result<PlanTask> plan_task_from_json(std::string_view text, std::string_view file);
std::string to_json(const PlanTask& task);

// How an act is told of bulbs of a book; nothing where it is not of one.
struct PlanActWords {
  std::optional<std::string> clone, grade, method;
  std::optional<int> sections;
};
struct PlanBesideRow {
  std::string name;
  double saleable = 0;  // after the last season of the plan
  std::optional<double> chance;
  bool within_limits = false;
};
struct PlanRelease {
  std::size_t season = 0;
  double count = 0, chance = 0;
};
// What stands beside the plan in its answer.
struct PlanAnswer {
  std::optional<double> chance;
  std::vector<PlanActWords> words;  // of each act; empty: the class is told as grade, and the rest is not known
  std::vector<PlanBesideRow> beside;
  std::optional<PlanRelease> release;
  std::vector<std::string> advice;
};
std::string to_json(const PlanTask& task, const Plan& plan, const PlanAnswer& answer);

}  // namespace motherbulb

// The plan from a book; plan.cpp has the one from a file, and tells both.
#pragma once

#include "app/cli/command.hpp"
#include "core/science/plan_file.hpp"

namespace motherbulb::cli {

int plan_of_book(const PlanWords& words, const Context& context);

// A plan in plain words: each season's acts and what stands after it, or those of the first and what is saleable after
// each.
std::string plan_told(const PlanTask& task, const Plan& plan, const PlanAnswer& answer, bool every_season);

}  // namespace motherbulb::cli

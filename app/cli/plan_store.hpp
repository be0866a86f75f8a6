// The plan from a book; plan.cpp has the one from a file, and tells both.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "app/cli/command.hpp"
#include "core/science/plan_file.hpp"

namespace motherbulb::cli {

inline constexpr double usual_plan_seconds = 20;

// What both take: each stays as it is where nothing is written; the exit code where it cannot be read.
std::optional<int> read_seasons(const PlanWords& words, std::size_t& seasons);
std::optional<int> read_target(const PlanWords& words, std::int64_t& target);
std::optional<int> read_limits(const PlanWords& words, PlanLimit& space, PlanLimit& hours);
std::optional<int> read_time_limit(const PlanWords& words, double& seconds);
// Goes on for so long by the host's clock.
std::function<bool(double)> for_seconds(double seconds, Host& host);

int plan_of_book(const PlanWords& words, const Context& context);

// A plan in plain words: each season's acts and what stands after it, or those of the first and what is saleable after
// each.
std::string plan_told(const PlanTask& task, const Plan& plan, const PlanAnswer& answer, bool every_season);

}  // namespace motherbulb::cli

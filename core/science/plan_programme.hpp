// The plan's task as a linear programme: columns, rows and costs, in numbers of like size. Section 5 of the
// mathematics, without a solver; `plan_solver` hands it to one.
//
// A column is the bulbs given one act in one season, counted in units of `unit` bulbs; the unit is 1 in season 1, where
// the columns are whole, and a power of two that follows the stock after it, so that numbers of bulbs that grow a
// thousandfold a season stay of one size. Only classes that can hold bulbs have columns.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "core/science/plan.hpp"

namespace motherbulb {

struct PlanColumn {
  std::size_t season = 1, act = 0;
  double unit = 1;                      // bulbs
  double most = 0;                      // units that it can be at most, in season 1; unused after it
  std::optional<PlanInTheWay> lacking;  // set where the column is no act: so much of a limit is missing, in units
};

struct PlanRow {
  enum class Kind { balance, at_most, at_least };  // balance: equal to `bound`
  Kind kind = Kind::balance;
  double bound = 0;
  std::vector<std::pair<std::size_t, double>> cells;  // column, coefficient
};

// A number of each column, summed up: what is made least. In units that keep the sum near the size of the columns;
// times `unit` it is what a person counts.
struct PlanCost {
  std::vector<double> cells;
  double unit = 1;
};

struct PlanProgramme {
  std::size_t seasons = 0;
  std::vector<PlanColumn> columns;  // by season, then by act
  std::vector<PlanRow> rows;        // balances first, each of one season and class
  std::size_t balances = 0;
  std::vector<std::vector<std::size_t>> of_balance;  // the columns that each balance parts its bulbs among
  std::size_t cells = 0;                             // of all rows
  double most_bulbs = 0;                             // of any class at the start: the size that columns should have
  std::vector<double> units;                         // of each season
};

// For a task that fault_of passes. `units` are the seasons' if given, else they follow what could stand at most. With
// `lacking`, every limit, reserve and class without an act has a column for what it lacks, so that the programme has an
// answer.
PlanProgramme plan_programme(const PlanTask& task, std::size_t seasons, bool lacking, std::vector<double> units = {});

// Costs to be made least: what is missing; the goal (negative, as it is to be most); and what breaks ties: hours, bulbs
// cut, the order of the acts.
PlanCost cost_of_lacking(const PlanTask& task, const PlanProgramme& programme);
PlanCost cost_of_saleable(const PlanTask& task, const PlanProgramme& programme);
PlanCost cost_of_money(const PlanTask& task, const PlanProgramme& programme);
PlanCost cost_of_hours(const PlanTask& task, const PlanProgramme& programme);
PlanCost cost_of_cutting(const PlanTask& task, const PlanProgramme& programme);
PlanCost cost_of_order(const PlanTask& task, const PlanProgramme& programme);

// The units that would bring each season's columns to the size of the first season's, by a solution.
std::vector<double> units_of_like_size(const PlanProgramme& programme, const std::vector<double>& solution);

// The acts of a solution: shares of each class as the solver gave them, whole in season 1, the stock reckoned anew, so
// that every balance holds to the last bits.
std::vector<std::vector<double>> acts_of(const PlanTask& task, const PlanProgramme& programme,
                                         const std::vector<double>& units);

}  // namespace motherbulb

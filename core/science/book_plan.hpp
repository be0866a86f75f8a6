// The clones of a book as a plan asks for them: what stands, how it grows, and the ways of cutting to choose among.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/science/book_model.hpp"
#include "core/science/season_plan.hpp"

namespace motherbulb {

// What the ways of cutting give of a clone, from its records; none: published values.
using CutGivers = std::function<CutGiver(const std::string& clone, const std::string& genus)>;

// The clone of that name, or all that have bulbs or sections on that day, in the order of their names. Ways to choose
// among: those that are published for the genus, chipping into 8, 12 and 16, and every way that the clone was cut in
// the year before. Refused where the book has no such clone; `cancelled` where `go_on`, asked before each with the
// share that is done, says no.
Result<std::vector<PlanClone>> plan_clones_of(const Logbook& book, const BookOnDay& known, const std::string& clone,
                                              const CutGivers& gives = {},
                                              const std::function<bool(double done)>& go_on = {});
// How that clone grows as it is cut now: all that an outlook asks for, without the ways to choose among.
Result<GrowthModel> clone_growth_of(const Logbook& book, const BookOnDay& known, const std::string& clone,
                                    const CutGivers& gives = {});

}  // namespace motherbulb

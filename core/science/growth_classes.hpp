// Bulbs by classes of girth: which class a bulb is in, how sizes spread over the classes, and what a season's growth
// makes of a class by the starting values. Section 2 of the mathematics. Pure.
//
// Classes are a genus's grades: smallest first and without gaps, the first open below, the last above
// (Logbook::grades_of). Each function takes at least one. An open first class counts from 0; an open last one is as
// wide as the one before it.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "core/science/starting_values.hpp"
#include "shared/units.hpp"

namespace motherbulb {

// What a season makes of a bulb of that class by the starting values alone: chances by class. A bulb of the full girth
// or more keeps its girth; what outgrows the last class stays in it, what shrinks to nothing in the first.
std::vector<double> growth_from_start(const StartingGrowth& growth, const std::vector<Grade>& grades, std::size_t from);

// The class that holds the middle of the grade; of an open end the girth that is named, of an unsized bulb the first.
std::size_t class_of(const std::vector<Grade>& grades, Grade grade);

// Shares by class of bulbs whose girth is log-normal around this median.
std::vector<double> sizes_around(double median_cm, double spread, const std::vector<Grade>& grades);

// The middle of a class in cm, as `growth_from_start` takes its ends.
double middle_cm(const std::vector<Grade>& grades, std::size_t which);

std::string name_of_class(Grade grade);

}  // namespace motherbulb

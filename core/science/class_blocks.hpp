// Which classes lead to which: the strongly connected blocks of a yearly matrix, what a start reaches, and periods.
#pragma once

#include <cstddef>
#include <vector>

#include "core/science/model.hpp"

namespace motherbulb {

// The classes that the start leads to in any number of seasons, itself among them.
std::vector<bool> reached_classes(const Square& matrix, const std::vector<bool>& starts_in);

// Every class of `among` stands in one block, with those that it leads to and that lead back to it; ascending inside a
// block. A block stands before those that it feeds. Source: Tarjan, "Depth-first search and linear graph algorithms"
// (1972).
std::vector<std::vector<std::size_t>> class_blocks(const Square& matrix, const std::vector<bool>& among);

// The greatest common divisor of all ways round in a block; 1 is primitive. 0 where no way leads round.
std::size_t period_of(const Square& matrix, const std::vector<std::size_t>& block);

}  // namespace motherbulb

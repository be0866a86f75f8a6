// What a way of cutting gives of a clone by the pots of the book: the law of yields (yields.hpp) asked for each class
// of mothers, and the sizes of the bulblets that were counted.
#pragma once

#include "core/science/book_plan.hpp"
#include "core/science/yield_records.hpp"

namespace motherbulb {

// A way of cutting of which no pot of the genus was counted is left to the published values. Sizes: the published
// spread with the weight of 8 bulblets, moved by those counted of the clone by that method.
CutGivers cut_givers_of(const YieldRecords& records);

}  // namespace motherbulb

// The facts of a book as the mathematics reads them: one after the other, each with the clone that it is about.
#pragma once

#include <vector>

#include "core/logbook.hpp"
#include "core/science/growth_records.hpp"
#include "shared/result.hpp"

namespace motherbulb {

// Every fact that stands and counts, of all batches whose beginning the book knows, in the order of the fold across
// batches. Clone and genus are the names that the batch has now. Facts of the whole book, such as names, are left out.
// A potting of which nobody said whether pieces or bulbs, as in a table, says what the fold took it for.
// Fails where the store does.
Result<std::vector<PastFact>> past_facts(const Logbook& book);

}  // namespace motherbulb

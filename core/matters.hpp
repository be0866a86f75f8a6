// Matters that no single story shows: labels, names, devices, clocks, forks. Made from the folded tables when asked.
#pragma once

#include <vector>

#include "core/bookkeeping.hpp"

namespace motherbulb {

// A clone as the book sees it: batches whose names fold alike, after renaming.
struct CloneName {
  std::string key;  // folded genus and name
  std::string genus, name;
  When first_begun;
  BatchId first_batch;
  std::vector<StoryNo> batches;
};
std::vector<CloneName> clone_names(Store& store, const BookState& book);  // sorted by name, genus

// Those that are open and of no single story. Costs a look at every batch.
std::vector<Matter> book_matters(Store& store, const BookState& book);

// Which contents of a forked writer's ids count: those with one content, and those that a person has chosen. Of the
// book the ones that do not, of those beside it the ones that do.
struct ForkWeights {
  std::vector<std::uint64_t> main_out;
  std::vector<Hash> aside_in;
  std::vector<BatchId> stories;
};
ForkWeights weigh(Store& store, const BookState& book, const WriterId& writer);
// Writes them down; their stories are to be folded anew.
void weigh_forks(Store& store, Bookkeeping& bookkeeping, const WriterId& writer);

}  // namespace motherbulb

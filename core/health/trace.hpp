// The trace: from a pot that is on hold or was found bad to every pot that it may have touched, the likeliest first,
// with the entries that say so. It ranks; it invents no probability (mathematics.md, section 7).
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "core/logbook.hpp"

namespace motherbulb {

// In the order of how sure it is.
enum class TouchedBy : std::uint8_t {
  descent,  // of one plant: its batch, and every batch that begetting joins to it
  blade,    // cut after it by the same helper, the blade not disinfected between
  pot,      // of a batch that was combined with its batch
  bench     // stands next to it
};
std::string_view to_text(TouchedBy reason);  // descent, blade, pot, bench

// A contaminated cut may infect up to the twentieth plant cut after it with the same blade (trade-facts.md, S58).
inline constexpr std::int64_t blade_reaches = 20;

struct Touched {
  PotId pot;  // 0: what waits in the batch
  std::string label, batch, clone;
  TouchedBy reason = TouchedBy::descent;
  // Descent: begettings between the two; 0 of the same batch. Blade: the batch's first mother was the n-th plant cut
  // after. Pot: 0. Bench: 0 the same place, 1 next to it, also across a corner, 2 somewhere on the bench, since it is
  // not known where one of the two stands.
  std::int64_t steps = 0;
  // That say so, oldest first. Descent: what began each batch on the way. Blade: the contaminated cut and the one after
  // it. Pot: the combining. Bench: what brought each to its place.
  std::vector<EntryId> entries;
  std::string bench;  // of both, where that is the reason
};

struct Trace {
  // Each pot once, by its surest reason, sorted by reason, steps, label; without the one asked about; only pots that
  // are filled and batches in which something waits.
  std::vector<Touched> pots;
  // Where each trail of the blade ended, for the words: a disinfection, the twentieth plant, or the last cut so far.
  enum class End : std::uint8_t { disinfected, twentieth, last_cut };
  struct Trail {
    EntryId cut;  // the contaminated cut: the one that made its batch, or one of mothers out of its batch
    End end = End::last_cut;
    std::int64_t plants = 0;  // cut after it, before the disinfection and within reach
    std::string batch;        // label of what that cut began
    std::string helper;       // whose blade; empty: nobody said
  };
  std::vector<Trail> trails;  // in the order of the cuts
};

// `bad` of number 0: the whole batch, all of its pots and what waits. Any pot may be asked about, emptied ones too;
// one that the book does not know is refused. Reads the folded picture and the story of the whole book, no other.
Result<Trace> trace(const Logbook& book, const PotId& bad);

}  // namespace motherbulb

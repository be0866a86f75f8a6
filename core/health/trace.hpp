// The trace: from a pot that is on hold or was found bad to every pot that it may have touched, the likeliest first,
// with the entries that say so. It ranks; it invents no probability (mathematics.md, section 7).
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/logbook.hpp"

namespace motherbulb {

// In the order of how sure it is.
enum class TouchedBy : std::uint8_t { descent, blade, pot, bench };
std::string_view to_text(TouchedBy reason);  // descent, blade, pot, bench

// A contaminated cut may infect up to the twentieth plant cut after it with the same blade (trade-facts.md, S58).
inline constexpr std::int64_t blade_reaches = 20;

struct Touched {
  PotId pot;  // 0: what waits in the batch
  std::string label, batch, clone;
  TouchedBy reason = TouchedBy::descent;
  // Descent: begettings between the two. Blade: it was the n-th plant cut after. Bench: places between them.
  std::int64_t steps = 0;
  std::vector<EntryId> entries;  // that say so, oldest first
};

struct Trace {
  std::vector<Touched>
      pots;  // each pot once, by its surest reason; without the one asked about; only what stands or waits
  // Where each trail of the blade ended, for the words: a disinfection, the twentieth plant, or the last cut so far.
  enum class End : std::uint8_t { disinfected, twentieth, last_cut };
  struct Trail {
    EntryId cut;  // the contaminated cut
    End end = End::last_cut;
    std::int64_t plants = 0;  // cut after it within reach
  };
  std::vector<Trail> trails;
};

Result<Trace> trace(const Logbook& book, const PotId& bad);

}  // namespace motherbulb

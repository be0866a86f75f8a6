// The bench view: which bench, which pots, what is seen, until the book has it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "shared/day.hpp"
#include "shared/ids.hpp"

namespace motherbulb {

struct PotView;

struct BenchDraft {
  enum class Filter { all, damage, held, not_looked };
  enum class Panel { see, reasons, note, reason };

  Filter filter = Filter::all;
  std::optional<std::string> bench;  // by name; none: not chosen yet
  bool choosing_bench = false;
  std::optional<PotId> pot;
  std::string pot_label;    // of that pot, to speak of it when it is gone
  bool opened = false;      // on a phone: the pot is open, and not the bench
  bool bring_pot = false;   // into sight, in the next frame
  bool bring_page = false;  // the phone's page of a pot to its top

  std::size_t page = 0;             // of what can be seen
  std::optional<std::size_t> seen;  // among seen_kinds()
  std::string particular;           // the trouble that it is, by id; empty: nobody said
  bool asking_which = false;        // the particular ones are shown in place of the tiles
  int how_bad = 0;                  // 0 not said, 1 a trace, 2 some, 3 much
  std::string note;
  std::string note_before;  // while it is typed anew
  std::string reason;
  Panel panel = Panel::see;

  // What the screen shows of the book, made anew only when the book or the choice has changed.
  struct Slot {
    const PotView* pot = nullptr;  // null: free
    bool matches = false;
  };
  struct Picture {
    std::uint64_t revision = 0;
    Day today;
    Filter filter = Filter::all;
    std::string bench;
    bool made = false;

    std::size_t bench_at = 0;  // among the benches
    std::vector<Slot> slots;
    std::int64_t pots = 0, with_damage = 0, matching = 0;  // on this bench
    std::vector<std::int64_t> matching_on;                 // for each bench
    std::int64_t not_looked = 0;                           // in the house
  } picture;
};

}  // namespace motherbulb

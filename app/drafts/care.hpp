// Work on one pot, several, a bench or a batch, until the book has it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/state.hpp"
#include "shared/entry.hpp"

namespace motherbulb {

struct PotView;

// A count by handfuls, of what is there to be counted.
struct CareCount {
  // Pieces, or bulbs of one grade.
  struct Part {
    bool pieces = false;
    Grade grade;
    std::int64_t there = 0;
    [[nodiscard]] bool same(const Part& other) const { return pieces == other.pieces && grade == other.grade; }
  };
  std::vector<Part> parts;  // smallest first, pieces before all
  std::size_t chosen = 0;
  std::vector<std::pair<Part, int>> handfuls;

  [[nodiscard]] std::int64_t of(const Part& part) const {
    std::int64_t sum = 0;
    for (const auto& [counted, count] : handfuls) sum += counted.same(part) ? count : 0;
    return sum;
  }
  [[nodiscard]] std::int64_t total() const {
    std::int64_t sum = 0;
    for (const auto& [counted, count] : handfuls) sum += count;
    return sum;
  }
};

struct CareDraft {
  // What the draft belongs to: work on something else begins anew.
  std::vector<PotId> pots;
  std::optional<BatchId> batch;

  // The work, by the kind of fact that it writes: begun is a split. None: the tiles are shown.
  std::optional<Kind> job;
  bool only_this = false;  // somebody came for this work alone: leaving it leads back

  // What is typed, by the name of its field; and which field the keys write into now.
  std::string product, amount, hours, place, reason, subject, note;  // words; hours in figures
  std::string registration, dose, area, against, licence;            // of a treatment
  std::string position, shoots, money, true_type, off_type, number;  // figures
  std::string typing, typed_before;
  std::string pad;  // figures of this field are tapped; "count": handfuls; empty: none

  std::optional<int> re_entry;  // hours on a key; none: not said, or typed
  bool other_hours = false;
  std::optional<std::string> bench;
  enum class Positions { kept, counted, none } positions = Positions::kept;
  Moisture moisture = Moisture::unsaid;
  YesNo rot = YesNo::unsaid;
  TestResult result = TestResult::unsaid;
  Cause cause = Cause::unknown;
  CareCount count;
  std::size_t at = 0;       // the pot that is counted, of several
  bool everything = false;  // all that is in all of them
  std::optional<BatchId> into;
  bool proposed = false;  // what was used last was entered once; from then on it is what somebody tapped

  // What the screen shows of the book, made anew only when the book or the choice has changed.
  struct Picture {
    bool made = false;
    std::uint64_t revision = 0;
    std::vector<const PotView*> pots;   // those that stand filled
    std::size_t gone = 0;               // emptied or merged away meanwhile
    const BatchState* batch = nullptr;  // the one batch that all are of
    bool whole_batch = false;           // the work is on the batch itself
    std::string name, line;             // "bench 2: 24 pots"; what they are
    std::vector<std::string> last;      // what was done last, the latest first
    // Products, each with what was said of it last; the latest first. Looked for where a treatment is asked for.
    struct Used {
      Treatment fact;
      When when;
      FoldOrder order;
    };
    bool looked_for_used = false;
    std::vector<Used> used;
    std::string licence;                  // that this helper gave last
    std::vector<const BatchState*> into;  // other batches of the same clone
    std::optional<Kind> counted_for;      // the parts of the count are made for
    std::size_t counted_at = 0;
  } picture;

  // Forgets what was entered for a piece of work, once the book has it or it is given up.
  void clear_work() {
    product = amount = hours = place = reason = subject = note = "";
    registration = dose = area = against = licence = "";
    proposed = false;
    position = shoots = money = true_type = off_type = number = "";
    typing = typed_before = pad = "";
    re_entry.reset();
    other_hours = false;
    bench.reset();
    positions = Positions::kept;
    moisture = Moisture::unsaid;
    rot = YesNo::unsaid;
    result = TestResult::unsaid;
    cause = Cause::unknown;
    count = {};
    everything = false;
    into.reset();
    picture.counted_for.reset();
  }
};

}  // namespace motherbulb

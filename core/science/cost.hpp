// What each bulb has cost by now, and when the first may be sold. Section 6 of the mathematics. Pure.
//
// Costs are laid where they arise: hours, money and bench space on a pot or a batch, the price on bulbs that came from
// outside. They go down the descent with the bulbs and sections: what leaves a pot takes along its share by heads.
// What is lost or discarded leaves its share to what is left in the pot, else in the batch, else in the clone. What is
// sold or given takes its share away. No price is invented: what nobody said costs nothing.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/science/growth_records.hpp"

namespace motherbulb {

// By the grower; 0: not said. Money in cents.
struct CostFigures {
  double hour = 0;           // one hour of work
  double bench_week = 0;     // one filled pot on the bench for a week
  double potting = 0;        // material of one potting
  double bulb_from_out = 0;  // paid for one bulb that came from outside the book
  // For batches of which no hours were written down.
  double minutes_cut = 0;    // a mother
  double minutes_pot = 0;    // a potting
  double minutes_unpot = 0;  // an unpotting, counting and grading included
};

// `spent`: money written down in the book.
enum class CostPart : std::uint8_t { bought, hours, space, material, spent };
inline constexpr std::size_t cost_part_count = 5;
std::string_view to_text(CostPart part);

struct CostOfClass {
  Grade grade;  // unsized: nobody said
  std::int64_t bulbs = 0;
  std::int64_t cents = 0;
};

// Whole cents. Always: the sum of the parts = total = the sum of the classes + pieces_cents + borne_by_none.
struct CloneCost {
  std::string clone, genus;
  std::int64_t total = 0;
  std::array<std::int64_t, cost_part_count> parts{};
  std::vector<CostOfClass> classes;  // of bulbs that stand now, smallest first
  std::int64_t pieces = 0, pieces_cents = 0;
  std::int64_t borne_by_none = 0;         // nothing of the clone is left to bear it
  std::int64_t gone = 0, gone_cents = 0;  // sold and given, with what they had cost; not in the total
};

// Of every clone of the book on that day, by genus and name. `facts` in the order of the fold (past_facts); those
// after the day are left out. What is sold for, or got, is no cost and is not looked at.
std::vector<CloneCost> clone_costs(const std::vector<PastFact>& facts, const CostFigures& figures, Day on);

struct CostOfSaleable {
  std::int64_t bulbs = 0;
  std::int64_t cents = 0;
  std::optional<std::int64_t> per_bulb;  // to the nearest cent, a half up; none where there is no bulb
};
// Bulbs of a girth of so many cm and more: a grade counts by its lower end.
CostOfSaleable cost_of_saleable(const CloneCost& cost, double from_cm);

// Whole parts of a whole, each next to its share and with the whole as their sum: the largest remainders get one more,
// the first where two are equal. Shares are finite and not negative; where all are 0 the first gets everything.
// `whole` is not negative.
std::vector<std::int64_t> shared_out(std::int64_t whole, const std::vector<double>& shares);

// When bulbs may first be sold.
struct Release {
  std::size_t season = 0;            // 1 is the first of the table
  std::vector<std::int64_t> counts;  // that season and up to four after it: so many or more, with the chance asked for
};
// `saleable[t]`: what is saleable in season t + 1, one count a path, in ascending order (paths.hpp). The first season
// in which at least `chance` of the paths have `wanted` or more beyond the reserve; none: in no season of the table, or
// there are no paths. Chance within 0 and 1.
std::optional<Release> first_release(const std::vector<std::vector<std::int64_t>>& saleable, std::int64_t reserve,
                                     std::int64_t wanted, double chance);

}  // namespace motherbulb

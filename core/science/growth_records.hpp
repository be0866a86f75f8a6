// What the book tells of growing and losing: bulbs that were potted by size and counted by size again, what was lost in
// between, benches that lost much at once, and which bulbs were cut.
//
// Made from the facts that stand, in the order of the fold (Logbook::each_standing_fact). Pure.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "core/science/bench_losses.hpp"
#include "core/state.hpp"

namespace motherbulb {

// One fact as the book has it, of a batch whose clone is known.
struct PastFact {
  BatchId batch;
  std::string clone, genus;
  std::int32_t pot = 0;  // 0: the whole batch
  When when;
  Payload fact;
};

// Bulbs of one pot between two counts by size.
struct Filling {
  BatchId batch;
  std::int32_t pot = 0;
  std::string clone, genus;
  Day from, to;
  BulbsByGrade before;            // potted, less what was cut, sold, given or taken by a bad event in between
  BulbsByGrade lost;              // of those, by the size they were potted with
  BulbsByGrade after;             // counted at the end, of any size
  std::int64_t missing() const;   // neither counted nor written down as lost
  std::int64_t increase() const;  // counted beyond what was potted: natural daughters
};

// Mothers that were cut together.
struct CutBefore {
  BatchId batch;
  std::string clone, genus;
  Method method = Method::chipping;
  std::int32_t sections = 0;
  Grade grade;  // of the mothers
  std::int64_t mothers = 0;
  Day on;
};

struct GrowthRecords {
  std::vector<Filling> fillings;  // of 120 to 600 days: about one season
  std::vector<CutBefore> cuts;
  std::vector<BadBench> bad_benches;
  double bench_years = 0;                    // during which benches had 6 pots or more
  std::int64_t too_short = 0, too_long = 0;  // fillings that are no season and were left out
};

inline constexpr std::int32_t least_season_days = 120;
inline constexpr std::int32_t longest_season_days = 600;

// `facts`: of the whole book, in the order of the fold.
GrowthRecords growth_records(const std::vector<PastFact>& facts);

}  // namespace motherbulb

// How large the bulblets of a cut are, learnt from counts by grade. Section 1 of the mathematics, "Sizes of bulblets".
//
// The mass that leaves a mother is shared, so girth falls as the count rises:
//   log girth ~ Normal(z - r log(m(k) / m(8)) / 3, v²)
// z: of the genus, Normal around the log of its published bulblet with sd 0.35; r ~ Normal(1, 0.4), as published
// trials differ in sign (S04, S05); v: log-normal, median 0.4, sd of the log 0.3 (assumptions, both sds). A grade tells
// its two ends only. A deterministic grid that is laid anew around what it finds. Pure.
#pragma once

#include <cstdint>
#include <vector>

#include "shared/units.hpp"

namespace motherbulb {

struct SizedBulblets {
  double log_count_ratio = 0;  // log(m(k) / m(8)) of the cut that gave them
  Grade grade;                 // unsized ones tell nothing
  std::int64_t count = 0;
};

// A weighted set of what z, r and v may be; weights sum to 1.
struct BulbletSizes {
  struct Point {
    double weight, z, r, v;
  };
  std::vector<Point> points;
  double bulblets = 0;  // of a size, that were counted

  // The median girth, cm: exp of the mean of its log.
  double girth_cm(double log_count_ratio) const;
  // Shares by class, summing to 1. Classes are a genus's grades: smallest first, without gaps, the last open above.
  std::vector<double> shares(double log_count_ratio, const std::vector<Grade>& grades) const;
  // Share that reaches this girth.
  double share_from(double log_count_ratio, double girth_cm) const;
};

// `usual_girth_cm`: of a bulblet of a mother cut in 8, as published; above 0. Bounded: at most 12 grids of 3,267
// points, each over the distinct grades and ratios.
BulbletSizes bulblet_sizes(double usual_girth_cm, const std::vector<SizedBulblets>& counted);

}  // namespace motherbulb

// What the records leave open, as sets of numbers that are equally likely: each is one draw of what sections 1 and 2 of
// the mathematics know after the records. Paths take one set each, so that bands and chances hold what is not known
// beside what is chance.
//
// Philox streams keyed by the set (philox.hpp): the same sets from the same records on every machine.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "core/science/bulblet_sizes.hpp"
#include "core/science/philox.hpp"
#include "shared/units.hpp"

namespace motherbulb {

inline constexpr std::size_t usual_sets = 64;
// For so many clones together: they are seldom all poor at once, so fewer tell as much.
std::size_t sets_for(std::size_t clones);

double draw_gamma(double shape, PhiloxStream& stream);  // of scale 1; shape more than 0
double draw_beta(double a, double b, PhiloxStream& stream);
// Shares that sum to 1; weights not negative, of 0 stay 0. Weights that are all 0 are handed back.
std::vector<double> draw_dirichlet(const std::vector<double>& weights, PhiloxStream& stream);

// What a way of cutting may give.
struct DrawnGives {
  std::vector<double> per_mother;   // by class of mother
  std::vector<double> size_shares;  // by class of bulblet
};

// Of one way of cutting: the mean and the variance of log m for mothers of each class, the law of its bulblets' sizes
// at this ratio. A set is rich or poor for all mothers and all numbers of sections alike; over the sets both are spread
// evenly.
std::vector<DrawnGives> draw_gives(Method method, const std::vector<double>& log_means,
                                   const std::vector<double>& log_variances, const BulbletSizes& sizes,
                                   double log_count_ratio, const std::vector<Grade>& grades, std::size_t sets);

}  // namespace motherbulb

// The standard normal law: the chance of z or less, and the z of a chance.
#pragma once

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>

namespace motherbulb {

inline double normal_chance(double z) {
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}
// Of a chance of 0 or 1 the quantile of one just inside.
inline double normal_quantile(double chance) {
  return -std::sqrt(2.0) * boost::math::erfc_inv(2 * std::min(1 - 1e-16, std::max(1e-300, chance)));
}

}  // namespace motherbulb

// A smooth line through points that never overshoots them: between two points it stays between their values, so that
// a picture shows no bulbs that nobody reckoned with. Cubic, with the slopes of F. N. Fritsch and R. E. Carlson,
// "Monotone piecewise cubic interpolation", SIAM J. Numer. Anal. 17, 1980, limited by the harmonic mean.
#pragma once

#include <cstddef>
#include <vector>

namespace motherbulb {

class SmoothLine {
public:
  // Values at 0, 1, 2 ...; at least one.
  explicit SmoothLine(std::vector<double> values);
  // Beyond the ends the value there.
  [[nodiscard]] double at(double where) const;

private:
  std::vector<double> values_;
  std::vector<double> slopes_;
};

}  // namespace motherbulb

#include "app/widgets/smooth.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace motherbulb {

SmoothLine::SmoothLine(std::vector<double> values) : values_(std::move(values)), slopes_(values_.size(), 0.0) {
  const std::size_t n = values_.size();
  if (n < 2) return;
  slopes_.front() = values_[1] - values_[0];
  slopes_.back() = values_[n - 1] - values_[n - 2];
  for (std::size_t i = 1; i + 1 < n; ++i) {
    const double before = values_[i] - values_[i - 1];
    const double after = values_[i + 1] - values_[i];
    slopes_[i] = before * after > 0 ? 2 * before * after / (before + after) : 0;
  }
}

double SmoothLine::at(double where) const {
  const std::size_t n = values_.size();
  if (where <= 0 || n == 1) return values_.front();
  if (where >= static_cast<double>(n - 1)) return values_.back();
  const auto i = static_cast<std::size_t>(where);
  const double u = where - static_cast<double>(i);
  const double low = values_[i];
  const double high = values_[i + 1];
  const double value = (1 + 2 * u) * (1 - u) * (1 - u) * low + u * (1 - u) * (1 - u) * slopes_[i] +
                       u * u * (3 - 2 * u) * high + u * u * (u - 1) * slopes_[i + 1];
  return std::clamp(value, std::min(low, high), std::max(low, high));
}

}  // namespace motherbulb

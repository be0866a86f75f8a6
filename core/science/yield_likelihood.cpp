#include "core/science/yield_likelihood.hpp"

#include <algorithm>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <map>
#include <utility>

namespace motherbulb {
namespace {

constexpr double pi = 3.14159265358979323846;
constexpr double weighs_nothing = 13;  // exp(-13) of the peak
constexpr double least_t = 1e-9;

// log(1 + x), x >= 0; true to a part in 10^12 and faster than the library's.
double log_one_more(double x) {
  return x < 1e-4 ? x * (1 - x * (0.5 - x / 3)) : std::log(1 + x);
}

// log(Γ(y + r) / Γ(r))
double log_rising(double r, std::int64_t y) {
  if (y <= 8) {
    double product = 1;
    for (std::int64_t i = 0; i < y; ++i) product *= r + static_cast<double>(i);
    return std::log(product);
  }
  return boost::math::lgamma(static_cast<double>(y) + r) - boost::math::lgamma(r);
}

}  // namespace

double log_sections_of(std::int32_t k) {
  return std::log(static_cast<double>(k) / 8);
}

double log_girth_of(double c) {
  return std::log(c / 26);
}

// Newton's steps on a density whose log is concave, kept between bounds that its slope gives.
double CloneLine::peak(const CloneCells& cells, double f, double precision, double& spread) {
  double expected = 0;
  for (std::size_t i = 0; i < cells.size(); ++i) expected += cells[i].sections * f * odds_[i];
  double tries = 0;
  for (const double one : tries_) tries += one;
  double low = -(tries - bulblets_) / precision, high = bulblets_ / precision;
  double h = 0;
  if (!cells.empty() && expected > 0) {
    const double told = bulblets_ * (tries - bulblets_) / tries + 0.3;
    h = std::log((bulblets_ + 0.5) / expected) * told / (told + precision);
  }
  double curvature = precision;
  for (int round = 0; round < 40; ++round) {
    h = std::min(high, std::max(low, h));
    const double exp_h = std::exp(std::min(h, 300.0));
    double slope = bulblets_ - precision * h;
    curvature = precision;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const double x = odds_[i] * exp_h;
      const double part = 1 / (1 + x);  // 1 - p
      slope -= tries_[i] * (1 - part);
      curvature += tries_[i] * (1 - part) * part;
    }
    (slope > 0 ? low : high) = h;
    const double move = slope / curvature;
    if (move * move * curvature < 0.01) break;
    const double next = h + move;
    h = next > low && next < high ? next : 0.5 * (low + high);
  }
  spread = 1 / std::sqrt(curvature);
  return h;
}

double CloneLine::log_density(double h, double exp_h, double precision) const {
  double density = bulblets_ * h - 0.5 * precision * h * h;
  for (std::size_t i = 0; i < odds_.size(); ++i) density -= tries_[i] * log_one_more(odds_[i] * exp_h);
  return density;
}

void CloneLine::lay(const CloneCells& cells, const YieldValues& values, double relative_step, double shift) {
  const double t = std::max(values.t, least_t);
  const double precision = 1 / (t * t);
  const double f = std::exp(values.log_f);
  odds_.resize(cells.size());
  tries_.resize(cells.size());
  bulblets_ = 0;
  constant_ = -std::log(t * std::sqrt(2 * pi));
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const double level = values.log_mean(cells[i].log_sections, cells[i].log_girth) - cells[i].log_k - values.log_f;
    odds_[i] = std::exp(std::min(level, 300.0));
    tries_[i] = cells[i].bulblets + cells[i].sections * f;
    bulblets_ += cells[i].bulblets;
    constant_ += cells[i].bulblets * level;
  }
  double spread = 0;
  const double top = peak(cells, f, precision, spread);
  step = relative_step * spread;
  const double middle = top + (shift - 0.5) * step;
  const double up = std::exp(step), exp_middle = std::exp(std::min(middle, 300.0));
  const double greatest = log_density(middle, exp_middle, precision);
  constant_ += greatest;
  std::size_t low = side, high = side;
  weights_[side] = 1;
  double exp_h = exp_middle;
  while (high < 2 * side) {
    exp_h *= up;
    const double less = log_density(middle + static_cast<double>(++high - side) * step, exp_h, precision) - greatest;
    weights_[high] = std::exp(less);
    if (less < -weighs_nothing) break;
  }
  exp_h = exp_middle;
  while (low > 0) {
    exp_h /= up;
    const double less = log_density(middle - static_cast<double>(side - --low) * step, exp_h, precision) - greatest;
    weights_[low] = std::exp(less);
    if (less < -weighs_nothing) break;
  }
  first = middle - static_cast<double>(side - low) * step;
  count = high - low + 1;
  if (low > 0)
    std::copy(weights_.begin() + static_cast<std::ptrdiff_t>(low),
              weights_.begin() + static_cast<std::ptrdiff_t>(high + 1), weights_.begin());
  sum_up();
}

void CloneLine::sum_up() {
  double sum = 0;
  for (std::size_t i = 0; i < count; ++i) sum += weights_[i];
  log_integral = constant_ + std::log(sum * step);
  mean = mean_square = mean_exp = 0;
  const double up = std::exp(step);
  double exp_h = std::exp(first);
  for (std::size_t i = 0; i < count; ++i) {
    weights_[i] /= sum;
    const double h = first + static_cast<double>(i) * step;
    mean += weights_[i] * h;
    mean_square += weights_[i] * h * h;
    mean_exp += weights_[i] * exp_h;
    exp_h *= up;
  }
}

DispersionTerm::DispersionTerm(const std::vector<YieldPot>& pots, const NormalPrior& log_f)
    : middle_(log_f.mean), half_(std::max(1e-3, 9 * log_f.sd)) {
  std::map<std::pair<std::int64_t, std::int64_t>, double> alike;
  for (const YieldPot& pot : pots) alike[{pot.s, pot.y}] += 1;
  const std::size_t points = log_f.sd > 0 ? 96 : 2;
  for (std::size_t i = 0; i <= points; ++i) {
    const double f = std::exp(middle_ + half_ * std::cos(pi * static_cast<double>(i) / static_cast<double>(points)));
    double sum = 0;
    for (const auto& [pot, times] : alike) sum += times * log_rising(static_cast<double>(pot.first) * f, pot.second);
    values_.push_back(sum);
  }
}

// Barycentric form (Berrut & Trefethen, SIAM Review 46, 2004, eq. 5.4).
double DispersionTerm::at(double log_f) const {
  const double x = std::min(1.0, std::max(-1.0, (log_f - middle_) / half_));
  double above = 0, below = 0;
  const std::size_t last = values_.size() - 1;
  for (std::size_t i = 0; i <= last; ++i) {
    const double apart = x - std::cos(pi * static_cast<double>(i) / static_cast<double>(last));
    if (std::fabs(apart) < 1e-14) return values_[i];
    const double weight = (i % 2 == 0 ? 1.0 : -1.0) * (i == 0 || i == last ? 0.5 : 1.0) / apart;
    above += weight * values_[i];
    below += weight;
  }
  return above / below;
}

}  // namespace motherbulb

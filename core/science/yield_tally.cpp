#include "core/science/yield_tally.hpp"

#include <algorithm>
#include <boost/math/special_functions/beta.hpp>
#include <cmath>

namespace motherbulb {
namespace {

using Quiet =
    boost::math::policies::policy<boost::math::policies::domain_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::overflow_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::underflow_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::evaluation_error<boost::math::policies::ignore_error>,
                                  boost::math::policies::promote_double<false>>;

// Of the chances of log m, in parts of their spread: what the lattice leaves ragged is finer.
constexpr double smoothing = 0.3;
// Counts up to which chances are summed one by one.
constexpr double few_bulblets = 400;

struct Between {
  std::size_t bin = 0;  // and the next
  double part = 0;      // of the next
};

Between between(const YieldBins& bins, double at) {
  const double place = (at - bins.first) / bins.width;
  if (!(place > 0)) return {0, 0};
  const double last = static_cast<double>(bins.count - 1);
  if (place >= last) return {bins.count - 2, 1};
  const auto bin = static_cast<std::size_t>(place);
  return {bin, place - static_cast<double>(bin)};
}

// Chance of y or fewer of a negative binomial.
double chance_up_to(double y, double mean, double size) {
  if (y < 0) return 0;
  if (mean <= 0) return 1;
  return boost::math::ibeta(size, y + 1, size / (size + mean), Quiet());
}

// Less ragged, and right up to the fifth moment: a normal kernel of sixth order (Wand & Schucany, Canadian Journal of
// Statistics 18, 1990).
std::vector<double> smoothed(const std::vector<double>& chance, double bandwidth) {
  const auto reach = static_cast<std::ptrdiff_t>(std::ceil(6 * bandwidth));
  std::vector<double> kernel;
  double all = 0;
  for (std::ptrdiff_t i = -reach; i <= reach; ++i) {
    const double x = static_cast<double>(i) / bandwidth;
    kernel.push_back((15 - 10 * x * x + x * x * x * x) / 8 * std::exp(-0.5 * x * x));
    all += kernel.back();
  }
  const auto last = static_cast<std::ptrdiff_t>(chance.size()) - 1;
  std::vector<double> result(chance.size(), 0.0);
  for (std::ptrdiff_t at = 0; at <= last; ++at) {
    const double one = chance[static_cast<std::size_t>(at)] / all;
    if (one == 0) continue;
    for (std::ptrdiff_t i = -reach; i <= reach; ++i) {
      const std::ptrdiff_t to = std::min(last, std::max<std::ptrdiff_t>(0, at + i));
      result[static_cast<std::size_t>(to)] += one * kernel[static_cast<std::size_t>(i + reach)];
    }
  }
  return result;
}

}  // namespace

YieldBins YieldBins::around(double mean, double sd, double reach, std::size_t count) {
  const double half = std::max(reach * sd, 1e-7);
  return {mean - half, 2 * half / static_cast<double>(count - 1), count, 0.5 * static_cast<double>(count - 1) / reach};
}

YieldTally::YieldTally(const YieldBins& log_means, const YieldBins& log_fs)
    : log_means_(log_means), log_fs_(log_fs), bins_(log_means.count * log_fs.count, 0.0) {}

void YieldTally::add(double weight, double log_f, double level, double first, double step, std::size_t count,
                     const double* weights) {
  const Between of_f = between(log_fs_, log_f);
  double* low = &bins_[of_f.bin * log_means_.count];
  double* high = low + log_means_.count;
  for (std::size_t i = 0; i < count; ++i) {
    const Between of_m = between(log_means_, level + first + static_cast<double>(i) * step);
    const double all = weight * weights[i];
    const double to_high = all * of_f.part, to_low = all - to_high;
    low[of_m.bin] += to_low * (1 - of_m.part);
    low[of_m.bin + 1] += to_low * of_m.part;
    high[of_m.bin] += to_high * (1 - of_m.part);
    high[of_m.bin + 1] += to_high * of_m.part;
  }
}

double YieldTally::mean_quantile(double part) const {
  std::vector<double> chance(log_means_.count, 0.0);
  double all = 0;
  for (std::size_t i = 0; i < bins_.size(); ++i) {
    chance[i % log_means_.count] += bins_[i];
    all += bins_[i];
  }
  chance = smoothed(chance, smoothing * log_means_.sd);
  // A bin's chance lies around its centre: half of it on each side.
  const double wanted = part * all;
  double before = 0;
  for (std::size_t i = 0; i < chance.size(); ++i) {
    if (before + chance[i] >= wanted && chance[i] > 0) {
      const double within = (wanted - before) / chance[i] - 0.5;
      return std::exp(log_means_.first + (static_cast<double>(i) + within) * log_means_.width);
    }
    before += chance[i];
  }
  return std::exp(log_means_.first + static_cast<double>(log_means_.count - 1) * log_means_.width);
}

std::vector<YieldTally::Mixed> YieldTally::mixture(std::int32_t k, std::size_t together) const {
  std::vector<Mixed> mixed;
  double all = 0;
  for (const double one : bins_) all += one;
  for (std::size_t j = 0; j < log_fs_.count; ++j) {
    const double size = k * std::exp(log_fs_.first + static_cast<double>(j) * log_fs_.width);
    for (std::size_t i = 0; i < log_means_.count; i += together) {
      double weight = 0, mean = 0;
      for (std::size_t n = i; n < std::min(i + together, log_means_.count); ++n) {
        const double one = bins_[j * log_means_.count + n] / all;
        weight += one;
        mean += one * std::exp(log_means_.first + static_cast<double>(n) * log_means_.width);
      }
      if (weight > 1e-10) mixed.push_back({weight, mean / weight, size});
    }
  }
  return mixed;
}

namespace {

// The smallest whole y whose chance of y or fewer reaches `part`, by halving.
template <class Mixture>
double quantile_by_halving(const Mixture& mixed, double part) {
  const auto chance = [&mixed](double y) {
    double sum = 0;
    for (const auto& one : mixed) sum += one.weight * chance_up_to(y, one.mean, one.size);
    return sum;
  };
  double high = 1;
  while (high < 1e15 && chance(high) < part) high *= 2;
  double low = -1;
  while (high - low > 1) {
    const double middle = std::floor(0.5 * (low + high));
    (chance(middle) >= part ? high : low) = middle;
  }
  return high;
}

// Both quantiles by adding up chances from 0; false where the counts are too many for it.
template <class Mixture>
bool quantiles_by_sum(const Mixture& mixed, YieldRange& range) {
  std::vector<double> chance, size, ratio;
  for (const auto& one : mixed) {
    chance.push_back(one.weight * std::exp(-one.size * std::log1p(one.mean / one.size)));
    size.push_back(one.size);
    ratio.push_back(one.mean / (one.mean + one.size));
  }
  double sum = 0;
  bool low_found = false;
  for (double y = 0; y <= few_bulblets; ++y) {
    for (std::size_t i = 0; i < chance.size(); ++i) {
      sum += chance[i];
      chance[i] *= ratio[i] * (y + size[i]) / (y + 1);
    }
    if (!low_found && sum >= 0.05) {
      range.p5 = y;
      low_found = true;
    }
    if (sum >= 0.95) {
      range.p95 = y;
      return true;
    }
  }
  return false;
}

}  // namespace

void YieldTally::next_mother(std::int32_t k, YieldRange& range) const {
  // Beyond that mean the chance of 0 may be too small for a double, and the sum would never reach its parts.
  if (mean_quantile(0.99) < few_bulblets && quantiles_by_sum(mixture(k, 1), range)) return;
  const std::vector<Mixed> mixed = mixture(k, 4);
  range.p5 = quantile_by_halving(mixed, 0.05);
  range.p95 = quantile_by_halving(mixed, 0.95);
}

}  // namespace motherbulb

#include "core/science/draws.hpp"

#include <algorithm>
#include <array>
#include <boost/random/binomial_distribution.hpp>
#include <boost/random/gamma_distribution.hpp>
#include <boost/random/poisson_distribution.hpp>
#include <cmath>

namespace motherbulb {
namespace {

constexpr double largest_mean_by_inversion = 14;
constexpr std::size_t table_size = 256;

// 1 / k: a division in every step of an inversion is half of its time.
const std::array<double, 64>& reciprocals() {
  static const std::array<double, 64> table = [] {
    std::array<double, 64> made{};
    for (std::size_t k = 1; k < made.size(); ++k) made[k] = 1.0 / static_cast<double>(k);
    return made;
  }();
  return table;
}

double reciprocal(std::int64_t k) {
  const auto& table = reciprocals();
  return static_cast<std::size_t>(k) < table.size() ? table[static_cast<std::size_t>(k)] : 1.0 / static_cast<double>(k);
}

std::vector<double> powers(double log_base) {
  std::vector<double> table(table_size);
  for (std::size_t n = 0; n < table_size; ++n) table[n] = std::exp(log_base * static_cast<double>(n));
  return table;
}

double power(const std::vector<double>& table, double log_base, std::int64_t n) {
  const auto at = static_cast<std::size_t>(n);
  return at < table.size() ? table[at] : std::exp(log_base * static_cast<double>(n));
}

// An inversion walks up from 0 until the chances passed exceed one drawn number. Beyond the mean, where the chance has
// run out of digits, the rest of the tail weighs less than a step of that number.
bool goes_on(double left, double chance, std::int64_t count, double mean) {
  return left >= chance && (chance > 1e-20 || static_cast<double>(count) < mean);
}

// `none` is the chance of 0.
std::int64_t invert_binomial(std::int64_t n, double odds, double none, PhiloxStream& stream) {
  const double mean = static_cast<double>(n) * odds;
  double left = stream.part();
  double chance = none;
  std::int64_t count = 0;
  while (count < n && goes_on(left, chance, count, mean)) {
    left -= chance;
    chance *= odds * static_cast<double>(n - count) * reciprocal(count + 1);
    ++count;
  }
  return count;
}

std::int64_t large_binomial(std::int64_t n, double chance, PhiloxStream& stream) {
  return boost::random::binomial_distribution<std::int64_t, double>(n, chance)(stream);
}

std::int64_t any_poisson(double mean, PhiloxStream& stream) {
  if (!(mean > 0)) return 0;
  // Beyond what a path counts (paths.hpp) the mean stands for the draw: it could not be held whole.
  constexpr double beyond_counting = 4e15;
  if (mean > beyond_counting) return static_cast<std::int64_t>(beyond_counting);
  return boost::random::poisson_distribution<std::int64_t, double>(mean)(stream);
}

}  // namespace

BinomialDraw::BinomialDraw(double chance)
    : turned_(chance > 0.5),
      rarer_(std::clamp(turned_ ? 1 - chance : chance, 0.0, 0.5)),
      odds_(rarer_ / (1 - rarer_)),
      log_none_(std::log1p(-rarer_)) {
  if (rarer_ > 0) none_ = powers(log_none_);
}

std::int64_t BinomialDraw::operator()(std::int64_t n, PhiloxStream& stream) const {
  if (n <= 0) return 0;
  std::int64_t count = 0;
  if (rarer_ > 0) {
    count = static_cast<double>(n) * rarer_ <= largest_mean_by_inversion
                ? invert_binomial(n, odds_, power(none_, log_none_, n), stream)
                : large_binomial(n, rarer_, stream);
  }
  return turned_ ? n - count : count;
}

IncreaseDraw::IncreaseDraw(double mean, IncreaseLaw law, double dispersion)
    : mean_(mean), spread_(law == IncreaseLaw::negbin), dispersion_(dispersion), log_none_(-mean), ratio_(0) {
  if (spread_) {
    log_none_ = -dispersion * std::log1p(mean / dispersion);
    ratio_ = mean / (mean + dispersion);
  }
  if (mean > 0) none_ = powers(log_none_);
}

std::int64_t IncreaseDraw::operator()(std::int64_t parents, PhiloxStream& stream) const {
  if (parents <= 0 || !(mean_ > 0)) return 0;
  const double mean = static_cast<double>(parents) * mean_;
  if (mean <= largest_mean_by_inversion) return by_inversion(parents, stream);
  if (!spread_) return any_poisson(mean, stream);
  const double size = static_cast<double>(parents) * dispersion_;
  return any_poisson(boost::random::gamma_distribution<double>(size, mean_ / dispersion_)(stream), stream);
}

std::int64_t IncreaseDraw::by_inversion(std::int64_t parents, PhiloxStream& stream) const {
  const double size = static_cast<double>(parents) * dispersion_;
  const double mean = static_cast<double>(parents) * mean_;
  double left = stream.part();
  double chance = power(none_, log_none_, parents);
  std::int64_t count = 0;
  while (goes_on(left, chance, count, mean)) {
    left -= chance;
    chance *= (spread_ ? (size + static_cast<double>(count)) * ratio_ : mean) * reciprocal(count + 1);
    ++count;
  }
  return count;
}

YearDraw::YearDraw(const Model& model) {
  double sum = 0;
  for (const double chance : model.chances_of_years()) up_to_.push_back(sum += chance);
  while (last_ + 1 < up_to_.size() && up_to_[last_] < sum) ++last_;
}

std::size_t YearDraw::operator()(PhiloxStream& stream) const {
  const double part = stream.part() * up_to_.back();
  std::size_t year = 0;
  while (year < last_ && part >= up_to_[year]) ++year;
  return year;
}

StrikeDraw::StrikeDraw(const Model& model) {
  if (!model.bad_event || model.bad_event->chance <= 0 || model.bad_event->takes <= 0) return;
  places_ = model.shares_of_places();
  chance_ = model.bad_event->chance;
  takes_ = model.bad_event->takes;
}

double StrikeDraw::operator()(PhiloxStream& stream) const {
  double struck = 0;
  for (const double share : places_) {
    if (stream.part() < chance_) struck += share;
  }
  return std::min(struck, 1.0);
}

std::int64_t draw_binomial(std::int64_t n, double chance, PhiloxStream& stream) {
  if (n <= 0 || chance <= 0) return 0;
  if (chance >= 1) return n;
  const bool turned = chance > 0.5;
  const double rarer = turned ? 1 - chance : chance;
  const double mean = static_cast<double>(n) * rarer;
  const std::int64_t count =
      mean <= largest_mean_by_inversion
          ? invert_binomial(n, rarer / (1 - rarer), std::exp(std::log1p(-rarer) * static_cast<double>(n)), stream)
          : large_binomial(n, rarer, stream);
  return turned ? n - count : count;
}

}  // namespace motherbulb

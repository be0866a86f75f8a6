#include "core/science/growth_tally.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "core/science/growth_classes.hpp"

namespace motherbulb {
namespace {

constexpr int most_rounds = 100;
constexpr int most_fits = 60;
constexpr double near_enough = 1e-9;  // of a bulb

double sum(const std::vector<double>& numbers) {
  return std::accumulate(numbers.begin(), numbers.end(), 0.0);
}

bool has_unsized(const BulbsByGrade& bulbs) {
  return bulbs.count(Grade{}) != 0;
}

// `amount` shared in proportion to stands * rate; in proportion to what stands where that would take more than stands.
std::vector<double> shared_out(double amount, const std::vector<double>& stands, const std::vector<double>& rate,
                               bool at_most_all) {
  std::vector<double> parts(stands.size(), 0.0);
  for (std::size_t j = 0; j < stands.size(); ++j) parts[j] = stands[j] * rate[j];
  double all = sum(parts);
  bool fits = all > 0;
  for (std::size_t j = 0; fits && at_most_all && j < stands.size(); ++j) fits = amount * parts[j] <= stands[j] * all;
  if (!fits) {
    parts = stands;
    all = sum(parts);
  }
  for (double& part : parts) part = all > 0 ? amount * part / all : 0;
  return parts;
}

void add_to(std::vector<double>& sums, const std::vector<double>& parts) {
  for (std::size_t i = 0; i < sums.size(); ++i) sums[i] += parts[i];
}

void take_in(const Filling& filling, const std::vector<Grade>& grades, const GrowthMeans& means, GrowthTally& tally) {
  if (has_unsized(filling.before)) {
    ++tally.unsized_pots;
    return;
  }
  FillingByClass pot;
  pot.before = counts_by_class(filling.before, grades);
  pot.lost = counts_by_class(filling.lost, grades);
  pot.after = counts_by_class(filling.after, grades);
  pot.sized_after = !has_unsized(filling.after);
  std::vector<double> stands = pot.before;
  for (std::size_t j = 0; j < stands.size(); ++j) {
    pot.lost[j] = std::min(pot.lost[j], stands[j]);
    stands[j] -= pot.lost[j];
  }
  const double beyond = sum(pot.after) - sum(stands);
  if (beyond < 0) add_to(pot.lost, shared_out(-beyond, stands, means.loss, true));
  if (beyond > 0) {
    add_to(tally.offsets, shared_out(beyond, pot.before, means.offsets, false));
    double left = beyond;
    for (std::size_t i = 0; i < pot.after.size(); ++i) {
      const double taken = std::min(left, pot.after[i]);
      pot.after[i] -= taken;
      left -= taken;
      if (pot.sized_after) tally.offset_sizes[i] += taken;
    }
  }
  add_to(tally.bulbs, pot.before);
  add_to(tally.lost, pot.lost);
  tally.fillings.push_back(std::move(pot));
}

// How many bulbs of each class came to be of each: begins with the chances, and is brought to what went in and what
// came out in turn.
void fit(const FillingByClass& pot, const Square& growth, Square& moved) {
  std::vector<std::size_t> from, to;
  for (std::size_t j = 0; j < pot.before.size(); ++j) {
    if (pot.before[j] - pot.lost[j] > near_enough) from.push_back(j);
    if (pot.after[j] > near_enough) to.push_back(j);
  }
  if (from.empty() || to.empty()) return;
  std::vector<double> cells(from.size() * to.size());
  for (std::size_t b = 0; b < to.size(); ++b) {
    for (std::size_t a = 0; a < from.size(); ++a) {
      // Never 0: bulbs that the prior thinks impossible were counted.
      cells[b * from.size() + a] = std::max(growth.at(to[b], from[a]), 1e-12);
    }
  }
  const auto scale = [&cells](std::size_t begin, std::size_t step, std::size_t count, double wanted) {
    double all = 0;
    for (std::size_t i = 0; i < count; ++i) all += cells[begin + i * step];
    for (std::size_t i = 0; i < count; ++i) cells[begin + i * step] *= wanted / all;
    return std::abs(all - wanted);
  };
  double off = 1;
  for (int round = 0; round < most_fits && off > near_enough; ++round) {
    off = 0;
    for (std::size_t b = 0; b < to.size(); ++b) scale(b * from.size(), 1, from.size(), pot.after[to[b]]);
    for (std::size_t a = 0; a < from.size(); ++a) {
      off += scale(a, from.size(), to.size(), pot.before[from[a]] - pot.lost[from[a]]);
    }
  }
  for (std::size_t b = 0; b < to.size(); ++b) {
    for (std::size_t a = 0; a < from.size(); ++a) moved.at(to[b], from[a]) += cells[b * from.size() + a];
  }
}

}  // namespace

std::vector<double> counts_by_class(const BulbsByGrade& bulbs, const std::vector<Grade>& grades) {
  std::vector<double> counts(grades.size(), 0.0);
  for (const auto& [grade, count] : bulbs) counts[class_of(grades, grade)] += static_cast<double>(count);
  return counts;
}

Square updated_growth(const Square& prior, const Square& moved) {
  Square growth(prior.size);
  for (std::size_t from = 0; from < prior.size; ++from) {
    double seen = 0;
    for (std::size_t to = 0; to < prior.size; ++to) seen += moved.at(to, from);
    for (std::size_t to = 0; to < prior.size; ++to) {
      growth.at(to, from) = (growth_weight * prior.at(to, from) + moved.at(to, from)) / (growth_weight + seen);
    }
  }
  return growth;
}

GrowthTally tally_of(const std::vector<const Filling*>& fillings, const std::vector<Grade>& grades,
                     const GrowthMeans& means) {
  const std::size_t k = grades.size();
  GrowthTally tally;
  tally.bulbs = tally.lost = tally.offsets = tally.offset_sizes = std::vector<double>(k, 0.0);
  tally.moved = Square(k);
  for (const Filling* filling : fillings) take_in(*filling, grades, means, tally);
  Square growth = means.growth;
  for (int round = 0; round < most_rounds; ++round) {
    Square moved(k);
    for (const FillingByClass& pot : tally.fillings) {
      if (pot.sized_after) fit(pot, growth, moved);
    }
    double change = 0;
    for (std::size_t cell = 0; cell < moved.cells.size(); ++cell) {
      change = std::max(change, std::abs(moved.cells[cell] - tally.moved.cells[cell]));
    }
    tally.moved = std::move(moved);
    growth = updated_growth(means.growth, tally.moved);
    if (change < 1e-6) break;
  }
  return tally;
}

}  // namespace motherbulb

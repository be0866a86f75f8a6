#include "core/science/stochastic_growth.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <vector>

#include "core/science/class_blocks.hpp"
#include "core/science/draws.hpp"
#include "core/science/growth_rate.hpp"
#include "core/science/perron.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t seasons_to_settle = 1'000;  // before the first batch, so that the start is forgotten
// A stream of its own beside those of the paths.
constexpr std::uint64_t path_of_growth = std::numeric_limits<std::uint64_t>::max();

// Years drawn by weight: the same ones for whoever has the same seed.
class Years {
public:
  Years(const Model& model, std::uint64_t seed) : draw_(model), stream_(seed, path_of_growth, 0) {}
  std::size_t draw() { return draw_(stream_); }

private:
  YearDraw draw_;
  PhiloxStream stream_;
};

// A long product of the drawn years within one block of classes that lead to each other.
class LongProduct {
public:
  // The years' cells in the balance of their mean, so that no way through the block is too small for a double.
  LongProduct(const Model& model, const PerronBlock& block)
      : stands_(block.classes.size(), 1.0), next_(block.classes.size()) {
    for (const ModelYear& year : model.years) {
      std::vector<Cell> cells;
      for (std::size_t to = 0; to < block.classes.size(); ++to) {
        for (std::size_t from = 0; from < block.classes.size(); ++from) {
          const std::size_t row = block.classes[to], column = block.classes[from];
          const double mean = year.survival.at(row, column) + year.increase.at(row, column);
          if (mean > 0) cells.push_back({to, from, std::ldexp(mean, block.lift[from] - block.lift[to])});
        }
      }
      years_.push_back(std::move(cells));
    }
  }

  // The logarithm by which the total grows in a season; minus infinity where nothing is left.
  double grow(std::size_t year) {
    std::fill(next_.begin(), next_.end(), 0.0);
    for (const Cell& cell : years_[year]) next_[cell.to] += cell.mean * stands_[cell.from];
    const double total = std::accumulate(next_.begin(), next_.end(), 0.0);
    if (!(total > 0)) return -std::numeric_limits<double>::infinity();
    for (double& part : next_) part /= total;
    stands_.swap(next_);
    return std::log(total);
  }

private:
  struct Cell {
    std::size_t to = 0, from = 0;
    double mean = 0;
  };
  std::vector<std::vector<Cell>> years_;
  std::vector<double> stands_, next_;
};

StochasticGrowth growth_from(const std::vector<double>& batches) {
  const double count = static_cast<double>(batches.size());
  const double mean = std::accumulate(batches.begin(), batches.end(), 0.0) / count;
  double squares = 0;
  for (const double batch : batches) squares += (batch - mean) * (batch - mean);
  return {mean, std::sqrt(squares / (count - 1) / count)};
}

// Of one block; nothing where it dies out or the work is stopped.
std::optional<StochasticGrowth> growth_of(LongProduct product, Years years, const std::function<bool(double)>& go_on) {
  for (std::size_t season = 0; season < seasons_to_settle; ++season) {
    if (!std::isfinite(product.grow(years.draw()))) return std::nullopt;
  }
  std::vector<double> batches;
  while (batches.size() < growth_batches) {
    if (go_on && !go_on(static_cast<double>(batches.size()) / growth_batches)) return std::nullopt;
    double growth = 0;
    for (std::size_t season = 0; season < growth_batch_seasons; ++season) growth += product.grow(years.draw());
    if (!std::isfinite(growth)) return std::nullopt;
    batches.push_back(growth / static_cast<double>(growth_batch_seasons));
  }
  return growth_from(batches);
}

// The rate itself where one year is all there is.
std::optional<StochasticGrowth> steady_growth(const Model& model) {
  const double rate = growth_rate(model.mean(), model.starts_in()).rate;
  if (rate <= 0) return std::nullopt;
  return StochasticGrowth{std::log(rate), 0};
}

}  // namespace

std::optional<StochasticGrowth> stochastic_growth(const Model& model, std::uint64_t seed,
                                                  const std::function<bool(double done)>& go_on) {
  std::size_t years = 0;
  for (const ModelYear& year : model.years) years += year.weight > 0 ? 1 : 0;
  if (years == 1) return steady_growth(model);
  const Square mean = model.mean();
  const auto blocks = class_blocks(mean, reached_classes(mean, model.starts_in()));
  std::optional<StochasticGrowth> fastest;
  for (std::size_t b = 0; b < blocks.size(); ++b) {
    if (period_of(mean, blocks[b]) == 0) continue;
    bool stopped = false;
    const auto part = [&](double done) {
      stopped = go_on && !go_on((static_cast<double>(b) + done) / static_cast<double>(blocks.size()));
      return !stopped;
    };
    const auto growth = growth_of(LongProduct(model, balanced_block(mean, blocks[b])), Years(model, seed), part);
    if (stopped) return std::nullopt;
    if (growth && (!fastest || growth->log_growth > fastest->log_growth)) fastest = growth;
  }
  return fastest;
}

}  // namespace motherbulb

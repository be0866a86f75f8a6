#include "core/science/two_ways.hpp"

#include <algorithm>
#include <cmath>

#include "core/science/normal.hpp"

namespace motherbulb {
namespace {

constexpr double one_by_root_two_pi = 0.39894228040143267794;
// More mothers than that are not tried one number after the other.
constexpr std::int64_t most_tried = 1000;

// What `count` mothers take off the variance of a mean.
double learned_of(const WayKnown& way, std::int64_t count) {
  if (count <= 0 || !(way.variance > 0)) return 0;
  const auto n = static_cast<double>(count);
  return way.variance * n * way.variance / (n * way.variance + way.of_one);
}

}  // namespace

double gain_of_knowing(double difference, double learned) {
  if (!(learned > 0)) return 0;
  const double deviation = std::sqrt(learned);
  const double away = -std::fabs(difference) / deviation;
  const double density = one_by_root_two_pi * std::exp(-away * away / 2);
  return std::max(0.0, deviation * (density + away * normal_chance(away)));
}

Trial trial_of(const WayKnown& usual, const WayKnown& other, std::int64_t mothers, std::int64_t of,
               double future_mothers) {
  const double difference = usual.mean - other.mean;
  const double learned = learned_of(other, mothers) + learned_of(usual, of - mothers);
  return {mothers, static_cast<double>(mothers) * difference, future_mothers * gain_of_knowing(difference, learned)};
}

std::optional<Trial> worth_trying(const WayKnown& usual, const WayKnown& other, std::int64_t mothers,
                                  double future_mothers) {
  std::optional<Trial> best;
  for (std::int64_t count = 1; count < std::min(mothers, most_tried); ++count) {
    const Trial trial = trial_of(usual, other, count, mothers, future_mothers);
    if (trial.worth <= trial.costs) continue;
    if (!best || trial.worth - trial.costs > best->worth - best->costs) best = trial;
  }
  return best;
}

}  // namespace motherbulb

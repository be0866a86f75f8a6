#include "core/science/bulblet_sizes.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>

#include "core/science/normal.hpp"

namespace motherbulb {
namespace {

constexpr double z_sd = 0.35, r_mean = 1, r_sd = 0.4, v_log_sd = 0.3;
const double v_log_mean = std::log(0.4);
constexpr std::array<int, 3> steps = {27, 11, 11};  // of z, r and log v
constexpr double reach = 4.5;                       // spreads to each side
constexpr int most_rounds = 12;

// The chance to lie between two places of a standard normal law, exact far out on either side.
double normal_between(double low, double high) {
  if (low > 0) return normal_chance(-low) - normal_chance(-high);
  return normal_chance(high) - normal_chance(low);
}

struct Interval {
  double log_ratio, low, high;  // logs of the ends of the grade, cm; endless where open
  double count;
};

std::vector<Interval> intervals_of(const std::vector<SizedBulblets>& counted) {
  std::map<std::pair<double, Grade>, double> alike;
  for (const SizedBulblets& one : counted) {
    if (one.grade.sized() && one.count > 0) {
      alike[{one.log_count_ratio, one.grade}] += static_cast<double>(one.count);
    }
  }
  std::vector<Interval> intervals;
  for (const auto& [key, count] : alike) {
    const Grade grade = key.second;
    const double low = grade.low_mm > 0 ? std::log(grade.low_mm / 10.0) : -1e9;
    const double high = grade.high_mm >= 0 ? std::log(std::max(1, grade.high_mm) / 10.0) : 1e9;
    intervals.push_back({key.first, low, high, count});
  }
  return intervals;
}

double mean_of(const BulbletSizes::Point& point, double log_ratio) {
  return point.z - point.r * log_ratio / 3;
}

// The log of prior times likelihood, up to a constant.
double log_density(const BulbletSizes::Point& point, double log_usual, const std::vector<Interval>& intervals) {
  const double z = (point.z - log_usual) / z_sd, r = (point.r - r_mean) / r_sd;
  const double v = (std::log(point.v) - v_log_mean) / v_log_sd;
  double density = -0.5 * (z * z + r * r + v * v);
  for (const Interval& one : intervals) {
    const double mean = mean_of(point, one.log_ratio);
    const double chance = normal_between((one.low - mean) / point.v, (one.high - mean) / point.v);
    density += one.count * std::log(std::max(chance, 1e-300));
  }
  return density;
}

struct Side {
  double middle, half;
  double at(int i, int count) const { return middle + half * (2.0 * i / (count - 1) - 1); }
};

std::vector<BulbletSizes::Point> grid(const std::array<Side, 3>& sides, double log_usual,
                                      const std::vector<Interval>& intervals) {
  std::vector<BulbletSizes::Point> points;
  double greatest = -1e300, all = 0;
  for (int i = 0; i < steps[0]; ++i) {
    for (int j = 0; j < steps[1]; ++j) {
      for (int n = 0; n < steps[2]; ++n) {
        BulbletSizes::Point point{0, sides[0].at(i, steps[0]), sides[1].at(j, steps[1]),
                                  std::exp(sides[2].at(n, steps[2]))};
        point.weight = log_density(point, log_usual, intervals);
        greatest = std::max(greatest, point.weight);
        points.push_back(point);
      }
    }
  }
  for (BulbletSizes::Point& point : points) all += point.weight = std::exp(point.weight - greatest);
  for (BulbletSizes::Point& point : points) point.weight /= all;
  return points;
}

// Around what the points weigh, never less than to the next points: a grid too coarse to tell its spread shrinks on.
std::array<Side, 3> around(const std::vector<BulbletSizes::Point>& points, const std::array<Side, 3>& before) {
  std::array<double, 3> mean{}, square{};
  for (const BulbletSizes::Point& point : points) {
    const std::array<double, 3> at = {point.z, point.r, std::log(point.v)};
    for (std::size_t i = 0; i < 3; ++i) {
      mean[i] += point.weight * at[i];
      square[i] += point.weight * at[i] * at[i];
    }
  }
  std::array<Side, 3> sides{};
  for (std::size_t i = 0; i < 3; ++i) {
    const double next = 2 * before[i].half / (steps[i] - 1);
    const double sd = std::sqrt(std::max(0.0, square[i] - mean[i] * mean[i]));
    sides[i] = {mean[i], std::max(reach * sd, 1.5 * next)};
  }
  return sides;
}

}  // namespace

BulbletSizes bulblet_sizes(double usual_girth_cm, const std::vector<SizedBulblets>& counted) {
  const double log_usual = std::log(usual_girth_cm);
  const std::vector<Interval> intervals = intervals_of(counted);
  std::array<Side, 3> sides = {Side{log_usual, reach * z_sd}, Side{r_mean, reach * r_sd},
                               Side{v_log_mean, reach * v_log_sd}};
  BulbletSizes sizes;
  for (const Interval& one : intervals) sizes.bulblets += one.count;
  for (int round = 0; round < most_rounds; ++round) {
    sizes.points = grid(sides, log_usual, intervals);
    const std::array<Side, 3> better = around(sizes.points, sides);
    bool settled = true;
    for (std::size_t i = 0; i < 3; ++i) {
      settled = settled && better[i].half > 0.9 * sides[i].half && better[i].half < 1.1 * sides[i].half &&
                std::fabs(better[i].middle - sides[i].middle) < 0.1 * sides[i].half;
    }
    if (settled) break;
    sides = better;
  }
  return sizes;
}

double BulbletSizes::girth_cm(double log_count_ratio) const {
  double log_girth = 0;
  for (const Point& point : points) log_girth += point.weight * mean_of(point, log_count_ratio);
  return std::exp(log_girth);
}

double BulbletSizes::share_from(double log_count_ratio, double girth_cm) const {
  if (girth_cm <= 0) return 1;
  double share = 0;
  for (const Point& point : points) {
    if (point.weight < 1e-12) continue;
    share += point.weight * normal_chance((mean_of(point, log_count_ratio) - std::log(girth_cm)) / point.v);
  }
  return std::min(1.0, share);
}

std::vector<double> BulbletSizes::shares(double log_count_ratio, const std::vector<Grade>& grades) const {
  std::vector<double> shares;
  double left = 1;
  for (std::size_t i = 0; i < grades.size(); ++i) {
    const bool last = i + 1 == grades.size();
    const double beyond =
        last ? 0.0 : std::min(left, share_from(log_count_ratio, std::max(0, grades[i + 1].low_mm) / 10.0));
    shares.push_back(left - beyond);
    left = beyond;
  }
  return shares;
}

}  // namespace motherbulb

#include "core/science/growth_classes.hpp"

#include <algorithm>
#include <cmath>

#include "core/science/normal.hpp"

namespace motherbulb {
namespace {

constexpr double usual_width_cm = 2;

double low_cm(const std::vector<Grade>& grades, std::size_t which) {
  return std::max(0, grades[which].low_mm) / 10.0;
}

double high_cm(const std::vector<Grade>& grades, std::size_t which) {
  const double low = low_cm(grades, which);
  // A class from 0 to 0, as bounds of the grower's that begin with 0 make one, still has a middle.
  if (grades[which].high_mm >= 0) return std::max(low + 0.1, grades[which].high_mm / 10.0);
  const double width = which > 0 ? low - low_cm(grades, which - 1) : usual_width_cm;
  return low + (width > 0 ? width : usual_width_cm);
}

// The integral from 0 to u of the chance that v e exceeds a, over v; log e ~ Normal(0, spread). By parts.
double chance_integral(double u, double a, double spread) {
  if (u <= 0) return 0;
  const double z = std::log(u / a) / spread;
  return u * normal_chance(z) - a * std::exp(spread * spread / 2) * normal_chance(z - spread);
}

// The part of the bulbs of girths `low` to `high` that is smaller than `girth` after a season.
double part_below(const StartingGrowth& growth, double low, double high, double girth) {
  const double full = growth.full_girth_cm;
  double below = 0;
  if (low < full) {
    const double end = std::min(high, full);
    if (girth >= full) {
      below += end - low;
    } else {
      const double left = std::exp(-growth.approach);  // of the way to the full girth
      below += (chance_integral((full - low) * left, full - girth, growth.spread) -
                chance_integral((full - end) * left, full - girth, growth.spread)) /
               left;
    }
  }
  if (high > full) {
    const double begin = std::max(low, full);
    below += std::clamp(girth - begin, 0.0, high - begin);
  }
  return std::clamp(below / (high - low), 0.0, 1.0);
}

// Chances by class from the chance to be below each class's lower end.
template <class Below>
std::vector<double> by_class(const std::vector<Grade>& grades, Below below) {
  std::vector<double> shares(grades.size(), 0.0);
  double before = 0;
  for (std::size_t i = 0; i < grades.size(); ++i) {
    const double until = i + 1 == grades.size() ? 1.0 : std::max(before, below(low_cm(grades, i + 1)));
    shares[i] = until - before;
    before = until;
  }
  return shares;
}

}  // namespace

std::vector<double> growth_from_start(const StartingGrowth& growth, const std::vector<Grade>& grades,
                                      std::size_t from) {
  const double low = low_cm(grades, from), high = high_cm(grades, from);
  return by_class(grades, [&](double girth) { return part_below(growth, low, high, girth); });
}

std::size_t class_of(const std::vector<Grade>& grades, Grade grade) {
  if (!grade.sized()) return 0;
  const std::int32_t low = std::max(0, grade.low_mm);
  const std::int32_t twice_middle = grade.high_mm < 0 ? 2 * low : low + grade.high_mm;
  std::size_t found = 0;
  for (std::size_t i = 1; i < grades.size(); ++i) {
    if (2 * grades[i].low_mm <= twice_middle) found = i;
  }
  return found;
}

std::vector<double> sizes_around(double median_cm, double spread, const std::vector<Grade>& grades) {
  return by_class(grades, [&](double girth) {
    if (girth <= 0) return 0.0;
    if (median_cm <= 0) return 1.0;
    return normal_chance(std::log(girth / median_cm) / spread);
  });
}

double middle_cm(const std::vector<Grade>& grades, std::size_t which) {
  return (low_cm(grades, which) + high_cm(grades, which)) / 2;
}

std::string name_of_class(Grade grade) {
  return grade.sized() ? to_text(grade) : "any size";
}

}  // namespace motherbulb

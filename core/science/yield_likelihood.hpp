// The chance of what pots gave, for given values of the law of yields (yields.hpp). Pots of one clone, k and c count
// together, but for a term of f alone: with size s f the sections of a pot cancel from what tells m.
#pragma once

#include <array>
#include <vector>

#include "core/science/yields.hpp"

namespace motherbulb {

struct YieldValues {
  double u = 0, b = 0, d = 0, log_f = 0, t = 0;
  // log m of a clone of h = 0, by log(k/8) and log(c/26).
  double log_mean(double log_sections, double log_girth) const { return u + b * log_sections + d * log_girth; }
};

// Pots of one clone cut alike.
struct YieldCell {
  double log_sections = 0, log_girth = 0;  // log(k/8), log(c/26)
  double log_k = 0;
  double bulblets = 0, sections = 0;  // sums
};
using CloneCells = std::vector<YieldCell>;

double log_sections_of(std::int32_t k);  // log(k/8)
double log_girth_of(double c);           // log(c/26)

// A clone's h, its pots given, at equidistant points of a line.
class CloneLine {
public:
  // `step` in units of the spread at the peak; `shift` 0 to 1 moves the points by so much of a step. Points are added
  // on both sides until the rest weighs nothing.
  void lay(const CloneCells& cells, const YieldValues& values, double step, double shift);

  double log_integral = 0;  // of Normal(h; 0, t²) times the chances of the pots
  double first = 0, step = 0;
  std::size_t count = 0;
  const double* weights() const { return weights_.data(); }  // sum to 1
  double mean = 0, mean_square = 0, mean_exp = 0;            // of h, h² and exp(h)

private:
  static constexpr std::size_t side = 64;
  double peak(const CloneCells& cells, double f, double precision, double& spread);
  double log_density(double h, double exp_h, double precision) const;
  void sum_up();

  std::vector<double> odds_;   // m/k f of each cell at h = 0
  std::vector<double> tries_;  // bulblets + sections f
  double bulblets_ = 0;        // of all cells
  double constant_ = 0;
  std::array<double, 2 * side + 1> weights_{};
};

// The term of f alone, the sum over pots of log(Γ(y + s f) / Γ(s f)), as a polynomial in log f.
class DispersionTerm {
public:
  DispersionTerm(const std::vector<YieldPot>& pots, const NormalPrior& log_f);
  double at(double log_f) const;

private:
  double middle_, half_;
  std::vector<double> values_;  // at Chebyshev's points
};

}  // namespace motherbulb

// Chances of log m and log f, gathered point by point (yields.hpp): means, quantiles, and what the next mother gives.
#pragma once

#include <cstdint>
#include <vector>

#include "core/science/yields.hpp"

namespace motherbulb {

// A line of equal bins; what falls between two bin centres is shared between them.
struct YieldBins {
  double first = 0, width = 1;  // centre of the first bin, distance to the next
  std::size_t count = 1;
  double sd = 1;  // in bins
  static YieldBins around(double mean, double sd, double reach, std::size_t count);
};

class YieldTally {
public:
  YieldTally(const YieldBins& log_means, const YieldBins& log_fs);

  // Adds `weight` at log m = level + h for each point of a clone's line, all with this f.
  void add(double weight, double log_f, double level, double first, double step, std::size_t count,
           const double* weights);
  double mean_quantile(double part) const;  // of m
  // p5 and p95 of the next mother's bulblets.
  void next_mother(std::int32_t k, YieldRange& range) const;

private:
  struct Mixed {
    double weight, mean, size;
  };
  std::vector<Mixed> mixture(std::int32_t k, std::size_t together) const;

  YieldBins log_means_, log_fs_;
  std::vector<double> bins_;  // by f, then by m
};

}  // namespace motherbulb

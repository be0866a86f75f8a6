// Draws of whole bulbs by their exact laws: how many of n survive, how many n parents bear.
//
// Sums over many bulbs are drawn by the law of the sum, never bulb by bulb. Small means go by inversion from tables
// made once, large ones by Boost.Random, whose algorithms are the same on every system. Every draw takes its
// numbers from the stream it is handed.
#pragma once

#include <cstdint>
#include <vector>

#include "core/science/model.hpp"
#include "core/science/philox.hpp"

namespace motherbulb {

// Of n, each by itself with the same chance.
class BinomialDraw {
public:
  explicit BinomialDraw(double chance);
  std::int64_t operator()(std::int64_t n, PhiloxStream& stream) const;

private:
  bool turned_;  // the rarer of the two outcomes is counted
  double rarer_, odds_;
  double log_none_;           // of one
  std::vector<double> none_;  // the chance that none of n = 0, 1, ... is of the rarer sort
};

// New bulbs of n parents with the same mean: Poisson, or negative binomial of mean n * mean and size n * dispersion.
class IncreaseDraw {
public:
  // Without a dispersion: Poisson.
  IncreaseDraw(double mean, IncreaseLaw law, double dispersion);
  std::int64_t operator()(std::int64_t parents, PhiloxStream& stream) const;

private:
  std::int64_t by_inversion(std::int64_t parents, PhiloxStream& stream) const;

  double mean_;
  bool spread_;        // negative binomial
  double dispersion_;  // size for one parent
  double log_none_;    // of one parent
  double ratio_;       // mean / (mean + dispersion)
  std::vector<double> none_;
};

// The year that a season is, by the chances of the model's years; one of chance 0 is never drawn.
class YearDraw {
public:
  explicit YearDraw(const Model& model);
  std::size_t operator()(PhiloxStream& stream) const;
  bool one_year() const { return up_to_.size() == 1; }

private:
  std::vector<double> up_to_;  // cumulated chances
  std::size_t last_ = 0;       // of those that are ever drawn
};

// The share of the stock that stands in places which bad events strike in a season: each place on its own.
class StrikeDraw {
public:
  explicit StrikeDraw(const Model& model);
  double operator()(PhiloxStream& stream) const;
  double takes() const { return takes_; }  // of a bulb in a struck place

private:
  std::vector<double> places_;  // none where no bad event takes anything
  double chance_ = 0, takes_ = 0;
};

// n bulbs with a chance that is no other's: by the same laws, without tables.
std::int64_t draw_binomial(std::int64_t n, double chance, PhiloxStream& stream);

}  // namespace motherbulb

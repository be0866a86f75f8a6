#include "core/science/perron.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace motherbulb {
namespace {

constexpr double minus_infinity = -std::numeric_limits<double>::infinity();
constexpr int most_iterations = 200;
constexpr double least_part = 1e-280;  // of a vector in doubles; true small parts come with the long numbers

// Logarithms to base 2 of a block's cells.
Table<double> logs_of(const Square& matrix, const std::vector<std::size_t>& block) {
  Table<double> logs(block.size());
  for (std::size_t to = 0; to < block.size(); ++to) {
    for (std::size_t from = 0; from < block.size(); ++from) {
      logs.at(to, from) = std::log2(matrix.at(block[to], block[from]));
    }
  }
  return logs;
}

// The mean logarithm along the heaviest way round: the Perron root lies between it and it times the size of the block.
// Source: Karp, "A characterization of the minimum cycle mean in a digraph" (1978).
double heaviest_round(const Table<double>& logs) {
  const std::size_t n = logs.size;
  std::vector<std::vector<double>> best(n + 1, std::vector<double>(n, minus_infinity));
  best[0][0] = 0;
  for (std::size_t steps = 0; steps < n; ++steps) {
    for (std::size_t to = 0; to < n; ++to) {
      for (std::size_t from = 0; from < n; ++from) {
        best[steps + 1][to] = std::max(best[steps + 1][to], best[steps][from] + logs.at(to, from));
      }
    }
  }
  double heaviest = minus_infinity;
  for (std::size_t at = 0; at < n; ++at) {
    if (best[n][at] == minus_infinity) continue;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t steps = 0; steps < n; ++steps) {
      if (best[steps][at] == minus_infinity) continue;
      least = std::min(least, (best[n][at] - best[steps][at]) / static_cast<double>(n - steps));
    }
    heaviest = std::max(heaviest, least);
  }
  return heaviest;
}

// Weights of the classes that make no cell greater than the heaviest way round: the heaviest way to each of them.
std::vector<double> heaviest_ways(const Table<double>& logs, double mean) {
  std::vector<double> ways(logs.size, minus_infinity);
  ways[0] = 0;
  for (std::size_t round = 0; round < logs.size; ++round) {
    for (std::size_t to = 0; to < logs.size; ++to) {
      for (std::size_t from = 0; from < logs.size; ++from) {
        ways[to] = std::max(ways[to], ways[from] + logs.at(to, from) - mean);
      }
    }
  }
  return ways;
}

// Solves M w = wanted, where M has minus `off` beside its diagonal and rows that sum to `slack`, all of them 0 or more:
// elimination that only adds. Source: Grassmann, Taksar & Heyman (1985); for rows that do not sum to 0, Alfa, Xue & Ye,
// "Accurate computation of the smallest eigenvalue of a diagonally dominant M-matrix" (2002).
template <class Real>
std::vector<Real> solved(Table<Real> off, std::vector<Real> slack, std::vector<Real> wanted) {
  const std::size_t n = off.size;
  std::vector<Real> diagonal(n, Real(0));
  for (std::size_t k = 0; k < n; ++k) {
    diagonal[k] = slack[k];
    for (std::size_t j = k + 1; j < n; ++j) diagonal[k] += off.at(k, j);
    for (std::size_t i = k + 1; i < n; ++i) {
      if (off.at(i, k) == 0) continue;
      const Real part = off.at(i, k) / diagonal[k];
      for (std::size_t j = k + 1; j < n; ++j) {
        if (j != i && off.at(k, j) != 0) off.at(i, j) += part * off.at(k, j);
      }
      slack[i] += part * slack[k];
      wanted[i] += part * wanted[k];
    }
  }
  for (std::size_t k = n; k-- > 0;) {
    for (std::size_t j = k + 1; j < n; ++j) wanted[k] += off.at(k, j) * wanted[j];
    wanted[k] /= diagonal[k];
  }
  return wanted;
}

// The columns of a table weighed by a vector: what is beside the diagonal of (rate - cells) · diag(vector).
template <class Real>
Table<Real> weighed(const Table<Real>& cells, const std::vector<Real>& vector) {
  Table<Real> made(cells.size);
  for (std::size_t to = 0; to < cells.size; ++to) {
    for (std::size_t from = 0; from < cells.size; ++from) {
      if (cells.at(to, from) != 0) made.at(to, from) = cells.at(to, from) * vector[from];
    }
  }
  return made;
}

template <class Real>
void make_greatest_one(std::vector<Real>& vector) {
  const Real greatest = *std::max_element(vector.begin(), vector.end());
  for (Real& part : vector) part /= greatest;
}

// Makes of any positive vector the Perron vector, and gives the root. Source: Noda, "Note on the computation of the
// maximal eigenvalue of a non-negative irreducible matrix" (1971): the bound from above (Collatz & Wielandt) falls, and
// in the end doubles its digits each time.
template <class Real>
Real settle(const Table<Real>& cells, std::vector<Real>& vector, const Real& tolerance, const Real& least) {
  Real bound = 0, gap = 0;
  for (int iteration = 0; iteration < most_iterations; ++iteration) {
    const Table<Real> off = weighed(cells, vector);
    std::vector<Real> image(cells.size, Real(0));
    Real above = 0, below = 0;
    for (std::size_t to = 0; to < cells.size; ++to) {
      for (std::size_t from = 0; from < cells.size; ++from) image[to] += off.at(to, from);
      const Real ratio = image[to] / vector[to];
      above = to == 0 ? ratio : std::max(above, ratio);
      below = to == 0 ? ratio : std::min(below, ratio);
    }
    // Rounding ends it where neither falls any more. The bound may have come to rest while small parts have not.
    if (iteration > 0 && above >= bound && above - below >= gap) return bound;
    bound = above;
    gap = above - below;
    if (gap <= tolerance * above) return bound;
    std::vector<Real> slack(cells.size);
    for (std::size_t at = 0; at < cells.size; ++at) {
      slack[at] = std::max(Real(above * vector[at] - image[at]), Real(0));
    }
    if (*std::max_element(slack.begin(), slack.end()) == 0) return bound;
    const std::vector<Real> factors = solved(off, slack, vector);
    std::vector<Real> next(cells.size);
    for (std::size_t at = 0; at < cells.size; ++at) next[at] = vector[at] * factors[at];
    make_greatest_one(next);
    for (Real& part : next) part = std::max(part, least);
    vector = std::move(next);
  }
  return bound;
}

Table<double> in_doubles(const Table<LongNumber>& cells) {
  Table<double> made(cells.size);
  for (std::size_t at = 0; at < cells.cells.size(); ++at) {
    if (cells.cells[at] != 0) made.cells[at] = std::max(static_cast<double>(cells.cells[at]), least_part);
  }
  return made;
}

double settle_in_doubles(const Table<double>& cells, std::vector<double>& vector) {
  vector.assign(cells.size, 1.0);
  return settle(cells, vector, std::numeric_limits<double>::epsilon(), least_part);
}

LongNumber settled(const Table<LongNumber>& cells, std::vector<LongNumber>& vector) {
  std::vector<double> near;
  settle_in_doubles(in_doubles(cells), near);
  vector.assign(near.begin(), near.end());
  return settle(cells, vector, LongNumber("1e-60"), LongNumber(0));
}

Table<LongNumber> transposed(const Table<LongNumber>& cells) {
  Table<LongNumber> made(cells.size);
  for (std::size_t to = 0; to < cells.size; ++to) {
    for (std::size_t from = 0; from < cells.size; ++from) made.at(from, to) = cells.at(to, from);
  }
  return made;
}

}  // namespace

PerronBlock balanced_block(const Square& matrix, const std::vector<std::size_t>& block) {
  PerronBlock made;
  made.classes = block;
  const std::size_t n = block.size();
  made.cells = Table<LongNumber>(n);
  made.lift.assign(n, 0);
  const Table<double> logs = logs_of(matrix, block);
  const double mean = heaviest_round(logs);
  if (mean == minus_infinity) return made;  // one class that does not lead to itself
  made.unit = static_cast<int>(std::lround(mean));
  const std::vector<double> ways = heaviest_ways(logs, mean);
  for (std::size_t at = 0; at < n; ++at) made.lift[at] = static_cast<int>(std::lround(ways[at]));
  for (std::size_t to = 0; to < n; ++to) {
    for (std::size_t from = 0; from < n; ++from) {
      const double cell = matrix.at(block[to], block[from]);
      if (cell > 0) {
        made.cells.at(to, from) = ldexp(LongNumber(cell), made.lift[from] - made.lift[to] - made.unit);
      }
    }
  }
  return made;
}

PerronBlock perron_block(const Square& matrix, const std::vector<std::size_t>& block) {
  PerronBlock made = balanced_block(matrix, block);
  if (block.size() == 1) {
    made.rate = matrix.at(block[0], block[0]);
    made.right = made.left = {LongNumber(1)};
    return made;
  }
  made.rate = ldexp(settled(made.cells, made.right), made.unit);
  settled(transposed(made.cells), made.left);
  return made;
}

PerronBlock turned(const PerronBlock& block) {
  PerronBlock made = block;
  made.cells = transposed(block.cells);
  for (int& lift : made.lift) lift = -lift;
  std::swap(made.right, made.left);
  return made;
}

std::vector<LongNumber> flow_through(const PerronBlock& block, const LongNumber& rate,
                                     const std::vector<LongNumber>& inflow) {
  const std::size_t n = block.classes.size();
  std::vector<LongNumber> slack(n), wanted(n);
  for (std::size_t at = 0; at < n; ++at) {
    slack[at] = ldexp(LongNumber(rate - block.rate), -block.unit) * block.right[at];
    wanted[at] = ldexp(inflow[at], -block.lift[at] - block.unit);
  }
  std::vector<LongNumber> stands = solved(weighed(block.cells, block.right), std::move(slack), std::move(wanted));
  for (std::size_t at = 0; at < n; ++at) stands[at] = ldexp(LongNumber(stands[at] * block.right[at]), block.lift[at]);
  return stands;
}

double perron_root(const Square& matrix, const std::vector<std::size_t>& block) {
  if (block.size() == 1) return matrix.at(block[0], block[0]);
  const PerronBlock made = balanced_block(matrix, block);
  std::vector<double> vector;
  return std::ldexp(settle_in_doubles(in_doubles(made.cells), vector), made.unit);
}

}  // namespace motherbulb

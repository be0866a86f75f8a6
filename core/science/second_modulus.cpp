#include "core/science/second_modulus.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <boost/multiprecision/eigen.hpp>
#include <cmath>
#include <cstdint>
#include <functional>
#include <limits>

namespace motherbulb {
namespace {

constexpr std::size_t most_classes_in_long_numbers = 48;
constexpr double may_be_zero = 1e-3;  // of the Perron root: below it a modulus has to prove that it is not 0
constexpr double last_places = 8 * 0x1.0p-52;
constexpr int iterations_a_class = 400;

// ---------------------------------------------------------------- exact zeros, by arithmetic in remainders of a prime

// Products of two remainders fit 64 bits. Two primes, so that a number that one divides by chance is seen by the other.
constexpr std::array<std::uint64_t, 2> primes = {2'147'483'647, 2'147'483'629};

std::uint64_t power(std::uint64_t base, std::uint64_t exponent, std::uint64_t prime) {
  std::uint64_t made = 1;
  for (; exponent > 0; exponent >>= 1) {
    if (exponent & 1) made = made * base % prime;
    base = base * base % prime;
  }
  return made;
}

std::uint64_t inverse(std::uint64_t number, std::uint64_t prime) {
  return power(number, prime - 2, prime);
}

// A double is a whole number times a power of two, and so has a remainder.
std::uint64_t remainder_of(double number, std::uint64_t prime) {
  int exponent = 0;
  const double fraction = std::frexp(number, &exponent);
  const auto whole = static_cast<std::uint64_t>(std::ldexp(fraction, 53));
  exponent -= 53;
  const std::uint64_t two = exponent < 0 ? inverse(2, prime) : 2;
  return whole % prime * power(two, static_cast<std::uint64_t>(std::abs(exponent)), prime) % prime;
}

using Remainders = Table<std::uint64_t>;

Remainders squared(const Remainders& table, std::uint64_t prime) {
  Remainders made(table.size);
  for (std::size_t to = 0; to < table.size; ++to) {
    for (std::size_t by = 0; by < table.size; ++by) {
      if (table.at(to, by) == 0) continue;
      for (std::size_t from = 0; from < table.size; ++from) {
        made.at(to, from) = (made.at(to, from) + table.at(to, by) * table.at(by, from)) % prime;
      }
    }
  }
  return made;
}

std::size_t rank_of(Remainders table, std::uint64_t prime) {
  std::size_t rank = 0;
  const std::size_t n = table.size;
  for (std::size_t column = 0; column < n; ++column) {
    std::size_t pivot = rank;
    while (pivot < n && table.at(pivot, column) == 0) ++pivot;
    if (pivot == n) continue;
    for (std::size_t j = 0; j < n; ++j) std::swap(table.at(pivot, j), table.at(rank, j));
    const std::uint64_t scale = inverse(table.at(rank, column), prime);
    for (std::size_t i = rank + 1; i < n; ++i) {
      const std::uint64_t part = table.at(i, column) * scale % prime;
      if (part == 0) continue;
      for (std::size_t j = column; j < n; ++j) {
        table.at(i, j) = (table.at(i, j) + (prime - part) * table.at(rank, j)) % prime;
      }
    }
    ++rank;
  }
  return rank;
}

// ------------------------------------------------------------------------------------------------ the eigenvalues

constexpr double even_enough = 0.25;        // powers of two
constexpr std::size_t most_rounds = 4'000;  // a ring of n evens out in some n² rounds

// Scaled so that the greatest cell into each class is as great as the greatest out of it. A block in which the heaviest
// way round is one class may have its imbalance gathered in one tiny cell; an eigenvalue solver takes that for 0.
// Source: Osborne, "On pre-conditioning of matrices" (1960); Schneider & Schneider, "Max-balancing weighted directed
// graphs" (1991).
Table<LongNumber> evened(Table<LongNumber> cells) {
  const std::size_t n = cells.size;
  Table<double> logs(n);
  for (std::size_t at = 0; at < n * n; ++at) {
    logs.cells[at] = -std::numeric_limits<double>::infinity();
    if (cells.cells[at] > 0) {
      int exponent = 0;
      const double fraction = static_cast<double>(frexp(cells.cells[at], &exponent));
      logs.cells[at] = exponent + std::log2(fraction);
    }
  }
  std::vector<double> lift(n, 0.0);
  double greatest_change = even_enough;
  for (std::size_t round = 0; round < most_rounds && greatest_change >= even_enough / static_cast<double>(n); ++round) {
    greatest_change = 0;
    for (std::size_t at = 0; at < n; ++at) {
      double into = -std::numeric_limits<double>::infinity(), out = into;
      for (std::size_t other = 0; other < n; ++other) {
        if (other == at) continue;
        into = std::max(into, logs.at(at, other) + lift[other] - lift[at]);
        out = std::max(out, logs.at(other, at) + lift[at] - lift[other]);
      }
      lift[at] += (into - out) / 2;
      greatest_change = std::max(greatest_change, std::abs(into - out) / 2);
    }
  }
  for (double& one : lift) one = std::round(one);
  for (std::size_t to = 0; to < n; ++to) {
    for (std::size_t from = 0; from < n; ++from) {
      cells.at(to, from) = ldexp(cells.at(to, from), static_cast<int>(lift[from] - lift[to]));
    }
  }
  return cells;
}

// Moduli of all eigenvalues, greatest first, off the real Schur form. Empty where it does not settle.
template <class Real>
std::vector<Real> moduli_of(const Table<Real>& cells) {
  using Matrix = Eigen::Matrix<Real, Eigen::Dynamic, Eigen::Dynamic>;
  using std::abs;
  using std::sqrt;
  const auto n = static_cast<Eigen::Index>(cells.size);
  Matrix matrix(n, n);
  for (Eigen::Index to = 0; to < n; ++to) {
    for (Eigen::Index from = 0; from < n; ++from) {
      matrix(to, from) = cells.at(static_cast<std::size_t>(to), static_cast<std::size_t>(from));
    }
  }
  Eigen::RealSchur<Matrix> schur(n);
  schur.setMaxIterations(n * iterations_a_class);
  schur.compute(matrix, false);
  if (schur.info() != Eigen::Success) return {};
  const Matrix& form = schur.matrixT();
  std::vector<Real> moduli;
  for (Eigen::Index at = 0; at < n; ++at) {
    if (at + 1 < n && form(at + 1, at) != 0) {
      const Real pair = form(at, at) * form(at + 1, at + 1) - form(at, at + 1) * form(at + 1, at);
      moduli.insert(moduli.end(), 2, Real(sqrt(Real(abs(pair)))));
      ++at;
    } else {
      moduli.push_back(Real(abs(form(at, at))));
    }
  }
  std::sort(moduli.begin(), moduli.end(), std::greater<Real>());
  return moduli;
}

// The second of a balanced table.
LongNumber second_of(const Table<LongNumber>& cells) {
  if (cells.size <= most_classes_in_long_numbers) {
    const std::vector<LongNumber> moduli = moduli_of(cells);
    return moduli.empty() ? LongNumber(0) : moduli[1];
  }
  Table<double> rounded(cells.size);
  for (std::size_t at = 0; at < cells.cells.size(); ++at) rounded.cells[at] = static_cast<double>(cells.cells[at]);
  const std::vector<double> moduli = moduli_of(rounded);
  return moduli.empty() ? LongNumber(0) : LongNumber(moduli[1]);
}

// Every cell a few last places up or down, in a pattern that no structure follows.
Table<LongNumber> shaken(Table<LongNumber> cells) {
  std::uint32_t pattern = 1;
  for (LongNumber& cell : cells.cells) {
    pattern = pattern * 1'664'525u + 1'013'904'223u;
    cell *= (pattern >> 31) != 0 ? 1 + last_places : 1 - last_places;
  }
  return cells;
}

}  // namespace

std::size_t zero_eigenvalues(const Square& matrix, const std::vector<std::size_t>& block) {
  // As many as the rank falls short of the size in the limit of powers; remainders can only lower a rank.
  std::size_t rank = 0;
  for (const std::uint64_t prime : primes) {
    Remainders table(block.size());
    for (std::size_t to = 0; to < block.size(); ++to) {
      for (std::size_t from = 0; from < block.size(); ++from) {
        table.at(to, from) = remainder_of(matrix.at(block[to], block[from]), prime);
      }
    }
    for (std::size_t exponent = 1; exponent < block.size(); exponent *= 2) table = squared(table, prime);
    rank = std::max(rank, rank_of(table, prime));
  }
  return block.size() - rank;
}

LongNumber second_modulus(const PerronBlock& block, const Square& matrix) {
  if (zero_eigenvalues(matrix, block.classes) + 1 >= block.classes.size()) return 0;
  const Table<LongNumber> cells = evened(block.cells);
  const LongNumber second = second_of(cells);
  const LongNumber root = ldexp(block.rate, -block.unit);
  if (second < may_be_zero * root) {
    const LongNumber otherwise = second_of(shaken(cells));
    if (abs(LongNumber(otherwise - second)) > second / 2) return 0;
  }
  return ldexp(second, block.unit);
}

}  // namespace motherbulb

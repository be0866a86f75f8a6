// The Perron root and vectors of one block of classes, and what flows through a block that is slower than a given rate.
// All sums here are of numbers of 0 or more: nothing cancels, so small figures are as true as great ones.
#pragma once

#include <boost/multiprecision/cpp_bin_float.hpp>
#include <cstddef>
#include <vector>

#include "core/science/model.hpp"

namespace motherbulb {

// A hundred digits, and exponents that no product of chances leaves.
using LongNumber =
    boost::multiprecision::number<boost::multiprecision::cpp_bin_float<100>, boost::multiprecision::et_off>;

// A square table in any numbers: at(to, from).
template <class Real>
struct Table {
  std::size_t size = 0;
  std::vector<Real> cells;

  explicit Table(std::size_t k) : size(k), cells(k * k, Real(0)) {}
  Real& at(std::size_t to, std::size_t from) { return cells[to * size + from]; }
  const Real& at(std::size_t to, std::size_t from) const { return cells[to * size + from]; }
};

// A block in balance: its cells are the matrix's times 2^(lift[from] - lift[to] - unit), none of them above 4 and the
// heaviest way round near 1. A balanced vector to the right is the true one times 2^-lift, one to the left times
// 2^lift.
struct PerronBlock {
  std::vector<std::size_t> classes;
  std::vector<int> lift;
  int unit = 0;
  Table<LongNumber> cells{0};
  LongNumber rate = 0;                  // the true one; 0 only for a class that does not lead to itself
  std::vector<LongNumber> right, left;  // balanced, all positive, the greatest 1
};

// `block` as class_blocks finds it; in balance, without rate and vectors.
PerronBlock balanced_block(const Square& matrix, const std::vector<std::size_t>& block);

PerronBlock perron_block(const Square& matrix, const std::vector<std::size_t>& block);

// The same block seen against the flow: to and from exchanged.
PerronBlock turned(const PerronBlock& block);

// (rate - block)^-1 · inflow, in true numbers, of a block whose own rate is less than `rate`; inflow of 0 or more.
std::vector<LongNumber> flow_through(const PerronBlock& block, const LongNumber& rate,
                                     const std::vector<LongNumber>& inflow);

// The Perron root alone, in doubles.
double perron_root(const Square& matrix, const std::vector<std::size_t>& block);

}  // namespace motherbulb

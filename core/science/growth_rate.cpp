#include "core/science/growth_rate.hpp"

#include <algorithm>
#include <limits>
#include <numeric>

#include "core/science/class_blocks.hpp"
#include "core/science/perron.hpp"
#include "core/science/second_modulus.hpp"

namespace motherbulb {
namespace {

constexpr double one_rate = 32 * std::numeric_limits<double>::epsilon();  // closer rates are the same

double in_double(const LongNumber& number) {
  if (number >= std::numeric_limits<double>::max()) return std::numeric_limits<double>::max();
  return static_cast<double>(number);
}

// The blocks of the reached classes, in the order in which bulbs flow through them.
struct Flow {
  Square matrix;
  std::vector<PerronBlock> blocks;
  std::vector<bool> carries;  // the rate, of each block
  LongNumber rate = 0;
};

Flow flow_of(const Square& matrix, const std::vector<bool>& among) {
  Flow flow{matrix, {}, {}, 0};
  for (const auto& block : class_blocks(matrix, among)) {
    flow.blocks.push_back(perron_block(matrix, block));
    flow.rate = std::max(flow.rate, flow.blocks.back().rate);
  }
  for (const PerronBlock& block : flow.blocks) flow.carries.push_back(block.rate >= flow.rate * (1 - one_rate));
  return flow;
}

// Against the flow: rows and columns exchanged.
Flow turned(const Flow& flow) {
  Flow made{flow.matrix, {}, {flow.carries.rbegin(), flow.carries.rend()}, flow.rate};
  for (std::size_t to = 0; to < made.matrix.size; ++to) {
    for (std::size_t from = 0; from < made.matrix.size; ++from) made.matrix.at(from, to) = flow.matrix.at(to, from);
  }
  for (auto block = flow.blocks.rbegin(); block != flow.blocks.rend(); ++block) made.blocks.push_back(turned(*block));
  return made;
}

// Adds to `inflow` what a block that stands so sends to other classes in a season.
void send_on(const Square& matrix, const PerronBlock& block, const std::vector<LongNumber>& stands,
             std::vector<LongNumber>& inflow) {
  std::vector<bool> inside(matrix.size, false);
  for (const std::size_t at : block.classes) inside[at] = true;
  for (std::size_t to = 0; to < matrix.size; ++to) {
    if (inside[to]) continue;
    for (std::size_t i = 0; i < block.classes.size(); ++i) {
      if (const double cell = matrix.at(to, block.classes[i]); cell > 0) inflow[to] += cell * stands[i];
    }
  }
}

// How many blocks that carry the rate lie on the longest way to each block, itself among them.
std::vector<std::size_t> depths_of(const Flow& flow) {
  std::vector<std::size_t> depths(flow.blocks.size(), 0);
  for (std::size_t b = 0; b < flow.blocks.size(); ++b) {
    if (flow.carries[b]) ++depths[b];
    std::vector<LongNumber> sent(flow.matrix.size, LongNumber(0));
    send_on(flow.matrix, flow.blocks[b], std::vector<LongNumber>(flow.blocks[b].classes.size(), LongNumber(1)), sent);
    for (std::size_t after = b + 1; after < flow.blocks.size(); ++after) {
      for (const std::size_t at : flow.blocks[after].classes) {
        if (sent[at] > 0) depths[after] = std::max(depths[after], depths[b]);
      }
    }
  }
  return depths;
}

// What stands, in the long run, where a block that carries the rate has this share of its Perron vector.
std::vector<LongNumber> true_right(const PerronBlock& block, const LongNumber& share) {
  std::vector<LongNumber> stands;
  for (std::size_t i = 0; i < block.classes.size(); ++i) {
    stands.push_back(ldexp(LongNumber(share * block.right[i]), block.lift[i]));
  }
  return stands;
}

// The share of its Perron vector that an inflow ends as.
LongNumber share_of(const PerronBlock& block, const std::vector<LongNumber>& inflow) {
  LongNumber caught = 0, whole = 0;
  for (std::size_t i = 0; i < block.classes.size(); ++i) {
    caught += block.left[i] * ldexp(inflow[block.classes[i]], -block.lift[i]);
    whole += block.left[i] * block.right[i];
  }
  return caught / whole;
}

// What A^t makes of `seed` for great t, but for its length. Along a chain of m blocks that carry the rate it grows as
// t^(m-1) · rate^t, so only the ends of the longest chains are left, and what they feed; a chain's weight is the
// product of what each block catches from the one before. Source: Rothblum, "Algebraic eigenspaces of nonnegative
// matrices" (1975).
std::vector<LongNumber> long_run(const Flow& flow, std::vector<LongNumber> seed) {
  const std::vector<std::size_t> depths = depths_of(flow);
  const std::size_t deepest = *std::max_element(depths.begin(), depths.end());
  std::vector<LongNumber> result(flow.matrix.size, LongNumber(0));
  for (std::size_t depth = 1; depth <= deepest + 1; ++depth) {
    std::vector<LongNumber> inflow = std::move(seed);
    seed.assign(flow.matrix.size, LongNumber(0));
    for (std::size_t b = 0; b < flow.blocks.size(); ++b) {
      const PerronBlock& block = flow.blocks[b];
      if (flow.carries[b]) {
        if (depths[b] != depth) continue;
        const std::vector<LongNumber> stands = true_right(block, share_of(block, inflow));
        send_on(flow.matrix, block, stands, seed);
        if (depth != deepest) continue;
        for (std::size_t i = 0; i < stands.size(); ++i) result[block.classes[i]] = stands[i];
      } else {
        std::vector<LongNumber> into;
        for (const std::size_t at : block.classes) into.push_back(inflow[at]);
        const std::vector<LongNumber> stands = flow_through(block, flow.rate, into);
        send_on(flow.matrix, block, stands, inflow);
        if (depth != deepest + 1) continue;
        for (std::size_t i = 0; i < stands.size(); ++i) result[block.classes[i]] = stands[i];
      }
    }
  }
  return result;
}

std::vector<double> in_doubles(const std::vector<LongNumber>& numbers, const LongNumber& unit) {
  std::vector<double> made;
  for (const LongNumber& number : numbers) made.push_back(in_double(number / unit));
  return made;
}

std::vector<double> stable_of(const Flow& flow, const std::vector<bool>& starts_in) {
  std::vector<LongNumber> seed;
  for (const bool starts : starts_in) seed.emplace_back(starts ? 1 : 0);
  const std::vector<LongNumber> stands = long_run(flow, std::move(seed));
  return in_doubles(stands, std::accumulate(stands.begin(), stands.end(), LongNumber(0)));
}

std::vector<double> reproductive_value_of(const Flow& flow, const std::vector<bool>& reached) {
  std::vector<LongNumber> seed;
  for (const bool in : reached) seed.emplace_back(in ? 1 : 0);
  const std::vector<LongNumber> worth = long_run(turned(flow), std::move(seed));
  return in_doubles(worth, *std::find_if(worth.begin(), worth.end(), [](const LongNumber& one) { return one > 0; }));
}

Square elasticity_of(const PerronBlock& block, std::size_t size) {
  const std::size_t n = block.classes.size();
  Table<LongNumber> parts(n);
  LongNumber whole = 0;
  for (std::size_t to = 0; to < n; ++to) {
    for (std::size_t from = 0; from < n; ++from) {
      parts.at(to, from) = block.left[to] * block.cells.at(to, from) * block.right[from];
      whole += parts.at(to, from);
    }
  }
  Square made(size);
  for (std::size_t to = 0; to < n; ++to) {
    for (std::size_t from = 0; from < n; ++from) {
      made.at(block.classes[to], block.classes[from]) = in_double(parts.at(to, from) / whole);
    }
  }
  return made;
}

// Of a flow in which one block alone carries the rate, and is primitive.
std::optional<double> damping_ratio_of(const Flow& flow) {
  LongNumber second = 0;
  for (std::size_t b = 0; b < flow.blocks.size(); ++b) {
    const bool single = flow.blocks[b].classes.size() == 1;
    if (!flow.carries[b]) second = std::max(second, flow.blocks[b].rate);
    if (flow.carries[b] && !single) second = std::max(second, second_modulus(flow.blocks[b], flow.matrix));
  }
  if (second == 0) return std::nullopt;
  return in_double(flow.rate / second);
}

double largest_root(const Square& matrix, const std::vector<bool>& among) {
  double largest = 0;
  for (const auto& block : class_blocks(matrix, among)) largest = std::max(largest, perron_root(matrix, block));
  return largest;
}

}  // namespace

GrowthRate growth_rate(const Square& matrix, const std::vector<bool>& starts_in) {
  GrowthRate found;
  const std::vector<bool> reached = reached_classes(matrix, starts_in);
  const Flow flow = flow_of(matrix, reached);
  found.rate = in_double(flow.rate);
  std::vector<bool> rest = reached;
  rest.flip();
  found.rate_all = std::max(found.rate, in_double(flow_of(matrix, rest).rate));
  if (found.rate == 0) return found;
  found.stable = stable_of(flow, starts_in);
  found.reproductive_value = reproductive_value_of(flow, reached);
  std::size_t carriers = 0, period = 1;
  const PerronBlock* carrier = nullptr;
  for (std::size_t b = 0; b < flow.blocks.size(); ++b) {
    if (!flow.carries[b]) continue;
    ++carriers;
    carrier = &flow.blocks[b];
    period = std::lcm(period, period_of(matrix, carrier->classes));
  }
  found.period = period;
  if (carriers > 1) return found;
  found.elasticity = elasticity_of(*carrier, matrix.size);
  if (period == 1) found.damping_ratio = damping_ratio_of(flow);
  return found;
}

double long_run_rate(const Square& matrix, const std::vector<bool>& starts_in) {
  return largest_root(matrix, reached_classes(matrix, starts_in));
}

}  // namespace motherbulb

#include "core/science/class_blocks.hpp"

#include <algorithm>
#include <numeric>

namespace motherbulb {
namespace {

constexpr std::size_t unseen = static_cast<std::size_t>(-1);

// Tarjan's search with a stack of its own, so that its depth does not hang on the number of classes.
class BlockSearch {
public:
  BlockSearch(const Square& matrix, const std::vector<bool>& among)
      : matrix_(matrix),
        among_(among),
        seen_at_(matrix.size, unseen),
        lowest_(matrix.size, 0),
        waiting_(matrix.size, false) {}

  std::vector<std::vector<std::size_t>> blocks() {
    for (std::size_t start = 0; start < matrix_.size; ++start) {
      if (among_[start] && seen_at_[start] == unseen) search_from(start);
    }
    std::reverse(found_.begin(), found_.end());  // the search finds those first that feed no other
    return std::move(found_);
  }

private:
  struct Visit {
    std::size_t at;
    std::size_t next = 0;  // the class to look at next
  };

  void enter(std::size_t at) {
    seen_at_[at] = lowest_[at] = seen_++;
    stack_.push_back(at);
    waiting_[at] = true;
    visits_.push_back({at});
  }
  void search_from(std::size_t start) {
    enter(start);
    while (!visits_.empty()) {
      const std::size_t at = visits_.back().at;
      if (visits_.back().next == matrix_.size) {
        leave(at);
        continue;
      }
      const std::size_t to = visits_.back().next++;
      if (!among_[to] || !(matrix_.at(to, at) > 0)) continue;
      if (seen_at_[to] == unseen) {
        enter(to);
      } else if (waiting_[to]) {
        lowest_[at] = std::min(lowest_[at], seen_at_[to]);
      }
    }
  }
  void leave(std::size_t at) {
    visits_.pop_back();
    if (!visits_.empty()) lowest_[visits_.back().at] = std::min(lowest_[visits_.back().at], lowest_[at]);
    if (lowest_[at] != seen_at_[at]) return;
    std::vector<std::size_t> block;
    do {
      block.push_back(stack_.back());
      waiting_[stack_.back()] = false;
      stack_.pop_back();
    } while (block.back() != at);
    std::sort(block.begin(), block.end());
    found_.push_back(std::move(block));
  }

  const Square& matrix_;
  const std::vector<bool>& among_;
  std::vector<std::size_t> seen_at_, lowest_, stack_;
  std::vector<bool> waiting_;
  std::vector<Visit> visits_;
  std::vector<std::vector<std::size_t>> found_;
  std::size_t seen_ = 0;
};

}  // namespace

std::vector<bool> reached_classes(const Square& matrix, const std::vector<bool>& starts_in) {
  std::vector<bool> reached = starts_in;
  std::vector<std::size_t> waiting;
  for (std::size_t at = 0; at < matrix.size; ++at) {
    if (reached[at]) waiting.push_back(at);
  }
  while (!waiting.empty()) {
    const std::size_t from = waiting.back();
    waiting.pop_back();
    for (std::size_t to = 0; to < matrix.size; ++to) {
      if (reached[to] || !(matrix.at(to, from) > 0)) continue;
      reached[to] = true;
      waiting.push_back(to);
    }
  }
  return reached;
}

std::vector<std::vector<std::size_t>> class_blocks(const Square& matrix, const std::vector<bool>& among) {
  return BlockSearch(matrix, among).blocks();
}

std::size_t period_of(const Square& matrix, const std::vector<std::size_t>& block) {
  // Denardo, "Periods of connected networks and powers of nonnegative matrices" (1977): the divisor of what every way
  // on adds to the steps from the first class.
  std::vector<std::size_t> steps(matrix.size, unseen);
  std::vector<std::size_t> waiting{block.front()};
  steps[block.front()] = 0;
  for (std::size_t done = 0; done < waiting.size(); ++done) {
    for (const std::size_t to : block) {
      if (steps[to] != unseen || !(matrix.at(to, waiting[done]) > 0)) continue;
      steps[to] = steps[waiting[done]] + 1;
      waiting.push_back(to);
    }
  }
  std::size_t period = 0;
  for (const std::size_t from : block) {
    for (const std::size_t to : block) {
      if (!(matrix.at(to, from) > 0)) continue;
      const std::size_t there = steps[from] + 1;
      period = std::gcd(period, there > steps[to] ? there - steps[to] : steps[to] - there);
    }
  }
  return period;
}

}  // namespace motherbulb

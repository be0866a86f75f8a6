#include "app/words/bench.hpp"

namespace motherbulb {

const BenchWords& bench_words() {
  static const BenchWords english;
  return english;
}

}  // namespace motherbulb

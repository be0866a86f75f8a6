// Numbers from a fixed start, the same on every machine, unlike those of the standard library's distributions. Whole
// numbers only: no rounding that a processor could do otherwise.
#pragma once

#include <cstdint>

namespace motherbulb::demo {

// Steele, Lea & Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014 (SplitMix64).
class Chance {
public:
  explicit Chance(std::uint64_t start) : state_(start) {}
  std::uint64_t next() {
    std::uint64_t mixed = (state_ += 0x9e3779b97f4a7c15U);
    mixed = (mixed ^ (mixed >> 30)) * 0xbf58476d1ce4e5b9U;
    mixed = (mixed ^ (mixed >> 27)) * 0x94d049bb133111ebU;
    return mixed ^ (mixed >> 31);
  }
  // low to high, both possible.
  std::int32_t between(std::int32_t low, std::int32_t high) {
    return low + static_cast<std::int32_t>(next() % static_cast<std::uint64_t>(high - low + 1));
  }
  // As between, the middle likelier: the mean of two draws.
  std::int32_t around_middle(std::int32_t low, std::int32_t high) {
    return (between(low, high) + between(low, high)) / 2;
  }
  bool percent(std::int32_t share) { return between(0, 99) < share; }

private:
  std::uint64_t state_;
};

}  // namespace motherbulb::demo

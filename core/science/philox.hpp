// Random numbers that depend on nothing but where they are used: seed, path and season.
//
// Philox 4x32-10 of Salmon, Moraes, Dror & Shaw, "Parallel random numbers: as easy as 1, 2, 3" (2011): a counter is
// mixed in ten rounds, so the numbers of path 17 are the same alone or among a million, in any order, on any machine.
#pragma once

#include <array>
#include <cstdint>
#include <limits>

namespace motherbulb {

// The block function itself.
inline std::array<std::uint32_t, 4> philox4x32(std::array<std::uint32_t, 4> counter, std::array<std::uint32_t, 2> key) {
  constexpr int rounds = 10;
  constexpr std::uint64_t first_factor = 0xD2511F53, second_factor = 0xCD9E8D57;
  constexpr std::uint32_t first_step = 0x9E3779B9, second_step = 0xBB67AE85;
  for (int round = 0; round < rounds; ++round) {
    const std::uint64_t first = first_factor * counter[0], second = second_factor * counter[2];
    counter = {static_cast<std::uint32_t>(second >> 32) ^ counter[1] ^ key[0], static_cast<std::uint32_t>(second),
               static_cast<std::uint32_t>(first >> 32) ^ counter[3] ^ key[1], static_cast<std::uint32_t>(first)};
    key[0] += first_step;
    key[1] += second_step;
  }
  return counter;
}

// The numbers of one path in one season. A generator as Boost.Random asks for: 32 bits a call.
class PhiloxStream {
public:
  using result_type = std::uint32_t;
  static constexpr bool has_fixed_range = true;  // asked for by Boost.Random
  static constexpr result_type min() { return 0; }
  static constexpr result_type max() { return std::numeric_limits<result_type>::max(); }

  PhiloxStream(std::uint64_t seed, std::uint64_t path, std::uint32_t season)
      : key_{static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32)},
        counter_{0, season, static_cast<std::uint32_t>(path), static_cast<std::uint32_t>(path >> 32)} {}

  result_type operator()() {
    if (at_ == block_.size()) {
      block_ = philox4x32(counter_, key_);
      ++counter_[0];
      at_ = 0;
    }
    return block_[at_++];
  }
  // From 0 (it may be) to 1 (it is never), in steps of 2^-53.
  double part() {
    const std::uint64_t high = (*this)() >> 5, low = (*this)() >> 6;
    return static_cast<double>((high << 26) | low) * 0x1.0p-53;
  }

private:
  std::array<std::uint32_t, 2> key_;
  std::array<std::uint32_t, 4> counter_;
  std::array<std::uint32_t, 4> block_{};
  std::size_t at_ = 4;
};

}  // namespace motherbulb

// The two forms of a test: short with every change, long by hand (tests/long). And the seed of what is random in it.
#pragma once

#include <chrono>
#include <cstdint>
#include <cstdlib>
#include <string>

namespace motherbulb::make {

inline bool long_form() {
  const char* wanted = std::getenv("MOTHERBULB_LONG");
  return wanted != nullptr && std::string(wanted) == "1";
}
template <class T>
T short_or_long(T in_short, T in_long) {
  return long_form() ? in_long : in_short;
}
// MOTHERBULB_SEED=N runs a test again as it failed; the message of each random test names N.
inline std::uint64_t seed() {
  const char* wanted = std::getenv("MOTHERBULB_SEED");
  if (wanted != nullptr) return std::strtoull(wanted, nullptr, 10);
  if (!long_form()) return 20260302;
  static const auto drawn = static_cast<std::uint64_t>(std::chrono::system_clock::now().time_since_epoch().count());
  return drawn;
}

// Patience runs out: a test that goes on for as long as there is time says at its end how far it came. However slow the
// machine, it goes on until it has done the least that it promises.
class Patience {
public:
  Patience(double seconds, std::uint64_t least)
      : least_(least),
        until_(std::chrono::steady_clock::now() +
               std::chrono::milliseconds(static_cast<std::int64_t>(seconds * 1000))) {}
  bool left(std::uint64_t done) const { return done < least_ || std::chrono::steady_clock::now() < until_; }

private:
  std::uint64_t least_;
  std::chrono::steady_clock::time_point until_;
};

}  // namespace motherbulb::make

// A device for tests: its clock moves only when told, its random bits come from a seed, its store tokens and highest
// sequences lie in memory. What is chance on a real device is here the same in every run.
#pragma once

#include <cstdint>
#include <map>
#include <string>

#include "core/host.hpp"

namespace motherbulb {

// Numbers from a seed (Steele, Lea & Flood, "Fast splittable pseudorandom number generators", OOPSLA 2014: SplitMix64).
// The same on every machine, unlike the standard library's distributions.
class Chance {
public:
  explicit Chance(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next() {
    std::uint64_t mixed = (state_ += 0x9e3779b97f4a7c15U);
    mixed = (mixed ^ (mixed >> 30)) * 0xbf58476d1ce4e5b9U;
    mixed = (mixed ^ (mixed >> 27)) * 0x94d049bb133111ebU;
    return mixed ^ (mixed >> 31);
  }
  // 0 to limit - 1; 0 where the limit is 0.
  std::uint64_t below(std::uint64_t limit) { return limit == 0 ? 0 : next() % limit; }
  // low to high, both possible.
  std::int64_t between(std::int64_t low, std::int64_t high) {
    return low + static_cast<std::int64_t>(below(static_cast<std::uint64_t>(high - low) + 1));
  }
  bool one_in(std::uint64_t n) { return below(n) == 0; }

private:
  std::uint64_t state_;
};

class FakeHost : public Host {
public:
  // 2026-03-02T09:00:00+01:00, a Monday.
  static constexpr std::int64_t monday_ms = 1'772'438'400'000;

  explicit FakeHost(std::uint64_t seed = 1, std::int64_t now_ms = monday_ms)
      : now_ms_(now_ms), chance_(seed), machine_("machine " + std::to_string(seed)) {}

  std::int64_t now_ms() override { return now_ms_; }
  std::int32_t offset_minutes(std::int64_t) override { return offset_; }
  void random(std::uint8_t* out, std::size_t count) override {
    for (std::size_t i = 0; i < count; ++i) out[i] = static_cast<std::uint8_t>(chance_.next() >> 32);
  }
  std::string store_token(const std::string& path) override {
    const auto moved = moves_.find(path);
    return machine_ + " " + path + " " + std::to_string(moved == moves_.end() ? 0 : moved->second);
  }
  std::uint64_t highest_sequence(const WriterId& writer) override {
    const auto known = highest_.find(writer);
    return known == highest_.end() ? 0 : known->second;
  }
  void keep_highest_sequence(const WriterId& writer, std::uint64_t sequence) override {
    std::uint64_t& known = highest_[writer];
    if (sequence > known) known = sequence;
  }

  void advance(std::int64_t ms) { now_ms_ += ms; }
  void advance_minutes(std::int64_t minutes) { now_ms_ += minutes * 60'000; }
  void advance_days(std::int64_t days) { now_ms_ += days * 86'400'000; }
  void set_now(std::int64_t now_ms) { now_ms_ = now_ms; }
  void set_offset(std::int32_t minutes) { offset_ = minutes; }
  // From now on the file at this path is another one than before: copied there, put back, moved to another disk.
  void other_file_at(const std::string& path) { ++moves_[path]; }
  // Forgets what was kept apart from the store, as a machine does that was set up anew.
  void forget_highest() { highest_.clear(); }
  const std::map<WriterId, std::uint64_t>& highest() const { return highest_; }

private:
  std::int64_t now_ms_;
  std::int32_t offset_ = 60;
  Chance chance_;
  std::string machine_;
  std::map<std::string, int> moves_;
  std::map<WriterId, std::uint64_t> highest_;
};

}  // namespace motherbulb

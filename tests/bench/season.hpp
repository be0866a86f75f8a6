// Work in any amount, as entries of a few devices and as a table: what the bench is run on. All of it invented.
#pragma once

#include <cstdint>
#include <string>

#include "core/host.hpp"
#include "shared/entry.hpp"

namespace motherbulb::bench {

// The host of a bench: the time is that of the season's end.
class BenchHost : public Host {
public:
  std::int64_t now_ms() override { return now_; }
  std::int32_t offset_minutes(std::int64_t) override { return 60; }
  void random(std::uint8_t* out, std::size_t count) override;
  std::string store_token(const std::string&) override { return "bench"; }
  std::uint64_t highest_sequence(const WriterId&) override { return 0; }
  void keep_highest_sequence(const WriterId&, std::uint64_t) override {}
  void advance(std::int64_t ms) { now_ += ms; }

private:
  std::int64_t now_ = season_end_ms;

public:
  static constexpr std::int64_t season_end_ms = 1'772'438'400'000;
};

struct SeasonWish {
  std::uint64_t entries = 0;  // of each of the devices below
  std::string left, right;    // parcel files
  std::string hundreds;       // stem of the files with a hundred further entries each
  int hundred_count = 0;
};
// A device that all know wrote the first half, two others one half each, partly in its batches. `left` holds the common
// half and the left device's, `right` likewise. Each of the hundreds is of one more device, in known batches.
void write_season(const SeasonWish& wish);
// Potted, looked, lost, unpotted ... as rows of a table: `rows` of them.
void write_table(const std::string& file, std::uint64_t rows);

}  // namespace motherbulb::bench

// What was done in the demo's glasshouse, act by act. A pure function of the last day: what truly stands in each pot is
// simulated, and each act tells of it what a helper would write down.
#pragma once

#include <cstdint>
#include <string_view>
#include <vector>

#include "shared/day.hpp"
#include "shared/entry.hpp"

namespace motherbulb::demo {

// The island keeps one time all the year. So far east, its last morning is past wherever that day has dawned.
inline constexpr std::int32_t island_offset_minutes = 12 * 60;
inline constexpr std::string_view invented_note =
    "Invented for the demo: there is no such house, nobody of these names, and no such bulbs.";
inline constexpr int weeks_told = 208;  // four seasons of 52 weeks

enum Device { ines = 0, bo = 1, marit = 2 };
inline constexpr int device_count = 3;
struct DeviceNames {
  std::string_view helper, name, letter;
};
inline constexpr DeviceNames devices[device_count] = {
    {"Ines", "potting bench tablet", "A"}, {"Bo", "sill tablet", "B"}, {"Marit", "Marit's phone", "C"}};

enum class What : std::uint8_t {
  fact,
  take_back,     // undoes the act before it on the same device
  settle_count,  // settles the pot's counted-twice by taking the first count
};

struct Act {
  std::int64_t at_ms = 0;  // truly, whatever the device's clock said
  Device device = ines;
  What what = What::fact;
  std::int32_t batch = -1;   // number of the batch, from 0; -1: the whole book
  std::int32_t parent = -1;  // of Begun: number of the parent batch
  std::int32_t pot = 0;
  Payload fact;
};

struct Season {
  std::vector<Act> acts;               // in order of time; a batch's Begun comes before all else about it
  std::int32_t batches = 0;            // their number
  std::vector<std::int64_t> evenings;  // when the three devices were merged; acts between two evenings that are about
                                       // one clone are on one device, but for the counts made twice
  std::int64_t last_morning_ms = 0;    // acts from then on are not merged yet
  std::int64_t parcels_ms = 0;         // when the helpers wrote the last day's parcels
};

Season tell(Day last);

}  // namespace motherbulb::demo

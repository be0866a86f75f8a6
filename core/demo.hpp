// The demo: four seasons of a small island glasshouse, all of it invented. Three helpers on three devices, five clones
// of three genera, some 3,000 entries, with rot, a mouse, holds for a virus test, a count that two helpers made, and a
// balance that is open.
#pragma once

#include <array>
#include <string>

#include "core/host.hpp"
#include "shared/day.hpp"
#include "shared/result.hpp"

namespace motherbulb {

// The demo's helpers' parcels beside the book `store`: Bo's and Marit's, in this order.
std::array<std::string, 2> demo_parcels(const std::string& store);

// Writes the demo book into a new store, and beside it two parcels (demo_parcels) with the other two helpers' work of
// the last morning, so that the day's merge is left to do. The seasons end on `on`.
//
// Promise: the same day gives the same entries and the same parcels, byte for byte, whatever the device's clock and
// zone. The book is then like one copied from another device: the first to write into it does so as a new writer. An
// existing store or parcel is refused and left as it is; where the disk fails, nothing stays behind. `on` from
// 1975-01-01 to 2199-12-31.
Outcome write_demo(const std::string& store, Day on, Host& host);

}  // namespace motherbulb

// Merging the day: what waits, what the last merge brought, what was put off.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <vector>

#include "app/parcel_preview.hpp"
#include "core/state.hpp"

namespace motherbulb {

struct MergeDraft {
  std::vector<FoundParcel> dropped;  // dropped on the window, beside those found
  std::vector<ParcelPreview> waiting;
  std::uint64_t looked_at_revision = 0;
  bool looked = false;
  std::vector<ParcelPreview> merged;  // by the last merge
  std::optional<When> merged_at;
  std::set<MatterId> put_off;  // "Later"
};

}  // namespace motherbulb

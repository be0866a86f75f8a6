// Merging the day: what waits, what the last merge brought, what was put off.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "app/parcel_preview.hpp"
#include "core/state.hpp"

namespace motherbulb {

// A table that was dropped or chosen: it waits to be taken in, or brought nothing but what was new and can be taken
// back.
struct DroppedTable {
  FoundParcel file;
  bool taken = false;
  std::string told;  // what came of it last; empty: nothing was done with it yet
};

// A backup that was dropped or chosen: what it holds, as a parcel.
struct DroppedBackup {
  FoundParcel file;
  std::shared_ptr<MemorySource> parcel;
};

struct MergeDraft {
  std::vector<FoundParcel> dropped;    // dropped on the window, beside those found
  std::vector<DroppedBackup> backups;  // of those dropped
  std::set<std::string> looked_into;   // paths of all backups that ever were
  std::vector<ParcelPreview> waiting;
  std::uint64_t looked_at_revision = 0;
  bool looked = false;
  std::vector<ParcelPreview> merged;  // by the last merge
  std::optional<When> merged_at;
  std::set<MatterId> put_off;        // "Later"
  std::vector<DroppedTable> tables;  // the first is shown; those taken in come last
};

}  // namespace motherbulb

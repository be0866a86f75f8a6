// Settings, first start, parcels and backup: what is being typed or chosen, and what came of it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/logbook.hpp"
#include "shared/day.hpp"
#include "shared/ids.hpp"

namespace motherbulb {

// A folder that a parcel or a backup can be written into.
struct PlaceToWrite {
  std::string folder;
  std::string name;  // of the stick; of the book's folder its own
  bool stick = false;
  bool leaves = false;  // goes out to the person at once: saved by the browser, or, a stick, to the device's own sheet
  friend bool operator==(const PlaceToWrite& a, const PlaceToWrite& b) {
    return a.folder == b.folder && a.name == b.name && a.stick == b.stick;
  }
};

struct HouseDraft {
  // The name and letter of this device, on the settings and at the first start.
  bool naming = false;
  std::string device_name;
  std::string device_letter;   // empty: the one that it has
  std::string letter_refused;  // why the letter tapped last was not taken

  // First start.
  int question = 0;
  std::string first_name;

  // Parcels and backup.
  std::vector<PlaceToWrite> places;
  std::string place;                // folder chosen; empty: the first
  std::optional<WriterId> lacking;  // the parcel is for this device; none: everything
  bool too_much_for_codes = false;  // what is chosen, as was found out when it was asked for
  struct Written {
    std::string file;
    PlaceToWrite place;
    std::int64_t entries = 0;
    When at;
  };
  std::optional<Written> handed_out, backed_up, table;
  std::optional<CheckReport> checked;
  std::optional<When> checked_at;
};

}  // namespace motherbulb

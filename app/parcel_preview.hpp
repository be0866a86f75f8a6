// What a parcel would bring, read before it is merged: nothing is changed by looking.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/logbook.hpp"
#include "shared/bytes.hpp"

namespace motherbulb {

// A parcel's file as the device found it.
struct FoundParcel {
  std::string path;
  std::string name;  // the file's
  std::uint64_t size = 0;
  std::int64_t modified_ms = 0;
  friend bool operator==(const FoundParcel& a, const FoundParcel& b) {
    return a.path == b.path && a.size == b.size && a.modified_ms == b.modified_ms;
  }
};

// On a screen a file is known by its name: the folders before it, in a text about it, are only in the way.
[[nodiscard]] std::string with_short_name(std::string text, const FoundParcel& file);

// Of the entries that are new to the book.
struct DayCounts {
  std::int64_t unpotted = 0, bulbs = 0, lost = 0, watered = 0, damage = 0, moved = 0;
  DayCounts& operator+=(const DayCounts& other);
};

struct ParcelPreview {
  FoundParcel file;
  bool readable = false;
  bool backup = false;  // a backup's file
  std::string fault;    // why not, in words
  WriterId written_by;
  std::string device;                // its name; empty: none given
  std::vector<std::string> helpers;  // of what is new, the busiest first
  std::int64_t fresh = 0;
  std::int64_t known = 0;
  std::vector<Known> knows;  // what the book had that it was made from
  DayCounts brought;
};

// How many entries of a book (how far it knows each writer) one that knows so much lacks; null: one that knows nothing.
[[nodiscard]] std::int64_t lacking_entries(const std::vector<Known>& here, const std::vector<Known>* known_there);

[[nodiscard]] ParcelPreview preview_parcel(const FoundParcel& file, ByteSource& source,
                                           const std::vector<Known>& known_here, const std::vector<DeviceRow>& devices);

}  // namespace motherbulb

// Parcels within reach of this machine, and places for new ones: beside the book, and on sticks that are plugged in.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "platform/found_file.hpp"
#include "shared/bytes.hpp"
#include "shared/result.hpp"

namespace motherbulb {

struct NearbyFiles {
  // Files whose name ends in .parcel, in the folder of `store` and on mounted sticks, there one folder deep; sorted
  // by path. What cannot be looked into is passed over.
  static std::vector<FoundFile> parcels_near(const std::string& store);
  static Result<FoundFile> look_at(const std::string& path);
  static Result<std::unique_ptr<ByteSource>> open(const std::string& path);
  // Folders that parcels and backups can be written into: that of `store` first, then each mounted stick, by its name.
  static std::vector<FoundPlace> places_to_write(const std::string& store);
  static bool is_there(const std::string& path);
  static Result<std::unique_ptr<ByteSink>> write(const std::string& path);
};

}  // namespace motherbulb

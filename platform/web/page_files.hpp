// Files of a page: parcels that were chosen, dropped or read lie in a folder in memory until the page is closed; what
// is written goes out to the person as soon as it stands whole.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "platform/found_file.hpp"
#include "shared/bytes.hpp"
#include "shared/result.hpp"

namespace motherbulb {

struct PageFiles {
  static constexpr const char* taken_in = "/parcels";      // what came in
  static constexpr const char* saved = "/handed/saved";    // goes where the browser saves things
  static constexpr const char* shared = "/handed/shared";  // goes to the device's own sheet

  // Makes the folders.
  static void set_up();
  static std::vector<FoundFile> parcels_near(const std::string& store);
  static Result<FoundFile> look_at(const std::string& path);
  static Result<std::unique_ptr<ByteSource>> open(const std::string& path);
  static std::vector<FoundPlace> places_to_write(const std::string& store);
  static bool is_there(const std::string& path);
  static Result<std::unique_ptr<ByteSink>> write(const std::string& path);
  // Holds what came as bytes under that name, or beside it where another is held under it. Its path.
  static Result<std::string> take_in(const std::string& name, const std::vector<std::uint8_t>& bytes);
  // A file that now stands whole.
  static void hand_over(const std::string& path);
  // A parcel that lies elsewhere in memory: as if it had been chosen.
  static void move_in(const std::string& path);
};

}  // namespace motherbulb

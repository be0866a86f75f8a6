// The sentences of a parcel as codes: shown on one screen, read by the camera of another device.
#pragma once

#include <string_view>

namespace motherbulb {

struct CodesWords {
  // On parcels & backup.
  std::string_view act = "As codes on this screen";
  std::string_view line = "For a device with a camera, where there is no stick.";
  std::string_view too_much =
      "This is too much for codes: there would be more than {}. A file is the way: choose where to, and hand it out.";
  std::string_view too_much_lacking = "Or choose a device above: what it lacks may be little enough.";

  // Showing.
  std::string_view title = "Codes";
  std::string_view there = "On the other device: Merge, then Read codes";
  std::string_view there_title = "On the other device";
  std::string_view there_line = "Tap Merge, then Read codes. Hold its camera so that the code fills the picture.";
  std::string_view round = "They go round until it has them all; any order will do.";
  std::string_view one_only = "There is this one only.";
  std::string_view of = "{} of {}";
  std::string_view holds = "{} to hand out";
  std::string_view back = "One back";
  std::string_view next = "One on";
  std::string_view pause = "Hold still";
  std::string_view go_on = "Go on";

  // Reading.
  std::string_view read_act = "Read codes";
  std::string_view read_title = "Read codes";
  std::string_view read_second = "Let the code fill the picture";
  std::string_view read_starting = "The camera's picture comes here.";
  std::string_view read_stopped = "The camera is off.";
  std::string_view read_none = "No code seen yet";
  std::string_view read_there = "On the other device: Parcels & backup, then As codes on this screen.";
  std::string_view read_on = "Go on until every mark is filled.";
  std::string_view read_missing = "Still missing: {}";
  std::string_view read_newer = "These codes are from a newer version. Bring this device up to date, or take a file.";
  std::string_view camera_start = "Start the camera";
  std::string_view camera_failed = "The camera cannot be used";
  std::string_view not_taken = "The codes were read, but not taken in";
  std::string_view file_part = "codes";  // in the parcel's name
};

[[nodiscard]] const CodesWords& codes_words();

}  // namespace motherbulb

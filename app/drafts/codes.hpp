// A parcel on its way from screen to camera: the codes that are shown, and those that the camera has seen.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/code_symbol.hpp"
#include "app/geometry.hpp"
#include "shared/parcel_codes.hpp"

namespace motherbulb {

inline constexpr std::size_t most_shown_codes = 60;  // they go round once in about half a minute

// Handing out.
struct CodesDraft {
  std::vector<std::string> texts;  // of all codes; empty: nothing is handed out
  std::int64_t entries = 0;
  std::size_t shown = 0;  // from 0
  bool still = false;     // a person turns them over
  int version = 0;        // of the QR codes
  // The one that was drawn last, so that it is worked out once.
  std::optional<std::size_t> drawn;
  CodeSymbol symbol;
};

// Taking in.
struct ScanDraft {
  bool running = false;  // the camera was started, and has not failed since
  CodeCollector collector;
  bool newer = false;  // a code of a later version was seen
  // Where the window's side lays the camera's picture, dp; empty: nowhere.
  Rect picture;
};

}  // namespace motherbulb

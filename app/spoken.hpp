// What a screen says and offers, in words and in reading order, for whoever cannot see or touch it: assistive
// technology on the page, where it becomes real text, buttons and fields.
//
// Promises: every control of the touch map is there once, under its name, with words that say what it does; every text
// drawn in sight is there, within the control it stands on or by itself; the order is the one in which the screen draws
// it, which is the one in which it is read. Needs the log of the fonts (Fonts::keep_log).
#pragma once

#include <string>
#include <vector>

#include "app/fonts.hpp"
#include "app/theme.hpp"
#include "app/touch_map.hpp"

namespace motherbulb {

class App;

struct Spoken {
  enum class Kind { text, control, field } kind = Kind::text;
  std::string name;   // of a control or a field, as in the touch map
  std::string words;  // of a field: what it asks for
  std::string value;  // of a field: what stands in it
  Rect rect;          // dp
  bool enabled = true;
  bool chosen = false;
};

[[nodiscard]] std::vector<Spoken> spoken(const TouchMap& touch, const Fonts& fonts, const Theme& theme);

// {"screen": N, "scale": pixels a dp, "kept": "words of the slip", "trouble": "…", "night": bool,
//  "items": [{"kind","name","words","value","x","y","w","h","enabled","chosen"}]}, in dp.
[[nodiscard]] std::string spoken_json(App& app);

}  // namespace motherbulb

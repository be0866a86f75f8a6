// Writing a word with a glove on: a field and keys below it; a keyboard, where there is one, writes into it too.
#pragma once

#include <string>
#include <string_view>

#include "app/pen.hpp"

namespace motherbulb {

struct TextField {
  std::string_view name;         // in the touch map: "NAME:A", "NAME:undo", "NAME:space" …
  std::string_view placeholder;  // in the empty field
  std::size_t longest = 60;      // characters
  bool of_names = false;         // a capital begins every word, else only the first
};

// True where the keys have to stand in more and shorter rows, as on a phone, to be large enough.
[[nodiscard]] bool few_keys_in_a_row(float width);
// The least height in which the keys are large enough, the field among them.
[[nodiscard]] float text_entry_height(bool phone);
// Draws the field (64 high) at the top of the area and the keys below it. True in the frame in which Enter was pressed
// on a keyboard. The text never holds more than the longest, nor a line break.
bool draw_text_entry(Pen& pen, Rect area, const TextField& field, std::string& text, bool phone);
// The text without spaces at its ends.
[[nodiscard]] std::string without_ends(const std::string& text);

}  // namespace motherbulb

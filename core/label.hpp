// Labels that survive handwriting and gloves: YYLnnn-C, two digits of the year, the device's letter, a running number
// of three digits or more, and a check character by ISO/IEC 7064 MOD 37,2 over year, letter and number without the
// hyphen.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace motherbulb {

struct Label {
  std::int32_t year = 0;  // 0 to 99
  char letter = 'A';      // A to Z
  std::int64_t number = 0;
};

// The check character over digits and capitals: 0 to 9, A to Z or *. None where `text` holds anything else.
std::optional<char> check_character(std::string_view text);
std::string to_text(const Label& label);
// None unless the whole text is a label with its right check character (small letters are taken as capitals).
std::optional<Label> label_from_text(std::string_view text);

}  // namespace motherbulb

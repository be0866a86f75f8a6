// Labels that survive handwriting and gloves: YYLnnn-C, two digits of the year, the device's letter, a running number
// of three digits or more, and a check character by ISO/IEC 7064 MOD 37,2 over year, letter and number without the
// hyphen.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

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

// --- labels as somebody types them

// What a typed text says of a label and a pot; what it does not say stays none. "14/3": number 14, pot 3.
struct TypedLabel {
  std::optional<std::int32_t> year;
  std::optional<char> letter;
  std::optional<std::int64_t> number;
  std::optional<char> check;
  std::optional<std::int32_t> pot;
  // Year, letter, number and check character are all there.
  [[nodiscard]] bool whole() const { return year && letter && number && check; }
  friend bool operator==(const TypedLabel& a, const TypedLabel& b) {
    return a.year == b.year && a.letter == b.letter && a.number == b.number && a.check == b.check && a.pot == b.pot;
  }
};

// Every way of reading it, the plainest first; none where it cannot be the beginning, middle or whole of a label.
// Small letters, spaces, and a number without its noughts are taken; "2614" is number 2614 or number 14 of 2026.
[[nodiscard]] std::vector<TypedLabel> label_readings(std::string_view typed);
// What the reading says, the label says too. A check character that is not the label's own does not fit.
[[nodiscard]] bool fits(const TypedLabel& typed, const Label& label);

// One slip that would make a right label of a wrong one: the character at `at` (of the label as to_text writes it) read
// as another, or swapped with the one behind it.
struct LabelMend {
  Label label;         // mended
  std::size_t at = 0;  // in to_text(label)
  char was = ' ';      // as typed
  char is = ' ';       // as it should be
  bool swapped = false;
  friend bool operator==(const LabelMend& a, const LabelMend& b) {
    return to_text(a.label) == to_text(b.label) && a.at == b.at && a.was == b.was && a.is == b.is &&
           a.swapped == b.swapped;
  }
};
// Of a whole label whose check character is wrong: every single misread character or swap of neighbours that mends it,
// in the order of the places. Those of `known` (sorted texts of labels) alone, where any of them is among the mends.
[[nodiscard]] std::vector<LabelMend> label_mends(const TypedLabel& wrong, const std::vector<std::string>& known);

}  // namespace motherbulb

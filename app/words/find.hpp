// The sentences of finding a pot.
#pragma once

#include <string_view>

namespace motherbulb {

struct FindWords {
  std::string_view title = "Find a pot";
  std::string_view second = "by its label, or by its clone";
  std::string_view by_label = "By label";
  std::string_view by_name = "By name";
  std::string_view type_label = "Type what the label says, 14/3";
  std::string_view type_name = "Type a clone, a mark or a label";
  std::string_view last_used = "Used last";
  std::string_view last_none = "Pots that something was kept for stand here. Type a label, or the letters of a clone.";
  std::string_view found = "{} found";
  std::string_view found_first = "{} found, the first {}";
  std::string_view pots_of = "Which pot of {}?";
  std::string_view all_batches = "All that was found";
  std::string_view none = "Nothing in this book fits.";
  std::string_view no_label =
      "That is not part of a label. A label is year, letter, number, check character, then / "
      "and the pot.";
  std::string_view unknown = "{} is a right label, but this book does not know it. Was it merged?";
  std::string_view slip = "The check character does not fit: something was misread.";
  std::string_view slip_none =
      "The check character does not fit, and no label in this book is one slip away. Look at "
      "each character again.";
  std::string_view slip_one = "The check character does not fit. Doubtful is the {}.";  // character
  std::string_view slip_swap = "The check character does not fit. {} and {} may be swapped.";
  std::string_view read_as = "{} read as {}";  // right, as typed
  std::string_view read_swapped = "{} and {} swapped";
  std::string_view no_pot = "has no pot {}";
  std::string_view row = "{}, {}";
  std::string_view emptied = "emptied";
  std::string_view never_filled = "nothing is potted in it";
  std::string_view open = "Open {}";
  std::string_view show = "Show {} found";
  std::string_view keys_letters = "ABC";
  std::string_view keys_figures = "123";
  std::string_view keys = "Keys";
};
[[nodiscard]] const FindWords& find_words();

}  // namespace motherbulb

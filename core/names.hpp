// Names as people write them, compared as people mean them. All text is UTF-8; what is no UTF-8 is compared byte by
// byte. Source of the folding: The Unicode Standard, section 3.13 (default caseless matching) over Normalization Form
// C, by the utf8proc library; no locale has a say, so a Turkish i folds as everywhere.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace motherbulb {

// How a name counts when names are compared: composed, without case, each run of white space one space, none at the
// ends. "  SNOW \n Queen" and "snow queen" are one.
std::string folded_name(std::string_view name);

// True where two names, folded, are equal but for one letter put in, left out or put for another. A digit is no letter:
// "seedling 12" and "seedling 13" do not differ by a letter.
bool differ_by_a_letter(std::string_view a, std::string_view b);

// Columns of a terminal that the text takes: 2 for wide characters, 0 for marks that stand on others.
std::size_t columns_wide(std::string_view text);
// The text without white space (ASCII) at its ends.
std::string_view trimmed(std::string_view text);

}  // namespace motherbulb

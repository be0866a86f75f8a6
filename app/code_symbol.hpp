// A QR code (ISO/IEC 18004) as its modules, light and dark.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

namespace motherbulb {

struct CodeSymbol {
  std::size_t side = 0;            // modules, without the quiet zone
  int version = 0;                 // 1 to 40
  std::vector<std::uint8_t> dark;  // row by row from the top left, 1 where dark
  [[nodiscard]] bool is_dark(std::size_t column, std::size_t row) const { return dark[row * side + column] != 0; }
};

inline constexpr std::size_t quiet_zone = 4;  // modules of light round a code, on each side

// The code of a text of the 45 characters of alphanumeric mode, at level M, in the smallest version that holds it and
// is at least `least_version` (0: any). A text of other characters, or one too long for version 40, is our own mistake.
[[nodiscard]] CodeSymbol code_symbol(std::string_view text, int least_version = 0);

}  // namespace motherbulb

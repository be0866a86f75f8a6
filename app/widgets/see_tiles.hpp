// What can be seen on a pot, as tiles: what eats it, what rots it, what marks its leaves. Seven a page, most common
// first; the eighth tile opens the rest.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"
#include "shared/units.hpp"

namespace motherbulb {

struct SeenKind {
  Cause cause = Cause::unknown;
  std::string_view detail;  // as the book has it, the same in every language; empty: the cause says it all
  std::string_view words;   // as people read it
  Icon icon = Icon::unknown;
};
[[nodiscard]] const std::vector<SeenKind>& seen_kinds();
// Words and icon of what somebody noted, also where no tile stands for it.
[[nodiscard]] std::string seen_words(Cause cause, std::string_view detail);
[[nodiscard]] Icon seen_icon(Cause cause, std::string_view detail);

struct SeeAnswer {
  std::optional<std::size_t> kind;  // among seen_kinds()
  bool turn = false;                // to the next page
};
// Eight tiles in two rows, each at least 78 by 72.
SeeAnswer draw_see_tiles(Pen& pen, Rect area, std::size_t page, std::optional<std::size_t> chosen);
[[nodiscard]] std::size_t see_pages();

}  // namespace motherbulb

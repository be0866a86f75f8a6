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

struct Trouble;

struct SeenKind {
  Cause cause = Cause::unknown;
  std::string_view detail;  // as the book has it, the same in every language; empty: the cause says it all
  std::string_view words;   // as people read it
  Icon icon = Icon::unknown;
};
[[nodiscard]] const std::vector<SeenKind>& seen_kinds();
// The particular troubles (core/health/troubles.hpp) for which a tile stands, in their order.
[[nodiscard]] const std::vector<const Trouble*>& particulars_of(std::size_t kind);
// Words and icon of what somebody noted: by a tile, or as a particular trouble; also where neither stands for it.
[[nodiscard]] std::string seen_words(Cause cause, std::string_view detail);
[[nodiscard]] Icon seen_icon(Cause cause, std::string_view detail);

struct SeeAnswer {
  std::optional<std::size_t> kind;  // among seen_kinds()
  bool turn = false;                // to the next page
  bool which = false;               // to the particular troubles of the chosen one
};
// Eight tiles in two rows, each at least 78 by 72. Where the chosen one stands for several troubles, the eighth asks
// which; `particular`: the trouble that was answered, by id.
SeeAnswer draw_see_tiles(Pen& pen, Rect area, std::size_t page, std::optional<std::size_t> chosen,
                         std::string_view particular = {});
// In place of the tiles: the particular troubles of a kind, and the kind itself where nobody can tell.
struct WhichAnswer {
  std::optional<std::string> particular;  // an id; empty: the kind itself
};
WhichAnswer draw_which_tiles(Pen& pen, Rect area, std::size_t kind, std::string_view particular);
[[nodiscard]] std::size_t see_pages();

}  // namespace motherbulb

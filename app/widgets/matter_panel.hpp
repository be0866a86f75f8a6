// A matter: two sides, the proposed one on straw; an act of 56 on each; "both right" and "Later" below.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"

namespace motherbulb {

struct MatterSideView {
  std::string title;   // a helper
  std::string when;    // "10:42"
  std::string number;  // "13"; empty: none
  std::string word;    // "bulblets"
  std::string second;  // one more line
  std::string act;     // "Take 13"
};

struct MatterView {
  std::string id;  // in the touch map
  Icon icon = Icon::settle;
  std::string title;
  std::string tag;  // the pot's, empty: none
  MatterSideView first, second;
  std::string both;  // words of "both right"; empty: not offered
  int proposed = 1;  // 1 first, 2 second, 3 both
};

enum class MatterAnswer { first, second, both, later };

[[nodiscard]] float matter_panel_height(Pen& pen, float width, const MatterView& view);
std::optional<MatterAnswer> draw_matter_panel(Pen& pen, Rect area, const MatterView& view);

}  // namespace motherbulb

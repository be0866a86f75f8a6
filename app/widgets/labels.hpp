// What has a name or can be acted on is a printed plant label; its point shows where it leads.
#pragma once

#include <optional>
#include <string_view>

#include "app/pen.hpp"
#include "app/widgets/icons.hpp"

namespace motherbulb {

// A pot's tag: white paper by night too. Height 34, 38 or 44. Returns its width.
float draw_pot_tag(Pen& pen, Point corner, float height, std::string_view words, float most_width = 400);
[[nodiscard]] float pot_tag_width(Pen& pen, float height, std::string_view words);

enum class ActStyle {
  main,    // tunic: the one act now of a panel
  quiet,   // well: an act that can wait
  link,    // sheet with an edge: leads to another screen
  plain,   // a rectangle with an edge: a choice, not a step on
  square,  // well without a point: takes a step back
};

struct Act {
  std::string_view name;  // in the touch map
  std::string_view words;
  ActStyle style = ActStyle::quiet;
  std::optional<Icon> icon;
  bool enabled = true;
  TapKind kind = TapKind::act;
};

// An act on a label. True in the frame that answers a tap on it.
bool draw_act(Pen& pen, Rect rect, const Act& act);
// A square key with an icon: back, theme.
bool draw_icon_key(Pen& pen, Rect rect, std::string_view name, Icon icon);
// A choice among several: chosen is dark stock.
bool draw_filter(Pen& pen, Rect rect, std::string_view name, std::string_view words, bool chosen);
// A link in words with a small arrow, right-aligned at `right_end`; its target is 48 high.
bool draw_word_link(Pen& pen, Point right_end, std::string_view name, std::string_view words);
// The dark outline and straw that show what is pressed; `true` if drawn.
[[nodiscard]] bool is_pressed(const Pen& pen, std::string_view name);

}  // namespace motherbulb

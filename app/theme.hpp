// The two themes, day and night, as plain structs: one assignment changes the whole look.
// Contrast promised (WCAG 2.2, relative luminance): text tokens at least 7:1 on pane, sheet and well; edges and marks
// at least 3:1 on all three. tests/screens/theme_test.cpp measures it.
#pragma once

#include <cstdint>

namespace motherbulb {

// A colour as the drawing library packs it: alpha, blue, green, red from the highest byte down.
using Color = std::uint32_t;

// From 0xRRGGBB, opaque.
[[nodiscard]] constexpr Color rgb(std::uint32_t red_green_blue) {
  return 0xFF000000U | ((red_green_blue & 0xFFU) << 16U) | (red_green_blue & 0xFF00U) | (red_green_blue >> 16U);
}

// `share` of the way from `from` to `towards`, 0 to 1, in the encoded values. Opaque.
[[nodiscard]] Color mix(Color from, Color towards, float share);
[[nodiscard]] Color with_alpha(Color color, float alpha);
// WCAG 2.2 contrast ratio, 1 to 21.
[[nodiscard]] double contrast(Color a, Color b);

struct Theme {
  bool night = false;
  Color pane = 0;     // the ground
  Color sheet = 0;    // panels, keys
  Color well = 0;     // tracks, quiet acts
  Color ring = 0;     // ornament
  Color tint = 0;     // the side that is not proposed
  Color ink = 0;      // text; dark stock
  Color ink2 = 0;     // second line
  Color on_ink = 0;   // text on dark stock
  Color on_ink2 = 0;  // second line on dark stock
  Color edge = 0;     // edges of controls
  Color tunic = 0;    // the act now, counts, links
  Color on_tunic = 0;
  Color bar = 0;  // rail and bottom bar
  Color on_bar = 0;
  Color leaf = 0;       // growing, kept: text
  Color leaf_fill = 0;  // areas and marks without text
  Color leaf_bar = 0;   // areas with text
  Color on_leaf_bar = 0;
  Color copper = 0;  // overdue, damage, error: text
  Color copper_fill = 0;
  Color slate = 0;  // resting: text
  Color slate_fill = 0;
  Color straw = 0;        // next, proposed, pressed
  Color straw_large = 0;  // the same over a large area
  Color on_straw = 0;
  Color paper = 0;  // a plant label, by night too
  Color on_paper = 0;
  Color skin = 0;  // the dry skin of the bulb on the start screen
  // Tints under text.
  Color proposed = 0;
  Color sold = 0;
  Color error_ground = 0;
  Color growing_ground = 0;
};

[[nodiscard]] const Theme& day_theme();
[[nodiscard]] const Theme& night_theme();

}  // namespace motherbulb

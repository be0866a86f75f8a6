// The contrast that the look promises, by the formula of WCAG 2.2 ("relative luminance", "contrast ratio"), and the
// figures its table gives (shared look, section 2).

#include "app/theme.hpp"

#include <doctest/doctest.h>

#include <initializer_list>

namespace motherbulb {

TEST_CASE("the contrast of black on white is 21, and the formula gives WCAG's own example") {
  CHECK(contrast(rgb(0x000000), rgb(0xFFFFFF)) == doctest::Approx(21.0));
  // #777777 on white: 4.48:1, the grey that just fails AA (W3C, Understanding SC 1.4.3; from memory).
  CHECK(contrast(rgb(0x777777), rgb(0xFFFFFF)) == doctest::Approx(4.48).epsilon(0.005));
}

TEST_CASE("text has at least 7 to 1 and edges and marks 3 to 1 on every ground of both themes") {
  for (const Theme* theme : {&day_theme(), &night_theme()}) {
    const Theme& t = *theme;
    for (const Color ground : {t.pane, t.sheet, t.well}) {
      for (const Color text : {t.ink, t.ink2, t.tunic, t.leaf, t.copper, t.slate}) CHECK(contrast(text, ground) >= 7.0);
      for (const Color mark : {t.edge, t.leaf_fill, t.copper_fill, t.slate_fill}) CHECK(contrast(mark, ground) >= 3.0);
    }
    CHECK(contrast(t.on_tunic, t.tunic) >= 7.0);
    CHECK(contrast(t.on_bar, t.bar) >= 7.0);
    CHECK(contrast(t.on_leaf_bar, t.leaf_bar) >= 7.0);
    CHECK(contrast(t.on_straw, t.straw) >= 7.0);
    CHECK(contrast(t.on_straw, t.straw_large) >= 7.0);
    CHECK(contrast(t.on_ink, t.ink) >= 7.0);
    CHECK(contrast(t.on_ink2, t.ink) >= 7.0);
    CHECK(contrast(t.on_paper, t.paper) >= 7.0);
    CHECK(contrast(t.ink2, t.proposed) >= 7.0);
    CHECK(contrast(t.ink2, t.tint) >= 7.0);
    CHECK(contrast(t.ink, t.sold) >= 7.0);
    CHECK(contrast(t.ink2, t.error_ground) >= 7.0);
    CHECK(contrast(t.leaf, t.growing_ground) >= 7.0);
  }
}

TEST_CASE("the table's own figures come out") {
  CHECK(contrast(day_theme().ink, day_theme().pane) == doctest::Approx(14.8).epsilon(0.01));
  CHECK(contrast(day_theme().tunic, day_theme().sheet) == doctest::Approx(11.3).epsilon(0.01));
  CHECK(contrast(day_theme().slate_fill, day_theme().well) == doctest::Approx(3.5).epsilon(0.02));
  CHECK(contrast(night_theme().copper, night_theme().pane) == doctest::Approx(10.9).epsilon(0.01));
  CHECK(contrast(night_theme().edge, night_theme().sheet) == doctest::Approx(4.3).epsilon(0.02));
}

}  // namespace motherbulb

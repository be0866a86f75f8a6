// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_pots_screen(ScreenView& view) {
  return draw_top(view, {"Pests & damage", "", true, false, true, true});
}

}  // namespace motherbulb

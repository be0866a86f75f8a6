// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_pot_screen(ScreenView& view) {
  return draw_top(view, {"Pot", "", true, false, true, true});
}

}  // namespace motherbulb

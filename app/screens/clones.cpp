// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_clones_screen(ScreenView& view) {
  return draw_top(view, {"Clones", "", true, false, true, true});
}

}  // namespace motherbulb

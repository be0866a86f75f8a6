// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_first_screen(ScreenView& view) {
  return draw_top(view, {"Motherbulb", "", true, false, true, true});
}

}  // namespace motherbulb

// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_find_screen(ScreenView& view) {
  return draw_top(view, {"Find a pot", "", true, false, true, true});
}

}  // namespace motherbulb

// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_settings_screen(ScreenView& view) {
  return draw_top(view, {"Settings", "", true, false, true, true});
}

}  // namespace motherbulb

// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_clone_screen(ScreenView& view) {
  return draw_top(view, {"Clone", "", true, false, true, true});
}

}  // namespace motherbulb

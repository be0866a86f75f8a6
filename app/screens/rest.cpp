// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_rest_screen(ScreenView& view) {
  return draw_top(view, {"Rest & repot", "", true, false, true, true});
}

}  // namespace motherbulb

// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_care_screen(ScreenView& view) {
  return draw_top(view, {"Work", "", true, false, true, true});
}

}  // namespace motherbulb

// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_cut_screen(ScreenView& view) {
  return draw_top(view, {"Cutting session", "", true, false, true, true});
}

}  // namespace motherbulb

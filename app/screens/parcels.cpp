// To be built.

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_parcels_screen(ScreenView& view) {
  return draw_top(view, {"Parcels", "", true, false, true, true});
}

}  // namespace motherbulb

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_health_screen(ScreenView& view) {
  return draw_top(view, {"Health", ""});
}

}  // namespace motherbulb

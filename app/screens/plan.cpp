#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_plan_screen(ScreenView& view) {
  return draw_top(view, {"Growing plan", ""});
}

}  // namespace motherbulb

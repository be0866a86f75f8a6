#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_plans_screen(ScreenView& view) {
  return draw_top(view, {"Growing plans", ""});
}

}  // namespace motherbulb

#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_due_screen(ScreenView& view) {
  return draw_top(view, {"Rest & repot", ""});
}

}  // namespace motherbulb

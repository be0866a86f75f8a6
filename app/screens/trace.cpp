#include "app/screens/screens.hpp"

namespace motherbulb {

std::optional<Wish> draw_trace_screen(ScreenView& view) {
  return draw_top(view, {"Trace", ""});
}

}  // namespace motherbulb

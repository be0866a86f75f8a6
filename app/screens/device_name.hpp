// The name and the letter of this device, on the settings and at the first start.
#pragma once

#include <optional>

#include "app/screens/screens.hpp"

namespace motherbulb {

// Room that draw_device_name needs at this width.
[[nodiscard]] float device_name_height(ScreenView& view, float width);
// Names to tap, keys to write another, and the letters; a letter that another device uses is refused in words. The wish
// is Keep; `after` is called besides once the book has it. The act that keeps stands at the foot and leaves so much
// room free at its right.
std::optional<Wish> draw_device_name(ScreenView& view, Rect area, float room_right,
                                     std::function<void(UiState&)> after);

}  // namespace motherbulb

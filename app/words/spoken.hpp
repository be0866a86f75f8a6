// What controls do that show a picture and no word: said to whoever cannot see it.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace motherbulb {

// By the control's name in the touch map; none where nothing is known of it.
[[nodiscard]] std::optional<std::string> words_without_text(std::string_view name);

}  // namespace motherbulb

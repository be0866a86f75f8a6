// The frame of what is printed: an HTML page that needs nothing beside itself, in ink on paper, A4.
#pragma once

#include <string>
#include <string_view>

namespace motherbulb {

[[nodiscard]] std::string html_escape(std::string_view text);
// The whole page; `body` is HTML. Style classes: `label` (a pot's tag), `box` (to be ticked), `quiet`, `late`.
[[nodiscard]] std::string page(const std::string& title, const std::string& body);

}  // namespace motherbulb

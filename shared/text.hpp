// Text as all devices agree on it: UTF-8.
#pragma once

#include <string_view>

namespace motherbulb {

// Well-formed by RFC 3629: no byte sequence longer than needed, no surrogate, nothing above U+10FFFF.
bool is_utf8(std::string_view text);

}  // namespace motherbulb

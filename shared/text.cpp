#include "shared/text.hpp"

#include <cstddef>

namespace motherbulb {

// The ranges of RFC 3629, section 4: the second byte's range depends on the first.
bool is_utf8(std::string_view text) {
  std::size_t at = 0;
  const auto byte = [&text](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  while (at < text.size()) {
    const unsigned char first = byte(at);
    if (first < 0x80) {
      ++at;
      continue;
    }
    std::size_t more;
    unsigned char low = 0x80;
    unsigned char high = 0xbf;
    if (first >= 0xc2 && first <= 0xdf) {
      more = 1;
    } else if (first >= 0xe0 && first <= 0xef) {
      more = 2;
      if (first == 0xe0) low = 0xa0;
      if (first == 0xed) high = 0x9f;
    } else if (first >= 0xf0 && first <= 0xf4) {
      more = 3;
      if (first == 0xf0) low = 0x90;
      if (first == 0xf4) high = 0x8f;
    } else {
      return false;
    }
    if (more > text.size() - at - 1 || byte(at + 1) < low || byte(at + 1) > high) return false;
    for (std::size_t i = 2; i <= more; ++i) {
      if (byte(at + i) < 0x80 || byte(at + i) > 0xbf) return false;
    }
    at += 1 + more;
  }
  return true;
}

}  // namespace motherbulb

#include "shared/text.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace motherbulb;

namespace {

// The encoding of a code point by the table of RFC 3629, section 3, in as many bytes as asked for.
std::string encoded(std::uint32_t code, int bytes) {
  if (bytes == 1) return std::string(1, static_cast<char>(code));
  std::string text;
  for (int i = 0; i < bytes - 1; ++i) {
    text.insert(text.begin(), static_cast<char>(0x80 | (code & 0x3f)));
    code >>= 6;
  }
  const int lead = bytes == 2 ? 0xc0 : bytes == 3 ? 0xe0 : 0xf0;
  text.insert(text.begin(), static_cast<char>(static_cast<std::uint32_t>(lead) | code));
  return text;
}

int shortest(std::uint32_t code) {
  return code < 0x80 ? 1 : code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
}

}  // namespace

TEST_CASE("every character of Unicode is UTF-8 in its shortest form and in no longer one") {
  std::size_t wrong = 0;
  for (std::uint32_t code = 0; code < 0x200000; ++code) {
    const bool character = code <= 0x10ffff && (code < 0xd800 || code > 0xdfff);
    wrong += is_utf8(encoded(code, shortest(code))) != character;
    if (shortest(code) < 4) wrong += is_utf8(encoded(code, shortest(code) + 1));
  }
  CHECK(wrong == 0);
}

TEST_CASE("the examples of RFC 3629, section 7, are UTF-8, and any cut of them within a character is not") {
  for (const std::string& text :
       {std::string("\x41\xe2\x89\xa2\xce\x91\x2e"), std::string("\xed\x95\x9c\xea\xb5\xad\xec\x96\xb4"),
        std::string("\xe6\x97\xa5\xe6\x9c\xac\xe8\xaa\x9e"), std::string("\xef\xbb\xbf\xf0\xa3\x8e\xb4")}) {
    CHECK(is_utf8(text));
    for (std::size_t i = 1; i < text.size(); ++i) {
      const bool within = (static_cast<unsigned char>(text[i]) & 0xc0) == 0x80;
      CHECK(is_utf8(text.substr(0, i)) == !within);
      CHECK(is_utf8(text.substr(i)) == !within);
    }
  }
}

TEST_CASE("bytes of other encodings are not UTF-8; nothing and a nought are") {
  CHECK(is_utf8(""));
  CHECK(is_utf8(std::string("\0", 1)));
  CHECK_FALSE(is_utf8("Caf\xe9"));  // Latin-1
  CHECK_FALSE(
      is_utf8("\xff\xfe"
              "a"));  // a byte-order mark of UTF-16
  CHECK_FALSE(is_utf8("\x80"));
  CHECK_FALSE(is_utf8("\xc3"));
  CHECK_FALSE(is_utf8("\xf8\x88\x80\x80\x80"));
}

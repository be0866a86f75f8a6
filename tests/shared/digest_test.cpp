#include "shared/digest.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace motherbulb;

TEST_CASE("a digest over parts is that over the whole, of each length") {
  std::string text;
  for (int i = 0; i < 1000; ++i) text += static_cast<char>(i * 7);
  for (std::size_t length : {16u, 20u, 32u}) {
    std::uint8_t whole[32] = {};
    std::uint8_t parts[32] = {};
    Digest(length).raw(text).finish(whole);
    Digest digest(length);
    for (std::size_t at = 0; at < text.size(); at += 37) digest.raw(std::string_view(text).substr(at, 37));
    digest.finish(parts);
    CHECK(hex(whole, length) == hex(parts, length));
  }
}

TEST_CASE("short digests are BLAKE2b of 16 bytes and its first 8, least byte first") {
  // BLAKE2b of 16 bytes of "abc" as Python's hashlib.blake2b(b"abc", digest_size=16) gives it, an implementation by
  // others (tests/read_parcel.py leans on it too).
  CHECK(hex(digest_128("abc")) == "cf4ab791c62b8d2b2109c90275287816");
  CHECK(digest_64("abc") == 0x2b8d2bc691b74acf);
}

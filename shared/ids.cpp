#include "shared/ids.hpp"

namespace motherbulb {

std::string hex(const std::uint8_t* bytes, std::size_t count) {
  static const char digits[] = "0123456789abcdef";
  std::string text;
  text.reserve(2 * count);
  for (std::size_t i = 0; i < count; ++i) {
    text += digits[bytes[i] >> 4];
    text += digits[bytes[i] & 15];
  }
  return text;
}

std::string hex(MatterId id) {
  std::uint8_t bytes[6];
  for (int i = 0; i < 6; ++i) bytes[i] = static_cast<std::uint8_t>(id.value >> (40 - 8 * i));
  return hex(bytes, 6);
}

bool from_hex(std::string_view text, std::uint8_t* out, std::size_t count) {
  if (text.size() != 2 * count) return false;
  const auto digit = [](char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
  };
  for (char c : text) {
    if (digit(c) < 0) return false;
  }
  for (std::size_t i = 0; i < count; ++i) {
    out[i] = static_cast<std::uint8_t>(digit(text[2 * i]) * 16 + digit(text[2 * i + 1]));
  }
  return true;
}

std::optional<MatterId> matter_id_from_hex(std::string_view text) {
  std::uint8_t bytes[6];
  if (!from_hex(text, bytes, 6)) return std::nullopt;
  MatterId id;
  for (std::uint8_t byte : bytes) id.value = id.value << 8 | byte;
  return id;
}

}  // namespace motherbulb

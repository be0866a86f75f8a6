#include "core/label.hpp"

namespace motherbulb {
namespace {

// The value of a character in ISO/IEC 7064's alphanumeric set; -1 for others. Small letters are not taken here.
int value_of(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'A' && c <= 'Z') return c - 'A' + 10;
  return -1;
}

char capital(char c) {
  return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
}

constexpr std::size_t longest_number = 12;

}  // namespace

// ISO/IEC 7064:2003, system MOD 37,2 (pure, radix 2, one check character): the check character is the value that makes
// the sum of each character times 2 to the power of its place, from the right, congruent to 1 modulo 37.
std::optional<char> check_character(std::string_view text) {
  int sum = 0;
  for (const char c : text) {
    const int value = value_of(c);
    if (value < 0) return std::nullopt;
    sum = (sum + value) * 2 % 37;
  }
  const int check = (38 - sum) % 37;
  if (check == 36) return '*';
  return static_cast<char>(check < 10 ? '0' + check : 'A' + check - 10);
}

std::string to_text(const Label& label) {
  std::string number = std::to_string(label.number);
  while (number.size() < 3) number.insert(number.begin(), '0');
  std::string text;
  text += static_cast<char>('0' + label.year / 10 % 10);
  text += static_cast<char>('0' + label.year % 10);
  text += label.letter;
  text += number;
  const auto check = check_character(text);
  return text + "-" + check.value_or('?');
}

std::optional<Label> label_from_text(std::string_view text) {
  if (text.size() < 8 || text.size() > 5 + longest_number || text[text.size() - 2] != '-') return std::nullopt;
  std::string body;
  for (const char c : text.substr(0, text.size() - 2)) body += capital(c);
  Label label;
  for (std::size_t i = 0; i < 2; ++i) {
    if (body[i] < '0' || body[i] > '9') return std::nullopt;
    label.year = label.year * 10 + (body[i] - '0');
  }
  label.letter = body[2];
  if (label.letter < 'A' || label.letter > 'Z') return std::nullopt;
  for (std::size_t i = 3; i < body.size(); ++i) {
    if (body[i] < '0' || body[i] > '9') return std::nullopt;
    label.number = label.number * 10 + (body[i] - '0');
  }
  if (body.size() > 6 && body[3] == '0') return std::nullopt;  // one way of writing a number only
  if (check_character(body) != capital(text.back())) return std::nullopt;
  return label;
}

}  // namespace motherbulb

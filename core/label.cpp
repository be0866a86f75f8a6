#include "core/label.hpp"

#include <algorithm>

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
constexpr std::string_view alphabet = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*";

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return c >= 'A' && c <= 'Z';
}

// Digits from `at` on, as a number; moves `at` behind them. None where there are none, or too many.
std::optional<std::int64_t> take_number(std::string_view text, std::size_t& at) {
  const std::size_t from = at;
  std::int64_t number = 0;
  while (at < text.size() && is_digit(text[at])) {
    if (at - from >= longest_number) return std::nullopt;
    number = number * 10 + (text[at++] - '0');
  }
  if (at == from) return std::nullopt;
  return number;
}

// The label of a text without its hyphen, where its check character is right.
std::optional<Label> label_of_plain(std::string plain) {
  if (plain.empty()) return std::nullopt;
  plain.insert(plain.size() - 1, "-");
  return label_from_text(plain);
}

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

std::vector<TypedLabel> label_readings(std::string_view typed) {
  std::string text;
  for (const char c : typed) {
    if (c != ' ') text += capital(c);
  }
  std::vector<TypedLabel> readings;
  if (text.empty()) return readings;
  TypedLabel rest;
  std::string front = text;
  if (const std::size_t stroke = text.find('/'); stroke != std::string::npos) {
    front = text.substr(0, stroke);
    std::size_t at = stroke + 1;
    if (at < text.size()) {
      const auto pot = take_number(text, at);
      if (!pot || at != text.size() || *pot < 1 || *pot > INT32_MAX) return readings;
      rest.pot = static_cast<std::int32_t>(*pot);
    }
    if (front.empty()) return readings;
  }
  // A hyphen, or a letter or star behind the number, begins the check character.
  if (const std::size_t hyphen = front.find('-'); hyphen != std::string::npos) {
    if (hyphen + 2 < front.size() || hyphen == 0) return readings;
    if (hyphen + 1 < front.size()) {
      if (alphabet.find(front[hyphen + 1]) == std::string_view::npos) return readings;
      rest.check = front[hyphen + 1];
    }
    front.resize(hyphen);
  }
  const auto with = [&](std::optional<std::int32_t> year, std::optional<char> letter,
                        std::optional<std::int64_t> number, std::optional<char> check) {
    TypedLabel one = rest;
    one.year = year;
    one.letter = letter;
    one.number = number;
    if (check) one.check = check;
    readings.push_back(one);
  };
  std::size_t at = 0;
  while (at < front.size() && is_digit(front[at])) ++at;
  const std::string digits = front.substr(0, at);
  if (at == front.size()) {
    // Figures alone: a number, and a year with a number where there are enough of them.
    std::size_t all = 0;
    if (const auto number = take_number(digits, all)) with(std::nullopt, std::nullopt, number, std::nullopt);
    if (digits.size() >= 3) {
      std::size_t from = 2;
      const auto number = take_number(digits, from);
      if (number) with((digits[0] - '0') * 10 + digits[1] - '0', std::nullopt, number, std::nullopt);
    }
    return readings;
  }
  if (!is_letter(front[at])) return readings;
  const char letter = front[at];
  std::optional<std::int32_t> year;
  if (digits.size() == 2) year = (digits[0] - '0') * 10 + digits[1] - '0';
  std::size_t behind = at + 1;
  const bool number_follows = behind < front.size() && is_digit(front[behind]);
  if (digits.empty() || digits.size() == 2) {
    if (!number_follows && behind == front.size()) {
      with(year, letter, std::nullopt, std::nullopt);
    } else if (number_follows) {
      std::size_t end = behind;
      const auto number = take_number(front, end);
      if (number && end == front.size()) {
        with(year, letter, number, std::nullopt);
        // Without the hyphen the last figure may be the check character.
        if (year && !rest.check && end - behind >= 4) {
          std::size_t from = behind;
          const auto shorter = take_number(std::string_view(front).substr(0, end - 1), from);
          with(year, letter, shorter, front[end - 1]);
        }
      } else if (number && end + 1 == front.size() && !rest.check &&
                 alphabet.find(front[end]) != std::string_view::npos) {
        with(year, letter, number, front[end]);
      }
    }
  } else if (behind == front.size() && !rest.check) {
    // "014B": the end of a label, number and check character.
    std::size_t from = 0;
    if (const auto number = take_number(digits, from)) with(std::nullopt, std::nullopt, number, letter);
  }
  return readings;
}

bool fits(const TypedLabel& typed, const Label& label) {
  if (typed.year && *typed.year != label.year) return false;
  if (typed.letter && *typed.letter != label.letter) return false;
  if (typed.number && *typed.number != label.number) return false;
  return !typed.check || *typed.check == to_text(label).back();
}

std::vector<LabelMend> label_mends(const TypedLabel& wrong, const std::vector<std::string>& known) {
  std::vector<LabelMend> mends;
  if (!wrong.whole()) return mends;
  // The text as it was typed, with the wrong check character in place of the right one.
  std::string plain = to_text(Label{*wrong.year, *wrong.letter, *wrong.number});
  plain.erase(plain.size() - 2);
  plain += *wrong.check;
  const std::size_t last = plain.size() - 1;
  const auto place = [&](std::size_t i) { return i == last ? i + 1 : i; };  // with the hyphen
  for (std::size_t i = 0; i < plain.size(); ++i) {
    for (const char other : alphabet) {
      if (other == plain[i]) continue;
      std::string mended = plain;
      mended[i] = other;
      if (const auto label = label_of_plain(mended)) mends.push_back({*label, place(i), plain[i], other, false});
    }
    if (i + 1 < plain.size() && plain[i] != plain[i + 1]) {
      std::string mended = plain;
      std::swap(mended[i], mended[i + 1]);
      if (const auto label = label_of_plain(mended)) mends.push_back({*label, place(i), plain[i], plain[i + 1], true});
    }
  }
  const auto is_known = [&](const LabelMend& mend) {
    return std::binary_search(known.begin(), known.end(), to_text(mend.label));
  };
  if (std::any_of(mends.begin(), mends.end(), is_known)) {
    mends.erase(std::remove_if(mends.begin(), mends.end(), [&](const LabelMend& mend) { return !is_known(mend); }),
                mends.end());
  }
  return mends;
}

}  // namespace motherbulb

#include "shared/units.hpp"

#include <array>
#include <cctype>

namespace motherbulb {
namespace {

constexpr std::array<std::string_view, 11> method_words = {
    "",        "offsets",  "halving",      "quartering", "chipping",  "cross-cutting",
    "scoring", "scooping", "twin-scaling", "scaling",    "growing-on"};
constexpr std::array<std::string_view, cause_count> cause_words = {"unknown", "rot",   "pest",     "disease",
                                                                   "animal",  "frost", "dried-out"};
constexpr std::array<std::string_view, 3> yes_no_words = {"", "no", "yes"};
constexpr std::array<std::string_view, 4> blade_words = {"", "no", "per-batch", "per-bulb"};
constexpr std::array<std::string_view, 4> moisture_words = {"", "dry", "damp", "wet"};
constexpr std::array<std::string_view, 4> result_words = {"", "negative", "positive", "unclear"};

template <class Enum, std::size_t N>
std::optional<Enum> find(const std::array<std::string_view, N>& words, std::string_view text, std::size_t from) {
  for (std::size_t i = from; i < N; ++i) {
    if (words[i] == text) return static_cast<Enum>(i);
  }
  return std::nullopt;
}

std::string centimetres(std::int32_t mm) {
  std::string text = std::to_string(mm / 10);
  if (mm % 10 != 0) text += "." + std::to_string(mm % 10);
  return text;
}

// A length in cm with at most one decimal, as millimetres.
std::optional<std::int32_t> take_length(std::string_view text, std::size_t& at) {
  std::int32_t mm = 0;
  const std::size_t first = at;
  while (at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) && at - first < 4) {
    mm = mm * 10 + (text[at++] - '0');
  }
  if (at == first) return std::nullopt;
  mm *= 10;
  if (at + 1 < text.size() && text[at] == '.' && std::isdigit(static_cast<unsigned char>(text[at + 1]))) {
    mm += text[at + 1] - '0';
    at += 2;
    while (at < text.size() && text[at] == '0') ++at;
  }
  if (at < text.size() && std::isdigit(static_cast<unsigned char>(text[at]))) return std::nullopt;
  if (mm > 2000) return std::nullopt;
  return mm;
}

void skip_spaces(std::string_view text, std::size_t& at) {
  while (at < text.size() && text[at] == ' ') ++at;
}

bool take_dash(std::string_view text, std::size_t& at) {
  for (std::string_view dash : {"-", "\u2013", "\u2014", "\u2212", "/", "to"}) {
    if (text.substr(at, dash.size()) == dash) {
      at += dash.size();
      return true;
    }
  }
  return false;
}

bool only_unit_left(std::string_view text, std::size_t at) {
  skip_spaces(text, at);
  if (text.substr(at, 2) == "cm") at += 2;
  skip_spaces(text, at);
  return at == text.size();
}

}  // namespace

std::string to_text(Grade grade) {
  if (!grade.sized()) return "";
  if (grade.high_mm < 0) return centimetres(grade.low_mm) + "+";
  if (grade.low_mm < 0) return "-" + centimetres(grade.high_mm);
  return centimetres(grade.low_mm) + "-" + centimetres(grade.high_mm);
}

std::optional<Grade> grade_from_text(std::string_view text) {
  std::size_t at = 0;
  skip_spaces(text, at);
  Grade grade;
  if (const auto low = take_length(text, at)) {
    grade.low_mm = *low;
    skip_spaces(text, at);
    if (at < text.size() && text[at] == '+') {
      return only_unit_left(text, at + 1) ? std::optional<Grade>(grade) : std::nullopt;
    }
  } else if (at != 0 || text.empty()) {
    return std::nullopt;
  }
  if (!take_dash(text, at)) return std::nullopt;
  skip_spaces(text, at);
  const auto high = take_length(text, at);
  if (!high || !only_unit_left(text, at) || *high <= grade.low_mm || *high == 0) return std::nullopt;
  grade.high_mm = *high;
  return grade;
}

std::string_view to_text(Method method) {
  return method_words[static_cast<std::size_t>(method)];
}
std::optional<Method> method_from_text(std::string_view text) {
  return find<Method>(method_words, text, 1);
}
std::string_view to_text(Cause cause) {
  return cause_words[static_cast<std::size_t>(cause)];
}
std::optional<Cause> cause_from_text(std::string_view text) {
  return find<Cause>(cause_words, text, 0);
}
std::string_view to_text(YesNo value) {
  return yes_no_words[static_cast<std::size_t>(value)];
}
std::string_view to_text(Blade value) {
  return blade_words[static_cast<std::size_t>(value)];
}
std::string_view to_text(Moisture value) {
  return moisture_words[static_cast<std::size_t>(value)];
}
std::string_view to_text(TestResult value) {
  return result_words[static_cast<std::size_t>(value)];
}
std::optional<YesNo> yes_no_from_text(std::string_view text) {
  return find<YesNo>(yes_no_words, text, 0);
}
std::optional<Blade> blade_from_text(std::string_view text) {
  return find<Blade>(blade_words, text, 0);
}
std::optional<Moisture> moisture_from_text(std::string_view text) {
  return find<Moisture>(moisture_words, text, 0);
}
std::optional<TestResult> test_result_from_text(std::string_view text) {
  return find<TestResult>(result_words, text, 0);
}

}  // namespace motherbulb

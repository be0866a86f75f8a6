#include "app/cli/numbers.hpp"

#include <cmath>

#include "app/cli/output.hpp"
#include "core/names.hpp"

namespace motherbulb::cli {

std::optional<double> decimal(std::string_view text, int figures_behind) {
  // At most 15 figures with a point among them: both they and the power of ten are exact as doubles, so their quotient
  // is the double nearest to what was written.
  std::int64_t figures = 0;
  int count = 0;
  bool point = false;
  for (const char c : text) {
    if (c == '.' && !point) {
      point = true;
      continue;
    }
    if (c < '0' || c > '9' || ++count > 15) return std::nullopt;
    figures = figures * 10 + (c - '0');
    if (point) ++figures_behind;
  }
  if (count == 0) return std::nullopt;
  return static_cast<double>(figures) / std::pow(10.0, figures_behind);
}

std::optional<double> part(std::string_view text) {
  if (text.empty() || text.back() != '%') return decimal(text);
  text.remove_suffix(1);
  return decimal(trimmed(text), 2);
}

std::optional<std::int64_t> whole(std::string_view text) {
  if (text.empty() || text.size() > 12 || text.find_first_not_of("0123456789") != std::string_view::npos) {
    return std::nullopt;
  }
  std::int64_t number = 0;
  for (const char c : text) number = number * 10 + (c - '0');
  return number;
}

int no_number(const char* option, const std::string& text, const char* takes) {
  return fail_usage(std::string(option) + " takes " + takes + ", not \"" + on_one_line(text) + "\"");
}

std::optional<int> read_decimal(const char* option, const std::string& text, const char* takes, double& into) {
  if (text.empty()) return std::nullopt;
  const auto number = decimal(text);
  if (!number) return no_number(option, text, takes);
  into = *number;
  return std::nullopt;
}

std::string percent(double part_of_one) {
  return std::to_string(std::llround(part_of_one * 100)) + " %";
}

}  // namespace motherbulb::cli

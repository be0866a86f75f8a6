// Numbers, years and chances of the outlook in words.

#include <algorithm>
#include <cctype>
#include <cmath>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/chance.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {

std::string year_after(const ScreenView& view, std::size_t seasons) {
  return std::to_string(civil(view.today).year + static_cast<std::int32_t>(seasons));
}

std::string month_after(const ScreenView& view, std::size_t seasons) {
  return say(outlook_words().by, month_name(civil(view.today).month), year_after(view, seasons));
}

std::string girth_words(std::int32_t girth_mm) {
  std::string girth = grade_words({girth_mm, -1});
  if (!girth.empty() && girth.back() == '+') girth.pop_back();
  return girth;
}

std::string chance_words(double chance) {
  const OutlookWords& w = outlook_words();
  if (chance >= 0.095) return say(w.of_100, in_a_hundred(chance));
  if (chance <= 0) return std::string(w.none_lost);
  if (chance < 1e-6) return std::string(w.under_million);
  // Two figures: more are not known.
  const double ones = 1 / chance;
  const double power = std::pow(10.0, std::floor(std::log10(ones)) - 1);
  return say(w.one_in, grouped(static_cast<std::int64_t>(std::llround(std::round(ones / power) * power))));
}

std::string rounded_words(double count) {
  return grouped(static_cast<std::int64_t>(std::llround(std::clamp(count, -1e15, 1e15))));
}

std::string few_words(double count) {
  const double tenths = std::round(count * 10) / 10;
  if (tenths >= 10 || tenths == std::round(tenths)) return rounded_words(count);
  return fmt::format("{:.1f}", tenths);
}

std::string without_numbers_of_sources(const std::string& sentence) {
  const OutlookWords& w = outlook_words();
  const auto is_digit = [&](std::size_t at) {
    return at < sentence.size() && sentence[at] >= '0' && sentence[at] <= '9';
  };
  const auto is_letter = [&](std::size_t at) {
    return at < sentence.size() && std::isalpha(static_cast<unsigned char>(sentence[at])) != 0;
  };
  // The end of a number that begins there; the beginning itself where none does.
  const auto end_of = [&](std::size_t from) {
    if (from >= sentence.size() || sentence[from] != 'S' || !is_digit(from + 1) || (from > 0 && is_letter(from - 1)))
      return from;
    std::size_t at = from + 1;
    while (is_digit(at)) ++at;
    return is_letter(at) && !is_letter(at + 1) ? at + 1 : at;
  };
  std::string told;
  for (std::size_t i = 0; i < sentence.size();) {
    std::size_t end = end_of(i);
    if (end == i) {
      told += sentence[i++];
      continue;
    }
    bool several = false;
    while (sentence.compare(end, 2, ", ") == 0 && end_of(end + 2) > end + 2) {
      end = end_of(end + 2);
      several = true;
    }
    i = end;
    // That it is published is said already.
    const std::string before = std::string(w.as_published) + " (";
    const bool alone = end < sentence.size() && sentence[end] == ')';
    if (alone && told.size() >= before.size() &&
        told.compare(told.size() - before.size(), before.size(), before) == 0) {
      told.resize(told.size() - 2);
      ++i;
      continue;
    }
    told += several ? w.trials : w.one_trial;
  }
  return told;
}

}  // namespace motherbulb::ahead

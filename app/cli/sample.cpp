#include "core/health/sampling.hpp"

#include <cmath>

#include "app/cli/command.hpp"
#include "core/names.hpp"

namespace motherbulb::cli {
namespace {

// At most 15 figures with a point among them: both they and the power of ten are exact as doubles, so their quotient is
// the double nearest to what was written. `figures_behind` moves the point further to the left.
std::optional<double> decimal(std::string_view text, int figures_behind) {
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

// 0.05 or 5%.
std::optional<double> part(std::string_view text) {
  if (text.empty() || text.back() != '%') return decimal(text, 0);
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

// 95.03 %, rounded down so that what is not reached does not look reached.
std::string percent(double part_of_one) {
  const auto hundredths = static_cast<std::int64_t>(std::floor(part_of_one * 10'000 + 1e-6));
  std::string behind = std::to_string(hundredths % 100);
  if (behind.size() < 2) behind.insert(0, 1, '0');
  return std::to_string(hundredths / 100) + "." + behind + " %";
}

std::string told(const SampleWish& wish, const Sample& sample) {
  std::string text = "Of " + counted(wish.lot, "bulb", "bulbs") + ", " + counted(sample.infected, "is", "are") +
                     " taken to be infected.\n";
  if (!sample.tests) {
    return text + "Even testing all of them finds one with " + percent(sample.reached) + " only, and not " +
           percent(wish.confidence) + ".\n";
  }
  text += "Test " + counted(sample.bulbs, "bulb", "bulbs");
  if (wish.pool > 1) {
    text += " in " + counted(*sample.tests, "pool", "pools") + " of " + std::to_string(wish.pool);
    if (sample.bulbs % wish.pool != 0) text += ", the last of " + std::to_string(sample.bulbs % wish.pool);
  }
  return text + ", taken at random: if so many are infected, at least one test says so with " +
         percent(sample.reached) + ".\n";
}

}  // namespace

int sample(const SampleWords& words, const Context& context) {
  constexpr const char* of_one = "a part of one, as 0.05 or 5%";
  constexpr const char* whole_number = "a whole number";
  SampleWish wish;
  const auto lot = whole(words.lot);
  if (!lot) return no_number("--lot", words.lot, whole_number);
  wish.lot = *lot;
  const auto share = part(words.share);
  if (!share) return no_number("--share", words.share, of_one);
  wish.share = *share;
  const auto confidence = part(words.confidence);
  if (!confidence) return no_number("--confidence", words.confidence, of_one);
  wish.confidence = *confidence;
  const auto sensitivity = part(words.sensitivity);
  if (!sensitivity) return no_number("--sensitivity", words.sensitivity, of_one);
  wish.sensitivity = *sensitivity;
  const auto pool = whole(words.pool);
  if (!pool) return no_number("--pool", words.pool, whole_number);
  wish.pool = *pool;
  const auto answer = sample_size(wish);
  if (!answer) return fail_usage("--" + answer.error().what);
  if (context.format == Format::json) {
    return say_json(Json{{"lot", wish.lot},
                         {"share", wish.share},
                         {"confidence", wish.confidence},
                         {"sensitivity", wish.sensitivity},
                         {"pool", wish.pool},
                         {"infected", answer->infected},
                         {"tests", answer->tests ? Json(*answer->tests) : Json(nullptr)},
                         {"bulbs", answer->bulbs},
                         {"reached", answer->reached}});
  }
  return say(told(wish, *answer));
}

}  // namespace motherbulb::cli

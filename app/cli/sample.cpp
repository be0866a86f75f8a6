#include "core/health/sampling.hpp"

#include <cmath>

#include "app/cli/command.hpp"
#include "app/cli/numbers.hpp"
#include "core/names.hpp"

namespace motherbulb::cli {
namespace {

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
  SampleWish wish;
  const auto lot = whole(words.lot);
  if (!lot) return no_number("--lot", words.lot, takes_a_whole_number);
  wish.lot = *lot;
  const auto share = part(words.share);
  if (!share) return no_number("--share", words.share, takes_a_part);
  wish.share = *share;
  const auto confidence = part(words.confidence);
  if (!confidence) return no_number("--confidence", words.confidence, takes_a_part);
  wish.confidence = *confidence;
  const auto sensitivity = part(words.sensitivity);
  if (!sensitivity) return no_number("--sensitivity", words.sensitivity, takes_a_part);
  wish.sensitivity = *sensitivity;
  const auto pool = whole(words.pool);
  if (!pool) return no_number("--pool", words.pool, takes_a_whole_number);
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

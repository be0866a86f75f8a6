#include "app/cli/plan_store.hpp"

#include <cmath>

#include "app/cli/numbers.hpp"
#include "app/cli/reckoning.hpp"
#include "app/cli/text_file.hpp"
#include "core/science/advice.hpp"
#include "core/science/plan_file.hpp"
#include "core/science/season_plan.hpp"

namespace motherbulb::cli {
namespace {

// The exit code where a word cannot be read.
std::optional<int> wish_of(const PlanWords& words, SeasonWish& wish) {
  if (const auto code = read_seasons(words, wish.seasons)) return *code;
  if (!words.target.empty()) {
    constexpr std::size_t longest_wait = 15;
    if (const auto code = read_target(words, wish.target.emplace())) return *code;
    // As soon as can be: the command line takes no season beside a target.
    wish.soonest = true;
    wish.seasons = longest_wait;
  }
  if (!words.reserve.empty()) {
    const auto reserve = whole(words.reserve);
    if (!reserve || *reserve > most_plan_bulbs) return no_number("--reserve", words.reserve, takes_a_whole_number);
    wish.reserve = *reserve;
  }
  if (!words.sure.empty()) {
    const auto sure = part(words.sure);
    if (!sure || !(*sure < 1)) return no_number("--sure", words.sure, "a chance below 1, as 0.8 or 80%");
    wish.sure = *sure;
  }
  return read_limits(words, wish.pots, wish.hours);
}

PlanAnswer answer_of(const std::vector<PlanClone>& clones, const SeasonPlan& plan) {
  PlanAnswer answer{.chance = plan.chance};
  for (const SeasonActMeaning& meaning : plan.meanings) {
    PlanActWords words{.clone = clones[meaning.clone].clone};
    words.grade = meaning.grade ? to_text(*meaning.grade) : std::string("sections");
    if (meaning.method) words.method = std::string(to_text(*meaning.method));
    if (meaning.kind == PlanActKind::cuts) words.sections = meaning.sections;
    answer.words.push_back(std::move(words));
  }
  for (const SeasonChoice& choice : plan.beside) {
    answer.beside.push_back({choice.name, choice.saleable.back(), choice.chance, choice.within_limits});
  }
  if (plan.release) {
    answer.release =
        PlanRelease{plan.release->season, static_cast<double>(plan.release->counts.front()), plan.release->chance};
  }
  answer.advice = advice_of(clones, plan);
  return answer;
}

std::string chances_told(const SeasonPlan& plan, const SeasonWish& wish) {
  std::string text;
  if (plan.chance) {
    text += "\nIn " + percent(*plan.chance) + " of " + std::to_string(wish.paths) + " walks through chance " +
            std::to_string(*wish.target) + " or more are saleable then.\n";
    if (!plan.sure_enough) text += "That is not as sure as was asked for; no plan that was found is surer.\n";
  }
  if (!plan.saleable.empty()) {
    const Spread& last = plan.saleable.back();
    text +=
        "Saleable then: in nine cases of ten " + std::to_string(*last.p5) + " to " + std::to_string(*last.p95) + ".\n";
  }
  if (plan.release) {
    text += "The first season in which " + std::to_string(*wish.target) +
            " can be let go: " + std::to_string(plan.release->season) + ".\n";
  }
  return text;
}

}  // namespace

int plan_of_book(const PlanWords& words, const Context& context) {
  SeasonWish wish;
  if (const auto code = wish_of(words, wish)) return *code;
  double seconds = usual_plan_seconds;
  if (const auto code = read_time_limit(words, seconds)) return *code;
  const auto opened = open_to_reckon(words.store, context);
  if (!opened) return fail(opened.error());
  const auto clones = plan_clones_of(*opened->book, opened->known, words.clone, opened->gives);
  if (!clones) return fail(clones.error());
  const auto found = season_plan(*clones, wish, for_seconds(seconds, context.machine.host));
  if (!found) return fail(found.error());
  if (!words.save_model.empty()) {
    const auto written = write_text(words.save_model, to_json(found->task), context.machine);
    if (!written) return fail(written.error());
  }
  const PlanAnswer answer = answer_of(*clones, *found);
  const int code = found->plan.feasible ? 0 : 1;
  if (context.format == Format::json) return say(to_json(found->task, found->plan, answer), code);
  std::string text = plan_told(found->task, found->plan, answer, false) + chances_told(*found, wish);
  if (!answer.advice.empty()) text += "\nThis season\n";
  for (const std::string& line : answer.advice) text += "  " + on_one_line(line) + "\n";
  if (!found->missing.empty()) text += "\nNot in the book, and taken as said\n";
  for (const std::string& line : found->missing) text += "  " + on_one_line(line) + "\n";
  return say(text, code);
}

}  // namespace motherbulb::cli

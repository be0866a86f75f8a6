#include "app/cli/plan_store.hpp"

#include <cmath>

#include "app/cli/day.hpp"
#include "app/cli/numbers.hpp"
#include "app/cli/text_file.hpp"
#include "core/science/advice.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/book_yields.hpp"
#include "core/science/plan_file.hpp"
#include "core/science/season_plan.hpp"

namespace motherbulb::cli {
namespace {

constexpr double usual_seconds = 20;

// The exit code where a word cannot be read.
std::optional<int> wish_of(const PlanWords& words, SeasonWish& wish) {
  if (!words.by_season.empty()) {
    const auto seasons = whole(words.by_season);
    if (!seasons || *seasons < 1 || *seasons > static_cast<std::int64_t>(most_plan_seasons)) {
      return no_number("--by-season", words.by_season, "a whole number from 1 to 60");
    }
    wish.seasons = static_cast<std::size_t>(*seasons);
  }
  if (!words.target.empty()) {
    constexpr std::size_t longest_wait = 15;
    const auto target = whole(words.target);
    if (!target || *target < 1 || *target > most_plan_bulbs) {
      return no_number("--target", words.target, "a whole number from 1 to 1000000000");
    }
    wish.target = *target;
    // By a season that is named, else as soon as can be.
    wish.soonest = words.by_season.empty();
    if (wish.soonest) wish.seasons = longest_wait;
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
  for (const auto& [option, text, limit] :
       {std::tuple{"--space", &words.space, &wish.pots}, std::tuple{"--hours", &words.hours, &wish.hours}}) {
    if (text->empty()) continue;
    const auto number = decimal(*text);
    if (!number) return no_number(option, *text, "a number, as 40 or 12.5");
    *limit = {*number};
  }
  return std::nullopt;
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

std::string percent(double chance) {
  return std::to_string(std::llround(100 * chance)) + " %";
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
  double seconds = usual_seconds;
  if (!words.time_limit.empty()) {
    const auto given = decimal(words.time_limit);
    if (!given) return no_number("--time-limit", words.time_limit, "seconds, as 20 or 0.5");
    seconds = *given;
  }
  const auto on = day_or_today("", context.machine.host);
  if (!on) return fail(on.error());
  const auto book = open_to_look(words.store, context);
  if (!book) return fail(book.error());
  const auto facts = past_facts(**book);
  if (!facts) return fail(facts.error());
  const auto clones = plan_clones_of(**book, *on, words.clone, cut_givers_of(yield_records(*facts)));
  if (!clones) return fail(clones.error());
  const std::int64_t begun_ms = context.machine.host.now_ms();
  const auto found = season_plan(*clones, wish, [&](double) {
    return static_cast<double>(context.machine.host.now_ms() - begun_ms) < seconds * 1000;
  });
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

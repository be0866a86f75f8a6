#include "core/science/plan.hpp"

#include <algorithm>
#include <cmath>

#include "app/cli/command.hpp"
#include "app/cli/numbers.hpp"
#include "app/cli/plan_store.hpp"
#include "app/cli/text_file.hpp"
#include "core/science/plan_file.hpp"
#include "core/science/plan_solver.hpp"

namespace motherbulb::cli {
namespace {

// What the command line says takes the place of what the file says. The exit code where it cannot be read.
std::optional<int> take_words(const PlanWords& words, PlanTask& task) {
  if (const auto code = read_seasons(words, task.seasons)) return *code;
  if (!words.by_season.empty()) task.goal.kind = PlanGoalKind::most_saleable_by;
  if (const auto code = read_target(words, task.goal.target)) return *code;
  if (!words.target.empty()) task.goal.kind = PlanGoalKind::fewest_seasons_to;
  return read_limits(words, task.limits.space, task.limits.hours);
}

// Of the file's class; where it names none, of the smallest that is saleable, and of all larger.
std::optional<int> take_reserve(const std::string& word, PlanTask& task) {
  if (word.empty()) return std::nullopt;
  const auto count = whole(word);
  if (!count) return no_number("--reserve", word, takes_a_whole_number);
  if (task.reserves.empty()) {
    const auto saleable =
        std::find_if(task.classes.begin(), task.classes.end(), [](const PlanClass& one) { return one.saleable; });
    const std::size_t last = task.classes.size() - 1;
    const auto first = static_cast<std::size_t>(saleable - task.classes.begin());
    task.reserves.push_back({std::min(first, last), last, 0});
  }
  for (PlanReserve& reserve : task.reserves) reserve.count = static_cast<double>(*count);
  return std::nullopt;
}

// 12, 3.46, 0.0123, 15 204: four figures of what is no whole number.
std::string number(double value) {
  if (!(std::fabs(value) < 1e15)) return "very many";
  const double size = std::fabs(value);
  int behind = 0;
  if (size != std::floor(size) && size < 1000) {
    behind = size == 0 ? 0 : std::clamp(3 - static_cast<int>(std::floor(std::log10(size))), 0, 9);
  }
  const double power = std::pow(10.0, behind);
  const auto units = std::llround(size * power);
  const auto of_one = static_cast<std::int64_t>(power);
  std::string text = (value < 0 && units > 0 ? "-" : "") + counted(units / of_one, "", "");
  while (!text.empty() && text.back() == ' ') text.pop_back();
  std::string figures = std::to_string(units % of_one);
  if (behind == 0 || units % of_one == 0) return text;
  figures.insert(0, static_cast<std::size_t>(behind) - figures.size(), '0');
  while (figures.back() == '0') figures.pop_back();
  return text + "." + figures;
}

std::string missing_told(const PlanTask& task, const PlanInTheWay& one) {
  const std::string season = "season " + std::to_string(one.season);
  switch (one.kind) {
    case PlanLimitKind::space:
      return "The space: in " + season + " it takes " + number(one.by) + " more.";
    case PlanLimitKind::hours:
      return "The hours: in " + season + " it takes " + number(one.by) + " more.";
    case PlanLimitKind::reserve: {
      const PlanReserve& reserve = task.reserves[one.which];
      return "The reserve of " + number(reserve.count) + " from \"" + on_one_line(task.classes[reserve.first].name) +
             "\" on: in " + season + " it is short by " + number(one.by) + ".";
    }
    case PlanLimitKind::no_act:
      return "No act is named for \"" + on_one_line(task.classes[one.which].name) + "\": in " + season + " " +
             number(one.by) + " of them would be thrown away. Name one, to keep or to sell them.";
    case PlanLimitKind::target:
      return "The target of " + number(static_cast<double>(task.goal.target)) + ": the most there can be is after " +
             season + ", and falls short of it by " + number(one.by) + ".";
  }
  return "";
}

std::string none_told(const PlanTask& task, const Plan& plan) {
  if (plan.stopped && plan.in_the_way.empty()) {
    return "The time was over before a plan was found; give it more with --time-limit, or plan fewer seasons.\n";
  }
  std::string text = "There is no plan. In the way:\n";
  for (const PlanInTheWay& one : plan.in_the_way) text += "  " + missing_told(task, one) + "\n";
  return text;
}

std::string objective_told(const PlanTask& task, const Plan& plan) {
  std::string text;
  if (task.goal.kind == PlanGoalKind::most_money) {
    text = "Earned in " + counted(static_cast<std::int64_t>(plan.seasons), "season", "seasons") +
           ", at today's worth: " + number(*plan.objective);
  } else if (plan.seasons == 0) {
    return "The target of " + number(static_cast<double>(task.goal.target)) + " stands already.\n";
  } else {
    text =
        "Saleable after season " + std::to_string(plan.seasons) + ": " + number(saleable_in(task, plan.stock.back()));
  }
  if (task.goal.kind == PlanGoalKind::fewest_seasons_to) {
    text += ". Fewer seasons do not reach " + number(static_cast<double>(task.goal.target));
    return text + (plan.proven ? ".\n" : ", as far as was found in the time.\n");
  }
  if (plan.proven) return text + ". No plan gives more.\n";
  return text + ". No plan gives more than " + number(std::ceil(plan.gap * 1e4) / 100) + " % on top.\n";
}

std::string season_told(const PlanTask& task, const Plan& plan, std::size_t season) {
  std::string text = "\nSeason " + std::to_string(season) + "\n";
  TextTable table({">Bulbs", "Of", "Do"});
  for (std::size_t a = 0; a < task.acts.size(); ++a) {
    const double count = plan.acts[season - 1][a];
    if (count < 5e-4) continue;
    table.add({number(count), on_one_line(task.classes[task.acts[a].of_class].name), on_one_line(task.acts[a].name)});
  }
  return table.empty() ? text : text + table.text();
}

std::string saleable_told(const PlanTask& task, const Plan& plan) {
  std::string text = "\nSaleable in the mean after each season:";
  for (std::size_t season = 1; season <= plan.seasons; ++season) {
    text += (season == 1 ? " " : ", ") + std::to_string(std::llround(saleable_in(task, plan.stock[season])));
  }
  return text + ".\n";
}

std::string stands_told(const PlanTask& task, const Plan& plan, std::size_t season) {
  std::string text = "Then there stand:";
  bool any = false;
  for (std::size_t c = 0; c < task.classes.size(); ++c) {
    if (plan.stock[season][c] < 5e-4) continue;
    text +=
        std::string(any ? "," : "") + " " + number(plan.stock[season][c]) + " of " + on_one_line(task.classes[c].name);
    any = true;
  }
  return text + (any ? "; " : " none; ") + number(saleable_in(task, plan.stock[season])) + " saleable.\n";
}

PlanAnswer beside_it(const PlanTask& task, const Plan& plan) {
  PlanAnswer answer;
  if (!plan.feasible) return answer;
  for (const auto& [name, policy] : {std::pair{"cut all", cut_all(task)}, std::pair{"cut none", cut_none(task)}}) {
    const PlanBeside other = beside(task, policy, plan.seasons);
    answer.beside.push_back({name, saleable_in(task, other.stock.back()), std::nullopt, other.within_limits});
  }
  return answer;
}

int plan_of_file(const PlanWords& words, const Context& context) {
  const auto text = read_text(words.model, context.machine);
  if (!text) return fail(text.error());
  auto task = plan_task_from_json(*text, words.model);
  if (!task) return fail(task.error());
  if (const auto code = take_words(words, *task)) return *code;
  if (const auto code = take_reserve(words.reserve, *task)) return *code;
  double seconds = usual_plan_seconds;
  if (const auto code = read_time_limit(words, seconds)) return *code;
  if (!words.sure.empty() && !(part(words.sure).value_or(2) <= 1)) return no_number("--sure", words.sure, takes_a_part);
  const auto found = solve_plan(*task, for_seconds(seconds, context.machine.host));
  if (!found) return fail_usage(words.model + ": " + found.error().what);
  if (!words.save_model.empty()) {
    const auto written = write_text(words.save_model, to_json(*task), context.machine);
    if (!written) return fail(written.error());
  }
  if (!words.sure.empty()) remark("A plan's file has means only; of a chance, and so of --sure, it can say nothing.");
  const PlanAnswer answer = beside_it(*task, *found);
  const int code = found->feasible ? 0 : 1;
  return say(context.format == Format::json ? to_json(*task, *found, answer) : plan_told(*task, *found, answer, true),
             code);
}

}  // namespace

std::string plan_told(const PlanTask& task, const Plan& plan, const PlanAnswer& answer, bool every_season) {
  if (!plan.feasible) return none_told(task, plan);
  std::string text = objective_told(task, plan);
  for (std::size_t season = 1; season <= plan.seasons; ++season) {
    if (every_season) text += season_told(task, plan, season) + stands_told(task, plan, season);
    if (!every_season && season == 1) text += season_told(task, plan, season);
  }
  if (!every_season) text += saleable_told(task, plan);
  if (!answer.beside.empty()) text += "\nBeside it, saleable at the same time:\n";
  for (const PlanBesideRow& row : answer.beside) {
    text += "  " + row.name + ": " + number(row.saleable) +
            (row.within_limits ? "" : ", but not within space, hours, reserve and acts") + "\n";
  }
  return text + "\nSeason 1 is in whole bulbs; what comes after is what to expect in the mean.\n";
}

std::optional<int> read_seasons(const PlanWords& words, std::size_t& seasons) {
  return read_whole("--by-season", words.by_season, 1, most_plan_seasons, seasons);
}

std::optional<int> read_target(const PlanWords& words, std::int64_t& target) {
  return read_whole("--target", words.target, 1, most_plan_bulbs, target);
}

std::optional<int> read_limits(const PlanWords& words, PlanLimit& space, PlanLimit& hours) {
  constexpr const char* takes = "a number, as 40 or 12.5";
  double limit = 0;
  if (const auto code = read_decimal("--space", words.space, takes, limit)) return *code;
  if (!words.space.empty()) space = {limit};
  if (const auto code = read_decimal("--hours", words.hours, takes, limit)) return *code;
  if (!words.hours.empty()) hours = {limit};
  return std::nullopt;
}

std::optional<int> read_time_limit(const PlanWords& words, double& seconds) {
  return read_decimal("--time-limit", words.time_limit, "seconds, as 20 or 0.5", seconds);
}

std::function<bool(double)> for_seconds(double seconds, Host& host) {
  return [seconds, &host, begun_ms = host.now_ms()](double) {
    return static_cast<double>(host.now_ms() - begun_ms) < seconds * 1000;
  };
}

int plan(const PlanWords& words, const Context& context) {
  return words.model.empty() ? plan_of_book(words, context) : plan_of_file(words, context);
}

}  // namespace motherbulb::cli

#include <algorithm>
#include <cmath>

#include "app/cli/command.hpp"
#include "app/cli/day.hpp"
#include "app/cli/numbers.hpp"
#include "core/names.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/book_model.hpp"
#include "core/science/cost.hpp"

namespace motherbulb::cli {
namespace {

constexpr double greatest_figure = 1e9;
constexpr const char* takes_money = "an amount of money, as 18.50";
constexpr const char* takes_minutes = "minutes, as 2.5";

// A figure as written, times `unit`; none: it is no number, or beyond all measure.
std::optional<double> figure(const std::string& text, double unit) {
  if (text.empty()) return 0;
  const auto value = decimal(text);
  if (!value || *value > greatest_figure) return std::nullopt;
  return *value * unit;
}

// The figures, or the exit code of what is wrong with them.
std::optional<int> read_figures(const CostWords& words, CostFigures& figures) {
  struct Option {
    const char* name;
    const std::string& text;
    double& into;
    bool money;
  };
  const std::vector<Option> options = {{"--hourly", words.hourly, figures.hour, true},
                                       {"--space-price", words.space_price, figures.bench_week, true},
                                       {"--potting-price", words.potting_price, figures.potting, true},
                                       {"--bulb-price", words.bulb_price, figures.bulb_from_out, true},
                                       {"--cut-minutes", words.cut_minutes, figures.minutes_cut, false},
                                       {"--pot-minutes", words.pot_minutes, figures.minutes_pot, false},
                                       {"--unpot-minutes", words.unpot_minutes, figures.minutes_unpot, false}};
  for (const Option& option : options) {
    const auto value = figure(option.text, option.money ? 100 : 1);
    if (!value) return no_number(option.name, option.text, option.money ? takes_money : takes_minutes);
    option.into = *value;
  }
  return std::nullopt;
}

// Hours and money of the whole house belong to no clone.
struct HouseSpent {
  std::int64_t minutes = 0, cents = 0;
};
HouseSpent spent_by_house(const Logbook& book) {
  HouseSpent spent;
  for (const StoryLine& line : book.story(BatchId{})) {
    if (!line.stands) continue;
    if (const auto* hours = std::get_if<Hours>(&line.fact)) spent.minutes += hours->minutes;
    if (const auto* money = std::get_if<Money>(&line.fact)) spent.cents += money->got ? 0 : money->cents;
  }
  return spent;
}

std::string money_text(std::int64_t cents) {
  const std::string rest = std::to_string(cents % 100);
  return std::to_string(cents / 100) + "." + (rest.size() < 2 ? "0" : "") + rest;
}

std::string each_text(std::int64_t cents, std::int64_t heads) {
  return heads == 0 ? "" : money_text((2 * cents + heads) / (2 * heads));
}

Json cost_json(const CloneCost& cost, const CostOfSaleable& saleable) {
  Json parts = Json::object();
  for (std::size_t i = 0; i < cost_part_count; ++i) {
    parts[std::string(to_text(static_cast<CostPart>(i)))] = cost.parts[i];
  }
  Json classes = Json::array();
  for (const CostOfClass& one : cost.classes) {
    classes.push_back(Json{{"class", to_text(one.grade)}, {"bulbs", one.bulbs}, {"cents", one.cents}});
  }
  return Json{{"clone", cost.clone},
              {"genus", cost.genus},
              {"total", cost.total},
              {"parts", std::move(parts)},
              {"saleable", saleable.bulbs},
              {"saleable_cents", saleable.cents},
              {"per_saleable", saleable.per_bulb ? Json(*saleable.per_bulb) : Json(nullptr)},
              {"classes", std::move(classes)},
              {"pieces", Json{{"count", cost.pieces}, {"cents", cost.pieces_cents}}},
              {"borne_by_none", cost.borne_by_none},
              {"gone", Json{{"count", cost.gone}, {"cents", cost.gone_cents}}}};
}

std::string cost_text(const CloneCost& cost, const CostOfSaleable& saleable) {
  std::string text = on_one_line(cost.clone) + ": " + money_text(cost.total) + " in all";
  const char* before = ": ";
  for (std::size_t i = 0; i < cost_part_count; ++i) {
    if (cost.parts[i] == 0) continue;
    text += before + money_text(cost.parts[i]) + " " + std::string(to_text(static_cast<CostPart>(i)));
    before = ", ";
  }
  text += "\n";
  TextTable table({"  Size", ">Bulbs", ">Cost", ">Each"});
  for (const CostOfClass& one : cost.classes) {
    table.add({"  " + (one.grade.sized() ? to_text(one.grade) : "no size"), std::to_string(one.bulbs),
               money_text(one.cents), each_text(one.cents, one.bulbs)});
  }
  if (cost.pieces > 0) {
    table.add({"  sections", std::to_string(cost.pieces), money_text(cost.pieces_cents),
               each_text(cost.pieces_cents, cost.pieces)});
  }
  if (!table.empty()) text += table.text();
  if (saleable.per_bulb) {
    text += "  Of a size to sell: " + counted(saleable.bulbs, "bulb", "bulbs") + " at " +
            money_text(*saleable.per_bulb) + " each\n";
  }
  if (cost.gone > 0) {
    text += "  Sold and given: " + std::to_string(cost.gone) + ", which had cost " + money_text(cost.gone_cents) +
            ", not counted above\n";
  }
  if (cost.borne_by_none > 0) text += "  Nothing is left to bear " + money_text(cost.borne_by_none) + "\n";
  return text;
}

}  // namespace

int cost(const CostWords& words, const Context& context) {
  CostFigures figures;
  if (const auto code = read_figures(words, figures)) return *code;
  const auto on = day_or_today(words.on, context.machine.host);
  if (!on) return fail(on.error());
  const auto book = open_to_look(words.store, context);
  if (!book) return fail(book.error());
  const auto facts = past_facts(**book);
  if (!facts) return fail(facts.error());
  std::vector<CloneCost> costs = clone_costs(*facts, figures, *on);
  if (!words.clone.empty()) {
    const std::string wanted = folded_name(words.clone);
    costs.erase(std::remove_if(costs.begin(), costs.end(),
                               [&wanted](const CloneCost& one) { return folded_name(one.clone) != wanted; }),
                costs.end());
    if (costs.empty()) {
      return fail(
          refusal("there is no clone \"" + on_one_line(words.clone) + "\" in the book; name one that stock lists"));
    }
  }
  std::vector<std::string> assumed;
  Json all = Json::array();
  std::string text;
  for (const CloneCost& one : costs) {
    const CostOfSaleable saleable =
        cost_of_saleable(one, starting_values_or_assumed(one.genus, assumed).saleable_from_cm.value);
    all.push_back(cost_json(one, saleable));
    text += cost_text(one, saleable);
  }
  if (context.format == Format::json) return say_json(all);
  if (costs.empty()) text = "The book has no bulbs yet.\n";
  const HouseSpent house = spent_by_house(**book);
  if (house.minutes > 0 || house.cents > 0) {
    text += "\nNot borne by any clone, since written down for the whole house: " +
            counted(house.minutes, "minute", "minutes") + " of work, and " + money_text(house.cents) + " of money.\n";
  }
  text +=
      "\nWhat no option and no entry says costs nothing: --hourly, --space-price (a pot and week), --potting-price, "
      "--bulb-price, --cut-minutes (a mother), --pot-minutes, --unpot-minutes.\n";
  return say(text);
}

}  // namespace motherbulb::cli

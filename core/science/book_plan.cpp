#include "core/science/book_plan.hpp"

#include <algorithm>
#include <map>

#include "core/names.hpp"

namespace motherbulb {
namespace {

constexpr std::int32_t usual_chips[] = {8, 12, 16};

std::vector<std::pair<Method, std::int32_t>> ways_of(const GrowthInput& input) {
  std::vector<std::pair<Method, std::int32_t>> ways;
  const auto add = [&ways](Method method, std::int32_t sections) {
    const std::pair one{method, sections};
    if (std::find(ways.begin(), ways.end(), one) == ways.end()) ways.push_back(one);
  };
  // As last year first: where two ways are as good, the one that the grower knows is proposed.
  for (const CutGives& cut : input.cuts) add(cut.method, cut.sections);
  for (const StartingYield& yield : input.start.yields) {
    if (yield.method == Method::chipping) {
      for (const std::int32_t sections : usual_chips) add(yield.method, sections);
    } else {
      add(yield.method, static_cast<std::int32_t>(yield.sections));
    }
  }
  return ways;
}

PlanClone plan_clone(const GrowthInput& input, const BookOnDay& known, const CutGiver& gives) {
  PlanClone clone{.clone = input.clone, .growth = growth_model(input, known.records)};
  clone.least_to_cut_cm = input.start.grown_from_cm.value;
  clone.own_pot_from_cm = input.start.grown_from_cm.value;
  for (const std::pair<Method, std::int32_t>& way : ways_of(input)) {
    const auto as_now = std::find_if(input.cuts.begin(), input.cuts.end(), [&](const CutGives& cut) {
      return cut.method == way.first && cut.sections == way.second;
    });
    if (as_now != input.cuts.end()) {
      clone.ways.push_back(*as_now);
      continue;
    }
    std::optional<CutGives> given;
    if (gives) given = gives(way.first, way.second, input.grades);
    if (!given) given = published_or_assumed(input.start, way.first, way.second, input.grades);
    given->share_cut.assign(input.grades.size(), 0.0);
    clone.ways.push_back(std::move(*given));
  }
  return clone;
}

// Clones that have anything on that day, by their names as they are compared; each with its name and genus as written.
std::map<std::string, std::pair<std::string, std::string>> clones_standing(const BookOnDay& known) {
  std::map<std::string, std::pair<std::string, std::string>> names;
  for (const BatchPots& one : known.stands) {
    if (!one.batch.begun) continue;
    bool anything = !one.batch.bulbs_waiting.empty() || one.batch.pieces_waiting > 0;
    for (const PotState& pot : one.pots) anything = anything || !pot.bulbs.empty() || (pot.pieces > 0 && !pot.emptied);
    if (anything) names.emplace(folded_name(one.batch.clone), std::pair{one.batch.clone, one.batch.genus});
  }
  return names;
}

}  // namespace

Result<std::vector<PlanClone>> plan_clones_of(const Logbook& book, Day on, const std::string& clone,
                                              const CutGivers& gives) {
  const auto known = book_on_day(book, on);
  if (!known) return known.error();
  auto names = clones_standing(*known);
  if (!clone.empty()) {
    const auto found = names.find(folded_name(clone));
    const auto named = found == names.end() ? std::pair{clone, std::string()} : found->second;
    names.clear();
    names.emplace(folded_name(clone), named);
  }
  std::vector<PlanClone> clones;
  for (const auto& [folded, name] : names) {
    const CutGiver giver = gives ? gives(name.first, name.second) : CutGiver{};
    const auto input = growth_input_of(book, *known, name.first, giver);
    if (!input) return input.error();
    clones.push_back(plan_clone(*input, *known, giver));
  }
  return clones;
}

}  // namespace motherbulb

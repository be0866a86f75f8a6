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
    clone.ways.push_back(what_gives(input, gives, way.first, way.second));
    clone.ways.back().share_cut.assign(input.grades.size(), 0.0);
  }
  return clone;
}

struct Named {
  std::string clone, genus;  // as written
};

// Clones that have anything on that day, by their names as they are compared.
std::map<std::string, Named> clones_standing(const BookOnDay& known) {
  std::map<std::string, Named> names;
  for (const BatchPots& one : known.stands) {
    if (!one.batch.begun) continue;
    bool anything = !one.batch.bulbs_waiting.empty() || one.batch.pieces_waiting > 0;
    for (const PotState& pot : one.pots) anything = anything || !pot.bulbs.empty() || (pot.pieces > 0 && !pot.emptied);
    if (anything) names.emplace(folded_name(one.batch.clone), Named{one.batch.clone, one.batch.genus});
  }
  return names;
}

// What stands of that name; where nothing does, the name as it was asked for.
Named named_so(const BookOnDay& known, const std::string& clone) {
  const auto names = clones_standing(known);
  const auto found = names.find(folded_name(clone));
  return found == names.end() ? Named{clone, ""} : found->second;
}

// One clone, and what gives of it.
struct Asked {
  GrowthInput input;
  CutGiver gives;
};

Result<Asked> asked_of(const Logbook& book, const BookOnDay& known, const Named& name, const CutGivers& gives) {
  Asked asked;
  if (gives) asked.gives = gives(name.clone, name.genus);
  auto input = growth_input_of(book, known, name.clone, asked.gives);
  if (!input) return input.error();
  asked.input = std::move(*input);
  return asked;
}

}  // namespace

Result<std::vector<PlanClone>> plan_clones_of(const Logbook& book, const BookOnDay& known, const std::string& clone,
                                              const CutGivers& gives, const std::function<bool(double done)>& go_on) {
  std::vector<Named> names;
  if (clone.empty()) {
    for (const auto& [folded, name] : clones_standing(known)) names.push_back(name);
  } else {
    names.push_back(named_so(known, clone));
  }
  std::vector<PlanClone> clones;
  for (const Named& name : names) {
    if (go_on && !go_on(static_cast<double>(clones.size()) / static_cast<double>(names.size())))
      return Error{ErrorKind::cancelled, "stopped; nothing was changed", {}};
    auto asked = asked_of(book, known, name, gives);
    if (!asked) return asked.error();
    asked->input.sets = sets_for(names.size());
    clones.push_back(plan_clone(asked->input, known, asked->gives));
  }
  return clones;
}

Result<GrowthModel> clone_growth_of(const Logbook& book, const BookOnDay& known, const std::string& clone,
                                    const CutGivers& gives) {
  const auto asked = asked_of(book, known, named_so(known, clone), gives);
  if (!asked) return asked.error();
  return growth_model(asked->input, known.records);
}

}  // namespace motherbulb

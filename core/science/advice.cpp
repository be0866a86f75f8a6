#include "core/science/advice.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/science/two_ways.hpp"

namespace motherbulb {
namespace {

std::string tenths(double value) {
  const std::int64_t units = std::llround(value * 10);
  return units % 10 == 0 ? std::to_string(units / 10)
                         : std::to_string(units / 10) + "." + std::to_string(std::abs(units % 10));
}

std::string bulbs(double count) {
  const auto whole = std::llround(count);
  return std::to_string(whole) + (whole == 1 ? " bulb" : " bulbs");
}

std::string class_name(const SeasonActMeaning& meaning) {
  return meaning.grade ? name_of_class(*meaning.grade) + " cm" : "sections";
}

const CutGives* way_of(const PlanClone& clone, const SeasonActMeaning& meaning) {
  const auto found = std::find_if(clone.ways.begin(), clone.ways.end(), [&](const CutGives& way) {
    return way.method == *meaning.method && way.sections == meaning.sections;
  });
  return found == clone.ways.end() ? nullptr : &*found;
}

// How many of that class there are in all.
double all_of(const SeasonPlan& plan, std::size_t act) {
  return static_cast<double>(plan.task.start[plan.task.acts[act].of_class]);
}

std::string cut_told(const PlanClone& clone, const SeasonPlan& plan, const SeasonAct& act) {
  const SeasonActMeaning& meaning = plan.meanings[act.act];
  std::string text = clone.clone + ": cut " + std::to_string(std::llround(act.count)) + " of " +
                     bulbs(all_of(plan, act.act)) + " of " + class_name(meaning) + " by " +
                     std::string(to_text(*meaning.method)) + " into " + std::to_string(meaning.sections) +
                     ", for each gives about " + tenths(meaning.per_mother) + " bulblets";
  const CutGives* way = way_of(clone, meaning);
  return text + (way != nullptr && !way->source.empty() ? " (" + way->source + ")." : ".");
}

std::string grow_on_told(const PlanClone& clone, const SeasonPlan& plan, std::size_t number) {
  double kept = 0, cuttable = 0;
  for (const SeasonAct& act : plan.acts) {
    const SeasonActMeaning& meaning = plan.meanings[act.act];
    if (act.season != 1 || meaning.clone != number || meaning.kind != PlanActKind::keeps || !meaning.grade) continue;
    kept += act.count;
    if (meaning.grade->low_mm >= std::llround(10 * clone.least_to_cut_cm)) cuttable += act.count;
  }
  if (kept < 0.5) return "";
  std::string text = clone.clone + ": grow on " + bulbs(kept);
  if (cuttable >= 0.5) text += ", " + std::to_string(std::llround(cuttable)) + " of them large enough to be cut";
  return text + "; a season takes about " + tenths(100 * clone.growth.classes.back().loss.value) + " % of the largest.";
}

std::string sell_told(const PlanClone& clone, const SeasonPlan& plan, const SeasonAct& act) {
  const PlanLimits& limits = plan.task.limits;
  const bool limited = limit_in(limits.space, act.season) || limit_in(limits.hours, act.season);
  return clone.clone + ": sell " + bulbs(act.count) + " of " + class_name(plan.meanings[act.act]) +
         (limited ? ", for there is no room for them otherwise." : ", for the goal is met without.");
}

// What is known of a way for mothers of that class, from what it may be.
std::optional<WayKnown> known_of(const CutGives& way, std::size_t mother) {
  if (way.may_be.size() < 2 || !(way.per_mother[mother] > 0)) return std::nullopt;
  double sum = 0, squares = 0;
  for (const DrawnGives& one : way.may_be) {
    sum += one.per_mother[mother];
    squares += one.per_mother[mother] * one.per_mother[mother];
  }
  const auto n = static_cast<double>(way.may_be.size());
  const double mean = way.per_mother[mother];
  return WayKnown{mean, std::max(0.0, (squares - sum * sum / n) / (n - 1)), mean + mean * mean / way.dispersion};
}

std::size_t class_of_act(const PlanClone& clone, const SeasonActMeaning& meaning) {
  std::size_t which = 0;
  while (which + 1 < clone.growth.classes.size() && clone.growth.classes[which].grade != *meaning.grade) ++which;
  return which;
}

// Whether to cut some of the mothers by another method, to learn which is better: of the other ways the one that is
// worth most. Ways by one method tell of each other, and propagules are no bulblets: neither is compared.
std::string try_told(const PlanClone& clone, const SeasonPlan& plan, std::size_t number) {
  constexpr std::int64_t enough_pots = 3;  // of the usual way, counted of this clone
  constexpr double least_gain = 1;         // bulblets
  const SeasonAct* most = nullptr;
  double later = 0;
  for (const SeasonAct& act : plan.acts) {
    const SeasonActMeaning& meaning = plan.meanings[act.act];
    if (meaning.clone != number || meaning.kind != PlanActKind::cuts) continue;
    if (act.season > 1) later += act.count;
    if (act.season == 1 && (most == nullptr || act.count > most->count)) most = &act;
  }
  if (most == nullptr || std::llround(most->count) < 2) return "";
  const SeasonActMeaning& meaning = plan.meanings[most->act];
  const std::size_t mother = class_of_act(clone, meaning);
  const CutGives* usual = way_of(clone, meaning);
  if (usual == nullptr || usual->own_pots < enough_pots) return "";
  const auto usual_known = known_of(*usual, mother);
  if (!usual_known) return "";
  const CutGives* best_way = nullptr;
  Trial best;
  for (const CutGives& way : clone.ways) {
    const auto known = known_of(way, mother);
    if (!known || way.method == usual->method || counts_propagules(way.method) != counts_propagules(usual->method)) {
      continue;
    }
    const auto trial = worth_trying(*usual_known, *known, std::llround(most->count), later);
    if (!trial || trial->worth - trial->costs < least_gain) continue;
    if (best_way != nullptr && trial->worth - trial->costs <= best.worth - best.costs) continue;
    best_way = &way;
    best = *trial;
  }
  if (best_way == nullptr) return "";
  const auto bulblets = [](double count) {
    return std::to_string(std::llround(count)) + (std::llround(count) == 1 ? " bulblet" : " bulblets");
  };
  const std::string costs = best.costs > 0 ? "costs about " + bulblets(best.costs) + " now, worth about "
                                           : "costs nothing in the mean, worth about ";
  return clone.clone + ": to learn, cut " + std::to_string(best.mothers) + " of these " +
         std::to_string(std::llround(most->count)) + " of " + class_name(meaning) + " by " +
         std::string(to_text(best_way->method)) + " into " + std::to_string(best_way->sections) + ": " + costs +
         bulblets(best.worth) + " by season " + std::to_string(plan.plan.seasons) + ".";
}

// Ways that the plan cuts by and of which the clone's own pots say nothing.
std::string to_record(const PlanClone& clone, const SeasonPlan& plan, std::size_t number) {
  constexpr double enough = 0.3;  // of growth that comes from own records
  std::string text;
  for (const SeasonAct& act : plan.acts) {
    const SeasonActMeaning& meaning = plan.meanings[act.act];
    if (act.season != 1 || meaning.clone != number || meaning.kind != PlanActKind::cuts) continue;
    const CutGives* way = way_of(clone, meaning);
    if (way == nullptr || way->source.rfind("as published", 0) != 0) continue;
    return clone.clone + ": no pot cut by " + std::string(to_text(*meaning.method)) +
           " is finished in the book. Count the bulblets of the next ones by size when they are unpotted.";
  }
  if (clone.growth.from_records < enough) {
    text = clone.clone + ": " + std::to_string(std::llround(100 * clone.growth.from_records)) +
           " % of its growth is known from own records. Count bulbs by size when they are potted and again when they "
           "are lifted.";
  }
  return text;
}

}  // namespace

std::vector<std::string> advice_of(const std::vector<PlanClone>& clones, const SeasonPlan& plan) {
  std::vector<std::string> advice;
  const auto add = [&advice](std::string line) {
    if (!line.empty()) advice.push_back(std::move(line));
  };
  for (std::size_t number = 0; number < clones.size(); ++number) {
    for (const SeasonAct& act : plan.acts) {
      const SeasonActMeaning& meaning = plan.meanings[act.act];
      if (act.season != 1 || meaning.clone != number || act.count < 0.5) continue;
      if (meaning.kind == PlanActKind::cuts) add(cut_told(clones[number], plan, act));
      if (meaning.kind == PlanActKind::sells) add(sell_told(clones[number], plan, act));
    }
    if (plan.plan.feasible) add(try_told(clones[number], plan, number));
    if (plan.plan.feasible) add(grow_on_told(clones[number], plan, number));
    add(to_record(clones[number], plan, number));
  }
  return advice;
}

}  // namespace motherbulb

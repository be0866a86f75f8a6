#include "core/science/season_plan.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "core/science/cost.hpp"
#include "core/science/paths.hpp"
#include "core/science/plan_solver.hpp"

namespace motherbulb {
namespace {

constexpr double usual_sure = 0.8;  // where nobody asks for another
constexpr int most_raises = 8;      // of the target, to be sure enough

using GoOn = std::function<bool(double done)>;

double middle_of(const PlanClone& clone, std::size_t which) {
  std::vector<Grade> grades;
  for (const ClassGrowth& one : clone.growth.classes) grades.push_back(one.grade);
  return middle_cm(grades, which);
}

// Builds the programme clone by clone, and with each act what it means and what comes of it bulb by bulb.
class TaskMaker {
public:
  explicit TaskMaker(const SeasonWish& wish) : wish_(wish) {
    task.seasons = wish.seasons;
    task.limits = {wish.pots, wish.hours};
    task.goal.kind = wish.soonest ? PlanGoalKind::fewest_seasons_to : PlanGoalKind::most_saleable_by;
    task.goal.target = wish.target.value_or(0);
  }

  void add(const PlanClone& clone, std::size_t number) {
    const std::size_t first = task.classes.size();
    const std::size_t bulbs = first + (clone.growth.has_sections ? 1 : 0);
    const std::size_t k = clone.growth.classes.size();
    if (clone.growth.has_sections) {
      task.classes.push_back({clone.clone + ", sections", false, std::nullopt});
      task.start.push_back(clone.growth.model.start.front());
    }
    for (const ClassGrowth& one : clone.growth.classes) {
      task.classes.push_back({clone.clone + ", " + one.name, one.saleable, std::nullopt});
      task.start.push_back(one.bulbs);
    }
    if (clone.growth.has_sections) add_sections(clone, number, first, bulbs);
    for (std::size_t j = 0; j < k; ++j) add_bulbs(clone, number, j, bulbs);
    add_reserve(clone, bulbs);
  }

  PlanTask task;
  std::vector<SeasonActMeaning> meanings;
  std::vector<BulbAct> acts;  // survival and increase from the first class of all on

private:
  void add_sections(const PlanClone& clone, std::size_t number, std::size_t from, std::size_t bulbs) {
    PlanAct act{.name = "grow on " + task.classes[from].name, .of_class = from};
    act.space = 1 / wish_.work.sections_in_a_pot;
    BulbAct path{.from = from};
    const std::size_t k = clone.growth.classes.size();
    const double left = clone.growth.model.left_by_bad_events();
    std::vector<double> bears(bulbs + k, 0.0);
    for (std::size_t i = 0; i < k; ++i) {
      const double mean = clone.growth.model.years.front().increase.at(1 + i, 0);
      bears[bulbs + i] = mean;
      if (mean > 0) act.gives.push_back({bulbs + i, left * mean});
    }
    path.survival.assign(2, std::vector<double>(bulbs + k, 0.0));
    path.increase.assign(2, bears);
    path.dispersion = usual_dispersion;
    keep({.clone = number, .kind = PlanActKind::keeps}, std::move(act), std::move(path));
  }

  void add_bulbs(const PlanClone& clone, std::size_t number, std::size_t j, std::size_t bulbs) {
    const ClassGrowth& one = clone.growth.classes[j];
    const std::size_t from = bulbs + j;
    const bool may_be_cut = middle_of(clone, j) >= clone.least_to_cut_cm;
    add_growing_on(clone, number, j, bulbs);
    if (may_be_cut) {
      for (const CutGives& way : clone.ways) add_cut(clone, number, way, j, bulbs);
    }
    if (one.saleable) {
      PlanAct sell{.name = "sell " + task.classes[from].name, .of_class = from};
      BulbAct path{.from = from};
      const std::size_t k = clone.growth.classes.size();
      path.survival.assign(2, std::vector<double>(bulbs + k, 0.0));
      path.increase = path.survival;
      keep({.clone = number, .grade = one.grade, .kind = PlanActKind::sells}, std::move(sell), std::move(path));
    }
  }

  void add_growing_on(const PlanClone& clone, std::size_t number, std::size_t j, std::size_t bulbs) {
    const ClassGrowth& one = clone.growth.classes[j];
    const std::size_t k = clone.growth.classes.size();
    const double left = clone.growth.model.left_by_bad_events();
    const double pots = middle_of(clone, j) >= clone.own_pot_from_cm ? 1 : 1 / wish_.work.young_in_a_pot;
    PlanAct act{.name = "grow on " + task.classes[bulbs + j].name, .of_class = bulbs + j};
    act.space = pots;
    act.hours = pots / wish_.work.pots_an_hour;
    const auto [ordinary, bad] = loss_by_season(one.loss.value);
    BulbAct path{.from = bulbs + j};
    for (const double loss : {ordinary, bad}) {
      std::vector<double> lives(bulbs + k, 0.0), bears(bulbs + k, 0.0);
      for (std::size_t i = 0; i < k; ++i) {
        lives[bulbs + i] = (1 - loss) * one.grows_to[i];
        bears[bulbs + i] = one.offsets.value * clone.growth.offset_sizes[i];
      }
      path.survival.push_back(std::move(lives));
      path.increase.push_back(std::move(bears));
    }
    for (std::size_t i = 0; i < k; ++i) {
      const double mean = (1 - one.loss.value) * one.grows_to[i] + one.offsets.value * clone.growth.offset_sizes[i];
      if (mean > 0) act.gives.push_back({bulbs + i, left * mean});
    }
    keep({.clone = number, .grade = one.grade, .kind = PlanActKind::keeps}, std::move(act), std::move(path));
  }

  void add_cut(const PlanClone& clone, std::size_t number, const CutGives& way, std::size_t j, std::size_t bulbs) {
    const ClassGrowth& one = clone.growth.classes[j];
    const std::size_t k = clone.growth.classes.size();
    const double left = clone.growth.model.left_by_bad_events();
    const double pots = way.sections / wish_.work.sections_in_a_pot;
    PlanAct act{.name = "cut by " + std::string(to_text(way.method)) + " into " + std::to_string(way.sections) + ", " +
                        task.classes[bulbs + j].name,
                .of_class = bulbs + j};
    act.space = pots;
    act.hours = way.sections / wish_.work.sections_an_hour + pots / wish_.work.pots_an_hour;
    BulbAct path{.from = bulbs + j};
    std::vector<double> bears(bulbs + k, 0.0);
    for (std::size_t i = 0; i < k; ++i) {
      bears[bulbs + i] = way.per_mother[j] * way.size_shares[i];
      if (bears[bulbs + i] > 0) act.gives.push_back({bulbs + i, left * bears[bulbs + i]});
    }
    path.survival.assign(2, std::vector<double>(bulbs + k, 0.0));
    path.increase.assign(2, bears);
    path.dispersion = way.dispersion;
    keep({.clone = number,
          .grade = one.grade,
          .kind = PlanActKind::cuts,
          .method = way.method,
          .sections = way.sections,
          .per_mother = way.per_mother[j]},
         std::move(act), std::move(path));
  }

  void add_reserve(const PlanClone& clone, std::size_t bulbs) {
    if (wish_.reserve == 0) return;
    const std::size_t k = clone.growth.classes.size();
    std::size_t first = 0;
    while (first + 1 < k && middle_of(clone, first) < clone.least_to_cut_cm) ++first;
    task.reserves.push_back({bulbs + first, bulbs + k - 1, static_cast<double>(wish_.reserve)});
  }

  void keep(SeasonActMeaning meaning, PlanAct act, BulbAct path) {
    meanings.push_back(meaning);
    task.acts.push_back(std::move(act));
    acts.push_back(std::move(path));
  }

  const SeasonWish& wish_;
};

// All the clones as one model: its years are shared, each clone stands in places of its own.
Model model_of_all(const std::vector<PlanClone>& clones, const PlanTask& task) {
  Model model;
  for (const PlanClass& one : task.classes) model.classes.push_back({one.name, one.saleable});
  model.start = task.start;
  const std::vector<ModelYear>& years = clones.front().growth.model.years;
  for (const ModelYear& year : years) {
    model.years.push_back({.name = year.name,
                           .weight = year.weight,
                           .survival = Square(task.classes.size()),
                           .increase = Square(task.classes.size())});
  }
  model.law = IncreaseLaw::negbin;
  model.dispersion = usual_dispersion;
  BadEvent bad;
  double weight = 0;
  for (const PlanClone& clone : clones) {
    const Model& own = clone.growth.model;
    // A clone without bulbs has places all the same, of no share.
    const double bulbs = std::accumulate(own.start.begin(), own.start.end(), 0.0) + 1e-9;
    if (own.places.empty()) model.places.push_back(bulbs);
    for (const double share : own.places) model.places.push_back(bulbs * share);
    if (own.bad_event) {
      bad.chance += bulbs * own.bad_event->chance;
      bad.takes += bulbs * own.bad_event->takes;
    }
    weight += bulbs;
  }
  model.bad_event = BadEvent{bad.chance / weight, bad.takes / weight};
  return model;
}

// Bulbs given an act as shares of their class; of a class that has none in the means what keeps it.
std::vector<std::vector<double>> shares_of(const PlanTask& task, const std::vector<std::vector<double>>& acts) {
  std::vector<std::vector<double>> shares;
  for (const std::vector<double>& season : acts) {
    std::vector<double> sums(task.classes.size(), 0.0), share(task.acts.size(), 0.0);
    std::vector<bool> kept(task.classes.size(), false);
    for (std::size_t act = 0; act < task.acts.size(); ++act) sums[task.acts[act].of_class] += season[act];
    for (std::size_t act = 0; act < task.acts.size(); ++act) {
      const std::size_t of = task.acts[act].of_class;
      if (sums[of] > 0) {
        share[act] = season[act] / sums[of];
      } else if (!kept[of] && kind_of(task.acts[act]) == PlanActKind::keeps) {
        share[act] = 1;
        kept[of] = true;
      }
    }
    shares.push_back(std::move(share));
  }
  return shares;
}

struct Walked {
  std::vector<Spread> saleable;
  std::vector<std::vector<std::int64_t>> sorted;  // by season
};

// The clones as they may be in that set; as they are known where they have none.
std::vector<PlanClone> clones_of_set(const std::vector<PlanClone>& clones, std::size_t set) {
  std::vector<PlanClone> so;
  for (const PlanClone& clone : clones) {
    PlanClone one = {.clone = clone.clone,
                     .growth = set < clone.growth.may_be.size() ? clone.growth.may_be[set] : clone.growth,
                     .ways = clone.ways,
                     .least_to_cut_cm = clone.least_to_cut_cm,
                     .own_pot_from_cm = clone.own_pot_from_cm};
    for (CutGives& way : one.ways) {
      if (set >= way.may_be.size()) continue;
      way.per_mother = way.may_be[set].per_mother;
      way.size_shares = way.may_be[set].size_shares;
    }
    so.push_back(std::move(one));
  }
  return so;
}

std::size_t sets_of(const std::vector<PlanClone>& clones) {
  std::size_t sets = 1;
  for (const PlanClone& clone : clones) sets = std::max(sets, clone.growth.may_be.size());
  return sets;
}

void widen(std::vector<BulbAct>& acts, std::size_t classes) {
  for (BulbAct& act : acts) {
    for (auto* table : {&act.survival, &act.increase}) {
      for (std::vector<double>& year : *table) year.resize(classes, 0.0);
    }
  }
}

// Nothing where `go_on` says no.
std::optional<Walked> walk(const std::vector<PlanClone>& clones, const TaskMaker& made,
                           const std::vector<std::vector<double>>& acts, const std::vector<std::vector<double>>& means,
                           const SeasonWish& wish, const GoOn& go_on) {
  const std::vector<std::vector<double>> shares = shares_of(made.task, acts);
  const auto maker_of = [&](std::size_t set) {
    const std::vector<PlanClone> so = clones_of_set(clones, set);
    TaskMaker made_so(wish);
    for (std::size_t i = 0; i < so.size(); ++i) made_so.add(so[i], i);
    Policy policy{.acts = std::move(made_so.acts), .shares = shares};
    widen(policy.acts, made.task.classes.size());
    return PathMaker(model_of_all(so, made.task), policy);
  };
  const auto stock =
      walk_paths(model_of_all(clones, made.task), sets_of(clones), maker_of, acts.size(), wish.paths, wish.seed, go_on);
  if (!stock) return std::nullopt;
  Walked walked;
  for (std::size_t t = 1; t <= acts.size(); ++t) {
    walked.sorted.push_back(stock->sorted(stock->saleable, t));
    walked.saleable.push_back(spread_of(walked.sorted.back(), saleable_in(made.task, means[t])));
  }
  return walked;
}

PlanBeside as_last_year(const std::vector<PlanClone>& clones, const TaskMaker& made, std::size_t seasons) {
  const PlanTask& task = made.task;
  std::vector<double> share(task.acts.size(), 0.0), cut(task.classes.size(), 0.0);
  for (std::size_t act = 0; act < task.acts.size(); ++act) {
    const SeasonActMeaning& meaning = made.meanings[act];
    if (meaning.kind != PlanActKind::cuts) continue;
    const PlanClone& clone = clones[meaning.clone];
    for (const CutGives& way : clone.ways) {
      if (way.method != meaning.method || way.sections != meaning.sections) continue;
      for (std::size_t j = 0; j < clone.growth.classes.size(); ++j) {
        if (clone.growth.classes[j].grade == *meaning.grade) share[act] = way.share_cut[j];
      }
    }
    cut[task.acts[act].of_class] += share[act];
  }
  for (std::size_t act = 0; act < task.acts.size(); ++act) {
    const double all = cut[task.acts[act].of_class];
    if (made.meanings[act].kind == PlanActKind::cuts && all > 1) share[act] /= all;
    if (made.meanings[act].kind == PlanActKind::keeps) share[act] = std::max(0.0, 1 - all);
  }
  PlanBeside last{.within_limits = true};
  last.stock.emplace_back(task.start.begin(), task.start.end());
  for (std::size_t t = 0; t < seasons; ++t) {
    std::vector<double> season(task.acts.size()), next(task.classes.size(), 0.0);
    for (std::size_t act = 0; act < task.acts.size(); ++act) {
      season[act] = share[act] * last.stock.back()[task.acts[act].of_class];
      for (const PlanGive& give : task.acts[act].gives) next[give.to] += season[act] * give.mean;
    }
    last.acts.push_back(std::move(season));
    last.stock.push_back(std::move(next));
  }
  return last;
}

std::vector<SeasonChoice> choices_beside(const std::vector<PlanClone>& clones, const TaskMaker& made,
                                         std::size_t seasons, const SeasonWish& wish, const GoOn& go_on) {
  struct Named {
    const char* name;
    PlanBeside choice;
  };
  std::vector<Named> named = {{"cut all", beside(made.task, cut_all(made.task), seasons)},
                              {"cut none", beside(made.task, cut_none(made.task), seasons)},
                              {"as last year", as_last_year(clones, made, seasons)}};
  std::vector<SeasonChoice> choices;
  for (const Named& one : named) {
    SeasonChoice choice{.name = one.name, .within_limits = one.choice.within_limits};
    for (const std::vector<double>& stock : one.choice.stock) choice.saleable.push_back(saleable_in(made.task, stock));
    if (wish.target) {
      const auto walked = walk(clones, made, one.choice.acts, one.choice.stock, wish, go_on);
      if (walked) choice.chance = share_reaching(walked->sorted.back(), *wish.target);
    }
    choices.push_back(std::move(choice));
  }
  return choices;
}

std::optional<SeasonRelease> release_of(const Walked& walked, const SeasonWish& wish) {
  if (!wish.target) return std::nullopt;
  const double sure = wish.sure > 0 ? wish.sure : usual_sure;
  const auto first = first_release(walked.sorted, wish.reserve, *wish.target, sure);
  if (!first) return std::nullopt;
  return SeasonRelease{first->season, first->counts,
                       share_reaching(walked.sorted[first->season - 1], *wish.target + wish.reserve)};
}

std::optional<Error> fault_of_wish(const std::vector<PlanClone>& clones, const SeasonWish& wish) {
  if (clones.empty()) return refusal("no clone has bulbs to plan for; begin a batch first");
  if (wish.seasons < 1 || wish.seasons > most_plan_seasons) {
    return refusal("seasons takes 1 to " + std::to_string(most_plan_seasons));
  }
  if (wish.soonest && !wish.target) return refusal("the soonest to what? give a target");
  if (wish.target && *wish.target < 0) return refusal("target is negative; write 0 or more");
  if (wish.reserve < 0) return refusal("reserve is negative; write 0 or more");
  if (!(wish.sure >= 0 && wish.sure < 1)) return refusal("sure takes a chance below 1, as 0.8");
  return std::nullopt;
}

std::vector<SeasonAct> told_acts(const PlanTask& task, const Plan& plan) {
  std::vector<SeasonAct> acts;
  for (std::size_t t = 0; t < plan.acts.size(); ++t) {
    for (std::size_t act = 0; act < task.acts.size(); ++act) {
      if (plan.acts[t][act] > 1e-9) acts.push_back({t + 1, act, plan.acts[t][act]});
    }
  }
  return acts;
}

// What is said of every clone alike is said once, the rest with the clone's name where there are several.
std::vector<std::string> missing_of(const std::vector<PlanClone>& clones) {
  std::map<std::string, std::size_t> said;
  for (const PlanClone& clone : clones) {
    for (const std::string& line : clone.growth.missing) ++said[line];
  }
  std::vector<std::string> missing, of_all;
  for (const PlanClone& clone : clones) {
    for (const std::string& line : clone.growth.missing) {
      if (clones.size() == 1 || said[line] < clones.size()) {
        missing.push_back(clones.size() == 1 ? line : clone.clone + ": " + line);
      } else if (&clone == &clones.front()) {
        of_all.push_back(line);
      }
    }
  }
  missing.insert(missing.end(), of_all.begin(), of_all.end());
  return missing;
}

}  // namespace

Result<SeasonPlan> season_plan(const std::vector<PlanClone>& clones, const SeasonWish& wish,
                               const std::function<bool(double)>& go_on) {
  if (const auto fault = fault_of_wish(clones, wish)) return *fault;
  TaskMaker made(wish);
  for (std::size_t i = 0; i < clones.size(); ++i) made.add(clones[i], i);
  if (const auto fault = fault_of(made.task)) return refusal(*fault);
  SeasonPlan answer;
  answer.missing = missing_of(clones);
  // A plan may have to be found several times, for a higher target each time.
  PlanTask task = made.task;
  std::optional<Walked> walked;
  for (int raise = 0;; ++raise) {
    auto plan = solve_plan(task, go_on);
    if (!plan) return plan.error();
    if (plan->stopped && !plan->feasible && raise == 0) {
      return Error{ErrorKind::cancelled, "the plan was stopped before one was found; nothing was changed", {}};
    }
    if (!plan->feasible && raise > 0) break;  // no higher target can be reached: the one before stands
    answer.plan = std::move(*plan);
    if (!answer.plan.feasible) break;
    // Once the time is over, what was found is told with its chances all the same.
    const GoOn asks = answer.plan.stopped ? GoOn{} : go_on;
    walked = walk(clones, made, answer.plan.acts, answer.plan.stock, wish, asks);
    answer.plan.stopped = answer.plan.stopped || !walked;
    if (!wish.target || !walked || walked->sorted.empty()) break;
    answer.chance = share_reaching(walked->sorted.back(), *wish.target);
    answer.sure_enough = *answer.chance >= wish.sure;
    if (answer.sure_enough || !wish.soonest || raise == most_raises || answer.plan.stopped) break;
    // What is reached with the chance asked for falls short of the target by this much; at least by one bulb.
    const auto& sorted = walked->sorted.back();
    const auto at = static_cast<std::size_t>((1 - wish.sure) * static_cast<double>(sorted.size()));
    const double short_of = static_cast<double>(*wish.target) / std::max(1.0, static_cast<double>(sorted[at]));
    const double raised = static_cast<double>(task.goal.target) * std::clamp(short_of, 1.02, 2.0) + 1;
    if (raised > static_cast<double>(most_plan_bulbs)) break;
    task.goal.target = static_cast<std::int64_t>(raised);
  }
  answer.task = made.task;
  answer.meanings = made.meanings;
  if (answer.plan.feasible) {
    answer.acts = told_acts(made.task, answer.plan);
    if (walked) {
      answer.saleable = walked->saleable;
      answer.release = release_of(*walked, wish);
    }
    for (const SeasonAct& act : answer.acts) {
      if (act.season != 1) continue;
      answer.pots += act.count * made.task.acts[act.act].space;
      answer.hours += act.count * made.task.acts[act.act].hours;
    }
  }
  const std::size_t seasons = answer.plan.feasible && answer.plan.seasons > 0 ? answer.plan.seasons : wish.seasons;
  answer.beside = choices_beside(clones, made, seasons, wish, answer.plan.stopped ? GoOn{} : go_on);
  return answer;
}

}  // namespace motherbulb

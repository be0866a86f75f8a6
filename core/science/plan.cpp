#include "core/science/plan.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace motherbulb {
namespace {

constexpr double most_number = 1e12;     // of one space, hour, gift, price
constexpr double most_stock = 1e250;     // beyond it sums would run out of a double
constexpr double limit_rounding = 1e-9;  // by which a sum may pass a limit that it just meets

std::string nth(const char* list, std::size_t index, const char* field) {
  std::string text = std::string(list) + "[" + std::to_string(index) + "]";
  return *field == '\0' ? text : text + "." + field;
}

std::optional<std::string> amiss(double number, const std::string& where) {
  if (std::isfinite(number) && number >= 0 && number <= most_number) return std::nullopt;
  return where + (number < 0 ? ": is negative; write 0 or more" : ": is out of range; write 0 to 1e12");
}

std::optional<std::string> fault_of_classes(const PlanTask& task) {
  if (task.classes.empty()) return "classes: are none; write at least one";
  if (task.classes.size() > most_plan_classes) return "classes: are more than 5000; write fewer";
  std::set<std::string> names;
  for (std::size_t c = 0; c < task.classes.size(); ++c) {
    const PlanClass& one = task.classes[c];
    if (one.name.empty()) return nth("classes", c, "name") + ": is empty; write a name";
    if (!names.insert(one.name).second) {
      return nth("classes", c, "name") + ": \"" + one.name +
             "\" stands there twice; each class needs a name of its own";
    }
    if (one.price) {
      if (auto fault = amiss(*one.price, nth("classes", c, "price"))) return fault;
    }
  }
  if (task.start.size() != task.classes.size()) {
    return "start: has " + std::to_string(task.start.size()) + " numbers for " + std::to_string(task.classes.size()) +
           " classes; write one for each";
  }
  for (std::size_t c = 0; c < task.start.size(); ++c) {
    if (task.start[c] < 0) return nth("start", c, "") + ": is negative; write 0 or more";
    if (task.start[c] > most_plan_bulbs) return nth("start", c, "") + ": is out of range; write 0 to 1000000000";
  }
  return std::nullopt;
}

std::optional<std::string> fault_of_act(const PlanTask& task, std::size_t a) {
  const PlanAct& act = task.acts[a];
  if (act.name.empty()) return nth("acts", a, "name") + ": is empty; write a name";
  if (act.of_class >= task.classes.size())
    return nth("acts", a, "class") + ": there is no such class; name one of classes";
  if (auto fault = amiss(act.space, nth("acts", a, "space"))) return fault;
  if (auto fault = amiss(act.hours, nth("acts", a, "hours"))) return fault;
  if (auto fault = amiss(act.cost, nth("acts", a, "cost"))) return fault;
  if (kind_of(act) == PlanActKind::sells && !act.gives.empty()) {
    return nth("acts", a, "gives") +
           ": a bulb that is sold gives nothing; write [], or let the name not begin with sell";
  }
  std::set<std::size_t> given;
  for (std::size_t g = 0; g < act.gives.size(); ++g) {
    const std::string where = nth("acts", a, "gives") + "[" + std::to_string(g) + "]";
    if (act.gives[g].to >= task.classes.size()) return where + ": there is no such class; name one of classes";
    if (!given.insert(act.gives[g].to).second) return where + ": the class stands there twice; add the two up";
    if (auto fault = amiss(act.gives[g].mean, where)) return fault;
  }
  if (task.goal.kind == PlanGoalKind::most_money && kind_of(act) == PlanActKind::sells &&
      !task.classes[act.of_class].price) {
    return nth("classes", act.of_class, "price") + ": is missing, and act \"" + act.name +
           "\" sells it; write what one brings";
  }
  return std::nullopt;
}

std::optional<std::string> fault_of_acts(const PlanTask& task) {
  std::set<std::pair<std::string, std::size_t>> names;
  for (std::size_t a = 0; a < task.acts.size(); ++a) {
    if (auto fault = fault_of_act(task, a)) return fault;
    if (!names.insert({task.acts[a].name, task.acts[a].of_class}).second) {
      return nth("acts", a, "name") + ": \"" + task.acts[a].name + "\" stands there twice for class \"" +
             task.classes[task.acts[a].of_class].name + "\"; each needs a name of its own";
    }
  }
  return std::nullopt;
}

std::optional<std::string> fault_of_limit(const PlanTask& task, const PlanLimit& limit, const char* where) {
  if (limit.size() > 1 && limit.size() != task.seasons) {
    return std::string(where) + ": has " + std::to_string(limit.size()) + " numbers for " +
           std::to_string(task.seasons) + " seasons; write one, or one for each";
  }
  for (const double one : limit) {
    if (auto fault = amiss(one, where)) return fault;
  }
  return std::nullopt;
}

std::optional<std::string> fault_of_goal(const PlanTask& task) {
  if (task.goal.kind == PlanGoalKind::fewest_seasons_to && task.goal.target < 1) {
    return "goal.target: is " + std::to_string(task.goal.target) + "; write 1 or more";
  }
  if (task.goal.target > most_plan_bulbs) return "goal.target: is out of range; write 1 to 1000000000";
  for (const auto& [number, where] : {std::pair{task.goal.interest, "goal.interest"},
                                      std::pair{task.goal.wage, "goal.wage"}, std::pair{task.goal.rent, "goal.rent"}}) {
    if (auto fault = amiss(number, where)) return fault;
  }
  return std::nullopt;
}

std::optional<std::string> fault_of_reserves(const PlanTask& task) {
  for (const PlanReserve& reserve : task.reserves) {
    if (reserve.first > reserve.last || reserve.last >= task.classes.size()) {
      return "reserve.class: there is no such class; name one of classes";
    }
    if (auto fault = amiss(reserve.count, "reserve.count")) return fault;
  }
  return std::nullopt;
}

// The most that could stand with nothing in the way.
double most_there_could_be(const PlanTask& task) {
  std::vector<double> worth(task.classes.size(), 1.0);  // of one bulb: bulbs after k seasons
  for (std::size_t k = 0; k < task.seasons; ++k) {
    std::vector<double> before(worth.size(), 0.0);
    for (const PlanAct& act : task.acts) {
      double sum = 0;
      for (const PlanGive& give : act.gives) sum += give.mean * worth[give.to];
      before[act.of_class] = std::max(before[act.of_class], sum);
    }
    worth = std::move(before);
    if (*std::max_element(worth.begin(), worth.end()) > most_stock) return most_stock;
  }
  double most = 0;
  for (std::size_t c = 0; c < worth.size(); ++c) most += worth[c] * static_cast<double>(task.start[c]);
  return std::min(most, most_stock);
}

double used(const PlanTask& task, const std::vector<double>& acts, double PlanAct::*what) {
  double sum = 0;
  for (std::size_t a = 0; a < acts.size(); ++a) sum += task.acts[a].*what * acts[a];
  return sum;
}

bool under(double sum, const std::optional<double>& limit, double rounding) {
  return !limit || sum <= *limit + rounding * std::max(1.0, *limit);
}

bool within(const PlanTask& task, const std::vector<double>& acts, std::size_t season, double rounding) {
  if (!under(used(task, acts, &PlanAct::space), limit_in(task.limits.space, season), rounding)) return false;
  if (!under(used(task, acts, &PlanAct::hours), limit_in(task.limits.hours, season), rounding)) return false;
  for (const PlanReserve& reserve : task.reserves) {
    double kept = 0;
    for (std::size_t a = 0; a < acts.size(); ++a) {
      const PlanAct& act = task.acts[a];
      const bool counts = act.of_class >= reserve.first && act.of_class <= reserve.last;
      if (counts && kind_of(act) == PlanActKind::keeps) kept += acts[a];
    }
    if (kept < reserve.count - rounding * std::max(1.0, reserve.count)) return false;
  }
  return true;
}

std::size_t first_act(const PlanTask& task, std::size_t of_class, std::initializer_list<PlanActKind> order) {
  for (const PlanActKind kind : order) {
    for (std::size_t a = 0; a < task.acts.size(); ++a) {
      if (task.acts[a].of_class == of_class && kind_of(task.acts[a]) == kind) return a;
    }
  }
  return no_act;
}

PlanPolicy policy_of(const PlanTask& task, std::initializer_list<PlanActKind> order) {
  PlanPolicy policy;
  for (std::size_t c = 0; c < task.classes.size(); ++c) policy.push_back(first_act(task, c, order));
  return policy;
}

}  // namespace

PlanActKind kind_of(const PlanAct& act) {
  if (act.name.compare(0, 3, "cut") == 0) return PlanActKind::cuts;
  return act.name.compare(0, 4, "sell") == 0 ? PlanActKind::sells : PlanActKind::keeps;
}

std::optional<double> limit_in(const PlanLimit& limit, std::size_t season) {
  if (limit.empty()) return std::nullopt;
  return limit.size() == 1 ? limit.front() : limit[season - 1];
}

std::optional<std::string> fault_of(const PlanTask& task) {
  if (auto fault = fault_of_classes(task)) return fault;
  if (task.seasons < 1 || task.seasons > most_plan_seasons) {
    return "seasons: is " + std::to_string(task.seasons) + "; write 1 to " + std::to_string(most_plan_seasons);
  }
  if (auto fault = fault_of_acts(task)) return fault;
  if (task.acts.size() * task.seasons > most_plan_columns) {
    return "acts: are " + std::to_string(task.acts.size()) + " in " + std::to_string(task.seasons) +
           " seasons; seasons times acts may be " + std::to_string(most_plan_columns) +
           " at most, plan fewer of either";
  }
  if (auto fault = fault_of_limit(task, task.limits.space, "limits.space")) return fault;
  if (auto fault = fault_of_limit(task, task.limits.hours, "limits.hours")) return fault;
  if (auto fault = fault_of_goal(task)) return fault;
  if (auto fault = fault_of_reserves(task)) return fault;
  if (most_there_could_be(task) >= most_stock) {
    return "acts: what they give grows beyond any number in " + std::to_string(task.seasons) +
           " seasons; plan fewer seasons";
  }
  return std::nullopt;
}

std::vector<std::vector<double>> stock_after(const PlanTask& task, const std::vector<std::vector<double>>& acts) {
  std::vector<std::vector<double>> stock;
  stock.emplace_back(task.start.begin(), task.start.end());
  for (const std::vector<double>& season : acts) {
    std::vector<double> next(task.classes.size(), 0.0);
    for (std::size_t a = 0; a < season.size(); ++a) {
      for (const PlanGive& give : task.acts[a].gives) next[give.to] += give.mean * season[a];
    }
    stock.push_back(std::move(next));
  }
  return stock;
}

double saleable_in(const PlanTask& task, const std::vector<double>& stock) {
  double sum = 0;
  for (std::size_t c = 0; c < stock.size(); ++c) {
    if (task.classes[c].saleable) sum += stock[c];
  }
  return sum;
}

double money_of(const PlanTask& task, const std::vector<std::vector<double>>& acts) {
  double sum = 0;
  double today = 1;
  for (const std::vector<double>& season : acts) {
    today /= 1 + task.goal.interest;
    for (std::size_t a = 0; a < season.size(); ++a) sum += today * season[a] * money_of_one(task, a);
  }
  return sum;
}

double money_of_one(const PlanTask& task, std::size_t a) {
  const PlanAct& act = task.acts[a];
  const bool sold = kind_of(act) == PlanActKind::sells;
  return (sold ? task.classes[act.of_class].price.value_or(0) : 0) - task.goal.wage * act.hours -
         task.goal.rent * act.space - act.cost;
}

bool holds(const PlanTask& task, const std::vector<std::vector<double>>& acts, double rounding) {
  const std::vector<std::vector<double>> stock = stock_after(task, acts);
  for (std::size_t t = 0; t < acts.size(); ++t) {
    if (!within(task, acts[t], t + 1, rounding)) return false;
    std::vector<double> left = stock[t];
    for (std::size_t a = 0; a < acts[t].size(); ++a) left[task.acts[a].of_class] -= acts[t][a];
    for (std::size_t c = 0; c < left.size(); ++c) {
      if (std::fabs(left[c]) > rounding * std::max(1.0, stock[t][c])) return false;
    }
  }
  return true;
}

PlanPolicy cut_all(const PlanTask& task) {
  return policy_of(task, {PlanActKind::cuts, PlanActKind::keeps, PlanActKind::sells});
}

PlanPolicy cut_none(const PlanTask& task) {
  return policy_of(task, {PlanActKind::keeps, PlanActKind::sells});
}

PlanBeside beside(const PlanTask& task, const PlanPolicy& policy, std::size_t seasons) {
  PlanBeside found;
  for (std::size_t t = 1; t <= seasons; ++t) {
    const std::vector<double> stock = stock_after(task, found.acts).back();
    std::vector<double> acts(task.acts.size(), 0.0);
    for (std::size_t c = 0; c < stock.size(); ++c) {
      if (policy[c] != no_act) acts[policy[c]] = stock[c];
    }
    found.acts.push_back(std::move(acts));
  }
  found.stock = stock_after(task, found.acts);
  found.within_limits = holds(task, found.acts, limit_rounding);
  return found;
}

}  // namespace motherbulb

#include "core/science/plan_file.hpp"

#include <map>

#include "core/science/json_parts.hpp"
#include "core/science/json_reader.hpp"

namespace motherbulb {
namespace {

using Json = JsonReader::Json;

constexpr double most_number = 1e12;

class TaskReader {
public:
  explicit TaskReader(std::string_view file) : reader_(file) {}

  Result<PlanTask> read(std::string_view text, std::string_view file) {
    const Json json = reader_.parse(text);
    if (reader_.object(json, "", {"name", "classes", "start", "acts", "seasons", "limits", "goal", "reserve"})) {
      if (const Json* name = JsonReader::find(json, "name")) task_.name = reader_.text(*name, "name");
      read_classes(json);
      read_start(json);
      task_.seasons = static_cast<std::size_t>(
          reader_.whole(reader_.need(json, "", "seasons"), "seasons", 1, static_cast<std::int64_t>(most_plan_seasons)));
      read_acts(json);
      read_limits(json);
      read_goal(json);
      if (const Json* reserve = JsonReader::find(json, "reserve")) read_reserves(*reserve);
    }
    if (!reader_.ok()) return reader_.error();
    if (const auto fault = fault_of(task_)) return refusal(std::string(file) + ": " + *fault);
    return std::move(task_);
  }

private:
  double number(const Json& value, const std::string& where) {
    return reader_.number_from(value, where, 0, most_number);
  }
  double number_or_none(const Json& object, const std::string& where, const char* key) {
    const Json* found = JsonReader::find(object, key);
    return found == nullptr ? 0 : number(*found, JsonReader::inside(where, key));
  }

  void read_classes(const Json& json) {
    const Json& classes = reader_.list(reader_.need(json, "", "classes"), "classes");
    if (reader_.ok() && classes.size() > most_plan_classes) reader_.fault("classes", "are more than 5000; write fewer");
    for (std::size_t c = 0; reader_.ok() && c < classes.size(); ++c) {
      const std::string where = JsonReader::nth("classes", c);
      if (!reader_.object(classes[c], where, {"name", "saleable", "price"})) return;
      PlanClass one;
      one.name = reader_.text(reader_.need(classes[c], where, "name"), where + ".name");
      if (const Json* saleable = JsonReader::find(classes[c], "saleable")) {
        one.saleable = reader_.yes_or_no(*saleable, where + ".saleable");
      }
      if (const Json* price = JsonReader::find(classes[c], "price")) one.price = number(*price, where + ".price");
      if (reader_.ok() && !class_of_.insert({one.name, c}).second) {
        reader_.fault(where + ".name", "\"" + one.name + "\" stands there twice; each class needs a name of its own");
      }
      task_.classes.push_back(std::move(one));
    }
  }

  void read_start(const Json& json) {
    const Json& start = reader_.list(reader_.need(json, "", "start"), "start");
    for (std::size_t c = 0; reader_.ok() && c < start.size(); ++c) {
      task_.start.push_back(reader_.whole(start[c], JsonReader::nth("start", c), 0, most_plan_bulbs));
    }
    if (reader_.ok() && start.size() != task_.classes.size()) {
      reader_.fault("start", "has " + std::to_string(start.size()) + " numbers for " +
                                 std::to_string(task_.classes.size()) + " classes; write one for each");
    }
  }

  std::size_t class_named(const Json& value, const std::string& where) {
    const std::string name = reader_.text(value, where);
    if (!reader_.ok()) return 0;
    const auto found = class_of_.find(name);
    if (found != class_of_.end()) return found->second;
    reader_.fault(where, "there is no class \"" + name + "\"; name one of classes");
    return 0;
  }

  void read_acts(const Json& json) {
    const Json& acts = reader_.list(reader_.need(json, "", "acts"), "acts");
    if (reader_.ok() && acts.size() > most_plan_columns) reader_.fault("acts", "are more than 200000; write fewer");
    for (std::size_t a = 0; reader_.ok() && a < acts.size(); ++a) {
      const std::string where = JsonReader::nth("acts", a);
      if (!reader_.object(acts[a], where, {"name", "class", "space", "hours", "cost", "gives"})) return;
      PlanAct act;
      act.name = reader_.text(reader_.need(acts[a], where, "name"), where + ".name");
      act.of_class = class_named(reader_.need(acts[a], where, "class"), where + ".class");
      act.space = number(reader_.need(acts[a], where, "space"), where + ".space");
      act.hours = number(reader_.need(acts[a], where, "hours"), where + ".hours");
      act.cost = number_or_none(acts[a], where, "cost");
      read_gives(reader_.need(acts[a], where, "gives"), where + ".gives", act);
      task_.acts.push_back(std::move(act));
    }
  }

  void read_gives(const Json& value, const std::string& where, PlanAct& act) {
    const Json& gives = reader_.list(value, where);
    for (std::size_t g = 0; reader_.ok() && g < gives.size(); ++g) {
      const std::string at = JsonReader::nth(where, g);
      const Json& pair = reader_.list(gives[g], at);
      if (reader_.ok() && pair.size() != 2) {
        reader_.fault(at, "has " + std::to_string(pair.size()) + " parts; write [class, mean]");
      }
      if (!reader_.ok()) return;
      PlanGive give;
      give.to = class_named(pair[0], at + "[0]");
      give.mean = number(pair[1], at + "[1]");
      act.gives.push_back(give);
    }
  }

  void read_limits(const Json& json) {
    const Json* limits = JsonReader::find(json, "limits");
    if (limits == nullptr || !reader_.object(*limits, "limits", {"space", "hours"})) return;
    if (const Json* space = JsonReader::find(*limits, "space")) read_limit(*space, "limits.space", task_.limits.space);
    if (const Json* hours = JsonReader::find(*limits, "hours")) read_limit(*hours, "limits.hours", task_.limits.hours);
  }
  void read_limit(const Json& value, const std::string& where, PlanLimit& limit) {
    if (!value.is_array()) {
      limit.push_back(number(value, where));
      return;
    }
    for (std::size_t t = 0; reader_.ok() && t < value.size(); ++t) {
      limit.push_back(number(value[t], JsonReader::nth(where, t)));
    }
    if (reader_.ok() && limit.size() != task_.seasons) {
      reader_.fault(where, "has " + std::to_string(limit.size()) + " numbers for " + std::to_string(task_.seasons) +
                               " seasons; write one, or one for each");
    }
  }

  void read_goal(const Json& json) {
    const Json& goal = reader_.need(json, "", "goal");
    if (!reader_.object(goal, "goal", {"kind", "target", "interest", "wage", "rent"})) return;
    const std::string kind = reader_.text(reader_.need(goal, "goal", "kind"), "goal.kind");
    if (!reader_.ok()) return;
    if (kind == "most_saleable_by") {
      reader_.object(goal, "goal", {"kind"});
    } else if (kind == "fewest_seasons_to") {
      task_.goal.kind = PlanGoalKind::fewest_seasons_to;
      reader_.object(goal, "goal", {"kind", "target"});
      task_.goal.target = reader_.whole(reader_.need(goal, "goal", "target"), "goal.target", 1, most_plan_bulbs);
    } else if (kind == "most_money") {
      task_.goal.kind = PlanGoalKind::most_money;
      reader_.object(goal, "goal", {"kind", "interest", "wage", "rent"});
      task_.goal.interest = number_or_none(goal, "goal", "interest");
      task_.goal.wage = number_or_none(goal, "goal", "wage");
      task_.goal.rent = number_or_none(goal, "goal", "rent");
    } else {
      reader_.fault("goal.kind", "is \"" + kind + "\"; write most_saleable_by, fewest_seasons_to or most_money");
    }
  }

  void read_reserves(const Json& value) {
    if (!value.is_array()) return read_reserve(value, "reserve");
    for (std::size_t r = 0; reader_.ok() && r < value.size(); ++r)
      read_reserve(value[r], JsonReader::nth("reserve", r));
  }
  void read_reserve(const Json& value, const std::string& where) {
    if (!reader_.object(value, where, {"class", "up_to", "count"})) return;
    PlanReserve reserve;
    reserve.first = class_named(reader_.need(value, where, "class"), where + ".class");
    reserve.last = task_.classes.empty() ? 0 : task_.classes.size() - 1;
    if (const Json* last = JsonReader::find(value, "up_to")) reserve.last = class_named(*last, where + ".up_to");
    reserve.count =
        static_cast<double>(reader_.whole(reader_.need(value, where, "count"), where + ".count", 0, most_plan_bulbs));
    if (reader_.ok() && reserve.last < reserve.first) {
      reader_.fault(where + ".up_to", "comes before the reserve's class; name it or a later one");
    }
    task_.reserves.push_back(reserve);
  }

  JsonReader reader_;
  PlanTask task_;
  std::map<std::string, std::size_t> class_of_;
};

Json limit_json(const PlanLimit& limit) {
  if (limit.empty()) return nullptr;
  return limit.size() == 1 ? Json(limit.front()) : Json(limit);
}

Json goal_json(const PlanGoal& goal) {
  if (goal.kind == PlanGoalKind::most_saleable_by) return Json{{"kind", "most_saleable_by"}};
  if (goal.kind == PlanGoalKind::fewest_seasons_to) {
    return Json{{"kind", "fewest_seasons_to"}, {"target", goal.target}};
  }
  return Json{{"kind", "most_money"}, {"interest", goal.interest}, {"wage", goal.wage}, {"rent", goal.rent}};
}

Json reserve_json(const PlanTask& task) {
  Json all = Json::array();
  for (const PlanReserve& reserve : task.reserves) {
    Json one{{"class", task.classes[reserve.first].name}};
    if (reserve.last + 1 != task.classes.size()) one["up_to"] = task.classes[reserve.last].name;
    one["count"] = static_cast<std::int64_t>(reserve.count);
    all.push_back(std::move(one));
  }
  if (all.empty()) return nullptr;
  return all.size() == 1 ? all.front() : all;
}

Json act_json(const PlanTask& task, const PlanAct& act) {
  Json gives = Json::array();
  for (const PlanGive& give : act.gives) gives.push_back(Json::array({task.classes[give.to].name, give.mean}));
  Json one{{"name", act.name}, {"class", task.classes[act.of_class].name}, {"space", act.space}, {"hours", act.hours}};
  if (act.cost > 0) one["cost"] = act.cost;
  one["gives"] = std::move(gives);
  return one;
}

Json acts_json(const PlanTask& task, const Plan& plan, const std::vector<PlanActWords>& words) {
  Json acts = Json::array();
  for (std::size_t t = 0; t < plan.acts.size(); ++t) {
    for (std::size_t a = 0; a < plan.acts[t].size(); ++a) {
      if (!(plan.acts[t][a] > 0)) continue;
      PlanActWords told;
      told.grade = task.classes[task.acts[a].of_class].name;
      if (!words.empty()) told = words[a];
      acts.push_back(Json{{"season", t + 1},
                          {"clone", or_null(told.clone)},
                          {"grade", or_null(told.grade)},
                          {"act", task.acts[a].name},
                          {"method", or_null(told.method)},
                          {"sections", or_null(told.sections)},
                          {"count", plan.acts[t][a]}});
    }
  }
  return acts;
}

const char* word_of(PlanLimitKind kind) {
  switch (kind) {
    case PlanLimitKind::space:
      return "space";
    case PlanLimitKind::hours:
      return "hours";
    case PlanLimitKind::reserve:
      return "reserve";
    case PlanLimitKind::no_act:
      return "no act";
    case PlanLimitKind::target:
      return "target";
  }
  return "";
}

Json in_the_way_json(const PlanTask& task, const std::vector<PlanInTheWay>& in_the_way) {
  Json all = Json::array();
  for (const PlanInTheWay& one : in_the_way) {
    std::optional<std::string> of_class;
    if (one.kind == PlanLimitKind::no_act) of_class = task.classes[one.which].name;
    if (one.kind == PlanLimitKind::reserve) of_class = task.classes[task.reserves[one.which].first].name;
    all.push_back(
        Json{{"limit", word_of(one.kind)}, {"season", one.season}, {"by", one.by}, {"class", or_null(of_class)}});
  }
  return all;
}

}  // namespace

Result<PlanTask> plan_task_from_json(std::string_view text, std::string_view file) {
  return TaskReader(file).read(text, file);
}

std::string to_json(const PlanTask& task) {
  Json json = Json::object();
  json["name"] = task.name;
  json["classes"] = Json::array();
  for (const PlanClass& one : task.classes) {
    json["classes"].push_back(Json{{"name", one.name}, {"saleable", one.saleable}, {"price", or_null(one.price)}});
  }
  json["start"] = task.start;
  json["acts"] = Json::array();
  for (const PlanAct& act : task.acts) json["acts"].push_back(act_json(task, act));
  json["seasons"] = task.seasons;
  json["limits"] = Json{{"space", limit_json(task.limits.space)}, {"hours", limit_json(task.limits.hours)}};
  json["goal"] = goal_json(task.goal);
  json["reserve"] = reserve_json(task);
  return json.dump(1) + "\n";
}

std::string to_json(const PlanTask& task, const Plan& plan, const PlanAnswer& answer) {
  Json json{{"feasible", plan.feasible},
            {"objective", or_null(plan.objective)},
            {"gap", plan.feasible ? Json(plan.gap) : Json(nullptr)},
            {"proven", plan.proven},
            {"stopped", plan.stopped},
            {"seasons", plan.seasons}};
  json["acts"] = acts_json(task, plan, answer.words);
  json["saleable"] = Json::array();
  for (std::size_t t = 1; t < plan.stock.size(); ++t) json["saleable"].push_back(saleable_in(task, plan.stock[t]));
  json["stock"] = plan.stock;
  json["chance"] = or_null(answer.chance);
  json["beside"] = Json::array();
  for (const PlanBesideRow& row : answer.beside) {
    json["beside"].push_back(Json{{"name", row.name},
                                  {"saleable", row.saleable},
                                  {"chance", or_null(row.chance)},
                                  {"within_limits", row.within_limits}});
  }
  json["release"] = nullptr;
  if (answer.release) {
    json["release"] =
        Json{{"season", answer.release->season}, {"count", answer.release->count}, {"chance", answer.release->chance}};
  }
  json["advice"] = answer.advice;
  json["in_the_way"] = in_the_way_json(task, plan.in_the_way);
  return json.dump(1) + "\n";
}

}  // namespace motherbulb

// The plan's task as a file: what is written is read back equal, and what is wrong is refused in one line that names
// file and field.
#include <doctest/doctest.h>

#include <string>

#include "core/science/plan_file.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

// The same with one part put in place of another.
std::string with(std::string text, const std::string& part, const std::string& other) {
  const std::size_t at = text.find(part);
  REQUIRE_MESSAGE(at != std::string::npos, part);
  return text.replace(at, part.size(), other);
}

const std::string sound = R"({
  "name": "two sizes",
  "classes": [{"name": "10-12", "saleable": false}, {"name": "12+", "saleable": true, "price": 7.5}],
  "start": [12, 3],
  "acts": [{"name": "grow on", "class": "10-12", "space": 0.25, "hours": 0.1, "gives": [["10-12", 0.3], ["12+", 0.6]]},
           {"name": "cut in 8", "class": "12+", "space": 1, "hours": 0.5, "cost": 0.1, "gives": [["10-12", 5.1]]},
           {"name": "sell", "class": "12+", "space": 0, "hours": 0, "gives": []}],
  "seasons": 3,
  "limits": {"space": 40, "hours": null},
  "goal": {"kind": "fewest_seasons_to", "target": 25},
  "reserve": {"class": "12+", "count": 2}})";

std::string refused(const std::string& text) {
  const auto task = plan_task_from_json(text, "plan.json");
  REQUIRE_FALSE(task.ok());
  CHECK(task.error().what.find('\n') == std::string::npos);
  CHECK(task.error().what.rfind("plan.json: ", 0) == 0);
  return task.error().what.substr(11);
}
// It names the field, and what is wrong with it.
void refused_at(const std::string& part, const std::string& other, const std::string& field, const std::string& what) {
  const std::string said = refused(with(sound, part, other));
  CHECK_MESSAGE(said.rfind(field + ":", 0) == 0, said);
  CHECK_MESSAGE(said.find(what) != std::string::npos, said);
}

}  // namespace

TEST_CASE("a plan's file is read as it is written") {
  const PlanTask task = make::must(plan_task_from_json(sound, "plan.json"));
  CHECK(task.name == "two sizes");
  REQUIRE(task.classes.size() == 2);
  CHECK(task.classes[1].name == "12+");
  CHECK(task.classes[1].saleable);
  CHECK(task.classes[1].price == 7.5);
  CHECK_FALSE(task.classes[0].price);
  CHECK(task.start == std::vector<std::int64_t>{12, 3});
  REQUIRE(task.acts.size() == 3);
  CHECK(task.acts[1].of_class == 1);
  CHECK(task.acts[1].cost == 0.1);
  CHECK(task.acts[0].gives[1].to == 1);
  CHECK(task.acts[0].gives[1].mean == 0.6);
  CHECK(kind_of(task.acts[0]) == PlanActKind::keeps);
  CHECK(kind_of(task.acts[1]) == PlanActKind::cuts);
  CHECK(kind_of(task.acts[2]) == PlanActKind::sells);
  CHECK(task.seasons == 3);
  CHECK(task.limits.space == PlanLimit{40});
  CHECK(task.limits.hours.empty());
  CHECK(task.goal.kind == PlanGoalKind::fewest_seasons_to);
  CHECK(task.goal.target == 25);
  REQUIRE(task.reserves.size() == 1);
  CHECK(task.reserves[0].first == 1);
  CHECK(task.reserves[0].last == 1);
  CHECK(task.reserves[0].count == 2);
}

TEST_CASE("what is written is read back equal") {
  const std::string with_list = with(sound, "\"space\": 40", "\"space\": [40, 0.1, 1e-9]");
  const std::string with_money = with(sound, R"("kind": "fewest_seasons_to", "target": 25)",
                                      R"("kind": "most_money", "interest": 0.1, "wage": 3)");
  const std::string with_two =
      with(sound, R"({"class": "12+", "count": 2})",
           R"([{"class": "10-12", "up_to": "10-12", "count": 4}, {"class": "12+", "count": 1}])");
  for (const std::string& text : {sound, with_list, with_money, with_two}) {
    const PlanTask task = make::must(plan_task_from_json(text, "plan.json"));
    const std::string written = to_json(task);
    const PlanTask again = make::must(plan_task_from_json(written, "again.json"));
    CHECK(to_json(again) == written);
    CHECK(again.limits.space == task.limits.space);
    CHECK(again.acts[1].gives[0].mean == task.acts[1].gives[0].mean);
    CHECK(again.goal.kind == task.goal.kind);
    CHECK(again.goal.interest == task.goal.interest);
    REQUIRE(again.reserves.size() == task.reserves.size());
    CHECK(again.reserves[0].last == task.reserves[0].last);
  }
}

TEST_CASE("what may be left out is left out") {
  const PlanTask task = make::must(plan_task_from_json(
      R"({"classes":[{"name":"all"}],"start":[2.0],"seasons":1,"goal":{"kind":"most_saleable_by"},"acts":[]})", "p"));
  CHECK(task.start[0] == 2);
  CHECK_FALSE(task.classes[0].saleable);
  CHECK(task.reserves.empty());
  CHECK(task.limits.hours.empty());
}

TEST_CASE("malformed plans are refused by file and field") {
  CHECK(refused("{").find("no JSON") != std::string::npos);
  CHECK(refused("[]").find("object") != std::string::npos);
  refused_at("\"seasons\": 3,", "", "seasons", "missing");
  refused_at("\"seasons\": 3", "\"seasons\": 0", "seasons", "1");
  refused_at("\"seasons\": 3", "\"seasons\": 61", "seasons", "60");
  refused_at("\"seasons\": 3", "\"seasons\": 2.5", "seasons", "whole");
  refused_at("\"seasons\": 3", "\"seasons\": 3, \"colour\": 1", "colour", "no such field");
  refused_at("\"name\": \"12+\"", "\"name\": \"10-12\"", "classes[1].name", "twice");
  refused_at("\"name\": \"12+\"", "\"name\": 12", "classes[1].name", "text");
  refused_at("\"saleable\": true", "\"saleable\": 1", "classes[1].saleable", "true nor false");
  refused_at("\"price\": 7.5", "\"price\": -1", "classes[1].price", "negative");
  refused_at("[12, 3]", "[12.5, 3]", "start[0]", "whole");
  refused_at("[12, 3]", "[12, -3]", "start[1]", "negative");
  refused_at("[12, 3]", "[12]", "start", "2 classes");
  refused_at("[12, 3]", "[12, null]", "start[1]", "number");
  refused_at("\"class\": \"10-12\"", "\"class\": \"10-11\"", "acts[0].class", "10-11");
  refused_at("\"class\": \"10-12\"", "\"class\": 0", "acts[0].class", "text");
  refused_at("\"space\": 0.25", "\"space\": -0.25", "acts[0].space", "negative");
  refused_at("\"hours\": 0.1", "\"hours\": 1e13", "acts[0].hours", "range");
  refused_at("\"cost\": 0.1", "\"cost\": \"0.1\"", "acts[1].cost", "number");
  refused_at("[\"12+\", 0.6]", "[\"12+\"]", "acts[0].gives[1]", "[class, mean]");
  refused_at("[\"12+\", 0.6]", "[\"13+\", 0.6]", "acts[0].gives[1][0]", "13+");
  refused_at("[\"12+\", 0.6]", "[\"12+\", -0.6]", "acts[0].gives[1][1]", "negative");
  refused_at("[\"12+\", 0.6]", "[\"10-12\", 0.6]", "acts[0].gives[1]", "twice");
  refused_at("\"gives\": []", "\"gives\": [[\"12+\", 1]]", "acts[2].gives", "sold");
  refused_at("\"name\": \"sell\"", "\"name\": \"cut in 8\"", "acts[2].name", "twice");
  refused_at("\"name\": \"sell\"", "\"name\": \"\"", "acts[2].name", "empty");
  refused_at("\"space\": 40", "\"space\": -40", "limits.space", "negative");
  refused_at("\"space\": 40", "\"space\": [40, 30]", "limits.space", "3 seasons");
  refused_at("\"space\": 40", "\"space\": \"40\"", "limits.space", "number");
  refused_at("fewest_seasons_to", "soonest", "goal.kind", "soonest");
  refused_at("\"target\": 25", "\"target\": 0", "goal.target", "1");
  refused_at(", \"target\": 25", "", "goal.target", "missing");
  refused_at("\"target\": 25", "\"target\": 25, \"wage\": 1", "goal.wage", "no such field");
  refused_at("\"count\": 2", "\"count\": -2", "reserve.count", "negative");
  refused_at("\"count\": 2", "\"count\": 1.5", "reserve.count", "whole");
  refused_at("{\"class\": \"12+\", \"count\"", "{\"class\": \"14+\", \"count\"", "reserve.class", "14+");
  const std::string for_money = with(sound, R"("kind": "fewest_seasons_to", "target": 25)", R"("kind": "most_money")");
  CHECK(refused(with(for_money, ", \"price\": 7.5", "")).rfind("classes[1].price: is missing", 0) == 0);
}

TEST_CASE("the answer has the fields that scripts rely on") {
  const PlanTask task = make::must(plan_task_from_json(sound, "plan.json"));
  Plan plan;
  plan.in_the_way = {{PlanLimitKind::hours, 2, 1.5, 0}, {PlanLimitKind::no_act, 3, 4, 1}};
  const std::string none = to_json(task, plan, {});
  for (const char* part : {"\"feasible\": false", "\"objective\": null", "\"chance\": null", "\"release\": null",
                           "\"limit\": \"hours\"", "\"by\": 1.5", "\"limit\": \"no act\"", "\"class\": \"12+\""}) {
    CHECK_MESSAGE(none.find(part) != std::string::npos, none);
  }
  plan = Plan{};
  plan.feasible = true;
  plan.objective = 2;
  plan.seasons = 1;
  plan.acts = {{12, 1, 0}};
  plan.stock = stock_after(task, plan.acts);
  PlanAnswer answer;
  answer.beside = {{"cut none", 3, {}, true}};
  const std::string some = to_json(task, plan, answer);
  for (const char* part : {"\"feasible\": true", "\"act\": \"cut in 8\"", "\"grade\": \"12+\"", "\"clone\": null",
                           "\"count\": 12.0", "\"name\": \"cut none\""}) {
    CHECK_MESSAGE(some.find(part) != std::string::npos, some);
  }
  CHECK(some.find("\"act\": \"sell\"") == std::string::npos);  // none is sold
}

#include "core/plans/plan_file.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <set>

#include "shared/text.hpp"

namespace motherbulb {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::int32_t longest_days = 20 * 366;
constexpr std::size_t most_steps = 40;

// Reads one file and keeps what is wrong with it, each with its place.
class Reader {
public:
  Reader(std::string_view file, std::vector<std::string>& faults) : file_(file), faults_(faults) {}

  void fault(const std::string& where, const std::string& what) {
    faults_.push_back(std::string(file_) + ": " + (where.empty() ? "" : where + ": ") + what);
  }
  // Fields beyond those are a misspelling, or from a newer version: either way they would be lost.
  void only(const Json& object, const std::string& where, std::initializer_list<std::string_view> known) {
    for (const auto& [key, value] : object.items()) {
      if (std::find(known.begin(), known.end(), key) != known.end()) continue;
      std::string all;
      for (const std::string_view one : known) all += (all.empty() ? "" : ", ") + std::string(one);
      fault(where, "there is no field \"" + key + "\"; it takes " + all);
    }
  }
  std::string text(const Json& object, const std::string& where, const char* key, bool needed) {
    const auto found = object.find(key);
    if (found == object.end()) {
      if (needed) fault(where, std::string("\"") + key + "\" is missing; write it as a text");
      return "";
    }
    if (!found->is_string() || found->get_ref<const std::string&>().size() > 400) {
      fault(where.empty() ? key : where + "." + key, "is no text, or a long one; write up to 400 characters");
      return "";
    }
    return found->get<std::string>();
  }
  std::optional<std::int64_t> whole(const Json& value, const std::string& where) {
    if (value.is_number_integer()) return value.get<std::int64_t>();
    fault(where, "is no whole number; write one without quotes");
    return std::nullopt;
  }
  std::optional<Span> span(const Json& object, const std::string& where, const char* key) {
    const auto found = object.find(key);
    if (found == object.end()) return std::nullopt;
    const std::string at = where.empty() ? key : where + "." + key;
    if (!found->is_object()) {
      fault(at, R"(is no length of time; write it as {"weeks": 8, "source": "common practice"})");
      return std::nullopt;
    }
    only(*found, at, {"days", "weeks", "months", "source"});
    Span read;
    int units = 0;
    for (const Span::In in : {Span::In::days, Span::In::weeks, Span::In::months}) {
      const auto amount = found->find(std::string(to_text(in)));
      if (amount == found->end()) continue;
      ++units;
      read.in = in;
      const auto number = whole(*amount, at + "." + std::string(to_text(in)));
      if (!number) continue;
      if (*number < 0) {
        fault(at + "." + std::string(to_text(in)), "is a time before; write 0 or more");
        continue;
      }
      if (*number > longest_days) {
        fault(at + "." + std::string(to_text(in)), "is longer than 20 years; write less");
        continue;
      }
      read.amount = static_cast<std::int32_t>(*number);
    }
    if (units != 1) fault(at, "needs one of days, weeks, months; write exactly one");
    read.source = text(*found, at, "source", true);
    if (units == 1 && read.days() > longest_days) {
      fault(at, "is longer than 20 years; write less");
      read.amount = 0;
    }
    return read;
  }
  std::vector<Step> events(const Json& object, const std::string& where, const char* key) {
    std::vector<Step> read;
    const auto found = object.find(key);
    if (found == object.end()) return read;
    const std::string at = where + "." + key;
    if (!found->is_array()) {
      fault(at, R"(is no list; write it as ["potted"])");
      return read;
    }
    for (const Json& one : *found) {
      const auto step = one.is_string() ? step_from_text(one.get_ref<const std::string&>()) : std::nullopt;
      if (!step) {
        fault(at, "\"" + (one.is_string() ? one.get<std::string>() : one.dump()) +
                      "\" is no step; it takes begun, potted, covered, uncover, look, unpot, grade, dry-off, start, "
                      "repot, water, feed");
        continue;
      }
      read.push_back(*step);
    }
    return read;
  }
  std::optional<Season> season(const Json& object, const std::string& where) {
    const auto found = object.find("season");
    if (found == object.end()) return std::nullopt;
    const std::string at = where + ".season";
    if (!found->is_object()) {
      fault(at, R"(is no season; write it as {"from": 36, "to": 42, "source": "common practice"})");
      return std::nullopt;
    }
    only(*found, at, {"from", "to", "source"});
    Season read;
    const auto week = [&](const char* key, std::int32_t& into) {
      const auto value = found->find(key);
      if (value == found->end()) return fault(at, std::string("\"") + key + "\" is missing; write a week, 1 to 53");
      const auto number = whole(*value, at + "." + key);
      if (!number) return;
      if (*number < 1 || *number > 53) return fault(at + "." + key, "a year has weeks 1 to 53; write one of them");
      into = static_cast<std::int32_t>(*number);
    };
    week("from", read.from);
    week("to", read.to);
    read.source = text(*found, at, "source", true);
    return read;
  }

private:
  std::string_view file_;
  std::vector<std::string>& faults_;
};

std::string place_of_step(std::size_t index) {
  return "steps[" + std::to_string(index) + "]";
}

// Happens whatever the plan says: another plan's step, or no step at all.
bool happens_anyway(Step event, Of of) {
  return event == Step::begun || event == Step::potted || event == Step::covered ||
         (of == Of::waiting && (event == Step::unpot || event == Step::dry_off));
}

std::optional<Method> method_of(const std::string& text) {
  return method_from_text(text);
}

}  // namespace

std::vector<std::string> faults_of(const GrowingPlan& plan, std::string_view file) {
  std::vector<std::string> faults;
  Reader say(file, faults);
  const bool bulbs = !cuts(plan.method);
  if (plan.steps.empty()) say.fault("steps", "there are none; write at least one");
  std::set<std::pair<Step, Of>> seen;
  const auto source = [&](const std::string& given, const std::string& where) {
    if (given == common_practice || given == by_the_grower || plan.sources.count(given) != 0) return;
    say.fault(where + ".source", "\"" + given + "\" is not among the sources; add it there, or write common practice");
  };
  const auto span_source = [&](const std::optional<Span>& span, const std::string& where) {
    if (span) source(span->source, where);
  };
  span_source(plan.drying, "drying");
  for (std::size_t i = 0; i < plan.steps.size(); ++i) {
    const PlanStep& step = plan.steps[i];
    const std::string where = place_of_step(i);
    if (!can_be_due(step.step)) {
      say.fault(where + ".step", "\"" + std::string(to_text(step.step)) +
                                     "\" is never due; it takes uncover, look, unpot, grade, dry-off, start, repot, "
                                     "water, feed");
    }
    if (bulbs == (step.of == Of::pieces)) {
      say.fault(where + ".of", bulbs ? "this plan is of bulbs; write bulbs or waiting"
                                     : "what is cut stands in pieces; write pieces, and bulbs in the growing-on plan");
    }
    if (!seen.emplace(step.step, step.of).second) {
      say.fault(where, "\"" + std::string(to_text(step.step)) + "\" of " + std::string(to_text(step.of)) +
                           " stands twice; leave one");
    }
    if (step.after.empty()) {
      say.fault(where + ".after", "it counts from nothing; write from what, such as [\"potted\"]");
    }
    if (step.season && step.closes) {
      say.fault(where + ".closes", "the season says when it closes; leave one of the two out");
    }
    if (!step.season && !step.closes) {
      say.fault(where + ".closes", "is missing; write when it is overdue, or a season");
    }
    if (step.closes && step.closes->days() < (step.opens ? step.opens->days() : 0)) {
      say.fault(where + ".closes", "it closes before it opens; write a longer time");
    }
    if (step.every && step.every->days() < 1) say.fault(where + ".every", "is less than a day; write 1 day or more");
    span_source(step.opens, where + ".opens");
    span_source(step.closes, where + ".closes");
    span_source(step.every, where + ".every");
    if (step.season) source(step.season->source, where + ".season");
    for (const std::vector<Step>* events : {&step.after, &step.until}) {
      for (const Step event : *events) {
        if (happens_anyway(event, step.of) || plan.step(event, step.of) != nullptr) continue;
        // What ends pieces is their unpotting, due or not.
        if (events == &step.until && event == Step::unpot) continue;
        say.fault(where + (events == &step.after ? ".after" : ".until"),
                  "the plan has no step \"" + std::string(to_text(event)) + "\" of " + std::string(to_text(step.of)) +
                      "; add it, or count from another");
      }
    }
  }
  // Steps that wait only for each other would never come.
  std::set<std::pair<Step, Of>> comes;
  for (bool more = true; more;) {
    more = false;
    for (const PlanStep& step : plan.steps) {
      if (comes.count({step.step, step.of}) != 0) continue;
      const bool can = step.after.empty() || std::any_of(step.after.begin(), step.after.end(), [&](Step event) {
                         return happens_anyway(event, step.of) || comes.count({event, step.of}) != 0 ||
                                plan.step(event, step.of) == nullptr;
                       });
      if (!can) continue;
      comes.emplace(step.step, step.of);
      more = true;
    }
  }
  for (std::size_t i = 0; i < plan.steps.size(); ++i) {
    const PlanStep& step = plan.steps[i];
    if (comes.count({step.step, step.of}) != 0) continue;
    say.fault(place_of_step(i) + ".after",
              "\"" + std::string(to_text(step.step)) + "\" waits for itself in a loop; count it from potted or begun");
  }
  // A rest that nobody ends is a lost bulb.
  if (plan.step(Step::dry_off, Of::bulbs) != nullptr && plan.step(Step::start, Of::bulbs) == nullptr) {
    say.fault("steps", "bulbs are dried off and never started; add \"start\" after \"dry-off\"");
  }
  return faults;
}

PlanRead read_plan(std::string_view text, std::string_view file) {
  PlanRead read;
  Reader reader(file, read.faults);
  if (text.size() > longest_plan) {
    reader.fault("", "is longer than 100,000 bytes; that is no growing plan");
    return read;
  }
  if (!is_utf8(text)) {
    reader.fault("", "is not UTF-8; save it as UTF-8");
    return read;
  }
  Json json;
  try {
    json = Json::parse(text);
  } catch (const Json::parse_error& error) {
    const auto upto = text.substr(0, std::min<std::size_t>(text.size(), error.byte > 0 ? error.byte - 1 : 0));
    reader.fault("line " + std::to_string(1 + std::count(upto.begin(), upto.end(), '\n')),
                 "is not JSON from here on; look for a comma or a quote that is missing");
    return read;
  } catch (const Json::out_of_range&) {
    // Thrown by the parser for 1e999 alone.
    reader.fault("", "has a number beyond all that can be counted; write a smaller one");
    return read;
  }
  if (!json.is_object()) {
    reader.fault("", "is no object; a plan is written in { }");
    return read;
  }
  reader.only(json, "", {"plan", "name", "genus", "method", "since", "for", "drying", "sources", "steps"});
  GrowingPlan& plan = read.plan;
  plan.id = reader.text(json, "", "plan", true);
  plan.name = reader.text(json, "", "name", false);
  plan.genus = reader.text(json, "", "genus", true);
  const std::string method = reader.text(json, "", "method", true);
  if (const auto known = method_of(method)) {
    plan.method = *known;
  } else if (!method.empty()) {
    reader.fault("method", "\"" + method +
                               "\" is no method; it takes halving, quartering, chipping, cross-cutting, "
                               "scoring, scooping, twin-scaling, scaling, growing-on");
  }
  if (const std::string since = reader.text(json, "", "since", false); !since.empty()) {
    plan.since = day_from_text(since);
    if (!plan.since) reader.fault("since", "\"" + since + "\" is no day; write it as 2026-11-25");
  }
  if (const std::string reach = reader.text(json, "", "for", false); !reach.empty()) {
    plan.for_all = reach == "all";
    if (reach != "all" && reach != "new") reader.fault("for", "takes all or new, not \"" + reach + "\"");
  }
  plan.drying = reader.span(json, "", "drying");
  if (const auto sources = json.find("sources"); sources != json.end()) {
    if (!sources->is_object()) {
      reader.fault("sources", R"(is no list of sources; write {"S13": "what it is"})");
    } else {
      for (const auto& [key, value] : sources->items()) {
        if (value.is_string()) {
          plan.sources[key] = value.get<std::string>();
        } else {
          reader.fault("sources." + key, "is no text; write what the source is");
        }
      }
    }
  }
  const auto steps = json.find("steps");
  if (steps == json.end() || !steps->is_array() || steps->size() > most_steps) {
    reader.fault("steps", "is missing, is no list, or has more than 40; write the steps in [ ]");
    return read;
  }
  for (std::size_t i = 0; i < steps->size(); ++i) {
    const Json& one = (*steps)[i];
    const std::string where = place_of_step(i);
    if (!one.is_object()) {
      reader.fault(where, "is no step; write it in { }");
      continue;
    }
    reader.only(one, where, {"step", "of", "after", "opens", "closes", "every", "until", "season", "seen"});
    PlanStep step;
    const std::string word = reader.text(one, where, "step", true);
    const auto known = step_from_text(word);
    if (!known) {
      if (!word.empty()) {
        reader.fault(where + ".step", "\"" + word +
                                          "\" is no step; it takes uncover, look, unpot, grade, dry-off, "
                                          "start, repot, water, feed");
      }
      continue;
    }
    step.step = *known;
    const std::string of = reader.text(one, where, "of", false);
    step.of = cuts(plan.method) ? Of::pieces : Of::bulbs;
    if (of == "pieces") {
      step.of = Of::pieces;
    } else if (of == "bulbs") {
      step.of = Of::bulbs;
    } else if (of == "waiting") {
      step.of = Of::waiting;
    } else if (!of.empty()) {
      reader.fault(where + ".of", "takes pieces, bulbs or waiting, not \"" + of + "\"");
    }
    step.after = reader.events(one, where, "after");
    step.opens = reader.span(one, where, "opens");
    step.closes = reader.span(one, where, "closes");
    step.every = reader.span(one, where, "every");
    step.until = reader.events(one, where, "until");
    step.season = reader.season(one, where);
    step.seen = reader.text(one, where, "seen", false);
    plan.steps.push_back(std::move(step));
  }
  if (plan.id.empty() && read.faults.empty()) reader.fault("plan", "is empty; give the plan a name of its own");
  if (!read.faults.empty()) return read;
  read.faults = faults_of(plan, file);
  return read;
}

namespace {

Json json_of(const Span& span) {
  return Json{{std::string(to_text(span.in)), span.amount}, {"source", span.source}};
}

Json json_of(const std::vector<Step>& events) {
  Json list = Json::array();
  for (const Step event : events) list.push_back(std::string(to_text(event)));
  return list;
}

}  // namespace

std::string write_plan(const GrowingPlan& plan) {
  Json json;
  json["plan"] = plan.id;
  if (!plan.name.empty()) json["name"] = plan.name;
  json["genus"] = plan.genus;
  json["method"] = std::string(to_text(plan.method));
  if (plan.since) json["since"] = to_text(*plan.since);
  if (plan.for_all) json["for"] = "all";
  if (plan.drying) json["drying"] = json_of(*plan.drying);
  json["sources"] = Json::object();
  for (const auto& [key, what] : plan.sources) json["sources"][key] = what;
  json["steps"] = Json::array();
  for (const PlanStep& step : plan.steps) {
    Json one;
    one["step"] = std::string(to_text(step.step));
    one["of"] = std::string(to_text(step.of));
    one["after"] = json_of(step.after);
    if (step.opens) one["opens"] = json_of(*step.opens);
    if (step.closes) one["closes"] = json_of(*step.closes);
    if (step.every) one["every"] = json_of(*step.every);
    if (!step.until.empty()) one["until"] = json_of(step.until);
    if (step.season) {
      one["season"] = Json{{"from", step.season->from}, {"to", step.season->to}, {"source", step.season->source}};
    }
    if (!step.seen.empty()) one["seen"] = step.seen;
    json["steps"].push_back(std::move(one));
  }
  return json.dump(1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace motherbulb

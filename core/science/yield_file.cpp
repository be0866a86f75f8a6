#include "core/science/yield_file.hpp"

#include "core/science/json_reader.hpp"

namespace motherbulb {
namespace {

using Json = JsonReader::Json;

NormalPrior prior_from(JsonReader& reader, const Json& priors, const char* key) {
  NormalPrior prior;
  const std::string where = JsonReader::inside("priors", key);
  const Json& value = reader.need(priors, "priors", key);
  if (!reader.object(value, where, {"mean", "sd"})) return prior;
  prior.mean = reader.number(reader.need(value, where, "mean"), where + ".mean");
  prior.sd = reader.number(reader.need(value, where, "sd"), where + ".sd");
  return prior;
}

YieldPriors priors_from(JsonReader& reader, const Json& value) {
  YieldPriors priors;
  if (!reader.object(value, "priors", {"u", "b", "d", "log_f", "t"})) return priors;
  priors.u = prior_from(reader, value, "u");
  priors.b = prior_from(reader, value, "b");
  priors.d = prior_from(reader, value, "d");
  priors.log_f = prior_from(reader, value, "log_f");
  const Json& t = reader.need(value, "priors", "t");
  if (!reader.object(t, "priors.t", {"sd"})) return priors;
  priors.t_sd = reader.number(reader.need(t, "priors.t", "sd"), "priors.t.sd");
  return priors;
}

// k and c, which pots and asks have alike.
template <class Cut>
void read_cut(JsonReader& reader, const Json& value, const std::string& where, Cut& cut) {
  cut.k = static_cast<std::int32_t>(reader.whole(reader.need(value, where, "k"), where + ".k", 1, most_yield_sections));
  cut.c = reader.number(reader.need(value, where, "c"), where + ".c");
  if (reader.ok() && !(cut.c >= least_yield_girth_cm && cut.c <= most_yield_girth_cm)) {
    reader.fault(where + ".c", "is no circumference of a bulb; write 0.1 to 200 cm");
  }
}

YieldPot pot_from(JsonReader& reader, const Json& value, const std::string& where) {
  YieldPot pot;
  if (!reader.object(value, where, {"clone", "k", "c", "s", "y"})) return pot;
  pot.clone = reader.text(reader.need(value, where, "clone"), where + ".clone");
  if (reader.ok() && pot.clone.empty()) reader.fault(where + ".clone", "is empty; write the clone's name");
  read_cut(reader, value, where, pot);
  pot.s = reader.whole(reader.need(value, where, "s"), where + ".s", 1, most_yield_count);
  pot.y = reader.whole(reader.need(value, where, "y"), where + ".y", 0, most_yield_count);
  return pot;
}

YieldAsk ask_from(JsonReader& reader, const Json& value, const std::string& where) {
  YieldAsk ask;
  if (!reader.object(value, where, {"clone", "k", "c"})) return ask;
  if (const Json* clone = JsonReader::find(value, "clone")) ask.clone = reader.text(*clone, where + ".clone");
  read_cut(reader, value, where, ask);
  return ask;
}

const Json& list_of(JsonReader& reader, const Json& json, const char* key, std::size_t most) {
  const Json& list = reader.list(reader.need(json, "", key), key);
  if (reader.ok() && list.size() > most) reader.fault(key, "are more than " + std::to_string(most) + "; write fewer");
  return list;
}

Json json_of(const NormalPrior& prior) {
  return Json{{"mean", prior.mean}, {"sd", prior.sd}};
}

}  // namespace

Result<YieldFile> yield_file_from_json(std::string_view text, std::string_view file) {
  JsonReader reader(file);
  const Json json = reader.parse(text);
  YieldFile read;
  if (!reader.object(json, "", {"name", "priors", "pots", "ask"})) return reader.error();
  if (const Json* name = JsonReader::find(json, "name")) read.name = reader.text(*name, "name");
  read.priors = priors_from(reader, reader.need(json, "", "priors"));
  if (reader.ok()) {
    if (const auto fault = fault_of(read.priors)) return refusal(std::string(file) + ": " + *fault);
  }
  const Json& pots = list_of(reader, json, "pots", most_yield_pots);
  for (std::size_t i = 0; reader.ok() && i < pots.size(); ++i) {
    read.pots.push_back(pot_from(reader, pots[i], JsonReader::nth("pots", i)));
  }
  const Json& asks = list_of(reader, json, "ask", most_yield_asks);
  for (std::size_t i = 0; reader.ok() && i < asks.size(); ++i) {
    read.asks.push_back(ask_from(reader, asks[i], JsonReader::nth("ask", i)));
  }
  if (!reader.ok()) return reader.error();
  return read;
}

std::string to_json(const YieldFile& file) {
  Json json = Json::object();
  json["name"] = file.name;
  json["priors"] = Json{{"u", json_of(file.priors.u)},
                        {"b", json_of(file.priors.b)},
                        {"d", json_of(file.priors.d)},
                        {"log_f", json_of(file.priors.log_f)},
                        {"t", Json{{"sd", file.priors.t_sd}}}};
  json["pots"] = Json::array();
  for (const YieldPot& pot : file.pots) {
    json["pots"].push_back(Json{{"clone", pot.clone}, {"k", pot.k}, {"c", pot.c}, {"s", pot.s}, {"y", pot.y}});
  }
  json["ask"] = Json::array();
  for (const YieldAsk& ask : file.asks) {
    const Json clone = ask.clone.empty() ? Json(nullptr) : Json(ask.clone);
    json["ask"].push_back(Json{{"clone", clone}, {"k", ask.k}, {"c", ask.c}});
  }
  return json.dump(1) + "\n";
}

}  // namespace motherbulb

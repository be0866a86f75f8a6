#include "core/science/model_file.hpp"

#include "core/science/json_parts.hpp"
#include "core/science/json_reader.hpp"

namespace motherbulb {
namespace {

using Json = JsonReader::Json;

constexpr std::size_t most_classes = 200, most_sets = 1000;
constexpr std::int64_t most_bulbs = 1'000'000'000'000;

Square table_from(JsonReader& reader, const Json& value, const std::string& where, std::size_t k) {
  Square table(k);
  const Json& rows = reader.list(value, where);
  const std::string sizes = "write " + std::to_string(k) + " rows of " + std::to_string(k);
  if (reader.ok() && rows.size() != k) {
    reader.fault(where, "has " + std::to_string(rows.size()) + " rows for " + std::to_string(k) + " classes; " + sizes);
  }
  for (std::size_t to = 0; reader.ok() && to < k; ++to) {
    const std::string row_at = JsonReader::nth(where, to);
    const Json& row = reader.list(rows[to], row_at);
    if (reader.ok() && row.size() != k) {
      reader.fault(row_at,
                   "has " + std::to_string(row.size()) + " numbers for " + std::to_string(k) + " classes; " + sizes);
    }
    for (std::size_t from = 0; reader.ok() && from < k; ++from) {
      table.at(to, from) = reader.number(row[from], JsonReader::nth(row_at, from));
    }
  }
  return table;
}

ModelYear year_from(JsonReader& reader, const Json& value, const std::string& where, std::size_t k) {
  ModelYear year;
  if (!reader.object(value, where, {"name", "weight", "survival", "increase", "matrix"})) return year;
  const auto at = [&where](const char* key) { return JsonReader::inside(where, key); };
  if (const Json* name = JsonReader::find(value, "name")) year.name = reader.text(*name, at("name"));
  if (const Json* weight = JsonReader::find(value, "weight")) year.weight = reader.number(*weight, at("weight"));
  const Json* matrix = JsonReader::find(value, "matrix");
  year.parted = matrix == nullptr;
  if (matrix != nullptr) {
    if (value.contains("survival") || value.contains("increase")) {
      reader.fault(at("matrix"), "stands beside survival or increase; write either the sum or its parts");
    }
    year.survival = table_from(reader, *matrix, at("matrix"), k);
    year.increase = Square(k);
  } else {
    year.survival = table_from(reader, reader.need(value, where, "survival"), at("survival"), k);
    year.increase = table_from(reader, reader.need(value, where, "increase"), at("increase"), k);
  }
  return year;
}

void read_classes(JsonReader& reader, const Json& file, Model& model) {
  const Json& classes = reader.list(reader.need(file, "", "classes"), "classes");
  if (reader.ok() && classes.size() > most_classes) reader.fault("classes", "are more than 200; write fewer");
  for (std::size_t i = 0; reader.ok() && i < classes.size(); ++i) {
    const std::string where = JsonReader::nth("classes", i);
    if (!reader.object(classes[i], where, {"name", "saleable"})) return;
    ModelClass one;
    one.name = reader.text(reader.need(classes[i], where, "name"), where + ".name");
    if (const Json* saleable = JsonReader::find(classes[i], "saleable")) {
      one.saleable = reader.yes_or_no(*saleable, where + ".saleable");
    }
    model.classes.push_back(std::move(one));
  }
}

// The field `bad_event` of an object; `where` is its full name.
std::optional<BadEvent> event_from(JsonReader& reader, const Json& object, const std::string& where) {
  const Json* event = JsonReader::find(object, "bad_event");
  if (event == nullptr || !reader.object(*event, where, {"chance", "takes"})) return std::nullopt;
  BadEvent bad;
  bad.chance = reader.number(reader.need(*event, where, "chance"), where + ".chance");
  bad.takes = reader.number(reader.need(*event, where, "takes"), where + ".takes");
  return bad;
}

void read_what_may_be(JsonReader& reader, const Json& file, Model& model) {
  const Json* sets = JsonReader::find(file, "may_be");
  if (sets == nullptr) return;
  const Json& list = reader.list(*sets, "may_be");
  if (reader.ok() && list.size() > most_sets) reader.fault("may_be", "are more than 1000; write fewer");
  for (std::size_t set = 0; reader.ok() && set < list.size(); ++set) {
    const std::string where = JsonReader::nth("may_be", set);
    if (!reader.object(list[set], where, {"years", "dispersion", "bad_event"})) return;
    ModelMayBe one{.dispersion = model.dispersion};
    const Json& years = reader.list(reader.need(list[set], where, "years"), where + ".years");
    for (std::size_t i = 0; reader.ok() && i < years.size(); ++i) {
      one.years.push_back(year_from(reader, years[i], JsonReader::nth(where + ".years", i), model.size()));
    }
    if (const Json* dispersion = JsonReader::find(list[set], "dispersion")) {
      one.dispersion = reader.number(*dispersion, where + ".dispersion");
    }
    one.bad_event = event_from(reader, list[set], where + ".bad_event");
    model.may_be.push_back(std::move(one));
  }
}

void read_places(JsonReader& reader, const Json& file, Model& model) {
  if (const Json* places = JsonReader::find(file, "places")) {
    const Json& list = reader.list(*places, "places");
    for (std::size_t i = 0; reader.ok() && i < list.size(); ++i) {
      model.places.push_back(reader.number(list[i], JsonReader::nth("places", i)));
    }
  }
  model.bad_event = event_from(reader, file, "bad_event");
}

void read_law(JsonReader& reader, const Json& file, Model& model) {
  if (const Json* law = JsonReader::find(file, "increase_law")) {
    const std::string word = reader.text(*law, "increase_law");
    if (word == "negbin") {
      model.law = IncreaseLaw::negbin;
    } else if (reader.ok() && word != "poisson") {
      reader.fault("increase_law", "is \"" + word + "\"; write poisson or negbin");
    }
  }
  const Json* dispersion = JsonReader::find(file, "dispersion");
  if (dispersion != nullptr) model.dispersion = reader.number(*dispersion, "dispersion");
  if (dispersion == nullptr && model.law == IncreaseLaw::negbin) reader.need(file, "", "dispersion");
}

}  // namespace

Result<Model> model_from_json(std::string_view text, std::string_view file) {
  JsonReader reader(file);
  const Json json = reader.parse(text);
  Model model;
  if (!reader.object(
          json, "",
          {"name", "classes", "start", "years", "increase_law", "dispersion", "places", "bad_event", "may_be"})) {
    return reader.error();
  }
  if (const Json* name = JsonReader::find(json, "name")) model.name = reader.text(*name, "name");
  read_classes(reader, json, model);
  const Json& start = reader.list(reader.need(json, "", "start"), "start");
  if (reader.ok() && start.size() != model.size()) {
    reader.fault("start", "has " + std::to_string(start.size()) + " numbers for " + std::to_string(model.size()) +
                              " classes; write one for each");
  }
  for (std::size_t i = 0; reader.ok() && i < start.size(); ++i) {
    model.start.push_back(reader.whole(start[i], JsonReader::nth("start", i), 0, most_bulbs));
  }
  const Json& years = reader.list(reader.need(json, "", "years"), "years");
  for (std::size_t i = 0; reader.ok() && i < years.size(); ++i) {
    model.years.push_back(year_from(reader, years[i], JsonReader::nth("years", i), model.size()));
  }
  read_law(reader, json, model);
  read_places(reader, json, model);
  read_what_may_be(reader, json, model);
  if (!reader.ok()) return reader.error();
  if (const auto fault = fault_of(model)) return refusal(std::string(file) + ": " + *fault);
  return model;
}

std::string to_json(const Model& model) {
  Json json = Json::object();
  json["name"] = model.name;
  json["classes"] = Json::array();
  for (const ModelClass& one : model.classes) {
    json["classes"].push_back(Json{{"name", one.name}, {"saleable", one.saleable}});
  }
  json["start"] = model.start;
  json["years"] = Json::array();
  for (const ModelYear& year : model.years) {
    Json one{{"name", year.name}, {"weight", year.weight}};
    if (year.parted) {
      one["survival"] = rows_of(year.survival);
      one["increase"] = rows_of(year.increase);
    } else {
      one["matrix"] = rows_of(year.survival);
    }
    json["years"].push_back(std::move(one));
  }
  json["increase_law"] = model.law == IncreaseLaw::negbin ? "negbin" : "poisson";
  json["dispersion"] = model.dispersion;
  if (!model.places.empty()) json["places"] = model.places;
  if (model.bad_event) {
    json["bad_event"] = Json{{"chance", model.bad_event->chance}, {"takes", model.bad_event->takes}};
  }
  for (const ModelMayBe& one : model.may_be) {
    Json set = Json::object();
    set["years"] = Json::array();
    for (const ModelYear& year : one.years) {
      set["years"].push_back(Json{{"survival", rows_of(year.survival)}, {"increase", rows_of(year.increase)}});
    }
    set["dispersion"] = one.dispersion;
    if (one.bad_event) set["bad_event"] = Json{{"chance", one.bad_event->chance}, {"takes", one.bad_event->takes}};
    json["may_be"].push_back(std::move(set));
  }
  return json.dump(1) + "\n";
}

}  // namespace motherbulb

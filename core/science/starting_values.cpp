#include "core/science/starting_values.hpp"

#include <cmath>

#include "core/names.hpp"
#include "core/plans/shipped.hpp"
#include "core/science/json_reader.hpp"

namespace motherbulb {
namespace {

using Json = JsonReader::Json;

constexpr double reference_sections = 8;
constexpr double reference_girth_cm = 26;
constexpr double greatest_girth_cm = 200;

double positive(JsonReader& reader, const Json& object, const std::string& where, const char* key, double greatest) {
  const std::string at = JsonReader::inside(where, key);
  const double read = reader.number_from(reader.need(object, where, key), at, 0, greatest);
  if (reader.ok() && read <= 0) reader.fault(at, "is 0; write more");
  return read;
}

SourcedValue sourced(JsonReader& reader, const Json& object, const std::string& where, const char* key,
                     double greatest) {
  SourcedValue read;
  const std::string at = JsonReader::inside(where, key);
  const Json& value = reader.need(object, where, key);
  if (!reader.object(value, at, {"value", "source"})) return read;
  read.value = reader.number_from(reader.need(value, at, "value"), at + ".value", 0, greatest);
  read.source = reader.text(reader.need(value, at, "source"), at + ".source");
  return read;
}

StartingGrowth growth_from(JsonReader& reader, const Json& value, const std::string& where) {
  StartingGrowth growth;
  if (!reader.object(value, where, {"full_girth_cm", "approach", "spread", "source"})) return growth;
  growth.full_girth_cm = positive(reader, value, where, "full_girth_cm", greatest_girth_cm);
  growth.approach = positive(reader, value, where, "approach", 10);
  growth.spread = positive(reader, value, where, "spread", 3);
  growth.source = reader.text(reader.need(value, where, "source"), where + ".source");
  return growth;
}

StartingYield yield_from(JsonReader& reader, const Json& value, const std::string& where) {
  StartingYield yield;
  if (!reader.object(value, where, {"method", "per_mother", "sections", "girth_cm", "sd", "source", "note"}))
    return yield;
  const std::string word = reader.text(reader.need(value, where, "method"), where + ".method");
  const auto method = method_from_text(word);
  if (reader.ok() && (!method || !cuts(*method)))
    reader.fault(where + ".method", "\"" + word + "\" is no way of cutting");
  if (method) yield.method = *method;
  yield.per_mother = positive(reader, value, where, "per_mother", 10'000);
  yield.sections = positive(reader, value, where, "sections", 10'000);
  yield.girth_cm = positive(reader, value, where, "girth_cm", greatest_girth_cm);
  yield.sd = positive(reader, value, where, "sd", 3);
  yield.source = reader.text(reader.need(value, where, "source"), where + ".source");
  if (const Json* note = JsonReader::find(value, "note")) yield.note = reader.text(*note, where + ".note");
  return yield;
}

StartingValues genus_from(JsonReader& reader, const Json& value, const std::string& where) {
  StartingValues values;
  if (!reader.object(value, where,
                     {"genus", "growth", "saleable_from_cm", "grown_from_cm", "offsets", "loss_grown", "loss_young",
                      "bulblet_girth_cm", "yields"})) {
    return values;
  }
  values.genus = reader.text(reader.need(value, where, "genus"), where + ".genus");
  values.growth = growth_from(reader, reader.need(value, where, "growth"), where + ".growth");
  values.saleable_from_cm = sourced(reader, value, where, "saleable_from_cm", greatest_girth_cm);
  values.grown_from_cm = sourced(reader, value, where, "grown_from_cm", greatest_girth_cm);
  values.offsets = sourced(reader, value, where, "offsets", 100);
  values.loss_grown = sourced(reader, value, where, "loss_grown", 1);
  values.loss_young = sourced(reader, value, where, "loss_young", 1);
  values.bulblet_girth_cm = sourced(reader, value, where, "bulblet_girth_cm", greatest_girth_cm);
  const Json& yields = reader.list(reader.need(value, where, "yields"), where + ".yields");
  for (std::size_t i = 0; reader.ok() && i < yields.size(); ++i) {
    values.yields.push_back(yield_from(reader, yields[i], JsonReader::nth(where + ".yields", i)));
  }
  return values;
}

}  // namespace

const StartingYield* StartingValues::yield(Method method) const {
  for (const StartingYield& one : yields) {
    if (one.method == method) return &one;
  }
  return nullptr;
}

bool counts_propagules(Method method) {
  return method == Method::twin_scaling || method == Method::scaling;
}

double log_yield_at_reference(const StartingYield& yield) {
  const double power = counts_propagules(yield.method) ? 1.0 : usual_sections_power;
  return std::log(yield.per_mother) - power * std::log(yield.sections / reference_sections) -
         usual_girth_power * std::log(yield.girth_cm / reference_girth_cm);
}

Result<std::vector<StartingValues>> starting_values_from_json(std::string_view text, std::string_view file) {
  JsonReader reader(file);
  const Json json = reader.parse(text);
  std::vector<StartingValues> all;
  if (!reader.object(json, "", {"what", "genera"})) return reader.error();
  const Json& genera = reader.list(reader.need(json, "", "genera"), "genera");
  for (std::size_t i = 0; reader.ok() && i < genera.size(); ++i) {
    all.push_back(genus_from(reader, genera[i], JsonReader::nth("genera", i)));
  }
  if (!reader.ok()) return reader.error();
  return all;
}

const StartingValues* starting_values(std::string_view genus) {
  static const std::vector<StartingValues> all = [] {
    auto read = starting_values_from_json(starting_values_text, "starting_values.json");
    CHECK_OURS(read.ok());
    return *read;
  }();
  const std::string folded = folded_name(genus);
  for (const StartingValues& one : all) {
    if (folded_name(one.genus) == folded) return &one;
  }
  return nullptr;
}

}  // namespace motherbulb

// The yields file: read whole, written back equal, refused in one line that names the field.
#include "core/science/yield_file.hpp"

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

using namespace motherbulb;

namespace {

const std::string good = R"({"name": "two", "priors": {"u": {"mean": 2.6, "sd": 0.5}, "b": {"mean": 0.45, "sd": 0.15},
 "d": {"mean": 1, "sd": 0.5}, "log_f": {"mean": 1.1, "sd": 0.7}, "t": {"sd": 0.4}},
 "pots": [{"clone": "Tirna Red", "k": 8, "c": 25.1, "s": 8, "y": 13}], "ask": [{"clone": null, "k": 4, "c": 26}]})";

std::string with(const std::string& what, const std::string& in_place) {
  std::string text = good;
  const std::size_t at = text.find(what);
  REQUIRE(at != std::string::npos);
  return text.replace(at, what.size(), in_place);
}

}  // namespace

TEST_CASE("a yields file is read as it is written") {
  const auto file = yield_file_from_json(good, "a.json");
  REQUIRE(file.ok());
  CHECK(file->name == "two");
  CHECK(file->priors.u.mean == 2.6);
  CHECK(file->priors.b.sd == 0.15);
  CHECK(file->priors.d.mean == 1);
  CHECK(file->priors.log_f.sd == 0.7);
  CHECK(file->priors.t_sd == 0.4);
  REQUIRE(file->pots.size() == 1);
  CHECK(file->pots[0].clone == "Tirna Red");
  CHECK(file->pots[0].k == 8);
  CHECK(file->pots[0].c == 25.1);
  CHECK(file->pots[0].s == 8);
  CHECK(file->pots[0].y == 13);
  REQUIRE(file->asks.size() == 1);
  CHECK(file->asks[0].clone.empty());
  CHECK(file->asks[0].k == 4);
  CHECK(file->asks[0].c == 26);
}

TEST_CASE("what was written is read back equal, to the last bit") {
  auto file = *yield_file_from_json(good, "a.json");
  file.priors.u.mean = 2.6390573296152584;
  file.pots.push_back({"Skarn \"Blue\"\n", 12, 1.0 / 3 + 20, 24, 0});
  file.asks.push_back({"Tirna Red", 16, 0.1 + 0.2});
  const std::string text = to_json(file);
  const auto again = yield_file_from_json(text, "b.json");
  REQUIRE(again.ok());
  CHECK(to_json(*again) == text);
  CHECK(again->priors.u.mean == file.priors.u.mean);
  CHECK(again->pots[1].clone == file.pots[1].clone);
  CHECK(again->pots[1].c == file.pots[1].c);
  CHECK(again->asks[1].c == file.asks[1].c);
}

TEST_CASE("a value of which the spread is 0 is known, and taken") {
  const auto file =
      yield_file_from_json(with(R"("b": {"mean": 0.45, "sd": 0.15})", R"("b": {"mean": 1, "sd": 0})"), "a");
  REQUIRE(file.ok());
  CHECK(file->priors.b.sd == 0);
}

TEST_CASE("a yields file that is wrong is refused in one line with file and field") {
  const std::vector<std::pair<std::string, std::string>> faults = {
      {with("\"two\"", "2"), "name: "},
      {with("\"name\": \"two\"", "\"nam\": \"two\""), "nam: "},
      {with("\"sd\": 0.15", "\"sd\": -0.15"), "priors.b.sd: "},
      {with("\"sd\": 0.4", "\"sd\": -0.4"), "priors.t.sd: "},
      {with("\"sd\": 0.4", "\"sd\": 1"), "priors.t.sd: "},  // the mean would be without end: E exp(t²/2)
      {with("\"mean\": 0.45", "\"mean\": 1.45"), "priors.b.mean: "},
      {with("\"mean\": 2.6", "\"mean\": \"2.6\""), "priors.u.mean: "},
      {with("\"mean\": 2.6, ", ""), "priors.u.mean: "},
      {with("{\"sd\": 0.4}", "{\"mean\": 0, \"sd\": 0.4}"), "priors.t.mean: "},
      {with("\"s\": 8", "\"s\": 0"), "pots[0].s: "},
      {with("\"s\": 8", "\"s\": 7.5"), "pots[0].s: "},
      {with("\"y\": 13", "\"y\": -1"), "pots[0].y: "},
      {with("\"y\": 13", "\"y\": 1.5"), "pots[0].y: "},
      {with(", \"y\": 13", ""), "pots[0].y: "},
      {with("\"k\": 8", "\"k\": 0"), "pots[0].k: "},
      {with("\"c\": 25.1", "\"c\": 0"), "pots[0].c: "},
      {with("\"c\": 25.1", "\"c\": null"), "pots[0].c: "},
      {with("\"Tirna Red\"", "\"\""), "pots[0].clone: "},
      {with("\"k\": 4", "\"k\": \"4\""), "ask[0].k: "},
      {with("\"c\": 26", "\"c\": -26"), "ask[0].c: "},
      {with("\"c\": 26", "\"c\": 26, \"c\": 27"), "c: "},
      {with("[{\"clone\": null, \"k\": 4, \"c\": 26}]", "{}"), "ask: "},
      {"{", ""},
      {"[]", ""},
  };
  for (const auto& one : faults) {
    const std::string &text = one.first, &field = one.second;
    const auto file = yield_file_from_json(text, "a.json");
    REQUIRE_MESSAGE(!file.ok(), text);
    CHECK_MESSAGE(file.error().what.rfind("a.json: " + field, 0) == 0, file.error().what);
    CHECK(file.error().what.find('\n') == std::string::npos);
  }
}

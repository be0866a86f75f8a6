// The model file: written and read back bit for bit, and refused by field where anything is wrong (section 3 of the
// mathematics).
#include "core/science/model_file.hpp"

#include <doctest/doctest.h>

#include <cstring>
#include <limits>
#include <string>
#include <vector>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

bool same_bits(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() && (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0);
}

const char* const sound = R"({"name":"Tirna Red",
 "classes":[{"name":"8-12","saleable":false},{"name":"12+","saleable":true}],
 "start":[81,31],
 "years":[{"name":"ordinary","weight":9,"survival":[[0.5,0],[0.25,0.75]],"increase":[[0,1.5],[0,0.5]]}],
 "increase_law":"negbin","dispersion":3,
 "places":[0.25,0.75],"bad_event":{"chance":0.05,"takes":0.4}})";

// The sound file with one part of it changed; what it is refused with.
std::string refused(const std::string& from, const std::string& to) {
  std::string text = sound;
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  text.replace(at, from.size(), to);
  const auto read = model_from_json(text, "my.json");
  if (read) FAIL("read though wrong: " << to);
  CHECK(read.error().kind == ErrorKind::refused);
  CHECK(read.error().what.find('\n') == std::string::npos);
  return read.error().what;
}

bool begins(const std::string& text, const std::string& with) {
  return text.rfind(with, 0) == 0;
}

}  // namespace

TEST_CASE("a model file is read as it is written: rows are to, columns are from") {
  const Model model = make::must(model_from_json(sound, "my.json"));
  CHECK(model.name == "Tirna Red");
  REQUIRE(model.size() == 2);
  CHECK(model.classes[0].name == "8-12");
  CHECK_FALSE(model.classes[0].saleable);
  CHECK(model.classes[1].saleable);
  CHECK(model.start == std::vector<std::int64_t>{81, 31});
  REQUIRE(model.years.size() == 1);
  CHECK(model.years[0].survival.at(1, 0) == 0.25);
  CHECK(model.years[0].survival.at(0, 1) == 0);
  CHECK(model.years[0].increase.at(0, 1) == 1.5);
  CHECK(model.law == IncreaseLaw::negbin);
  CHECK(model.dispersion == 3);
  CHECK(model.places == std::vector<double>{0.25, 0.75});
  CHECK(model.bad_event->chance == 0.05);
  CHECK(model.bad_event->takes == 0.4);
  // By hand: 0.5 * 81 + 1.5 * 31 = 87; 0.25 * 81 + 1.25 * 31 = 59.
  CHECK(projection(model, 1)[1] == std::vector<double>{87, 59});
}

TEST_CASE("what may be left out is as the contract says") {
  const Model model = make::must(model_from_json(
      R"({"classes":[{"name":"a"}],"start":[0],"years":[{"survival":[[0.1]],"increase":[[2]]}]})", "f"));
  CHECK(model.law == IncreaseLaw::poisson);
  CHECK(model.years[0].weight == 1);
  CHECK(model.places.empty());
  CHECK_FALSE(model.bad_event);
  CHECK_FALSE(model.classes[0].saleable);
  CHECK(model.has_paths());
}

TEST_CASE("a year of totals has no paths") {
  const Model model = make::must(
      model_from_json(R"({"classes":[{"name":"a"}],"start":[4.0],"years":[{"name":"y","matrix":[[2.5]]}]})", "f"));
  CHECK_FALSE(model.has_paths());
  CHECK(model.start[0] == 4);
  CHECK(model.mean().at(0, 0) == 2.5);
  const Model again = make::must(model_from_json(to_json(model), "f"));
  CHECK_FALSE(again.years[0].parted);
  CHECK(again.years[0].survival.at(0, 0) == 2.5);
}

TEST_CASE("every double comes back to the last bit") {
  Model model;
  model.name = "Šárka \"7\" \\ \n";
  model.classes = {{"-2", false}, {"2+", true}};
  model.start = {0, 999'999'999'999};
  const double awkward[] = {0.1,
                            1e-300,
                            5e-324,
                            1.0 / 3,
                            0.3 - 0.1,
                            std::numeric_limits<double>::min(),
                            std::numeric_limits<double>::epsilon(),
                            0.0,
                            -0.0};
  for (const double one : awkward) {
    ModelYear year;
    year.name = "of " + std::to_string(one);
    year.weight = one + 0.1;
    year.survival = Square(2);
    year.survival.cells = {one, 0.1, 0.2, one};
    year.increase = Square(2);
    year.increase.cells = {one, 1e300, 123456789.123456789, one};
    model.years.push_back(year);
  }
  model.years[2].weight = 5e-324;
  model.law = IncreaseLaw::negbin;
  model.dispersion = 5e-324;
  model.places = {0.1, 5e-324, 0.7};
  model.bad_event = BadEvent{1e-300, 0.1};
  REQUIRE_FALSE(fault_of(model));
  const std::string text = to_json(model);
  const Model again = make::must(model_from_json(text, "f"));
  CHECK(again.name == model.name);
  CHECK(again.start == model.start);
  REQUIRE(again.years.size() == model.years.size());
  for (std::size_t i = 0; i < model.years.size(); ++i) {
    CHECK(again.years[i].name == model.years[i].name);
    CHECK(same_bits({again.years[i].weight}, {model.years[i].weight}));
    CHECK(same_bits(again.years[i].survival.cells, model.years[i].survival.cells));
    CHECK(same_bits(again.years[i].increase.cells, model.years[i].increase.cells));
  }
  CHECK(same_bits({again.dispersion}, {model.dispersion}));
  CHECK(same_bits(again.places, model.places));
  CHECK(same_bits({again.bad_event->chance, again.bad_event->takes}, {1e-300, 0.1}));
  CHECK(to_json(again) == text);
}

TEST_CASE("random doubles come back to the last bit") {
  const std::uint64_t seed = 7;
  MESSAGE("seed " << seed);
  Chance chance(seed);
  for (int round = 0; round < 2000; ++round) {
    const std::uint64_t bits = chance.next() & 0x7fffffffffffffffU;
    double one = 0;
    std::memcpy(&one, &bits, sizeof one);
    if (!(one < 1e300)) continue;
    Model model;
    model.classes = {{"a", false}};
    model.start = {1};
    model.years.resize(1);
    model.years[0].survival = model.years[0].increase = Square(1);
    model.years[0].increase.at(0, 0) = one;
    const Model again = make::must(model_from_json(to_json(model), "f"));
    REQUIRE(same_bits(again.years[0].increase.cells, {one}));
  }
}

TEST_CASE("ragged and wrong sizes are refused") {
  CHECK(begins(refused("[[0.5,0],[0.25,0.75]]", "[[0.5,0],[0.25]]"), "my.json: years[0].survival[1]: "));
  CHECK(begins(refused("[[0.5,0],[0.25,0.75]]", "[[0.5,0]]"), "my.json: years[0].survival: "));
  CHECK(begins(refused("[[0,1.5],[0,0.5]]", "[[0,1.5,0],[0,0.5,0]]"), "my.json: years[0].increase[0]: "));
  CHECK(begins(refused("[[0,1.5],[0,0.5]]", "[[0,1.5],[0,0.5],[0,0]]"), "my.json: years[0].increase: "));
  CHECK(begins(refused("[81,31]", "[81]"), "my.json: start: "));
  CHECK(begins(refused("[81,31]", "[81,31,4]"), "my.json: start: "));
  CHECK(begins(refused("\"start\":[81,31],", ""), "my.json: start: "));
  CHECK(begins(refused("\"increase\":[[0,1.5],[0,0.5]]", "\"increase\":7"), "my.json: years[0].increase: "));
}

TEST_CASE("what is not finite, negative or no number is refused") {
  CHECK(begins(refused("0.25,0.75]]", "1e999,0.75]]"), "my.json: "));
  CHECK(begins(refused("0.25,0.75]]", "NaN,0.75]]"), "my.json: "));
  CHECK(begins(refused("0.25,0.75]]", "null,0.75]]"), "my.json: years[0].survival[1][0]: "));
  CHECK(begins(refused("0.25,0.75]]", "\"0.25\",0.75]]"), "my.json: years[0].survival[1][0]: "));
  CHECK(begins(refused("0.25,0.75]]", "-0.25,0.75]]"), "my.json: years[0].survival[1][0]: "));
  CHECK(begins(refused("[[0,1.5]", "[[0,-1.5]"), "my.json: years[0].increase[0][1]: "));
  CHECK(begins(refused("\"weight\":9", "\"weight\":-9"), "my.json: years[0].weight: "));
  CHECK(begins(refused("[0.25,0.75],\"bad", "[0.25,-0.75],\"bad"), "my.json: places[1]: "));
  CHECK(begins(refused("[0.25,0.75],\"bad", "[0,0],\"bad"), "my.json: places: "));
  CHECK(begins(refused("\"chance\":0.05", "\"chance\":1.05"), "my.json: bad_event.chance: "));
  CHECK(begins(refused("\"takes\":0.4", "\"takes\":-0.4"), "my.json: bad_event.takes: "));
  CHECK(begins(refused("\"dispersion\":3", "\"dispersion\":0"), "my.json: dispersion: "));
  CHECK(begins(refused("\"dispersion\":3,", ""), "my.json: dispersion: "));
}

TEST_CASE("a column that survives more than once is refused, a rounding is not") {
  CHECK(begins(refused("[[0.5,0],[0.25,0.75]]", "[[0.5,0.3],[0.25,0.75]]"), "my.json: years[0].survival: column 1 "));
  CHECK(begins(refused("[[0.5,0],[0.25,0.75]]", "[[0.5,0],[0.500000002,0.75]]"), "my.json: years[0].survival: "));
  std::string text = sound;
  text.replace(text.find("[[0.5,0],[0.25,0.75]]"), 21, "[[0.5,0],[0.5000000005,0.75]]");
  CHECK(model_from_json(text, "f").ok());
}

TEST_CASE("years there must be, whose weights do not sum to 0") {
  CHECK(begins(refused("\"weight\":9", "\"weight\":0"), "my.json: years: "));
  const auto none = model_from_json(R"({"classes":[{"name":"a"}],"start":[1],"years":[]})", "f");
  REQUIRE_FALSE(none.ok());
  CHECK(begins(none.error().what, "f: years: "));
  const auto classless = model_from_json(R"({"classes":[],"start":[],"years":[{"matrix":[]}]})", "f");
  REQUIRE_FALSE(classless.ok());
  CHECK(begins(classless.error().what, "f: classes: "));
}

TEST_CASE("a start that is not whole is refused") {
  CHECK(begins(refused("[81,31]", "[81,31.5]"), "my.json: start[1]: "));
  CHECK(begins(refused("[81,31]", "[-1,31]"), "my.json: start[0]: "));
  CHECK(begins(refused("[81,31]", "[1e30,31]"), "my.json: start[0]: "));
}

TEST_CASE("unknown fields and unknown words are refused") {
  CHECK(begins(refused("\"name\":\"Tirna Red\"", "\"nam\":\"Tirna Red\""), "my.json: nam: "));
  CHECK(begins(refused("\"name\":\"Tirna Red\"", "\"two\\nlines\":1"), "my.json: two lines: "));
  CHECK(begins(refused("\"saleable\":false", "\"sale\":false"), "my.json: classes[0].sale: "));
  CHECK(begins(refused("\"weight\":9", "\"wait\":9"), "my.json: years[0].wait: "));
  CHECK(begins(refused("\"takes\":0.4", "\"takes\":0.4,\"gives\":1"), "my.json: bad_event.gives: "));
  CHECK(begins(refused("\"negbin\"", "\"normal\""), "my.json: increase_law: "));
  CHECK(begins(refused("\"survival\":", "\"matrix\":[[0,0],[0,0]],\"survival\":"), "my.json: years[0].matrix: "));
  CHECK(begins(refused("\"saleable\":true", "\"saleable\":1"), "my.json: classes[1].saleable: "));
}

TEST_CASE("what is no JSON is refused in one line") {
  for (const char* text : {"", "{", "[]", "7", "{\"name\":", "\xff\xfe", "{\"name\":\"a\"} x"}) {
    const auto read = model_from_json(text, "my.json");
    REQUIRE_FALSE(read.ok());
    CHECK(begins(read.error().what, "my.json: "));
    CHECK(read.error().what.find('\n') == std::string::npos);
  }
}

TEST_CASE("what a model may be comes back, and is refused by field") {
  const std::string set = R"({"years":[{"survival":[[0.1,0],[0.2,0.3]],"increase":[[0,9],[0,1]]}],"dispersion":7,
    "bad_event":{"chance":0.5,"takes":0.25}})";
  const std::string last = R"("takes":0.4}})";
  std::string text = sound;
  text.replace(text.find(last), last.size(), R"("takes":0.4},"may_be":[)" + set + "]}");
  const Model model = make::must(model_from_json(text, "my.json"));
  REQUIRE(model.may_be.size() == 1);
  CHECK(model.may_be[0].years[0].survival.at(1, 0) == 0.2);
  CHECK(model.may_be[0].years[0].increase.at(0, 1) == 9);
  CHECK(model.may_be[0].dispersion == 7);
  CHECK(model.may_be[0].bad_event->takes == 0.25);
  CHECK(to_json(make::must(model_from_json(to_json(model), "again.json"))) == to_json(model));
  const Model of_path = model.of_path(5);
  CHECK(of_path.years[0].survival.at(1, 1) == 0.3);
  CHECK(of_path.years[0].weight == 9);
  CHECK(of_path.may_be.empty());
  CHECK(refused(last, R"("takes":0.4},"may_be":[{"years":[]}]})") ==
        "my.json: may_be[0].years: are not as many as years; write one for each");
  CHECK(refused(last, R"("takes":0.4},"may_be":[{"years":[{"survival":[[2,0],[0,0]],"increase":[[0,0],[0,0]]}]}]})")
            .rfind("my.json: may_be[0].years[0].survival: column 0 sums to more than 1", 0) == 0);
  CHECK(refused(last, R"("takes":0.4},"may_be":7})") == "my.json: may_be: is no list; write it in square brackets");
}

TEST_CASE("twice the same field is refused: one of them would be lost in silence") {
  CHECK(begins(refused("\"name\":\"Tirna Red\"", "\"name\":\"a\",\"name\":\"b\""), "my.json: name: "));
}

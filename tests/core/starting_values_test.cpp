// Starting values against what was published (trade-values.csv), and the growth over classes against an integral done
// by small steps.
#include "core/science/starting_values.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <string>
#include <vector>

#include "core/science/growth_classes.hpp"
#include "core/science/growth_model.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

const char* const genera[] = {"Galanthus", "Hippeastrum", "Hyacinthus", "Lachenalia",
                              "Lilium",    "Lycoris",     "Narcissus",  "Nerine"};

// Classes of 2 cm: -2, 2-4, ... TOP+.
std::vector<Grade> classes_to(std::int32_t top_mm) {
  std::vector<Grade> grades{{-1, 20}};
  for (std::int32_t low = 20; low < top_mm; low += 20) grades.push_back({low, low + 20});
  grades.push_back({top_mm, -1});
  return grades;
}

double share_from(const std::vector<Grade>& grades, const std::vector<double>& shares, std::int32_t low_mm) {
  double share = 0;
  for (std::size_t i = 0; i < grades.size(); ++i) share += grades[i].low_mm >= low_mm ? shares[i] : 0;
  return share;
}

double normal_below(double z) {
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

// The chance to be smaller than `girth` a season on, by the law itself, of a bulb of girth c.
double below(const StartingGrowth& law, double c, double girth) {
  if (c >= law.full_girth_cm) return c < girth ? 1 : 0;
  if (girth >= law.full_girth_cm) return 1;
  const double left = (law.full_girth_cm - c) * std::exp(-law.approach);
  return 1 - normal_below(std::log((law.full_girth_cm - girth) / left) / law.spread);
}

}  // namespace

TEST_CASE("a hippeastrum section makes a bulb of 12 cm in one season and of 22 cm in two, as often as was published") {
  const StartingValues* hippeastrum = starting_values("hippeastrum");
  REQUIRE(hippeastrum != nullptr);
  const std::vector<Grade> grades = classes_to(340);
  std::vector<double> stands(grades.size(), 0.0);
  stands[0] = 1;  // a bulblet of about 1 cm
  std::vector<std::vector<double>> after;
  for (int season = 0; season < 2; ++season) {
    std::vector<double> next(grades.size(), 0.0);
    for (std::size_t from = 0; from < grades.size(); ++from) {
      const std::vector<double> column = growth_from_start(hippeastrum->growth, grades, from);
      for (std::size_t to = 0; to < grades.size(); ++to) next[to] += column[to] * stands[from];
    }
    stands = next;
    after.push_back(stands);
  }
  // S04 (V026): about 80 % at 12 cm or more after 11 months.
  CHECK(share_from(grades, after[0], 120) == doctest::Approx(0.80).epsilon(0.02));
  // S05 (V027, V028): 71 and 88 % at 22 cm or more after 21 months.
  CHECK(share_from(grades, after[1], 220) > 0.71);
  CHECK(share_from(grades, after[1], 220) < 0.88);
}

TEST_CASE("a column of growth is the law averaged over the class") {
  for (const char* genus : genera) {
    const StartingValues* values = starting_values(genus);
    REQUIRE_MESSAGE(values != nullptr, genus);
    const std::vector<Grade> grades = classes_to(200);
    for (std::size_t from = 0; from < grades.size(); ++from) {
      const std::vector<double> column = growth_from_start(values->growth, grades, from);
      CHECK(std::accumulate(column.begin(), column.end(), 0.0) == doctest::Approx(1).epsilon(1e-12));
      const double low = from == 0 ? 0 : grades[from].low_mm / 10.0;
      constexpr int steps = 4000;
      double cumulated = 0;
      for (std::size_t to = 0; to + 1 < grades.size(); ++to) {
        double mean = 0;
        for (int step = 0; step < steps; ++step) {
          mean += below(values->growth, low + 2.0 * (step + 0.5) / steps, grades[to].high_mm / 10.0) / steps;
        }
        cumulated += column[to];
        CHECK(column[to] >= 0);
        CHECK_MESSAGE(std::abs(cumulated - mean) < 1e-5, genus, " from ", from, " to ", to);
      }
    }
  }
}

TEST_CASE("bulbs are put into the class by the middle of the grade they were counted in") {
  const std::vector<Grade> grades = classes_to(200);
  CHECK(class_of(grades, make::grade("2-4")) == 1);
  CHECK(class_of(grades, make::grade("12-16")) == 7);  // 14
  CHECK(class_of(grades, make::grade("10-15")) == 6);  // 12.5
  CHECK(class_of(grades, make::grade("16+")) == 8);
  CHECK(class_of(grades, make::grade("40+")) == grades.size() - 1);
  CHECK(class_of(grades, make::grade("-2")) == 0);
  CHECK(class_of(grades, Grade{}) == 0);
  CHECK(middle_cm(grades, 0) == doctest::Approx(1));
  CHECK(middle_cm(grades, 7) == doctest::Approx(15));
  CHECK(middle_cm(grades, grades.size() - 1) == doctest::Approx(21));
}

TEST_CASE("sizes spread around their median") {
  const std::vector<Grade> grades{{-1, 65}, {65, -1}};
  const std::vector<double> shares = sizes_around(6.5, 0.4, grades);
  CHECK(shares[0] == doctest::Approx(0.5));
  // One standard deviation of the log above the median: 84.13 % are below it (normal table).
  const std::vector<Grade> upper{{-1, 97}, {97, -1}};  // 6.5 exp(0.4) = 9.697
  CHECK(sizes_around(6.5, 0.4, upper)[0] == doctest::Approx(0.8413).epsilon(0.001));
}

TEST_CASE("yields are brought to eight sections of a mother of 26 cm and back") {
  const StartingValues* hippeastrum = starting_values("Hippeastrum");
  const StartingYield* chipping = hippeastrum->yield(Method::chipping);
  REQUIRE(chipping != nullptr);
  // S04: 20.4 of 12 chips (V018). S01: 13 of 8, of mothers 8 cm across, 25.1 cm round. S06: 8.8 of 4. Worked by hand:
  // (20.4 (2/3)^0.45 * 13 * 26/25.1 * 8.8 * 2^0.45) ^ (1/3) = (16.997 * 13.466 * 12.021) ^ (1/3) = 14.01.
  CHECK(std::exp(log_yield_at_reference(*chipping)) == doctest::Approx(14.0).epsilon(0.01));
  // 4 of 13 cm: 14 (1/2)^0.45 / 2 = 5.124.
  CHECK(bulblets_by_law(*chipping, 4, 13) == doctest::Approx(5.124).epsilon(0.001));
  // Twin-scales are counted: half as many give half as many. S17 for narcissus: 68 of 80, 15 cm.
  const StartingYield* twin = starting_values("Narcissus")->yield(Method::twin_scaling);
  REQUIRE(twin != nullptr);
  CHECK(bulblets_by_law(*twin, 40, 15) == doctest::Approx(34));
  CHECK(std::exp(log_yield_at_reference(*twin)) == doctest::Approx(68.0 / 10 * 26 / 15));
  CHECK(hippeastrum->yield(Method::scaling) == nullptr);
}

TEST_CASE("every starting value has a source, and lies where it can be") {
  for (const char* genus : genera) {
    const StartingValues& values = *starting_values(genus);
    CAPTURE(genus);
    for (const SourcedValue* one : {&values.saleable_from_cm, &values.grown_from_cm, &values.offsets,
                                    &values.loss_grown, &values.loss_young, &values.bulblet_girth_cm}) {
      CHECK(!one->source.empty());
      CHECK(one->value > 0);
    }
    CHECK(!values.growth.source.empty());
    CHECK(values.saleable_from_cm.value < values.growth.full_girth_cm);
    // S76, derived (V180, V181): yearly survival 0.96222 in the open, 0.94387 in shade.
    CHECK(values.loss_grown.value > 1 - 0.96222);
    CHECK(values.loss_grown.value < 1 - 0.94387);
    CHECK(values.loss_young.value == doctest::Approx(2 * values.loss_grown.value));
    CHECK(!values.yields.empty());
    for (const StartingYield& yield : values.yields) {
      CHECK(!yield.source.empty());
      CHECK((yield.sd == 0.5 || yield.sd == 1.0));  // section 1 of the mathematics
    }
  }
  CHECK(starting_values("  NERINE ") == starting_values("Nerine"));
  CHECK(starting_values("Tulipa") == nullptr);
}

TEST_CASE("a file of starting values is refused by field") {
  const std::string sound =
      R"({"genera":[{"genus":"A","growth":{"full_girth_cm":8,"approach":0.2,"spread":0.3,"source":"s"},)"
      R"("saleable_from_cm":{"value":5,"source":"s"},"grown_from_cm":{"value":5,"source":"s"},)"
      R"("offsets":{"value":1,"source":"s"},"loss_grown":{"value":0.05,"source":"s"},)"
      R"("loss_young":{"value":0.1,"source":"s"},"bulblet_girth_cm":{"value":2,"source":"s"},)"
      R"("yields":[{"method":"chipping","per_mother":6,"sections":8,"girth_cm":6,"sd":1,"source":"s"}]}]})";
  CHECK(starting_values_from_json(sound, "f").ok());
  const auto refused = [&](const std::string& from, const std::string& to) {
    std::string text = sound;
    const std::size_t at = text.find(from);
    REQUIRE(at != std::string::npos);
    text.replace(at, from.size(), to);
    const auto read = starting_values_from_json(text, "f");
    REQUIRE_FALSE(read.ok());
    return read.error().what.substr(0, read.error().what.find(": ", 3));
  };
  CHECK(refused("\"spread\":0.3", "\"spread\":0") == "f: genera[0].growth.spread");
  CHECK(refused("\"approach\":0.2,", "") == "f: genera[0].growth.approach");
  CHECK(refused("\"value\":0.05", "\"value\":1.5") == "f: genera[0].loss_grown.value");
  CHECK(refused("\"value\":0.1,\"source\":\"s\"", "\"value\":0.1") == "f: genera[0].loss_young.source");
  CHECK(refused("chipping", "growing-on") == "f: genera[0].yields[0].method");
  CHECK(refused("\"sd\":1", "\"sd\":-1") == "f: genera[0].yields[0].sd");
  CHECK(refused("\"genus\"", "\"genius\"") == "f: genera[0].genius");
}

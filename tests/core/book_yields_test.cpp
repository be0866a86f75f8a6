// What a way of cutting gives by the pots of a book: means by the law of yields, sizes by the law of bulblets' sizes.
#include "core/science/book_yields.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>
#include <vector>

#include "core/science/after_cut.hpp"
#include "core/science/bulblet_sizes.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

const std::vector<Grade> grades = {make::grade("-4"), make::grade("4-8"), make::grade("8-22"), make::grade("22+")};

FinishedPot pot(const char* clone, std::int64_t sections, std::int64_t small, std::int64_t large) {
  FinishedPot made;
  made.clone = clone;
  made.genus = "Hippeastrum";
  made.method = Method::chipping;
  made.sections_each = 8;
  made.girth_cm = 26;
  made.girth_said = true;
  made.pieces = made.sections = sections;
  if (small > 0) made.bulblets[make::grade("-4")] = small;
  if (large > 0) made.bulblets[make::grade("4-8")] = large;
  return made;
}

double sum(const std::vector<double>& numbers) {
  return std::accumulate(numbers.begin(), numbers.end(), 0.0);
}

}  // namespace

TEST_CASE("without a pot, and of a way nobody published, the book has nothing to give") {
  CHECK_FALSE(cut_givers_of({})("Tirna Red", "Hippeastrum")(Method::chipping, 8, grades));
  YieldRecords records;
  records.pots = {pot("Tirna Red", 8, 3, 9)};
  CHECK_FALSE(cut_givers_of(records)("Tirna Red", "Hippeastrum")(Method::quartering, 4, grades));
  records.pots[0].method = Method::scooping;  // of Hippeastrum nothing is published of it
  CHECK_FALSE(cut_givers_of(records)("Tirna Red", "Hippeastrum")(Method::scooping, 8, grades));
}

TEST_CASE("sizes are those of the law, from all that were counted of the genus") {
  YieldRecords records;
  for (int i = 0; i < 40; ++i) records.pots.push_back(pot("Tirna Red", 8, 9, 3));
  records.pots.push_back(pot("Skarn Blue", 8, 0, 12));
  const CutGiver gives = cut_givers_of(records)("Tirna Red", "Hippeastrum");
  const auto eight = gives(Method::chipping, 8, grades);
  REQUIRE(eight);
  CHECK(eight->own_pots == 40);
  CHECK(sum(eight->size_shares) == doctest::Approx(1));
  const BulbletSizes sizes =
      bulblet_sizes(6.5, {{0, make::grade("-4"), 360}, {0, make::grade("4-8"), 132}});  // at k = 8 the ratio is 0
  const std::vector<double> expected = sizes.shares(0, grades);
  for (std::size_t i = 0; i < grades.size(); ++i) CHECK(eight->size_shares[i] == doctest::Approx(expected[i]));
  CHECK(eight->bulblet_girth_cm == doctest::Approx(sizes.girth_cm(0)));
  // 12 of 8 sections forty times over: far from the published 14.
  CHECK(eight->per_mother[2] > eight->per_mother[1]);
  const auto sixteen = gives(Method::chipping, 16, grades);
  REQUIRE(sixteen);
  CHECK(sixteen->per_mother[2] > eight->per_mother[2]);
  CHECK(sixteen->bulblet_girth_cm < eight->bulblet_girth_cm);
  // What is not known: sets around the mean, each with shares that sum to 1.
  REQUIRE(eight->may_be.size() == usual_sets);
  double mean = 0;
  for (const DrawnGives& one : eight->may_be) {
    mean += one.per_mother[2] / usual_sets;
    CHECK(sum(one.size_shares) == doctest::Approx(1));
  }
  CHECK(mean == doctest::Approx(eight->per_mother[2]).epsilon(0.1));
}

TEST_CASE("pots that rotted to the last section give a low yield, and no number that is none") {
  YieldRecords records;
  records.pots = {pot("Tirna Red", 8, 0, 0), pot("Tirna Red", 8, 0, 0)};
  const auto gives = cut_givers_of(records)("Tirna Red", "Hippeastrum")(Method::chipping, 1, grades);
  REQUIRE(gives);
  for (const double mean : gives->per_mother) {
    CHECK(std::isfinite(mean));
    CHECK(mean > 0);
    CHECK(mean < 14);
  }
  CHECK(sum(gives->size_shares) == doctest::Approx(1));
}

TEST_CASE("what comes of a mother is told by bulbs that can be sold") {
  // Bulblets of the smallest two classes are saleable two seasons later, all of them.
  GrowthModel growth;
  for (std::size_t i = 0; i < grades.size(); ++i) {
    ClassGrowth one{.grade = grades[i], .saleable = i == 3};
    one.grows_to.assign(4, 0.0);
    one.grows_to[i == 3 ? 3 : i < 2 ? 2 : 3] = 1;
    growth.classes.push_back(one);
  }
  growth.offset_sizes = {1, 0, 0, 0};
  const CutGiver gives = [](Method method, std::int32_t sections, const std::vector<Grade>&) {
    CutGives cut{.method = method, .sections = sections, .per_mother = {0, 0, 0, 12}, .size_shares = {0.5, 0.5, 0, 0}};
    return std::optional<CutGives>(cut);
  };
  YieldRow row;
  row.method = Method::chipping;
  row.sections_each = 8;
  row.girth_cm = 26;
  const auto outcome = cut_outcome(row, growth, gives, 4);
  REQUIRE(outcome);
  CHECK(outcome->saleable == std::vector<double>{0, 0, 12, 12});
  CHECK(outcome->saleable_if_whole == std::vector<double>{1, 1, 1, 1});
  const CutGiver nothing = [](Method, std::int32_t, const std::vector<Grade>&) { return std::optional<CutGives>(); };
  CHECK_FALSE(cut_outcome(row, growth, nothing, 4));
}

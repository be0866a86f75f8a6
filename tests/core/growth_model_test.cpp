// The model that is made of a book: its priors, what counts move, and what always holds. Expected values are worked by
// hand beside each.
#include "core/science/growth_model.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdio>
#include <numeric>
#include <string>
#include <vector>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

constexpr std::size_t k = 18;  // classes of hippeastrum: -2, 2-4, ... 32-34, 34+

std::vector<Grade> hippeastrum_grades() {
  std::vector<Grade> grades{{-1, 20}};
  for (std::int32_t low = 20; low < 340; low += 20) grades.push_back({low, low + 20});
  grades.push_back({340, -1});
  return grades;
}

std::size_t at(const char* grade) {
  return class_of(hippeastrum_grades(), make::grade(grade));
}

BulbsByGrade bulbs(std::initializer_list<std::pair<const char*, std::int64_t>> counts) {
  BulbsByGrade made;
  for (const auto& [text, count] : counts) made[*text == '\0' ? Grade{} : make::grade(text)] += count;
  return made;
}

GrowthInput input_of(BulbsByGrade stock = {}) {
  GrowthInput input;
  input.clone = "Tirna Red";
  input.start = *starting_values("Hippeastrum");
  input.grades = hippeastrum_grades();
  input.stock = std::move(stock);
  return input;
}

Filling filling(BulbsByGrade before, BulbsByGrade lost, BulbsByGrade after, const char* clone = "Tirna Red",
                const char* genus = "Hippeastrum") {
  Filling made;
  made.clone = clone;
  made.genus = genus;
  made.before = std::move(before);
  made.lost = std::move(lost);
  made.after = std::move(after);
  return made;
}

double column_sum(const Square& table, std::size_t from) {
  double sum = 0;
  for (std::size_t to = 0; to < table.size; ++to) sum += table.at(to, from);
  return sum;
}

// How many bulbs moved the column's entry: what the estimate is minus what the prior's 8 bulbs say.
double moved(const ClassGrowth& from, std::size_t to) {
  return from.grows_to[to] * (8 + from.seen) - 8 * from.grows_to_prior[to];
}

bool tells(const GrowthModel& made, const std::string& part) {
  for (const std::string& line : made.missing) {
    if (line.find(part) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("without records the model is the starting values") {
  const GrowthModel made = growth_model(input_of(bulbs({{"20-22", 5}, {"4-6", 30}})), {});
  REQUIRE_FALSE(fault_of(made.model));
  REQUIRE(made.classes.size() == k);
  CHECK_FALSE(made.has_sections);
  CHECK(made.model.size() == k);
  CHECK(made.model.start[at("20-22")] == 5);
  CHECK(made.model.start[at("4-6")] == 30);
  CHECK(made.model.classes[at("20-22")].name == "20-22");
  // Saleable from 22 cm (S05, V203).
  CHECK_FALSE(made.model.classes[at("20-22")].saleable);
  CHECK(made.model.classes[at("22-24")].saleable);
  CHECK(made.model.classes[k - 1].saleable);
  for (std::size_t j = 0; j < k; ++j) {
    const std::vector<double> column = growth_from_start(input_of().start.growth, hippeastrum_grades(), j);
    for (std::size_t i = 0; i < k; ++i) CHECK(made.classes[j].grows_to[i] == column[i]);
  }
  // S76: 5 % of grown bulbs (from 20 cm), 10 % of young ones; 0.5 daughters of a grown one.
  CHECK(made.classes[at("20-22")].loss.value == 0.05);
  CHECK(made.classes[at("4-6")].loss.value == 0.1);
  CHECK(made.classes[at("20-22")].offsets.value == 0.5);
  CHECK(made.classes[at("4-6")].offsets.value == 0);
  CHECK(made.from_records == 0);
  // Nine ordinary seasons and a bad one that loses twice as much lose 11 x in ten: x = 0.05 * 10 / 11 = 0.0454545.
  REQUIRE(made.model.years.size() == 2);
  CHECK(column_sum(made.model.years[0].survival, at("20-22")) == doctest::Approx(1 - 0.0454545).epsilon(1e-6));
  CHECK(column_sum(made.model.years[1].survival, at("20-22")) == doctest::Approx(1 - 0.0909091).epsilon(1e-6));
  CHECK(made.model.chances_of_years()[0] == doctest::Approx(0.9));
  CHECK(column_sum(made.model.years[0].increase, at("20-22")) == doctest::Approx(0.5));
  // Beta(1, 19) and Beta(2, 2).
  CHECK(made.model.bad_event->chance == doctest::Approx(0.05));
  CHECK(made.model.bad_event->takes == doctest::Approx(0.5));
  CHECK(tells(made, "No bulb of any size of this clone was potted and counted again by size"));
  CHECK(tells(made, "Natural daughters of bulbs of any size of this clone are not recorded"));
  CHECK(tells(made, "S04, S05"));
  CHECK(tells(made, "S76"));
  CHECK(tells(made, "one place"));
}

TEST_CASE("many counts are followed, and the prior weighs eight and twenty bulbs") {
  GrowthRecords records;
  // 7600 of 8000 came through, 6000 of them into 22-24 and 1600 into 24-26; 100 were written down, 300 are missing.
  records.fillings = {
      filling(bulbs({{"20-22", 8000}}), bulbs({{"20-22", 100}}), bulbs({{"22-24", 6000}, {"24-26", 1600}}))};
  const GrowthModel made = growth_model(input_of(bulbs({{"20-22", 10}})), records);
  const ClassGrowth& one = made.classes[at("20-22")];
  const std::vector<double> prior = growth_from_start(input_of().start.growth, hippeastrum_grades(), at("20-22"));
  CHECK(one.grows_to[at("22-24")] == doctest::Approx((8 * prior[at("22-24")] + 6000) / 7608).epsilon(1e-12));
  CHECK(one.grows_to[at("24-26")] == doctest::Approx((8 * prior[at("24-26")] + 1600) / 7608).epsilon(1e-12));
  CHECK(one.grows_to[at("20-22")] == doctest::Approx(8 * prior[at("20-22")] / 7608).epsilon(1e-12));
  CHECK(one.loss.value == doctest::Approx((20 * 0.05 + 400) / 8020).epsilon(1e-12));
  CHECK(one.offsets.value == doctest::Approx(8 * 0.5 / 8008).epsilon(1e-12));
  CHECK(one.seen == doctest::Approx(7600));
  CHECK(one.loss.own == 8000);
  CHECK(made.from_records == doctest::Approx(7600.0 / 7608));
  // A class without counts stays as it was.
  CHECK(made.classes[at("24-26")].grows_to == made.classes[at("24-26")].grows_to_prior);
  CHECK(made.classes[at("24-26")].loss.value == 0.05);
}

TEST_CASE("half of the bulbs known, half not: what comes from records lies between") {
  GrowthRecords records;
  records.fillings = {filling(bulbs({{"20-22", 8}}), {}, bulbs({{"22-24", 8}}))};
  // 8 / (8 + 8) of 30 bulbs, 0 of 10.
  CHECK(growth_model(input_of(bulbs({{"20-22", 30}, {"8-10", 10}})), records).from_records == doctest::Approx(0.375));
}

TEST_CASE("the smallest bulbs counted beyond what was potted are daughters") {
  GrowthRecords records;
  records.fillings = {filling(bulbs({{"20-22", 10}}), {}, bulbs({{"22-24", 10}, {"4-6", 5}, {"6-8", 1}}))};
  const GrowthModel made = growth_model(input_of(), records);
  const ClassGrowth& one = made.classes[at("20-22")];
  CHECK(one.offsets.value == doctest::Approx((8 * 0.5 + 6) / 18));
  CHECK(one.seen == doctest::Approx(10));
  CHECK(moved(one, at("22-24")) == doctest::Approx(10));
  CHECK(std::abs(moved(one, at("4-6"))) < 1e-9);
  CHECK(one.loss.value == doctest::Approx(20 * 0.05 / 30));
  const std::vector<double> prior = growth_model(input_of(), {}).offset_sizes;
  CHECK(made.offset_sizes[at("4-6")] == doctest::Approx((8 * prior[at("4-6")] + 5) / 14));
  CHECK(std::accumulate(made.offset_sizes.begin(), made.offset_sizes.end(), 0.0) == doctest::Approx(1));
}

TEST_CASE("a pot of mixed sizes is parted by what pots of one size tell") {
  GrowthRecords records;
  records.fillings = {
      filling(bulbs({{"10-12", 10000}}), {}, bulbs({{"14-16", 9000}, {"18-20", 1000}})),
      filling(bulbs({{"14-16", 10000}}), {}, bulbs({{"14-16", 1000}, {"18-20", 9000}})),
      filling(bulbs({{"10-12", 10}, {"14-16", 10}}), {}, bulbs({{"14-16", 10}, {"18-20", 10}})),
  };
  const GrowthModel made = growth_model(input_of(), records);
  // The odds ratio is (9/1)/(1/9) = 81; with equal margins of 10 the table (x, 10 - x; 10 - x, x) has it where
  // (x / (10 - x))² = 81: x = 9.
  CHECK(moved(made.classes[at("10-12")], at("14-16")) - 9000 == doctest::Approx(9).epsilon(0.003));
  CHECK(moved(made.classes[at("10-12")], at("18-20")) - 1000 == doctest::Approx(1).epsilon(0.03));
  CHECK(moved(made.classes[at("14-16")], at("18-20")) - 9000 == doctest::Approx(9).epsilon(0.003));
}

TEST_CASE("a mixed pot with nothing to choose keeps what went in and what came out") {
  GrowthRecords records;
  records.fillings = {
      filling(bulbs({{"10-12", 6}, {"30-32", 3}}), bulbs({{"30-32", 1}}), bulbs({{"14-16", 6}, {"32-34", 2}}))};
  const GrowthModel made = growth_model(input_of(), records);
  CHECK(made.classes[at("10-12")].seen == doctest::Approx(6));
  CHECK(made.classes[at("30-32")].seen == doctest::Approx(2));
  // A bulb of 30 cm does not come down to 15 in a season, so the six are the small ones.
  CHECK(moved(made.classes[at("10-12")], at("14-16")) == doctest::Approx(6).epsilon(0.01));
  CHECK(made.classes[at("30-32")].loss.value == doctest::Approx((20 * 0.05 + 1) / 23));
}

TEST_CASE("other clones of the genus move the prior by at most eight bulbs, other genera not at all") {
  GrowthRecords records;
  records.fillings = {filling(bulbs({{"20-22", 100}}), bulbs({{"20-22", 50}}), bulbs({{"24-26", 50}}), "Skarn Blue"),
                      filling(bulbs({{"20-22", 100}}), bulbs({{"20-22", 100}}), {}, "Tirna Red", "Nerine")};
  const GrowthModel made = growth_model(input_of(), records);
  const ClassGrowth& one = made.classes[at("20-22")];
  const std::vector<double> start = growth_from_start(input_of().start.growth, hippeastrum_grades(), at("20-22"));
  // (20 * 0.05 + 8 * 50 / 100) / 28; growth as if 8 of 8 had come to 24-26.
  CHECK(one.loss.value == doctest::Approx(5.0 / 28));
  CHECK(one.grows_to[at("24-26")] == doctest::Approx((8 * start[at("24-26")] + 8) / 16));
  CHECK(one.loss.own == 0);
  CHECK(one.loss.others == 100);
  CHECK(made.from_records == 0);
  // The clone's own 8 bulbs then weigh as much as this prior.
  records.fillings.push_back(filling(bulbs({{"20-22", 8}}), {}, bulbs({{"22-24", 8}}), "tirna  red"));
  const GrowthModel own = growth_model(input_of(), records);
  CHECK(own.classes[at("20-22")].grows_to[at("22-24")] == doctest::Approx((8 * one.grows_to[at("22-24")] + 8) / 16));
  CHECK(tells(own, "No bulb of -2 to 18-20 and 22-24 to 34+ cm of this clone was potted"));
  CHECK(tells(own, "Natural daughters of bulbs of 22-24 to 34+ cm of this clone"));
}

TEST_CASE("bulbs that are cut leave, and give what their way of cutting gives") {
  GrowthInput input = input_of(bulbs({{"26-28", 10}}));
  CutGives cut = published_cut(input.start, *input.start.yield(Method::chipping), 8, input.grades);
  // 14 of a mother of 26 cm; the middle of her class is 27.
  CHECK(cut.per_mother[at("26-28")] == doctest::Approx(14.0 * 27 / 26));
  cut.share_cut[at("26-28")] = 0.4;
  input.cuts = {cut};
  const GrowthModel made = growth_model(input, {});
  const std::size_t j = at("26-28");
  CHECK(column_sum(made.model.years[0].survival, j) == doctest::Approx(0.6 * (1 - 0.05 * 10 / 11)));
  CHECK(column_sum(made.model.years[0].increase, j) == doctest::Approx(0.6 * 0.5 + 0.4 * 14.0 * 27 / 26));
  // 24 of one mother; of which 4 in 10 are cut: 4 mothers vary as 10 bulbs with 0.4 * 24 do. The model draws each size
  // by itself: n bulbs of mean m, with shares q of the sizes, then vary by n m + n m² (sum of q²) / dispersion in all.
  double squares = 0;
  for (const double share : input.cuts[0].size_shares) squares += share * share;
  REQUIRE(squares < 0.5);
  CHECK(made.model.dispersion == doctest::Approx(9.6 * squares));
  CHECK(tells(made, "S01, S04, S06"));
  // Two ways that together would cut more than there is.
  input.cuts[0].share_cut[j] = 0.8;
  input.cuts.push_back(input.cuts[0]);
  const GrowthModel all = growth_model(input, {});
  CHECK(column_sum(all.model.years[0].survival, j) == doctest::Approx(0));
  CHECK(column_sum(all.model.years[0].increase, j) == doctest::Approx(14.0 * 27 / 26));
}

TEST_CASE("more sections give smaller bulblets: the mass that leaves a mother is shared") {
  const StartingValues& hippeastrum = *starting_values("Hippeastrum");
  const StartingYield& chipping = *hippeastrum.yield(Method::chipping);
  // 16 sections give 2^0.45 as many as 8, each 2^-0.45 of the mass and 2^-0.15 = 0.9013 of the girth of 6.5 cm.
  CHECK(bulblet_girth_by_law(hippeastrum, chipping, 16) == doctest::Approx(5.858).epsilon(0.001));
  CHECK(bulblet_girth_by_law(hippeastrum, chipping, 8) == doctest::Approx(6.5));
  CHECK(bulblet_girth_by_law(hippeastrum, *hippeastrum.yield(Method::twin_scaling), 80) == doctest::Approx(6.5));
}

TEST_CASE("sections that grow now are a class of their own, which only they begin") {
  GrowthInput input = input_of(bulbs({{"26-28", 2}}));
  std::vector<double> sizes(k, 0.0);
  sizes[at("4-6")] = 0.75;
  sizes[at("6-8")] = 0.25;
  input.pieces = {{30, 1.5, sizes, 3}, {10, 0.5, sizes, 3}};
  const GrowthModel made = growth_model(input, {});
  REQUIRE_FALSE(fault_of(made.model));
  REQUIRE(made.has_sections);
  REQUIRE(made.model.size() == k + 1);
  CHECK(made.model.classes[0].name == "sections");
  CHECK(made.model.start[0] == 40);
  CHECK(made.model.start[1 + at("26-28")] == 2);
  CHECK(column_sum(made.model.years[0].survival, 0) == 0);
  // 30 * 1.5 + 10 * 0.5 = 50 bulblets, 37.5 of them of 4-6.
  CHECK(40 * made.model.years[0].increase.at(1 + at("4-6"), 0) == doctest::Approx(37.5));
  CHECK(40 * column_sum(made.model.years[0].increase, 0) == doctest::Approx(50));
  for (std::size_t from = 0; from <= k; ++from) {
    CHECK(made.model.years[0].survival.at(0, from) == 0);
    CHECK(made.model.years[0].increase.at(0, from) == 0);
  }
  CHECK(made.model.dispersion == doctest::Approx(3 * (0.75 * 0.75 + 0.25 * 0.25)));
}

TEST_CASE("bad events of the book move their chance and what they take") {
  GrowthRecords records;
  records.bench_years = 20;
  records.bad_benches = {{"bench 1", Day{20000}, 10, 5, 0.2}, {"bench 2", Day{20100}, 8, 8, 0.9}};
  GrowthInput input = input_of();
  input.places = {30, 0, 10};
  const GrowthModel made = growth_model(input, records);
  CHECK(made.model.bad_event->chance == doctest::Approx(3.0 / 40));
  CHECK(made.model.bad_event->takes == doctest::Approx(3.1 / 6));
  CHECK(made.model.places == std::vector<double>{0.75, 0.25});
  CHECK_FALSE(tells(made, "one place"));
  CHECK_FALSE(tells(made, "6 or more pots"));
}

TEST_CASE("what nobody sized is said, and counts where it can") {
  GrowthRecords records;
  records.fillings = {filling(bulbs({{"", 10}}), {}, bulbs({{"22-24", 10}})),
                      filling(bulbs({{"20-22", 10}}), {}, bulbs({{"", 8}}))};
  const GrowthModel made = growth_model(input_of(bulbs({{"", 7}, {"-2", 1}})), records);
  CHECK(made.model.start[0] == 8);
  CHECK(tells(made, "7 bulbs were never sized: they count as -2"));
  CHECK(tells(made, "1 pot of this genus was filled with bulbs that nobody sized"));
  CHECK(made.classes[at("20-22")].seen == 0);
  CHECK(made.classes[at("20-22")].loss.value == doctest::Approx((20 * 0.05 + 2) / 30));
}

TEST_CASE("losses of good and bad seasons have the mean that was asked for, and never exceed all") {
  // Nine seasons with x and one with 2 x: 0.22 * 10 = 11 x.
  CHECK(loss_by_season(0.22).first == doctest::Approx(0.2));
  CHECK(loss_by_season(0.22).second == doctest::Approx(0.4));
  // 0.82 * 10 = 9 x + 1, since more than all cannot be lost.
  CHECK(loss_by_season(0.82).first == doctest::Approx(0.8));
  CHECK(loss_by_season(0.82).second == 1);
  CHECK(loss_by_season(1).first == 1);
  CHECK(loss_by_season(0).second == 0);
}

TEST_CASE("a book with nothing, and classes that are none, make a sound model") {
  GrowthInput input = input_of();
  for (const std::vector<Grade>& grades :
       {std::vector<Grade>{Grade{}}, std::vector<Grade>{{-1, 0}, {0, -1}}, std::vector<Grade>{{-1, 1}, {1, 2}, {2, -1}},
        std::vector<Grade>{{-1, 1999}, {1999, -1}}}) {
    input.grades = grades;
    input.stock = bulbs({{"20-22", 3}});
    const GrowthModel made = growth_model(input, {});
    CHECK_FALSE(fault_of(made.model));
    CHECK(made.from_records == 0);
    CHECK(total(input.stock) == std::accumulate(made.model.start.begin(), made.model.start.end(), std::int64_t{0}));
  }
}

TEST_CASE("whatever a book holds, the model is sound") {
  const std::uint64_t seed = 20261126;
  std::printf("seed %llu\n", static_cast<unsigned long long>(seed));
  Chance chance(seed);
  const char* const genera[] = {"Hippeastrum", "Narcissus", "Nerine", "Galanthus"};
  for (int book = 0; book < 300; ++book) {
    CAPTURE(book);
    GrowthInput input;
    input.clone = "a";
    input.start = *starting_values(genera[chance.below(4)]);
    std::int32_t low = -1;
    for (std::uint64_t classes = chance.below(12); classes > 0; --classes) {
      const auto next = static_cast<std::int32_t>(std::max(low, 0) + chance.between(1, 60));
      input.grades.push_back({low, next});
      low = next;
    }
    input.grades.push_back({low, -1});
    const std::size_t size = input.grades.size();
    const auto some = [&](std::int64_t most) {
      BulbsByGrade made;
      for (std::uint64_t lines = chance.below(5); lines > 0; --lines) {
        Grade grade;
        if (!chance.one_in(8)) {
          grade.low_mm = static_cast<std::int32_t>(chance.between(0, 400));
          grade.high_mm = chance.one_in(6) ? -1 : grade.low_mm + static_cast<std::int32_t>(chance.between(1, 80));
        }
        made[grade] += chance.between(1, most);
      }
      return made;
    };
    const auto shares = [&](bool to_one) {
      std::vector<double> made;
      for (std::size_t i = 0; i < size; ++i) made.push_back(static_cast<double>(chance.between(0, 100)) / 100 + 1e-9);
      const double all = std::accumulate(made.begin(), made.end(), 0.0);
      for (double& one : made) one /= to_one ? all : 1.1;
      return made;
    };
    input.stock = some(50);
    for (std::uint64_t cuts = chance.below(4); cuts > 0; --cuts) {
      const StartingYield& yield = input.start.yields[chance.below(input.start.yields.size())];
      CutGives cut = published_cut(input.start, yield, static_cast<std::int32_t>(chance.between(0, 40)), input.grades);
      cut.share_cut = shares(false);
      input.cuts.push_back(cut);
    }
    for (std::uint64_t pieces = chance.below(3); pieces > 0; --pieces) {
      input.pieces.push_back(
          {chance.between(0, 200), static_cast<double>(chance.between(0, 30)) / 10, shares(true), 3});
    }
    for (std::uint64_t places = chance.below(3); places > 0; --places) {
      input.places.push_back(static_cast<double>(chance.between(0, 40)));
    }
    GrowthRecords records;
    for (std::uint64_t pots = chance.below(30); pots > 0; --pots) {
      Filling one = filling(some(20), {}, some(20), chance.one_in(2) ? "a" : "b", input.start.genus.c_str());
      for (const auto& [grade, count] : one.before) {
        if (chance.one_in(2)) one.lost[grade] = chance.between(1, count);
      }
      records.fillings.push_back(one);
    }
    records.bench_years = static_cast<double>(chance.between(0, 40));
    for (std::uint64_t bad = chance.below(4); bad > 0; --bad) {
      records.bad_benches.push_back({"b", Day{1}, 6, 3, static_cast<double>(chance.between(0, 100)) / 100});
    }
    const GrowthModel made = growth_model(input, records);
    const auto fault = fault_of(made.model);
    REQUIRE_MESSAGE(!fault, *fault);
    std::int64_t start = 0, pieces = 0;
    for (const std::int64_t count : made.model.start) start += count;
    for (const GrowingPieces& one : input.pieces) pieces += one.count;
    REQUIRE(start == total(input.stock) + pieces);
    for (const ModelYear& year : made.model.years) {
      for (std::size_t from = 0; from < made.model.size(); ++from) {
        REQUIRE(column_sum(year.survival, from) <= 1 + 1e-12);
      }
    }
    double before = 0, counted = 0;
    for (const Filling& one : records.fillings) {
      if (one.clone == "a" && one.before.count(Grade{}) == 0) before += static_cast<double>(total(one.before));
    }
    for (const ClassGrowth& one : made.classes) {
      REQUIRE(std::accumulate(one.grows_to.begin(), one.grows_to.end(), 0.0) == doctest::Approx(1));
      REQUIRE(one.loss.value >= 0);
      REQUIRE(one.loss.value <= 1);
      REQUIRE(one.offsets.value >= 0);
      REQUIRE(one.seen <= one.loss.own + 1e-6);
      counted += one.loss.own;
    }
    REQUIRE(counted == doctest::Approx(before));
    REQUIRE(made.from_records >= 0);
    REQUIRE(made.from_records <= 1);
  }
}

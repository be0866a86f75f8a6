// What is read of growth and loss out of facts made by hand.
#include "core/science/growth_records.hpp"

#include <doctest/doctest.h>

#include <string>
#include <utility>
#include <vector>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

using make::batch_id;
using make::day;

BulbsByGrade bulbs(std::initializer_list<std::pair<const char*, std::int64_t>> counts) {
  BulbsByGrade made;
  for (const auto& [text, count] : counts) made[*text == '\0' ? Grade{} : make::grade(text)] += count;
  return made;
}

// Facts as they pass by, all of one clone.
struct Past {
  std::vector<PastFact> facts;

  Past& add(const char* on, std::uint8_t batch, std::int32_t pot, Payload fact) {
    facts.push_back({batch_id(batch), "Tirna Red", "Hippeastrum", pot, bare_day(day(on), 0), std::move(fact)});
    return *this;
  }
  Past& potted(const char* on, std::int32_t pot, Lines lines, const char* place = "") {
    return add(on, 1, pot, make::bulbs_potted(std::move(lines), place));
  }
  Past& unpotted(const char* on, std::int32_t pot, Lines lines) {
    return add(on, 1, pot, make::unpotted(std::move(lines)));
  }
  GrowthRecords read() const { return growth_records(facts); }
};

Lines lost_of(const char* grade, std::int64_t count) {
  Lines lines = make::dead(Cause::rot, count);
  if (*grade != '\0') lines[0].grade = make::grade(grade);
  return lines;
}

}  // namespace

TEST_CASE("what was potted by size and counted by size a season later is a filling") {
  Past past;
  past.potted("2026-03-01", 1, make::lines({{"8-10", 10}, {"10-12", 2}}))
      .add("2026-06-01", 1, 1, Lost{lost_of("10-12", 1), ""})
      .add("2026-07-01", 1, 1, Lost{lost_of("", 2), ""})  // of the grade with most bulbs: 8-10
      .unpotted("2027-03-01", 1, make::lines({{"10-12", 5}, {"12-14", 3}}));
  const GrowthRecords records = past.read();
  REQUIRE(records.fillings.size() == 1);
  const Filling& one = records.fillings[0];
  CHECK(one.before == bulbs({{"8-10", 10}, {"10-12", 2}}));
  CHECK(one.lost == bulbs({{"8-10", 2}, {"10-12", 1}}));
  CHECK(one.after == bulbs({{"10-12", 5}, {"12-14", 3}}));
  CHECK(one.from == day("2026-03-01"));
  CHECK(one.to == day("2027-03-01"));
  CHECK(one.clone == "Tirna Red");
  CHECK(one.missing() == 1);   // 12 - 3 - 8
  CHECK(one.increase() == 0);  // 8 + 3 - 12 < 0
}

TEST_CASE("what was counted beyond what was potted is increase") {
  Past past;
  past.potted("2026-03-01", 1, make::lines({{"20-22", 4}}))
      .add("2026-06-01", 1, 1, Lost{lost_of("20-22", 1), ""})
      .unpotted("2027-03-01", 1, make::lines({{"22-24", 3}, {"4-6", 5}}));
  const Filling one = past.read().fillings.at(0);
  CHECK(one.increase() == 5);  // 8 + 1 - 4
  CHECK(one.missing() == 0);
}

TEST_CASE("a filling of less than 120 or more than 600 days is no season") {
  // Counted on a calendar: 2026-01-01 + 119 = 04-30, + 120 = 05-01, + 600 = 2027-08-24, + 601 = 08-25.
  const std::pair<const char*, std::size_t> ends[] = {
      {"2026-04-30", 0}, {"2026-05-01", 1}, {"2027-08-24", 1}, {"2027-08-25", 0}};
  for (const auto& one : ends) {
    const std::string end = one.first;
    Past past;
    past.potted("2026-01-01", 1, make::lines({{"8-10", 5}})).unpotted(one.first, 1, make::lines({{"10-12", 5}}));
    CHECK_MESSAGE(past.read().fillings.size() == one.second, end);
    CHECK(past.read().too_short == (end == "2026-04-30" ? 1 : 0));
    CHECK(past.read().too_long == (end == "2027-08-25" ? 1 : 0));
  }
}

TEST_CASE("what was sold, given, thrown away or cut in between does not count as potted") {
  Past past;
  past.potted("2026-03-01", 1, make::lines({{"20-22", 10}, {"8-10", 3}}));
  past.add("2026-04-01", 1, 1, Sold{make::lines({{"20-22", 2}}), std::nullopt, ""});
  past.add("2026-04-02", 1, 1, Given{make::lines({{"8-10", 1}}), ""});
  past.add("2026-04-03", 1, 1, Discarded{make::lines({{"20-22", 1}}), ""});
  Begun cut = make::begun("Tirna Red", Method::chipping, make::lines({{"20-22", 3}}), 8);
  cut.parent = batch_id(1);
  cut.parent_pot = 1;
  past.add("2026-08-01", 2, 0, cut);
  past.unpotted("2027-03-01", 1, make::lines({{"22-24", 4}, {"10-12", 2}}));
  const GrowthRecords records = past.read();
  REQUIRE(records.fillings.size() == 1);
  CHECK(records.fillings[0].before == bulbs({{"20-22", 4}, {"8-10", 2}}));
  CHECK(records.fillings[0].missing() == 0);
  REQUIRE(records.cuts.size() == 1);
  CHECK(records.cuts[0].batch == batch_id(2));
  CHECK(records.cuts[0].method == Method::chipping);
  CHECK(records.cuts[0].sections == 8);
  CHECK(records.cuts[0].mothers == 3);
  CHECK(records.cuts[0].grade == make::grade("20-22"));
  CHECK(records.cuts[0].on == day("2026-08-01"));
}

TEST_CASE("offsets taken off and bulbs grown on are no cut") {
  Past past;
  past.add("2026-03-01", 1, 0, make::begun("Tirna Red", Method::offsets, make::lines({{"6-8", 3}})));
  past.add("2026-03-01", 2, 0, make::begun("Tirna Red", Method::growing_on, make::lines({{"6-8", 3}})));
  CHECK(past.read().cuts.empty());
}

TEST_CASE("counting anew ends a filling and begins the next") {
  Past past;
  past.potted("2025-03-01", 1, make::lines({{"8-10", 5}}))
      .add("2026-03-01", 1, 1, Graded{make::lines({{"10-12", 5}}), ""})
      .add("2026-09-01", 1, 1, Repotted{{}, "bench 9", ""})  // the same bulbs
      .add("2027-03-01", 1, 1, Repotted{make::lines({{"12-14", 4}}), "", ""})
      .add("2028-03-01", 1, 1, Divided{make::lines({{"14-16", 4}, {"2-4", 3}}), std::nullopt, {}, ""})
      .add("2028-04-01", 1, 1, Lost{lost_of("", 1), ""});  // of an empty pot: nothing
  const GrowthRecords records = past.read();
  REQUIRE(records.fillings.size() == 3);
  CHECK(records.fillings[0].after == bulbs({{"10-12", 5}}));
  CHECK(records.fillings[1].before == bulbs({{"10-12", 5}}));
  CHECK(records.fillings[1].missing() == 1);
  CHECK(records.fillings[2].before == bulbs({{"12-14", 4}}));
  CHECK(records.fillings[2].increase() == 3);
}

TEST_CASE("pieces are no bulbs, and what was never counted again is no filling") {
  Past past;
  past.add("2026-03-01", 1, 1, make::pieces_potted(8)).unpotted("2026-09-01", 1, make::lines({{"4-6", 8}}));
  past.potted("2026-03-01", 2, make::lines({{"8-10", 5}}));
  past.add("2026-03-01", 1, 0, Watered{""});
  const GrowthRecords records = past.read();
  CHECK(records.fillings.empty());
  CHECK(records.too_short + records.too_long == 0);
}

namespace {

// Seven pots of nine bulbs on one bench since March 2026; of each of the first `struck`, `each` are lost, `days` apart.
GrowthRecords bench_with_losses(int struck, int days, int pots = 7, int each = 5) {
  Past past;
  for (int pot = 1; pot <= pots; ++pot) {
    past.potted("2026-03-01", pot, make::lines({{"8-10", 9}}), ("bench 4, no. " + std::to_string(pot)).c_str());
  }
  for (int pot = 1; pot <= struck; ++pot) {
    const Day on{day("2026-06-01").days + (pot - 1) * days};
    past.add(to_text(on).c_str(), 1, pot, Lost{lost_of("8-10", each), ""});
  }
  for (int pot = 1; pot <= pots; ++pot) past.unpotted("2027-03-01", pot, make::lines({{"10-12", 10}}));
  return past.read();
}

}  // namespace

TEST_CASE("more than a third of six or more pots within thirty days is a bad event") {
  // 3 of 7 is more than a third; 15 of 63 bulbs were lost.
  const GrowthRecords bad = bench_with_losses(3, 15);
  REQUIRE(bad.bad_benches.size() == 1);
  CHECK(bad.bad_benches[0].bench == "bench 4");
  CHECK(bad.bad_benches[0].on == day("2026-06-01"));
  CHECK(bad.bad_benches[0].pots == 7);
  CHECK(bad.bad_benches[0].struck == 3);
  CHECK(bad.bad_benches[0].share == doctest::Approx(15.0 / 63));
  CHECK(bad.bench_years == doctest::Approx(365 / 365.25));
  // The event tells of its losses; the fillings do not tell of them again.
  REQUIRE(bad.fillings.size() == 7);
  CHECK(bad.fillings[1].before == bulbs({{"8-10", 4}}));
  CHECK(bad.fillings[1].lost.empty());
  CHECK(bad.fillings[1].after == bulbs({{"10-12", 10}}));
  CHECK(bench_with_losses(2, 1).fillings[1].before == bulbs({{"8-10", 9}}));
  CHECK(bench_with_losses(2, 1).fillings[1].lost == bulbs({{"8-10", 5}}));
  // 2 of 7 are not; 3 of 9 are a third and no more; 3 of 7 over 32 days are not within 30.
  CHECK(bench_with_losses(2, 1).bad_benches.empty());
  CHECK(bench_with_losses(3, 1, 9).bad_benches.empty());
  CHECK(bench_with_losses(3, 16).bad_benches.empty());
  // One bulb of nine in each of 3 pots is what single bulbs that die would be; in each of 7 it is not.
  CHECK(bench_with_losses(3, 1, 7, 1).bad_benches.empty());
  CHECK(bench_with_losses(7, 1, 7, 1).bad_benches.size() == 1);
  // Fewer than six pots are no bench to judge by.
  CHECK(bench_with_losses(5, 1, 5).bad_benches.empty());
  CHECK(bench_with_losses(5, 1, 5).bench_years == 0);
  CHECK(bench_with_losses(3, 1, 6).bad_benches.size() == 1);
}

TEST_CASE("pots that were moved stood on both benches") {
  Past past;
  for (int pot = 1; pot <= 6; ++pot) past.potted("2026-03-01", pot, make::lines({{"8-10", 10}}), "bench 1");
  for (int pot = 1; pot <= 6; ++pot) past.add("2026-10-01", 1, pot, Moved{"bench 2", ""});
  for (int pot = 1; pot <= 6; ++pot) past.unpotted("2026-12-01", pot, make::lines({{"10-12", 10}}));
  CHECK(past.read().bench_years == doctest::Approx(275 / 365.25));  // from March to December, together
}

TEST_CASE("a bench struck in a year of two crops is judged by the pots that stood there on the day") {
  Past past;
  for (int pot = 1; pot <= 6; ++pot) past.potted("2025-04-01", pot, make::lines({{"8-10", 10}}), "bench 1");
  for (int pot = 1; pot <= 6; ++pot) past.unpotted("2026-03-01", pot, make::lines({{"8-10", 10}}));
  for (int pot = 7; pot <= 12; ++pot) past.potted("2026-03-10", pot, make::lines({{"8-10", 10}}), "bench 1");
  for (int pot = 7; pot <= 9; ++pot) past.add("2026-07-01", 1, pot, Lost{lost_of("8-10", 8), ""});
  const GrowthRecords records = past.read();
  REQUIRE(records.bad_benches.size() == 1);
  CHECK(records.bad_benches[0].pots == 6);
  CHECK(records.bad_benches[0].share == doctest::Approx(24.0 / 60));
}

TEST_CASE("no facts, no records") {
  const GrowthRecords records = growth_records({});
  CHECK(records.fillings.empty());
  CHECK(records.cuts.empty());
  CHECK(records.bench_years == 0);
}

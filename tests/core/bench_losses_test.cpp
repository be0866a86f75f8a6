// Which losses are one misfortune of a bench: by hand, and on benches drawn by the law that the reading assumes.
#include "core/science/bench_losses.hpp"

#include <doctest/doctest.h>

#include <vector>

#include "tests/fake_host.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

using make::day;

constexpr std::int64_t held_each = 8;

std::vector<BenchStay> pots(std::size_t count, const char* from, const char* to, const char* bench = "bench 1") {
  std::vector<BenchStay> stays;
  for (std::size_t pot = 0; pot < count; ++pot) stays.push_back({pot, bench, day(from), day(to), held_each});
  return stays;
}

}  // namespace

TEST_CASE("no bench, no event; a bench of five pots is none to judge by") {
  CHECK(bench_events({}, {}).bad.empty());
  CHECK(bench_events({}, {}).bench_years == 0);
  const auto five = pots(5, "2026-01-01", "2027-01-01");
  std::vector<BenchLoss> all;
  for (std::size_t i = 0; i < 5; ++i) all.push_back({i, day("2026-05-01"), held_each});
  CHECK(bench_events(five, all).bad.empty());
  CHECK(bench_events(five, all).bench_years == 0);
}

TEST_CASE("losses are put in the order of their days, and those of the event are named") {
  const auto stays = pots(6, "2026-01-01", "2027-01-01");
  const std::vector<BenchLoss> losses = {{2, day("2026-06-20"), 5},
                                         {0, day("2026-03-01"), 1},  // one bulb, long before
                                         {0, day("2026-06-01"), 5},
                                         {1, day("2026-06-10"), 6}};
  const BenchEvents events = bench_events(stays, losses);
  REQUIRE(events.bad.size() == 1);
  CHECK(events.bad[0].on == day("2026-06-01"));
  CHECK(events.bad[0].struck == 3);
  CHECK(events.bad[0].pots == 6);
  CHECK(events.bad[0].share == doctest::Approx(16.0 / 47));  // what was lost before stood there no more
  CHECK(events.losses == std::vector<std::size_t>{0, 2, 3});
  CHECK(events.bench_years == doctest::Approx(365 / 365.25));
}

TEST_CASE("a bench has at most one event in a year, and no loss counts in two") {
  const auto stays = pots(6, "2025-01-01", "2028-01-01");
  const auto struck = [&](const std::vector<const char*>& days) {
    std::vector<BenchLoss> losses;
    for (const char* on : days) {
      for (std::size_t i = 0; i < 6; ++i) losses.push_back({i, day(on), 2});
    }
    return bench_events(stays, losses);
  };
  CHECK(struck({"2026-03-01", "2026-09-01"}).bad.size() == 1);
  CHECK(struck({"2026-03-01", "2027-03-01"}).bad.size() == 2);
  // One winter: the losses of January are those of December.
  const BenchEvents winter = struck({"2026-12-20", "2027-01-05"});
  CHECK(winter.bad.size() == 1);
  CHECK(winter.losses.size() == 12);
}

TEST_CASE("a pot that is thinned between two losses is one pot still") {
  auto stays = pots(7, "2026-01-01", "2027-01-01");
  std::vector<BenchLoss> losses;
  for (const std::size_t pot : {0, 1}) {
    stays[pot].to = day("2026-05-10");
    stays.push_back({pot, "bench 1", day("2026-05-10"), day("2027-01-01"), 4});
    losses.push_back({pot, day("2026-05-01"), 3});
    losses.push_back({stays.size() - 1, day("2026-05-20"), 3});
  }
  CHECK(bench_events(stays, losses).bad.empty());  // 2 of 7, not 4
  losses.push_back({2, day("2026-05-20"), 3});
  const BenchEvents events = bench_events(stays, losses);
  REQUIRE(events.bad.size() == 1);
  CHECK(events.bad[0].pots == 7);
  CHECK(events.bad[0].struck == 3);
  CHECK(events.bad[0].share == doctest::Approx(15.0 / 56));
}

TEST_CASE("losses of a day before any pot stood there, as a wrong clock tells them, do no harm") {
  const auto stays = pots(6, "2026-05-01", "2027-01-01");
  std::vector<BenchLoss> losses = {{0, day("2020-01-01"), 3}};
  CHECK(bench_events(stays, losses).bad.empty());
  for (std::size_t pot = 0; pot < 6; ++pot) losses.push_back({pot, day("2026-04-20"), 3});
  REQUIRE(bench_events(stays, losses).bad.size() == 1);
  CHECK(bench_events(stays, losses).bad[0].on == day("2026-04-20"));
}

TEST_CASE("benches are judged each by itself") {
  auto stays = pots(6, "2026-01-01", "2027-01-01");
  const auto other = pots(6, "2026-01-01", "2027-01-01", "bench 2");
  stays.insert(stays.end(), other.begin(), other.end());
  for (std::size_t i = 6; i < stays.size(); ++i) stays[i].pot = i;
  std::vector<BenchLoss> losses;
  for (const std::size_t i : {0, 1, 6, 7}) losses.push_back({i, day("2026-05-01"), 5});
  CHECK(bench_events(stays, losses).bad.empty());  // 2 of 6 on each: a third and no more
  losses.push_back({8, day("2026-05-01"), 5});
  REQUIRE(bench_events(stays, losses).bad.size() == 1);
  CHECK(bench_events(stays, losses).bad[0].bench == "bench 2");
  CHECK(bench_events(stays, losses).bench_years == doctest::Approx(2 * 365 / 365.25));
}

TEST_CASE("bulbs that die one by one are seldom taken for an event; strikes of a fifth and more are seen") {
  const std::uint64_t seed = make::seed();
  INFO("MOTHERBULB_SEED=" << seed);
  Chance chance(seed);
  constexpr int years = 2000;
  int false_alarms = 0, seen = 0;
  for (int year = 0; year < years; ++year) {
    const std::size_t count = 6 + chance.below(20);
    const auto stays = pots(count, "2026-01-01", "2027-01-01");
    std::vector<BenchLoss> singly;
    std::vector<std::int64_t> left(count, held_each);
    for (std::size_t pot = 0; pot < count; ++pot) {
      for (int bulb = 0; bulb < held_each; ++bulb) {
        // Ten in a hundred in a year, on any day of it.
        if (!chance.one_in(10)) continue;
        singly.push_back({pot, Day{day("2026-01-01").days + static_cast<std::int32_t>(chance.below(365))}, 1});
        --left[pot];
      }
    }
    false_alarms += bench_events(stays, singly).bad.empty() ? 0 : 1;
    std::vector<BenchLoss> struck = singly;
    const auto takes = static_cast<std::uint64_t>(chance.between(20, 90));
    for (std::size_t pot = 0; pot < count; ++pot) {
      std::int64_t lost = 0;
      for (int bulb = 0; bulb < left[pot]; ++bulb) lost += chance.below(100) < takes ? 1 : 0;
      if (lost > 0) struck.push_back({pot, day("2026-08-01"), lost});
    }
    seen += bench_events(stays, struck).bad.empty() ? 0 : 1;
  }
  MESSAGE(false_alarms << " false alarms and " << seen << " strikes seen in " << years << " bench-years");
  CHECK(false_alarms < years / 50);
  CHECK(seen > years * 19 / 20);
}

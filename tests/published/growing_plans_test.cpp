// The shipped growing plans against what was published; the source stands beside each check (trade-facts.md).
#include <doctest/doctest.h>

#include <set>

#include "core/due/due.hpp"

using namespace motherbulb;

namespace {

const GrowingPlan& plan(const char* id) {
  static const PlanBook plans;
  const PlanVersion* version = plans.latest(id);
  REQUIRE(version != nullptr);
  return *version->plan;
}

// A window of a pot of bulbs that was dried off, or of pieces that were cut, on Tuesday 1 September 2026.
Due window(const char* genus, Method method, Step step) {
  static const PlanBook plans;
  const Day day = *day_from_civil({2026, 9, 1});
  BatchState batch;
  batch.begun = true;
  batch.genus = genus;
  batch.method = method;
  batch.begun_on = bare_day(day, 0);
  batch.begun_order.at = 1;
  PotState pot;
  pot.filled = true;
  pot.unit = cuts(method) ? Unit::pieces : Unit::bulbs;
  pot.pieces = cuts(method) ? 8 : 0;
  if (!cuts(method)) pot.bulbs[Grade{200, 220}] = 1;
  pot.filled_on = bare_day(cuts(method) ? day : Day{day.days - 300}, 0);
  pot.filled_order.at = 2;
  FoldOrder dried;
  dried.at = 3;
  if (!cuts(method)) pot.done.push_back({Step::dry_off, bare_day(day, 0), dried});
  std::vector<Due> due;
  add_due(plans, batch, pot, Hemisphere::north, due);
  for (const Due& one : due) {
    if (one.step == step) return one;
  }
  FAIL("not due: ", genus);
  return {};
}

std::string opens(const Due& due) {
  return to_text(due.opens);
}
std::string closes(const Due& due) {
  return to_text(due.closes);
}
std::string week(std::int32_t number, const char* asked) {
  return to_text(season_window({number, number, ""}, *day_from_text(asked), Hemisphere::north).opens);
}

}  // namespace

TEST_CASE("every shipped plan is read, and each of its figures names its source") {
  const PlanBook plans;
  CHECK(plans.faults().empty());
  CHECK(plans.latest().size() == shipped_plans().size());
}

TEST_CASE("hippeastrum rests at least 8 weeks (S13), at home 8 to 10 (S39)") {
  const Due start = window("Hippeastrum", Method::growing_on, Step::start);
  CHECK(opens(start) == "2026-10-27");
  CHECK(closes(start) == "2026-11-10");
}

TEST_CASE("nerine is stored for 3 to 4 months (S38)") {
  const Due start = window("Nerine", Method::growing_on, Step::start);
  CHECK(opens(start) == "2026-12-01");
  CHECK(closes(start) == "2027-01-01");
}

TEST_CASE("each genus rests in its own way") {
  std::set<std::string> windows;
  for (const char* genus : {"Hippeastrum", "Nerine", "Hyacinthus", "Narcissus"}) {
    const Due start = window(genus, Method::growing_on, Step::start);
    windows.insert(opens(start) + " " + closes(start));
  }
  CHECK(windows.size() == 4);
}

TEST_CASE("narcissus and snowdrop pieces stand 12 weeks at 20 °C (S17, S37)") {
  for (const Method method : {Method::chipping, Method::twin_scaling}) {
    CHECK(opens(window("Narcissus", method, Step::unpot)) == "2026-11-24");
    CHECK(opens(window("Galanthus", method, Step::unpot)) == "2026-11-24");
  }
}

TEST_CASE("scooped hyacinths give bulbs to plant about three months after the cut (S29)") {
  const PlanStep* unpot = plan("hyacinthus-scooping").step(Step::unpot, Of::pieces);
  REQUIRE(unpot != nullptr);
  CHECK(unpot->opens->in == Span::In::months);
  CHECK(unpot->opens->amount == 3);
}

TEST_CASE("twin-scales of hippeastrum were assessed after 100 days (S08) and after 4.5 months (S04)") {
  const Due unpot = window("Hippeastrum", Method::twin_scaling, Step::unpot);
  CHECK(unpot.opens.days - unpot.since.days == 100);
  CHECK(unpot.closes.days - unpot.since.days == 137);  // 4.5 twelfths of 365.25 days
}

TEST_CASE("established hippeastrum is repotted every 3 to 5 years (S39b), and grows 8 to 10 months a season (S13)") {
  const PlanStep* repot = plan("hippeastrum-growing-on").step(Step::repot, Of::bulbs);
  REQUIRE(repot != nullptr);
  CHECK(repot->opens->amount == 36);
  CHECK(repot->closes->amount == 60);
  const PlanStep* dry_off = plan("hippeastrum-growing-on").step(Step::dry_off, Of::bulbs);
  REQUIRE(dry_off != nullptr);
  CHECK(dry_off->opens->amount == 8);
  CHECK(dry_off->closes->amount == 10);
  CHECK(dry_off->opens->in == Span::In::months);
}

TEST_CASE("weeks are those of ISO 8601: weeks 1 of 2013, 2014, 2015 and 2020, and week 53 of 2026 (S75)") {
  CHECK(week(1, "2012-12-31") == "2012-12-31");
  CHECK(week(1, "2013-12-30") == "2013-12-30");
  CHECK(week(1, "2014-12-29") == "2014-12-29");
  CHECK(week(1, "2019-12-30") == "2019-12-30");
  CHECK(week(53, "2026-12-30") == "2026-12-28");
  CHECK(week(53, "2027-06-01") == "2027-12-27");  // 2027 has 52: its last
  CHECK(week(1, "2027-01-04") == "2027-01-04");
}

TEST_CASE("the south's season is the north's, 26 weeks later, in years of 52 and 53 weeks") {
  for (std::int32_t from = 1; from <= 53; from += 4) {
    for (std::int32_t days = 20'000; days < 22'000; days += 37) {
      const Season season{from, from, ""};
      const Window north = season_window(season, Day{days}, Hemisphere::north);
      const Window south = season_window(season, Day{days + 26 * 7}, Hemisphere::south);
      CHECK(south.opens.days - north.opens.days == 26 * 7);
      CHECK(south.closes.days - north.closes.days == 26 * 7);
    }
  }
}

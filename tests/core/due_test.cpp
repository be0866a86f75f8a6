// What is due, from states made by hand. Days are counted on a calendar from the shipped plan for chipped nerines:
// uncover 8 to 14 weeks after covering, a look 4 to 7 weeks after potting and then every 4, unpot 12 to 20 weeks after
// the cut. ISO weeks: 2026 has 53, 2027 has 52.
#include "core/due/due.hpp"

#include <doctest/doctest.h>

#include "tests/make.hpp"

namespace motherbulb {
namespace {

using make::day;

When on(const char* text) {
  return bare_day(day(text), 0);
}
FoldOrder order(std::int64_t at) {
  FoldOrder one;
  one.at = at;
  return one;
}

struct Case {
  PlanBook plans;
  BatchState batch;
  PotState pot;

  // Cut and potted on Monday, 2 March 2026.
  Case() {
    batch.begun = true;
    batch.genus = "Nerine";
    batch.method = Method::chipping;
    batch.begun_on = on("2026-03-02");
    batch.begun_order = order(10);
    pot.filled = true;
    pot.unit = Unit::pieces;
    pot.pieces = 16;
    pot.filled_on = on("2026-03-02");
    pot.filled_order = order(20);
  }
  [[nodiscard]] std::string window(Step step) const {
    std::vector<Due> due;
    add_due(plans, batch, pot, Hemisphere::north, due);
    for (const Due& one : due) {
      if (one.step == step) return to_text(one.opens) + " " + to_text(one.closes);
    }
    return "none";
  }
};

std::string window(std::int32_t from, std::int32_t to, const char* asked, Hemisphere where) {
  const Window found = season_window({from, to, ""}, day(asked), where);
  return to_text(found.opens) + " " + to_text(found.closes);
}

}  // namespace

TEST_CASE("steps open and close by the weeks of the plan from what was recorded") {
  const Case c;
  CHECK(c.window(Step::look) == "2026-03-30 2026-04-20");
  CHECK(c.window(Step::unpot) == "2026-05-25 2026-07-20");
}

TEST_CASE("nothing is due of a pot that is emptied or empty") {
  Case emptied;
  emptied.pot.emptied = true;
  CHECK(emptied.window(Step::unpot) == "none");
  Case empty;
  empty.pot.pieces = 0;
  CHECK(empty.window(Step::unpot) == "none");
}

TEST_CASE("only what is covered is due to be uncovered") {
  Case c;
  CHECK(c.window(Step::uncover) == "none");
  c.pot.covered = true;
  c.pot.done.push_back({Step::covered, on("2026-03-02"), order(30)});
  CHECK(c.window(Step::uncover) == "2026-04-27 2026-06-08");
}

TEST_CASE("a step that repeats is due again from when it was done, until what ends it") {
  Case c;
  c.pot.done.push_back({Step::look, on("2026-04-06"), order(30)});
  CHECK(c.window(Step::look) == "2026-05-04 2026-05-25");
  c.pot.done.push_back({Step::unpot, on("2026-06-01"), order(40)});
  CHECK(c.window(Step::look) == "none");
  CHECK(c.window(Step::unpot) == "none");
}

TEST_CASE("a step put off opens so many days after the word, with a week to do it in") {
  Case c;
  c.pot.put_off.push_back({"look", 14, "dry", "Ines", on("2026-04-01"), order(30)});
  CHECK(c.window(Step::look) == "2026-04-15 2026-04-21");
  c.pot.put_off.back().days = 0;
  CHECK(c.window(Step::look) == "none");
  c.pot.put_off.back().order = order(15);  // before the pot was filled
  CHECK(c.window(Step::look) == "2026-03-30 2026-04-20");
}

TEST_CASE("a word on the whole batch counts for pots filled before it and for no later one") {
  Case c;
  c.batch.done.push_back({Step::look, on("2026-04-06"), order(30)});
  CHECK(c.window(Step::look) == "2026-05-04 2026-05-25");
  c.pot.filled_order = order(31);
  c.pot.filled_on = on("2026-04-13");
  CHECK(c.window(Step::look) == "2026-05-11 2026-06-01");
}

TEST_CASE("a season stands from a Monday to a Sunday, in the south 26 weeks later") {
  CHECK(window(36, 42, "2026-08-01", Hemisphere::north) == "2026-08-31 2026-10-18");
  CHECK(window(36, 42, "2026-10-18", Hemisphere::north) == "2026-08-31 2026-10-18");
  CHECK(window(36, 42, "2027-03-01", Hemisphere::south) == "2027-03-01 2027-04-18");
  for (std::int32_t shift = 0; shift < 800; ++shift) {
    const Day north{day("2026-01-01").days + shift}, south{north.days + 26 * 7};
    const Window a = season_window({36, 42, ""}, north, Hemisphere::north);
    const Window b = season_window({36, 42, ""}, south, Hemisphere::south);
    REQUIRE(b.opens.days - a.opens.days == 182);
    REQUIRE(b.closes.days - a.closes.days == 182);
  }
}

TEST_CASE("a season may run over the new year, and week 53 is the last of a year without one") {
  CHECK(window(50, 3, "2027-01-10", Hemisphere::north) == "2026-12-07 2027-01-24");
  CHECK(window(53, 53, "2027-01-01", Hemisphere::north) == "2026-12-28 2027-01-03");
  CHECK(window(53, 53, "2027-01-10", Hemisphere::north) == "2027-12-27 2028-01-02");
}

}  // namespace motherbulb

// What is read of finished pots out of facts made by hand.
#include "core/science/yield_records.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

using make::batch_id;

struct Past {
  std::vector<PastFact> facts;

  Past& add(std::uint8_t batch, std::int32_t pot, Payload fact, const char* clone = "Tirna Red",
            const char* genus = "Hippeastrum") {
    const Day day{20'000 + static_cast<std::int32_t>(facts.size())};
    facts.push_back({batch_id(batch), clone, genus, pot, bare_day(day, 0), std::move(fact)});
    return *this;
  }
  // Batch 1: chipped into 8, of mothers of 26-28.
  Past& chipped() { return add(1, 0, make::begun("Tirna Red", Method::chipping, make::lines({{"26-28", 2}}), 8)); }
  YieldRecords read() const { return yield_records(facts); }
};

}  // namespace

TEST_CASE("a pot that was unpotted tells sections in, alive, dead by cause and bulblets by grade") {
  Past past;
  past.chipped()
      .add(1, 1, make::pieces_potted(6))
      .add(1, 1, make::pieces_potted(2))
      .add(1, 2, make::pieces_potted(8))  // not unpotted: does not count
      .add(1, 1, make::lost(Cause::rot, 1))
      .add(1, 1, make::unpotted(make::lines({{"2-4", 9}, {"4-6", 3}, {"", 1}}), 6, make::dead(Cause::unknown, 1)));
  const YieldRecords records = past.read();
  REQUIRE(records.pots.size() == 1);
  const FinishedPot& pot = records.pots[0];
  CHECK(pot.clone == "Tirna Red");
  CHECK(pot.method == Method::chipping);
  CHECK(pot.sections_each == 8);
  CHECK(pot.girth_cm == 27);
  CHECK(pot.girth_said);
  CHECK(pot.sections == 8);
  CHECK(pot.alive == 6);
  CHECK(pot.dead[static_cast<std::size_t>(Cause::rot)] == 1);
  CHECK(pot.dead[static_cast<std::size_t>(Cause::unknown)] == 1);
  CHECK(total(pot.bulblets) == 13);
  CHECK(pot.bulblets.at(make::grade("4-6")) == 3);
  CHECK(pot.bulblets.at(Grade{}) == 1);
}

TEST_CASE("a mother that is left whole counts as so many sections, and mothers of no size as 26 cm") {
  Past past;
  past.add(1, 0, make::begun("Tirna Red", Method::cross_cutting, make::lines(3), 4))
      .add(1, 1, make::pieces_potted(3))
      .add(1, 1, make::unpotted(make::lines({{"2-4", 15}}), 3));
  const FinishedPot pot = past.read().pots.at(0);
  CHECK(pot.pieces == 3);
  CHECK(pot.sections == 12);  // 3 mothers of 4
  CHECK(pot.girth_cm == 26);
  CHECK(!pot.girth_said);
}

TEST_CASE("mothers of several grades count by their middles, an open end by the girth that is named") {
  Past past;
  past.add(1, 0, make::begun("Tirna Red", Method::halving, make::lines({{"20-22", 3}, {"26+", 1}, {"", 5}})))
      .add(1, 1, make::pieces_potted(8))
      .add(1, 1, make::unpotted({}, 8));
  const FinishedPot pot = past.read().pots.at(0);
  CHECK(pot.girth_cm == doctest::Approx((3 * 21 + 26) / 4.0));
  CHECK(pot.sections_each == 2);  // halving, though nobody said
  CHECK(total(pot.bulblets) == 0);
}

TEST_CASE("a pot lost to rot gave nothing; one that animals took tells nothing; a part taken is no section") {
  Past past;
  past.chipped()
      .add(1, 1, make::pieces_potted(4))
      .add(1, 2, make::pieces_potted(4))
      .add(1, 3, make::pieces_potted(4))
      .add(1, 4, make::pieces_potted(4))
      .add(1, 1, make::lost(Cause::rot, 4))
      .add(1, 2, make::lost(Cause::animal, 4))
      .add(1, 3, make::lost(Cause::animal, 1))
      .add(1, 3, make::unpotted(make::lines({{"2-4", 5}}), 3))
      .add(1, 4, Discarded{make::lines(4), ""});
  const YieldRecords records = past.read();
  REQUIRE(records.pots.size() == 2);
  CHECK(records.pots[0].pot == 3);
  CHECK(records.pots[0].sections == 3);
  CHECK(total(records.pots[0].bulblets) == 5);
  CHECK(records.pots[1].pot == 1);
  CHECK(records.pots[1].sections == 4);
  CHECK(total(records.pots[1].bulblets) == 0);
  CHECK(records.taken_pots == 2);
}

TEST_CASE("only the first count of a pot is what the cut gave") {
  Past past;
  past.chipped()
      .add(1, 1, make::pieces_potted(8))
      .add(1, 1, make::unpotted(make::lines({{"2-4", 10}}), 8))
      .add(1, 1, make::bulbs_potted(make::lines({{"2-4", 10}})))
      .add(1, 1, make::unpotted(make::lines({{"6-8", 9}})));
  REQUIRE(past.read().pots.size() == 1);
  CHECK(total(past.read().pots[0].bulblets) == 10);
}

TEST_CASE("a batch without its number of sections is left out and counted, whole bulbs are no cut") {
  Past past;
  past.add(1, 0, make::begun("Tirna Red", Method::chipping, make::lines({{"26-28", 2}}), 0))
      .add(1, 1, make::pieces_potted(8))
      .add(1, 1, make::unpotted(make::lines({{"2-4", 10}}), 8))
      .add(2, 0, make::begun("Tirna Red", Method::growing_on, make::lines({{"8-10", 5}})))
      .add(2, 1, make::bulbs_potted(make::lines({{"8-10", 5}})))
      .add(2, 1, make::unpotted(make::lines({{"10-12", 5}})));
  CHECK(past.read().pots.empty());
  CHECK(past.read().uncounted_pots == 1);
}

TEST_CASE("priors are the published yield brought to 8 sections and 26 cm") {
  // assets/starting_values.json: chipping of Hippeastrum gives 14 of a mother of 26 cm in 8 (S01, S04, S06), sd 0.5;
  // quartering 10 of one of 25.1 cm in 4 (S01, V003).
  const auto chips = starting_yield_priors("Hippeastrum", Method::chipping);
  REQUIRE(chips);
  CHECK(chips->u.mean == doctest::Approx(std::log(14.0)));
  CHECK(chips->u.sd == 0.5);
  CHECK(chips->b.mean == 0.45);
  CHECK(chips->b.sd == 0.15);
  const auto quarters = starting_yield_priors("hippeastrum", Method::quartering);
  REQUIRE(quarters);
  CHECK(quarters->u.mean == doctest::Approx(std::log(10.0) + 0.45 * std::log(2.0) + std::log(26 / 25.1)));
  // 1.25 a twin-scale (S01, V008): of 8 of them 10, whatever their number.
  const auto scales = starting_yield_priors("Hippeastrum", Method::twin_scaling);
  REQUIRE(scales);
  CHECK(scales->b.mean == 1);
  CHECK(scales->b.sd == 0);
  CHECK(std::exp(scales->u.mean) == doctest::Approx(1.25 * 8 * 26 / 25.1));
  CHECK(!starting_yield_priors("Hippeastrum", Method::scooping));
  CHECK(!starting_yield_priors("Nothing", Method::chipping));
}

TEST_CASE("rows stand by clone, method and sections; counts first, an estimate where a yield is published") {
  Past past;
  past.add(1, 0, make::begun("tirna  red", Method::chipping, make::lines({{"26-28", 2}}), 8), "tirna  red")
      .add(1, 1, make::pieces_potted(8), "tirna  red")
      .add(1, 1, make::unpotted(make::lines({{"2-4", 10}}), 8), "tirna  red")
      .add(2, 0, make::begun("Tirna Red", Method::chipping, make::lines({{"20-22", 2}}), 8))
      .add(2, 1, make::pieces_potted(16))
      .add(2, 1, make::unpotted(make::lines({{"4-6", 20}}), 15))
      .add(3, 0, make::begun("Skarn Blue", Method::scooping, make::lines({{"20-22", 1}}), 8), "Skarn Blue")
      .add(3, 1, make::pieces_potted(1), "Skarn Blue")
      .add(3, 1, make::unpotted(make::lines({{"-2", 7}}), 1), "Skarn Blue");
  const std::vector<MethodYields> methods = yields_by_method(past.read());
  REQUIRE(methods.size() == 2);
  const std::vector<YieldRow> rows = answered_rows(methods);
  REQUIRE(rows.size() == 2);
  CHECK(rows[0].clone == "Skarn Blue");
  CHECK(total(rows[0].bulblets) == 7);
  CHECK(!rows[0].answer);  // nothing is published of scooping a Hippeastrum
  CHECK(rows[1].pots == 2);
  CHECK(rows[1].sections == 24);
  CHECK(rows[1].alive == 23);
  CHECK(rows[1].alive_of == 24);
  CHECK(total(rows[1].bulblets) == 30);
  CHECK(rows[1].girth_cm == doctest::Approx((27 * 8 + 21 * 16) / 24.0));
  REQUIRE(rows[1].answer);
  CHECK(rows[1].answer->from_records > 0);
  const YieldFile file = yield_file(methods[0], "TIRNA RED");
  CHECK(file.pots.size() == 2);
  CHECK(file.asks.size() == 1);
  CHECK(answered_rows(methods, "skarn blue").size() == 1);
}

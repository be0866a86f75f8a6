// What bulbs have cost: two published tables, books reckoned by hand, and sums of random books.
#include "core/science/cost.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "tests/form.hpp"
#include "tests/make.hpp"

namespace motherbulb {
namespace {

using make::batch_id;
using make::day;

struct Past {
  std::vector<PastFact> facts;

  Past& add(Day on, std::uint8_t batch, std::int32_t pot, Payload fact, const char* clone = "Tirna Red") {
    facts.push_back({batch_id(batch), clone, "Hippeastrum", pot, bare_day(on, 0), std::move(fact)});
    return *this;
  }
  Past& add(const char* on, std::uint8_t batch, std::int32_t pot, Payload fact) {
    return add(day(on), batch, pot, std::move(fact));
  }
};

Begun bulbs_from_out(Lines bulbs) {
  return make::begun("Tirna Red", Method::growing_on, std::move(bulbs));
}

Begun out_of(std::uint8_t parent, std::int32_t pot, Method method, Lines bulbs, std::int32_t sections = 0) {
  Begun fact = make::begun("Tirna Red", method, std::move(bulbs), sections);
  fact.parent = batch_id(parent);
  fact.parent_pot = pot;
  return fact;
}

std::int64_t part(const CloneCost& cost, CostPart which) {
  return cost.parts[static_cast<std::size_t>(which)];
}

CloneCost the_one(const std::vector<CloneCost>& costs) {
  REQUIRE(costs.size() == 1);
  return costs[0];
}

void check_sums(const CloneCost& cost) {
  CHECK(std::accumulate(cost.parts.begin(), cost.parts.end(), std::int64_t{0}) == cost.total);
  std::int64_t borne = cost.pieces_cents + cost.borne_by_none;
  for (const CostOfClass& one : cost.classes) borne += one.cents;
  CHECK(borne == cost.total);
  for (const std::int64_t one : cost.parts) CHECK(one >= 0);
  for (const CostOfClass& one : cost.classes) CHECK(one.cents >= 0);
}

}  // namespace

TEST_CASE("a two-year crop of Narcissus costs what the published table says, year by year") {
  // S19 (Economics of Narcissus bulb production, 2002, table 5.1), pounds a hectare: bulbs; hot water, fertiliser and
  // sprays of the first year; fertiliser, sprays, spray after lifting and drying of the second; sums as printed.
  struct Table {
    const char* of;
    std::int64_t bulbs;
    std::vector<std::int64_t> first, second;
    std::int64_t first_year, second_year, total, output, margin;
  };
  const std::vector<Table> tables = {
      {"1996", 6000, {1088, 116, 380}, {20, 401, 600, 300}, 7584, 1321, 8905, 12750, 3845},
      {"1999", 6000, {1200, 116, 374}, {20, 357, 600, 300}, 7690, 1277, 8967, 12075, 3108}};
  for (const Table& table : tables) {
    CAPTURE(table.of);
    Past past;
    past.add("1994-09-01", 1, 0, bulbs_from_out(make::lines({{"10-12", 12'000}})));
    for (const std::int64_t pounds : table.first) past.add("1994-10-01", 1, 0, Money{100 * pounds, false, "crop"});
    for (const std::int64_t pounds : table.second) past.add("1996-07-01", 1, 0, Money{100 * pounds, false, "crop"});
    past.add("1996-08-01", 1, 0, Money{100 * table.output, true, "sold"});
    CostFigures figures;
    figures.bulb_from_out = 100.0 * static_cast<double>(table.bulbs) / 12'000;
    CHECK(the_one(clone_costs(past.facts, figures, day("1995-09-01"))).total == 100 * table.first_year);
    const CloneCost cost = the_one(clone_costs(past.facts, figures, day("1996-09-01")));
    CHECK(cost.total == 100 * table.total);
    CHECK(part(cost, CostPart::bought) == 100 * table.bulbs);
    CHECK(part(cost, CostPart::spent) == 100 * (table.total - table.bulbs));
    CHECK(cost.total - 100 * table.first_year == 100 * table.second_year);
    CHECK(100 * table.output - cost.total == 100 * table.margin);
    check_sums(cost);
  }
}

TEST_CASE("the labour of a cutting is the ratio of the means, not the mean of the ratios") {
  // S86 (labour benchmark of 14 firms, 2018): a week of the mean firm has 2109 hours, 26392 dollars and 1316111
  // cuttings; their ratio 0.02005 dollars; the mean of the firms' own ratios is printed as 0.023.
  Past past;
  past.add("2016-03-01", 1, 0, bulbs_from_out(make::lines({{"2-4", 1'000'000}, {"4-6", 316'111}})));
  past.add("2016-03-08", 1, 0, Hours{2109 * 60, "inserting"});
  CostFigures figures;
  figures.hour = 2'639'200.0 / 2109;
  const CloneCost cost = the_one(clone_costs(past.facts, figures, day("2016-03-08")));
  CHECK(cost.total == 2'639'200);
  CHECK(part(cost, CostPart::hours) == 2'639'200);
  const CostOfSaleable saleable = cost_of_saleable(cost, 2);
  CHECK(saleable.bulbs == 1'316'111);
  const double dollars = static_cast<double>(saleable.cents) / 100 / static_cast<double>(saleable.bulbs);
  CHECK(std::abs(dollars - 0.02005) < 0.000005);
  CHECK(std::abs(dollars - 0.023) > 0.0025);
  CHECK(saleable.per_bulb == 2);
  check_sums(cost);
  // Its shares of receiving, filling, inserting, supervising and moving are printed as 3, 8, 70, 10 and 8: 99 in all.
  const std::vector<std::int64_t> shares = shared_out(2'639'200, {3, 8, 70, 10, 8});
  CHECK(std::accumulate(shares.begin(), shares.end(), std::int64_t{0}) == 2'639'200);
  CHECK(shares[2] == 1'866'101);  // 2639200 * 70 / 99 = 1866101.01
}

TEST_CASE("what is lost is borne by what is left of the pot, and what is sold takes its share away") {
  // 10 bulbs at 100 cents, 6 and 4 in two pots; 7 cents a pot and week for 28 days: 28 cents each. 3 of the 6 rot. Then
  // one of the 4 is sold: it had cost (400 + 28) / 4 = 107. Left: 3 with 628 and 3 with 321.
  Past past;
  past.add("2026-03-02", 1, 0, bulbs_from_out(make::lines({{"20-22", 6}, {"8-10", 4}})))
      .add("2026-03-02", 1, 1, make::bulbs_potted(make::lines({{"20-22", 6}})))
      .add("2026-03-02", 1, 2, make::bulbs_potted(make::lines({{"8-10", 4}})))
      .add("2026-03-16", 1, 1, Lost{make::dead(Cause::rot, 3), ""})
      .add("2026-03-30", 1, 2, Sold{make::lines({{"8-10", 1}}), 900, ""});
  CostFigures figures;
  figures.bulb_from_out = 100;
  figures.bench_week = 7;
  const CloneCost cost = the_one(clone_costs(past.facts, figures, day("2026-03-30")));
  check_sums(cost);
  CHECK(cost.total == 949);
  REQUIRE(cost.classes.size() == 2);
  CHECK(cost.classes[0].bulbs == 3);
  CHECK(cost.classes[0].cents == 321);
  CHECK(cost.classes[1].bulbs == 3);
  CHECK(cost.classes[1].cents == 628);
  CHECK(cost.gone == 1);
  CHECK(cost.gone_cents == 107);
  CHECK(part(cost, CostPart::bought) == 900);  // 1000 less 100
  CHECK(part(cost, CostPart::space) == 49);    // 56 less 7
  const CostOfSaleable saleable = cost_of_saleable(cost, 20);
  CHECK(saleable.bulbs == 3);
  CHECK(saleable.per_bulb == 209);  // 628 / 3 = 209.33
  CHECK_FALSE(cost_of_saleable(cost, 30).per_bulb);
}

TEST_CASE("costs go down the descent, through sections and bulblets, and back where nothing came of it") {
  // 4 bulbs at 400 cents; 2 are cut into 8: 16 sections with 800. In a pot, 160 minutes of work at 15 an hour: 40. 10
  // bulblets come out of it, with 840. The 2 that were not cut keep 800.
  Past past;
  past.add("2026-03-02", 1, 0, bulbs_from_out(make::lines({{"26-28", 4}})))
      .add("2026-06-01", 2, 0, out_of(1, 0, Method::chipping, make::lines({{"26-28", 2}}), 8))
      .add("2026-06-01", 2, 1, make::pieces_potted(16))
      .add("2026-06-01", 2, 1, Hours{160, "cutting"});
  CostFigures figures;
  figures.bulb_from_out = 400;
  figures.hour = 15;
  figures.minutes_cut = 1000;  // hours of that batch were written down, so this is not reckoned
  const CloneCost cut = the_one(clone_costs(past.facts, figures, day("2026-07-01")));
  check_sums(cut);
  CHECK(cut.pieces == 16);
  CHECK(cut.pieces_cents == 840);
  Past grown = past;
  grown.add("2027-03-01", 2, 1, make::unpotted(make::lines({{"2-4", 10}}), 10));
  const CloneCost cost = the_one(clone_costs(grown.facts, figures, day("2027-03-01")));
  check_sums(cost);
  CHECK(cost.total == 1640);
  CHECK(cost.pieces == 0);
  REQUIRE(cost.classes.size() == 2);
  CHECK(cost.classes[0].bulbs == 10);
  CHECK(cost.classes[0].cents == 840);
  CHECK(cost.classes[1].cents == 800);
  // All sections rot: the two bulbs bear everything.
  Past rotten = past;
  rotten.add("2027-03-01", 2, 1, Lost{make::dead(Cause::rot, 16), ""});
  const CloneCost borne = the_one(clone_costs(rotten.facts, figures, day("2027-03-01")));
  check_sums(borne);
  REQUIRE(borne.classes.size() == 1);
  CHECK(borne.classes[0].bulbs == 2);
  CHECK(borne.classes[0].cents == 1640);
  // And those too: nobody is left.
  rotten.add("2027-04-01", 1, 0, Discarded{make::lines({{"26-28", 2}}), ""});
  const CloneCost none = the_one(clone_costs(rotten.facts, figures, day("2027-04-01")));
  check_sums(none);
  CHECK(none.borne_by_none == 1640);
  // Without written hours the grower's figure is taken: 2 mothers, 1000 minutes each, at 15 an hour: 500.
  past.facts.pop_back();
  CHECK(part(the_one(clone_costs(past.facts, figures, day("2026-07-01"))), CostPart::hours) == 500);
}

TEST_CASE("nothing said costs nothing, and a day before the first entry has no clone") {
  Past past;
  past.add("2026-03-02", 1, 0, bulbs_from_out(make::lines({{"26-28", 4}})))
      .add("2026-03-02", 1, 1, make::bulbs_potted(make::lines({{"26-28", 4}})))
      .add("2026-03-02", 1, 1, Hours{60, "potting"});
  CHECK(the_one(clone_costs(past.facts, {}, day("2027-03-02"))).total == 0);
  CHECK(clone_costs(past.facts, {}, day("2026-03-01")).empty());
}

TEST_CASE("whole cents: the largest remainders get one more, the first where two are equal") {
  CHECK(shared_out(100, {1, 1, 1}) == std::vector<std::int64_t>{34, 33, 33});
  CHECK(shared_out(10, {1, 3, 3}) == std::vector<std::int64_t>{2, 4, 4});  // 1.43, 4.29, 4.29
  CHECK(shared_out(5, {0, 0}) == std::vector<std::int64_t>{5, 0});
  CHECK(shared_out(0, {1, 2}) == std::vector<std::int64_t>{0, 0});
  CHECK(shared_out(7, {}).empty());
}

TEST_CASE("parts and classes add up to the total to the cent, and nothing gets lost on the way, in random books") {
  const std::uint64_t seed = make::seed();
  CAPTURE(seed);
  std::mt19937_64 random(seed);
  const auto below = [&random](std::uint32_t bound) { return static_cast<std::int32_t>(random() % bound); };
  const char* grades[] = {"2-4", "8-10", "20-22", ""};
  for (int book = 0; book < 300; ++book) {
    CAPTURE(book);
    Past past;
    CostFigures figures;
    figures.hour = below(4000) + 0.37;
    figures.bulb_from_out = below(900) + 0.11;
    double bought = 0, spent = 0, minutes = 0;
    const auto lines = [&](std::uint32_t most) { return make::lines({{grades[below(4)], below(most) + 1}}); };
    std::uint8_t batches = 0;
    std::int32_t now = day("2026-03-01").days;
    for (int step = 0; step < 120; ++step) {
      now += below(6);
      const Day on{now};
      if (batches < 3 || below(12) == 0) {
        const bool descends = batches > 0 && batches < 200 && below(2) == 0;
        const Method method = below(2) == 0 ? Method::chipping : Method::growing_on;
        Begun fact = make::begun("Tirna Red", method, lines(20), below(9));
        const double count = static_cast<double>(fact.mothers[0].count);
        if (descends) {
          fact.parent = batch_id(static_cast<std::uint8_t>(1 + below(batches)));
          fact.parent_pot = below(4);
        } else {
          bought += count * figures.bulb_from_out;
        }
        past.add(on, ++batches, 0, fact);
        continue;
      }
      const auto batch = static_cast<std::uint8_t>(1 + below(batches));
      const std::int32_t pot = below(4);
      switch (below(10)) {
        case 0:
          past.add(on, batch, pot, Money{below(5000), false, "soil"});
          spent += static_cast<double>(std::get<Money>(past.facts.back().fact).cents);
          break;
        case 1:
          past.add(on, batch, pot, Hours{below(300), "work"});
          minutes += std::get<Hours>(past.facts.back().fact).minutes;
          break;
        case 2:
          past.add(on, batch, pot, Lost{lines(30), ""});
          break;
        case 3:
          past.add(on, batch, pot, Sold{lines(5), 100, ""});
          break;
        case 4:
          past.add(on, batch, pot, make::unpotted(lines(40)));
          break;
        case 5:
          past.add(on, batch, pot, Graded{lines(40), ""});
          break;
        case 6:
          past.add(on, batch, 0,
                   Combined{batch_id(static_cast<std::uint8_t>(1 + below(batches))), below(5), lines(5), ""});
          break;
        case 7:
          past.add(on, batch, pot, Repotted{lines(20), "", ""});
          break;
        default:
          past.add(on, batch, pot, Potted{below(2) == 0 ? Unit::unsaid : Unit::bulbs, lines(20), "", ""});
      }
    }
    const CloneCost cost = the_one(clone_costs(past.facts, figures, Day{now}));
    check_sums(cost);
    const double laid = bought + spent + minutes / 60 * figures.hour;
    CHECK(std::abs(static_cast<double>(cost.total + cost.gone_cents) - laid) <= 1 + 1e-9 * laid);
  }
}

TEST_CASE("the release is the first season with enough beyond the reserve, as surely as asked") {
  // Ten paths a season. In the third, 8 of 10 have 60 or more: beyond a reserve of 10 these are 50.
  const std::vector<std::vector<std::int64_t>> saleable = {{0, 0, 0, 0, 0, 0, 0, 0, 0, 0},
                                                           {10, 20, 30, 40, 50, 60, 70, 80, 90, 100},
                                                           {10, 20, 60, 61, 70, 71, 80, 81, 90, 100},
                                                           {5, 6, 7, 8, 9, 70, 80, 90, 100, 110},
                                                           {70, 70, 80, 80, 90, 90, 90, 90, 90, 100},
                                                           {90, 90, 90, 90, 90, 90, 90, 90, 90, 90},
                                                           {91, 91, 91, 91, 91, 91, 91, 91, 91, 91},
                                                           {92, 92, 92, 92, 92, 92, 92, 92, 92, 92}};
  const auto release = first_release(saleable, 10, 50, 0.8);
  REQUIRE(release);
  CHECK(release->season == 3);
  CHECK(release->counts == std::vector<std::int64_t>{50, 0, 70, 80, 81});
  CHECK(first_release(saleable, 10, 51, 0.8)->season == 5);
  CHECK(first_release(saleable, 10, 50, 0.5)->season == 2);
  CHECK(first_release(saleable, 10, 50, 1)->season == 5);
  CHECK_FALSE(first_release(saleable, 10, 83, 0.8));
  CHECK_FALSE(first_release({}, 0, 1, 0.8));
  CHECK_FALSE(first_release({{}, {}}, 0, 1, 0.8));
}

}  // namespace motherbulb

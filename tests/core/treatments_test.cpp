// The list of treatments, worked out by hand from what was recorded.
#include <doctest/doctest.h>

#include "core/health/treatments.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host);
  BatchId red = make::begin_bulbs(*book, "Tirna Red", make::lines({{"20-22", 10}}));
  BatchId blue = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"20-22", 10}}));

  House() {
    for (const BatchId& batch : {red, blue}) {
      for (std::int32_t pot : {1, 2}) {
        host.advance(1000);
        make::tap(*book, batch, pot,
                  make::bulbs_potted(make::lines({{"20-22", 2}}), "house 1, bench 1, no. " + std::to_string(pot)));
      }
    }
    host.set_now(FakeHost::monday_ms + 3'600'000);  // 10:00
  }
  std::string label(const BatchId& batch) const { return book->batch(batch)->label; }
  std::vector<TreatmentRow> list(const char* from = "2026-03-01", const char* to = "2026-03-31") const {
    return treatments_of(*book, *day_from_text(from), *day_from_text(to));
  }
};

const Treatment all{"Invented product", "INV-0815", "40 ml", "2 ml to 1 l", "6 m2", "thrips", "LIC 17", 12, "calm"};

}  // namespace

TEST_CASE("a treatment is listed with all that was said, where and on what, and when people may go in again") {
  House house;
  make::tap(*house.book, house.red, 2, all, "Osk");
  const auto list = house.list();
  REQUIRE(list.size() == 1);
  const TreatmentRow& row = list.front();
  CHECK(to_text(row.when) == "2026-03-02T10:00:00+01:00");
  CHECK(row.helper == "Osk");
  CHECK(encode(row.fact) == encode(all));
  REQUIRE(row.enter_again.has_value());
  CHECK(to_text(*row.enter_again) == "2026-03-02T22:00:00+01:00");
  CHECK(row.pots == std::vector<std::string>{house.label(house.red) + "/2"});
  CHECK(row.places == std::vector<std::string>{"house 1, bench 1, no. 2"});
  CHECK(row.crops == std::vector<TreatmentRow::Crop>{{"Hippeastrum", "Tirna Red"}});
}

TEST_CASE("one act on many pots is one row, and its amount stands once; two acts are two") {
  House house;
  for (const BatchId& batch : {house.red, house.blue}) {
    for (std::int32_t pot : {1, 2}) {
      make::tap(*house.book, batch, pot, all, "Osk");
      house.host.advance(20'000);
    }
  }
  make::tap(*house.book, house.red, 1, all, "Runa");  // another helper beside
  house.host.advance(61'000);
  make::tap(*house.book, house.red, 1, all, "Osk");  // more than a minute after the last
  const auto list = house.list();
  REQUIRE(list.size() == 3);
  CHECK(list[0].pots == std::vector<std::string>{house.label(house.red) + "/1", house.label(house.red) + "/2",
                                                 house.label(house.blue) + "/1", house.label(house.blue) + "/2"});
  CHECK(list[0].places == std::vector<std::string>{"house 1, bench 1, no. 1", "house 1, bench 1, no. 2"});
  CHECK(list[0].crops == std::vector<TreatmentRow::Crop>{{"Hippeastrum", "Tirna Red"}, {"Hippeastrum", "Skarn Blue"}});
  CHECK(list[1].helper == "Runa");
  CHECK(list[2].helper == "Osk");
  CHECK(list[2].pots.size() == 1);
}

TEST_CASE("the short form is listed too; of a bare day the time runs from its end; what was taken back is not listed") {
  House house;
  Record wish = make::record(house.red, 1, Treated{"soft soap", "2 l", 6, "windy"});
  wish.when = make::when("2026-03-02");
  make::must(house.book->run(wish));
  const Receipt wrong = make::tap(*house.book, house.red, 2, all);
  make::must(house.book->run(TakeBack{"Runa", house.red, wrong.fact, "never done"}));
  make::tap(*house.book, house.blue, 1, Treated{"oil", "", std::nullopt, ""});
  const auto list = house.list();
  REQUIRE(list.size() == 2);
  CHECK(list[0].fact.product == "oil");  // a bare day comes after the timed acts of that day
  CHECK_FALSE(list[0].enter_again.has_value());
  CHECK(list[1].fact.product == "soft soap");
  CHECK(list[1].fact.amount == "2 l");
  CHECK(list[1].fact.note == "windy");
  CHECK(list[1].fact.registration.empty());
  REQUIRE(list[1].enter_again.has_value());
  CHECK(to_text(*list[1].enter_again) == "2026-03-03T06:00:00+01:00");
}

TEST_CASE("the days asked for are both among the list, and a pot is listed where it stood then") {
  House house;
  make::tap(*house.book, house.red, 1, all);
  house.host.advance_days(1);
  make::tap(*house.book, house.red, 1, Moved{"house 2, bench 9", ""});
  house.host.advance_days(1);
  make::tap(*house.book, house.red, 1, all);
  house.host.advance_days(1);
  make::tap(*house.book, house.red, 0, all);
  CHECK(house.list().size() == 3);
  CHECK(house.list("2026-03-02", "2026-03-02").size() == 1);
  CHECK(house.list("2026-03-02", "2026-03-02").front().places.front() == "house 1, bench 1, no. 1");
  CHECK(house.list("2026-03-03", "2026-03-04").size() == 1);
  CHECK(house.list("2026-03-03", "2026-03-04").front().places.front() == "house 2, bench 9");
  CHECK(house.list("2026-03-06", "2026-03-31").empty());
  // Of a whole batch: the benches of its pots.
  const auto whole = house.list("2026-03-05", "2026-03-05");
  REQUIRE(whole.size() == 1);
  CHECK(whole.front().pots == std::vector<std::string>{house.label(house.red)});
  CHECK(whole.front().places == std::vector<std::string>{"house 2, bench 9", "house 1, bench 1"});
}

// What health counts, against counts made by hand.

#include "app/health_picture.hpp"

#include <doctest/doctest.h>

#include "tests/make.hpp"

namespace motherbulb {
namespace {

// Thursday 12 November 2026, 9:00 in UTC+1.
constexpr std::int64_t now_ms = 1'794'470'400'000;
const Day today = *day_from_civil({2026, 11, 12});

struct House {
  make::Folder folder;
  FakeHost host{1, now_ms};
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId red, blue;

  House() {
    red = begin("Tirna Red");
    for (int pot = 1; pot <= 4; ++pot) keep(red, pot, "2025-10-01", potted(pot < 4 ? "bench 10" : "bench 9"));
    blue = begin("Skarn Blue");
    keep(blue, 1, "2025-10-01", potted(""));
  }
  BatchId begin(const std::string& clone) {
    Begun fact = make::begun(clone, Method::growing_on, make::lines({{"8-10", 12}}));
    fact.label = book->next_label(2025);
    Record wish = make::record({}, 0, fact);
    wish.when = make::when("2025-09-01");
    return make::must(book->run(wish)).batch;
  }
  static Potted potted(const std::string& place) { return make::bulbs_potted(make::lines({{"8-10", 3}}), place); }
  void keep(const BatchId& batch, std::int32_t pot, const std::string& when, Payload fact) {
    Record wish = make::record(batch, pot, std::move(fact));
    wish.when = make::when(when);
    make::must(book->run(wish));
  }
  void damage(const BatchId& batch, std::int32_t pot, const std::string& when, Cause cause, const std::string& detail,
              std::int32_t how_bad) {
    keep(batch, pot, when, Damage{cause, detail, how_bad, ""});
  }
};

}  // namespace

TEST_CASE("damage is counted by trouble, month and place, each pot once in a mark") {
  House house;
  house.damage(house.red, 1, "2026-11-02", Cause::pest, "thrips", 1);
  house.damage(house.red, 1, "2026-11-09", Cause::pest, "thrips", 3);  // the same pot, the same month
  house.damage(house.red, 2, "2026-11-10", Cause::pest, "thrips", 0);
  house.damage(house.red, 4, "2026-03-31", Cause::pest, "thrips", 2);
  house.damage(house.blue, 1, "2025-12-01", Cause::rot, "", 2);
  house.damage(house.blue, 1, "2025-11-30", Cause::rot, "", 3);  // thirteen months with November: not shown
  DamagePicture picture;
  picture.refresh(*house.book, today);
  REQUIRE(picture.rows().size() == 2);
  CHECK(picture.month_names()[0].year == 2025);
  CHECK(picture.month_names()[0].month == 12);
  CHECK(picture.month_names()[11].year == 2026);
  CHECK(picture.month_names()[11].month == 11);
  const auto& thrips = picture.rows()[0];
  CHECK(thrips.key == "thrips");
  CHECK(thrips.by_month[11].pots == 2);
  CHECK(thrips.by_month[11].worst == 3);
  CHECK(thrips.by_month[3].pots == 1);  // March, the fourth month from December on
  CHECK(thrips.by_month[3].worst == 2);
  CHECK(thrips.by_month[0].pots == 0);
  CHECK(thrips.all.pots == 3);
  const auto& rot = picture.rows()[1];
  CHECK(rot.key == "rot");
  CHECK(rot.by_month[0].pots == 1);
  CHECK(rot.by_month[0].worst == 2);
  CHECK(picture.most_in_cell() == 2);
  // In walking order, what has no place last.
  REQUIRE(picture.places().size() == 3);
  CHECK(picture.places()[0].bench == "bench 9");
  CHECK(picture.places()[1].bench == "bench 10");
  CHECK(picture.places()[1].all.pots == 2);
  CHECK(picture.places()[2].bench.empty());
  // Behind the mark: the latest note of each pot, latest first.
  const auto notes = picture.notes_of(0, 11, std::nullopt);
  REQUIRE(notes.size() == 2);
  CHECK(notes[0]->pot.number == 2);
  CHECK(notes[1]->pot.number == 1);
  CHECK(notes[1]->seen.how_bad == 3);
  CHECK(picture.notes_of(0, std::nullopt, 0).size() == 1);
}

TEST_CASE("a tile's plain word and the trouble's id are one trouble") {
  CHECK(trouble_key(Cause::pest, "bulb mite") == "bulb-mite");
  CHECK(trouble_key(Cause::pest, "bulb-mite") == "bulb-mite");
  CHECK(trouble_key(Cause::disease, "red blotch") == "red-blotch");
  CHECK(trouble_key(Cause::rot, "") == "rot");
  CHECK(trouble_key(Cause::pest, "Something Else") == "something-else");
}

TEST_CASE("what was noted on a pot that is emptied since still counts, and a note taken back does not") {
  House house;
  house.damage(house.red, 1, "2026-10-02", Cause::animal, "slug", 1);
  house.keep(house.red, 1, "2026-10-20", make::unpotted(make::lines({{"8-10", 3}})));
  DamagePicture picture;
  picture.refresh(*house.book, today);
  REQUIRE(picture.rows().size() == 1);
  CHECK_FALSE(picture.notes_of(0, std::nullopt, std::nullopt)[0]->stands);
  // Asked anew for the changed batch only, it gives what asking for everything gives.
  Record wish = make::record(house.red, 2, Damage{Cause::animal, "slug", 2, ""});
  wish.when = make::when("2026-10-05");
  const Receipt receipt = make::must(house.book->run(wish));
  picture.refresh(*house.book, today);
  CHECK(picture.rows()[0].all.pots == 2);
  TakeBack back;
  back.helper = "Runa";
  back.batch = house.red;
  back.fact = receipt.fact;
  make::must(house.book->run(back));
  picture.refresh(*house.book, today);
  CHECK(picture.rows()[0].all.pots == 1);
  DamagePicture anew;
  anew.refresh(*house.book, today);
  CHECK(anew.rows()[0].all.pots == 1);
}

TEST_CASE("what is on hold and what was found bad stands with its reason, since when and by whom") {
  House house;
  house.keep(house.red, 2, "2026-10-01", Held{"virus?"});
  Tested tested;
  tested.subject = "mosaic";
  tested.result = TestResult::positive;
  house.keep(house.blue, 1, "2026-11-01", tested);
  const std::vector<BadPot> bad = bad_pots(*house.book, now_ms);
  REQUIRE(bad.size() == 2);
  CHECK(bad[0].pot == PotId{house.blue, 1});
  CHECK_FALSE(bad[0].held);
  CHECK(local_day(bad[0].since) == *day_from_civil({2026, 11, 1}));
  CHECK(bad[1].pot == PotId{house.red, 2});
  CHECK(bad[1].held);
  CHECK(bad[1].why == "virus?");
  CHECK(bad[1].helper == "Runa");
  CHECK(local_day(bad[1].since) == *day_from_civil({2026, 10, 1}));
  house.keep(house.red, 2, "2026-11-05", Cleared{"its test was clean"});
  house.keep(house.blue, 1, "2026-11-05", Cleared{"its test was clean"});
  CHECK(bad_pots(*house.book, now_ms).empty());
}

TEST_CASE("a pot is unseen since it was filled, looked at or noted on, whichever was last") {
  House house;
  house.keep(house.red, 1, "2026-10-15", Looked{});                    // 28 days ago
  house.keep(house.red, 2, "2026-10-16", Looked{});                    // 27
  house.damage(house.red, 3, "2026-11-01", Cause::pest, "thrips", 1);  // 11
  house.keep(house.red, 4, "2026-01-01", Looked{});                    // 315
  BookRows rows(*house.book);
  rows.refresh(today);
  const std::vector<NotLooked> unseen = not_looked(rows.benches(), today, 28);
  REQUIRE(unseen.size() == 3);
  CHECK(unseen[0].bench == "bench 9");
  CHECK(unseen[0].longest == 315);
  CHECK(unseen[1].bench == "bench 10");
  REQUIRE(unseen[1].pots.size() == 1);
  CHECK(unseen[1].pots[0]->id() == PotId{house.red, 1});
  CHECK(unseen[1].longest == 28);
  CHECK(unseen[2].bench.empty());
  CHECK(damaged_lately(rows.pots(), today, 28).size() == 1);
  CHECK(damaged_lately(rows.pots(), today, 11).empty());
}

TEST_CASE("off-types stand until as many were taken out") {
  House house;
  Flowered flowered;
  flowered.true_to_type = 1;
  flowered.off_type = 2;
  house.keep(house.red, 3, "2026-04-01", flowered);
  OffTypes off_types;
  off_types.refresh(*house.book);
  REQUIRE(off_types.found().size() == 1);
  CHECK(off_types.found()[0].pot == PotId{house.red, 3});
  CHECK(off_types.found()[0].off_type == 2);
  house.keep(house.red, 3, "2026-04-02", Discarded{make::lines({{"8-10", 1}}), ""});
  off_types.refresh(*house.book);
  REQUIRE(off_types.found().size() == 1);
  CHECK(off_types.found()[0].off_type == 1);
  house.keep(house.red, 3, "2026-04-03", Discarded{make::lines({{"8-10", 1}}), ""});
  off_types.refresh(*house.book);
  CHECK(off_types.found().empty());
  OffTypes anew;
  anew.refresh(*house.book);
  CHECK(anew.found().empty());
}

}  // namespace motherbulb

// What is due, by properties that hold whatever was recorded: reckoned entry by entry it is what a book says that got
// all entries at once; all dates a week later, all windows a week later; the south is 26 weeks from the north.
#include <doctest/doctest.h>

#include <algorithm>
#include <memory>
#include <string>
#include <vector>

#include "app/print/due_list.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"

namespace motherbulb {
namespace {

const Day far_off{200'000};

// One line a step that is outstanding, its days moved back by `days`.
std::vector<std::string> told(const Logbook& book, std::int32_t days = 0) {
  std::vector<std::string> lines;
  for (const DueItem& item : due_list(book, far_off, far_off, Hemisphere::north).items) {
    const auto back = [days](Day day) { return to_text(Day{day.days - days}); };
    lines.push_back(item.label + " " + std::string(to_text(item.due.step)) + " " + back(item.due.since) + " " +
                    back(item.due.opens) + " " + back(item.due.closes));
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

struct House {
  FakeHost host;
  std::unique_ptr<Logbook> book;
  BatchId chips, bulbs;
  int kept = 0;

  House(const std::string& path, std::int64_t now_ms)
      : host(3, now_ms), book(make::new_book(path, host, "A")), chips(make::begin_batch(*book, "Tirna Red", 3, 8)) {
    bulbs = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 40}}));
  }
  void work(Chance& chance) {
    host.advance_minutes(chance.between(1, 20 * 24 * 60));
    const bool of_chips = chance.one_in(2);
    const auto pot = static_cast<std::int32_t>(chance.between(1, 4));
    // Refused where the pot is not potted yet, or emptied.
    if (book->run(make::record(of_chips ? chips : bulbs, pot, fact(chance, of_chips)))) ++kept;
  }

private:
  static Payload fact(Chance& chance, bool of_chips) {
    static const char* const put_off[] = {"look", "dry-off", "start", "repot", "unpot", "water"};
    switch (chance.below(12)) {
      case 0:
      case 1:
      case 2:
        return of_chips ? make::pieces_potted(chance.between(1, 6), "house 1, bench 1")
                        : make::bulbs_potted(make::lines({{"8-10", chance.between(1, 5)}}), "house 1, bench 2");
      case 3:
        return Watered{};
      case 4:
        return make::looked(chance.between(0, 9));
      case 5:
        return DriedOff{};
      case 6:
        return Started{};
      case 7:
        return Repotted{make::lines({{"8-10", chance.between(1, 4)}}), "house 1, bench 3", ""};
      case 8:
        return Covered{};
      case 9:
        return make::unpotted(make::lines({{"-2", chance.between(0, 9)}}), std::nullopt);
      default:
        return Postponed{put_off[chance.below(6)], static_cast<std::int32_t>(7 * chance.between(0, 4)), "no room"};
    }
  }
};

}  // namespace

TEST_CASE("what is due after each entry is what a book says that got all of them at once") {
  const std::uint64_t seed = make::seed();
  for (int round = 0; round < make::short_or_long(6, 200); ++round) {
    INFO("MOTHERBULB_SEED=" << seed << ", round " << round);
    Chance chance(seed + static_cast<std::uint64_t>(round));
    const make::Folder folder;
    House house(folder.file("a.book"), FakeHost::monday_ms);
    for (int i = 0; i < 40; ++i) {
      house.work(chance);
      if (i % 8 != 7) continue;
      FakeHost other_host(4, house.host.now_ms());
      const auto other = make::new_book(folder.file("b" + std::to_string(i) + ".book"), other_host, "B");
      make::merge(*other, make::parcel(*house.book));
      const auto here = told(*house.book);
      REQUIRE_FALSE(here.empty());
      REQUIRE(here == told(*other));
    }
    REQUIRE(house.kept >= 10);
  }
}

TEST_CASE("everything a week later is due a week later") {
  const std::uint64_t seed = make::seed();
  constexpr std::int64_t week_ms = 7 * std::int64_t{86'400'000};
  for (int round = 0; round < make::short_or_long(6, 200); ++round) {
    INFO("MOTHERBULB_SEED=" << seed << ", round " << round);
    Chance chance(seed + static_cast<std::uint64_t>(round)), again(seed + static_cast<std::uint64_t>(round));
    const make::Folder folder;
    House now(folder.file("now.book"), FakeHost::monday_ms);
    House later(folder.file("later.book"), FakeHost::monday_ms + week_ms);
    for (int i = 0; i < 30; ++i) {
      now.work(chance);
      later.work(again);
    }
    // None of the hippeastrum plans has a season of the year; one would stay where it is.
    REQUIRE_FALSE(told(*now.book).empty());
    CHECK(told(*now.book) == told(*later.book, 7));
  }
}

TEST_CASE("the seasons of the south are those of the north 26 weeks later") {
  const std::uint64_t seed = make::seed();
  INFO("MOTHERBULB_SEED=" << seed);
  Chance chance(seed);
  constexpr std::int32_t half_a_year = 26 * 7;
  const std::int32_t first = day_from_civil({2020, 1, 1})->days, last = day_from_civil({2060, 1, 1})->days;
  for (int i = 0; i < 5'000; ++i) {
    const Season season{static_cast<std::int32_t>(chance.between(1, 53)),
                        static_cast<std::int32_t>(chance.between(1, 53)), ""};
    const Day asked{static_cast<std::int32_t>(chance.between(first, last))};
    const Window north = season_window(season, asked, Hemisphere::north);
    const Window south = season_window(season, Day{asked.days + half_a_year}, Hemisphere::south);
    REQUIRE(south.opens.days == north.opens.days + half_a_year);
    REQUIRE(south.closes.days == north.closes.days + half_a_year);
    REQUIRE(north.closes.days >= asked.days);
    REQUIRE(iso_week(north.opens).weekday == 1);
    REQUIRE(iso_week(north.closes).weekday == 7);
  }
}

}  // namespace motherbulb

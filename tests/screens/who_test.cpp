// Who is here, and when it was done, in the real window: what is chosen is what the book then says.

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

// A book with two helpers and one pot, on Monday 09:40 in an offset of one hour.
struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host);
  BatchId bulbs;

  House() {
    bulbs = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 5}}), "Runa");
    make::tap(*book, bulbs, 1, make::bulbs_potted(make::lines({{"8-10", 5}})), "Bo");
  }
  [[nodiscard]] Entry last() const {
    const std::vector<StoryLine> story = book->story(bulbs);
    Entry latest = story.front().entry;
    for (const StoryLine& line : story) {
      if (latest.stamp < line.entry.stamp) latest = line.entry;
    }
    return latest;
  }
};

std::string at(Day day, const std::string& time) {
  return to_text(day) + "T" + time;
}

}  // namespace

TEST_CASE("a name that the book knows is one tap, and leads back to where one was") {
  House house;
  drive::Driver driver(*house.book, house.host, {1280, 800, false, ""});
  driver.tap("who");
  REQUIRE(driver.ui().screen == Screen::who);
  CHECK_FALSE(driver.target("who:done").enabled);  // nobody is here yet
  driver.tap("who:Bo");
  CHECK(driver.ui().helper == "Bo");
  CHECK(driver.ui().screen == Screen::start);
  driver.tap("who");
  CHECK(driver.target("who:done").enabled);
  driver.tap("who:other");
  driver.tap("letter:Z");
  driver.tap("letter:A");
  driver.type(" ö");
  driver.tap("who:keep");
  CHECK(driver.ui().helper == "Za ö");
  CHECK(driver.ui().screen == Screen::start);
}

TEST_CASE("every usual time is the right moment, keeps the screen open, and none lies ahead") {
  House house;
  const When now = moment(house.host.now_ms(), house.host.offset_minutes(house.host.now_ms()));
  const Day today = local_day(now);
  const Day yesterday{today.days - 1};
  drive::Driver driver(*house.book, house.host);
  driver.tap("who");
  const auto chosen = [&] {
    REQUIRE(driver.ui().when.has_value());
    CHECK(driver.ui().screen == Screen::who);
    CHECK(driver.ui().when->offset_minutes == now.offset_minutes);
    CHECK(driver.ui().when->utc_ms <= now.utc_ms);
    return to_text(*driver.ui().when).substr(0, 16);
  };
  driver.tap("when:evening");
  CHECK(chosen() == at(yesterday, "18:00"));
  driver.tap("when:noon");
  CHECK(chosen() == at(yesterday, "12:00"));
  driver.tap("when:morning");
  CHECK(chosen() == at(today, "08:00"));
  driver.tap("when:now");
  CHECK_FALSE(driver.ui().when.has_value());

  driver.tap("when:other");
  driver.tap("day:3");
  REQUIRE(driver.ui().when.has_value());
  CHECK(driver.ui().when->bare_day);
  CHECK(local_day(*driver.ui().when) == Day{today.days - 3});
  driver.tap("hour:17");
  CHECK(chosen() == at(Day{today.days - 3}, "17:00"));
  driver.tap("hour:none");
  CHECK(driver.ui().when->bare_day);
  // Of today only what has been.
  driver.tap("day:0");
  CHECK_FALSE(driver.target("hour:23").enabled);
  CHECK(driver.target("hour:0").enabled);
  driver.tap("day:7");
  driver.tap("hour:23");
  CHECK(chosen() == at(Day{today.days - 7}, "23:00"));
  driver.tap("when:usual");
  CHECK(driver.has("when:now"));
  driver.tap("who:done");
  CHECK(driver.ui().screen == Screen::start);
}

TEST_CASE("an hour chosen before sunrise of the first day does not offer this morning") {
  House house;
  // Half past seven in the morning: eight has not been.
  const std::int64_t offset = house.host.offset_minutes(house.host.now_ms());
  const std::int64_t local = house.host.now_ms() / 60'000 + offset;
  const std::int64_t to_morning = (7 * 60 + 30 - local % 1440 + 1440) % 1440;
  house.host.advance_minutes(to_morning);
  drive::Driver driver(*house.book, house.host);
  driver.tap("who");
  CHECK_FALSE(driver.target("when:morning").enabled);
  CHECK(driver.target("when:evening").enabled);
}

TEST_CASE("what was counted under another time stands in the book at that time, by that helper") {
  House house;
  drive::Driver driver(*house.book, house.host, {1280, 800, false, "Bo"});
  driver.tap("quarter:unpot");
  driver.tap("filter:bulbs");
  driver.tap(drive::first_named(driver, "batch:"));
  if (driver.ui().screen == Screen::unpot_choose) driver.tap(drive::first_named(driver, "pot:"));
  REQUIRE(driver.ui().screen == Screen::unpot);
  driver.tap("who");
  driver.tap("when:evening");
  driver.tap("who:Runa");
  REQUIRE(driver.ui().screen == Screen::unpot);
  driver.tap("pad:5");
  driver.tap("keep");
  if (driver.has("sure:yes")) driver.tap("sure:yes");
  REQUIRE(driver.ui().kept.has_value());
  const Entry last = house.last();
  CHECK(last.helper == "Runa");
  const When now = moment(house.host.now_ms(), house.host.offset_minutes(house.host.now_ms()));
  CHECK(to_text(last.when).substr(0, 16) == at(Day{local_day(now).days - 1}, "18:00"));
}

TEST_CASE("what waits for a name is shown, and kept once a name is tapped") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280, false, ""});
  const std::int64_t entries = house.book->entry_count();
  driver.tap("link:settings");
  driver.tap("device");
  driver.tap("device:office");
  driver.tap("device:keep");
  REQUIRE(driver.ui().screen == Screen::who);
  REQUIRE(driver.ui().waiting_for_helper.has_value());
  CHECK(house.book->entry_count() == entries);
  drive::check_scene(driver, "who-waits-800x1280-day");
  driver.tap("when:evening");
  REQUIRE(driver.ui().waiting_for_helper.has_value());  // still there
  driver.tap("who:Bo");
  CHECK(house.book->entry_count() == entries + 1);
  CHECK(driver.ui().screen == Screen::settings);
  CHECK_FALSE(driver.ui().waiting_for_helper.has_value());
  CHECK(house.book->devices().front().name == "office");
}

TEST_CASE("who and when in every size and theme") {
  drive::Demo demo;
  for (const drive::Size& size : drive::sizes) {
    for (const bool night : {false, true}) {
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      const auto reach = [&](const std::string& name) {
        for (int i = 0; i < 30 && !(driver.has(name) && driver.target(name).whole); ++i)
          driver.wheel({static_cast<float>(size.width) * 0.7F, static_cast<float>(size.height) / 2}, -2);
        driver.tap(name);
      };
      driver.tap("who");
      reach("when:evening");
      drive::check_scene(driver, "who-evening" + end);
      reach("when:other");
      reach("day:2");
      reach("hour:9");
      drive::check_scene(driver, "who-hours" + end);
    }
  }
}

}  // namespace motherbulb

// What is due, driven by real events in the real window, and looked up in the book afterwards. The plan is one of the
// tests' own, so that its weeks can be counted by hand.

#include <algorithm>

#include "app/screens/due_parts.hpp"
#include "app/widgets/season_band.hpp"
#include "app/widgets/weeks_ahead.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Demo;
using drive::sizes;

constexpr const char* plan_text = R"({"plan": "of-the-test", "genus": "Hippeastrum", "method": "growing-on",
 "drying": {"weeks": 2, "source": "grower"},
 "steps": [
  {"step": "dry-off", "after": ["potted", "start"], "opens": {"weeks": 12, "source": "grower"},
   "closes": {"weeks": 14, "source": "grower"}},
  {"step": "start", "after": ["dry-off"], "opens": {"weeks": 8, "source": "grower"},
   "closes": {"weeks": 10, "source": "grower"}},
  {"step": "repot", "after": ["potted", "repot"], "opens": {"weeks": 30, "source": "grower"},
   "closes": {"weeks": 36, "source": "grower"}}]})";

constexpr int week_minutes = 7 * 24 * 60;

// From Monday 2026-03-02 on: one pot that grows, five of one batch dried off a week later. Now it is Monday
// 2026-05-25: the one is to be dried off since today (12 weeks), the five were to be started from 4 May to 18 May (8 to
// 10 weeks), a week ago.
struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId growing, resting;
  std::string growing_label, label;

  explicit House(int weeks_later = 11) {
    growing = make::begin_bulbs(*book, "Tirna Red", make::lines({{"8-10", 4}}));
    follow(growing);
    make::tap(*book, growing, 1, make::bulbs_potted(make::lines({{"8-10", 4}}), "house 1, bench 1, no. 1"));
    resting = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 10}}));
    follow(resting);
    for (int number = 1; number <= 5; ++number)
      make::tap(*book, resting, number, make::bulbs_potted(make::lines({{"8-10", 2}}), "house 1, bench 2"));
    host.advance_minutes(week_minutes);
    for (int number = 1; number <= 5; ++number) make::tap(*book, resting, number, DriedOff{});
    host.advance_minutes(weeks_later * week_minutes);
    growing_label = book->batch(growing)->label;
    label = book->batch(resting)->label;
  }
  void follow(const BatchId& batch) { make::tap(*book, batch, 0, PlanEdited{"of-the-test", plan_text}); }
  [[nodiscard]] std::string start_act() const { return "due:act:" + label + "/1:start"; }
  [[nodiscard]] std::string start_row() const { return "due:row:" + label + "/1:start"; }
  [[nodiscard]] std::string dry_act() const { return "due:act:" + growing_label + "/1:dry-off"; }
  [[nodiscard]] std::string dry_row() const { return "due:row:" + growing_label + "/1:dry-off"; }
  template <class Fact>
  [[nodiscard]] std::vector<int> pots_with(const BatchId& batch) const {
    std::vector<int> pots;
    for (const StoryLine& line : book->story(batch)) {
      if (line.stands && std::holds_alternative<Fact>(line.fact)) pots.push_back(line.entry.pot);
    }
    return pots;
  }
  [[nodiscard]] std::vector<Postponed> put_off(const BatchId& batch) const {
    std::vector<Postponed> all;
    for (const StoryLine& line : book->story(batch)) {
      if (const auto* one = std::get_if<Postponed>(&line.fact); one != nullptr && line.stands) all.push_back(*one);
    }
    return all;
  }
};

bool says(const drive::Driver& driver, const std::string& words) {
  const auto written = driver.app->fonts().written();
  return std::any_of(written.begin(), written.end(), [&](const auto& one) { return one.words == words; });
}

Day day(std::int32_t year, std::int32_t month, std::int32_t date) {
  return *day_from_civil({year, month, date});
}

}  // namespace

TEST_CASE("one tap records a step for the whole group, one entry a pot, and one undo brings it back") {
  for (const drive::Size& size : sizes) {
    CAPTURE(size.text());
    House house;
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    const std::int64_t entries = house.book->entry_count();
    driver.tap("quarter:rest");
    REQUIRE(driver.ui().screen == Screen::due);
    driver.tap(house.start_act());
    CHECK(house.book->entry_count() == entries + 5);
    CHECK(house.pots_with<Started>(house.resting) == std::vector<int>{1, 2, 3, 4, 5});
    REQUIRE(driver.ui().kept);
    CHECK(driver.ui().kept->words == house.label + ": 5 pots started");
    CHECK_FALSE(driver.has(house.start_act()));
    driver.tap("undo");
    CHECK(house.pots_with<Started>(house.resting).empty());
    CHECK(driver.has(house.start_act()));
  }
}

TEST_CASE("what is overdue stands first, and the head counts it") {
  House house;
  drive::Driver driver(*house.book, house.host, {1280, 800});
  driver.tap("bar:due");
  REQUIRE(driver.has(house.dry_row()));
  CHECK(driver.target(house.start_row()).rect.y < driver.target(house.dry_row()).rect.y);
  // The five pots that are overdue are one piece of work, and the repotting 30 weeks after 2 March is not open yet.
  CHECK(says(driver, "overdue"));
  CHECK_FALSE(driver.has("due:row:" + house.growing_label + "/1:repot"));
  CHECK(says(driver, "11 weeks"));  // since they were dried off
}

TEST_CASE("from the start screen the first piece of work is done in one tap") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  driver.tap(house.start_act());
  CHECK(driver.ui().screen == Screen::start);
  CHECK(house.pots_with<Started>(house.resting).size() == 5);
  driver.tap(house.dry_row());
  CHECK(driver.ui().screen == Screen::due);
}

TEST_CASE("a step is put off for a week with a reason, and comes again after it") {
  for (const drive::Size& size : {drive::Size{1280, 800}, drive::Size{1440, 900}}) {
    House house;
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    driver.tap("bar:due");
    driver.tap(house.dry_row());
    driver.tap("due:later");
    CHECK(house.put_off(house.growing).empty());  // nothing is kept without a reason
    driver.tap("why:2");
    const std::vector<Postponed> kept = house.put_off(house.growing);
    REQUIRE(kept.size() == 1);
    CHECK(kept[0].step == "dry-off");
    CHECK(kept[0].days == 7);
    CHECK(kept[0].why == "Leaves still green");
    CHECK(driver.ui().kept->words == house.growing_label + "/1: Dry off again 1 June");
    CHECK_FALSE(driver.has(house.dry_row()));
    house.host.advance_minutes(week_minutes);
    driver.session->ask_for_frame();
    driver.settle();
    CHECK(driver.has(house.dry_row()));
    driver.tap("undo");
    CHECK(house.put_off(house.growing).empty());
  }
}

TEST_CASE("a start is left out only after it was asked once more in words") {
  House house;
  drive::Driver driver(*house.book, house.host, {1280, 800});
  driver.tap("bar:due");
  driver.tap(house.start_row());
  driver.tap("due:later");
  driver.tap("off:not");
  const std::int64_t entries = house.book->entry_count();
  driver.tap("why:3");
  CHECK(house.book->entry_count() == entries);
  REQUIRE(driver.ui().asked.has_value());
  driver.tap("asked:no");
  CHECK(house.book->entry_count() == entries);
  driver.tap("why:3");
  driver.tap("asked:yes");
  const std::vector<Postponed> kept = house.put_off(house.resting);
  REQUIRE(kept.size() == 5);
  for (const Postponed& one : kept) {
    CHECK(one.step == "start");
    CHECK(one.days == 0);
    CHECK(one.why == "No room yet");
  }
  CHECK_FALSE(driver.has(house.start_row()));
}

TEST_CASE("another reason is written with the keys") {
  House house;
  drive::Driver driver(*house.book, house.host, {1280, 800});
  driver.tap("bar:due");
  driver.tap(house.dry_row());
  driver.tap("due:later");
  driver.tap("off:4-weeks");
  driver.tap("why:other");
  driver.type("new pots come late");
  driver.tap("type:keep");
  const std::vector<Postponed> kept = house.put_off(house.growing);
  REQUIRE(kept.size() == 1);
  CHECK(kept[0].days == 28);
  CHECK(kept[0].why == "new pots come late");
}

TEST_CASE("the weeks ahead run over week 53 of 2026, and what is late stands in this week") {
  // ISO 8601: 2026 has 53 weeks; the 53rd is from Monday 28 December 2026 to Sunday 3 January 2027.
  const auto opening = [](Day opens, Step step) {
    static BatchState batch;
    static std::vector<std::unique_ptr<DueRow>> kept;
    kept.push_back(std::make_unique<DueRow>());
    kept.back()->batch = &batch;
    kept.back()->due.step = step;
    kept.back()->due.opens = opens;
    kept.back()->due.closes = Day{opens.days + 6};
    return DueGroup{{kept.back().get()}};
  };
  const std::vector<DueGroup> due{opening(day(2026, 10, 1), Step::start),    opening(day(2026, 12, 16), Step::repot),
                                  opening(day(2026, 12, 27), Step::dry_off), opening(day(2026, 12, 28), Step::start),
                                  opening(day(2027, 1, 3), Step::start),     opening(day(2027, 1, 4), Step::unpot),
                                  opening(day(2027, 3, 1), Step::unpot)};
  const WeeksAhead ahead = weeks_ahead(due, day(2026, 12, 16), 6);
  REQUIRE(ahead.weeks.size() == 6);
  std::vector<std::int32_t> numbers;
  for (const auto& week : ahead.weeks) numbers.push_back(week.week);
  CHECK(numbers == std::vector<std::int32_t>{51, 52, 53, 1, 2, 3});
  const auto at = [&](std::size_t week, Step step) { return ahead.weeks[week].work[static_cast<std::size_t>(step)]; };
  CHECK(at(0, Step::start) == 1);
  CHECK(at(0, Step::repot) == 1);
  CHECK(at(1, Step::dry_off) == 1);
  CHECK(at(2, Step::start) == 2);
  CHECK(at(3, Step::unpot) == 1);
  CHECK(at(5, Step::unpot) == 0);
}

TEST_CASE("eight weeks show what opens until then and nothing later, and one step alone can be shown") {
  // Monday 2026-04-06: the start opens on 4 May, the drying off on 25 May, repotting on 28 September.
  House house(4);
  drive::Driver driver(*house.book, house.host, {1280, 800});
  driver.tap("bar:due");
  CHECK_FALSE(driver.has(house.start_row()));
  CHECK(says(driver, "Nothing is due. Next: Start ‘Skarn Blue’, 4 May."));
  driver.tap("due:weeks");
  CHECK(driver.has(house.start_row()));
  CHECK(driver.has(house.dry_row()));
  CHECK(driver.target(house.start_row()).rect.y < driver.target(house.dry_row()).rect.y);
  CHECK_FALSE(driver.has("due:row:" + house.growing_label + "/1:repot"));
  driver.tap("show:step");
  driver.tap("step:dry-off");
  CHECK_FALSE(driver.has(house.start_row()));
  CHECK(driver.has(house.dry_row()));
  driver.tap("show:now");
  check_scene(driver, "due-none-of-step-1280x800-day");
  driver.tap("due:all-steps");
  check_scene(driver, "due-none-1280x800-day");
}

TEST_CASE("pots that no plan is known for are named, and lead to the plans") {
  House house;
  Begun begun = make::begun("Sorrel", Method::growing_on, make::lines({{"8-10", 3}}));
  begun.genus = "Crinum";
  begun.label = house.book->next_label(2026);
  const BatchId batch = make::tap(*house.book, BatchId{}, 0, begun).batch;
  for (int pot = 1; pot <= 3; ++pot) make::tap(*house.book, batch, pot, make::bulbs_potted(make::lines({{"8-10", 1}})));
  drive::Driver driver(*house.book, house.host, {1280, 800});
  driver.tap("bar:due");
  const auto written = driver.app->fonts().written();
  CHECK(std::any_of(written.begin(), written.end(),
                    [](const auto& one) { return one.words.rfind("No growing plan for Crinum", 0) == 0; }));
  check_scene(driver, "due-without-plan-1280x800-day");
  driver.tap("due:without-plan");
  CHECK(driver.ui().screen == Screen::plans);
}

TEST_CASE("on a phone a row leads to its pot, where it is done or put off, and back") {
  House house;
  drive::Driver phone(*house.book, house.host, {360, 740});
  phone.tap("bar:due");
  find_and_tap(phone, house.dry_row());
  CHECK(phone.ui().screen == Screen::pot);
  CHECK(phone.ui().about.pots == std::vector<PotId>{{house.growing, 1}});
  phone.tap("pot:later:dry-off");
  CHECK(phone.ui().screen == Screen::due);
  phone.tap("off:2-weeks");
  find_and_tap(phone, "why:1");
  REQUIRE(house.put_off(house.growing).size() == 1);
  CHECK(house.put_off(house.growing)[0].days == 14);
  CHECK(phone.ui().screen == Screen::pot);
}

TEST_CASE("a pot's own act records it for that pot alone") {
  House house;
  drive::Driver driver(*house.book, house.host, {1280, 800});
  driver.tap("bar:due");
  driver.tap(house.start_row());
  driver.tap("due:story");
  REQUIRE(driver.ui().screen == Screen::pot);
  driver.tap("pot:due:start");
  CHECK(house.pots_with<Started>(house.resting) == std::vector<int>{1});
}

TEST_CASE("work that is due on very many benches scrolls, and only the rows in sight are drawn") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("many.book"), host, "A");
  const BatchId batch = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 400}}));
  make::tap(*book, batch, 0, PlanEdited{"of-the-test", plan_text});
  std::vector<Command> commands;
  for (int number = 1; number <= 400; ++number) {
    commands.emplace_back(make::record(
        batch, number, make::bulbs_potted(make::lines({{"8-10", 1}}), "house 1, bench " + std::to_string(number))));
  }
  make::must(book->run_all(commands));
  host.advance_minutes(13 * week_minutes);
  const std::string wanted = "due:act:" + book->batch(batch)->label + "/350:dry-off";
  for (const drive::Size& size : {drive::Size{800, 1280}, drive::Size{360, 740}}) {
    CAPTURE(size.text());
    drive::Driver driver(*book, host, {size.width, size.height});
    driver.tap("bar:due");
    CHECK_FALSE(driver.has(wanted));
    for (int i = 0; i < 400 && !(driver.has(wanted) && driver.target(wanted).whole); ++i)
      driver.wheel({static_cast<float>(size.width) / 2, static_cast<float>(size.height) * 0.7F}, -3);
    REQUIRE(driver.target(wanted).whole);
    CHECK(driver.names().size() < 60);
    driver.tap(wanted);
    CHECK(stage_of(*book->batch(batch), *book->pot({batch, 350})) == Stage::drying_off);
    CHECK(stage_of(*book->batch(batch), *book->pot({batch, 349})) == Stage::growing);
    driver.tap("undo");
  }
}

TEST_CASE("a calendar and the week's work are written, and it is said where they lie or what to do") {
  House house;
  drive::Driver driver(*house.book, house.host, {1280, 800});
  driver.tap("bar:due");
  REQUIRE(!driver.ui().house.places.empty());
  const PlaceToWrite place = driver.ui().house.places.front();
  driver.tap("due:calendar");
  REQUIRE(driver.ui().kept);
  CHECK(driver.ui().kept->words == "In " + place.name + ": due-2026-05-25.ics");
  driver.tap("due:print");
  // 25 May 2026 is the Monday of week 22.
  CHECK(driver.ui().kept->words == "In " + place.name + ": week-22-2026-05-25.html");
  int calendars = 0;
  int pages = 0;
  for (const auto& file : std::filesystem::directory_iterator(place.folder)) {
    calendars += file.path().extension() == ".ics" ? 1 : 0;
    pages += file.path().extension() == ".html" ? 1 : 0;
  }
  CHECK(calendars == 1);
  CHECK(pages == 1);
}

TEST_CASE("the season band shows what was recorded, and from today on what the plan says") {
  House house;
  const PlanBook plans;
  const BatchState batch = *house.book->batch(house.resting);
  const PotState pot = *house.book->pot({house.resting, 1});
  // Potted 2 March, dried off 9 March, two weeks to dry; a start is overdue since 18 May, so it stands today, 25 May;
  // 12 weeks later it is dried off again, 17 August; its drying ends on 31 August with the band.
  const SeasonBand band = season_of(plans, batch, pot, Hemisphere::north, day(2026, 5, 25));
  CHECK(band.first == day(2025, 9, 1));
  CHECK(band.end == day(2026, 9, 1));
  using As = SeasonBand::Part::As;
  struct Wanted {
    As as;
    Day from, to;
  };
  const std::vector<Wanted> wanted{
      {As::growing, day(2026, 3, 2), day(2026, 3, 9)},   {As::drying, day(2026, 3, 9), day(2026, 3, 23)},
      {As::resting, day(2026, 3, 23), day(2026, 5, 25)}, {As::growing, day(2026, 5, 25), day(2026, 8, 17)},
      {As::drying, day(2026, 8, 17), day(2026, 8, 31)},  {As::resting, day(2026, 8, 31), day(2026, 9, 1)}};
  REQUIRE(band.parts.size() == wanted.size());
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    CAPTURE(i);
    CHECK(band.parts[i].as == wanted[i].as);
    CHECK(to_text(band.parts[i].from) == to_text(wanted[i].from));
    CHECK(to_text(band.parts[i].to) == to_text(wanted[i].to));
  }
  CHECK(band.starts == std::vector<Day>{day(2026, 5, 25)});
  // In the south the twelve months begin in March.
  CHECK(empty_season(day(2026, 5, 25), Hemisphere::south).first == day(2026, 3, 1));
  CHECK(empty_season(day(2026, 2, 1), Hemisphere::south).first == day(2025, 3, 1));
  CHECK(empty_season(day(2026, 8, 31), Hemisphere::north).first == day(2025, 9, 1));
  CHECK(empty_season(day(2026, 9, 1), Hemisphere::north).first == day(2026, 9, 1));
}

TEST_CASE("a countdown says hours and minutes, and never less than there is left") {
  CHECK(time_left_words(12'000'000, 0) == "3 h 20 min");
  CHECK(time_left_words(11'940'001, 0) == "3 h 20 min");
  CHECK(time_left_words(60'000, 0) == "1 min");
  CHECK(time_left_words(60'001, 0) == "2 min");
  CHECK(time_left_words(0, 60'000) == "0 min");
}

TEST_CASE("nobody enters a treated bench before its time, and the bench says until when") {
  House house;
  make::tap(*house.book, house.growing, 1, Treated{"Soft soap", "20 ml a litre", 4, ""});
  for (const drive::Size& size : sizes) {
    CAPTURE(size.text());
    drive::Driver driver(*house.book, house.host, {size.width, size.height});
    driver.tap("bar:pots");
    const auto written = driver.app->fonts().written();
    CHECK(std::any_of(written.begin(), written.end(),
                      [](const auto& one) { return one.words.rfind("Nobody enters before", 0) == 0; }));
    check_scene(driver, "pests-no-entry-" + size.text() + "-day");
    driver.tap("health");
    CHECK(driver.ui().screen == Screen::health);
  }
}

TEST_CASE("what is due in every size and theme, with its pot, its weeks and putting off") {
  for (const drive::Size& size : sizes) {
    for (const bool night : {false, true}) {
      House house;
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      drive::Driver driver(*house.book, house.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      check_scene(driver, "start-due" + end);
      driver.tap("bar:due");
      check_scene(driver, "due-few" + end);
      driver.tap("show:ahead");
      check_scene(driver, "due-ahead" + end);
      driver.tap("show:step");
      check_scene(driver, "due-steps" + end, true);  // as many tiles as there are steps
      driver.tap("step:all");
      if (driver.has("due:more")) {
        driver.tap("due:more");
        check_scene(driver, "due-more" + end);
        driver.tap("due:more");
      }
      find_and_tap(driver, house.start_row());
      if (driver.ui().screen == Screen::pot) {
        check_scene(driver, "pot-due" + end);
        driver.tap("pot:later:start");
      } else {
        driver.tap("due:story");
        check_scene(driver, "pot-due" + end);
        driver.tap("back");
        driver.tap("due:later");
      }
      check_scene(driver, "due-later" + end);
      find_and_tap(driver, "why:other");
      check_scene(driver, "due-why" + end);
      driver.tap("type:drop");
      driver.tap("off:not");
      find_and_tap(driver, "why:1");
      check_scene(driver, "due-asked" + end);
    }
  }
}

TEST_CASE("the demo's due work in every size and theme") {
  Demo demo;
  for (const drive::Size& size : sizes) {
    for (const bool night : {false, true}) {
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      driver.tap("bar:due");
      check_scene(driver, "due" + end);
      driver.tap("show:ahead");
      check_scene(driver, "due-weeks" + end);
    }
  }
}

}  // namespace motherbulb

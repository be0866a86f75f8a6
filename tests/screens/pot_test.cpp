// One pot's whole story: every entry of it, latest first, what each says, and taking one back.

#include "app/entry_words.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Size;
using drive::sizes;

// A pot with a story: potted, looked at, treated, some sold, one lost, a note; its batch watered as a whole.
struct Story {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host);
  BatchId bulbs = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"4-6", 9}, {"6-8", 6}}));

  void then(std::int32_t pot, const Payload& fact, const std::string& helper = "Runa") {
    host.advance_minutes(47);
    make::tap(*book, bulbs, pot, fact, helper);
  }
  Story() {
    then(1, make::bulbs_potted(make::lines({{"4-6", 6}, {"6-8", 4}}), "Skerry House, bench 2, no. 15"));
    then(2, make::bulbs_potted(make::lines({{"4-6", 2}}), "Skerry House, bench 2, no. 16"));
    then(1, make::looked(9), "Bo");
    then(0, Watered{});
    then(1, Treated{"Soft soap", "20 ml a litre", 4, "both sides of the leaves"}, "Bo");
    host.advance_minutes(4 * 60);  // nobody enters before
    then(1, Sold{make::lines({{"6-8", 2}}), 2400, ""});
    then(1, Lost{make::dead(Cause::rot, 1), ""});
    then(1, Note{"The second leaf is narrower than its mother's"}, "Ida");
  }
  std::string label() const { return book->batch(bulbs)->label; }
  // By the bench, as people go.
  void open(drive::Driver& driver, std::int32_t pot) const {
    driver.tap("bar:pots");
    driver.tap("bench:" + label() + "/" + std::to_string(pot));
    for (int i = 0; i < 30 && !(driver.has("pot:story") && driver.target("pot:story").whole); ++i)
      driver.wheel({180, 400}, -2);
    driver.tap("pot:story");
    REQUIRE(driver.ui().screen == Screen::pot);
  }
  std::vector<StoryLine> story() const { return book->story(bulbs); }
};

template <class Fact>
std::int64_t standing(const std::vector<StoryLine>& story) {
  std::int64_t count = 0;
  for (const StoryLine& line : story) count += line.stands && std::holds_alternative<Fact>(line.fact) ? 1 : 0;
  return count;
}

std::vector<Payload> one_of_each() {
  std::vector<Payload> facts;
  facts.emplace_back(FromNewerVersion{});
  for (std::uint16_t kind = 1; kind <= last_known_kind; ++kind) {
    // The empty payload of each kind, by its place in the variant.
    Payload payload;
    switch (static_cast<Kind>(kind)) {
      case Kind::begun:
        payload = Begun{};
        break;
      case Kind::potted:
        payload = Potted{};
        break;
      case Kind::covered:
        payload = Covered{};
        break;
      case Kind::uncovered:
        payload = Uncovered{};
        break;
      case Kind::looked:
        payload = Looked{};
        break;
      case Kind::watered:
        payload = Watered{};
        break;
      case Kind::fed:
        payload = Fed{};
        break;
      case Kind::treated:
        payload = Treated{};
        break;
      case Kind::moved:
        payload = Moved{};
        break;
      case Kind::lost:
        payload = Lost{};
        break;
      case Kind::damage:
        payload = Damage{};
        break;
      case Kind::unpotted:
        payload = Unpotted{};
        break;
      case Kind::graded:
        payload = Graded{};
        break;
      case Kind::divided:
        payload = Divided{};
        break;
      case Kind::dried_off:
        payload = DriedOff{};
        break;
      case Kind::started:
        payload = Started{};
        break;
      case Kind::repotted:
        payload = Repotted{};
        break;
      case Kind::flowered:
        payload = Flowered{};
        break;
      case Kind::sold:
        payload = Sold{};
        break;
      case Kind::given:
        payload = Given{};
        break;
      case Kind::discarded:
        payload = Discarded{};
        break;
      case Kind::tested:
        payload = Tested{};
        break;
      case Kind::held:
        payload = Held{};
        break;
      case Kind::cleared:
        payload = Cleared{};
        break;
      case Kind::combined:
        payload = Combined{};
        break;
      case Kind::note:
        payload = Note{};
        break;
      case Kind::hours:
        payload = Hours{};
        break;
      case Kind::money:
        payload = Money{};
        break;
      case Kind::postponed:
        payload = Postponed{};
        break;
      case Kind::plan_edited:
        payload = PlanEdited{};
        break;
      case Kind::grade_bounds:
        payload = GradeBounds{};
        break;
      case Kind::bench_laid_out:
        payload = BenchLaidOut{};
        break;
      case Kind::clone_renamed:
        payload = CloneRenamed{};
        break;
      case Kind::device_named:
        payload = DeviceNamed{};
        break;
      case Kind::clock_measured:
        payload = ClockMeasured{};
        break;
      case Kind::correction:
        payload = Correction{};
        break;
      case Kind::settlement:
        payload = Settlement{};
        break;
      case Kind::treatment:
        payload = Treatment{};
        break;
    }
    facts.push_back(payload);
  }
  return facts;
}

}  // namespace

TEST_CASE("every kind of fact has words of its own, also where nothing was said with it") {
  std::vector<std::string> all;
  for (const Payload& fact : one_of_each()) {
    const std::string words = fact_words(fact, {});
    CAPTURE(kind_number(fact));
    CHECK_FALSE(words.empty());
    CHECK(words.find("{}") == std::string::npos);
    CHECK(std::find(all.begin(), all.end(), words) == all.end());
    all.push_back(words);
    for (const SaidOf& one : fact_details(fact, {})) {
      CHECK_FALSE(one.about.empty());
      CHECK_FALSE(one.said.empty());
    }
  }
  CHECK(all.size() == last_known_kind + 1U);
}

TEST_CASE("a fact's words say what it counts, by size and by cause") {
  FactContext context;
  context.method = Method::chipping;
  CHECK(fact_words(make::pieces_potted(8, "bench 2"), context) == "8 sections potted, bench 2");
  CHECK(fact_words(make::bulbs_potted(make::lines({{"2-4", 3}, {"4-6", 5}})), context) ==
        "3 of 2–4 cm, 5 of 4–6 cm potted");
  CHECK(fact_words(make::lost(Cause::rot, 1), context) == "Lost 1 to rot");
  Looked looked = make::looked(9);
  looked.moisture = Moisture::damp;
  CHECK(fact_words(looked, context) == "Looked: 9 shoots, damp");
  CHECK(fact_words(Sold{make::lines({{"6-8", 2}}), 2405, ""}, context) == "Sold 2 of 6–8 cm, 24.05");
  CHECK(fact_words(make::unpotted(make::lines({{"-2", 3}}), 5, make::dead(Cause::rot, 1)), context) ==
        "Unpotted: 3 of under 2 cm, 5 alive, 1 dead");
  CHECK(money_words(-1200345) == "−12,003.45");
  CHECK(fact_words(Postponed{"unpot", 14, "roots still white"}, context) == "unpot put off by 14 days");
  CHECK(fact_words(Postponed{"repot", 0, "sold first"}, context) == "repot: not this time");
}

TEST_CASE("a treatment says its product, its amount and what it was against; opened, every field") {
  const Treatment all{"Invented product", "INV-0815", "40 ml", "2 ml to 1 l", "6 m2",
                      "thrips",           "LIC 17",   12,      "by its label"};
  CHECK(fact_words(all, {}) == "Treatment: Invented product, 40 ml, against thrips");
  CHECK(fact_words(Treatment{"Invented product", "", "", "", "", "", "", {}, ""}, {}) == "Treatment: Invented product");
  std::string told;
  for (const SaidOf& one : fact_details(all, {})) told += one.about + ": " + one.said + "\n";
  CHECK(told ==
        "Product: Invented product\nRegistration number: INV-0815\nAmount: 40 ml\nDose: 2 ml to 1 l\nArea: 6 m2\n"
        "Against: thrips\nLicence number: LIC 17\nNobody in for: 12 hours\nNote: by its label\n");
}

TEST_CASE("the story lists the pot's and the batch's entries, latest first, and the other pots' not") {
  Story house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver, 1);
  const auto& rows = driver.ui().story.picture.rows;
  REQUIRE(rows.size() == 8);
  CHECK(rows.front().what == "Note: The second leaf is narrower than its mother's");
  CHECK(rows[1].what == "Lost 1 to rot");
  CHECK(rows[4].what == "Watered");
  CHECK(rows[4].of_batch);
  CHECK(rows.back().what.rfind("Growing on: 9 of", 0) == 0);
  CHECK(rows.front().by.rfind("Ida, today", 0) == 0);
}

TEST_CASE("an entry says all that it says, and is taken back: struck, with who took it back") {
  Story house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver, 1);
  driver.tap("entry:2");  // sold
  REQUIRE(driver.ui().story.open.has_value());
  const std::int64_t entries = house.book->entry_count();
  CHECK(total(house.book->pot({house.bulbs, 1})->bulbs) == 7);
  driver.tap("detail:back");
  CHECK(house.book->entry_count() == entries + 1);  // nothing was rubbed out
  CHECK(standing<Sold>(house.story()) == 0);
  CHECK(total(house.book->pot({house.bulbs, 1})->bulbs) == 9);
  CHECK(balanced(house.book->pot({house.bulbs, 1})->bulb_balance));
  REQUIRE(driver.ui().kept.has_value());
  CHECK_FALSE(driver.has("undo"));  // a taking back is not taken back
  CHECK_FALSE(driver.has("detail:back"));
  driver.tap("detail:close");
  bool struck = false;
  for (const auto& row : driver.ui().story.picture.rows) struck = struck || row.struck == "taken back by Runa";
  CHECK(struck);
  CHECK(driver.ui().story.picture.rows.front().what == "Taken back: Sold 2 of 6–8 cm, 24.00");
}

TEST_CASE("the beginning of a batch is not taken back while more stands on it") {
  Story house;
  drive::Driver driver(*house.book, house.host, {1440, 900});
  house.open(driver, 1);
  driver.wheel({400, 500}, -30);
  driver.tap("entry:7");
  CHECK(driver.ui().story.picture.rows[7].what.rfind("Growing on", 0) == 0);
  CHECK_FALSE(driver.has("detail:back"));
}

TEST_CASE("a pot that is emptied while its story is open says by whom, and lists on") {
  Story house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  house.open(driver, 1);
  house.then(1, make::unpotted(make::lines({{"6-8", 6}})), "Bo");
  driver.key(SDLK_TAB);
  CHECK(driver.ui().story.picture.rows.size() == 9);
  CHECK(driver.ui().story.picture.state->emptied);
  CHECK_FALSE(driver.target("pot:unpot").enabled);
  CHECK_FALSE(driver.target("pot:split").enabled);
  CHECK(driver.target("pot:combine").enabled);
  check_scene(driver, "pot-emptied-800x1280-day");
  driver.tap("entry:0");
  CHECK(driver.target("detail:back").enabled);
}

TEST_CASE("acts lead from the story to the work, to the pad and to the clone, and back again") {
  Story house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver, 1);
  driver.tap("pot:work");
  CHECK(driver.ui().screen == Screen::care);
  driver.tap("back");
  CHECK(driver.ui().screen == Screen::pot);
  driver.tap("pot:hold");
  CHECK(driver.ui().care.job == Kind::held);
  driver.tap("why:1");
  driver.tap("keep");
  CHECK(driver.ui().screen == Screen::pot);  // it was all one came for
  CHECK(house.book->pot({house.bulbs, 1})->held);
  driver.tap("pot:hold");
  CHECK(driver.ui().care.job == Kind::cleared);
  driver.tap("why:1");
  driver.tap("keep");
  CHECK_FALSE(house.book->pot({house.bulbs, 1})->held);
  driver.tap("clone");
  CHECK(driver.ui().screen == Screen::clone);
  CHECK(driver.ui().about.clone == "Skarn Blue");
  driver.tap("back");
  driver.tap("pot:unpot");
  CHECK(driver.ui().screen == Screen::unpot);
}

TEST_CASE("a long story is drawn only where it is in sight, and scrolls") {
  Story house;
  for (int i = 0; i < 300; ++i) make::tap(*house.book, house.bulbs, 1, Watered{});
  drive::Driver driver(*house.book, house.host);
  house.open(driver, 1);
  CHECK(driver.ui().story.picture.rows.size() == 308);
  int listed = 0;
  for (const std::string& name : driver.names()) listed += name.rfind("entry:", 0) == 0 ? 1 : 0;
  CHECK(listed < 20);
  driver.wheel({400, 500}, -2000);
  CHECK(driver.has("entry:307"));
}

TEST_CASE("one pot's story in every size and theme") {
  for (const Size& size : sizes) {
    for (const bool night : {false, true}) {
      Story house;
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      drive::Driver driver(*house.book, house.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      house.open(driver, 1);
      check_scene(driver, "pot" + end);
      if (driver.has("pot:more")) {
        driver.tap("pot:more");
        check_scene(driver, "pot-more" + end);
        driver.tap("pot:more");
      }
      driver.tap("entry:0");
      if (driver.has("detail:close")) driver.tap("detail:close");
      const auto& rows = driver.ui().story.picture.rows;
      for (std::size_t i = 0; i < rows.size(); ++i) {
        const std::string name = "entry:" + std::to_string(i);
        if (rows[i].what.rfind("Treated", 0) == 0 && driver.has(name) && driver.target(name).whole) driver.tap(name);
      }
      if (!driver.has("detail:close")) driver.tap("entry:0");
      check_scene(driver, "pot-what" + end);
      driver.tap("detail:back");
      driver.tap("detail:close");
      check_scene(driver, "pot-back" + end);
    }
  }
}

}  // namespace motherbulb

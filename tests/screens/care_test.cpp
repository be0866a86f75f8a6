// Work on one pot, a bench or a batch: what is tapped stands in the book as it was meant, one record a pot.

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Size;
using drive::sizes;

// Three pots of bulbs of one batch on a bench, one pot of pieces beside them, and another batch of the same clone.
struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host);
  BatchId bulbs, chips, other;

  House() {
    bulbs = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"4-6", 20}, {"6-8", 4}}));
    for (int pot = 1; pot <= 3; ++pot) {
      host.advance_minutes(5);
      make::tap(*book, bulbs, pot,
                make::bulbs_potted(make::lines({{"4-6", 5}, {"6-8", 1}}),
                                   "Skerry House, bench 2, no. " + std::to_string(pot)));
    }
    host.advance_minutes(5);
    chips = make::begin_batch(*book, "Tirna Red", 2, 8);
    make::tap(*book, chips, 1, make::pieces_potted(8, "Skerry House, bench 3, no. 1"));
    other = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 3}}));
    make::tap(*book, other, 1, make::bulbs_potted(make::lines({{"8-10", 3}}), "Skerry House, bench 3, no. 2"));
  }
  std::string name(const BatchId& batch, int pot) const {
    return "bench:" + book->batch(batch)->label + "/" + std::to_string(pot);
  }
  void reveal(drive::Driver& driver, const std::string& target, Point at = {180, 400}) const {
    for (int i = 0; i < 40 && !(driver.has(target) && driver.target(target).whole); ++i) driver.wheel(at, -1);
    driver.tap(target);
  }
  void open(drive::Driver& driver, int pot = 1) const {
    driver.tap("bar:pots");
    driver.tap(name(bulbs, pot));
    reveal(driver, "pot:work");
    REQUIRE(driver.ui().screen == Screen::care);
  }
  void open_bench(drive::Driver& driver) const {
    driver.tap("bar:pots");
    if (!driver.has("bench:work")) driver.tap("back");  // a phone has a pot open
    driver.tap("bench:work");
    REQUIRE(driver.ui().screen == Screen::care);
    REQUIRE(driver.ui().care.pots.size() == 3);
  }
  // The batch itself: one pot of it was emptied under somebody's hands, its story leads to the batch.
  void open_batch(drive::Driver& driver) const {
    driver.tap("bar:pots");
    driver.tap(name(bulbs, 1));
    reveal(driver, "pot:story");
    make::tap(*book, bulbs, 1, make::unpotted(make::lines({{"4-6", 5}, {"6-8", 1}})));
    driver.key(SDLK_TAB);
    driver.tap("pot:work");
    REQUIRE(driver.ui().screen == Screen::care);
    REQUIRE(driver.ui().care.batch == bulbs);
  }
  // The facts of a kind that stand in a batch, in the order of the fold, with their pots.
  template <class Fact>
  std::vector<std::pair<std::int32_t, Fact>> facts(const BatchId& batch) const {
    std::vector<std::pair<std::int32_t, Fact>> found;
    for (const StoryLine& line : book->story(batch)) {
      if (!line.stands) continue;
      if (const auto* fact = std::get_if<Fact>(&line.fact)) found.emplace_back(line.entry.pot, *fact);
    }
    return found;
  }
};

void type_words(drive::Driver& driver, const std::string& field, const std::string& words) {
  driver.tap(field);
  driver.type(words);
  driver.tap("type:keep");
}

}  // namespace

TEST_CASE("one pot: water, feed, cover, uncover, start and dry off are kept by one tap, and undone") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver);
  for (const char* tile : {"job:watered", "job:fed", "job:covered", "job:uncovered", "job:started", "job:dried-off"}) {
    const std::int64_t entries = house.book->entry_count();
    driver.tap(tile);
    CAPTURE(tile);
    CHECK(house.book->entry_count() == entries + 1);
    REQUIRE(driver.ui().kept.has_value());
    if (std::string(tile) == "job:covered") CHECK(house.book->pot({house.bulbs, 1})->covered);
  }
  CHECK(house.facts<Watered>(house.bulbs).size() == 1);
  CHECK(house.facts<Watered>(house.bulbs).front().first == 1);
  CHECK(house.facts<Fed>(house.bulbs).size() == 1);
  CHECK(house.facts<Uncovered>(house.bulbs).size() == 1);
  CHECK_FALSE(house.book->pot({house.bulbs, 1})->covered);
  CHECK(house.book->pot({house.bulbs, 1})->phase == Stage::drying_off);
  CHECK(driver.ui().kept->words == "Pot 1: dried off");
  driver.tap("undo");
  CHECK(house.book->pot({house.bulbs, 1})->phase == Stage::started);
}

TEST_CASE("a bench of three pots watered by one act gives three entries, and one Undo takes back all three") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open_bench(driver);
  CHECK(driver.ui().care.picture.name == "bench 2: 3 pots");
  const std::int64_t entries = house.book->entry_count();
  driver.tap("job:watered");
  CHECK(house.book->entry_count() == entries);  // of several nothing is kept before Keep
  driver.tap("keep");
  CHECK(house.book->entry_count() == entries + 3);
  const auto facts = house.facts<Watered>(house.bulbs);
  REQUIRE(facts.size() == 3);
  for (int i = 0; i < 3; ++i) CHECK(facts[static_cast<std::size_t>(i)].first == i + 1);
  CHECK(driver.ui().kept->words == "3 pots: watered");
  driver.tap("undo");
  CHECK(house.facts<Watered>(house.bulbs).empty());
}

TEST_CASE("treated: product typed, hours on a key; the slip says until when, and the next time it is proposed") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  house.open(driver);
  driver.tap("job:treated");
  CHECK_FALSE(driver.target("keep").enabled);
  type_words(driver, "field:product", "Soft soap");
  driver.tap("hours:12");
  house.reveal(driver, "field:amount", {400, 900});
  driver.type("20 ml a litre");
  driver.tap("type:keep");
  driver.tap("keep");
  auto facts = house.facts<Treatment>(house.bulbs);
  REQUIRE(facts.size() == 1);
  CHECK(facts[0].second.product == "Soft soap");
  CHECK(facts[0].second.amount == "20 ml a litre");
  CHECK(facts[0].second.re_entry_hours == 12);
  // What nobody said stays empty.
  CHECK(facts[0].second.registration.empty());
  CHECK(facts[0].second.against.empty());
  CHECK(driver.ui().kept->words.rfind("Pot 1: treated; nobody in before ", 0) == 0);
  driver.tap("job:treated");
  CHECK(driver.ui().care.product == "Soft soap");
  driver.tap("hours:other");
  for (const char* key : {"digit:3", "digit:6", "digit:done"}) driver.tap(key);
  driver.tap("keep");
  facts = house.facts<Treatment>(house.bulbs);
  REQUIRE(facts.size() == 2);
  CHECK(facts[1].second.re_entry_hours == 36);
}

TEST_CASE("what is known of a product comes along with it, and each helper's licence number with the helper") {
  House house;
  const Treatment oil{"Invented oil", "INV-1", "", "5 ml to 1 l", "", "aphid", "LIC 99", 4, ""};
  const Treatment soap{"Soft soap", "INV-2", "", "", "", "", "", 2, ""};
  make::tap(*house.book, house.chips, 1, oil, "Osk");
  house.host.advance_minutes(1);
  make::tap(*house.book, house.bulbs, 1, soap);
  Treatment own = oil;
  own.licence = "LIC 17";
  house.host.advance_minutes(1);
  make::tap(*house.book, house.chips, 1, own);
  house.host.advance_days(2);
  drive::Driver driver(*house.book, house.host, {800, 1280});
  house.open(driver, 2);
  driver.tap("job:treated");
  CHECK(driver.ui().care.product.empty());  // of another day nothing is proposed
  CHECK(driver.ui().care.licence == "LIC 17");
  CHECK_FALSE(driver.target("keep").enabled);
  driver.tap("used:2");
  CHECK(driver.ui().care.product == "Soft soap");
  driver.tap("used:1");
  CHECK(driver.ui().care.product == "Invented oil");
  CHECK(driver.ui().care.registration == "INV-1");
  CHECK(driver.ui().care.re_entry == 4);
  house.reveal(driver, "against:2", {400, 900});
  house.reveal(driver, "keep", {400, 900});
  const auto facts = house.facts<Treatment>(house.bulbs);
  REQUIRE(facts.size() == 2);
  CHECK(facts[1].first == 2);
  CHECK(facts[1].second.product == "Invented oil");
  CHECK(facts[1].second.registration == "INV-1");
  CHECK(facts[1].second.dose == "5 ml to 1 l");
  CHECK(facts[1].second.against == "thrips");
  CHECK(facts[1].second.licence == "LIC 17");
  CHECK(facts[1].second.re_entry_hours == 4);
}

TEST_CASE("moved: one pot to a position; a bench counted up from its first; or with its positions kept") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver);
  driver.tap("job:moved");
  driver.tap("bench:Skerry House, bench 3");
  driver.tap("field:position");
  driver.tap("digit:1");
  driver.tap("digit:4");
  driver.tap("keep");
  CHECK(house.book->pot({house.bulbs, 1})->place == "Skerry House, bench 3, no. 14");
  driver.tap("undo");

  house.open_bench(driver);
  driver.tap("job:moved");
  driver.tap("bench:Skerry House, bench 3");
  driver.tap("positions:counted");
  driver.tap("digit:7");
  driver.tap("keep");
  CHECK(house.book->pot({house.bulbs, 1})->place == "Skerry House, bench 3, no. 7");
  CHECK(house.book->pot({house.bulbs, 3})->place == "Skerry House, bench 3, no. 9");
  driver.tap("undo");

  house.open_bench(driver);
  driver.tap("job:moved");
  driver.tap("bench:other");
  driver.type("cold frame");
  driver.tap("type:keep");
  driver.tap("keep");
  CHECK(house.book->pot({house.bulbs, 2})->place == "cold frame, no. 2");
}

TEST_CASE("looked, note, repotted, flowered, tested, held and cleared stand as they were tapped") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  house.open(driver);
  driver.tap("job:looked");
  driver.tap("moisture:damp");
  driver.tap("rot:no");
  driver.tap("field:shoots");
  driver.tap("digit:9");
  driver.tap("keep");
  const auto looks = house.facts<Looked>(house.bulbs);
  REQUIRE(looks.size() == 1);
  CHECK(looks[0].second.shoots == 9);
  CHECK(looks[0].second.moisture == Moisture::damp);
  CHECK(looks[0].second.rot == YesNo::no);

  driver.tap("job:note");
  driver.type("leaves late");
  driver.tap("keep");
  const auto notes = house.facts<Note>(house.bulbs);
  REQUIRE(notes.size() == 1);
  CHECK(notes[0].second.text == "leaves late");

  driver.tap("job:repotted");
  driver.tap("bench:Skerry House, bench 3");
  driver.tap("keep");
  const auto repots = house.facts<Repotted>(house.bulbs);
  REQUIRE(repots.size() == 1);
  CHECK(repots[0].second.lines.empty());
  CHECK(repots[0].second.place == "Skerry House, bench 3");
  CHECK(total(house.book->pot({house.bulbs, 1})->bulbs) == 6);

  driver.tap("job:flowered");
  driver.tap("field:true");
  driver.tap("digit:5");
  driver.tap("digit:done");
  driver.tap("field:off");
  driver.tap("digit:1");
  driver.tap("keep");
  const auto flowers = house.facts<Flowered>(house.bulbs);
  REQUIRE(flowers.size() == 1);
  CHECK(flowers[0].second.true_to_type == 5);
  CHECK(flowers[0].second.off_type == 1);

  driver.tap("job:tested");
  driver.tap("subject:1");
  CHECK_FALSE(driver.target("keep").enabled);
  driver.tap("result:negative");
  driver.tap("keep");
  const auto tests = house.facts<Tested>(house.bulbs);
  REQUIRE(tests.size() == 1);
  CHECK(tests[0].second.subject == "virus");
  CHECK(tests[0].second.result == TestResult::negative);

  driver.tap("job:held");
  type_words(driver, "field:reason", "streaked petals");
  driver.tap("keep");
  CHECK(house.book->pot({house.bulbs, 1})->held_reason == "streaked petals");
  driver.tap("job:cleared");
  driver.tap("why:1");
  driver.tap("keep");
  CHECK_FALSE(house.book->pot({house.bulbs, 1})->held);
  CHECK(house.facts<Cleared>(house.bulbs).size() == 1);
}

TEST_CASE("sold, given, discarded and lost: by size, with money and a cause; the balances close") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  house.open(driver);
  driver.tap("job:sold");
  driver.tap("grade:6–8");
  driver.tap("pad:1");
  driver.tap("field:money");
  for (const char* key : {"digit:1", "digit:2", "digit:5", "digit:0", "digit:done"}) driver.tap(key);
  driver.tap("keep");
  const auto sold = house.facts<Sold>(house.bulbs);
  REQUIRE(sold.size() == 1);
  REQUIRE(sold[0].second.lines.size() == 1);
  CHECK(sold[0].second.lines[0].grade == make::grade("6-8"));
  CHECK(sold[0].second.lines[0].count == 1);
  CHECK(sold[0].second.cents == 1250);

  driver.tap("job:given");
  driver.tap("pad:1");
  driver.tap("keep");
  driver.tap("job:discarded");
  driver.tap("pad:1");
  driver.tap("keep");
  driver.tap("job:lost");
  driver.tap("pad:1");
  driver.tap("cause:rot");
  driver.tap("keep");
  CHECK(house.facts<Given>(house.bulbs).size() == 1);
  CHECK(house.facts<Discarded>(house.bulbs).size() == 1);
  const auto lost = house.facts<Lost>(house.bulbs);
  REQUIRE(lost.size() == 1);
  CHECK(lost[0].second.lines[0].cause == Cause::rot);
  CHECK(total(house.book->pot({house.bulbs, 1})->bulbs) == 2);
  CHECK(balanced(house.book->pot({house.bulbs, 1})->bulb_balance));
}

TEST_CASE("more than is there is asked about once: by the book of a sale, by the screen of a loss") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  house.open(driver);
  for (const char* tile : {"job:sold", "job:lost"}) {
    const std::int64_t entries = house.book->entry_count();
    driver.tap(tile);
    driver.tap("pad:10");
    driver.tap("keep");
    CHECK(house.book->entry_count() == entries);
    REQUIRE(driver.ui().asked.has_value());
    driver.tap("asked:no");
    CHECK(driver.ui().care.count.total() == 10);
    driver.tap("keep");
    driver.tap("asked:yes");
    CHECK(house.book->entry_count() == entries + 1);
    driver.tap("undo");
  }
}

TEST_CASE("of several pots each is counted in turn, or all of all are discarded by one act") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open_bench(driver);
  driver.tap("job:sold");
  driver.tap("walk:next");
  driver.tap("pad:2");
  driver.tap("keep");
  const auto sold = house.facts<Sold>(house.bulbs);
  REQUIRE(sold.size() == 1);
  CHECK(sold[0].first == 2);
  CHECK(driver.ui().care.at == 2);  // and on to the next
  CHECK(driver.ui().care.job == Kind::sold);
  driver.tap("how:discarded");
  driver.tap("which:all");
  const std::int64_t entries = house.book->entry_count();
  driver.tap("keep");
  CHECK(house.book->entry_count() == entries + 3);
  for (int pot = 1; pot <= 3; ++pot) {
    CHECK(total(house.book->pot({house.bulbs, pot})->bulbs) == 0);
    CHECK(balanced(house.book->pot({house.bulbs, pot})->bulb_balance));
  }
}

TEST_CASE("what waits is potted up into the next pot, at a place") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver);
  driver.tap("job:potted");
  driver.tap("pad:3");
  driver.tap("bench:Skerry House, bench 2");
  driver.tap("field:position");
  driver.tap("digit:4");
  driver.tap("keep");
  const std::optional<PotState> pot = house.book->pot({house.bulbs, 4});
  REQUIRE(pot.has_value());
  CHECK(pot->bulbs.at(make::grade("4-6")) == 3);
  CHECK(pot->place == "Skerry House, bench 2, no. 4");
  CHECK(balanced(house.book->batch(house.bulbs)->bulb_balance));
}

TEST_CASE("splitting takes bulbs out of the pot into a batch of their own, and the balances close") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  driver.tap(house.name(house.bulbs, 1));
  driver.tap("pot:story");
  driver.tap("pot:split");
  driver.tap("pad:2");
  driver.tap("bench:Skerry House, bench 3");
  const std::size_t batches = house.book->batches().size();
  driver.tap("keep");
  CHECK(driver.ui().screen == Screen::pot);
  REQUIRE(house.book->batches().size() == batches + 1);
  std::optional<BatchState> fresh;
  for (const BatchState& batch : house.book->batches()) {
    if (batch.parent && *batch.parent == house.bulbs) fresh = batch;
  }
  REQUIRE(fresh.has_value());
  CHECK(fresh->clone == "Skarn Blue");
  CHECK_FALSE(fresh->label.empty());
  CHECK(balanced(fresh->bulb_balance));
  const std::optional<PotState> pot = house.book->pot({fresh->id, 1});
  REQUIRE(pot.has_value());
  CHECK(pot->bulbs.at(make::grade("4-6")) == 2);
  CHECK(pot->place == "Skerry House, bench 3");
  const std::optional<PotState> from = house.book->pot({house.bulbs, 1});
  CHECK(from->bulbs.at(make::grade("4-6")) == 3);
  CHECK(from->bulb_balance.taken == 2);
  CHECK(balanced(from->bulb_balance));
  CHECK(driver.ui().story.picture.rows.front().label == fresh->label);
  driver.tap("undo");
  CHECK(house.book->pot({house.bulbs, 1})->bulbs.at(make::grade("4-6")) == 5);
}

TEST_CASE("combining takes what waits into another batch of the clone; where nothing waits it says what to do") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("bar:pots");
  driver.tap(house.name(house.bulbs, 1));
  driver.tap("pot:story");
  driver.tap("pot:combine");
  driver.tap("pad:4");
  CHECK_FALSE(driver.target("keep").enabled);  // into which batch?
  driver.tap("into:" + house.book->batch(house.other)->label);
  driver.tap("keep");
  CHECK(driver.ui().screen == Screen::pot);
  const auto facts = house.facts<Combined>(house.bulbs);
  REQUIRE(facts.size() == 1);
  CHECK(facts[0].first == 0);
  CHECK(facts[0].second.into == house.other);
  CHECK(house.book->batch(house.bulbs)->bulbs_waiting.at(make::grade("4-6")) == 1);
  CHECK(house.book->batch(house.other)->bulbs_waiting.at(make::grade("4-6")) == 4);
  CHECK(balanced(house.book->batch(house.bulbs)->bulb_balance));
  CHECK(balanced(house.book->batch(house.other)->bulb_balance));

  make::tap(*house.book, house.bulbs, 5, make::bulbs_potted(make::lines({{"4-6", 1}, {"6-8", 1}})));
  driver.tap("pot:combine");
  CHECK_FALSE(driver.has("pad:1"));
  CHECK_FALSE(driver.target("keep").enabled);
  check_scene(driver, "care-nothing-waits-1280x800-day");
}

TEST_CASE("a whole batch: what the fold understands of a batch is one entry, the rest one a pot") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open_batch(driver);
  check_scene(driver, "care-batch-1280x800-day");
  for (const char* tile : {"job:watered", "job:started"}) {
    driver.tap(tile);
    driver.tap("keep");
  }
  REQUIRE(house.facts<Watered>(house.bulbs).size() == 1);
  CHECK(house.facts<Watered>(house.bulbs).front().first == 0);
  CHECK(house.book->batch(house.bulbs)->phase == Stage::started);
  driver.tap("job:covered");
  driver.tap("keep");
  CHECK(house.facts<Covered>(house.bulbs).size() == 2);  // pots 2 and 3 stand filled
  CHECK(house.book->pot({house.bulbs, 2})->covered);
  driver.tap("job:held");
  driver.tap("why:1");
  driver.tap("keep");
  CHECK(house.book->batch(house.bulbs)->held);
}

TEST_CASE("a pot emptied while its work is open is told in words, and nothing tapped is lost") {
  House house;
  for (const auto& [width, height] : {std::pair{360, 740}, std::pair{1280, 800}}) {
    House here;
    drive::Driver driver(*here.book, here.host, {width, height});
    here.open(driver);
    here.reveal(driver, "job:given");
    driver.tap("pad:2");
    make::tap(*here.book, here.bulbs, 1, make::unpotted(make::lines({{"4-6", 6}})), "Bo");
    driver.key(SDLK_TAB);
    CHECK(driver.ui().care.picture.gone == 1);
    CHECK(driver.ui().care.count.total() == 2);
    CHECK_FALSE(driver.target("keep").enabled);
    check_scene(driver, "care-gone-" + std::to_string(width) + "x" + std::to_string(height) + "-day");
  }
}

TEST_CASE("set back to yesterday evening, the act was done then") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver);
  driver.tap("who");
  driver.tap("when:evening");
  if (driver.ui().screen == Screen::who) driver.tap("back");
  REQUIRE(driver.ui().when.has_value());
  driver.tap("job:watered");
  const std::vector<StoryLine> story = house.book->story(house.bulbs);
  bool found = false;
  for (const StoryLine& line : story) {
    if (!std::holds_alternative<Watered>(line.fact)) continue;
    found = true;
    CHECK(line.entry.when == *driver.ui().when);
  }
  CHECK(found);
}

TEST_CASE("work on one pot and on a bench in every size and theme") {
  for (const Size& size : sizes) {
    for (const bool night : {false, true}) {
      House house;
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      drive::Driver driver(*house.book, house.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      house.open(driver);
      check_scene(driver, "care" + end);
      for (const char* job :
           {"treated", "moved", "looked", "potted", "note", "repotted", "flowered", "sold", "lost", "tested", "held"}) {
        house.reveal(driver, std::string("job:") + job,
                     {static_cast<float>(size.width) * 0.7F, static_cast<float>(size.height) * 0.6F});
        if (std::string(job) == "moved") driver.tap("bench:Skerry House, bench 3");
        if (std::string(job) == "sold" || std::string(job) == "potted") driver.tap("pad:3");
        check_scene(driver, std::string("care-") + job + end);
        driver.tap(driver.has("type:drop") ? "type:drop" : driver.has("care:close") ? "care:close" : "back");
      }
      house.open_bench(driver);
      driver.tap("job:watered");
      check_scene(driver, "care-bench" + end);
    }
  }
}

}  // namespace motherbulb

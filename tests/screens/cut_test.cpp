// A cutting session, driven by real events in the real window, and looked up in the book afterwards.

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "B");
  BatchId stock, last;

  House() {
    stock = make::begin_bulbs(*book, "Tirna Red", make::lines({{"20-22", 4}, {"26-28", 5}}));
    host.advance_minutes(1);
    make::tap(*book, stock, 1, make::bulbs_potted(make::lines({{"26-28", 5}}), "house 1, bench 1, no. 1"));
    // A session as it was done last: 6 sections, the blade for the batch, dipped, in bark.
    host.advance_days(30);
    Begun fact = make::begun("Tirna Red", Method::chipping, make::lines({{"20-22", 1}}), 6);
    fact.parent = stock;
    fact.blade = Blade::per_batch;
    fact.dip = YesNo::yes;
    fact.wedges = YesNo::no;
    fact.medium = "bark and grit";
    last = make::tap(*book, BatchId{}, 0, fact).batch;
    host.advance_minutes(1);
    make::tap(*book, last, 1, make::pieces_potted(6, "house 1, bench 2, no. 2"));
    host.advance_days(20);
    make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 5}}));
  }
  // The batch begun last, and its fact.
  [[nodiscard]] std::optional<BatchState> latest() const {
    std::optional<BatchState> found;
    for (const BatchState& batch : book->batches()) {
      if (batch.begun && (!found || found->label < batch.label)) found = batch;
    }
    return found;
  }
  [[nodiscard]] Begun begun(const BatchId& batch) const {
    for (const StoryLine& line : book->story(batch)) {
      if (const auto* fact = std::get_if<Begun>(&line.fact); fact != nullptr && line.stands) return *fact;
    }
    FAIL("nothing began it");
    return {};
  }
};

// Brings a control into sight, as a finger would.
void bring(drive::Driver& driver, const std::string& name) {
  for (int i = 0; i < 40 && !(driver.has(name) && driver.target(name).whole); ++i) {
    const float x = driver.app->ui().settings.left_hand ? 700.0F : 200.0F;
    driver.wheel({x, 420}, -1);
  }
}

}  // namespace

TEST_CASE("five taps keep a session: clone, mothers, sections, keep, all else as last time") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("link:cutting");
  driver.tap("cut");
  REQUIRE(driver.ui().screen == Screen::cut);
  const std::string proposed = house.book->proposed_label(2026);
  const std::int64_t entries = house.book->entry_count();

  driver.tap("clone:Tirna Red:Hippeastrum");  // 1
  driver.tap("method:chipping");              // 2, proposed already
  driver.tap("mothers:2");                    // 3
  driver.tap("sections:8");                   // 4
  CHECK(house.book->entry_count() == entries);
  driver.tap("keep");  // 5

  REQUIRE(house.book->entry_count() == entries + 3);
  const std::optional<BatchState> batch = house.latest();
  REQUIRE(batch);
  CHECK(batch->label == proposed);
  const Begun fact = house.begun(batch->id);
  CHECK(fact.clone == "Tirna Red");
  CHECK(fact.genus == "Hippeastrum");
  CHECK(fact.parent == house.stock);
  CHECK(fact.parent_pot == 1);  // where the largest stand
  CHECK(fact.method == Method::chipping);
  REQUIRE(fact.mothers.size() == 1);
  CHECK(fact.mothers[0].grade == make::grade("26-28"));
  CHECK(fact.mothers[0].count == 2);
  CHECK(fact.sections == 8);
  CHECK(fact.blade == Blade::per_batch);
  CHECK(fact.dip == YesNo::yes);
  CHECK(fact.wedges == YesNo::no);
  CHECK(fact.medium == "bark and grit");
  CHECK(fact.label == proposed);
  // Two pots of eight, on the bench of last time, at its free positions.
  CHECK(batch->pieces_waiting == 0);
  const std::vector<PotState> pots = house.book->pots_of(batch->id);
  REQUIRE(pots.size() == 2);
  CHECK(pots[0].pieces == 8);
  CHECK(pots[0].place == "house 1, bench 2, no. 1");
  CHECK(pots[1].pieces == 8);
  CHECK(pots[1].place == "house 1, bench 2, no. 3");
  for (const StoryLine& line : house.book->story(batch->id)) CHECK(line.entry.helper == "Runa");
  CHECK(total(house.book->pot({house.stock, 1})->bulbs) == 3);

  // The slip says so, and the stakes stand there to be written.
  REQUIRE(driver.ui().kept);
  CHECK(driver.ui().kept->words == proposed + ": 2 mothers into 8, 2 pots kept");
  CHECK(driver.ui().cut.written == batch->id);
  CHECK(driver.has("stakes:next"));

  // Undo takes back all of it, and what was chosen stands there again.
  driver.tap("undo");
  CHECK((!house.book->batch(batch->id) || !house.book->batch(batch->id)->begun));
  CHECK(total(house.book->pot({house.stock, 1})->bulbs) == 5);
  for (const PotRow& row : house.book->pots(false)) CHECK(row.batch.id != batch->id);
  CHECK_FALSE(driver.ui().cut.written.has_value());
  CHECK(driver.ui().cut.count() == 2);
  CHECK(driver.target("keep").enabled);
}

TEST_CASE("what is said goes before what is proposed: a new clone, another method, medium, pots and place") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  driver.tap("link:cutting");
  driver.tap("cut");
  driver.tap("clone:new");
  for (const char* letter : {"letter:O", "letter:R", "letter:E"}) driver.tap(letter);
  driver.tap("typed:keep");
  driver.tap("genus:Lachenalia");
  driver.tap("method:twin-scaling");
  CHECK_FALSE(driver.target("keep").enabled);  // no mothers yet
  bring(driver, "grade:larger");
  driver.tap("mothers:3");
  driver.tap("mothers:plus");
  driver.tap("sections:24");
  driver.tap("sections:minus");
  bring(driver, "part:blade");
  driver.tap("part:blade");
  driver.tap("blade:per-bulb");
  bring(driver, "part:wedges");
  driver.tap("part:wedges");
  driver.tap("answer:yes");
  bring(driver, "part:medium");
  driver.tap("part:medium");
  driver.tap("medium:other");
  for (const char* letter : {"letter:M", "letter:O", "letter:S", "letter:S"}) driver.tap(letter);
  driver.tap("typed:keep");
  bring(driver, "part:pots");
  driver.tap("part:pots");
  driver.tap("pots:46");
  bring(driver, "part:place");
  driver.tap("part:place");
  driver.tap("place:house 1, bench 1");
  driver.tap("keep");
  const std::optional<BatchState> batch = house.latest();
  REQUIRE(batch);
  const Begun fact = house.begun(batch->id);
  CHECK(fact.clone == "Ore");
  CHECK(fact.genus == "Lachenalia");
  CHECK_FALSE(fact.parent.has_value());
  CHECK(fact.parent_pot == 0);
  CHECK(fact.method == Method::twin_scaling);
  REQUIRE(fact.mothers.size() == 1);
  CHECK(fact.mothers[0].count == 4);
  CHECK(fact.sections == 23);
  CHECK(fact.blade == Blade::per_bulb);
  CHECK(fact.wedges == YesNo::yes);
  CHECK(fact.medium == "Moss");
  const std::vector<PotState> pots = house.book->pots_of(batch->id);
  REQUIRE(pots.size() == 2);
  CHECK(pots[0].pieces == 46);
  CHECK(pots[0].place == "house 1, bench 1, no. 2");
  CHECK(pots[1].pieces == 46);
  CHECK(pots[1].place == "house 1, bench 1, no. 3");
  driver.tap("stakes:next");
  CHECK(driver.has("clone:Ore:Lachenalia"));
}

TEST_CASE("bulbs grown on: two sizes of one batch, potted by the tray, none cut") {
  House house;
  const BatchId young = make::begin_bulbs(*house.book, "Grey Hen", make::lines({{"4-6", 7}, {"6-8", 5}}));
  drive::Driver driver(*house.book, house.host);
  driver.tap("link:cutting");
  driver.tap("cut");
  driver.tap("clone:Grey Hen:Hippeastrum");
  driver.tap("method:growing-on");
  CHECK_FALSE(driver.has("sections:plus"));
  CHECK_FALSE(driver.has("part:blade"));
  driver.tap("grade:6–8");
  driver.tap("mothers:5");
  driver.tap("grade:4–6");
  driver.tap("mothers:7");
  driver.tap("part:pots");
  driver.tap("pots:10");
  driver.tap("keep");
  const std::optional<BatchState> batch = house.latest();
  REQUIRE(batch);
  const Begun fact = house.begun(batch->id);
  CHECK(fact.method == Method::growing_on);
  CHECK(fact.parent == young);
  CHECK(fact.sections == 0);
  CHECK(fact.blade == Blade::unsaid);
  REQUIRE(fact.mothers.size() == 2);
  const std::vector<PotState> pots = house.book->pots_of(batch->id);
  REQUIRE(pots.size() == 2);
  CHECK(total(pots[0].bulbs) == 10);
  CHECK(total(pots[1].bulbs) == 2);
  CHECK(total(batch->bulbs_waiting) == 0);
  CHECK(house.book->batch(young)->bulbs_waiting.empty());
}

TEST_CASE("what is on hold is not cut: it says why before it is tapped, and a hold that comes later hinders") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("link:cutting");
  driver.tap("cut");
  driver.tap("clone:Tirna Red:Hippeastrum");
  driver.tap("mothers:1");
  CHECK(driver.target("keep").enabled);
  make::tap(*house.book, house.stock, 1, Held{"red blotch"});
  driver.session->ask_for_frame();
  driver.settle();
  // The next best is proposed; the pot on hold is shown, and cannot be chosen.
  driver.tap("part:source");
  CHECK_FALSE(
      driver.target("source:" + house.book->batch(house.stock)->label + "/1:" + hex(house.stock).substr(0, 6)).enabled);
  driver.picture("cut-held-source-1280x800-day");
  driver.key(SDLK_ESCAPE);
  // Chosen before it was put on hold: nothing can be kept, and the count stays.
  const std::int64_t entries = house.book->entry_count();
  make::tap(*house.book, house.stock, 0, Held{"looks sick"});
  driver.session->ask_for_frame();
  driver.settle();
  CHECK(house.book->entry_count() == entries + 1);
  driver.tap("bar:start");
  driver.tap("link:clones");
  driver.tap("clone:Tirna Red:Hippeastrum");
  driver.tap(drive::first_named(driver, "batch:" + house.book->batch(house.stock)->label));
  CHECK_FALSE(driver.target("batch:cut").enabled);
}

TEST_CASE("more than stands there is said and kept; too many pots are said and not kept") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("link:cutting");
  driver.tap("cut");
  driver.tap("clone:Tirna Red:Hippeastrum");
  driver.tap("mothers:6");
  CHECK(driver.target("keep").enabled);
  driver.picture("cut-more-1280x800-day");
  for (int i = 0; i < 40; ++i) driver.tap("mothers:more");
  CHECK_FALSE(driver.target("keep").enabled);
  driver.tap("mothers:6");
  driver.tap("keep");
  CHECK(house.book->pot({house.stock, 1})->bulb_balance.open < 0);
}

TEST_CASE("without a name the session asks who is here, and then is kept whole") {
  House house;
  drive::Wish wish;
  wish.helper = "";
  drive::Driver driver(*house.book, house.host, wish);
  driver.tap("link:cutting");
  driver.tap("cut");
  driver.tap("clone:Tirna Red:Hippeastrum");
  driver.tap("mothers:1");
  driver.tap("keep");
  REQUIRE(driver.ui().screen == Screen::who);
  driver.tap("who:Runa");
  CHECK(driver.ui().screen == Screen::cut);
  CHECK(driver.ui().cut.written.has_value());
}

TEST_CASE("cutting in every size and theme, from the first choice to the stakes") {
  for (const drive::Size& size : drive::sizes) {
    for (const bool night : {false, true}) {
      drive::Demo demo;
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      bring(driver, "link:cutting");
      driver.tap("link:cutting");
      drive::check_scene(driver, "cutting" + end);
      driver.tap("cut");
      drive::check_scene(driver, "cut-clone" + end);
      driver.tap("clone:Harbour Ember:Hippeastrum");
      drive::check_scene(driver, "cut-empty" + end);
      bring(driver, "mothers:2");
      driver.tap("mothers:2");
      bring(driver, "sections:8");
      driver.tap("sections:8");
      drive::check_scene(driver, "cut" + end);
      bring(driver, "part:place");
      drive::check_scene(driver, "cut-low" + end);
      driver.tap("part:place");
      drive::check_scene(driver, "cut-place" + end);
      driver.key(SDLK_ESCAPE);
      driver.tap("keep");
      drive::check_scene(driver, "cut-stakes" + end);
    }
  }
}

}  // namespace motherbulb

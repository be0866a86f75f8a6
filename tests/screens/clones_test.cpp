// The clones, driven by real events: the list, descent and balance, a batch, and a new name.

#include "app/widgets/descent.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId stock, chips, offsets;

  House() {
    stock = make::begin_bulbs(*book, "Tirna Red", make::lines({{"20-22", 4}, {"26-28", 5}}));
    host.advance_minutes(1);
    make::tap(*book, stock, 1, make::bulbs_potted(make::lines({{"26-28", 5}}), "house 1, bench 1, no. 1"));
    host.advance_days(400);
    Begun fact = make::begun("Tirna Red", Method::chipping, make::lines({{"26-28", 2}}), 8);
    fact.parent = stock;
    fact.parent_pot = 1;
    chips = make::tap(*book, BatchId{}, 0, fact).batch;
    for (std::int32_t pot = 1; pot <= 2; ++pot) {
      host.advance_minutes(1);
      make::tap(*book, chips, pot, make::pieces_potted(8, "house 1, bench 2, no. " + std::to_string(pot)));
    }
    host.advance_minutes(1);
    Begun more = make::begun("Tirna Red", Method::offsets, make::lines({{"2-4", 3}}));
    more.parent = stock;
    offsets = make::tap(*book, BatchId{}, 0, more).batch;
    make::tap(*book, offsets, 0, make::lost(Cause::frost, 3));
    make::begin_bulbs(*book, "Skarn Blue", make::lines({{"8-10", 5}}));
  }
  [[nodiscard]] std::string tag(const BatchId& batch) const {
    return "batch:" + book->batch(batch)->label + ":" + hex(batch).substr(0, 6);
  }
  void open(drive::Driver& driver) const {
    driver.tap("link:clones");
    REQUIRE(driver.ui().screen == Screen::clones);
    driver.tap("clone:Tirna Red:Hippeastrum");
    REQUIRE(driver.ui().screen == Screen::clone);
  }
};

}  // namespace

TEST_CASE("a clone opens from the list, its tags are its batches, and a tag opens pots and acts") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver);
  const auto& tree = driver.ui().clones.descent.tree;
  REQUIRE(tree);
  REQUIRE(tree->tags.size() == 3);
  CHECK(tree->tags[0].label == house.book->batch(house.stock)->label);
  CHECK_FALSE(tree->tags[0].parent.has_value());
  CHECK(tree->tags[0].count == "7");  // nine, two of them cut
  CHECK(tree->tags[1].parent == 0);
  CHECK(tree->tags[1].pieces);
  CHECK(tree->tags[1].count == "16");
  CHECK(tree->tags[1].line == "2 into 8");
  CHECK(tree->tags[2].lost);
  CHECK(tree->columns.size() == 2);
  CHECK(tree->columns[0].head == "2026");

  driver.tap(house.tag(house.chips));
  REQUIRE(driver.ui().about.batch == house.chips);
  const std::string label = house.book->batch(house.chips)->label;
  driver.tap("pot:" + label + "/2");
  REQUIRE(driver.ui().screen == Screen::pot);
  REQUIRE(driver.ui().about.pots.size() == 1);
  CHECK(driver.ui().about.pots.front() == PotId{house.chips, 2});
  driver.key(SDLK_ESCAPE);
  REQUIRE(driver.ui().screen == Screen::clone);
  driver.tap("batch:work");
  REQUIRE(driver.ui().screen == Screen::care);
  CHECK(driver.ui().about.batch == house.chips);
  driver.key(SDLK_ESCAPE);
  // Back from the batch to the tree, and from the tree to the list.
  driver.key(SDLK_ESCAPE);
  CHECK(driver.ui().screen == Screen::clone);
  CHECK_FALSE(driver.ui().about.batch.has_value());
  driver.key(SDLK_ESCAPE);
  CHECK(driver.ui().screen == Screen::clones);
}

TEST_CASE("a session in the list leads to its batch, and from there to cutting from it") {
  House house;
  drive::Driver driver(*house.book, house.host);
  driver.tap("link:cutting");
  REQUIRE(driver.ui().screen == Screen::cutting);
  const std::string label = house.book->batch(house.chips)->label;
  driver.tap("session:" + label + ":" + hex(house.chips).substr(0, 6));
  REQUIRE(driver.ui().screen == Screen::clone);
  CHECK(driver.ui().about.batch == house.chips);
  driver.tap("kin:" + house.tag(house.stock));
  CHECK(driver.ui().about.batch == house.stock);
  driver.tap("batch:cut");
  REQUIRE(driver.ui().screen == Screen::cut);
  CHECK(driver.ui().cut.clone == "Tirna Red");
  CHECK(driver.ui().cut.parent == house.stock);
}

TEST_CASE("a clone gets a new name by the keys, the screen shows it, and undo gives the old one back") {
  House house;
  drive::Driver driver(*house.book, house.host, {800, 1280});
  house.open(driver);
  driver.tap("rename");
  CHECK_FALSE(driver.target("rename:keep").enabled);  // it is called so already
  for (int i = 0; i < 3; ++i) driver.tap("letter:undo");
  for (const char* letter : {"letter:D", "letter:A", "letter:W", "letter:N"}) driver.tap(letter);
  const std::int64_t entries = house.book->entry_count();
  driver.tap("rename:keep");
  REQUIRE(house.book->entry_count() == entries + 1);
  const std::vector<StoryLine> story = house.book->story(BatchId{});
  const auto* fact = std::get_if<CloneRenamed>(&story.back().fact);
  REQUIRE(fact != nullptr);
  CHECK(fact->genus == "Hippeastrum");
  CHECK(fact->from == "Tirna Red");
  CHECK(fact->to == "Tirna Dawn");
  CHECK(story.back().entry.helper == "Runa");
  CHECK(driver.ui().screen == Screen::clone);
  CHECK(driver.ui().about.clone == "Tirna Dawn");
  CHECK(driver.ui().clones.descent.tree->tags.size() == 3);
  CHECK(house.book->batch(house.chips)->clone == "Tirna Dawn");
  driver.tap("undo");
  CHECK(house.book->batch(house.chips)->clone == "Tirna Red");
  CHECK(driver.ui().about.clone == "Tirna Red");
  CHECK(driver.has(house.tag(house.stock)));
}

TEST_CASE("a batch whose beginning is taken back while it is open says so, and leads on") {
  House house;
  drive::Driver driver(*house.book, house.host);
  house.open(driver);
  driver.tap(house.tag(house.offsets));
  for (const StoryLine& line : house.book->story(house.offsets)) {
    if (std::holds_alternative<Begun>(line.fact))
      make::must(house.book->run(TakeBack{"Bo", house.offsets, line.key, "by mistake"}));
  }
  driver.session->ask_for_frame();
  driver.settle();
  CHECK(driver.has("other"));
  driver.tap("other");
  CHECK(driver.ui().screen == Screen::clones);
}

TEST_CASE("many clones are looked for by letters and by genus") {
  House house;
  for (const char* name : {"Amber", "Barnacle", "Cinder", "Dulse", "Eider", "Fulmar", "Gannet"}) {
    Begun fact = make::begun(name, Method::growing_on, make::lines({{"8-10", 2}}));
    fact.genus = "Narcissus";
    make::tap(*house.book, BatchId{}, 0, fact);
  }
  drive::Driver driver(*house.book, house.host, {800, 1280});
  driver.tap("link:clones");
  CHECK(driver.ui().clones.picture.rows.size() == 9);
  driver.tap("genus:Hippeastrum");
  CHECK(driver.ui().clones.picture.rows.size() == 2);
  driver.tap("genus:all");
  driver.tap("search");
  driver.tap("letter:E");
  driver.tap("letter:R");
  driver.tap("search:done");
  CHECK(driver.ui().clones.picture.rows.size() == 3);  // Amber, Cinder, Eider: folded, anywhere in the name
  CHECK(driver.has("clone:Amber:Narcissus"));
  driver.tap("search");
  CHECK(driver.ui().clones.picture.rows.size() == 9);
}

TEST_CASE("a tree stands by years, each child behind its parent, without overlaps, rings and all") {
  DescentTree tree;
  const auto add = [&](std::int32_t year, std::optional<std::size_t> parent) {
    DescentTag tag;
    tag.year = year;
    tag.parent = parent;
    tag.weight = 1;
    tree.tags.push_back(tag);
  };
  add(2019, std::nullopt);
  add(2021, 0);
  add(2021, 0);
  add(2023, 1);
  add(2023, 1);
  add(2023, 2);
  add(2025, 3);
  add(2026, 5);  // beside 2025: its parent is not in that column
  add(2026, 7);  // in one year with its parent
  add(2020, 10);
  add(2020, 9);  // a ring of two
  tree.arrange(false);
  CHECK(tree.listed.size() == tree.tags.size());
  for (std::size_t i = 0; i < tree.tags.size(); ++i) {
    const DescentTag& tag = tree.tags[i];
    if (tag.parent) CHECK(tree.tags[*tag.parent].column < tag.column);
    for (std::size_t k = i + 1; k < tree.tags.size(); ++k) {
      if (tree.tags[k].column == tag.column) CHECK(std::abs(tree.tags[k].slot - tag.slot) >= 0.999F);
    }
  }
  CHECK(tree.tags[6].column == tree.tags[7].column);
  const DescentColumn& last = tree.columns[tree.tags[6].column];
  CHECK(last.first_year == 2025);
  CHECK(last.last_year == 2026);
  tree.arrange(true);
  CHECK(tree.tags[6].column + 1 == tree.tags[7].column);  // a column for every year
}

TEST_CASE("clones, descent, batch and renaming in every size and theme") {
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
      for (int i = 0; i < 30 && !(driver.has("link:clones") && driver.target("link:clones").whole); ++i) {
        driver.wheel({static_cast<float>(size.width) / 2, static_cast<float>(size.height) / 2}, -2);
      }
      driver.tap("link:clones");
      drive::check_scene(driver, "clones" + end);
      driver.tap("clone:Harbour Ember:Hippeastrum");
      drive::check_scene(driver, "clone" + end);
      driver.tap(drive::first_named(driver, "batch:26B001"));
      drive::check_scene(driver, "clone-batch" + end);
      driver.key(SDLK_ESCAPE);
      for (int i = 0; i < 30 && !(driver.has("rename") && driver.target("rename").whole); ++i) {
        driver.wheel({static_cast<float>(size.width) / 2, static_cast<float>(size.height) / 2}, -2);
      }
      driver.tap("rename");
      driver.type("!");
      drive::check_scene(driver, "clone-rename" + end);
    }
  }
}

}  // namespace motherbulb

// What the cuts of a clone gave: counted, estimated and compared as the core does it.

#include <algorithm>

#include "app/screens/outlook/parts.hpp"
#include "app/yields_picture.hpp"
#include "core/science/after_cut.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/book_yields.hpp"
#include "core/science/growth_classes.hpp"
#include "core/science/yield_file.hpp"
#include "tests/screens/outlook_scenes.hpp"

namespace motherbulb {
namespace {

using ahead_scenes::open_clone;
using ahead_scenes::says;
using drive::check_scene;
using drive::find_and_tap;
using drive::Size;
using drive::sizes;
using drive::wish_of;
using make::AheadHouse;

}  // namespace

TEST_CASE("what the cuts gave is counted, and each count leads to its pots") {
  for (const Size& size : sizes) {
    CAPTURE(size.text());
    AheadHouse house;
    drive::Driver driver(*house.book, house.host, wish_of(size));
    open_clone(driver, house.clone);
    find_and_tap(driver, "yields");
    REQUIRE(driver.ui().screen == Screen::yields);
    const auto& picture = driver.ui().outlook.yields.picture;
    REQUIRE(picture);
    REQUIRE(picture->ways.size() == 1);
    const YieldRow& row = picture->ways[0].row;
    // By hand: 12 sections went in, 10 of 12 alive, 2 rotten, 14 bulblets.
    CHECK(row.sections == 12);
    CHECK(row.alive == 10);
    CHECK(row.alive_of == 12);
    CHECK(row.dead[static_cast<std::size_t>(Cause::rot)] == 2);
    CHECK(total(row.bulblets) == 14);
    CHECK(says(driver, "Chipping into 8"));
    CHECK(says(driver, "14 bulblets"));
    check_scene(driver, "yields-one-" + size.text() + "-day", true);
    // One way alone shows its pots.
    REQUIRE(driver.ui().outlook.opened == 0);
    const std::string pot = "yield:pot:0:" + house.book->batch(house.chips)->label + "/1:0";
    find_and_tap(driver, pot);
    CHECK(driver.ui().screen == Screen::pot);
    REQUIRE(driver.ui().about.pots.size() == 1);
    CHECK(driver.ui().about.pots[0] == PotId{house.chips, 1});
  }
}

TEST_CASE("the estimates and the comparison of ways are those of the core, from the same book") {
  AheadHouse house;
  drive::Driver driver(*house.book, house.host, wish_of({800, 1280}));
  open_clone(driver, house.clone);
  find_and_tap(driver, "yields");
  const auto& picture = driver.ui().outlook.yields.picture;
  REQUIRE(picture);
  REQUIRE(picture->ways.size() == 1);
  const YieldsOfWay& way = picture->ways[0];
  const YieldRecords records = yield_records(make::must(past_facts(*house.book)));
  const auto methods = yields_by_method(records);
  REQUIRE(methods.size() == 1);
  const YieldFile file = yield_file(methods[0], house.clone);
  const auto answers = yields(file.priors, file.pots, file.asks);
  REQUIRE(answers.size() == 1);
  REQUIRE(way.row.answer);
  CHECK(way.row.answer->per_mother.mean == answers[0].per_mother.mean);
  CHECK(way.row.answer->per_mother.p5 == answers[0].per_mother.p5);
  CHECK(way.row.answer->per_mother.p95 == answers[0].per_mother.p95);
  CHECK(way.row.answer->from_records == answers[0].from_records);
  CHECK(says(driver, "about " + ahead::few_words(answers[0].per_mother.mean)));

  const CutGiver gives = cut_givers_of(records)(house.clone, "Hippeastrum");
  const GrowthModel growth =
      make::must(growth_model_of(*house.book, house.clone, driver.ui().outlook.yields.basis->on, gives));
  std::vector<Grade> grades;
  for (const ClassGrowth& one : growth.classes) grades.push_back(one.grade);
  const std::size_t mother = class_of(grades, picture->mother);
  const auto given = gives(Method::chipping, 8, grades);
  REQUIRE(given);
  CHECK(way.saleable == saleable_after_cut(growth, *given, mother, most_seasons_asked));
  CHECK(picture->left_whole == saleable_left_whole(growth, mother, most_seasons_asked));
  CHECK(says(driver, ahead::few_words(way.saleable[3])));
  driver.tap("compared:more");
  CHECK(says(driver, ahead::few_words(way.saleable[4])));
}

}  // namespace motherbulb

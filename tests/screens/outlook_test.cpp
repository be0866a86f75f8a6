// The outlook of a clone, its plan and what its cuts gave: the geometry of their pictures, and the screens driven by
// real events in the real window.

#include <algorithm>
#include <cmath>

#include "app/screens/outlook/parts.hpp"
#include "app/widgets/chance.hpp"
#include "app/widgets/fan.hpp"
#include "app/widgets/ladder.hpp"
#include "app/widgets/size_columns.hpp"
#include "app/widgets/smooth.hpp"
#include "app/yields_picture.hpp"
#include "core/science/advice.hpp"
#include "core/science/after_cut.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/book_plan.hpp"
#include "core/science/book_yields.hpp"
#include "core/science/growth_classes.hpp"
#include "core/science/yield_file.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Demo;
using drive::find_and_tap;
using drive::Size;
using drive::sizes;
using drive::wheel;
using drive::wish_of;

// Types a limit on the keys that `name` opens.
void type_limit(drive::Driver& driver, const std::string& name, std::int64_t limit) {
  find_and_tap(driver, name);
  for (const char digit : std::to_string(limit)) driver.tap(std::string("key:") + digit);
  driver.tap("typed:keep");
}

void open_list(drive::Driver& driver) {
  driver.tap("bar:start");
  find_and_tap(driver, "link:outlook");
  REQUIRE(driver.ui().screen == Screen::outlook);
}

void open_clone(drive::Driver& driver, const std::string& clone) {
  open_list(driver);
  find_and_tap(driver, "ahead:" + clone + ":Hippeastrum");
  REQUIRE(driver.ui().screen == Screen::clone_outlook);
}

bool says(const drive::Driver& driver, const std::string& words) {
  const auto written = driver.app->fonts().written();
  return std::any_of(written.begin(), written.end(), [&](const auto& one) { return one.words == words; });
}

// Five bulbs of one clone on two benches; of three mothers chipped into 8 two pots of 12 sections: one unpotted with 10
// alive, 2 rotten and 14 bulblets, the other still growing.
struct House {
  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  BatchId bulbs, chips;
  const std::string clone = "Tirna Red";

  House() {
    bulbs = make::begin_bulbs(*book, clone, make::lines({{"22-24", 3}, {"16-18", 2}}));
    make::tap(*book, bulbs, 1, make::bulbs_potted(make::lines({{"22-24", 3}}), "house 1, bench 1, no. 1"));
    make::tap(*book, bulbs, 2, make::bulbs_potted(make::lines({{"16-18", 2}}), "house 1, bench 2, no. 1"));
    chips = make::begin_batch(*book, clone, 3, 8);
    make::tap(*book, chips, 1, make::pieces_potted(12, "house 1, bench 1, no. 2"));
    make::tap(*book, chips, 2, make::pieces_potted(12, "house 1, bench 1, no. 3"));
    host.advance_minutes(200 * 24 * 60);
    make::tap(*book, chips, 1, make::unpotted(make::lines({{"-2", 10}, {"2-4", 4}}), 10, make::dead(Cause::rot, 2)));
  }
};

// What the core says of the same book on that day, without anything of the app.
std::vector<PlanClone> clones_by_core(const Logbook& book, const std::string& clone, Day on) {
  auto facts = make::must(past_facts(book));
  const CutGivers gives = cut_givers_of(yield_records(facts));
  return make::must(plan_clones_of(book, book_on_day(book, on, std::move(facts)), clone, gives));
}

SeasonWish wish_by_hand(std::int64_t target, std::size_t seasons) {
  SeasonWish wish;
  wish.target = target;
  wish.seasons = seasons;
  wish.sure = 0.8;
  return wish;
}

// The mothers of 22 to 24 cm that season 1 does that with.
double mothers_of(const SeasonPlan& plan, PlanActKind kind) {
  double mothers = 0;
  for (const SeasonAct& act : plan.acts) {
    const SeasonActMeaning& meaning = plan.meanings[act.act];
    if (act.season == 1 && meaning.kind == kind && meaning.grade && meaning.grade->low_mm == 220) mothers += act.count;
  }
  return mothers;
}

void open_plan(drive::Driver& driver, const std::string& clone) {
  open_clone(driver, clone);
  find_and_tap(driver, "plan:limits");
  REQUIRE(driver.ui().screen == Screen::season_plan);
}

}  // namespace

TEST_CASE("a hundred bulbs are none only where there is no chance, and all only where it is certain") {
  CHECK(in_a_hundred(0) == 0);
  CHECK(in_a_hundred(0.0001) == 1);
  CHECK(in_a_hundred(0.724) == 72);
  CHECK(in_a_hundred(0.9999) == 99);
  CHECK(in_a_hundred(1) == 100);
}

TEST_CASE("small chances are said as one in so many, with the two figures that are known of them") {
  CHECK(ahead::chance_words(0.72) == "72 in 100");
  CHECK(ahead::chance_words(1.0 / 160) == "1 in 160");
  CHECK(ahead::chance_words(1.0 / 15432) == "1 in 15,000");
  CHECK(ahead::chance_words(1e-9) == "under 1 in a million");
  CHECK(ahead::chance_words(0) == "no chance");
}

TEST_CASE("numbers of sources are not shown to whoever has no list of them") {
  CHECK(ahead::without_numbers_of_sources("5 % are lost (S76: 4 to 6 % a year).") ==
        "5 % are lost (a published trial: 4 to 6 % a year).");
  CHECK(ahead::without_numbers_of_sources("as usual (S01, S04, S06)") == "as usual (published trials)");
  CHECK(ahead::without_numbers_of_sources("S38b: three to four years") == "a published trial: three to four years");
  CHECK(ahead::without_numbers_of_sources("about 23 (as published (S01, S04)).") == "about 23 (as published).");
  CHECK(ahead::without_numbers_of_sources("S36, weak") == "a published trial, weak");
  CHECK(ahead::without_numbers_of_sources("Sown in S, BS12 and Skarn") == "Sown in S, BS12 and Skarn");
}

TEST_CASE("where there is no room for all sizes the smallest go together, and no bulb is left out") {
  const BulbsByGrade all{
      {make::grade("-2"), 3}, {make::grade("2-4"), 5}, {make::grade("4-6"), 7}, {make::grade("6+"), 1}, {Grade{}, 2}};
  CHECK(sizes_together(all, 5) == all);
  CHECK(sizes_together(all, 3) == BulbsByGrade{{make::grade("-6"), 15}, {make::grade("6+"), 1}, {Grade{}, 2}});
  CHECK(total(sizes_together(all, 1)) == 18);
}

TEST_CASE("a target goes up and down by steps that are easily said") {
  CHECK(next_target(8, true) == 9);
  CHECK(next_target(10, true) == 12);
  CHECK(next_target(45, true) == 50);
  CHECK(next_target(100, true) == 120);
  CHECK(next_target(432, true) == 450);
  CHECK(next_target(100, false) == 90);
  CHECK(next_target(432, false) == 400);
  CHECK(next_target(1, false) == 1);
  CHECK(next_target(most_target, true) == most_target);
  for (std::int64_t target = 1; target < 2000; target += 7) {
    CAPTURE(target);
    CHECK(next_target(target, true) > target);
    CHECK(next_target(next_target(target, true), false) <= target);
  }
}

TEST_CASE("a smooth line runs through its points and never beyond them") {
  const SmoothLine line({0, 1, 1, 10, 4});
  for (std::size_t i = 0; i < 5; ++i)
    CHECK(line.at(static_cast<double>(i)) == std::vector<double>({0, 1, 1, 10, 4})[i]);
  CHECK(line.at(-1) == 0);
  CHECK(line.at(9) == 4);
  double before = 0;
  for (double at = 0; at <= 3; at += 0.01) {
    CHECK(line.at(at) >= before);
    CHECK(line.at(at) <= 10);
    before = line.at(at);
  }
  CHECK(line.at(1.5) == 1);
  // Through points on a straight line it is that line.
  CHECK(SmoothLine({2, 4, 6, 8}).at(1.25) == doctest::Approx(4.5));
}

TEST_CASE("the fan's lines are numbers that are easily read, at most five, and the top holds all") {
  CHECK(fan_scale(1040).step == 200);  // as in the look: 0 to 1,000 by 200
  CHECK(fan_scale(9).step == 2);
  CHECK(fan_scale(620).step == 200);
  CHECK(fan_scale(0).top > 0);
  for (double most = 0.3; most < 1e9; most *= 1.37) {
    CAPTURE(most);
    const FanScale scale = fan_scale(most);
    CHECK(scale.top >= most);
    CHECK(scale.top / scale.step < 6);
    CHECK(scale.top >= scale.step);
    CHECK(scale.step == std::floor(scale.step));
  }
}

TEST_CASE("words at the fan's end stand apart and inside, in the order of the lines") {
  const std::array<float, 5> together = fan_end_words({100, 100, 100, 100, 100}, 20, 0, 300);
  CHECK(together == std::array<float, 5>{100, 120, 140, 160, 180});
  const std::array<float, 5> low = fan_end_words({290, 290, 290, 290, 290}, 20, 0, 300);
  CHECK(low == std::array<float, 5>{220, 240, 260, 280, 300});
  const std::array<float, 5> free = fan_end_words({10, 60, 110, 160, 210}, 20, 0, 300);
  CHECK(free == std::array<float, 5>{10, 60, 110, 160, 210});
}

TEST_CASE("the ladder shows every season where there is room, and else every second") {
  // The look: six seasons on 334 dp by 62 are 2026, 2028, 2030; on 612 all of them.
  CHECK(ladder_seasons(6, 334, 62) == std::vector<std::size_t>{0, 2, 4});
  CHECK(ladder_seasons(6, 612, 62) == std::vector<std::size_t>{0, 1, 2, 3, 4, 5});
  CHECK(ladder_seasons(6, 20, 62) == std::vector<std::size_t>{0});
  // Widths are true: half as many are half as wide.
  CHECK(ladder_half_width(200, 400, 30) == doctest::Approx(15));
  CHECK(ladder_half_width(400, 400, 30) == doctest::Approx(30));
  CHECK(ladder_half_width(0, 400, 30) > 0);
  CHECK(ladder_half_width(0, 0, 30) > 0);
}

TEST_CASE("the chance on the screen is the one that the outlook of the model gives") {
  House house;
  drive::Driver driver(*house.book, house.host, wish_of({1280, 800}));
  open_clone(driver, house.clone);
  const OutlookDraft& draft = driver.ui().outlook;
  REQUIRE(draft.ahead.picture);
  REQUIRE(draft.shown);
  REQUIRE(draft.shown->chance);
  for (int taps = 0; taps < 3; ++taps) {
    OutlookWish wish;
    wish.seasons = draft.ahead.picture->seasons;
    wish.target = draft.shown->wanted.target;
    const Outlook by_core = make::must(outlook(draft.ahead.picture->known.growth.model, wish));
    const OutlookSeason& then = by_core.seasons[draft.shown->wanted.season - 1];
    REQUIRE(then.p_target);
    CHECK(*draft.shown->chance == doctest::Approx(*then.p_target));
    CHECK(says(driver, std::to_string(in_a_hundred(*then.p_target))));
    driver.tap(taps == 0 ? "target:more" : "season:more");
  }
}

TEST_CASE("what is wanted changes by taps without reckoning anew, and less is the surer the more is wanted") {
  for (const Size& size : sizes) {
    CAPTURE(size.text());
    House house;
    drive::Driver driver(*house.book, house.host, wish_of(size));
    open_clone(driver, house.clone);
    const OutlookDraft& draft = driver.ui().outlook;
    const auto picture = draft.ahead.picture;
    REQUIRE(picture);
    const std::int64_t target = draft.shown->wanted.target;
    const double chance = *draft.shown->chance;
    driver.tap("target:more");
    driver.tap("target:more");
    CHECK(draft.shown->wanted.target == next_target(next_target(target, true), true));
    CHECK(*draft.shown->chance <= chance);
    driver.tap("season:more");
    CHECK(draft.shown->wanted.season == 5);
    driver.tap("season:less");
    driver.tap("target:less");
    driver.tap("target:less");
    CHECK(draft.shown->wanted.target == target);
    CHECK(*draft.shown->chance == chance);
    // Typed.
    driver.tap("target:type");
    driver.tap("key:1");
    driver.tap("key:2");
    driver.tap("key:0");
    check_scene(driver, "outlook-typing-" + size.text() + "-day", true);
    driver.tap("typed:keep");
    CHECK(draft.shown->wanted.target == 120);
    CHECK(draft.ahead.picture == picture);
    // It is remembered when one comes again.
    open_clone(driver, house.clone);
    CHECK(draft.shown->wanted.target == 120);
    CHECK(draft.ahead.picture == picture);
  }
}

TEST_CASE("stopped, the screen says so and reckons again when asked") {
  House house;
  drive::Driver driver(*house.book, house.host, wish_of({800, 1280}));
  open_list(driver);
  driver.app->set_breathe([](double) { return false; });
  driver.tap("ahead:" + house.clone + ":Hippeastrum");
  CHECK(driver.ui().outlook.ahead.stopped);
  CHECK_FALSE(driver.ui().outlook.ahead.picture);
  check_scene(driver, "outlook-stopped-800x1280-day", true);
  driver.app->set_breathe([](double) { return true; });
  driver.tap("again");
  CHECK(driver.ui().outlook.ahead.picture);
  CHECK_FALSE(driver.ui().outlook.ahead.stopped);
}

TEST_CASE("when the book changes the years ahead are reckoned anew, and where nothing stands that is said") {
  House house;
  drive::Driver driver(*house.book, house.host, wish_of({1280, 800}));
  open_clone(driver, house.clone);
  const auto before = driver.ui().outlook.ahead.picture;
  make::tap(*house.book, house.bulbs, 1, make::lost(Cause::rot, 3));
  wheel(driver, -1);
  driver.settle();
  CHECK(driver.ui().outlook.ahead.picture);
  CHECK(driver.ui().outlook.ahead.picture != before);
}

TEST_CASE("where nothing of the clone stands any more the screen says so, with one act") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("one.book"), host);
  const BatchId one = make::begin_bulbs(*book, "Tirna Red", make::lines({{"22-24", 1}}));
  make::tap(*book, one, 1, make::bulbs_potted(make::lines({{"22-24", 1}}), "house 1, bench 1"));
  drive::Driver driver(*book, host, wish_of({800, 1280}));
  open_clone(driver, "Tirna Red");
  check_scene(driver, "outlook-one-bulb-800x1280-day", true);
  make::tap(*book, one, 1, make::lost(Cause::rot, 1));
  wheel(driver, -1);
  driver.settle();
  REQUIRE(driver.ui().outlook.ahead.picture);
  CHECK(driver.ui().outlook.ahead.picture->nothing_stands());
  check_scene(driver, "outlook-nothing-800x1280-day", true);
  driver.tap("cut");
  CHECK(driver.ui().screen == Screen::cut);
}

TEST_CASE("an empty book has one sentence and one act on the outlook") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("empty.book"), host);
  for (const Size& size : sizes) {
    drive::Driver driver(*book, host, wish_of(size));
    open_list(driver);
    check_scene(driver, "empty-outlook-" + size.text() + "-day", true);
    driver.tap("cut");
    CHECK(driver.ui().screen == Screen::cut);
  }
}

TEST_CASE("the plan on the screen is the one that the core finds, and follows what is wanted") {
  House house;
  drive::Driver driver(*house.book, house.host, wish_of({800, 1280}));
  open_clone(driver, house.clone);
  const OutlookDraft& draft = driver.ui().outlook;
  const auto clones = clones_by_core(*house.book, house.clone, draft.ahead.basis->on);
  for (int taps = 0; taps < 2; ++taps) {
    REQUIRE(draft.planned.picture);
    CHECK(draft.planned.made_for == draft.shown->wanted);
    const SeasonPlan& shown = draft.planned.picture->plan;
    const SeasonPlan by_core =
        make::must(season_plan(clones, wish_by_hand(draft.shown->wanted.target, draft.shown->wanted.season)));
    CHECK(shown.plan.feasible);
    REQUIRE(shown.plan.objective);
    CHECK(*shown.plan.objective == doctest::Approx(*by_core.plan.objective));
    CHECK(shown.chance == by_core.chance);
    CHECK(shown.pots == by_core.pots);
    // Every mother is cut, grown on or sold.
    CHECK(mothers_of(shown, PlanActKind::cuts) + mothers_of(shown, PlanActKind::keeps) +
              mothers_of(shown, PlanActKind::sells) ==
          3);
    CHECK(mothers_of(shown, PlanActKind::cuts) == mothers_of(by_core, PlanActKind::cuts));
    CHECK(draft.planned.picture->advice == advice_of(clones, by_core));
    driver.tap("target:more");
  }
}

TEST_CASE("a limit that is changed plans anew, within it") {
  for (const Size& size : {Size{360, 740}, Size{800, 1280}, Size{1280, 800}}) {
    CAPTURE(size.text());
    House house;
    drive::Driver driver(*house.book, house.host, wish_of(size));
    open_plan(driver, house.clone);
    const OutlookDraft& draft = driver.ui().outlook;
    REQUIRE(draft.planned.picture);
    const double free = draft.planned.picture->plan.pots;
    check_scene(driver, "plan-" + size.text() + "-day", true);
    find_and_tap(driver, "pots:less");
    REQUIRE(draft.planned.made_for.pots);
    CHECK(static_cast<double>(*draft.planned.made_for.pots) >= free);
    // With less than that it takes no more than there is, or says that it cannot be.
    type_limit(driver, "pots:type", static_cast<std::int64_t>(free) - 1);
    REQUIRE(draft.planned.picture);
    const SeasonPlan& tight = draft.planned.picture->plan;
    CHECK((!tight.plan.feasible || tight.pots <= free - 1 + 1e-6));
    CHECK(draft.planned.tried == draft.planned.made_for);
    find_and_tap(driver, "pots:type");
    driver.tap("typed:none");
    CHECK_FALSE(draft.planned.made_for.pots);
    CHECK(draft.planned.picture->plan.pots == free);
    // With no pot at all there is no plan, and the screen says by how much.
    type_limit(driver, "pots:type", 1);
    find_and_tap(driver, "pots:less");
    CHECK(draft.planned.made_for.pots == 0);
    REQUIRE(draft.planned.picture);
    CHECK_FALSE(draft.planned.picture->plan.plan.feasible);
    CHECK_FALSE(draft.planned.picture->plan.plan.in_the_way.empty());
    check_scene(driver, "plan-none-" + size.text() + "-day", true);
    find_and_tap(driver, "pots:type");
    driver.tap("key:4");
    driver.tap("key:0");
    check_scene(driver, "plan-typing-" + size.text() + "-day", true);
    driver.tap("typed:keep");
    CHECK(draft.planned.made_for.pots == 40);
    // The others.
    find_and_tap(driver, "sure:more");
    CHECK(draft.planned.made_for.sure_percent == 90);
    find_and_tap(driver, "reserve:more");
    CHECK(draft.planned.made_for.reserve == 1);
    CHECK(mothers_of(draft.planned.picture->plan, PlanActKind::keeps) >= 1);
    find_and_tap(driver, "goal:soonest");
    CHECK(draft.planned.made_for.soonest);
    CHECK(draft.planned.picture->plan.task.goal.kind == PlanGoalKind::fewest_seasons_to);
    check_scene(driver, "plan-soonest-" + size.text() + "-day", true);
  }
}

TEST_CASE("while a plan is worked out the screen lives: it shows how far it is, and Stop stops it") {
  House house;
  drive::Driver driver(*house.book, house.host, wish_of({800, 1280}));
  open_plan(driver, house.clone);
  const OutlookDraft& draft = driver.ui().outlook;
  const auto before = draft.planned.picture;
  bool stopped = false;
  driver.app->set_breathe([&](double) {
    if (stopped) return true;
    // The same screen, with its limits, and what is under way.
    driver.session->ask_for_frame();
    driver.wait(1);
    if (!driver.has("plan:stop")) return true;
    CHECK(driver.has("sure:less"));
    check_scene(driver, "plan-working-800x1280-day", true);
    stopped = true;
    driver.tap("plan:stop");
    return true;
  });
  find_and_tap(driver, "target:more");
  CHECK(stopped);
  CHECK_FALSE(draft.working);
  // What was there stays, and is said to be of something else; it is planned again when asked for.
  CHECK(draft.planned.picture == before);
  CHECK(draft.planned.stopped);
  CHECK_FALSE(draft.planned.made_for == draft.planned.tried);
  check_scene(driver, "plan-stopped-800x1280-day", true);
  find_and_tap(driver, "plan:make");
  CHECK_FALSE(draft.planned.stopped);
  CHECK(draft.planned.made_for == draft.planned.tried);
  CHECK(draft.planned.picture != before);
}

TEST_CASE("what is changed while a plan is worked out gives that plan up for the next") {
  House house;
  drive::Driver driver(*house.book, house.host, wish_of({800, 1280}));
  open_plan(driver, house.clone);
  const OutlookDraft& draft = driver.ui().outlook;
  const std::int64_t target = draft.planned.made_for.target;
  int times = 0;
  driver.app->set_breathe([&](double) {
    if (times > 0) return true;
    driver.session->ask_for_frame();
    driver.wait(1);
    if (!driver.has("plan:stop")) return true;
    ++times;
    SDL_Delay(90);  // so that it is no second touch of the same tap
    driver.tap("target:more");
    return true;
  });
  find_and_tap(driver, "target:more");
  driver.settle();
  CHECK(times == 1);
  CHECK_FALSE(draft.working);
  CHECK(draft.planned.made_for.target == next_target(next_target(target, true), true));
  CHECK_FALSE(draft.planned.stopped);
  // And whoever leaves meanwhile is let go.
  times = 0;
  driver.app->set_breathe([&](double) {
    if (times > 0) return true;
    driver.session->ask_for_frame();
    driver.wait(1);
    if (!driver.has("plan:stop")) return true;
    ++times;
    driver.tap("bar:pots");
    return true;
  });
  find_and_tap(driver, "target:more");
  driver.settle();
  CHECK(driver.ui().screen == Screen::pots);
  CHECK_FALSE(draft.working);
}

TEST_CASE("do this makes the cutting session of the plan, and what is kept of it is planned for no more") {
  for (const Size& size : {Size{360, 740}, Size{1280, 800}}) {
    CAPTURE(size.text());
    House house;
    drive::Driver driver(*house.book, house.host, wish_of(size));
    open_plan(driver, house.clone);
    const OutlookDraft& draft = driver.ui().outlook;
    REQUIRE(draft.planned.picture);
    const SeasonPlan plan = draft.planned.picture->plan;
    const auto cut = std::find_if(plan.acts.begin(), plan.acts.end(), [&](const SeasonAct& act) {
      return act.season == 1 && plan.meanings[act.act].kind == PlanActKind::cuts;
    });
    REQUIRE(cut != plan.acts.end());
    const SeasonActMeaning& meaning = plan.meanings[cut->act];
    find_and_tap(driver, "plan:do:0");
    CHECK(driver.ui().screen == Screen::cut);
    const CutDraft& session = driver.ui().cut;
    CHECK(session.clone == house.clone);
    CHECK(session.method == meaning.method);
    CHECK(session.sections == meaning.sections);
    // The mothers of 22 to 24 cm stand in the first pot.
    CHECK(session.parent == house.bulbs);
    CHECK(session.parent_pot == 1);
    CHECK(session.count() == mothers_of(plan, PlanActKind::cuts));
    check_scene(driver, "plan-session-" + size.text() + "-day", true);
    const std::int64_t entries = house.book->entry_count();
    driver.tap("keep");
    CHECK(house.book->entry_count() > entries);
    const auto before = draft.planned.picture;
    open_plan(driver, house.clone);
    REQUIRE(draft.planned.picture);
    CHECK(draft.planned.picture != before);
    CHECK(mothers_of(draft.planned.picture->plan, PlanActKind::cuts) <= 3 - mothers_of(plan, PlanActKind::cuts));
  }
}

TEST_CASE("all clones are planned together, as the core does it") {
  Demo demo;
  // Each takes its time: the other sizes and themes are looked at with one clone.
  for (const Size& size : {Size{360, 740}, Size{800, 1280}, Size{1280, 800}}) {
    const bool night = size.width == 800;
    CAPTURE(size.text());
    drive::Driver driver(*demo.book, demo.host, wish_of(size, night));
    // Its time runs out after so many looks at the clock, on every machine alike.
    driver.app->set_breathe([&](double) {
      demo.host.advance(100);
      return true;
    });
    open_list(driver);
    find_and_tap(driver, "plan:all");
    REQUIRE(driver.ui().screen == Screen::season_plan);
    const OutlookDraft& draft = driver.ui().outlook;
    CHECK_FALSE(draft.working);
    REQUIRE(draft.planned.picture);
    const auto clones = clones_by_core(*demo.book, "", draft.planned.basis->on);
    CHECK(draft.planned.picture->clones->size() == clones.size());
    const SeasonPlan& plan = draft.planned.picture->plan;
    CHECK(plan.task.start.size() >= clones.size());
    CHECK(holds(plan.task, plan.plan.acts, 1e-6));
    // What is wanted is what comes of all of them together as they are cut now.
    double together = 0;
    for (const PlanClone& one : clones) together += mean_saleable(one.growth.model, draft.planned.made_for.season);
    CHECK(static_cast<double>(draft.planned.made_for.target) <= together);
    CHECK(next_target(draft.planned.made_for.target, true) > static_cast<std::int64_t>(together));
    const std::string end = "-" + size.text() + (night ? "-night" : "-day");
    check_scene(driver, "plan-all" + end, true);
    for (int page = 1; page <= 3; ++page) {
      wheel(driver, -9);
      check_scene(driver, "plan-all-" + std::to_string(page) + end, true);
    }
  }
}

TEST_CASE("outlook, plan and yields are whole with text of twice the size") {
  for (const Size& size : {Size{800, 1280}, Size{1280, 800}}) {
    House house;
    drive::Wish wish = wish_of(size);
    wish.text_percent = 200;
    drive::Driver driver(*house.book, house.host, wish);
    const std::string end = "-" + size.text() + "-twice";
    open_clone(driver, house.clone);
    check_scene(driver, "outlook-clone" + end, true);
    for (int page = 1; page <= 5; ++page) {
      wheel(driver, -6);
      check_scene(driver, "outlook-clone-" + std::to_string(page) + end, true);
    }
    open_plan(driver, house.clone);
    check_scene(driver, "plan" + end, true);
    for (int page = 1; page <= 5; ++page) {
      wheel(driver, -6);
      check_scene(driver, "plan-" + std::to_string(page) + end, true);
    }
    open_clone(driver, house.clone);
    find_and_tap(driver, "yields");
    check_scene(driver, "yields" + end, true);
  }
}

TEST_CASE("what the cuts gave is counted, and each count leads to its pots") {
  for (const Size& size : sizes) {
    CAPTURE(size.text());
    House house;
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
  House house;
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

TEST_CASE("the outlook, the plan and the yields of the demo in every size and theme") {
  Demo demo;
  for (const Size& size : sizes) {
    for (const bool night : {false, true}) {
      drive::Driver driver(*demo.book, demo.host, wish_of(size, night));
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      open_list(driver);
      check_scene(driver, "outlook-list" + end);
      const std::string row = drive::first_named(driver, "ahead:");
      driver.tap(row);
      REQUIRE(driver.ui().outlook.ahead.picture);
      check_scene(driver, "outlook-clone" + end);
      for (int page = 1; page <= 4; ++page) {
        wheel(driver, -8);
        check_scene(driver, "outlook-clone-" + std::to_string(page) + end, true);
      }
      find_and_tap(driver, "yields");
      check_scene(driver, "yields" + end, true);
      wheel(driver, -9);
      check_scene(driver, "yields-lower" + end, true);
    }
  }
}

}  // namespace motherbulb

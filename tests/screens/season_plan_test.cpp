// The season's plan: on the screen stands what the core finds; it is worked out while the screen goes on, and stopped.

#include <algorithm>
#include <cmath>

#include "app/screens/outlook/parts.hpp"
#include "core/science/advice.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/book_plan.hpp"
#include "core/science/book_yields.hpp"
#include "tests/screens/outlook_scenes.hpp"

namespace motherbulb {
namespace {

using ahead_scenes::open_clone;
using ahead_scenes::open_list;
using ahead_scenes::open_plan;
using ahead_scenes::says;
using drive::check_scene;
using drive::Demo;
using drive::find_and_tap;
using drive::Size;
using drive::sizes;
using drive::wheel;
using drive::wish_of;
using make::AheadHouse;

// Types a limit on the keys that `name` opens.
void type_limit(drive::Driver& driver, const std::string& name, std::int64_t limit) {
  find_and_tap(driver, name);
  for (const char digit : std::to_string(limit)) driver.tap(std::string("key:") + digit);
  driver.tap("typed:keep");
}

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

}  // namespace

TEST_CASE("the plan on the screen is the one that the core finds, and follows what is wanted") {
  AheadHouse house;
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
    AheadHouse house;
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
  AheadHouse house;
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
  AheadHouse house;
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
    AheadHouse house;
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

}  // namespace motherbulb

// The growing plans and the editor of one, driven by real events, and looked up in the book afterwards.

#include "core/plans/plan_book.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

using drive::check_scene;
using drive::Demo;
using drive::Driver;
using drive::sizes;

constexpr const char* plan_id = "hippeastrum-growing-on";

void open_plans(Driver& driver) {
  driver.tap("bar:due");
  if (!driver.has("due:plans")) driver.tap("due:more");
  driver.tap("due:plans");
  REQUIRE(driver.ui().screen == Screen::plans);
}

void open_plan(Driver& driver) {
  open_plans(driver);
  find_and_tap(driver, std::string("plan:") + plan_id);
  REQUIRE(driver.ui().screen == Screen::plan);
}

const PlanStep* start_step(const GrowingPlan& plan) {
  return plan.step(Step::start, Of::bulbs);
}

}  // namespace

TEST_CASE("a plan's number is changed by a tap, kept for new batches, and undone") {
  for (const drive::Size& size : sizes) {
    CAPTURE(size.text());
    Demo demo;
    Driver driver(*demo.book, demo.host, {size.width, size.height});
    open_plan(driver);
    const std::int64_t entries = demo.book->entry_count();
    find_and_tap(driver, "step:start:bulbs");
    find_and_tap(driver, "plan:closes:more");
    CHECK(demo.book->entry_count() == entries);  // a draft is no entry
    find_and_tap(driver, "plan:keep-new");
    REQUIRE(demo.book->entry_count() == entries + 1);
    {
      // S39 has 10 weeks; one more is the grower's own. The batches of before keep the plan that they began under.
      const PlanBook plans(demo.book->story(BatchId{}));
      const GrowingPlan& plan = *plans.latest(plan_id)->plan;
      REQUIRE(start_step(plan) != nullptr);
      CHECK(start_step(plan)->closes->amount == 11);
      CHECK(start_step(plan)->closes->source == by_the_grower);
      CHECK(start_step(plan)->opens->amount == 8);
      CHECK_FALSE(plan.for_all);
      for (const BatchState& batch : demo.book->batches()) {
        if (batch.genus != "Hippeastrum") continue;
        const GrowingPlan* follows = plans.plan_for(batch, false);
        REQUIRE(follows != nullptr);
        CHECK(start_step(*follows)->closes->amount == 10);
      }
    }
    driver.tap("undo");
    CHECK(start_step(*PlanBook(demo.book->story(BatchId{})).latest(plan_id)->plan)->closes->amount == 10);
  }
}

TEST_CASE("a copy has a name of its own and leaves the plan that it was made of alone") {
  Demo demo;
  Driver driver(*demo.book, demo.host, {1280, 800});
  open_plan(driver);
  find_and_tap(driver, "plan:copy");
  driver.type("Slow ones");
  find_and_tap(driver, "plan:copy-keep");
  const PlanBook plans(demo.book->story(BatchId{}));
  int copies = 0;
  for (const PlanVersion* version : plans.latest()) {
    if (version->plan->name == "Slow ones") ++copies;
  }
  CHECK(copies == 1);
  CHECK(plans.latest(plan_id)->plan->name.empty());

  // The screen shows the copy, and a batch is told to follow it.
  REQUIRE(driver.ui().screen == Screen::plan);
  find_and_tap(driver, "plan:choose");
  std::string label;
  for (const BatchState& batch : demo.book->batches()) {
    if (label.empty() && driver.has("follow:" + batch.label)) label = batch.label;
  }
  REQUIRE_FALSE(label.empty());
  find_and_tap(driver, "follow:" + label);
  find_and_tap(driver, "plan:follow");
  int followers = 0;
  const PlanBook after(demo.book->story(BatchId{}));
  for (const BatchState& batch : demo.book->batches()) {
    const GrowingPlan* follows = after.plan_for(batch, false);
    if (follows == nullptr || follows->name != "Slow ones") continue;
    CHECK(batch.label == label);
    ++followers;
  }
  CHECK(followers == 1);
}

TEST_CASE("a step is left out and another added, for all that follow the plan; what must not be missed stays") {
  Demo demo;
  Driver driver(*demo.book, demo.host, {360, 740});
  open_plan(driver);
  find_and_tap(driver, "step:start:bulbs");
  CHECK_FALSE(driver.has("plan:leave-out"));
  find_and_tap(driver, "step:feed:bulbs");
  find_and_tap(driver, "plan:leave-out");
  find_and_tap(driver, "plan:keep-all");
  const auto plan_now = [&] { return *PlanBook(demo.book->story(BatchId{})).latest(plan_id)->plan; };
  CHECK(plan_now().step(Step::feed, Of::bulbs) == nullptr);
  CHECK(plan_now().for_all);
  find_and_tap(driver, "plan:add");
  find_and_tap(driver, "add:feed");
  find_and_tap(driver, "plan:keep-new");
  const GrowingPlan with_feed = plan_now();
  REQUIRE(with_feed.step(Step::feed, Of::bulbs) != nullptr);
  CHECK(with_feed.step(Step::feed, Of::bulbs)->every->source == by_the_grower);
}

TEST_CASE("what was changed and given up is as it was") {
  Demo demo;
  Driver driver(*demo.book, demo.host, {800, 1280});
  open_plan(driver);
  const std::int64_t entries = demo.book->entry_count();
  find_and_tap(driver, "step:start:bulbs");
  find_and_tap(driver, "plan:opens:less");
  find_and_tap(driver, "plan:give-up");
  CHECK(demo.book->entry_count() == entries);
  CHECK_FALSE(driver.ui().plan.changed);
}

TEST_CASE("plans by day and night in every size") {
  for (const bool night : {false, true}) {
    for (const drive::Size& size : sizes) {
      const std::string theme = night ? "-night" : "-day";
      Demo demo;
      Driver driver(*demo.book, demo.host, {size.width, size.height, night});
      open_plans(driver);
      check_scene(driver, "growing-plans-" + size.text() + theme);
      find_and_tap(driver, std::string("plan:") + plan_id);
      check_scene(driver, "growing-plan-" + size.text() + theme);
      find_and_tap(driver, "plan:copy");
      check_scene(driver, "growing-plan-copy-" + size.text() + theme);
      find_and_tap(driver, "plan:name-back");
      find_and_tap(driver, "plan:choose");
      check_scene(driver, "growing-plan-choose-" + size.text() + theme);
      find_and_tap(driver, "plan:choose-back");
      find_and_tap(driver, "plan:add");
      check_scene(driver, "growing-plan-add-" + size.text() + theme);
      find_and_tap(driver, "plan:add-back");
      find_and_tap(driver, "step:start:bulbs");
      find_and_tap(driver, "plan:closes:more");
      check_scene(driver, "growing-plan-changed-" + size.text() + theme);
    }
  }
}

}  // namespace motherbulb

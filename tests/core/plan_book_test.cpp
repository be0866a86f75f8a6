// Which growing plan a batch follows: its version, by the order of the fold, the same in every book.
#include "core/plans/plan_book.hpp"

#include <doctest/doctest.h>

#include "core/due/due.hpp"
#include "core/plans/plan_file.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

// The rest that a batch's plan asks for, in days.
std::int32_t rest_of(const Logbook& book, const BatchId& batch) {
  const PlanBook plans(book.story({}));
  const GrowingPlan* plan = plans.plan_for(*book.batch(batch), false);
  REQUIRE(plan != nullptr);
  return plan->step(Step::start, Of::bulbs)->opens->days();
}

GrowingPlan with_rest(std::int32_t weeks, bool for_all = false) {
  GrowingPlan plan = *PlanBook().latest("hippeastrum-growing-on")->plan;
  plan.for_all = for_all;
  for (PlanStep& step : plan.steps) {
    if (step.step != Step::start) continue;
    step.opens = Span{weeks, Span::In::weeks, std::string(by_the_grower)};
    step.closes = Span{weeks + 2, Span::In::weeks, std::string(by_the_grower)};
  }
  return plan;
}

PlanEdited edit(const GrowingPlan& plan) {
  return {plan.id, write_plan(plan)};
}

BatchId begin(Logbook& book, FakeHost& host) {
  host.advance_minutes(1);
  const Begun begun = make::begun("Tern Island", Method::growing_on, make::lines({{"26-28", 3}}));
  const BatchId batch = make::tap(book, {}, 0, begun).batch;
  make::tap(book, batch, 1, Potted{Unit::bulbs, make::lines({{"26-28", 3}}), "bench 1", ""});
  host.advance_minutes(1);
  return batch;
}

}  // namespace

TEST_CASE(
    "a batch keeps the plan that stood when it was begun; later ones follow the change, and a change for all reaches "
    "both") {
  make::Folder folder;
  FakeHost host{1, 1'794'476'400'000};
  auto book = make::new_book(folder.file("a.book"), host);
  const BatchId old_one = begin(*book, host);
  make::tap(*book, {}, 0, edit(with_rest(5)));
  const BatchId new_one = begin(*book, host);
  CHECK(rest_of(*book, old_one) == 8 * 7);  // as it came: S13
  CHECK(rest_of(*book, new_one) == 5 * 7);
  host.advance_minutes(1);
  const Receipt for_all = make::tap(*book, {}, 0, edit(with_rest(6, true)));
  CHECK(rest_of(*book, old_one) == 6 * 7);
  CHECK(rest_of(*book, new_one) == 6 * 7);
  // Taken back it holds no more.
  TakeBack back;
  back.fact = for_all.fact;
  back.helper = "Runa";
  make::must(book->run(back));
  CHECK(rest_of(*book, old_one) == 8 * 7);
  CHECK(rest_of(*book, new_one) == 5 * 7);
}

TEST_CASE("a batch follows the copy that a person names, and its own plan where one is given") {
  make::Folder folder;
  FakeHost host{1, 1'794'476'400'000};
  auto book = make::new_book(folder.file("a.book"), host);
  const BatchId one = begin(*book, host), other = begin(*book, host);
  GrowingPlan copy = with_rest(11);
  copy.id = "hippeastrum-growing-on-cool-house";
  copy.name = "cool house";
  make::tap(*book, {}, 0, edit(copy));
  CHECK(rest_of(*book, begin(*book, host)) == 8 * 7);  // a copy is followed by nobody by itself
  make::tap(*book, one, 0, PlanEdited{copy.id, ""});
  CHECK(rest_of(*book, one) == 11 * 7);
  CHECK(rest_of(*book, other) == 8 * 7);
  // A later change of the copy is for those told later.
  host.advance_minutes(1);
  GrowingPlan changed = copy;
  for (PlanStep& step : changed.steps) {
    if (step.step == Step::start) step.opens->amount = 12;
  }
  make::tap(*book, {}, 0, edit(changed));
  make::tap(*book, other, 0, PlanEdited{copy.id, ""});
  CHECK(rest_of(*book, one) == 11 * 7);
  CHECK(rest_of(*book, other) == 12 * 7);
  GrowingPlan own = with_rest(3);
  make::tap(*book, one, 0, edit(own));
  CHECK(rest_of(*book, one) == 3 * 7);
}

TEST_CASE("two books that were merged in either order give each batch the same plan") {
  make::Folder folder;
  FakeHost ours{1, 1'794'476'400'000}, theirs{2, 1'794'476'400'000};
  auto a = make::new_book(folder.file("a.book"), ours, "A");
  auto b = make::new_book(folder.file("b.book"), theirs, "B");
  std::vector<BatchId> batches{begin(*a, ours)};
  make::tap(*a, {}, 0, edit(with_rest(5)));
  theirs.set_now(ours.now_ms() + 30'000);
  make::tap(*b, {}, 0, edit(with_rest(6)));
  batches.push_back(begin(*b, theirs));
  ours.set_now(theirs.now_ms() + 1);
  batches.push_back(begin(*a, ours));
  theirs.set_now(ours.now_ms());  // clocks that agree: no entry says that one is off
  const auto from_a = make::parcel(*a), from_b = make::parcel(*b);
  make::merge(*a, from_b);
  make::merge(*b, from_a);
  CHECK(a->digest() == b->digest());
  for (const BatchId& batch : batches) CHECK(rest_of(*a, batch) == rest_of(*b, batch));
  CHECK(rest_of(*a, batches[0]) == 8 * 7);
  CHECK(rest_of(*a, batches[1]) == 6 * 7);
  CHECK(rest_of(*a, batches[2]) == 6 * 7);
}

TEST_CASE("a plan that this build cannot read is told, and the one before it holds; one that it lacks is named") {
  make::Folder folder;
  FakeHost host{1, 1'794'476'400'000};
  auto book = make::new_book(folder.file("a.book"), host);
  make::tap(*book, {}, 0, edit(with_rest(5)));
  make::tap(*book, {}, 0, PlanEdited{"hippeastrum-growing-on", R"({"plan": "x", "moon": "full"})"});
  const BatchId batch = begin(*book, host);
  CHECK(rest_of(*book, batch) == 5 * 7);
  CHECK(PlanBook(book->story({})).faults().size() == 1);
  make::tap(*book, batch, 0, PlanEdited{"narcissus-of-the-neighbour", ""});
  CHECK(rest_of(*book, batch) == 5 * 7);
  CHECK(PlanBook(book->story({})).missing_for(*book->batch(batch)) == "narcissus-of-the-neighbour");
}

TEST_CASE("dried off it rests once it is dry, three weeks on; watered at rest and started early are told once") {
  make::Folder folder;
  FakeHost host{1, 1'794'476'400'000};
  auto book = make::new_book(folder.file("a.book"), host);
  const BatchId batch = begin(*book, host);
  const auto at = [&](const char* day, Payload fact) {
    Record record = make::record(batch, 1, std::move(fact));
    record.when = make::when(day);
    make::must(book->run(record));
  };
  const auto pot = [&] { return *book->pot({batch, 1}); };
  const PlanBook plans;
  const auto stage = [&](const char* day) {
    return std::string(to_text(stage_on(plans, *book->batch(batch), pot(), *day_from_text(day))));
  };
  const Day filled = local_day(pot().filled_on);
  const auto after = [&](std::int32_t weeks) { return to_text(Day{filled.days + weeks * 7}); };
  at(after(40).c_str(), DriedOff{});
  CHECK(stage(after(42).c_str()) == "drying-off");
  CHECK(stage(after(43).c_str()) == "resting");
  CHECK_FALSE(oddity_of(plans, *book->batch(batch), pot()));
  at(after(44).c_str(), Watered{});
  auto odd = oddity_of(plans, *book->batch(batch), pot());
  REQUIRE(odd);
  CHECK(odd->kind == Oddity::Kind::watered_at_rest);
  at(after(46).c_str(), Started{});  // two weeks before the eight are over
  odd = oddity_of(plans, *book->batch(batch), pot());
  REQUIRE(odd);
  CHECK(odd->kind == Oddity::Kind::started_early);
  CHECK(odd->days == 14);
  CHECK(stage(after(46).c_str()) == "started");
}

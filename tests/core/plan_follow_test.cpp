// What a batch follows where devices differ, and what is due by it.
#include <doctest/doctest.h>

#include "core/due/due.hpp"
#include "core/plans/plan_book.hpp"
#include "core/plans/plan_file.hpp"
#include "tests/make.hpp"

namespace motherbulb {
namespace {

constexpr const char* of_bulbs = "hippeastrum-growing-on";

GrowingPlan shipped(const char* id) {
  return *PlanBook().latest(id)->plan;
}
GrowingPlan with_rest(std::int32_t weeks) {
  GrowingPlan plan = shipped(of_bulbs);
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
  const BatchId batch = make::begin_bulbs(book, "Tern Island", make::lines({{"26-28", 3}}));
  host.advance_minutes(1);
  make::tap(book, batch, 1, make::bulbs_potted(make::lines({{"26-28", 3}}), "bench 1"));
  host.advance_minutes(1);
  make::tap(book, batch, 1, DriedOff{});
  host.advance_minutes(1);
  return batch;
}
std::int32_t rest_of(const Logbook& book, const BatchId& batch) {
  const PlanBook plans(book.story({}));
  const GrowingPlan* plan = plans.plan_for(*book.batch(batch), false);
  REQUIRE(plan != nullptr);
  REQUIRE(plan->step(Step::start, Of::bulbs) != nullptr);
  return plan->step(Step::start, Of::bulbs)->opens->days();
}
// Everything due, told by what is the same in every book.
std::string told(const Logbook& book) {
  const PlanBook plans(book.story({}));
  std::string all;
  for (const BatchPots& one : book.batches_with_pots()) {
    std::vector<Due> due;
    for (const PotState& pot : one.pots) add_due(plans, one.batch, pot, Hemisphere::north, due);
    add_due_waiting(plans, one.batch, Hemisphere::north, due);
    for (const Due& row : due) {
      all += pot_label(one.batch, row.pot) + " " + std::string(to_text(row.step)) + " " + to_text(row.opens) + " " +
             to_text(row.closes) + "\n";
    }
  }
  return all;
}
std::string waiting(const Logbook& book, const BatchId& batch) {
  std::vector<Due> due;
  const PlanBook plans(book.story({}));
  add_due_waiting(plans, *book.batch(batch), Hemisphere::north, due);
  std::string all;
  for (const Due& row : due)
    all += std::string(to_text(row.step)) + " " + to_text(row.opens) + " " + to_text(row.closes) + ";";
  return all;
}

}  // namespace

TEST_CASE("whichever parcel comes first, every book says the same is due of the same batches") {
  make::Folder folder;
  FakeHost host_a{1}, host_b{2}, host_c{3}, host_d{4};
  const auto a = make::new_book(folder.file("a.book"), host_a, "A");
  const auto b = make::new_book(folder.file("b.book"), host_b, "B");
  std::vector<BatchId> batches{begin(*a, host_a)};
  make::tap(*a, {}, 0, edit(with_rest(5)));
  host_b.set_now(host_a.now_ms() + 30'000);
  make::tap(*b, {}, 0, edit(with_rest(6)));
  batches.push_back(begin(*b, host_b));
  host_a.set_now(host_b.now_ms() + 1);
  batches.push_back(begin(*a, host_a));
  // Clocks that agree, so that no merge writes down how far one was off.
  for (FakeHost* host : {&host_b, &host_c, &host_d}) host->set_now(host_a.now_ms());
  const auto from_a = make::parcel(*a), from_b = make::parcel(*b);
  const auto c = make::new_book(folder.file("c.book"), host_c, "C");
  const auto d = make::new_book(folder.file("d.book"), host_d, "D");
  make::merge(*c, from_a), make::merge(*c, from_b);
  make::merge(*d, from_b), make::merge(*d, from_a);
  make::merge(*a, from_b), make::merge(*b, from_a);
  const std::string text = told(*a);
  // Dried off on 2 March: eight weeks by the shipped plan, six by the edit that both others were begun under.
  CHECK(text.find("start 2026-04-27 2026-05-11") != std::string::npos);
  CHECK(text.find("start 2026-04-13 2026-04-27") != std::string::npos);
  for (Logbook* other : {b.get(), c.get(), d.get()}) {
    CHECK(other->digest() == a->digest());
    CHECK(told(*other) == text);
    CHECK(rest_of(*other, batches[0]) == 56);
    CHECK(rest_of(*other, batches[1]) == 42);
    CHECK(rest_of(*other, batches[2]) == 42);
  }
}

TEST_CASE("bulbs never follow a plan of pieces that a person names, nor pieces one of bulbs") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host);
  const BatchId bulbs = begin(*book, host);
  make::tap(*book, bulbs, 0, PlanEdited{"hippeastrum-chipping", ""});
  CHECK(rest_of(*book, bulbs) == 56);
  make::tap(*book, bulbs, 0, edit(shipped("hippeastrum-chipping")));
  CHECK(rest_of(*book, bulbs) == 56);
  const BatchId chips = make::begin_batch(*book, "Tirna Red", 1, 8);
  make::tap(*book, chips, 0, PlanEdited{of_bulbs, ""});
  const PlanBook plans(book->story({}));
  const GrowingPlan* of_pieces = plans.plan_for(*book->batch(chips), true);
  REQUIRE(of_pieces != nullptr);
  CHECK(of_pieces->id == "hippeastrum-chipping");
}

TEST_CASE("an edit that puts a plan of pieces in the place of one of bulbs is told, and the bulbs keep theirs") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host);
  make::tap(*book, {}, 0, PlanEdited{of_bulbs, write_plan(shipped("hippeastrum-chipping"))});
  const BatchId batch = begin(*book, host);
  const PlanBook plans(book->story({}));
  const GrowingPlan* plan = plans.plan_for(*book->batch(batch), false);
  REQUIRE(plan != nullptr);
  CHECK(plan->method == Method::growing_on);
  CHECK(plans.faults().size() == 1);
}

TEST_CASE("a plan of a batch's own that cannot be read leaves it the one before") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host);
  const BatchId batch = begin(*book, host);
  make::tap(*book, batch, 0, edit(with_rest(3)));
  const auto unread = [&] { return PlanBook(book->story({})).unread_for(*book->batch(batch)); };
  CHECK(unread() == "");
  make::tap(*book, batch, 0, PlanEdited{of_bulbs, R"({"plan": "x", "moon": "full"})"});
  CHECK(rest_of(*book, batch) == 21);
  CHECK(unread().find("the plan of " + book->batch(batch)->label) == 0);
  CHECK(unread().find("moon") != std::string::npos);
  make::tap(*book, batch, 0, edit(with_rest(4)));
  CHECK(unread() == "");
}

TEST_CASE("a plan that is missing is named no more once the batch follows another") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host);
  const BatchId batch = begin(*book, host);
  const auto missing = [&] { return PlanBook(book->story({})).missing_for(*book->batch(batch)); };
  CHECK(missing() == "");
  make::tap(*book, batch, 0, PlanEdited{"of-the-neighbour", ""});
  CHECK(missing() == "of-the-neighbour");
  CHECK(rest_of(*book, batch) == 56);
  host.advance_minutes(1);
  make::tap(*book, batch, 0, PlanEdited{of_bulbs, ""});
  CHECK(missing() == "");
}

TEST_CASE("a pot rests from the day on which its drying is over, and not on the day before") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host);
  const BatchId batch = begin(*book, host);  // dried off on 2 March, three weeks
  const PlanBook plans;
  const auto stage = [&](const char* day) {
    return stage_on(plans, *book->batch(batch), *book->pot({batch, 1}), *day_from_text(day));
  };
  CHECK(stage("2026-03-22") == Stage::drying_off);
  CHECK(stage("2026-03-23") == Stage::resting);
}

TEST_CASE("bulbs that wait are to be graded only while some are unsized, and repotted until they are potted") {
  make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("a.book"), host);
  const BatchId batch = make::begin_batch(*book, "Tirna Red", 1, 8);
  host.advance_minutes(1);
  make::tap(*book, batch, 1, make::pieces_potted(8, "bench 1"));
  CHECK(waiting(*book, batch) == "");
  host.advance_minutes(1);
  make::tap(*book, batch, 1, make::unpotted(make::lines(6), 6));
  CHECK(waiting(*book, batch) == "grade 2026-03-02 2026-03-16;repot 2026-03-09 2026-05-25;");
  host.advance_minutes(1);
  make::tap(*book, batch, 0, Graded{make::lines({{"2-4", 6}}), ""});
  CHECK(waiting(*book, batch) == "repot 2026-03-09 2026-05-25;");
  host.advance_minutes(1);
  make::tap(*book, batch, 2, make::bulbs_potted(make::lines({{"2-4", 6}}), "bench 1"));
  CHECK(waiting(*book, batch) == "");
}

TEST_CASE("only everyday work of a season lapses, and on the day after it") {
  PlanStep seasonal, plain;
  seasonal.season = Season{36, 42, "S1"};
  Due due;
  due.closes = *day_from_text("2026-10-18");
  due.by = &seasonal;
  due.step = Step::feed;
  CHECK_FALSE(due.lapsed(*day_from_text("2026-10-18")));
  CHECK(due.lapsed(*day_from_text("2026-10-19")));
  due.step = Step::start;
  CHECK_FALSE(due.lapsed(*day_from_text("2026-10-19")));
  due.step = Step::feed;
  due.by = &plain;
  CHECK_FALSE(due.lapsed(*day_from_text("2026-10-19")));
}

}  // namespace motherbulb

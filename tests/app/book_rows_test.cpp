// Rows redone only where the book changed are those that asking for everything gives.

#include "app/book_rows.hpp"

#include <doctest/doctest.h>

#include <algorithm>

#include "core/demo.hpp"
#include "core/plans/plan_file.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"

namespace motherbulb {
namespace {

std::vector<std::string> told(BookRows& rows) {
  std::vector<std::string> lines;
  for (const PotView* pot : rows.pots()) {
    lines.push_back(pot->label + "|" + pot->batch.clone + "|" + std::string(to_text(pot->stage)) + "|" +
                    pot->place.bench + "|" + std::to_string(pot->place.position) + "|" + std::to_string(pot->bulbs) +
                    "|" + std::to_string(pot->pot.pieces) + "|" + (pot->held ? "held" : "") + "|" +
                    (pot->looked ? to_text(*pot->looked) : "") + "|" + std::to_string(pot->pot.damage.size()));
  }
  for (const BatchState* batch : rows.batches())
    lines.push_back(batch->label + "|" + batch->clone + "|" + batch->genus);
  for (const BenchView& bench : rows.benches())
    lines.push_back(bench.name + "|" + std::to_string(bench.pots.size()) + "|" + std::to_string(bench.columns));
  const HouseCounts& c = rows.counts();
  for (const int count :
       {c.of_pieces, c.of_bulbs, c.with_damage, c.on_hold, c.resting, c.started, c.forming, c.growing})
    lines.push_back(std::to_string(count));
  for (const std::string& helper : rows.helpers()) lines.push_back(helper);
  for (const DueGroup& group : rows.due()) {
    std::string line = group.batch().label + "|" + std::string(to_text(group.due().step)) + "|" +
                       to_text(group.due().opens) + "|" + to_text(group.due().closes);
    for (const DueRow* row : group.rows) line += "|" + std::to_string(row->due.pot);
    lines.push_back(line);
  }
  lines.push_back(std::to_string(c.due) + " due, " + std::to_string(c.overdue) + " overdue");
  return lines;
}

}  // namespace

TEST_CASE("after any change the rows are those of a book asked for anew") {
  make::Folder folder, elsewhere;
  FakeHost host{1, 1'794'476'400'000}, other_host{2, 1'794'476'400'000};
  make::must(write_demo(folder.file("demo.book"), *day_from_civil({2026, 11, 12}), host));
  auto book = make::open_book(folder.file("demo.book"), host);
  auto other = make::new_book(elsewhere.file("other.book"), other_host, "X");
  make::merge(*other, make::parcel(*book));
  Day today = *day_from_civil({2026, 11, 12});
  BookRows kept(*book);
  kept.refresh(today);
  const std::uint64_t seed = make::seed();
  CAPTURE(seed);
  Chance chance(seed);
  const int steps = make::short_or_long(120, 5000);
  for (int i = 0; i < steps; ++i) {
    CAPTURE(i);
    host.advance_minutes(chance.between(1, 90));
    other_host.set_now(host.now_ms());
    const auto pots = book->pots(chance.one_in(3));
    const PotRow& row = pots[chance.below(pots.size())];
    const auto write = [&](Payload fact, std::int32_t pot) {
      (void)book->run(make::record(row.batch.id, pot, std::move(fact), chance.one_in(2) ? "Bo" : "Ines"));
    };
    const std::int32_t number = row.pot.pot.number;
    switch (chance.below(15)) {
      case 0:
        write(make::unpotted(make::lines({{"2-4", chance.between(0, 9)}})), number);
        break;
      case 1:
        write(Moved{"Skerry House, bench " + std::to_string(chance.between(1, 12)) + ", no. 3", ""},
              chance.one_in(3) ? 0 : number);
        break;
      case 2:
        write(Damage{Cause::pest, "thrips", 2, ""}, number);
        break;
      case 3:
        write(Held{"blotch"}, chance.one_in(3) ? 0 : number);
        break;
      case 4:
        write(Cleared{""}, chance.one_in(3) ? 0 : number);
        break;
      case 5:
        write(DriedOff{}, chance.one_in(3) ? 0 : number);
        break;
      case 6:
        write(Started{}, number);
        break;
      case 7: {
        // A spelling of its own, earlier or later than the clone's first batch.
        Record begun = make::record({}, 0,
                                    make::begun(chance.one_in(2) ? "harbour  EMBER" : "Tirna Red", Method::chipping,
                                                make::lines({{"20-22", 1}}), 8));
        if (chance.one_in(2)) begun.when = make::when("2019-01-01");
        (void)book->run(begun);
        break;
      }
      case 8:
        make::tap(*book, {}, 0, CloneRenamed{row.batch.genus, row.batch.clone, "Name " + std::to_string(i)});
        break;
      case 9:
        make::tap(*book, {}, 0,
                  BenchLaidOut{"Skerry House, bench 2", 3, static_cast<std::int32_t>(chance.between(4, 9)), ""});
        break;
      case 11:
        write(Postponed{chance.one_in(2) ? "start" : "look", static_cast<std::int32_t>(chance.between(0, 20)), "wet"},
              chance.one_in(3) ? 0 : number);
        break;
      case 12:
        write(Repotted{}, number);
        break;
      case 13: {
        // Another number in a plan, for batches yet to come or for all.
        GrowingPlan plan = *PlanBook(book->story({})).latest("hippeastrum-growing-on")->plan;
        plan.for_all = chance.one_in(2);
        plan.steps.front().opens = Span{static_cast<std::int32_t>(chance.between(0, 5)), Span::In::days, "grower"};
        plan.steps.front().closes = Span{60, Span::In::weeks, "grower"};
        plan.steps.front().season.reset();
        make::tap(*book, chance.one_in(3) ? row.batch.id : BatchId{}, 0, PlanEdited{plan.id, write_plan(plan)});
        break;
      }
      case 10: {
        const auto story = book->story(row.batch.id);
        TakeBack back;
        back.helper = "Ines";
        back.batch = row.batch.id;
        back.fact = story[chance.below(story.size())].key;
        (void)book->run(back);
        break;
      }
      default: {
        const auto theirs = other->pots(false);
        const PotRow& there = theirs[chance.below(theirs.size())];
        (void)other->run(
            make::record(there.batch.id, there.pot.pot.number, make::looked(chance.between(0, 9)), "Marit"));
        make::merge(*book, make::parcel(*other));
        break;
      }
    }
    if (chance.one_in(3)) continue;  // several changes between two looks
    if (chance.one_in(4)) today.days += static_cast<std::int32_t>(chance.between(1, 40));
    kept.refresh(today);
    BookRows anew(*book);
    anew.refresh(today);
    CHECK(told(kept) == told(anew));
  }
}

}  // namespace motherbulb

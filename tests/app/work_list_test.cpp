// A week's work on paper, against days counted by hand.
#include "app/print/work_list.hpp"

#include <doctest/doctest.h>

#include "tests/make.hpp"

namespace motherbulb {
namespace {

constexpr const char* plan_text = R"({"plan": "of-the-test", "genus": "Hippeastrum", "method": "growing-on",
 "drying": {"weeks": 2, "source": "grower"},
 "steps": [
  {"step": "dry-off", "after": ["potted", "start"], "opens": {"weeks": 12, "source": "grower"},
   "closes": {"weeks": 14, "source": "grower"}},
  {"step": "start", "after": ["dry-off"], "opens": {"weeks": 8, "source": "grower"},
   "closes": {"weeks": 10, "source": "grower"}}]})";

constexpr int week_minutes = 7 * 24 * 60;

bool has(const std::string& page, const std::string& words) {
  return page.find(words) != std::string::npos;
}

TEST_CASE("the week's list names bench, pots, reason and the last day, and says what is late") {
  // Monday 2026-03-02: one pot is potted, to be dried off from 25 May (12 weeks) to 8 June (14). Two pots of another
  // batch are dried off that day, to be started from 27 April (8 weeks) to 11 May (10). The list is of 25 May.
  const make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("list.book"), host, "A");
  const BatchId growing = make::begin_bulbs(*book, "Tirna Red", make::lines({{"8-10", 4}}));
  make::tap(*book, growing, 0, PlanEdited{"of-the-test", plan_text});
  make::tap(*book, growing, 1, make::bulbs_potted(make::lines({{"8-10", 4}}), "house 1, bench 1, no. 1"));
  const BatchId resting = make::begin_bulbs(*book, "Skarn <Blue>", make::lines({{"8-10", 4}}));
  make::tap(*book, resting, 0, PlanEdited{"of-the-test", plan_text});
  for (int number = 1; number <= 2; ++number) {
    make::tap(*book, resting, number, make::bulbs_potted(make::lines({{"8-10", 2}}), "house 1, bench 2"));
    make::tap(*book, resting, number, DriedOff{});
  }
  host.advance_minutes(12 * week_minutes);
  const std::string page = work_list(*book, *day_from_civil({2026, 5, 25}), Hemisphere::north, false);
  CHECK(has(page, "house 1, bench 1"));
  CHECK(has(page, "house 1, bench 2"));
  CHECK(has(page, "8 June"));
  // 11 May was the last day on which it was in time.
  CHECK(has(page, "<td class=\"late\">was due by 11 May</td>"));
  CHECK_FALSE(has(page, "Skarn <Blue>"));  // a name is no markup
  CHECK(has(page, "Skarn &lt;Blue&gt;"));
  // A week before nothing of the first pot is open.
  CHECK_FALSE(has(work_list(*book, *day_from_civil({2026, 5, 17}), Hemisphere::north, false), "8 June"));
}

TEST_CASE("the week's list says which batches' work it cannot know") {
  const make::Folder folder;
  FakeHost host;
  const auto book = make::new_book(folder.file("list.book"), host, "A");
  const BatchId given = make::begin_bulbs(*book, "Tirna Red", make::lines({{"8-10", 4}}));
  make::tap(*book, given, 1, make::bulbs_potted(make::lines({{"8-10", 4}}), "bench 1"));
  const Day on = local_day(book->batch(given)->begun_on);
  CHECK_FALSE(has(work_list(*book, on, Hemisphere::north, false), "Not read"));
  make::tap(*book, given, 0, PlanEdited{"of-the-test", R"({"plan": "of-the-test", "moon": "full"})"});
  const std::string page = work_list(*book, on, Hemisphere::north, false);
  CHECK(has(page, "Not read, so its work may be missing here: the plan of " + book->batch(given)->label));
  CHECK(has(page, "moon"));
}

}  // namespace
}  // namespace motherbulb

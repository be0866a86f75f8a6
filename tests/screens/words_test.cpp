// Words with numbers and days in them.

#include "app/words.hpp"

#include <doctest/doctest.h>

namespace motherbulb {
namespace {
Day day(std::int32_t year, std::int32_t month, std::int32_t of_month) {
  return *day_from_civil({year, month, of_month});
}
}  // namespace

TEST_CASE("one is one, more are many, and thousands are set apart") {
  CHECK(counted(1, "pot", "pots") == "1 pot");
  CHECK(counted(0, "pot", "pots") == "0 pots");
  CHECK(counted(3489, "entry", "entries") == "3,489 entries");
  CHECK(grouped(1'000'000) == "1,000,000");
  CHECK(grouped(-1234) == "−1,234");
  CHECK(grouped(999) == "999");
}

TEST_CASE("days are said as people say them") {
  const Day today = day(2026, 11, 12);
  CHECK(weekday_name(today) == "Thursday");
  CHECK(day_near(today, today) == "today");
  CHECK(day_near(day(2026, 11, 11), today) == "yesterday");
  CHECK(day_near(day(2026, 2, 5), today) == "5 February");
  CHECK(day_near(day(2024, 2, 29), today) == "29 February 2024");
  CHECK(weeks_between(day(2026, 2, 5), today) == "40 weeks");
  CHECK(weeks_between(day(2026, 11, 11), today) == "1 day");
  CHECK(weeks_between(day(2022, 11, 12), today) == "4 years");
}

TEST_CASE("the clock on the wall is the one where it was written") {
  CHECK(clock_time(*when_from_text("2026-11-12T10:42:00+01:00", 0)) == "10:42");
  CHECK(clock_time(*when_from_text("2026-11-12T00:05:00-09:30", 0)) == "0:05");
  CHECK(clock_time(*when_from_text("1969-12-31T23:59:00Z", 0)) == "23:59");
  CHECK(clock_time(*when_from_text("2026-11-12", 0)).empty());
}

TEST_CASE("sizes are in centimetres round, with a dash") {
  CHECK(grade_words(Grade{20, 40}) == "2–4");
  CHECK(grade_words(Grade{25, 40}) == "2.5–4");
  CHECK(grade_words(Grade{-1, 20}) == "under 2");
  CHECK(grade_words(Grade{0, 20}) == "under 2");
  CHECK(grade_words(Grade{100, -1}) == "10+");
  CHECK(grade_words(Grade{}) == "no size");
}

TEST_CASE("an error is one sentence with its further faults behind it") {
  CHECK(sentence_of(Error{ErrorKind::refused, "pot 3 is empty", {}}) == "Pot 3 is empty");
  CHECK(sentence_of(Error{ErrorKind::refused, "two faults", {"one", "two"}}) == "Two faults. one. two");
}

TEST_CASE("every cause, method, stage and kind of matter has a word") {
  for (int i = 0; i < cause_count; ++i) CHECK_FALSE(name_of(static_cast<Cause>(i)).empty());
  for (int i = 1; i <= 10; ++i) CHECK_FALSE(name_of(static_cast<Method>(i)).empty());
  for (int i = 0; i <= 5; ++i) CHECK_FALSE(name_of(static_cast<Stage>(i)).empty());
  for (int i = 1; i <= 10; ++i) CHECK_FALSE(title_of(static_cast<MatterKind>(i)).empty());
}

}  // namespace motherbulb

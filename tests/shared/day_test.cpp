// Days against what others have worked out: ISO 8601 weeks, RFC 3339's examples, the calendar's odd days, and the rules
// of hybrid logical clocks.
#include "shared/day.hpp"

#include <doctest/doctest.h>

#include <string>

using namespace motherbulb;

namespace {

Day day(const std::string& text) {
  const std::optional<Day> read = day_from_text(text);
  if (!read) FAIL("no day: " << text);
  return *read;
}

std::string week(const std::string& text) {
  const IsoWeek found = iso_week(day(text));
  const std::string number = std::to_string(found.week);
  return std::to_string(found.year) + "-W" + (found.week < 10 ? "0" : "") + number + "-" +
         std::to_string(found.weekday);
}

std::int64_t utc_ms(const std::string& text) {
  const std::optional<When> read = when_from_text(text, 0);
  if (!read) FAIL("no moment: " << text);
  return read->utc_ms;
}

}  // namespace

TEST_CASE("weeks are those of ISO 8601") {
  // Source: the ISO 8601 week rule notes in our trade facts (S75): week 1 begins 2012-12-31 in 2013 (52 weeks),
  // 2013-12-30 in 2014 (52), 2014-12-29 in 2015 (53), 2019-12-30 in 2020; and the way of writing, 2015-W03-6.
  CHECK(week("2012-12-31") == "2013-W01-1");
  CHECK(week("2012-12-30") == "2012-W52-7");
  CHECK(week("2013-12-30") == "2014-W01-1");
  CHECK(week("2013-12-29") == "2013-W52-7");
  CHECK(week("2014-12-29") == "2015-W01-1");
  CHECK(week("2014-12-28") == "2014-W52-7");
  CHECK(week("2015-01-17") == "2015-W03-6");
  CHECK(week("2019-12-30") == "2020-W01-1");
  CHECK(week("2016-01-03") == "2015-W53-7");
  // 2026 has 53: 1 January 2026 is a Thursday (derived in our trade facts from the same rule).
  CHECK(week("2026-01-01") == "2026-W01-4");
  CHECK(week("2026-12-31") == "2026-W53-4");
  CHECK(week("2027-01-03") == "2026-W53-7");
  CHECK(week("2027-01-04") == "2027-W01-1");
}

TEST_CASE("in every year from 1900 to 2200 week 1 holds 4 January, and weeks follow each other without a gap") {
  // Source: ISO 8601, the week with 4 January is the first.
  for (std::int32_t year = 1900; year <= 2200; ++year) {
    const IsoWeek first = iso_week(*day_from_civil({year, 1, 4}));
    CHECK(first.year == year);
    CHECK(first.week == 1);
  }
  IsoWeek before = iso_week(day("1899-12-31"));
  for (std::int32_t days = day("1900-01-01").days; days <= day("2200-12-31").days; ++days) {
    const IsoWeek now = iso_week(Day{days});
    const bool next_day = now.weekday == before.weekday + 1 && now.week == before.week && now.year == before.year;
    const bool next_week = before.weekday == 7 && now.weekday == 1 &&
                           ((now.year == before.year && now.week == before.week + 1) ||
                            (now.year == before.year + 1 && now.week == 1 && before.week >= 52));
    if (!next_day && !next_week) FAIL_CHECK(to_text(Day{days}));
    before = now;
  }
}

TEST_CASE("the calendar's odd days are there, and those that are not are refused") {
  for (const char* text : {"2024-02-29", "2028-02-29", "2032-02-29", "2000-02-29", "2100-03-01", "2100-02-28",
                           "2025-12-31", "2026-01-01", "2038-01-19", "0001-01-01", "9999-12-31"}) {
    CHECK(to_text(day(text)) == text);
  }
  CHECK(day("2024-03-01").days - day("2024-02-28").days == 2);
  CHECK(day("2028-03-01").days - day("2028-02-28").days == 2);
  CHECK(day("2032-03-01").days - day("2032-02-28").days == 2);
  CHECK(day("2100-03-01").days - day("2100-02-28").days == 1);  // no leap year: divisible by 100 and not by 400
  CHECK(day("2026-01-01").days - day("2025-12-31").days == 1);
  for (const char* text : {"2023-02-29", "2100-02-29",  "1900-02-29", "2026-02-30",  "2026-04-31",  "2026-00-10",
                           "2026-13-01", "2026-01-00",  "2026-01-32", "0000-01-01",  "10000-01-01", "2026-1-1",
                           "26-01-01",   "2026/01/01",  "01-01-2026", "2026-01-01 ", " 2026-01-01", "",
                           "2026-01",    "２026-01-01", "2026-01-0a", "-001-01-01",  "+026-01-01"}) {
    CHECK_MESSAGE(!day_from_text(text).has_value(), std::string(text));
  }
}

TEST_CASE("days count from 1970, and every day from 0001 to 9999 is the one after the day before") {
  CHECK(day("1970-01-01").days == 0);
  CHECK(day("1969-12-31").days == -1);
  CHECK(day("2000-03-01").days == 11017);  // 951868800 s since 1970, as date(1) says
  CHECK(day("2038-01-19").days == 24855);  // 2^31 s after 1970 fall on it
  static const std::int32_t lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  YearMonthDay want{1, 1, 1};
  std::size_t wrong = 0;
  for (std::int32_t days = day("0001-01-01").days; days <= day("9999-12-31").days; ++days) {
    const YearMonthDay got = civil(Day{days});
    wrong += got.year != want.year || got.month != want.month || got.day != want.day;
    wrong += day_from_civil(want)->days != days;
    const bool leap = (want.year % 4 == 0 && want.year % 100 != 0) || want.year % 400 == 0;
    const std::int32_t length = lengths[want.month - 1] + (want.month == 2 && leap ? 1 : 0);
    if (++want.day > length) want.day = 1, ++want.month;
    if (want.month > 12) want.month = 1, ++want.year;
  }
  CHECK(wrong == 0);
}

TEST_CASE("the examples of RFC 3339, section 5.8, are read as the instants it says") {
  // "20 minutes and 50.52 seconds after the 23rd hour of April 12th, 1985 in UTC"
  CHECK(utc_ms("1985-04-12T23:20:50.52Z") == 482196050520);
  // "equivalent to 1996-12-20T00:39:57Z in UTC"
  CHECK(utc_ms("1996-12-19T16:39:57-08:00") == utc_ms("1996-12-20T00:39:57Z"));
  // "the same instant of time as noon, January 1, 1937, Netherlands time", +00:20
  CHECK(utc_ms("1937-01-01T12:00:27.87+00:20") == utc_ms("1937-01-01T11:40:27.87Z"));
  CHECK(utc_ms("1937-01-01T11:40:27.87Z") == -1041337172130);
  // Its two leap seconds, "1990-12-31T23:59:60Z" and "1990-12-31T15:59:60-08:00": we have no place for such a second,
  // and refuse it rather than move it.
  CHECK_FALSE(when_from_text("1990-12-31T23:59:60Z", 0).has_value());
  CHECK_FALSE(when_from_text("1990-12-31T15:59:60-08:00", 0).has_value());
}

TEST_CASE("second 2^31 after 1970 is nothing special") {
  CHECK(utc_ms("2038-01-19T03:14:07Z") == 2147483647000);
  CHECK(utc_ms("2038-01-19T03:14:08Z") == 2147483648000);
  CHECK(to_text(moment(2147483648000, 0)) == "2038-01-19T03:14:08Z");
  CHECK(to_text(moment(2147483647999, 60)) == "2038-01-19T04:14:07.999+01:00");
}

TEST_CASE("a moment is read as people and programs write it, and written in one way") {
  const struct {
    const char* text;
    const char* written;
  } cases[] = {
      {"2026-11-25T10:42:00+01:00", "2026-11-25T10:42:00+01:00"},
      {"2026-11-25T10:42+01:00", "2026-11-25T10:42:00+01:00"},
      {"2026-11-25 10:42:00+0100", "2026-11-25T10:42:00+01:00"},
      {"2026-11-25t10:42:00+01", "2026-11-25T10:42:00+01:00"},
      {"2026-11-25T10:42:00z", "2026-11-25T10:42:00Z"},
      {"2026-11-25T10:42:00-00:00", "2026-11-25T10:42:00Z"},
      {"2026-11-25T10:42:00.5Z", "2026-11-25T10:42:00.500Z"},
      {"2026-11-25T10:42:00.0009Z", "2026-11-25T10:42:00Z"},
      {"2026-11-25T10:42:00.123999-03:30", "2026-11-25T10:42:00.123-03:30"},
      {"2026-11-25T23:59:59+12:45", "2026-11-25T23:59:59+12:45"},
      {"2026-11-25", "2026-11-25"},
      {"1969-12-31T23:59:59.999Z", "1969-12-31T23:59:59.999Z"},
      {"2026-11-25T00:00:00+18:00", "2026-11-25T00:00:00+18:00"},
      {"2026-11-25T00:00:00-18:00", "2026-11-25T00:00:00-18:00"},
  };
  for (const auto& one : cases) {
    const std::optional<When> read = when_from_text(one.text, 60);
    REQUIRE_MESSAGE(read.has_value(), std::string(one.text));
    CHECK(to_text(*read) == one.written);
    CHECK(when_from_text(to_text(*read), 60) == read);
  }
  for (const char* text : {"2026-11-25T10:42:00",
                           "2026-11-25T10:42",
                           "2026-11-25T",
                           "2026-11-25T24:00:00Z",
                           "2026-11-25T10:60:00Z",
                           "2026-11-25T10:42:00+19:00",
                           "2026-11-25T10:42:00+18:01",
                           "2026-11-25T10:42:00-18:30",
                           "2026-11-25T10:42:00+01:60",
                           "2026-11-25T10:42:00 +01:00",
                           "2026-11-25T10:42:00.Z",
                           "2026-11-25T10:42:00,5Z",
                           "2026-11-25T10:42:00Z ",
                           "2026-11-25  10:42:00Z",
                           "2026-11-25T1042Z",
                           "2026-11-25T10:42:00+1",
                           "25.11.2026",
                           "2026-11-25T10:42:00+01:0",
                           "2026-11-25T10:42:00Europe/Oslo",
                           "2026-02-30T10:00:00Z",
                           "today"}) {
    CHECK_MESSAGE(!when_from_text(text, 0).has_value(), std::string(text));
  }
}

TEST_CASE("a bare day is a day wherever it is read, and its offset only places it") {
  for (std::int32_t minutes : {-1080, -720, -1, 0, 60, 345, 840, 1080}) {
    for (const char* text : {"2026-11-25", "2024-02-29", "1970-01-01", "1969-12-31", "2100-03-01"}) {
      const When when = bare_day(day(text), minutes);
      CHECK(to_text(when) == text);
      CHECK(local_day(when) == day(text));
      CHECK(when.utc_ms == day(text).days * 86'400'000LL - minutes * 60'000LL);
    }
  }
}

TEST_CASE("the local day of a moment is that of the clock on the wall") {
  CHECK(to_text(local_day(*when_from_text("2026-12-31T23:59:59.999+01:00", 0))) == "2026-12-31");
  CHECK(to_text(local_day(*when_from_text("2027-01-01T00:00:00+01:00", 0))) == "2027-01-01");
  CHECK(to_text(local_day(*when_from_text("2027-01-01T00:00:00-11:00", 0))) == "2027-01-01");
  CHECK(to_text(local_day(moment(-1, 0))) == "1969-12-31");
  CHECK(to_text(local_day(moment(0, -1))) == "1969-12-31");
}

// The rules of hybrid logical clocks: Kulkarni, Demirbas, Madappa, Avva and Leone, "Logical physical clocks", OPODIS
// 2014. Each event is later than what its device knew (theorem 1, e before f gives hlc.e < hlc.f), and the clock stays
// at the greatest physical time known (theorem 2, l.e is at least pt.e) until the counter carries.

TEST_CASE("a stamp is always greater than the latest known, whatever the clock does") {
  Stamp latest;
  for (std::int64_t now : {1000, 1000, 999, 0, -5, 1001, 1001, 500, 2'000'000, 1'999'999}) {
    const Stamp next = next_stamp(latest, now);
    CHECK(latest < next);
    CHECK(next.wall_ms() >= now);
    latest = next;
  }
}

TEST_CASE("with a clock that goes on a stamp is the clock's own reading") {
  const Stamp first = next_stamp({}, 1000);
  CHECK(first.wall_ms() == 1000);
  CHECK((first.value & 0xffff) == 0);
  const Stamp second = next_stamp(first, 1001);
  CHECK(second.wall_ms() == 1001);
  CHECK((second.value & 0xffff) == 0);
}

TEST_CASE("70,000 entries in one millisecond keep increasing and carry into the next") {
  Stamp latest;
  for (int i = 0; i < 70'000; ++i) {
    const Stamp next = next_stamp(latest, 5000);
    if (!(latest < next)) FAIL(i);
    latest = next;
  }
  CHECK(latest.wall_ms() == 5001);  // 65,536 fit into one
  CHECK((latest.value & 0xffff) == 70'000 - 65'536 - 1);
  CHECK(next_stamp(latest, 5002).wall_ms() == 5002);
}

TEST_CASE("a reply is later than what it replies to, where the clocks are at most two minutes apart") {
  const Stamp asked = next_stamp({}, 1'000'000 + accepted_drift_ms);
  const Stamp latest = follow_stamp({}, asked, 1'000'000);
  CHECK(latest == asked);
  CHECK(asked < next_stamp(latest, 1'000'000));
}

TEST_CASE("a clock more than two minutes ahead drags nobody along") {
  const Stamp mine = next_stamp({}, 1'000'000);
  for (std::int64_t ahead : {accepted_drift_ms + 1, std::int64_t{3'600'000}, std::int64_t{2'300'000'000'000}}) {
    const Stamp seen = next_stamp({}, 1'000'000 + ahead);
    CHECK(follow_stamp(mine, seen, 1'000'000) == mine);
  }
  // Nor does a chain of devices, each a little ahead: none goes beyond its own clock and two minutes.
  Stamp latest;
  for (int i = 0; i < 100; ++i) latest = follow_stamp(latest, next_stamp(latest, 1'000'000 + i * 60'000), 1'000'000);
  CHECK(latest.wall_ms() <= 1'000'000 + accepted_drift_ms);
}

TEST_CASE("seeing an older stamp changes nothing") {
  const Stamp mine = next_stamp({}, 1'000'000);
  CHECK(follow_stamp(mine, next_stamp({}, 999'999), 1'000'000) == mine);
  CHECK(follow_stamp(mine, Stamp{}, 1'000'000) == mine);
  CHECK(follow_stamp(mine, mine, 1'000'000) == mine);
}

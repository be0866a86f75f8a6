// Days, moments and stamps, and their text; written and read here only. Nothing here asks a clock or a time zone
// database: offsets are as written.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace motherbulb {

// A civil day: days since 1970-01-01 in the proleptic Gregorian calendar.
struct Day {
  std::int32_t days = 0;
  friend bool operator==(Day a, Day b) { return a.days == b.days; }
  friend bool operator!=(Day a, Day b) { return a.days != b.days; }
  friend bool operator<(Day a, Day b) { return a.days < b.days; }
  friend bool operator<=(Day a, Day b) { return a.days <= b.days; }
};

struct YearMonthDay {
  std::int32_t year = 1970;
  std::int32_t month = 1;  // 1 to 12
  std::int32_t day = 1;    // 1 to 31
};

struct IsoWeek {
  std::int32_t year = 1970;  // of the week, not always that of the day
  std::int32_t week = 1;     // 1 to 53
  std::int32_t weekday = 4;  // 1 Monday to 7 Sunday
};

YearMonthDay civil(Day day);
// None where there is no such day (30 February, month 13, a year outside 0001 to 9999).
std::optional<Day> day_from_civil(YearMonthDay date);
IsoWeek iso_week(Day day);     // ISO 8601: the week with the year's first Thursday is week 1
std::string to_text(Day day);  // 2026-11-25
std::optional<Day> day_from_text(std::string_view text);

// When an act was done: a moment with the offset from UTC that the clock on the wall had, or a bare day.
// A bare day keeps the offset of the device that wrote it down, only to place it among moments.
struct When {
  std::int64_t utc_ms = 0;          // of the moment; of a bare day: its midnight in the offset
  std::int32_t offset_minutes = 0;  // east of UTC is positive; within ±18 hours
  bool bare_day = false;

  friend bool operator==(const When& a, const When& b) {
    return a.utc_ms == b.utc_ms && a.offset_minutes == b.offset_minutes && a.bare_day == b.bare_day;
  }
};

When moment(std::int64_t utc_ms, std::int32_t offset_minutes);
When bare_day(Day day, std::int32_t offset_minutes);
Day local_day(const When& when);
// 2026-11-25, or 2026-11-25T10:42:00+01:00 (RFC 3339; milliseconds only where there are some; Z for offset 0).
std::string to_text(const When& when);
// Reads both, and what RFC 3339 and ISO 8601 allow beside them: seconds left out, a space or small t for T, offsets
// +0100, +01, Z. `bare_offset_minutes` is kept with a bare day. None where the text is no such day or moment; a moment
// without an offset is none too, since it says no instant.
std::optional<When> when_from_text(std::string_view text, std::int32_t bare_offset_minutes);

// A hybrid logical clock's reading (Kulkarni, Demirbas, Madappa, Avva & Leone, "Logical physical clocks", OPODIS 2014):
// milliseconds since 1970 in the upper 48 bits, a counter in the lower 16, which carries into the upper.
struct Stamp {
  std::uint64_t value = 0;
  friend bool operator==(Stamp a, Stamp b) { return a.value == b.value; }
  friend bool operator<(Stamp a, Stamp b) { return a.value < b.value; }
  std::int64_t wall_ms() const { return static_cast<std::int64_t>(value >> 16); }
};

// How far a stamp may run ahead of a device's own clock and still be followed.
inline constexpr std::int64_t accepted_drift_ms = 2 * 60 * 1000;

// The next stamp of a device whose latest known stamp is `latest`, at its own clock `now_ms`. Always greater than
// `latest`.
Stamp next_stamp(Stamp latest, std::int64_t now_ms);
// What a device's latest known stamp becomes on seeing `seen`: the greater, unless `seen` lies more than the accepted
// drift ahead of `now_ms`, when it is not followed.
Stamp follow_stamp(Stamp latest, Stamp seen, std::int64_t now_ms);

}  // namespace motherbulb

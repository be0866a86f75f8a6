#include "shared/day.hpp"

#include <algorithm>

namespace motherbulb {
namespace {

constexpr std::int64_t ms_per_minute = 60 * 1000;
constexpr std::int64_t ms_per_day = 24 * 60 * ms_per_minute;

std::int64_t floor_divide(std::int64_t a, std::int64_t b) {
  return a / b - (a % b < 0 ? 1 : 0);
}

// Reads exactly `count` digits at `at`, moving it on.
std::optional<std::int32_t> digits(std::string_view text, std::size_t& at, std::size_t count) {
  if (at + count > text.size()) return std::nullopt;
  std::int32_t value = 0;
  for (std::size_t i = 0; i < count; ++i) {
    const char c = text[at + i];
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  at += count;
  return value;
}

bool take(std::string_view text, std::size_t& at, char c) {
  if (at >= text.size() || text[at] != c) return false;
  ++at;
  return true;
}

std::string padded(std::int64_t value, int width) {
  std::string text = std::to_string(value);
  while (static_cast<int>(text.size()) < width) text.insert(text.begin(), '0');
  return text;
}

std::optional<Day> read_day(std::string_view text, std::size_t& at) {
  const auto year = digits(text, at, 4);
  if (!year || !take(text, at, '-')) return std::nullopt;
  const auto month = digits(text, at, 2);
  if (!month || !take(text, at, '-')) return std::nullopt;
  const auto day = digits(text, at, 2);
  if (!day) return std::nullopt;
  return day_from_civil({*year, *month, *day});
}

// Z, +01:00, +0100 or +01 at the end of the text, in minutes.
std::optional<std::int32_t> read_offset(std::string_view text, std::size_t& at) {
  if (take(text, at, 'Z') || take(text, at, 'z')) return 0;
  std::int32_t sign = 1;
  if (take(text, at, '-')) {
    sign = -1;
  } else if (!take(text, at, '+')) {
    return std::nullopt;
  }
  const auto hours = digits(text, at, 2);
  if (!hours || *hours > 18) return std::nullopt;
  std::int32_t minutes = 0;
  if (at < text.size()) {
    take(text, at, ':');
    const auto read = digits(text, at, 2);
    if (!read || *read > 59) return std::nullopt;
    minutes = *read;
  }
  if (*hours == 18 && minutes > 0) return std::nullopt;
  return sign * (*hours * 60 + minutes);
}

}  // namespace

// Both ways after the usual reckoning in 400-year eras that begin on 1 March, so that the leap day comes last.
YearMonthDay civil(Day day) {
  const std::int64_t shifted = static_cast<std::int64_t>(day.days) + 719468;
  const std::int64_t era = floor_divide(shifted, 146097);
  const std::int64_t day_of_era = shifted - era * 146097;
  const std::int64_t year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
  const std::int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
  const std::int64_t month_from_march = (5 * day_of_year + 2) / 153;
  const std::int64_t day_of_month = day_of_year - (153 * month_from_march + 2) / 5 + 1;
  const std::int64_t month = month_from_march < 10 ? month_from_march + 3 : month_from_march - 9;
  const std::int64_t year = year_of_era + era * 400 + (month <= 2 ? 1 : 0);
  return {static_cast<std::int32_t>(year), static_cast<std::int32_t>(month), static_cast<std::int32_t>(day_of_month)};
}

std::optional<Day> day_from_civil(YearMonthDay date) {
  if (date.year < 1 || date.year > 9999 || date.month < 1 || date.month > 12 || date.day < 1 || date.day > 31) {
    return std::nullopt;
  }
  const std::int64_t year = date.month <= 2 ? date.year - 1 : date.year;
  const std::int64_t era = floor_divide(year, 400);
  const std::int64_t year_of_era = year - era * 400;
  const std::int64_t month_from_march = date.month > 2 ? date.month - 3 : date.month + 9;
  const std::int64_t day_of_year = (153 * month_from_march + 2) / 5 + date.day - 1;
  const std::int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
  const Day day{static_cast<std::int32_t>(era * 146097 + day_of_era - 719468)};
  const YearMonthDay back = civil(day);
  if (back.month != date.month || back.day != date.day) return std::nullopt;
  return day;
}

IsoWeek iso_week(Day day) {
  const std::int32_t weekday = static_cast<std::int32_t>(((static_cast<std::int64_t>(day.days) + 3) % 7 + 7) % 7) + 1;
  const Day thursday{day.days - weekday + 4};  // a week belongs to the year of its Thursday
  const YearMonthDay date = civil(thursday);
  const Day new_year{day_from_civil({date.year, 1, 1}).value_or(thursday)};
  return {date.year, (thursday.days - new_year.days) / 7 + 1, weekday};
}

std::string to_text(Day day) {
  const YearMonthDay date = civil(day);
  return padded(date.year, 4) + "-" + padded(date.month, 2) + "-" + padded(date.day, 2);
}

std::optional<Day> day_from_text(std::string_view text) {
  std::size_t at = 0;
  const auto day = read_day(text, at);
  if (!day || at != text.size()) return std::nullopt;
  return day;
}

When moment(std::int64_t utc_ms, std::int32_t offset_minutes) {
  return {utc_ms, offset_minutes, false};
}

When bare_day(Day day, std::int32_t offset_minutes) {
  return {day.days * ms_per_day - offset_minutes * ms_per_minute, offset_minutes, true};
}

Day local_day(const When& when) {
  return {static_cast<std::int32_t>(floor_divide(when.utc_ms + when.offset_minutes * ms_per_minute, ms_per_day))};
}

std::string to_text(const When& when) {
  const Day day = local_day(when);
  if (when.bare_day) return to_text(day);
  const std::int64_t local = when.utc_ms + when.offset_minutes * ms_per_minute - day.days * ms_per_day;
  std::string text = to_text(day) + "T" + padded(local / 3600000, 2) + ":" + padded(local / 60000 % 60, 2) + ":" +
                     padded(local / 1000 % 60, 2);
  if (local % 1000 != 0) text += "." + padded(local % 1000, 3);
  if (when.offset_minutes == 0) return text + "Z";
  const std::int32_t size = when.offset_minutes < 0 ? -when.offset_minutes : when.offset_minutes;
  return text + (when.offset_minutes < 0 ? "-" : "+") + padded(size / 60, 2) + ":" + padded(size % 60, 2);
}

std::optional<When> when_from_text(std::string_view text, std::int32_t bare_offset_minutes) {
  std::size_t at = 0;
  const auto day = read_day(text, at);
  if (!day) return std::nullopt;
  if (at == text.size()) return bare_day(*day, bare_offset_minutes);
  if (!take(text, at, 'T') && !take(text, at, 't') && !take(text, at, ' ')) return std::nullopt;
  const auto hour = digits(text, at, 2);
  if (!hour || *hour > 23 || !take(text, at, ':')) return std::nullopt;
  const auto minute = digits(text, at, 2);
  if (!minute || *minute > 59) return std::nullopt;
  std::int64_t ms = *hour * 3600000LL + *minute * 60000LL;
  if (take(text, at, ':')) {
    const auto second = digits(text, at, 2);
    if (!second || *second > 59) return std::nullopt;
    ms += *second * 1000LL;
    if (take(text, at, '.')) {
      const std::size_t first = at;
      while (at < text.size() && text[at] >= '0' && text[at] <= '9') {
        if (at - first < 3) ms += (text[at] - '0') * (at - first == 0 ? 100 : at - first == 1 ? 10 : 1);
        ++at;
      }
      if (at == first) return std::nullopt;
    }
  }
  const auto offset = read_offset(text, at);
  if (!offset || at != text.size()) return std::nullopt;
  return moment(day->days * ms_per_day + ms - *offset * ms_per_minute, *offset);
}

Stamp next_stamp(Stamp latest, std::int64_t now_ms) {
  const std::uint64_t now = static_cast<std::uint64_t>(std::max<std::int64_t>(now_ms, 0)) << 16;
  return {std::max(now, latest.value + 1)};
}

Stamp follow_stamp(Stamp latest, Stamp seen, std::int64_t now_ms) {
  if (seen.wall_ms() > now_ms + accepted_drift_ms) return latest;
  return latest < seen ? seen : latest;
}

}  // namespace motherbulb

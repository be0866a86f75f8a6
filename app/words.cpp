#include "app/words.hpp"

#include <array>
#include <cstdlib>

namespace motherbulb {
namespace {

std::string centimetres(std::int32_t mm) {
  return mm % 10 == 0 ? std::to_string(mm / 10) : std::to_string(mm / 10) + "." + std::to_string(mm % 10);
}

}  // namespace

const Words& words() {
  static const Words english;
  return english;
}

std::string grouped(std::int64_t count) {
  std::string digits = std::to_string(std::llabs(count));
  for (std::size_t at = digits.size(); at > 3; at -= 3) digits.insert(at - 3, ",");
  return count < 0 ? "−" + digits : digits;
}

std::string counted(std::int64_t count, std::string_view one, std::string_view many) {
  return grouped(count) + " " + std::string(count == 1 ? one : many);
}

std::string weekday_name(Day day) {
  static constexpr std::array<const char*, 7> names{"Monday", "Tuesday",  "Wednesday", "Thursday",
                                                    "Friday", "Saturday", "Sunday"};
  return names[static_cast<std::size_t>(iso_week(day).weekday - 1)];
}

std::string month_name(std::int32_t month) {
  static constexpr std::array<const char*, 12> names{"January",   "February", "March",    "April",
                                                     "May",       "June",     "July",     "August",
                                                     "September", "October",  "November", "December"};
  return names[static_cast<std::size_t>(month - 1)];
}

std::string day_and_month(Day day) {
  const YearMonthDay date = civil(day);
  return std::to_string(date.day) + " " + month_name(date.month);
}

std::string day_near(Day day, Day today) {
  if (day == today) return "today";
  if (day.days == today.days - 1) return "yesterday";
  const bool far = std::abs(today.days - day.days) > 300;
  return day_and_month(day) + (far ? " " + std::to_string(civil(day).year) : "");
}

std::string clock_time(const When& when) {
  if (when.bare_day) return "";
  const std::int64_t local = when.utc_ms / 60000 + when.offset_minutes;
  const std::int64_t minutes = ((local % 1440) + 1440) % 1440;
  return fmt::format("{}:{:02}", minutes / 60, minutes % 60);
}

std::string weeks_between(Day from, Day to) {
  const std::int32_t days = to.days - from.days;
  if (days < 14) return counted(days, "day", "days");
  if (days < 700) return counted(days / 7, "week", "weeks");
  return counted(days / 365, "year", "years");
}

std::string_view name_of(Stage stage) {
  switch (stage) {
    case Stage::forming:
      return "forming";
    case Stage::growing:
      return "growing";
    case Stage::drying_off:
      return "drying off";
    case Stage::resting:
      return "resting";
    case Stage::started:
      return "started";
    case Stage::emptied:
      return "emptied";
  }
  return "";
}

std::string_view name_of(Cause cause) {
  switch (cause) {
    case Cause::unknown:
      return "unknown";
    case Cause::rot:
      return "rot";
    case Cause::pest:
      return "pest";
    case Cause::disease:
      return "disease";
    case Cause::animal:
      return "animal";
    case Cause::frost:
      return "frost";
    case Cause::dried_out:
      return "dried out";
  }
  return "";
}

std::string_view name_of(Method method) {
  switch (method) {
    case Method::offsets:
      return "Offsets";
    case Method::halving:
      return "Halving";
    case Method::quartering:
      return "Quartering";
    case Method::chipping:
      return "Chipping";
    case Method::cross_cutting:
      return "Cross-cutting";
    case Method::scoring:
      return "Scoring";
    case Method::scooping:
      return "Scooping";
    case Method::twin_scaling:
      return "Twin-scaling";
    case Method::scaling:
      return "Scaling";
    case Method::growing_on:
      return "Growing on";
  }
  return "";
}

std::string_view title_of(MatterKind kind) {
  switch (kind) {
    case MatterKind::counted_twice:
      return "One pot counted twice";
    case MatterKind::observations_differ:
      return "Two looks that differ";
    case MatterKind::label_twice:
      return "One label, two batches";
    case MatterKind::two_places:
      return "One pot, two places";
    case MatterKind::after_unpotting:
      return "Work on an emptied pot";
    case MatterKind::clock:
      return "A clock that is off";
    case MatterKind::balance:
      return "Bulbs not accounted for";
    case MatterKind::unknown_device:
      return "A device without a name";
    case MatterKind::near_names:
      return "Two names, nearly one";
    case MatterKind::fork:
      return "One entry, two contents";
  }
  return "";
}

std::string grade_words(Grade grade) {
  if (!grade.sized()) return std::string(words().no_size);
  if (grade.low_mm <= 0) return say(words().under_size, centimetres(grade.high_mm));
  if (grade.high_mm < 0) return centimetres(grade.low_mm) + "+";
  return centimetres(grade.low_mm) + "–" + centimetres(grade.high_mm);
}

std::string sentence_of(const Error& error) {
  std::string text = error.what;
  for (const std::string& more : error.further) text += ". " + more;
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

}  // namespace motherbulb

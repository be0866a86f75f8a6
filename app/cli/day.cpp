#include "app/cli/day.hpp"

namespace motherbulb::cli {

Result<Day> day_or_today(const std::string& text, Host& host) {
  if (text.empty()) {
    const std::int64_t now = host.now_ms();
    return local_day(moment(now, host.offset_minutes(now)));
  }
  const auto day = day_from_text(text);
  if (!day) return refusal("--on: \"" + text + "\" is no day of the calendar; write it as 2026-04-02");
  return *day;
}

}  // namespace motherbulb::cli

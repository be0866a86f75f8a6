// Health: what is shown of it, how many to test, the trace.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/health/sampling.hpp"
#include "core/health/trace.hpp"
#include "shared/day.hpp"

namespace motherbulb {

struct HealthDraft {
  enum class Page { house, troubles, how_many, hot_water, treatments } page = Page::house;
  std::optional<std::string> trouble;  // opened, by id
  std::int32_t not_looked_days = 28;

  // How many to test.
  std::int64_t lot = 0;  // 0: what is there
  double share = 0.05, confidence = 0.95, sensitivity = 1;
  std::int64_t pool = 1;
  std::string pad;     // the field whose figures are tapped
  std::string typed;

  double girth_cm = 16;  // hot water

  // The trace that is shown, made anew only when the book or the pot has changed.
  struct Traced {
    bool made = false;
    std::uint64_t revision = 0;
    PotId pot;
    Trace trace;
    std::string failed;  // in words
  } traced;
  // Counts of damage by cause, place and season, made anew only when the book or the day has changed.
  struct Picture {
    bool made = false;
    std::uint64_t revision = 0;
    Day today;
    struct Count {
      std::string trouble;  // detail, else the cause
      std::string place;
      std::int32_t season = 0;  // months before this one, 0 to 11
      std::int32_t count = 0;
      std::int32_t worst = 0;
    };
    std::vector<Count> counts;
  } picture;
};

}  // namespace motherbulb

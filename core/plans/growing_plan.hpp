// A growing plan: what is to be done with the bulbs of a genus that were increased by a method, and when. Counted from
// what was actually recorded, or by the season.
//
// Invariants of a plan that was read (plan_file.hpp): a step stands once for pieces, once for bulbs and once for what
// waits; every event that a step counts from can happen; no two steps wait for each other; closes ≥ opens.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/state.hpp"
#include "shared/day.hpp"
#include "shared/units.hpp"

namespace motherbulb {

// A length of time as it is written, with where it comes from.
struct Span {
  enum class In : std::uint8_t { days, weeks, months };
  std::int32_t amount = 0;
  In in = In::weeks;
  std::string source;  // a key of GrowingPlan::sources, `common practice`, or `grower`

  // In days; a month is a twelfth of 365.25 days, so that every window moves with what it counts from by whole days.
  [[nodiscard]] std::int32_t days() const;
  friend bool operator==(const Span& a, const Span& b) {
    return a.amount == b.amount && a.in == b.in && a.source == b.source;
  }
};
std::string_view to_text(Span::In in);  // days, weeks, months

inline constexpr std::string_view common_practice = "common practice";
inline constexpr std::string_view by_the_grower = "grower";

// From the Monday of one ISO week to the Sunday of another, as they are in the north; `to` before `from` runs over the
// new year. In the south it is the same 26 weeks later.
struct Season {
  std::int32_t from = 1, to = 1;  // 1 to 53; where a year has 52, week 53 is its last
  std::string source;
};
inline constexpr std::int32_t south_days = 26 * 7;

// Of what a step is.
enum class Of : std::uint8_t { pieces, bulbs, waiting };
std::string_view to_text(Of of);

struct PlanStep {
  Step step = Step::look;
  Of of = Of::bulbs;
  std::vector<Step> after;       // counted from the latest of these
  std::optional<Span> opens;     // after it; none: at once
  std::optional<Span> closes;    // after it, or, with a season, none
  std::optional<Span> every;     // once done: again so long after
  std::vector<Step> until;       // it ends when one of these is done
  std::optional<Season> season;  // the first that is not over when it opens
  std::string seen;              // what the grower sees then: "leaves down by half"
};

struct GrowingPlan {
  std::string id;    // hippeastrum-chipping; a grower's copy has one of its own
  std::string name;  // of a copy; empty: it goes by its genus and method
  std::string genus;
  Method method = Method::growing_on;  // growing-on: of bulbs in pots, and of what waits
  std::optional<Day> since;            // batches begun before it keep the version before it
  bool for_all = false;                // an edit that reaches batches begun before it too
  std::optional<Span> drying;          // dried off until it rests
  std::vector<PlanStep> steps;
  std::map<std::string, std::string> sources;

  [[nodiscard]] const PlanStep* step(Step which, Of of) const;
};

}  // namespace motherbulb

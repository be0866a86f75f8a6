// A reckoning of the mathematics as a job: what it needs is in it or in the book, and what comes of it is a value. So
// it is done at once, under progress and "Stop", or beside the screens where their thread must not wait (a page's
// second worker), by the same lines. Codec: reckoning_codec.hpp.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <variant>

#include "app/outlook_picture.hpp"
#include "app/plan_picture.hpp"
#include "app/wishes.hpp"
#include "app/yields_picture.hpp"
#include "core/logbook.hpp"
#include "core/science/season_plan.hpp"
#include "shared/day.hpp"
#include "shared/result.hpp"

namespace motherbulb {

struct ReckonJob {
  Reckon::What what = Reckon::What::outlook;
  std::string clone;  // of season_plan also none: all that stand
  Day on;
  // Of season_plan. A target of 0 is the usual one.
  SeasonWish wish;
  std::shared_ptr<const PlanClones> clones;  // known already; none: the book is asked

  [[nodiscard]] bool asks_book() const { return clones == nullptr; }
};

struct ReckonAnswer {
  std::variant<std::shared_ptr<const OutlookPicture>, std::shared_ptr<const PlanPicture>,
               std::shared_ptr<const YieldsPicture>>
      picture;              // of what was asked for
  std::int64_t target = 0;  // of a plan: for which it was made
};

// Who asked, while it goes on.
struct ReckonWatch {
  GoOn go_on;                                 // false: give it up, or of a plan take the best found by then
  std::function<void(std::int64_t)> aims_at;  // the plan's target, as soon as it is known
  std::function<std::int64_t()> now_ms;       // a plan is looked for only so long
};

// `book` may be none where the job does not ask it. Refused where the book knows no such clone; `cancelled` where
// go_on said no and there is nothing to show.
Result<ReckonAnswer> reckon(const Logbook* book, const ReckonJob& job, const ReckonWatch& watch);

}  // namespace motherbulb

#include "app/widgets/season_band.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "app/widgets/icons.hpp"
#include "app/words.hpp"
#include "app/words/rest.hpp"

namespace motherbulb {
namespace {

using Part = SeasonBand::Part;
using As = Part::As;

constexpr int most_turns = 6;  // stages that one pot can go through in twelve months

// A moment of the fold after everything recorded up to that day.
FoldOrder end_of(Day day) {
  FoldOrder order;
  order.at = (static_cast<std::int64_t>(day.days) + 2) * 24 * 60 * 60 * 1000 * 4;
  return order;
}

// The pot as it will be once the step is done on that day.
void imagine(PotState& pot, Step step, Day day) {
  pot.put_off.erase(std::remove_if(pot.put_off.begin(), pot.put_off.end(),
                                   [&](const StepPutOff& one) { return one.step == to_text(step); }),
                    pot.put_off.end());
  const StepDone done{step, bare_day(day, 0), end_of(day)};
  const auto found =
      std::find_if(pot.done.begin(), pot.done.end(), [&](const StepDone& one) { return !(one.step < step); });
  if (found != pot.done.end() && found->step == step) {
    *found = done;
  } else {
    pot.done.insert(found, done);
  }
}

void turn(SeasonBand& band, Day day, As as) {
  if (!band.parts.empty()) {
    Part& last = band.parts.back();
    if (day < last.from) day = last.from;
    last.to = day;
    if (last.from == last.to) band.parts.pop_back();
  }
  band.parts.push_back({as, day, band.end});
}

struct Turn {
  Day day;
  Step step = Step::potted;
};

std::int32_t drying_days(const GrowingPlan* plan) {
  return plan != nullptr && plan->drying ? plan->drying->days() : 0;
}

// Dried off: it dries as long as its plan says, then it rests.
void dry(SeasonBand& band, Day day, const GrowingPlan* plan) {
  const std::int32_t days = drying_days(plan);
  if (days > 0) turn(band, day, As::drying);
  turn(band, Day{day.days + days}, As::resting);
}

void wake(SeasonBand& band, Day day) {
  turn(band, day, As::growing);
  band.starts.push_back(day);
}

}  // namespace

SeasonBand empty_season(Day today, Hemisphere where) {
  const std::int32_t month = where == Hemisphere::south ? 3 : 9;
  const YearMonthDay date = civil(today);
  const std::int32_t year = date.month >= month ? date.year : date.year - 1;
  SeasonBand band;
  band.first = day_from_civil({year, month, 1}).value_or(today);
  band.end = day_from_civil({year + 1, month, 1}).value_or(today);
  band.today = today;
  return band;
}

SeasonBand season_of(const PlanBook& plans, const BatchState& batch, const PotState& pot, Hemisphere where, Day today) {
  SeasonBand band = empty_season(today, where);
  if (!pot.filled || pot.emptied) return band;
  const bool pieces = pot.unit == Unit::pieces;
  const GrowingPlan* plan = plans.plan_for(batch, pieces);
  turn(band, local_day(pot.filled_on), pieces ? As::forming : As::growing);

  // What was recorded.
  std::vector<Turn> turns;
  for (const Step step : {Step::dry_off, Step::start, Step::repot}) {
    const StepDone* done = done_last(batch, &pot, step);
    if (done != nullptr) turns.push_back({local_day(done->when), step});
  }
  std::stable_sort(turns.begin(), turns.end(), [](const Turn& a, const Turn& b) { return a.day < b.day; });
  for (const Turn& one : turns) {
    if (one.step == Step::dry_off) {
      dry(band, one.day, plan);
    } else if (one.step == Step::start) {
      wake(band, one.day);
    } else if (band.parts.back().as != As::growing) {
      turn(band, one.day, As::growing);
    }
  }

  // What the plan says comes next: each step when it opens, one that is overdue today.
  PotState then = pot;
  std::vector<Due> due;
  for (int i = 0; i < most_turns; ++i) {
    due.clear();
    add_due(plans, batch, then, where, due);
    const Due* next = nullptr;
    for (const Due& one : due) {
      const bool turns_it = one.step == Step::dry_off || one.step == Step::start || one.step == Step::unpot;
      if (turns_it && (next == nullptr || one.opens < next->opens)) next = &one;
    }
    if (next == nullptr) break;
    const Day day = std::max(today, next->opens);
    if (!(day < band.end)) break;
    if (next->step == Step::unpot) {
      // What comes out of the pot is another pot's year.
      turn(band, std::max(today, next->closes), As::growing);
      band.parts.pop_back();
      break;
    }
    next->step == Step::dry_off ? dry(band, day, plan) : wake(band, day);
    imagine(then, next->step, day);
  }

  // Only these twelve months.
  std::vector<Part> within;
  for (Part part : band.parts) {
    part.from = std::max(part.from, band.first);
    part.to = std::min(part.to, band.end);
    if (part.from < part.to) within.push_back(part);
  }
  band.parts = std::move(within);
  band.starts.erase(std::remove_if(band.starts.begin(), band.starts.end(),
                                   [&](Day day) { return day < band.first || !(day < band.end); }),
                    band.starts.end());
  return band;
}

namespace {

float place_of_day(const Rect& bar, const SeasonBand& band, Day day) {
  const float days = static_cast<float>(std::max(1, band.end.days - band.first.days));
  return bar.x + bar.w * static_cast<float>(day.days - band.first.days) / days;
}

void draw_part(Pen& pen, Rect part, As as) {
  const Theme& t = pen.theme;
  const std::vector<Point> outline{
      {part.x, part.y}, {part.right(), part.y}, {part.right(), part.bottom()}, {part.x, part.bottom()}};
  switch (as) {
    case As::drying:
      pen.fill(part, t.error_ground, 1);
      pen.hatch(outline, t.copper_fill, 2.4F, 6);
      return;
    case As::resting:
      pen.fill(part, t.sold, 1);
      if (part.w > 12) pen.line({part.x + 4, part.middle().y}, {part.right() - 4, part.middle().y}, t.slate, 2);
      return;
    case As::forming:
      pen.fill(part, t.growing_ground, 1);
      pen.frame(part, t.leaf_fill, 2, 1);
      for (float x = part.x + 12; x < part.right() - 6; x += 12)
        pen.line({x, part.y}, {x, part.bottom()}, t.leaf_fill, 2);
      return;
    case As::growing:
      break;
  }
  pen.fill(part, t.leaf_fill, 1);
  const Color blade = mix(t.leaf_fill, t.night ? t.pane : t.sheet, 0.6F);
  const float high = part.h * 0.56F;
  for (float x = part.x + 5; x + high * 0.4F < part.right() - 2; x += 9.5F)
    pen.line({x, part.bottom() - 3}, {x + high * 0.4F, part.bottom() - 3 - high}, blade, 1.6F);
}

}  // namespace

void draw_season_band(Pen& pen, Rect bar, const SeasonBand& band) {
  const Theme& t = pen.theme;
  pen.fill(bar, t.well, 2);
  for (const Part& part : band.parts) {
    const float from = place_of_day(bar, band, part.from);
    const float to = place_of_day(bar, band, part.to);
    // A hair of ground between two parts.
    draw_part(pen, {from, bar.y, std::max(1.5F, to - from - (part.to < band.end ? 1.0F : 0.0F)), bar.h}, part.as);
  }
  for (const Day day : band.starts) {
    const float x = place_of_day(bar, band, day);
    const float half = std::min(6.0F, bar.h * 0.26F);
    const float left = std::max(bar.x, x - half);
    pen.fill_convex({{left, bar.bottom()}, {left + half, bar.y}, {left + 2 * half, bar.bottom()}}, t.ink);
  }
  const float now = std::min(bar.right() - 2, std::max(bar.x + 2, place_of_day(bar, band, band.today)));
  // It stands free of what lies under it.
  pen.fill({now - 3.5F, bar.y, 7, bar.h}, t.sheet);
  pen.fill({now - 1.5F, bar.y - season_over, 3, bar.h + 2 * season_over}, t.ink);
}

void draw_season_months(Pen& pen, Rect line, const SeasonBand& band) {
  const std::int32_t first = civil(band.first).month;
  std::array<std::string, 12> names;
  float widest = 0;
  std::size_t letters = 3;
  const float room = line.w / 12 - 2;
  const auto name_all = [&] {
    widest = 0;
    for (std::int32_t i = 0; i < 12; ++i) {
      std::string& name = names[static_cast<std::size_t>(i)];
      name = month_name((first - 1 + i) % 12 + 1).substr(0, letters);
      widest = std::max(widest, pen.width(Type::body_15, name));
    }
  };
  name_all();
  if (widest > room) {
    letters = 1;
    name_all();
  }
  const std::int32_t year = civil(band.first).year;
  for (std::int32_t i = 0; i < 12; ++i) {
    const std::int32_t month = (first - 1 + i) % 12 + 1;
    const Day day = day_from_civil({month < first ? year + 1 : year, month, 1}).value_or(band.first);
    const float x = place_of_day(line, band, day);
    pen.text_in({x, line.y, room + 2, line.h}, Type::body_15, pen.theme.ink2, names[static_cast<std::size_t>(i)]);
  }
}

void draw_season_legend(Pen& pen, Rect line) {
  const Theme& t = pen.theme;
  const RestWords& w = rest_words();
  const std::array<std::pair<Mark, std::string_view>, 4> marks{{{Mark::growing, w.legend_growing},
                                                                {Mark::drying_off, w.legend_dry_off},
                                                                {Mark::resting, w.legend_resting},
                                                                {Mark::started, w.legend_start}}};
  float all = 20 + pen.width(Type::strong_16, w.legend_today);
  for (const auto& [mark, words] : marks) all += 30 + pen.width(Type::strong_16, words);
  const float gap = std::clamp((line.w - all) / 4, 8.0F, 34.0F);
  float x = line.x;
  for (const auto& [mark, words] : marks) {
    const float wide = 30 + pen.width(Type::strong_16, words);
    if (x + wide > line.right()) return;
    draw_mark(pen, mark, {x + 11, line.middle().y}, 20);
    pen.text_in({x + 28, line.y, wide, line.h}, Type::strong_16, mark_color(t, mark), words);
    x += wide + gap;
  }
  const float wide = 14 + pen.width(Type::strong_16, w.legend_today);
  if (x + wide > line.right() + 1) return;
  pen.fill({x + 2, line.middle().y - 11, 3, 22}, t.ink);
  pen.text_in({x + 14, line.y, wide, line.h}, Type::strong_16, t.ink, w.legend_today);
}

}  // namespace motherbulb

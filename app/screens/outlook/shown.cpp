// What is shown of a clone's years ahead for what is wanted of it: numbers made ready to draw.

#include <algorithm>

#include "app/screens/outlook/parts.hpp"
#include "app/words.hpp"
#include "app/words/outlook.hpp"

namespace motherbulb::ahead {
namespace {

constexpr std::size_t least_drawn = 5;  // seasons of the fan
constexpr std::size_t most_rungs = 8;

double count_of(const std::optional<std::int64_t>& count, double otherwise) {
  return count ? static_cast<double>(*count) : otherwise;
}

FanView fan_of(const ScreenView& view, const OutlookPicture& picture, const OutlookDraft::Wanted& wanted) {
  const OutlookWords& w = outlook_words();
  FanView fan;
  double now = 0;
  const auto& classes = picture.known.growth.classes;
  for (const ClassGrowth& one : classes) now += one.saleable ? static_cast<double>(one.bulbs) : 0.0;
  fan.points.push_back({year_after(view, 0), {now, now, now, now, now}});
  const std::size_t last = std::min(picture.seasons, std::max(least_drawn, wanted.season + 1));
  for (std::size_t t = 1; t <= last; ++t) {
    const Spread& s = picture.outlook.seasons[t - 1].saleable;
    if (!s.p50) break;  // from here on there are too many to count
    fan.points.push_back({year_after(view, t),
                          {count_of(s.p5, s.mean), count_of(s.p25, s.mean), count_of(s.p50, s.mean),
                           count_of(s.p75, s.mean), count_of(s.p95, s.mean)}});
  }
  fan.target = static_cast<double>(wanted.target);
  fan.target_words = say(w.fan_wanted, grouped(wanted.target));
  fan.target_short = grouped(wanted.target);
  fan.ends = w.fan_ends;
  if (wanted.season < fan.points.size()) {
    fan.chosen = wanted.season;
    fan.chosen_words = rounded_words(fan.points[wanted.season].counts[2]);
  }
  return fan;
}

// Where a genus has more classes than can be read beside each other, the smallest ones go together.
LadderView ladder_of(const ScreenView& view, const OutlookPicture& picture, const OutlookDraft::Wanted& wanted) {
  LadderView ladder;
  const auto& classes = picture.known.growth.classes;
  const std::size_t together = classes.size() > most_rungs ? classes.size() - most_rungs + 1 : 1;
  for (std::size_t i = together - 1; i < classes.size(); ++i) {
    Grade grade = classes[i].grade;
    if (i + 1 == together) grade.low_mm = classes.front().grade.low_mm;
    ladder.rungs.push_back({grade_words(grade), classes[i].saleable});
  }
  const std::size_t last = std::min(picture.seasons, std::max(least_drawn, wanted.season + 1));
  for (std::size_t t = 0; t <= last; ++t) {
    const std::vector<double> bulbs = bulbs_by_class(picture, t);
    LadderSeason season{year_after(view, t), {}};
    double first = 0;
    for (std::size_t i = 0; i < bulbs.size(); ++i) {
      first += bulbs[i];
      if (i + 1 < together) continue;
      season.bulbs.push_back(i + 1 == together ? first : bulbs[i]);
    }
    ladder.seasons.push_back(std::move(season));
  }
  return ladder;
}

std::size_t places_now(const OutlookPicture& picture) {
  return picture.known.growth.model.places.size();
}

std::string places_said(const ScreenView& view, const OutlookPicture& picture) {
  const OutlookWords& w = outlook_words();
  const std::size_t now = places_now(picture);
  if (now == 0) return std::string(w.places_unknown);
  const auto counted_places = [&](std::size_t count) {
    return counted(static_cast<std::int64_t>(count), w.place, w.places);
  };
  const auto& fewest = picture.outlook.fewest_places;
  const std::string then = month_after(view, picture.seasons);
  if (!fewest) return std::string(w.places_never);
  if (now >= *fewest && picture.outlook.seasons.back().lost)
    return say(w.places_enough, counted_places(now), then, chance_words(picture.outlook.seasons.back().lost->chance));
  return say(w.places_few, counted_places(*fewest), now, then);
}

void fill_levers_and_places(const ScreenView& view, const OutlookPicture& picture, Shown& shown) {
  const OutlookWords& w = outlook_words();
  for (const Lever& lever : levers_by(picture, shown.wanted.season))
    shown.levers.emplace_back(w.levers[static_cast<std::size_t>(lever.kind)], lever.change);
  if (picture.outlook.places.empty()) return;
  const std::size_t now = places_now(picture);
  for (const PlacesChance& one : picture.outlook.places) {
    const bool told = one.places <= 4 || one.places == 6 || one.places == now;
    if (!told) continue;
    std::string name = counted(static_cast<std::int64_t>(one.places), w.place, w.places);
    if (one.places == now) name += ", " + std::string(w.places_now);
    shown.places.emplace_back(std::move(name), chance_words(one.lost.chance));
  }
  shown.places_said = places_said(view, picture);
}

}  // namespace

void refresh_shown(ScreenView& view) {
  OutlookDraft& draft = view.ui.outlook;
  const OutlookPicture& picture = *draft.ahead.picture;
  OutlookDraft::Wanted& wanted = wanted_of(view);
  wanted.season = std::clamp<std::size_t>(wanted.season, 1, std::min(picture.seasons, most_seasons_asked));
  if (wanted.target == 0) wanted.target = usual_target(picture, wanted.season);
  if (draft.shown && draft.shown->of == draft.ahead.picture && draft.shown->wanted == wanted) return;
  const auto shown = std::make_shared<Shown>();
  shown->of = draft.ahead.picture;
  shown->wanted = wanted;
  shown->chance = chance_of(picture, wanted.target, wanted.season);
  shown->fan = fan_of(view, picture, wanted);
  shown->ladder = ladder_of(view, picture, wanted);
  fill_levers_and_places(view, picture, *shown);
  for (const std::string& line : picture.known.growth.missing)
    shown->missing.push_back(without_numbers_of_sources(line));
  draft.shown = shown;
}

}  // namespace motherbulb::ahead

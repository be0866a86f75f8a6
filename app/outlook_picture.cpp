#include "app/outlook_picture.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "app/plan_picture.hpp"
#include "core/science/paths.hpp"

namespace motherbulb {
namespace {

// Seasons reckoned; fewer where the stock outgrows all counting.
constexpr std::size_t seasons_tried[] = {most_seasons_asked + 1, 6, 3, 1};

// 1, 2, 3 ... 10, 12, 14 ... 20, 25, 30 ... 50, 60 ... 100, and so on by tens.
std::int64_t step_at(std::int64_t target) {
  std::int64_t ten = 1;
  while (target >= 10 * ten) ten *= 10;
  if (ten == 1) return 1;
  return target < 2 * ten ? ten / 5 : target < 5 * ten ? ten / 2 : ten;
}

}  // namespace

GoOn part_of(const GoOn& go_on, double from, double to) {
  return [&go_on, from, to](double done) { return go_on(from + (to - from) * done); };
}

Error stopped_by_hand() {
  return {.kind = ErrorKind::cancelled, .what = "stopped; nothing was changed"};
}

bool OutlookPicture::nothing_stands() const {
  const auto& start = known.growth.model.start;
  return std::all_of(start.begin(), start.end(), [](std::int64_t count) { return count == 0; });
}

Result<OutlookPicture> look_ahead(const Logbook& book, const std::string& clone, Day on, const GoOn& go_on) {
  auto clones = clones_to_plan(book, clone, on, part_of(go_on, 0, 0.2));
  if (!clones) return clones.error();
  OutlookPicture picture;
  picture.known = std::move(clones->front());
  const Model& model = picture.known.growth.model;
  if (picture.nothing_stands()) return picture;
  OutlookWish wish;
  for (const std::size_t seasons : seasons_tried) {
    wish.seasons = seasons;
    auto found = outlook(model, wish, part_of(go_on, 0.2, 1));
    if (!found && found.error().kind == ErrorKind::cancelled) return found.error();
    if (!found && seasons == 1) return found.error();
    if (!found) continue;
    picture.seasons = seasons;
    picture.outlook = std::move(*found);
    break;
  }
  picture.saleable.resize(picture.seasons);
  for (std::size_t t = 0; t < picture.outlook.saleable.size(); ++t) {
    if (picture.outlook.seasons[t].saleable.p50) picture.saleable[t] = std::move(picture.outlook.saleable[t]);
  }
  picture.outlook.saleable.clear();
  return picture;
}

std::optional<double> chance_of(const OutlookPicture& picture, std::int64_t target, std::size_t season) {
  if (season < 1 || season > picture.saleable.size() || picture.saleable[season - 1].empty()) return std::nullopt;
  return share_reaching(picture.saleable[season - 1], target);
}

std::vector<Lever> levers_by(const OutlookPicture& picture, std::size_t season) {
  std::vector<Lever> levers;
  const Model& model = picture.known.growth.model;
  const double now = mean_saleable(model, season);
  for (Lever lever : picture.outlook.levers) {
    lever.saleable =
        mean_saleable(with_lever(model, lever.kind), season + (lever.kind == LeverKind::season_sooner ? 1 : 0));
    lever.change = lever.saleable - now;
    if (std::abs(lever.change) >= 0.05) levers.push_back(lever);
  }
  std::stable_sort(levers.begin(), levers.end(), [](const Lever& a, const Lever& b) { return a.change > b.change; });
  return levers;
}

std::int64_t usual_target(const OutlookPicture& picture, std::size_t season) {
  const std::size_t at = std::min(season, picture.seasons);
  if (at == 0) return 5;
  const Spread& spread = picture.outlook.seasons[at - 1].saleable;
  const double middle = spread.p50 ? static_cast<double>(*spread.p50) : spread.mean;
  return easily_said(middle);
}

std::int64_t easily_said(double count) {
  const auto whole = static_cast<std::int64_t>(std::clamp(count, 5.0, static_cast<double>(most_target)));
  const std::int64_t step = step_at(whole);
  return whole / step * step;
}

std::int64_t next_target(std::int64_t target, bool up) {
  if (up) {
    const std::int64_t step = step_at(target);
    return std::min(most_target, (target / step + 1) * step);
  }
  const std::int64_t step = step_at(std::max<std::int64_t>(1, target - 1));
  return std::max<std::int64_t>(1, (target - 1) / step * step);
}

std::vector<double> bulbs_by_class(const OutlookPicture& picture, std::size_t season) {
  const std::vector<double>& stands = picture.outlook.projection[std::min(season, picture.seasons)];
  const auto first = static_cast<std::ptrdiff_t>(picture.known.growth.has_sections ? 1 : 0);
  std::vector<double> bulbs(stands.begin() + first, stands.end());
  if (season == 0 || season > picture.seasons) return bulbs;
  const double all = std::accumulate(stands.begin(), stands.end(), 0.0);
  const double left = all > 0 ? picture.outlook.seasons[season - 1].total.mean / all : 1;
  for (double& count : bulbs) count *= left;
  return bulbs;
}

}  // namespace motherbulb

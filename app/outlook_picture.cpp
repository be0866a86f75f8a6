#include "app/outlook_picture.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/names.hpp"
#include "core/science/after_cut.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/book_plan.hpp"
#include "core/science/book_yields.hpp"
#include "core/science/paths.hpp"

namespace motherbulb {
namespace {

// Seasons reckoned; fewer where the stock outgrows all counting.
constexpr std::size_t seasons_tried[] = {most_seasons_asked + 1, 6, 3, 1};

GoOn part_of(const GoOn& go_on, double from, double to) {
  return [&go_on, from, to](double done) { return go_on(from + (to - from) * done); };
}

Error stopped() {
  return {.kind = ErrorKind::cancelled, .what = "stopped; nothing was changed"};
}

// 1, 2, 3 ... 10, 12, 14 ... 20, 25, 30 ... 50, 60 ... 100, and so on by tens.
std::int64_t step_at(std::int64_t target) {
  std::int64_t ten = 1;
  while (target >= 10 * ten) ten *= 10;
  if (ten == 1) return 1;
  return target < 2 * ten ? ten / 5 : target < 5 * ten ? ten / 2 : ten;
}

// What one mother comes to in each way, her size being that of most of those that were cut.
void compare_ways(const Logbook& book, const std::string& clone, Day on, const YieldRecords& records,
                  YieldsPicture& picture) {
  const std::string& genus = picture.ways.front().row.genus;
  const CutGiver gives = cut_givers_of(records)(clone, genus);
  const auto growth = growth_model_of(book, clone, on, gives);
  if (!growth) return;  // nothing of it stands in the book of that day
  std::vector<Grade> grades;
  for (const ClassGrowth& one : growth->classes) grades.push_back(one.grade);
  const auto most = std::max_element(picture.ways.begin(), picture.ways.end(),
                                     [](const auto& a, const auto& b) { return a.row.sections < b.row.sections; });
  const auto girth_mm = static_cast<std::int32_t>(std::lround(10 * most->row.girth_cm));
  const std::size_t mother = class_of(grades, Grade{girth_mm, girth_mm});
  picture.mother = grades[mother];
  std::vector<std::string> assumed;
  const StartingValues start = starting_values_or_assumed(genus, assumed);
  for (YieldsOfWay& way : picture.ways) {
    auto given = gives(way.row.method, way.row.sections_each, grades);
    if (!given) given = published_or_assumed(start, way.row.method, way.row.sections_each, grades);
    way.saleable = saleable_after_cut(*growth, *given, mother, most_seasons_asked);
  }
  picture.left_whole = saleable_left_whole(*growth, mother, most_seasons_asked);
}

}  // namespace

bool OutlookPicture::nothing_stands() const {
  const auto& start = known.growth.model.start;
  return std::all_of(start.begin(), start.end(), [](std::int64_t count) { return count == 0; });
}

Result<OutlookPicture> look_ahead(const Logbook& book, const std::string& clone, Day on, const GoOn& go_on) {
  if (!go_on(0)) return stopped();
  const auto facts = past_facts(book);
  if (!facts) return facts.error();
  if (!go_on(0.05)) return stopped();
  auto clones = plan_clones_of(book, on, clone, cut_givers_of(yield_records(*facts)));
  if (!clones) return clones.error();
  OutlookPicture picture;
  picture.known = std::move(clones->front());
  const Model& model = picture.known.growth.model;
  if (picture.nothing_stands()) return picture;
  OutlookWish wish;
  for (const std::size_t seasons : seasons_tried) {
    wish.seasons = seasons;
    auto found = outlook(model, wish, part_of(go_on, 0.2, 0.8));
    if (!found && found.error().kind == ErrorKind::cancelled) return found.error();
    if (!found && seasons == 1) return found.error();
    if (!found) continue;
    picture.seasons = seasons;
    picture.outlook = std::move(*found);
    break;
  }
  picture.saleable.resize(picture.seasons);
  if (!model.has_paths()) return picture;
  // The same walks again, kept whole.
  const auto walks =
      walk_paths(model, policy_of(model), picture.seasons, wish.paths, wish.seed, part_of(go_on, 0.8, 1));
  if (!walks) return stopped();
  for (std::size_t t = 1; t <= picture.seasons; ++t) {
    if (picture.outlook.seasons[t - 1].saleable.p50) picture.saleable[t - 1] = walks->sorted(walks->saleable, t);
  }
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
  const auto count = static_cast<std::int64_t>(std::clamp(middle, 5.0, static_cast<double>(most_target)));
  const std::int64_t step = step_at(count);
  return std::max<std::int64_t>(5, count / step * step);
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

Result<YieldsPicture> yields_of_clone(const Logbook& book, const std::string& clone, Day on, const GoOn& go_on) {
  if (!go_on(0)) return stopped();
  const auto facts = past_facts(book);
  if (!facts) return facts.error();
  const YieldRecords records = yield_records(*facts);
  const std::string folded = folded_name(clone);
  YieldsPicture picture;
  picture.taken_pots = records.taken_pots;
  picture.uncounted_pots = records.uncounted_pots;
  for (const MethodYields& method : yields_by_method(records)) {
    const std::size_t first = picture.ways.size();
    for (const YieldRow& row : method.rows) {
      if (folded_name(row.clone) == folded) picture.ways.push_back({row, {}});
    }
    if (picture.ways.size() == first || !method.priors) continue;
    const YieldFile file = yield_file(method, clone);
    const std::vector<YieldAnswer> answers = yields(file.priors, file.pots, file.asks, {}, go_on);
    if (answers.size() != file.asks.size()) return stopped();
    for (std::size_t i = 0; i < answers.size() && first + i < picture.ways.size(); ++i)
      picture.ways[first + i].row.answer = answers[i];
  }
  for (const FinishedPot& pot : records.pots) {
    if (folded_name(pot.clone) != folded) continue;
    for (YieldsOfWay& way : picture.ways) {
      if (way.row.method == pot.method && way.row.sections_each == pot.sections_each &&
          folded_name(way.row.genus) == folded_name(pot.genus))
        way.pots.push_back(pot);
    }
  }
  if (!picture.ways.empty()) compare_ways(book, clone, on, records, picture);
  return go_on(1) ? Result<YieldsPicture>(std::move(picture)) : stopped();
}

}  // namespace motherbulb

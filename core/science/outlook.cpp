#include "core/science/outlook.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "core/science/paths.hpp"

namespace motherbulb {
namespace {

constexpr double most_bulbs_counted = 1e12;
constexpr double most_bulbs_reckoned = 1e200;
constexpr double a_tenth = 0.1;
constexpr double safe_enough = 0.01;
constexpr std::array<std::size_t, 9> numbers_of_places = {1, 2, 3, 4, 5, 6, 8, 10, 12};

double saleable_of(const Model& model, const std::vector<double>& stands) {
  double sum = 0;
  for (std::size_t i = 0; i < model.size(); ++i) {
    if (model.classes[i].saleable) sum += stands[i];
  }
  return sum;
}

std::optional<Error> fault_of_wish(const OutlookWish& wish) {
  if (wish.seasons < 1 || wish.seasons > most_outlook_seasons) {
    return refusal("seasons takes 1 to " + std::to_string(most_outlook_seasons));
  }
  if (wish.paths < 1 || wish.paths > most_outlook_paths) {
    return refusal("paths takes 1 to " + std::to_string(most_outlook_paths));
  }
  if (wish.paths * wish.seasons > most_outlook_counts) {
    return refusal("paths times seasons is more than " + std::to_string(most_outlook_counts) +
                   "; ask for fewer of either");
  }
  if (wish.target && *wish.target < 0) return refusal("target is negative; write 0 or more");
  if (wish.release) {
    if (wish.release->wanted < 1) return refusal("wanted is less than one bulb; write 1 or more");
    if (wish.release->reserve < 0) return refusal("reserve is negative; write 0 or more");
    if (!(wish.release->sure > 0 && wish.release->sure < 1))
      return refusal("sure takes a chance between 0 and 1, as 0.8");
  }
  return std::nullopt;
}

std::vector<OutlookSeason> seasons_of(const Model& model, const OutlookWish& wish, const Outlook& outlook,
                                      const std::optional<PathStock>& paths) {
  std::vector<OutlookSeason> seasons;
  double left = 1;
  for (std::size_t t = 1; t <= wish.seasons; ++t) {
    left *= model.left_by_bad_events();
    const std::vector<double>& stands = outlook.projection[t];
    OutlookSeason season{.season = t};
    const double total = left * std::accumulate(stands.begin(), stands.end(), 0.0);
    const double saleable = left * saleable_of(model, stands);
    // A path's counts stop at most_bulbs_in_a_path; so far below that none comes near it.
    const bool counted = paths && total < most_bulbs_counted;
    const auto sorted_total = counted ? paths->sorted(paths->total, t) : std::vector<std::int64_t>{};
    season.total = spread_of(sorted_total, total);
    season.saleable = counted ? spread_of(outlook.saleable[t - 1], saleable) : Spread{.mean = saleable};
    if (wish.target && counted) season.p_target = share_reaching(outlook.saleable[t - 1], *wish.target);
    seasons.push_back(std::move(season));
  }
  return seasons;
}

std::vector<Lever> levers_of(const Model& model, std::size_t seasons) {
  std::vector<LeverKind> kinds = {LeverKind::season_sooner};
  if (model.has_paths()) {
    kinds.insert(kinds.end(), {LeverKind::fewer_lost, LeverKind::more_increase, LeverKind::grow_on});
  }
  if (model.bad_event && model.bad_event->chance > 0) kinds.push_back(LeverKind::fewer_bad_events);
  const double now = mean_saleable(model, seasons);
  std::vector<Lever> levers;
  for (const LeverKind kind : kinds) {
    const Model changed = with_lever(model, kind);
    Lever lever{.kind = kind};
    lever.saleable = mean_saleable(changed, seasons + (kind == LeverKind::season_sooner ? 1 : 0));
    lever.change = lever.saleable - now;
    lever.rate = long_run_rate(changed.mean(), model.starts_in());
    levers.push_back(lever);
  }
  std::stable_sort(levers.begin(), levers.end(), [](const Lever& a, const Lever& b) { return a.change > b.change; });
  return levers;
}

// Nothing where it was cancelled.
std::optional<std::vector<PlacesChance>> places_of(const Model& model, const OutlookWish& wish,
                                                   const std::function<bool(double)>& go_on) {
  std::vector<PlacesChance> table;
  Model spread = model;
  for (const std::size_t places : numbers_of_places) {
    spread.places.assign(places, 1.0 / static_cast<double>(places));
    const auto lost = chances_of_loss(spread, wish.seasons, wish.seed, go_on);
    if (!lost) return std::nullopt;
    table.push_back({places, lost->back()});
  }
  return table;
}

Error cancelled_error() {
  return {.kind = ErrorKind::cancelled, .what = "the outlook was stopped; nothing was changed"};
}

}  // namespace

Spread spread_of(const std::vector<std::int64_t>& sorted, double mean) {
  Spread spread{.mean = mean};
  if (sorted.empty()) return spread;
  spread.p5 = quantile(sorted, 0.05);
  spread.p25 = quantile(sorted, 0.25);
  spread.p50 = quantile(sorted, 0.50);
  spread.p75 = quantile(sorted, 0.75);
  spread.p95 = quantile(sorted, 0.95);
  return spread;
}

Model with_lever(const Model& model, LeverKind kind) {
  Model changed = model;
  if (kind == LeverKind::fewer_bad_events && changed.bad_event) changed.bad_event->chance /= 2;
  const std::size_t k = model.size();
  for (ModelYear& year : changed.years) {
    for (std::size_t from = 0; from < k; ++from) {
      double alive = 0;
      for (std::size_t to = 0; to < k; ++to) alive += year.survival.at(to, from);
      for (std::size_t to = 0; to < k; ++to) {
        if (kind == LeverKind::fewer_lost && alive > 0 && alive < 1) {
          year.survival.at(to, from) *= 1 + a_tenth * (1 - alive) / alive;
        }
        if (kind == LeverKind::more_increase) year.increase.at(to, from) *= 1 + a_tenth;
      }
      if (kind == LeverKind::grow_on && from + 1 < k) {
        const double moved = a_tenth * year.survival.at(from, from);
        year.survival.at(from, from) -= moved;
        year.survival.at(from + 1, from) += moved;
      }
    }
  }
  return changed;
}

double mean_saleable(const Model& model, std::size_t seasons) {
  return std::pow(model.left_by_bad_events(), static_cast<double>(seasons)) *
         saleable_of(model, projection(model, seasons).back());
}

Result<Outlook> outlook(const Model& model, const OutlookWish& wish, const std::function<bool(double)>& go_on) {
  if (const auto fault = fault_of_wish(wish)) return *fault;
  Outlook outlook;
  outlook.projection = projection(model, wish.seasons);
  for (std::size_t t = 0; t <= wish.seasons; ++t) {
    const auto& stands = outlook.projection[t];
    if (!(std::accumulate(stands.begin(), stands.end(), 0.0) < most_bulbs_reckoned)) {
      return refusal("by season " + std::to_string(t) +
                     " there are more bulbs than can be reckoned with; ask for fewer seasons");
    }
  }
  outlook.rate = growth_rate(model.mean(), model.starts_in());
  // Parts of the whole work, as they take their time.
  constexpr double paths_end = 0.6, loss_end = 0.8;
  const auto part = [&go_on](double from, double to) -> std::function<bool(double)> {
    if (!go_on) return {};
    return [&go_on, from, to](double done) { return go_on(from + (to - from) * done); };
  };
  std::optional<PathStock> paths;
  if (model.has_paths()) {
    const auto maker_of = [&model](std::size_t set) {
      const Model of_set = model.of_path(set);
      return PathMaker(of_set, policy_of(of_set));
    };
    const std::size_t sets = std::max<std::size_t>(1, model.may_be.size());
    paths = walk_paths(model, sets, maker_of, wish.seasons, wish.paths, wish.seed, part(0, paths_end));
    if (!paths) return cancelled_error();
    for (std::size_t t = 1; t <= wish.seasons; ++t) outlook.saleable.push_back(paths->sorted(paths->saleable, t));
    if (wish.release) {
      const auto& [wanted, reserve, sure] = *wish.release;
      outlook.release = first_release(outlook.saleable, reserve, wanted, sure);
    }
  }
  outlook.seasons = seasons_of(model, wish, outlook, paths);
  if (model.has_paths()) {
    const auto lost = chances_of_loss(model, wish.seasons, wish.seed, part(paths_end, loss_end));
    if (!lost) return cancelled_error();
    for (std::size_t t = 0; t < lost->size(); ++t) outlook.seasons[t].lost = (*lost)[t];
    if (model.bad_event && model.bad_event->chance > 0) {
      const auto places = places_of(model, wish, part(loss_end, 1));
      if (!places) return cancelled_error();
      outlook.places = *places;
      for (const PlacesChance& one : outlook.places) {
        if (!outlook.fewest_places && one.lost.chance < safe_enough) outlook.fewest_places = one.places;
      }
    }
  }
  outlook.levers = levers_of(model, wish.seasons);
  outlook.long_run = stochastic_growth(model, wish.seed);
  return outlook;
}

}  // namespace motherbulb

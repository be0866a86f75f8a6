// The outlook of a stock by a model: how fast it grows in the long run, what stands season by season and how surely,
// the chance that it is lost, and what would change most. Section 4 of the mathematics.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "core/science/cost.hpp"
#include "core/science/extinction.hpp"
#include "core/science/growth_rate.hpp"
#include "core/science/model.hpp"
#include "core/science/stochastic_growth.hpp"
#include "shared/result.hpp"

namespace motherbulb {

inline constexpr std::size_t most_outlook_seasons = 200;
inline constexpr std::size_t most_outlook_paths = 1'000'000;
inline constexpr std::size_t most_outlook_counts = 20'000'000;  // paths * seasons

// So many to let go beyond the reserve, as surely as that.
struct ReleaseWish {
  std::int64_t wanted = 1;  // 1 or more
  std::int64_t reserve = 0;
  double sure = 0.8;  // above 0, below 1
};

struct OutlookWish {
  std::size_t seasons = 10;
  std::optional<std::int64_t> target;  // saleable bulbs
  std::size_t paths = 10'000;
  std::uint64_t seed = 1;
  std::optional<ReleaseWish> release;
};

// Of all paths. Only the mean is known without paths (a year of which only totals are known), and where the stock
// outgrows what is counted bulb by bulb.
struct Spread {
  double mean = 0;  // exact: the projection, less what bad events take
  std::optional<std::int64_t> p5, p25, p50, p75, p95;
};

// Of counts in order of size; without counts only the mean.
Spread spread_of(const std::vector<std::int64_t>& sorted, double mean);

struct OutlookSeason {
  std::size_t season = 0;
  Spread total, saleable;
  std::optional<double> p_target;  // the target or more are saleable in that season
  std::optional<LossChance> lost;
};

enum class LeverKind { fewer_lost, more_increase, grow_on, fewer_bad_events, season_sooner };

struct Lever {
  LeverKind kind = LeverKind::fewer_lost;
  double change = 0;    // in saleable bulbs at the last season, in the mean
  double saleable = 0;  // with it
  double rate = 0;      // of growth in the long run, with it
};

struct PlacesChance {
  std::size_t places = 0;  // of equal share
  LossChance lost;         // by the last season
};

struct Outlook {
  GrowthRate rate;
  std::optional<StochasticGrowth> long_run;
  std::vector<std::vector<double>> projection;      // season 0, 1, ... of each class; bad events left out
  std::vector<OutlookSeason> seasons;               // 1, 2, ...
  std::vector<std::vector<std::int64_t>> saleable;  // after season 1, 2, ...: one count a path, ascending; or empty
  std::optional<Release> release;                   // none: in no season, or nobody asked
  std::vector<Lever> levers;                        // what gives most first; by how much a tenth would change it
  std::vector<PlacesChance> places;                 // empty where no bad events are known
  std::optional<std::size_t> fewest_places;         // that keep the chance of loss under 1 %
};

// Refused where the wish is out of bounds or the stock outgrows what can be counted; `cancelled` where go_on says no.
Result<Outlook> outlook(const Model& model, const OutlookWish& wish,
                        const std::function<bool(double done)>& go_on = {});

// What a lever makes of the model; `season_sooner` leaves it as it is.
Model with_lever(const Model& model, LeverKind kind);

// The mean that is saleable after so many seasons, bad events taken off.
double mean_saleable(const Model& model, std::size_t seasons);

}  // namespace motherbulb

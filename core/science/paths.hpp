// Paths of a stock: what may come of it, season by season, in whole bulbs.
//
// In each season one year is drawn for all bulbs, then the places that are struck; a bulb that stands in a struck place
// (it stands in each by the place's share) is lost with the chance `takes`, before anything else. Of the others
// survivors are multinomial, and each entry of increase follows its law, one that dies bears all the same. Section 3
// and 4 of the mathematics. Numbers come from Philox streams keyed by seed, path and season: a path is the same alone
// or among a million.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <vector>

#include "core/science/draws.hpp"
#include "core/science/model.hpp"

namespace motherbulb {

// What may be done with bulbs of one class, and what comes of one such bulb in each year of the model.
struct BulbAct {
  std::size_t from = 0;                       // its class
  std::vector<std::vector<double>> survival;  // [year][class]
  std::vector<std::vector<double>> increase;  // [year][class]
  std::optional<double> dispersion;           // of its increase; none: the model's
};

// Which share of each class's bulbs gets which act, season by season; the last season's shares go on.
struct Policy {
  std::vector<BulbAct> acts;
  std::vector<std::vector<double>> shares;  // [season][act]; of a class that has acts they sum to 1
};

// The model's own columns: one act a class.
Policy policy_of(const Model& model);

// What stands at the end of each season of each path.
struct PathStock {
  std::size_t seasons = 0;
  std::vector<std::int64_t> total, saleable;  // [path * seasons + season - 1]

  std::size_t paths() const { return seasons == 0 ? 0 : total.size() / seasons; }
  // All paths' counts in that season (1, 2, ...), in order of size.
  std::vector<std::int64_t> sorted(const std::vector<std::int64_t>& counts, std::size_t season) const;
};

// More than this many bulbs of a class in a path are counted no further.
inline constexpr std::int64_t most_bulbs_in_a_path = std::int64_t{1} << 50;

class PathMaker {
public:
  // The model must have paths (Model::has_paths) and pass fault_of.
  PathMaker(const Model& model, const Policy& policy);

  // One path; `stock` begins as the start. `told(season, stock)` is called at the end of each season.
  void walk(std::uint64_t seed, std::uint64_t path, std::size_t seasons,
            const std::function<void(std::size_t season, const std::vector<std::int64_t>& stock)>& told) const;

private:
  struct Cell {
    std::size_t to;
    BinomialDraw draw;
  };
  struct Bearing {
    std::size_t to;
    IncreaseDraw draw;
  };
  struct Column {                 // of one act in one year
    std::vector<Cell> survivors;  // each of those that the ones before it left
    std::vector<Bearing> increase;
  };

  void season(std::uint32_t season, PhiloxStream& stream, std::vector<std::int64_t>& stock,
              std::vector<std::int64_t>& next) const;
  void act(const Column& column, std::int64_t bulbs, PhiloxStream& stream, std::vector<std::int64_t>& next) const;

  YearDraw year_;
  StrikeDraw strike_;
  std::vector<std::int64_t> start_;
  std::vector<std::vector<std::size_t>> acts_of_class_;
  std::vector<std::vector<double>> shares_;
  std::vector<std::vector<Column>> columns_;  // [year][act]
};

// `paths` of them, of which path i walks through set i modulo `sets`; nothing where `go_on(share done)` says no.
std::optional<PathStock> walk_paths(const Model& model, std::size_t sets,
                                    const std::function<PathMaker(std::size_t set)>& maker_of, std::size_t seasons,
                                    std::size_t paths, std::uint64_t seed,
                                    const std::function<bool(double done)>& go_on);
// All by the model's own numbers.
std::optional<PathStock> walk_paths(const Model& model, const Policy& policy, std::size_t seasons, std::size_t paths,
                                    std::uint64_t seed, const std::function<bool(double done)>& go_on);

// The smallest count that at least `part` of the sorted counts do not exceed.
std::int64_t quantile(const std::vector<std::int64_t>& sorted, double part);
// The part of the sorted counts that are `least` or more.
double share_reaching(const std::vector<std::int64_t>& sorted, std::int64_t least);

}  // namespace motherbulb

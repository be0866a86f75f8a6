#include "core/science/paths.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace motherbulb {
namespace {

constexpr std::size_t paths_between_questions = 256;

}  // namespace

Policy policy_of(const Model& model) {
  Policy policy;
  for (std::size_t from = 0; from < model.size(); ++from) {
    BulbAct act{.from = from};
    for (const ModelYear& year : model.years) {
      std::vector<double> survival, increase;
      for (std::size_t to = 0; to < model.size(); ++to) {
        survival.push_back(year.survival.at(to, from));
        increase.push_back(year.increase.at(to, from));
      }
      act.survival.push_back(std::move(survival));
      act.increase.push_back(std::move(increase));
    }
    policy.acts.push_back(std::move(act));
  }
  policy.shares.assign(1, std::vector<double>(model.size(), 1.0));
  return policy;
}

std::vector<std::int64_t> PathStock::sorted(const std::vector<std::int64_t>& counts, std::size_t season) const {
  std::vector<std::int64_t> column;
  column.reserve(paths());
  for (std::size_t at = season - 1; at < counts.size(); at += seasons) column.push_back(counts[at]);
  std::sort(column.begin(), column.end());
  return column;
}

PathMaker::PathMaker(const Model& model, const Policy& policy)
    : year_(model), strike_(model), start_(model.start), acts_of_class_(model.size()) {
  for (std::size_t act = 0; act < policy.acts.size(); ++act) acts_of_class_[policy.acts[act].from].push_back(act);
  shares_ = policy.shares;
  // Acts that nothing is ever given are not made ready.
  std::vector<bool> used(policy.acts.size(), false);
  for (const std::vector<double>& season : shares_) {
    for (std::size_t act = 0; act < used.size(); ++act) used[act] = used[act] || season[act] > 0;
  }
  columns_.resize(model.years.size());
  for (std::size_t year = 0; year < model.years.size(); ++year) {
    for (const BulbAct& act : policy.acts) {
      Column column;
      if (!used[static_cast<std::size_t>(&act - policy.acts.data())]) {
        columns_[year].push_back(std::move(column));
        continue;
      }
      // The likeliest first: fewer are left for the draws behind it.
      std::vector<std::size_t> order;
      for (std::size_t to = 0; to < model.size(); ++to) {
        if (act.survival[year][to] > 0) order.push_back(to);
      }
      std::stable_sort(order.begin(), order.end(), [&act, year](std::size_t a, std::size_t b) {
        return act.survival[year][a] > act.survival[year][b];
      });
      double left = 1;
      for (const std::size_t to : order) {
        const double chance = act.survival[year][to];
        // What is left over of a column that sums to 1 is rounding.
        const double of_the_left = left - chance < 1e-12 ? 1.0 : chance / left;
        column.survivors.push_back({to, BinomialDraw(of_the_left)});
        left -= chance;
      }
      for (std::size_t to = 0; to < model.size(); ++to) {
        if (act.increase[year][to] > 0) {
          column.increase.push_back(
              {to, IncreaseDraw(act.increase[year][to], model.law, act.dispersion.value_or(model.dispersion))});
        }
      }
      columns_[year].push_back(std::move(column));
    }
  }
}

void PathMaker::act(const Column& column, std::int64_t bulbs, PhiloxStream& stream,
                    std::vector<std::int64_t>& next) const {
  std::int64_t left = bulbs;
  for (const Cell& cell : column.survivors) {
    if (left == 0) break;
    const std::int64_t count = cell.draw(left, stream);
    next[cell.to] += count;
    left -= count;
  }
  for (const Bearing& bearing : column.increase) next[bearing.to] += bearing.draw(bulbs, stream);
}

void PathMaker::season(std::uint32_t season, PhiloxStream& stream, std::vector<std::int64_t>& stock,
                       std::vector<std::int64_t>& next) const {
  const std::size_t year = year_.one_year() ? 0 : year_(stream);
  const double struck = strike_(stream);
  const std::vector<double>& shares = shares_[std::min<std::size_t>(season, shares_.size()) - 1];
  std::fill(next.begin(), next.end(), 0);
  for (std::size_t from = 0; from < stock.size(); ++from) {
    std::int64_t bulbs = stock[from];
    if (bulbs == 0) continue;
    if (struck > 0) bulbs -= draw_binomial(bulbs, struck * strike_.takes(), stream);
    // What each act gets, to the nearest whole bulb, so that all bulbs get one.
    double ends = 0;
    std::int64_t given = 0;
    for (const std::size_t act_index : acts_of_class_[from]) {
      ends += shares[act_index];
      const std::int64_t until =
          std::min(bulbs, static_cast<std::int64_t>(std::llround(ends * static_cast<double>(bulbs))));
      if (until > given) {
        act(columns_[year][act_index], until - given, stream, next);
        given = until;
      }
    }
  }
  for (std::int64_t& count : next) count = std::min(count, most_bulbs_in_a_path);
  stock.swap(next);
}

void PathMaker::walk(std::uint64_t seed, std::uint64_t path, std::size_t seasons,
                     const std::function<void(std::size_t, const std::vector<std::int64_t>&)>& told) const {
  std::vector<std::int64_t> stock = start_, next(start_.size());
  for (std::size_t t = 1; t <= seasons; ++t) {
    PhiloxStream stream(seed, path, static_cast<std::uint32_t>(t));
    season(static_cast<std::uint32_t>(t), stream, stock, next);
    told(t, stock);
  }
}

std::optional<PathStock> walk_paths(const Model& model, const Policy& policy, std::size_t seasons, std::size_t paths,
                                    std::uint64_t seed, const std::function<bool(double)>& go_on) {
  return walk_paths(
      model, 1, [&](std::size_t) { return PathMaker(model, policy); }, seasons, paths, seed, go_on);
}

std::optional<PathStock> walk_paths(const Model& model, std::size_t sets,
                                    const std::function<PathMaker(std::size_t)>& maker_of, std::size_t seasons,
                                    std::size_t paths, std::uint64_t seed, const std::function<bool(double)>& go_on) {
  std::vector<std::size_t> for_sale;
  for (std::size_t i = 0; i < model.size(); ++i) {
    if (model.classes[i].saleable) for_sale.push_back(i);
  }
  PathStock stock{.seasons = seasons};
  stock.total.resize(paths * seasons);
  stock.saleable.resize(paths * seasons);
  std::size_t walked = 0;
  for (std::size_t set = 0; set < std::min(sets, paths); ++set) {
    if (go_on && !go_on(static_cast<double>(walked) / static_cast<double>(paths))) return std::nullopt;
    const PathMaker maker = maker_of(set);
    for (std::size_t path = set; path < paths; path += sets) {
      if (++walked % paths_between_questions == 0 && go_on &&
          !go_on(static_cast<double>(walked) / static_cast<double>(paths))) {
        return std::nullopt;
      }
      maker.walk(seed, path, seasons, [&](std::size_t season, const std::vector<std::int64_t>& stands) {
        const std::size_t at = path * seasons + season - 1;
        stock.total[at] = std::accumulate(stands.begin(), stands.end(), std::int64_t{0});
        for (const std::size_t i : for_sale) stock.saleable[at] += stands[i];
      });
    }
  }
  return stock;
}

std::int64_t quantile(const std::vector<std::int64_t>& sorted, double part) {
  const double rank = std::ceil(part * static_cast<double>(sorted.size()) - 1e-9);
  const std::size_t at = rank < 1 ? 0 : static_cast<std::size_t>(rank) - 1;
  return sorted[std::min(at, sorted.size() - 1)];
}

double share_reaching(const std::vector<std::int64_t>& sorted, std::int64_t least) {
  const auto first = std::lower_bound(sorted.begin(), sorted.end(), least);
  return static_cast<double>(sorted.end() - first) / static_cast<double>(sorted.size());
}

}  // namespace motherbulb

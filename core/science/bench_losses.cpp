#include "core/science/bench_losses.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <optional>
#include <utility>

namespace motherbulb {
namespace {

constexpr std::int32_t bad_days = 30;
constexpr std::int64_t least_pots = 6;
constexpr double event_in_a_month = 1.0 / 20 / 12;
constexpr double lost_in_a_month = 0.01;
constexpr double year_days = 365.25;

double log_choose(double n, double x) {
  return std::lgamma(n + 1) - std::lgamma(x + 1) - std::lgamma(n - x + 1);
}

bool likelier_one_event(std::int64_t held, std::int64_t lost) {
  const auto n = static_cast<double>(held), x = static_cast<double>(lost);
  const double event = std::log(event_in_a_month) + std::log(6 * (x + 1) * (n - x + 1) / ((n + 1) * (n + 2) * (n + 3)));
  const double singly = log_choose(n, x) + x * std::log(lost_in_a_month) + (n - x) * std::log1p(-lost_in_a_month);
  return event > singly;
}

// What stands on one bench, and what it lost.
struct Bench {
  std::vector<std::size_t> stays;
  std::vector<std::size_t> losses;  // by day
};

class Reading {
public:
  Reading(const std::vector<BenchStay>& stays, const std::vector<BenchLoss>& losses)
      : stays_(stays), losses_(losses), lost_before_(stays.size(), 0) {}

  void read(const Bench& bench) {
    const std::map<Day, std::int64_t> standing = pots_from(bench);
    events_.bench_years += years_with_enough(standing);
    std::optional<Day> struck_on;
    for (std::size_t first = 0; first < bench.losses.size(); ++first) {
      const BenchLoss& loss = losses_[bench.losses[first]];
      const bool may_be =
          !struck_on || (civil(loss.on).year != civil(*struck_on).year && struck_on->days + bad_days < loss.on.days);
      if (may_be && is_bad(bench, first, pots_on(standing, loss.on))) struck_on = loss.on;
      lost_before_[loss.stay] += loss.lost;
    }
  }

  BenchEvents events() {
    std::sort(events_.losses.begin(), events_.losses.end());
    return std::move(events_);
  }

private:
  // Pots that stand there from a day on.
  std::map<Day, std::int64_t> pots_from(const Bench& bench) const {
    std::map<Day, std::int64_t> standing;  // first how many more
    for (const std::size_t i : bench.stays) {
      ++standing[stays_[i].from];
      --standing[stays_[i].to];
    }
    std::int64_t pots = 0;
    for (auto& [day, count] : standing) count = pots += count;
    return standing;
  }

  static std::int64_t pots_on(const std::map<Day, std::int64_t>& standing, Day on) {
    const auto later = standing.upper_bound(on);
    return later == standing.begin() ? 0 : std::prev(later)->second;
  }

  static double years_with_enough(const std::map<Day, std::int64_t>& standing) {
    std::int32_t days = 0;
    std::int64_t pots = 0;
    Day since;
    for (const auto& [day, count] : standing) {
      if (pots >= least_pots) days += day.days - since.days;
      pots = count;
      since = day;
    }
    return days / year_days;
  }

  // Keeps the event that begins with this loss of the bench, where it is one.
  bool is_bad(const Bench& bench, std::size_t first, std::int64_t standing) {
    const Day from = losses_[bench.losses[first]].on;
    std::vector<std::size_t> within;
    std::map<std::size_t, std::size_t> struck;  // pots, with their stays
    std::int64_t lost = 0, held = 0;
    for (std::size_t i = first; i < bench.losses.size(); ++i) {
      const BenchLoss& loss = losses_[bench.losses[i]];
      if (from.days + bad_days < loss.on.days) break;
      within.push_back(bench.losses[i]);
      struck.emplace(stays_[loss.stay].pot, loss.stay);
      lost += loss.lost;
    }
    const auto hit = static_cast<std::int64_t>(struck.size());
    if (3 * hit <= std::max(standing, least_pots)) return false;
    // Each pot as it was on that day; one that came later and lost some counts as it came.
    std::map<std::size_t, std::size_t> there;
    for (const std::size_t i : bench.stays) {
      if (stays_[i].from <= from && from < stays_[i].to) there.emplace(stays_[i].pot, i);
    }
    there.insert(struck.begin(), struck.end());
    const auto pots = static_cast<std::int64_t>(there.size());
    if (pots < least_pots || 3 * hit <= pots) return false;
    for (const auto& [pot, stay] : there) held += std::max<std::int64_t>(0, stays_[stay].held - lost_before_[stay]);
    lost = std::min(lost, held);
    if (!likelier_one_event(held, lost)) return false;
    events_.bad.push_back(
        {stays_[struck.begin()->second].bench, from, pots, hit, static_cast<double>(lost) / static_cast<double>(held)});
    events_.losses.insert(events_.losses.end(), within.begin(), within.end());
    return true;
  }

  const std::vector<BenchStay>& stays_;
  const std::vector<BenchLoss>& losses_;
  std::vector<std::int64_t> lost_before_;  // of each stay, until the loss that is looked at
  BenchEvents events_;
};

}  // namespace

BenchEvents bench_events(const std::vector<BenchStay>& stays, const std::vector<BenchLoss>& losses) {
  std::map<std::string, Bench> benches;
  for (std::size_t i = 0; i < stays.size(); ++i) benches[stays[i].bench].stays.push_back(i);
  for (std::size_t i = 0; i < losses.size(); ++i) benches[stays[losses[i].stay].bench].losses.push_back(i);
  Reading reading(stays, losses);
  for (auto& [name, bench] : benches) {
    std::stable_sort(bench.losses.begin(), bench.losses.end(),
                     [&](std::size_t a, std::size_t b) { return losses[a].on < losses[b].on; });
    reading.read(bench);
  }
  return reading.events();
}

}  // namespace motherbulb

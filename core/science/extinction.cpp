#include "core/science/extinction.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/science/draws.hpp"

namespace motherbulb {
namespace {

constexpr double minus_infinity = -std::numeric_limits<double>::infinity();
// A column of decimal fractions that sums to 1 leaves this much by rounding: nobody dies of it.
constexpr double rounding = 1e-15;

// What one bulb may leave behind in one year, as a generating function.
struct Line {
  double dies = 0;
  std::vector<std::pair<std::size_t, double>> survives, bears;
};

struct Environment {
  std::size_t year = 0;
  double lost = 0;        // the chance of a bulb to be lost to a bad event
  double log_chance = 0;  // of this environment
};

class Lines {
public:
  explicit Lines(const Model& model) : law_(model.law), dispersion_(model.dispersion), start_(model.start) {
    for (const ModelYear& year : model.years) {
      std::vector<Line> lines;
      for (std::size_t from = 0; from < model.size(); ++from) {
        Line line;
        long double alive = 0;
        for (std::size_t to = 0; to < model.size(); ++to) {
          if (const double chance = year.survival.at(to, from); chance > 0) {
            line.survives.emplace_back(to, chance);
            alive += chance;
          }
          if (const double mean = year.increase.at(to, from); mean > 0) line.bears.emplace_back(to, mean);
        }
        line.dies = static_cast<double>(1 - alive);
        if (line.dies < rounding) line.dies = 0;
        lines.push_back(std::move(line));
      }
      years_.push_back(std::move(lines));
    }
  }

  // From the chances that lines of one bulb of each class have ended by a season to those one season earlier.
  void step(const Environment& in, const std::vector<double>& ended, std::vector<double>& before) const {
    const std::vector<Line>& lines = years_[in.year];
    for (std::size_t from = 0; from < lines.size(); ++from) {
      const Line& line = lines[from];
      double itself = line.dies;
      for (const auto& [to, chance] : line.survives) itself += chance * ended[to];
      double log_daughters = 0;
      for (const auto& [to, mean] : line.bears) {
        const double live = 1 - ended[to];
        log_daughters -=
            law_ == IncreaseLaw::poisson ? mean * live : dispersion_ * std::log1p(mean * live / dispersion_);
      }
      before[from] = in.lost + (1 - in.lost) * std::min(itself, 1.0) * std::exp(log_daughters);
    }
  }
  double log_all_ended(const std::vector<double>& ended) const {
    double sum = 0;
    for (std::size_t from = 0; from < start_.size(); ++from) {
      if (start_[from] > 0) sum += static_cast<double>(start_[from]) * std::log(ended[from]);
    }
    return sum;
  }
  std::size_t size() const { return start_.size(); }

private:
  IncreaseLaw law_;
  double dispersion_;
  std::vector<std::int64_t> start_;
  std::vector<std::vector<Line>> years_;
};

// Sets of struck places by the share that they hold together; sets of the same share are one. Nothing where there are
// too many to sum over.
std::optional<std::vector<std::pair<double, double>>> shares_struck(const Model& model) {
  std::vector<std::pair<double, double>> sums{{0.0, 1.0}};
  if (!model.bad_event || model.bad_event->chance <= 0 || model.bad_event->takes <= 0) return sums;
  const double struck = model.bad_event->chance;
  for (const double place : model.shares_of_places()) {
    if (place <= 0) continue;
    std::vector<std::pair<double, double>> with;
    for (const auto& [share, chance] : sums) {
      with.emplace_back(share, chance * (1 - struck));
      with.emplace_back(share + place, chance * struck);
    }
    std::sort(with.begin(), with.end());
    sums.clear();
    for (const auto& one : with) {
      if (one.second <= 0) continue;
      if (!sums.empty() && one.first - sums.back().first < 1e-12) {
        sums.back().second += one.second;
      } else {
        sums.push_back(one);
      }
    }
    if (sums.size() > most_sequences) return std::nullopt;
  }
  return sums;
}

std::optional<std::vector<Environment>> environments(const Model& model) {
  const auto struck = shares_struck(model);
  if (!struck) return std::nullopt;
  std::vector<Environment> all;
  const std::vector<double> years = model.chances_of_years();
  for (std::size_t year = 0; year < years.size(); ++year) {
    if (years[year] <= 0) continue;
    for (const auto& [share, chance] : *struck) {
      const double takes = share > 0 ? std::min(share, 1.0) * model.bad_event->takes : 0;
      all.push_back({year, takes, std::log(years[year] * chance)});
    }
  }
  return all;
}

// Sums of chances of which only the logs are small enough to write.
class LogSum {
public:
  void add(double log_term) {
    if (log_term == minus_infinity) return;
    if (log_term <= greatest_) {
      sum_ += std::exp(log_term - greatest_);
    } else {
      sum_ = sum_ * std::exp(greatest_ - log_term) + 1;
      greatest_ = log_term;
    }
  }
  double value() const { return sum_ > 0 ? std::exp(greatest_ + std::log(sum_)) : 0; }

private:
  double greatest_ = minus_infinity, sum_ = 0;
};

// All sequences, the last season's environment first: sequences that end alike share their work.
class AllSequences {
public:
  AllSequences(const Lines& lines, const std::vector<Environment>& environments, std::size_t depth)
      : lines_(lines), environments_(environments), sums_(depth), ended_(depth + 1, std::vector<double>(lines.size())) {
    visit(0, 0.0);
  }
  double chance(std::size_t season) const { return sums_[season - 1].value(); }

private:
  void visit(std::size_t depth, double log_chance) {
    if (depth == sums_.size()) return;
    for (const Environment& environment : environments_) {
      lines_.step(environment, ended_[depth], ended_[depth + 1]);
      const double log_here = log_chance + environment.log_chance;
      sums_[depth].add(log_here + lines_.log_all_ended(ended_[depth + 1]));
      visit(depth + 1, log_here);
    }
  }

  const Lines& lines_;
  const std::vector<Environment>& environments_;
  std::vector<LogSum> sums_;
  std::vector<std::vector<double>> ended_;
};

class Moments {
public:
  void add(double value) {
    ++count_;
    const double away = value - mean_;
    mean_ += away / static_cast<double>(count_);
    squares_ += away * (value - mean_);
  }
  double mean() const { return mean_; }
  double error() const {
    if (count_ < 2) return 0;
    const auto n = static_cast<double>(count_);
    return std::sqrt(squares_ / (n - 1) / n);
  }

private:
  std::int64_t count_ = 0;
  double mean_ = 0, squares_ = 0;
};

}  // namespace

std::optional<std::vector<LossChance>> chances_of_loss(const Model& model, std::size_t seasons, std::uint64_t seed,
                                                       const std::function<bool(double)>& go_on) {
  const Lines lines(model);
  std::vector<LossChance> chances(seasons);
  // How many seasons can be summed exactly.
  std::size_t exact = 0;
  if (const auto listed = environments(model)) {
    std::size_t sequences = 1;
    while (exact < seasons && sequences * listed->size() <= most_sequences) {
      sequences *= listed->size();
      ++exact;
    }
    if (listed->size() == 1) {
      std::vector<double> ended(model.size(), 0.0), before(model.size());
      for (std::size_t season = 0; season < seasons; ++season) {
        lines.step(listed->front(), ended, before);
        ended.swap(before);
        chances[season].chance = std::exp(lines.log_all_ended(ended));
      }
      return chances;
    }
    const AllSequences all(lines, *listed, exact);
    for (std::size_t season = 1; season <= exact; ++season) chances[season - 1].chance = all.chance(season);
  }
  if (exact == seasons) return chances;

  // Seasons are drawn alike and by themselves, so a sequence read from its end has the chance of the one read from its
  // beginning: one pass tells every season's chance.
  const YearDraw year(model);
  const StrikeDraw strike(model);
  std::vector<Moments> moments(seasons);
  for (std::size_t path = 0; path < drawn_sequences; ++path) {
    if (path % 64 == 0 && go_on && !go_on(static_cast<double>(path) / static_cast<double>(drawn_sequences))) {
      return std::nullopt;
    }
    std::vector<double> ended(model.size(), 0.0), before(model.size());
    for (std::size_t season = 0; season < seasons; ++season) {
      PhiloxStream stream(seed, path, static_cast<std::uint32_t>(season + 1));
      Environment drawn{.year = year(stream)};
      drawn.lost = strike(stream) * strike.takes();
      lines.step(drawn, ended, before);
      ended.swap(before);
      if (season >= exact) moments[season].add(std::exp(lines.log_all_ended(ended)));
    }
  }
  for (std::size_t season = exact; season < seasons; ++season) {
    chances[season] = {moments[season].mean(), moments[season].error(), false};
  }
  return chances;
}

}  // namespace motherbulb

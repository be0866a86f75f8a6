#include "core/science/growth_records.hpp"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

#include "core/places.hpp"

namespace motherbulb {
namespace {

constexpr std::int32_t bad_days = 30;        // section 2: a bad event is losses within 30 days
constexpr std::size_t least_bench_pots = 6;  // of a third of 6 or more pots

using PotKey = std::pair<BatchId, std::int32_t>;

void add(const Lines& lines, BulbsByGrade& bulbs) {
  for (const Line& line : lines) {
    if (line.count > 0) bulbs[line.grade.value_or(Grade{})] += line.count;
  }
}

// The grade with most bulbs, the smaller where two are equal: what the fold assumes where nobody said.
Grade assumed_grade(const BulbsByGrade& bulbs) {
  Grade most;
  std::int64_t greatest = 0;
  for (const auto& [grade, count] : bulbs) {
    if (count > greatest) {
      most = grade;
      greatest = count;
    }
  }
  return most;
}

// Takes up to `count` bulbs of that grade out of `bulbs`, and says how many there were.
std::int64_t take(BulbsByGrade& bulbs, Grade grade, std::int64_t count) {
  const auto found = bulbs.find(grade);
  if (found == bulbs.end()) return 0;
  const std::int64_t taken = std::min(found->second, count);
  found->second -= taken;
  if (found->second == 0) bulbs.erase(found);
  return taken;
}

// What a pot holds while the facts pass by.
struct Standing {
  bool filled = false;
  bool bulbs = false;  // else pieces
  bool unsized = false;
  Filling filling;        // of bulbs: `before` holds what stands and what was lost of it
  BulbsByGrade there;     // of `before`, less the losses
  std::int64_t held = 0;  // bulbs or pieces, for the losses of a bench
  std::string bench;
  Day on_bench_since;
};

struct LossOnBench {
  Day on;
  PotKey pot;
  std::int64_t lost = 0;
  BulbsByGrade bulbs;  // of them, by the size they were potted with
};

class Reading {
public:
  void take_in(const PastFact& past) {
    if (const auto* begun = std::get_if<Begun>(&past.fact)) return begin(past, *begun);
    if (past.pot == 0) return;
    last_day_ = std::max(last_day_, local_day(past.when));
    Standing& pot = pots_[{past.batch, past.pot}];
    if (const auto* potted = std::get_if<Potted>(&past.fact)) return fill(past, *potted, pot);
    if (!pot.filled) return;
    if (const auto* moved = std::get_if<Moved>(&past.fact)) return place(past, moved->place, pot);
    if (const auto* lost = std::get_if<Lost>(&past.fact)) return lose(past, lost->lines, pot);
    if (const auto* unpotted = std::get_if<Unpotted>(&past.fact)) return empty(past, unpotted->lines, pot);
    if (const auto* divided = std::get_if<Divided>(&past.fact)) return empty(past, divided->lines, pot);
    if (const auto* graded = std::get_if<Graded>(&past.fact)) return count_anew(past, graded->lines, pot);
    if (const auto* repotted = std::get_if<Repotted>(&past.fact)) {
      if (!repotted->lines.empty()) count_anew(past, repotted->lines, pot);
      if (!repotted->place.empty()) place(past, repotted->place, pot);
      return;
    }
    if (const auto* sold = std::get_if<Sold>(&past.fact)) return leave(sold->lines, pot);
    if (const auto* given = std::get_if<Given>(&past.fact)) return leave(given->lines, pot);
    if (const auto* discarded = std::get_if<Discarded>(&past.fact)) return leave(discarded->lines, pot);
  }

  GrowthRecords close() {
    for (auto& [key, pot] : pots_) {
      if (pot.filled) leave_bench(key, last_day_, pot);
    }
    find_bad_benches();
    return std::move(records_);
  }

private:
  void begin(const PastFact& past, const Begun& begun) {
    if (begun.parent && begun.parent_pot != 0) {
      const auto pot = pots_.find({*begun.parent, begun.parent_pot});
      if (pot != pots_.end() && pot->second.filled) leave(begun.mothers, pot->second);
    }
    if (!cuts(begun.method)) return;
    for (const Line& line : begun.mothers) {
      if (line.count <= 0) continue;
      records_.cuts.push_back({past.batch, past.clone, past.genus, begun.method, begun.sections,
                               line.grade.value_or(Grade{}), line.count, local_day(past.when)});
    }
  }

  void fill(const PastFact& past, const Potted& potted, Standing& pot) {
    if (!pot.filled) {
      pot = Standing{};
      pot.filled = true;
      pot.bulbs = potted.unit == Unit::bulbs;
      pot.filling = Filling{past.batch, past.pot, past.clone, past.genus, local_day(past.when), {}, {}, {}, {}};
    }
    if (pot.bulbs) {
      add(potted.lines, pot.filling.before);
      add(potted.lines, pot.there);
    }
    hold({past.batch, past.pot}, pot.held + total(potted.lines), pot);
    if (!potted.place.empty()) place(past, potted.place, pot);
  }

  void hold(const PotKey& key, std::int64_t count, Standing& pot) {
    pot.held = count;
    most_held_[key] = std::max(most_held_[key], count);
  }

  void place(const PastFact& past, const std::string& where, Standing& pot) {
    leave_bench({past.batch, past.pot}, local_day(past.when), pot);
    pot.bench = split_place(where).bench;
    pot.on_bench_since = local_day(past.when);
  }

  // It stood there in every year from its coming to its going.
  void leave_bench(const PotKey& key, Day until, const Standing& pot) {
    if (pot.bench.empty()) return;
    for (std::int32_t year = civil(pot.on_bench_since).year; year <= civil(until).year; ++year) {
      pots_on_[{pot.bench, year}].insert(key);
    }
  }

  void lose(const PastFact& past, const Lines& lines, Standing& pot) {
    std::int64_t lost = 0;
    BulbsByGrade bulbs;
    for (const Line& line : lines) {
      if (line.count <= 0) continue;
      lost += line.count;
      if (!pot.bulbs) continue;
      const Grade grade = line.grade.value_or(assumed_grade(pot.there));
      if (const std::int64_t taken = take(pot.there, grade, line.count); taken > 0) {
        pot.filling.lost[grade] += taken;
        bulbs[grade] += taken;
      }
    }
    lost = std::min(lost, pot.held);
    pot.held -= lost;
    if (pot.bench.empty() || lost == 0) return;
    losses_[pot.bench].push_back({local_day(past.when), {past.batch, past.pot}, lost, std::move(bulbs)});
  }

  // Bulbs that left alive say nothing of what becomes of those that stay.
  void leave(const Lines& lines, Standing& pot) {
    for (const Line& line : lines) {
      const Grade grade = line.grade.value_or(assumed_grade(pot.there));
      const std::int64_t taken = take(pot.there, grade, line.count);
      take(pot.filling.before, grade, taken);
      pot.held -= std::min(pot.held, line.count);
    }
  }

  void keep(const PastFact& past, const Lines& counted, Standing& pot) {
    if (!pot.bulbs || pot.filling.before.empty()) return;
    const Day to = local_day(past.when);
    const std::int32_t days = to.days - pot.filling.from.days;
    if (days < least_season_days) {
      ++records_.too_short;
    } else if (days > longest_season_days) {
      ++records_.too_long;
    } else {
      pot.filling.to = to;
      add(counted, pot.filling.after);
      records_.fillings.push_back(pot.filling);
    }
  }

  void empty(const PastFact& past, const Lines& counted, Standing& pot) {
    keep(past, counted, pot);
    leave_bench({past.batch, past.pot}, local_day(past.when), pot);
    pot.filled = false;
  }

  void count_anew(const PastFact& past, const Lines& counted, Standing& pot) {
    keep(past, counted, pot);
    const std::string bench = pot.bench;
    const Day since = pot.on_bench_since;
    pot = Standing{};
    pot.filled = true;
    pot.bulbs = true;
    pot.bench = bench;
    pot.on_bench_since = since;
    pot.filling = Filling{past.batch, past.pot, past.clone, past.genus, local_day(past.when), {}, {}, {}, {}};
    add(counted, pot.filling.before);
    pot.there = pot.filling.before;
    hold({past.batch, past.pot}, total(counted), pot);
  }

  // What a bad event took is told by the event, and no second time by the filling.
  void set_aside(const LossOnBench& loss) {
    for (Filling& filling : records_.fillings) {
      const bool of_it =
          PotKey{filling.batch, filling.pot} == loss.pot && filling.from <= loss.on && loss.on <= filling.to;
      if (!of_it) continue;
      for (const auto& [grade, count] : loss.bulbs) take(filling.before, grade, take(filling.lost, grade, count));
      return;
    }
  }

  // A bench in a year is one chance for a bad event; the first window of 30 days in which it had one counts.
  void find_bad_benches() {
    for (const auto& [where, pots] : pots_on_) {
      const auto& [bench, year] = where;
      if (pots.size() < least_bench_pots) continue;
      ++records_.bench_seasons;
      const auto losses = losses_.find(bench);
      if (losses == losses_.end()) continue;
      for (const LossOnBench& first : losses->second) {
        if (civil(first.on).year == year && is_bad(first, losses->second, bench, pots)) break;
      }
    }
  }

  // Keeps the event that begins with this loss, where it is one.
  bool is_bad(const LossOnBench& first, const std::vector<LossOnBench>& losses, const std::string& bench,
              const std::set<PotKey>& pots) {
    std::vector<const LossOnBench*> within;
    std::set<PotKey> struck;
    std::int64_t lost = 0, held = 0;
    for (const LossOnBench& one : losses) {
      if (one.on < first.on || one.on.days > first.on.days + bad_days) continue;
      within.push_back(&one);
      struck.insert(one.pot);
      lost += one.lost;
    }
    if (struck.size() * 3 <= pots.size()) return false;
    for (const PotKey& pot : pots) held += most_held_[pot];
    const double share = held > 0 ? std::min(1.0, static_cast<double>(lost) / static_cast<double>(held)) : 1.0;
    records_.bad_benches.push_back(
        {bench, first.on, static_cast<std::int64_t>(pots.size()), static_cast<std::int64_t>(struck.size()), share});
    for (const LossOnBench* one : within) set_aside(*one);
    return true;
  }

  GrowthRecords records_;
  std::map<PotKey, Standing> pots_;
  std::map<std::pair<std::string, std::int32_t>, std::set<PotKey>> pots_on_;  // bench and year
  std::map<std::string, std::vector<LossOnBench>> losses_;                    // by bench, in the order of the fold
  std::map<PotKey, std::int64_t> most_held_;                                  // bulbs or pieces, at any time
  Day last_day_;
};

}  // namespace

std::int64_t Filling::missing() const {
  return std::max<std::int64_t>(0, total(before) - total(lost) - total(after));
}

std::int64_t Filling::increase() const {
  return std::max<std::int64_t>(0, total(after) + total(lost) - total(before));
}

GrowthRecords growth_records(const std::vector<PastFact>& facts) {
  Reading reading;
  for (const PastFact& past : facts) reading.take_in(past);
  return reading.close();
}

}  // namespace motherbulb

#include "core/science/growth_records.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "core/places.hpp"

namespace motherbulb {
namespace {

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
  std::optional<std::size_t> stay;  // there, of those that are told
};

// What a loss on a bench took of the pot's bulbs, by the size they were potted with.
struct LossOfPot {
  PotKey pot;
  BulbsByGrade bulbs;
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
    if (const auto* sold = std::get_if<Sold>(&past.fact)) return leave(local_day(past.when), sold->lines, pot);
    if (const auto* given = std::get_if<Given>(&past.fact)) return leave(local_day(past.when), given->lines, pot);
    if (const auto* discarded = std::get_if<Discarded>(&past.fact))
      return leave(local_day(past.when), discarded->lines, pot);
  }

  GrowthRecords close() {
    for (auto& [key, pot] : pots_) {
      if (pot.filled) end_stay(Day{last_day_.days + 1}, pot);  // it stands there still
    }
    read_benches();
    return std::move(records_);
  }

private:
  void begin(const PastFact& past, const Begun& begun) {
    if (begun.parent && begun.parent_pot != 0) {
      const auto pot = pots_.find({*begun.parent, begun.parent_pot});
      if (pot != pots_.end() && pot->second.filled) leave(local_day(past.when), begun.mothers, pot->second);
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
    pot.held += total(potted.lines);
    if (!potted.place.empty()) pot.bench = split_place(potted.place).bench;
    begin_stay(local_day(past.when), pot);
  }

  void place(const PastFact& past, const std::string& where, Standing& pot) {
    pot.bench = split_place(where).bench;
    begin_stay(local_day(past.when), pot);
  }

  // On its bench with what it holds now.
  void begin_stay(Day on, Standing& pot) {
    end_stay(on, pot);
    if (pot.bench.empty() || pot.held == 0) return;
    pot.stay = stays_.size();
    const PotKey key{pot.filling.batch, pot.filling.pot};
    const std::size_t number = numbers_.emplace(key, numbers_.size()).first->second;
    stays_.push_back({number, pot.bench, on, on, pot.held});
  }

  void end_stay(Day on, Standing& pot) {
    if (pot.stay) stays_[*pot.stay].to = std::max(stays_[*pot.stay].from, on);
    pot.stay.reset();
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
    if (!pot.stay || lost == 0) return;
    losses_.push_back({*pot.stay, local_day(past.when), lost});
    losses_of_pots_.push_back({{past.batch, past.pot}, std::move(bulbs)});
  }

  // Bulbs that left alive say nothing of what becomes of those that stay.
  void leave(Day on, const Lines& lines, Standing& pot) {
    for (const Line& line : lines) {
      const Grade grade = line.grade.value_or(assumed_grade(pot.there));
      const std::int64_t taken = take(pot.there, grade, line.count);
      take(pot.filling.before, grade, taken);
      pot.held -= std::min(pot.held, line.count);
    }
    begin_stay(on, pot);
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
    end_stay(local_day(past.when), pot);
    pot.filled = false;
  }

  void count_anew(const PastFact& past, const Lines& counted, Standing& pot) {
    keep(past, counted, pot);
    end_stay(local_day(past.when), pot);
    const std::string bench = pot.bench;
    pot = Standing{};
    pot.filled = true;
    pot.bulbs = true;
    pot.bench = bench;
    pot.filling = Filling{past.batch, past.pot, past.clone, past.genus, local_day(past.when), {}, {}, {}, {}};
    add(counted, pot.filling.before);
    pot.there = pot.filling.before;
    pot.held = total(counted);
    begin_stay(local_day(past.when), pot);
  }

  // What a bad event took is told by the event, and no second time by the filling.
  void set_aside(const LossOfPot& loss, Day on) {
    for (Filling& filling : records_.fillings) {
      const bool of_it = PotKey{filling.batch, filling.pot} == loss.pot && filling.from <= on && on <= filling.to;
      if (!of_it) continue;
      for (const auto& [grade, count] : loss.bulbs) take(filling.before, grade, take(filling.lost, grade, count));
      return;
    }
  }

  void read_benches() {
    BenchEvents events = bench_events(stays_, losses_);
    for (const std::size_t i : events.losses) set_aside(losses_of_pots_[i], losses_[i].on);
    records_.bad_benches = std::move(events.bad);
    records_.bench_years = events.bench_years;
  }

  GrowthRecords records_;
  std::map<PotKey, Standing> pots_;
  std::map<PotKey, std::size_t> numbers_;  // of pots, for their stays
  std::vector<BenchStay> stays_;
  std::vector<BenchLoss> losses_;
  std::vector<LossOfPot> losses_of_pots_;  // of each of the losses
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

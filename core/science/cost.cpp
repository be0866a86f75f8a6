#include "core/science/cost.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace motherbulb {
namespace {

using Cents = std::array<double, cost_part_count>;
using PlaceKey = std::pair<BatchId, std::int32_t>;
using CloneKey = std::pair<std::string, std::string>;  // genus and name

constexpr double days_in_week = 7;
constexpr double minutes_in_hour = 60;
constexpr std::size_t seasons_of_release = 5;

void add(Cents& to, const Cents& more, double times = 1) {
  for (std::size_t i = 0; i < to.size(); ++i) to[i] += more[i] * times;
}

double sum(const Cents& cents) {
  double all = 0;
  for (const double one : cents) all += one;
  return all;
}

Cents only(CostPart part, double cents) {
  Cents made{};
  made[static_cast<std::size_t>(part)] = cents;
  return made;
}

// Bulbs or pieces that stand together, with what they have cost.
struct Heap {
  BulbsByGrade bulbs;
  std::int64_t pieces = 0;
  Cents cents{};

  std::int64_t heads() const { return total(bulbs) + pieces; }
  void clear() { *this = Heap{}; }
};

void put(Heap& into, const Heap& more) {
  for (const auto& [grade, count] : more.bulbs) into.bulbs[grade] += count;
  into.pieces += more.pieces;
  add(into.cents, more.cents);
}

std::int64_t take_of(Heap& from, Grade grade, std::int64_t count, Heap& taken) {
  const auto found = from.bulbs.find(grade);
  if (found == from.bulbs.end() || count <= 0) return 0;
  const std::int64_t got = std::min(count, found->second);
  taken.bulbs[grade] += got;
  found->second -= got;
  if (found->second == 0) from.bulbs.erase(found);
  return got;
}

// Which bulbs a line means is what the fold says: those of its grade, then unsized ones; of no grade those of which
// there are most.
void take_bulbs(Heap& from, const Line& line, Heap& taken) {
  std::int64_t left = line.count;
  if (line.grade) {
    left -= take_of(from, *line.grade, left, taken);
    if (line.grade->sized()) take_of(from, Grade{}, left, taken);
    return;
  }
  while (left > 0 && !from.bulbs.empty()) {
    const auto most = std::max_element(from.bulbs.begin(), from.bulbs.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    left -= take_of(from, most->first, left, taken);
  }
}

// What stands in a pot, or waits in the batch: bulbs and pieces apart, since an unpotting makes one of the other.
struct Place {
  Heap bulbs, pieces;
  bool filled = false;
  Day since;  // bench space is reckoned up to this day

  std::int64_t heads() const { return bulbs.heads() + pieces.heads(); }
};

struct Batch {
  CloneKey clone;
  Method method = Method::growing_on;
  std::set<std::int32_t> places;
};

struct Clone {
  Cents left{};  // what nothing in its batch is left to bear
  Heap gone;
};

class Ledger {
public:
  Ledger(const std::vector<PastFact>& facts, const CostFigures& figures, Day on) : figures_(figures), on_(on) {
    for (const PastFact& past : facts) {
      if (!(on < local_day(past.when)) && std::holds_alternative<Hours>(past.fact)) timed_.insert(past.batch);
    }
    for (const PastFact& past : facts) {
      if (!(on < local_day(past.when))) take_in(past);
    }
    for (auto& [key, place] : places_) stand(key, on);
  }

  std::vector<CloneCost> close() const {
    std::vector<CloneCost> costs;
    for (const auto& [key, clone] : clones_) costs.push_back(cost_of(key, clone));
    return costs;
  }

private:
  // ---------------------------------------------------------------------------------------------- laying down

  // By heads over these places; false: nothing stands there.
  bool spread(const std::vector<Heap*>& heaps, const Cents& cents) {
    std::int64_t heads = 0;
    for (const Heap* heap : heaps) heads += heap->heads();
    if (heads == 0) return false;
    for (Heap* heap : heaps) {
      add(heap->cents, cents, static_cast<double>(heap->heads()) / static_cast<double>(heads));
    }
    return true;
  }

  void charge_batch(const BatchId& id, const Cents& cents) {
    const Batch& batch = batches_[id];
    std::vector<Heap*> heaps;
    for (const std::int32_t number : batch.places) {
      Place& one = places_[{id, number}];
      heaps.push_back(&one.bulbs);
      heaps.push_back(&one.pieces);
    }
    if (!spread(heaps, cents)) add(clones_[batch.clone].left, cents);
  }

  void charge(const PlaceKey& key, const Cents& cents) {
    Place& place = place_at(key);
    if (key.second == 0 || !spread({&place.bulbs, &place.pieces}, cents)) charge_batch(key.first, cents);
  }

  // What nobody is left in the heap to bear goes on to the rest of the batch.
  void leave_to_others(const BatchId& batch, Heap& heap) {
    if (heap.heads() > 0) return;
    const Cents cents = heap.cents;
    heap.clear();
    if (sum(cents) > 0) charge_batch(batch, cents);
  }

  void work(const PlaceKey& key, double minutes) {
    if (timed_.count(key.first) != 0) return;  // its hours were written down
    charge(key, only(CostPart::hours, minutes / minutes_in_hour * figures_.hour));
  }

  // Bench space of a filled pot up to that day.
  void stand(const PlaceKey& key, Day until) {
    Place& place = place_at(key);
    if (!place.filled || !(place.since < until)) return;
    const double weeks = (until.days - place.since.days) / days_in_week;
    place.since = until;
    charge(key, only(CostPart::space, weeks * figures_.bench_week));
  }

  Place& place_at(const PlaceKey& key) {
    batches_[key.first].places.insert(key.second);
    return places_[key];
  }

  // ---------------------------------------------------------------------------------------------- moving

  // Lines out of a place with their share of its cost; what was not there brings none.
  Heap take(Place& place, const Lines& lines) {
    Heap taken;
    for (const Line& line : lines) {
      Heap& from = !line.grade && place.bulbs.heads() == 0 ? place.pieces : place.bulbs;
      const std::int64_t before = from.heads();
      if (before == 0 || line.count <= 0) continue;
      Heap one;
      if (&from == &place.pieces) {
        one.pieces = std::min(line.count, from.pieces);
        from.pieces -= one.pieces;
      } else {
        take_bulbs(from, line, one);
      }
      split_cost(from, before, one);
      put(taken, one);
    }
    return taken;
  }

  void split_cost(Heap& from, std::int64_t before, Heap& taken) {
    const double share = static_cast<double>(taken.heads()) / static_cast<double>(before);
    add(taken.cents, from.cents, share);
    if (from.heads() == 0) {
      from.cents = {};
    } else {
      add(from.cents, from.cents, -share);
    }
  }

  Heap take_pieces(Place& place, std::int64_t count) {
    Heap taken;
    const std::int64_t before = place.pieces.heads();
    if (before == 0 || count <= 0) return taken;
    taken.pieces = std::min(count, before);
    place.pieces.pieces -= taken.pieces;
    split_cost(place.pieces, before, taken);
    return taken;
  }

  // ---------------------------------------------------------------------------------------------- facts

  void take_in(const PastFact& past) {
    Batch& batch = batches_[past.batch];
    batch.clone = {past.genus, past.clone};
    clones_[batch.clone];
    const PlaceKey key{past.batch, past.pot};
    stand(key, local_day(past.when));
    if (const auto* begun = std::get_if<Begun>(&past.fact)) return begin(past, *begun);
    if (const auto* potted = std::get_if<Potted>(&past.fact)) return fill(past, *potted);
    if (const auto* lost = std::get_if<Lost>(&past.fact)) return lose(key, lost->lines);
    if (const auto* discarded = std::get_if<Discarded>(&past.fact)) return lose(key, discarded->lines);
    if (const auto* sold = std::get_if<Sold>(&past.fact)) return go(key, sold->lines);
    if (const auto* given = std::get_if<Given>(&past.fact)) return go(key, given->lines);
    if (const auto* unpotted = std::get_if<Unpotted>(&past.fact)) return count(key, unpotted->lines, true);
    if (const auto* divided = std::get_if<Divided>(&past.fact)) return count(key, divided->lines, true);
    if (const auto* graded = std::get_if<Graded>(&past.fact)) return count(key, graded->lines, false);
    if (const auto* repotted = std::get_if<Repotted>(&past.fact)) return repot(key, repotted->lines);
    if (const auto* combined = std::get_if<Combined>(&past.fact)) return combine(key, *combined);
    if (const auto* hours = std::get_if<Hours>(&past.fact)) {
      return charge(key, only(CostPart::hours, hours->minutes / minutes_in_hour * figures_.hour));
    }
    if (const auto* money = std::get_if<Money>(&past.fact)) {
      if (!money->got) charge(key, only(CostPart::spent, static_cast<double>(money->cents)));
    }
  }

  void begin(const PastFact& past, const Begun& begun) {
    const std::int64_t count = total(begun.mothers);
    Heap come;
    if (begun.parent) {
      const PlaceKey from{*begun.parent, begun.parent_pot};
      stand(from, local_day(past.when));
      Place& parent = place_at(from);
      come.cents = take(parent, begun.mothers).cents;
    } else {
      come.cents = only(CostPart::bought, static_cast<double>(count) * figures_.bulb_from_out);
    }
    if (cuts(begun.method)) {
      come.pieces = leaves_mother_whole(begun.method) ? count : count * std::max<std::int64_t>(begun.sections, 1);
    } else {
      for (const Line& line : begun.mothers) {
        if (line.count > 0) come.bulbs[line.grade.value_or(Grade{})] += line.count;
      }
    }
    batches_[past.batch].method = begun.method;
    Place& waiting = place_at({past.batch, 0});
    put(cuts(begun.method) ? waiting.pieces : waiting.bulbs, come);
    if (cuts(begun.method)) work({past.batch, 0}, static_cast<double>(count) * figures_.minutes_cut);
  }

  void fill(const PastFact& past, const Potted& potted) {
    if (past.pot == 0) return;
    const PlaceKey key{past.batch, past.pot};
    Place& waiting = place_at({past.batch, 0});
    Place& pot = place_at(key);
    for (const Line& line : potted.lines) {
      if (line.count <= 0) continue;
      const bool pieces =
          !line.grade &&
          (potted.unit == Unit::pieces ||
           (potted.unit == Unit::unsaid &&
            (waiting.pieces.heads() > 0 || (waiting.bulbs.heads() == 0 && cuts(batches_[past.batch].method)))));
      if (pieces) {
        Heap taken = take_pieces(waiting, line.count);
        taken.pieces = line.count;  // more potted than waited are there all the same
        put(pot.pieces, taken);
      } else {
        fill_bulbs(waiting, pot, line);
      }
    }
    if (!pot.filled) pot.since = local_day(past.when);
    pot.filled = true;
    charge(key, only(CostPart::material, figures_.potting));
    work(key, figures_.minutes_pot);
  }

  // Bulbs of a grade said are of that grade from now on, whatever they were taken for.
  void fill_bulbs(Place& waiting, Place& pot, const Line& line) {
    Heap taken = take(waiting, {line});
    if (taken.pieces > 0) {  // there were no bulbs: it is what had been counted as pieces
      taken.bulbs[line.grade.value_or(Grade{})] += taken.pieces;
      taken.pieces = 0;
    }
    const std::int64_t missing = line.count - taken.heads();
    if (line.grade) {
      taken.bulbs = {{*line.grade, line.count}};
    } else if (missing > 0) {
      taken.bulbs[Grade{}] += missing;
    }
    put(pot.bulbs, taken);
  }

  void lose(const PlaceKey& key, const Lines& lines) {
    Place& place = place_at(key);
    for (const Line& line : lines) {
      const bool pieces = !line.grade && place.pieces.heads() > 0;
      Heap& heap = pieces ? place.pieces : place.bulbs;
      if (pieces) {
        heap.pieces -= std::min(heap.pieces, std::max<std::int64_t>(line.count, 0));
      } else {
        Heap dead;
        take_bulbs(heap, line, dead);
      }
      leave_to_others(key.first, heap);
    }
  }

  void go(const PlaceKey& key, const Lines& lines) {
    put(clones_[batches_[key.first].clone].gone, take(place_at(key), lines));
  }

  // All that stood there is counted anew, as bulbs; `out`: they wait in the batch from now on.
  void count(const PlaceKey& key, const Lines& lines, bool out) {
    Place& from = place_at(key);
    if (key.second == 0 ? out : !from.filled) return;  // nothing stands there to be counted
    if (key.second != 0 && out) work(key, figures_.minutes_unpot);
    Heap counted;
    add(counted.cents, from.bulbs.cents);
    from.bulbs.clear();
    if (key.second != 0) {
      add(counted.cents, from.pieces.cents);
      from.pieces.clear();
    }
    for (const Line& line : lines) {
      if (line.count > 0) counted.bulbs[line.grade.value_or(Grade{})] += line.count;
    }
    if (out) from.filled = false;
    Heap& into = out ? place_at({key.first, 0}).bulbs : from.bulbs;
    put(into, counted);
    leave_to_others(key.first, into);
  }

  void repot(const PlaceKey& key, const Lines& lines) {
    if (key.second == 0 || !place_at(key).filled) return;
    if (!lines.empty()) count(key, lines, false);
    charge(key, only(CostPart::material, figures_.potting));
    work(key, figures_.minutes_pot);
  }

  void combine(const PlaceKey& key, const Combined& combined) {
    Place& from = place_at({key.first, 0});
    const Heap pieces = take_pieces(from, combined.pieces);
    const Heap bulbs = take(from, combined.lines);
    Place& into = place_at({combined.into, 0});
    batches_[combined.into].clone = batches_[key.first].clone;  // of one clone always
    put(into.pieces, pieces);
    put(into.bulbs, bulbs);
  }

  // ---------------------------------------------------------------------------------------------- the sum

  CloneCost cost_of(const CloneKey& key, const Clone& clone) const {
    std::map<Grade, std::pair<std::int64_t, double>> by_grade;
    Heap pieces;
    Cents parts = clone.left;
    for (const auto& [at, place] : places_) {
      const auto batch = batches_.find(at.first);
      if (batch == batches_.end() || batch->second.clone != key) continue;
      add(parts, place.bulbs.cents);
      add(parts, place.pieces.cents);
      put(pieces, place.pieces);
      const std::int64_t heads = place.bulbs.heads();
      for (const auto& [grade, bulbs] : place.bulbs.bulbs) {
        by_grade[grade].first += bulbs;
        by_grade[grade].second += sum(place.bulbs.cents) * static_cast<double>(bulbs) / static_cast<double>(heads);
      }
    }
    return in_whole_cents(key, clone, parts, pieces, by_grade);
  }

  CloneCost in_whole_cents(const CloneKey& key, const Clone& clone, const Cents& parts, const Heap& pieces,
                           const std::map<Grade, std::pair<std::int64_t, double>>& by_grade) const {
    CloneCost cost;
    cost.genus = key.first;
    cost.clone = key.second;
    cost.total = whole(sum(parts));
    const std::vector<std::int64_t> shares = shared_out(cost.total, {parts.begin(), parts.end()});
    std::copy(shares.begin(), shares.end(), cost.parts.begin());
    cost.pieces = pieces.pieces;
    cost.gone = clone.gone.heads();
    cost.gone_cents = whole(sum(clone.gone.cents));
    // What nothing in its batch bears is borne by every head of the clone.
    std::int64_t heads = pieces.pieces;
    for (const auto& [grade, one] : by_grade) heads += one.first;
    if (heads == 0) {
      cost.borne_by_none = cost.total;
      return cost;
    }
    const double each = sum(clone.left) / static_cast<double>(heads);
    std::vector<double> bearing{sum(pieces.cents) + each * static_cast<double>(pieces.pieces)};
    for (const auto& [grade, one] : by_grade) bearing.push_back(one.second + each * static_cast<double>(one.first));
    const std::vector<std::int64_t> borne = shared_out(cost.total, bearing);
    cost.pieces_cents = borne[0];
    std::size_t i = 0;
    for (const auto& [grade, one] : by_grade) cost.classes.push_back({grade, one.first, borne[++i]});
    return cost;
  }

  // Beyond all measure stays the greatest that a double holds as a whole number.
  static std::int64_t whole(double cents) { return std::llround(std::min(std::max(cents, 0.0), 9e15)); }

  const CostFigures& figures_;
  Day on_;
  std::set<BatchId> timed_;
  std::map<BatchId, Batch> batches_;
  std::map<PlaceKey, Place> places_;
  std::map<CloneKey, Clone> clones_;
};

}  // namespace

std::string_view to_text(CostPart part) {
  static constexpr std::array<std::string_view, cost_part_count> names{"bought", "hours", "space", "material", "spent"};
  return names[static_cast<std::size_t>(part)];
}

std::vector<CloneCost> clone_costs(const std::vector<PastFact>& facts, const CostFigures& figures, Day on) {
  return Ledger(facts, figures, on).close();
}

CostOfSaleable cost_of_saleable(const CloneCost& cost, double from_cm) {
  CostOfSaleable made;
  for (const CostOfClass& one : cost.classes) {
    if (!one.grade.sized() || std::max(0, one.grade.low_mm) < std::lround(10 * from_cm)) continue;
    made.bulbs += one.bulbs;
    made.cents += one.cents;
  }
  if (made.bulbs > 0) made.per_bulb = (2 * made.cents + made.bulbs) / (2 * made.bulbs);
  return made;
}

std::vector<std::int64_t> shared_out(std::int64_t whole, const std::vector<double>& shares) {
  std::vector<std::int64_t> parts(shares.size(), 0);
  double all = 0;
  for (const double share : shares) all += share;
  if (parts.empty()) return parts;
  if (!(all > 0)) {
    parts[0] = whole;
    return parts;
  }
  std::vector<std::pair<double, std::size_t>> remainders;
  std::int64_t left = whole;
  for (std::size_t i = 0; i < shares.size(); ++i) {
    const double exact = static_cast<double>(whole) * (shares[i] / all);
    parts[i] = std::min(static_cast<std::int64_t>(std::floor(exact)), left);
    left -= parts[i];
    remainders.emplace_back(exact - std::floor(exact), i);
  }
  std::stable_sort(remainders.begin(), remainders.end(),
                   [](const auto& a, const auto& b) { return a.first > b.first; });
  for (std::size_t i = 0; left > 0; i = (i + 1) % remainders.size(), --left) ++parts[remainders[i].second];
  return parts;
}

std::optional<Release> first_release(const std::vector<std::vector<std::int64_t>>& saleable, std::int64_t reserve,
                                     std::int64_t wanted, double chance) {
  // So many or more beyond the reserve in at least that part of the paths.
  const auto surely = [&](const std::vector<std::int64_t>& sorted) -> std::int64_t {
    const auto paths = static_cast<double>(sorted.size());
    // 0.8 of 10 paths are 8, though 0.8 * 10 may come out above it.
    const double needed = std::ceil(chance * paths - 1e-9 * paths);
    const auto at = static_cast<std::size_t>(std::min(std::max(needed, 1.0), paths));
    return sorted[sorted.size() - at] - reserve;
  };
  for (std::size_t season = 0; season < saleable.size(); ++season) {
    if (saleable[season].empty() || surely(saleable[season]) < wanted) continue;
    Release release;
    release.season = season + 1;
    for (std::size_t i = season; i < saleable.size() && i < season + seasons_of_release; ++i) {
      if (saleable[i].empty()) break;
      release.counts.push_back(std::max<std::int64_t>(surely(saleable[i]), 0));
    }
    return release;
  }
  return std::nullopt;
}

}  // namespace motherbulb

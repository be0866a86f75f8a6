#include "core/health/trace.hpp"

#include <algorithm>
#include <cstdlib>
#include <deque>
#include <map>
#include <set>
#include <tuple>
#include <unordered_map>

#include "core/names.hpp"
#include "core/places.hpp"

namespace motherbulb {
namespace {

// Entries with their places in the order of the fold, so that they can be told oldest first.
using Proof = std::vector<FoldOrder>;

std::vector<EntryId> oldest_first(Proof proof) {
  std::sort(proof.begin(), proof.end());
  proof.erase(std::unique(proof.begin(), proof.end()), proof.end());
  std::vector<EntryId> ids;
  ids.reserve(proof.size());
  for (const FoldOrder& order : proof) ids.push_back(order.id);
  return ids;
}

bool something_waits(const BatchState& batch) {
  return batch.pieces_waiting > 0 || total(batch.bulbs_waiting) > 0;
}

// A cut of at least one mother: where nobody said how many, it was one or more.
std::int64_t plants_cut(const BatchState& batch) {
  return std::max<std::int64_t>(batch.mothers, 1);
}

struct Stands {
  PlaceParts parts;
  std::string bench_key;  // folded; empty: no place is known
  FoldOrder order;        // what brought it there
};

Stands stands_at(const std::string& place, const FoldOrder& order) {
  Stands stands{split_place(place), "", order};
  stands.bench_key = folded_name(stands.parts.bench);
  return stands;
}
Stands stands_at(const BatchState& batch, const PotState& pot) {
  const bool of_batch = !batch.place.empty() && !(batch.place_order < pot.place_order);
  return stands_at(place_of(batch, pot), of_batch ? batch.place_order : pot.place_order);
}
Stands stands_at(const BatchState& batch) {
  return stands_at(batch.place, batch.place_order);
}

struct Layout {
  std::int32_t rows = 0, columns = 0;
  // Positions run row by row; one beyond the last row stands on no laid-out place.
  bool holds(std::int32_t position) const { return columns > 0 && (position - 1) / columns < rows; }
};

class Tracing {
public:
  Tracing(const Logbook& book, const PotId& bad) : book_(book), bad_(bad), all_(book.batches_with_pots()) {
    for (const BatchPots& one : all_) by_id_[one.batch.id] = &one;
  }

  Result<Trace> run() {
    const auto found = by_id_.find(bad_.batch);
    if (found == by_id_.end()) {
      return refusal(
          "This book does not know the batch to trace from; a parcel from the device that began it brings it");
    }
    bad_batch_ = found->second;
    if (bad_.number != 0 && !knows_pot()) {
      return refusal("Batch " + bad_batch_->batch.label + " has no pot " + std::to_string(bad_.number) +
                     " in this book; its pots are listed under its label");
    }
    by_descent();
    by_blade();
    by_combining();
    by_bench();
    sort();
    return std::move(trace_);
  }

private:
  bool knows_pot() const {
    return std::any_of(bad_batch_->pots.begin(), bad_batch_->pots.end(),
                       [this](const PotState& pot) { return pot.pot.number == bad_.number; });
  }
  bool is_bad(const PotId& pot) const {
    return pot.batch == bad_.batch && (bad_.number == 0 || pot.number == bad_.number);
  }

  // A pot, or what waits (0), unless a surer reason has named it.
  void touch(const BatchState& batch, std::int32_t number, const Touched& as) {
    const PotId pot{batch.id, number};
    if (is_bad(pot) || !named_.insert(pot).second) return;
    Touched touched = as;
    touched.pot = pot;
    touched.label = pot_label(batch, number);
    touched.batch = batch.label;
    touched.clone = batch.clone;
    trace_.pots.push_back(std::move(touched));
  }
  void touch_all(const BatchPots& one, const Touched& as) {
    if (something_waits(one.batch)) touch(one.batch, 0, as);
    for (const PotState& pot : one.pots) {
      if (pot.filled && !pot.emptied) touch(one.batch, pot.pot.number, as);
    }
  }

  // Along the tree of parents, to and fro. A parent that this book does not know joins its children all the same.
  void by_descent() {
    std::map<BatchId, std::vector<BatchId>> next;
    for (const BatchPots& one : all_) {
      if (!one.batch.parent) continue;
      next[one.batch.id].push_back(*one.batch.parent);
      next[*one.batch.parent].push_back(one.batch.id);
    }
    struct Reached {
      BatchId from;
      std::int64_t steps = 0;
    };
    std::map<BatchId, Reached> reached{{bad_.batch, {}}};
    std::deque<BatchId> to_do{bad_.batch};
    for (; !to_do.empty(); to_do.pop_front()) {
      const BatchId here = to_do.front();
      const std::int64_t steps = reached[here].steps + 1;
      for (const BatchId& there : next[here]) {
        if (reached.try_emplace(there, Reached{here, steps}).second) to_do.push_back(there);
      }
    }
    for (const auto& [id, how] : reached) {
      const auto known = by_id_.find(id);
      if (known == by_id_.end()) continue;
      Touched as;
      as.reason = TouchedBy::descent;
      as.steps = how.steps;
      Proof way;
      // What joins two batches is what began the younger of them.
      for (BatchId at = id; !(at == bad_.batch); at = reached[at].from) way.push_back(begetting(at, reached[at].from));
      if (way.empty()) way.push_back(bad_batch_->batch.begun_order);
      as.entries = oldest_first(std::move(way));
      touch_all(*known->second, as);
    }
  }
  FoldOrder begetting(const BatchId& a, const BatchId& b) const {
    const auto of_a = by_id_.find(a);
    const bool a_is_child = of_a != by_id_.end() && of_a->second->batch.parent == b;
    return by_id_.at(a_is_child ? a : b)->batch.begun_order;
  }

  // The blade goes with the hand: one helper's cuts, in their order, are made with one blade.
  void by_blade() {
    std::map<std::string, std::vector<const BatchPots*>> cuts_of;
    for (const BatchPots& one : all_) {
      if (cuts(one.batch.method)) cuts_of[folded_name(one.batch.helper)].push_back(&one);
    }
    struct After {
      const BatchPots* cut;
      std::int64_t steps;
    };
    std::map<BatchId, std::pair<const BatchPots*, After>> first_after;  // of each batch touched: the nearest cut before
    std::vector<std::pair<FoldOrder, Trace::Trail>> trails;
    for (auto& [helper, sessions] : cuts_of) {
      std::sort(sessions.begin(), sessions.end(),
                [](const BatchPots* a, const BatchPots* b) { return a->batch.begun_order < b->batch.begun_order; });
      for (std::size_t at = 0; at < sessions.size(); ++at) {
        const BatchState& cut = sessions[at]->batch;
        if (!(cut.id == bad_.batch) && cut.parent != bad_.batch) continue;
        Trace::Trail trail;
        trail.cut = cut.begun_order.id;
        trail.batch = cut.label;
        trail.helper = cut.helper;
        if (cut.blade == Blade::per_bulb) trail.end = Trace::End::disinfected;
        for (std::size_t later = at + 1; trail.end == Trace::End::last_cut && later < sessions.size(); ++later) {
          const BatchState& session = sessions[later]->batch;
          if (session.blade == Blade::per_bulb || session.blade == Blade::per_batch) {
            trail.end = Trace::End::disinfected;
            break;
          }
          const After after{sessions[at], trail.plants + 1};
          const auto [known, fresh] = first_after.try_emplace(session.id, sessions[later], after);
          if (!fresh && after.steps < known->second.second.steps) known->second.second = after;
          trail.plants = std::min(trail.plants + plants_cut(session), blade_reaches);
          if (trail.plants == blade_reaches) trail.end = Trace::End::twentieth;
        }
        trails.emplace_back(cut.begun_order, std::move(trail));
      }
    }
    for (const auto& [id, touched] : first_after) {
      const auto& [session, after] = touched;
      Touched as;
      as.reason = TouchedBy::blade;
      as.steps = after.steps;
      as.entries = oldest_first({after.cut->batch.begun_order, session->batch.begun_order});
      touch_all(*session, as);
    }
    std::sort(trails.begin(), trails.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    for (auto& [order, trail] : trails) trace_.trails.push_back(std::move(trail));
  }

  // Nobody knows in which pot what was mixed in ended up.
  void by_combining() {
    std::map<BatchId, Proof> with;
    for (const CombinedWith& combined : book_.combined_with(bad_.batch)) with[combined.other].push_back(combined.order);
    for (auto& [other, proof] : with) {
      const auto known = by_id_.find(other);
      if (known == by_id_.end()) continue;
      Touched as;
      as.reason = TouchedBy::pot;
      as.entries = oldest_first(std::move(proof));
      touch_all(*known->second, as);
    }
  }

  void by_bench() {
    std::vector<Stands> bad_stands;
    for (const PotState& pot : bad_batch_->pots) {
      if (bad_.number == 0 ? pot.filled && !pot.emptied : pot.pot.number == bad_.number) {
        bad_stands.push_back(stands_at(bad_batch_->batch, pot));
      }
    }
    if (bad_.number == 0 && something_waits(bad_batch_->batch)) bad_stands.push_back(stands_at(bad_batch_->batch));
    std::map<std::string, std::vector<const Stands*>> bad_on;  // by bench
    for (const Stands& stands : bad_stands) {
      if (!stands.bench_key.empty()) bad_on[stands.bench_key].push_back(&stands);
    }
    if (bad_on.empty()) return;
    const std::map<std::string, Layout> layouts = laid_out();
    const auto look_at = [&](const BatchState& batch, std::int32_t number, const Stands& stands) {
      const auto bad_here = bad_on.find(stands.bench_key);
      if (bad_here == bad_on.end()) return;
      const auto layout = layouts.find(stands.bench_key);
      const Stands* nearest = nullptr;
      std::int64_t nearest_steps = 0;
      for (const Stands* from : bad_here->second) {
        const auto steps =
            between(from->parts.position, stands.parts.position, layout == layouts.end() ? Layout{} : layout->second);
        if (!steps || (nearest != nullptr && *steps >= nearest_steps)) continue;
        nearest = from;
        nearest_steps = *steps;
      }
      if (nearest == nullptr) return;
      Touched as;
      as.reason = TouchedBy::bench;
      as.steps = nearest_steps;
      as.entries = oldest_first({nearest->order, stands.order});
      as.bench = stands.parts.bench;
      touch(batch, number, as);
    };
    for (const BatchPots& one : all_) {
      if (something_waits(one.batch) && !one.batch.place.empty()) look_at(one.batch, 0, stands_at(one.batch));
      for (const PotState& pot : one.pots) {
        if (pot.filled && !pot.emptied && named_.count(pot.pot) == 0) {
          look_at(one.batch, pot.pot.number, stands_at(one.batch, pot));
        }
      }
    }
  }
  // As Touched::steps says; none: too far.
  static std::optional<std::int64_t> between(std::int32_t a, std::int32_t b, const Layout& layout) {
    if (a == 0 || b == 0) return 2;
    std::int32_t apart = std::abs(a - b);
    if (layout.holds(a) && layout.holds(b)) {
      const std::int32_t columns = layout.columns;
      apart =
          std::max(std::abs((a - 1) / columns - (b - 1) / columns), std::abs((a - 1) % columns - (b - 1) % columns));
    }
    return apart <= 1 ? std::optional<std::int64_t>(apart) : std::nullopt;
  }
  // Of each bench by its folded name: the layout said last.
  std::map<std::string, Layout> laid_out() const {
    std::map<std::string, Layout> layouts;
    for (const StoryLine& line : book_.story(BatchId{})) {
      const auto* said = std::get_if<BenchLaidOut>(&line.fact);
      if (said != nullptr && line.stands) layouts[folded_name(said->place)] = {said->rows, said->columns};
    }
    return layouts;
  }

  void sort() {
    std::sort(trace_.pots.begin(), trace_.pots.end(), [](const Touched& a, const Touched& b) {
      return std::tie(a.reason, a.steps, a.batch, a.pot.batch, a.pot.number) <
             std::tie(b.reason, b.steps, b.batch, b.pot.batch, b.pot.number);
    });
  }

  const Logbook& book_;
  const PotId bad_;
  const std::vector<BatchPots> all_;
  std::unordered_map<BatchId, const BatchPots*> by_id_;
  const BatchPots* bad_batch_ = nullptr;
  std::set<PotId> named_;
  Trace trace_;
};

}  // namespace

std::string_view to_text(TouchedBy reason) {
  switch (reason) {
    case TouchedBy::descent:
      return "descent";
    case TouchedBy::blade:
      return "blade";
    case TouchedBy::pot:
      return "pot";
    case TouchedBy::bench:
      return "bench";
  }
  return "";
}

Result<Trace> trace(const Logbook& book, const PotId& bad) {
  return Tracing(book, bad).run();
}

}  // namespace motherbulb

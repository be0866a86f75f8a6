#include "app/health_picture.hpp"

#include <algorithm>
#include <set>

#include "app/widgets/see_tiles.hpp"
#include "core/health/troubles.hpp"

namespace motherbulb {
namespace {

std::string with_hyphens(std::string_view words) {
  std::string id(words);
  for (char& c : id) {
    if (c == ' ') c = '-';
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return id;
}

std::int32_t month_number(Day day) {
  const YearMonthDay date = civil(day);
  return date.year * 12 + date.month - 1;
}

void add(DamagePicture::Cell& cell, std::int32_t how_bad) {
  ++cell.pots;
  cell.worst = std::max(cell.worst, how_bad);
}

}  // namespace

std::string trouble_key(Cause cause, std::string_view detail) {
  if (detail.empty()) return std::string(to_text(cause));
  const std::string id = with_hyphens(detail);
  if (trouble_of(id) != nullptr) return id;
  // A tile that stands for one trouble only.
  for (std::size_t i = 0; i < seen_kinds().size(); ++i) {
    if (seen_kinds()[i].cause != cause || seen_kinds()[i].detail != detail) continue;
    const std::vector<const Trouble*> particular = particulars_of(i);
    if (particular.size() == 1) return particular.front()->id;
  }
  return id;
}

// ------------------------------------------------------------------------------------------------ damage

void DamagePicture::take(const BatchState& batch, const PotState& pot) {
  if (pot.damage.empty()) return;
  const std::string label = pot_label(batch, pot.pot.number);
  const std::string bench = split_place(place_of(batch, pot)).bench;
  for (const DamageSeen& seen : pot.damage)
    seen_[batch.id].push_back({pot.pot, label, bench, seen, pot.filled && !pot.emptied});
}

void DamagePicture::refresh(const Logbook& book, Day today) {
  const std::uint64_t now = book.revision();
  if (made_ && now == revision_ && today == today_) return;
  const auto changed = made_ ? book.changed_since(revision_) : std::nullopt;
  if (changed) {
    for (const BatchId& id : *changed) {
      seen_.erase(id);
      const std::optional<BatchState> batch = book.batch(id);
      if (!batch || !batch->begun) continue;
      for (const PotState& pot : book.pots_of(id)) take(*batch, pot);
    }
  } else {
    seen_.clear();
    for (const PotRow& row : book.pots(true)) take(row.batch, row.pot);
  }
  made_ = true;
  revision_ = now;
  today_ = today;
  count(today);
}

void DamagePicture::count(Day today) {
  rows_.clear();
  places_.clear();
  notes_.clear();
  most_in_cell_ = 0;
  const std::int32_t this_month = month_number(today);
  for (int i = 0; i < months; ++i) {
    const std::int32_t number = this_month - (months - 1) + i;
    month_names_[static_cast<std::size_t>(i)] = {number / 12, number % 12 + 1};
  }
  std::map<std::string, std::size_t> row_of;
  std::map<std::string, std::size_t> place_of_bench;
  struct Found {
    const Seen* seen;
    std::size_t row, place, month;
  };
  std::vector<Found> found;
  for (const auto& [batch, all] : seen_) {
    for (const Seen& seen : all) {
      const Day day = local_day(seen.seen.when);
      const std::int32_t ago = this_month - month_number(day);
      if (ago < 0 || ago >= months || today < day) continue;
      const std::string key = trouble_key(seen.seen.cause, seen.seen.detail);
      const auto [row, new_row] = row_of.emplace(key, rows_.size());
      if (new_row) {
        Row made;
        made.key = key;
        made.cause = seen.seen.cause;
        made.detail = trouble_of(key) != nullptr ? key : seen.seen.detail;
        rows_.push_back(std::move(made));
      }
      const auto [place, new_place] = place_of_bench.emplace(seen.bench, places_.size());
      if (new_place) places_.push_back({seen.bench, {}});
      found.push_back({&seen, row->second, place->second, static_cast<std::size_t>(months - 1 - ago)});
    }
  }
  // A pot counts once in a cell, with the worst that was said of it there.
  const auto each_pot_once = [&](auto group_of, auto count_in) {
    std::map<std::pair<std::size_t, PotId>, std::int32_t> worst;
    for (const Found& one : found) {
      auto& bad = worst[{group_of(one), one.seen->pot}];
      bad = std::max(bad, one.seen->seen.how_bad);
    }
    for (const auto& [where, bad] : worst) count_in(where.first, bad);
  };
  each_pot_once([](const Found& one) { return one.row * months + one.month; },
                [&](std::size_t at, std::int32_t bad) { add(rows_[at / months].by_month[at % months], bad); });
  each_pot_once([](const Found& one) { return one.row; },
                [&](std::size_t at, std::int32_t bad) { add(rows_[at].all, bad); });
  each_pot_once([](const Found& one) { return one.place; },
                [&](std::size_t at, std::int32_t bad) { add(places_[at].all, bad); });
  for (const Row& row : rows_) {
    for (const Cell& cell : row.by_month) most_in_cell_ = std::max(most_in_cell_, cell.pots);
  }
  // Rows and places in the order in which they are read.
  std::vector<std::size_t> row_order(rows_.size());
  for (std::size_t i = 0; i < row_order.size(); ++i) row_order[i] = i;
  std::sort(row_order.begin(), row_order.end(), [&](std::size_t a, std::size_t b) {
    if (rows_[a].all.pots != rows_[b].all.pots) return rows_[a].all.pots > rows_[b].all.pots;
    return rows_[a].key < rows_[b].key;
  });
  std::vector<std::size_t> place_order(places_.size());
  for (std::size_t i = 0; i < place_order.size(); ++i) place_order[i] = i;
  std::sort(place_order.begin(), place_order.end(), [&](std::size_t a, std::size_t b) {
    const std::string& one = places_[a].bench;
    const std::string& other = places_[b].bench;
    if (one.empty() != other.empty()) return other.empty();
    if (walked_before(one, other) != walked_before(other, one)) return walked_before(one, other);
    return one < other;
  });
  std::vector<std::size_t> row_now(rows_.size());
  std::vector<std::size_t> place_now(places_.size());
  std::vector<Row> rows;
  std::vector<PlaceRow> places;
  for (std::size_t i = 0; i < row_order.size(); ++i) {
    row_now[row_order[i]] = i;
    rows.push_back(std::move(rows_[row_order[i]]));
  }
  for (std::size_t i = 0; i < place_order.size(); ++i) {
    place_now[place_order[i]] = i;
    places.push_back(std::move(places_[place_order[i]]));
  }
  rows_ = std::move(rows);
  places_ = std::move(places);
  notes_.reserve(found.size());
  for (const Found& one : found) {
    notes_.push_back({one.seen->pot, one.seen->label, row_now[one.row], place_now[one.place], one.month, one.seen->seen,
                      one.seen->stands});
  }
  std::sort(notes_.begin(), notes_.end(), [](const Note& a, const Note& b) {
    if (a.seen.when.utc_ms != b.seen.when.utc_ms) return a.seen.when.utc_ms > b.seen.when.utc_ms;
    return a.pot < b.pot;
  });
}

std::vector<const DamagePicture::Note*> DamagePicture::notes_of(std::optional<std::size_t> row,
                                                                std::optional<std::size_t> month,
                                                                std::optional<std::size_t> place) const {
  std::vector<const Note*> wanted;
  std::set<PotId> known;
  for (const Note& note : notes_) {
    if ((row && note.row != *row) || (month && note.month != *month) || (place && note.place != *place)) continue;
    if (known.insert(note.pot).second) wanted.push_back(&note);
  }
  return wanted;
}

// ------------------------------------------------------------------------------------------------ on hold, found bad

std::string reason_of(const BatchState& batch, const PotState& pot) {
  if (!on_hold(batch, pot)) return held_because(batch, pot);
  return pot.held_reason.empty() ? batch.held_reason : pot.held_reason;
}

std::vector<BadPot> bad_pots(const Logbook& book, std::int64_t now_ms) {
  std::vector<BadPot> bad;
  std::map<BatchId, std::map<EntryId, std::size_t>> held_by;  // entries that put on hold, by story: whose row
  for (const PotRow& row : book.guarded(now_ms)) {
    const bool whole = row.pot.pot.number == 0;
    const bool held = whole ? row.batch.held : row.pot.held;
    const TestSeen* test = last_test(row.batch, row.pot);
    const bool tested_bad = found_bad(row.batch, row.pot);
    if (!held && !tested_bad) continue;
    BadPot one;
    one.pot = row.pot.pot;
    one.label = pot_label(row.batch, row.pot.pot.number);
    one.clone = row.batch.clone;
    one.held = held;
    one.emptied = !whole && row.pot.emptied;
    one.why = reason_of(row.batch, row.pot);
    if (held) {
      held_by[row.batch.id][(whole ? row.batch.held_order : row.pot.held_order).id] = bad.size();
    } else if (test != nullptr) {
      one.since = test->when;
      one.helper = test->helper;
    }
    bad.push_back(std::move(one));
  }
  for (const auto& [batch, entries] : held_by) {
    for (const StoryLine& line : book.story(batch)) {
      const auto found = entries.find(line.order.id);
      if (found == entries.end()) continue;
      bad[found->second].since = line.entry.when;
      bad[found->second].helper = line.entry.helper;
    }
  }
  std::stable_sort(bad.begin(), bad.end(),
                   [](const BadPot& a, const BadPot& b) { return a.since.utc_ms > b.since.utc_ms; });
  return bad;
}

// ------------------------------------------------------------------------------------------------ looked at

std::int32_t days_unseen(const PotView& pot, Day today) {
  std::int32_t seen = local_day(pot.pot.filled_on).days;
  if (pot.looked) seen = std::max(seen, local_day(*pot.looked).days);
  for (const DamageSeen& damage : pot.pot.damage) seen = std::max(seen, local_day(damage.when).days);
  return today.days - seen;
}

std::vector<NotLooked> not_looked(const std::vector<BenchView>& benches, Day today, std::int32_t days) {
  std::vector<NotLooked> all;
  for (const BenchView& bench : benches) {
    NotLooked one;
    one.bench = bench.name;
    for (const PotView* pot : bench.pots) {
      const std::int32_t unseen = days_unseen(*pot, today);
      if (unseen < days) continue;
      one.pots.push_back(pot);
      one.longest = std::max(one.longest, unseen);
    }
    if (!one.pots.empty()) all.push_back(std::move(one));
  }
  return all;
}

std::vector<const PotView*> damaged_lately(const std::vector<const PotView*>& pots, Day today, std::int32_t days) {
  const auto latest = [](const PotView* pot) { return pot->pot.damage.back().when.utc_ms; };
  std::vector<const PotView*> lately;
  for (const PotView* pot : pots) {
    if (pot->pot.damage.empty()) continue;
    if (today.days - local_day(pot->pot.damage.back().when).days < days) lately.push_back(pot);
  }
  std::stable_sort(lately.begin(), lately.end(),
                   [&](const PotView* a, const PotView* b) { return latest(a) > latest(b); });
  return lately;
}

// ------------------------------------------------------------------------------------------------ off-types

void OffTypes::take(const StoryLine& line) {
  if (line.entry.pot == 0) return;
  const PotId pot{line.entry.batch, line.entry.pot};
  if (const auto* flowered = std::get_if<Flowered>(&line.fact)) {
    of_pot_.erase(pot);
    if (flowered->off_type > 0)
      of_pot_[pot] = {pot, flowered->off_type, flowered->true_to_type, line.entry.when, line.entry.helper};
    return;
  }
  const auto found = of_pot_.find(pot);
  if (found == of_pot_.end()) return;
  if (const auto* discarded = std::get_if<Discarded>(&line.fact)) {
    for (const Line& one : discarded->lines) found->second.off_type -= one.count;
    if (found->second.off_type <= 0) of_pot_.erase(found);
    return;
  }
  // What stood in it is not in it any more.
  const Kind kind = static_cast<Kind>(line.entry.kind);
  if (kind == Kind::unpotted || kind == Kind::divided) of_pot_.erase(found);
}

void OffTypes::refresh(const Logbook& book) {
  const std::uint64_t now = book.revision();
  if (made_ && now == revision_) return;
  const auto changed = made_ ? book.changed_since(revision_) : std::nullopt;
  if (changed) {
    for (const BatchId& id : *changed) {
      of_pot_.erase(of_pot_.lower_bound({id, 0}), of_pot_.upper_bound({id, INT32_MAX}));
      for (const StoryLine& line : book.story(id)) {
        if (line.stands) take(line);
      }
    }
  } else {
    of_pot_.clear();
    // A book that cannot be read through says so where it is checked; what was read stands here.
    (void)book.each_standing_fact([&](const StoryLine& line) { take(line); });
  }
  made_ = true;
  revision_ = now;
  found_.clear();
  for (const auto& [pot, one] : of_pot_) found_.push_back(one);
  std::stable_sort(found_.begin(), found_.end(),
                   [](const OffType& a, const OffType& b) { return a.when.utc_ms > b.when.utc_ms; });
}

}  // namespace motherbulb

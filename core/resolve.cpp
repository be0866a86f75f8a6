// The first step of the fold: facts of entries.
#include <algorithm>
#include <unordered_map>

#include "core/fold.hpp"

namespace motherbulb {
namespace {

constexpr std::int64_t ms_per_day = 24LL * 60 * 60 * 1000;

bool is(const Entry& entry, Kind kind) {
  return entry.kind == static_cast<std::uint16_t>(kind);
}

bool before(const Entry& a, const Entry& b) {
  if (!(a.stamp == b.stamp)) return a.stamp < b.stamp;
  return a.id < b.id;
}

// What the corrections of a story say of a fact.
struct Verdict {
  bool withdrawn = false;
  std::set<std::uint64_t> rows_withdrawn;
  const Entry* replaced_by = nullptr;
};

using Verdicts = std::unordered_map<FactKey, Verdict>;

// A correction can itself be taken back, always by an entry with a later stamp: so the latest are heard first.
Verdicts hear_corrections(const std::vector<Entry>& entries) {
  std::vector<const Entry*> corrections;
  for (const Entry& entry : entries) {
    if (is(entry, Kind::correction)) corrections.push_back(&entry);
  }
  std::sort(corrections.begin(), corrections.end(), [](const Entry* a, const Entry* b) { return before(*b, *a); });
  Verdicts verdicts;
  for (const Entry* entry : corrections) {
    const auto own = verdicts.find(fact_key(*entry));
    if (own != verdicts.end() && own->second.withdrawn) continue;
    const Payload payload = decode(entry->kind, entry->payload);
    const auto* correction = std::get_if<Correction>(&payload);
    if (correction == nullptr) continue;
    Verdict& verdict = verdicts[correction->target];
    if (!correction->rows.empty()) {
      verdict.rows_withdrawn.insert(correction->rows.begin(), correction->rows.end());
    } else if (correction->replacement.empty()) {
      verdict.withdrawn = true;
    } else if (verdict.replaced_by == nullptr) {
      verdict.replaced_by = entry;
    }
  }
  return verdicts;
}

// The marks of an entry's rows. A tapped one numbers its own, as export writes them.
std::vector<std::uint64_t> rows_of(const Entry& entry, const Payload& payload) {
  if (entry.table) return entry.table->rows;
  std::size_t count = 1;
  if (const Lines* lines = lines_of(payload)) count = lines->size();
  if (const auto* counted = std::get_if<Unpotted>(&payload)) count += counted->dead.size() + (counted->alive ? 1 : 0);
  std::vector<std::uint64_t> rows;
  for (std::size_t row = 1; row <= std::max<std::size_t>(count, 1); ++row) rows.push_back(row);
  return rows;
}

// The payload of the entries of one fact (the earliest first) under its verdict, and the marks of its rows that stand.
std::optional<Payload> stand(const std::vector<const Entry*>& same, const Verdict* verdict,
                             std::vector<std::uint64_t>* rows = nullptr) {
  if (verdict != nullptr && verdict->withdrawn) return std::nullopt;
  const Entry& first = *same.front();
  Payload payload = decode(first.kind, first.payload);
  if (same.size() == 1 && (verdict == nullptr || verdict->rows_withdrawn.empty())) {
    if (rows != nullptr) *rows = rows_of(first, payload);
  } else {
    std::set<std::uint64_t> met;
    if (verdict != nullptr) met = verdict->rows_withdrawn;
    bool any = false;
    Lines united, dead;
    std::optional<std::int64_t> alive;
    for (const Entry* entry : same) {
      const Payload own = decode(entry->kind, entry->payload);
      const Lines* own_lines = lines_of(own);
      const auto* own_count = std::get_if<Unpotted>(&own);
      const std::vector<std::uint64_t> own_rows = rows_of(*entry, own);
      bool alive_heard = false;
      for (std::size_t row = 0; row < own_rows.size(); ++row) {
        if (!met.insert(own_rows[row]).second) continue;
        any = true;
        if (rows != nullptr) rows->push_back(own_rows[row]);
        if (own_lines != nullptr && row < own_lines->size()) {
          united.push_back((*own_lines)[row]);
        } else if (own_count != nullptr) {
          // Rows after the bulbs: the dead by cause, then the pieces alive.
          const std::size_t beyond = row - own_count->lines.size();
          if (beyond < own_count->dead.size()) {
            dead.push_back(own_count->dead[beyond]);
          } else if (own_count->alive && !alive_heard) {
            alive = alive.value_or(0) + *own_count->alive;
            alive_heard = true;
          }
        }
      }
    }
    if (!any) return std::nullopt;
    if (Lines* lines = lines_of(payload)) *lines = std::move(united);
    if (auto* counted = std::get_if<Unpotted>(&payload)) {
      counted->alive = alive;
      counted->dead = std::move(dead);
    }
  }
  if (verdict != nullptr && verdict->replaced_by != nullptr) {
    const Payload correction = decode(verdict->replaced_by->kind, verdict->replaced_by->payload);
    const Payload replacement = decode(first.kind, std::get<Correction>(correction).replacement);
    if (!std::holds_alternative<FromNewerVersion>(replacement)) payload = replacement;
  }
  return payload;
}

// Entries by the fact they are, each fact's earliest first.
std::vector<std::vector<const Entry*>> by_fact(const std::vector<Entry>& entries) {
  std::vector<std::vector<const Entry*>> groups;
  std::unordered_map<FactKey, std::size_t> place;
  groups.reserve(entries.size());
  for (const Entry& entry : entries) {
    if (!entry.table) {
      groups.push_back({&entry});
      continue;
    }
    const auto [found, fresh] = place.emplace(entry.table->fact, groups.size());
    if (fresh) {
      groups.push_back({&entry});
    } else {
      groups[found->second].push_back(&entry);
    }
  }
  // A tapped entry and its copy from an exported table are one fact too.
  if (!place.empty()) {
    for (auto& group : groups) {
      if (group.empty() || group.front()->table) continue;
      const auto found = place.find(fact_key(*group.front()));
      if (found == place.end()) continue;
      groups[found->second].push_back(group.front());
      group.clear();
    }
    groups.erase(std::remove_if(groups.begin(), groups.end(), [](const auto& group) { return group.empty(); }),
                 groups.end());
  }
  for (auto& group : groups) {
    std::sort(group.begin(), group.end(), [](const Entry* a, const Entry* b) { return before(*a, *b); });
  }
  return groups;
}

}  // namespace

FoldOrder order_of(const Entry& entry, std::int64_t shift_ms) {
  const std::int64_t ms = entry.when.utc_ms + shift_ms;
  FoldOrder order{ms * 4, entry.stamp, entry.id};
  if (entry.when.bare_day) {
    // Before the day's moments for what begins things, after them for all else; both within the day.
    const bool early = is(entry, Kind::begun) || is(entry, Kind::potted);
    order.at = early ? ms * 4 - 1 : (ms + ms_per_day) * 4 - 2;
  }
  return order;
}

std::optional<Link> link_of(const BatchId& story, const Fact& fact) {
  Link link;
  link.from = story;
  link.order = fact.order;
  link.when = fact.when;
  link.helper = fact.helper;
  if (const auto* begun = std::get_if<Begun>(&fact.payload); begun != nullptr && begun->parent) {
    link.fact = fact.key();
    link.to = *begun->parent;
    link.pot = begun->parent_pot;
    link.cut = cuts(begun->method);
    link.lines = begun->mothers;
    return link.to == story ? std::nullopt : std::optional<Link>(link);
  }
  if (const auto* combined = std::get_if<Combined>(&fact.payload)) {
    link.fact = fact.key();
    link.to = combined->into;
    link.arrives = true;
    link.lines = combined->lines;
    link.pieces = combined->pieces;
    return link.to == story ? std::nullopt : std::optional<Link>(link);
  }
  return std::nullopt;
}

Resolved resolve(const BatchId& story, const std::vector<Entry>& entries, const BookView& view, std::optional<Day> on) {
  Resolved resolved;
  bool any_table = false;
  for (const Entry& entry : entries) {
    any_table = any_table || entry.table.has_value();
    resolved.amended = resolved.amended || is(entry, Kind::correction) || is(entry, Kind::settlement);
  }
  resolved.from_table = any_table;
  const Verdicts verdicts = resolved.amended ? hear_corrections(entries) : Verdicts{};

  // In the order of the fold before anything is made of them: a fact is large, its place in the order is not.
  struct Turn {
    FoldOrder order;
    std::int64_t shift = 0;
    bool begins = false;
    std::size_t group = 0;
  };
  std::vector<std::vector<const Entry*>> groups;
  if (any_table) groups = by_fact(entries);
  std::vector<Turn> turns;
  turns.reserve(entries.size());
  for (std::size_t i = 0; i < (any_table ? groups.size() : entries.size()); ++i) {
    const Entry& first = any_table ? *groups[i].front() : entries[i];
    if (is(first, Kind::correction)) continue;
    const std::int64_t shift = first.when.bare_day ? 0 : view.shift_ms(first.id);
    turns.push_back({order_of(first, shift), shift, is(first, Kind::begun), i});
  }
  std::sort(turns.begin(), turns.end(), [](const Turn& a, const Turn& b) {
    if (a.begins != b.begins) return a.begins;
    return a.order < b.order;
  });

  resolved.facts.reserve(turns.size());
  std::vector<const Entry*> alone(1);
  for (const Turn& turn : turns) {
    if (!any_table) alone[0] = &entries[turn.group];
    const std::vector<const Entry*>& same = any_table ? groups[turn.group] : alone;
    const Entry& first = *same.front();
    const Verdict* verdict = nullptr;
    if (!verdicts.empty()) {
      const auto found = verdicts.find(fact_key(first));
      if (found != verdicts.end()) verdict = &found->second;
    }
    auto payload = stand(same, verdict);
    if (!payload) continue;
    if (const auto* settlement = std::get_if<Settlement>(&*payload)) {
      const auto found = resolved.settlements.find(settlement->matter);
      const FoldOrder by_stamp{0, first.stamp, first.id};  // the later word settles, whatever day it names
      if (found == resolved.settlements.end() || found->second.order < by_stamp) {
        resolved.settlements[settlement->matter] = {settlement->take, settlement->text, by_stamp};
      }
      continue;
    }
    When when = first.when;
    when.utc_ms += turn.shift;
    if (on && *on < local_day(when)) continue;
    Fact& fact = resolved.facts.emplace_back();
    if (first.table) fact.table_key = first.table->fact;
    fact.order = turn.order;
    fact.when = when;
    fact.helper = first.helper;
    fact.device = view.device(first.id.writer);
    fact.pot = first.pot;
    fact.payload = std::move(*payload);
    if (auto link = link_of(story, fact)) resolved.links.push_back(std::move(*link));
  }
  return resolved;
}

std::vector<std::optional<Standing>> standing(const std::vector<Entry>& entries) {
  const Verdicts verdicts = hear_corrections(entries);
  std::map<const Entry*, Standing> spoken;
  for (const auto& same : by_fact(entries)) {
    const auto verdict = verdicts.find(fact_key(*same.front()));
    Standing standing;
    auto payload = stand(same, verdict == verdicts.end() ? nullptr : &verdict->second, &standing.rows);
    if (!payload) continue;
    standing.payload = std::move(*payload);
    spoken[same.front()] = std::move(standing);
  }
  std::vector<std::optional<Standing>> result;
  result.reserve(entries.size());
  for (const Entry& entry : entries) {
    const auto found = spoken.find(&entry);
    result.push_back(found == spoken.end() ? std::nullopt : std::optional<Standing>(found->second));
  }
  return result;
}

std::map<FactKey, Withdrawn> withdrawn_facts(const std::vector<Entry>& entries) {
  std::map<FactKey, Withdrawn> all;
  for (auto& [fact, verdict] : hear_corrections(entries)) all[fact] = {verdict.withdrawn, verdict.rows_withdrawn};
  return all;
}

}  // namespace motherbulb

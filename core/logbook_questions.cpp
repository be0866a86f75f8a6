// What screens and the command line ask of a book. Nothing here writes.
#include <algorithm>

#include "core/label.hpp"
#include "core/logbook.hpp"
#include "core/logbook_inside.hpp"
#include "core/matters.hpp"
#include "core/names.hpp"

namespace motherbulb {

std::int64_t Logbook::entry_count() const {
  return inside_->store->entry_count();
}
std::uint64_t Logbook::revision() const {
  return inside_->revision;
}
std::optional<std::int64_t> Logbook::written_at(const EntryId& id) const {
  const WriterRow* row = inside_->store->find_writer(id.writer);
  if (row == nullptr || id.seq == 0 || id.seq > row->last) return std::nullopt;
  return inside_->store->stamp_at(*row, id.seq).wall_ms();
}

std::optional<std::vector<BatchId>> Logbook::changed_since(std::uint64_t revision) const {
  const Inside& in = *inside_;
  std::set<BatchId> touched;
  if (revision != in.revision && (in.changes.empty() || in.changes.front().revision > revision + 1))
    return std::nullopt;
  for (const Inside::Change& change : in.changes) {
    if (change.revision <= revision) continue;
    if (change.whole_book) return std::nullopt;
    touched.insert(change.batches.begin(), change.batches.end());
  }
  return std::vector<BatchId>(touched.begin(), touched.end());
}
std::string Logbook::path() const {
  return inside_->store->path();
}

std::string Logbook::device_letter() const {
  return inside_->letter();
}

std::vector<std::string> Logbook::helpers() const {
  return inside_->store->helpers();
}

std::vector<DeviceRow> Logbook::devices() const {
  Inside& in = *inside_;
  std::vector<DeviceRow> rows;
  const auto letters = in.store->letters();
  const std::string self = in.store->setting("writer").value_or("");
  const BookState& book = in.bookkeeping.book();
  for (const WriterRow& writer : in.store->writers()) {
    if (writer.last == 0) continue;
    DeviceRow row;
    row.writer = writer.id;
    row.entries = static_cast<std::int64_t>(writer.last);
    row.self = self == std::string(writer.id.bytes.begin(), writer.id.bytes.end());
    if (const auto named = book.names.find(writer.id); named != book.names.end()) {
      row.name = named->second.name;
      row.letter = named->second.letter;
    }
    if (const auto letter = letters.find(writer.no); row.letter.empty() && letter != letters.end()) {
      row.letter = letter->second;
    }
    rows.push_back(std::move(row));
  }
  std::sort(rows.begin(), rows.end(), [](const DeviceRow& a, const DeviceRow& b) { return a.writer < b.writer; });
  return rows;
}

std::optional<BatchState> Logbook::Inside::batch(const BatchId& id) const {
  const auto story = store->find_story(id);
  if (!story || *story == 0) return std::nullopt;
  return store->batch(*story);
}

std::optional<PotState> Logbook::Inside::pot(const PotId& id) const {
  const auto story = store->find_story(id.batch);
  if (!story || *story == 0) return std::nullopt;
  return store->pot(*story, id.number);
}

std::vector<Entry> Logbook::Inside::entries_of_story(const BatchId& id) const {
  const auto story = store->find_story(id);
  return story ? store->entries_of_story(*story) : std::vector<Entry>{};
}

const std::vector<Matter>& Logbook::Inside::matters_between() const {
  auto& keeping = const_cast<Bookkeeping&>(bookkeeping);
  if (between_revision != keeping.wide_revision()) {
    between_stories = book_matters(*store, keeping.book());
    between_revision = keeping.wide_revision();
  }
  return between_stories;
}

std::vector<Matter> Logbook::Inside::matters() const {
  const std::vector<Matter>& between = matters_between();
  std::vector<Matter> all = store->matters();
  all.insert(all.end(), between.begin(), between.end());
  std::sort(all.begin(), all.end(), [](const Matter& a, const Matter& b) { return a.id < b.id; });
  return all;
}

std::set<std::uint64_t> Logbook::Inside::matter_ids() const {
  std::set<std::uint64_t> ids = store->matter_ids();
  for (const Matter& matter : matters_between()) ids.insert(matter.id.value);
  return ids;
}

std::string Logbook::Inside::next_label(std::int32_t year) {
  Label label;
  label.year = year % 100;
  label.letter = letter()[0];
  const std::string prefix = (label.year < 10 ? "0" : "") + std::to_string(label.year) + std::string(1, label.letter);
  const auto [given, fresh] = numbers_given.try_emplace(prefix, 0);
  if (fresh) given->second = store->highest_label_number(prefix);
  label.number = ++given->second;
  return to_text(label);
}

// The names of clones as of the last change of names, labels or batches.
const CloneTable& Logbook::Inside::clone_table() const {
  auto& keeping = const_cast<Bookkeeping&>(bookkeeping);
  if (!clones || clones_revision != keeping.wide_revision()) {
    const BookState& book = keeping.book();
    clones.emplace(*store, book);
    clones_revision = keeping.wide_revision();
  }
  return *clones;
}

void Logbook::Inside::name_clone(BatchState& batch, StoryNo story) const {
  const auto& names = clone_table().of_story;
  const auto found = names.find(story);
  if (found == names.end()) return;
  batch.clone = found->second->name;
  batch.genus = found->second->genus;
}

CloneTable::CloneTable(Store& store, const BookState& book) : clones(clone_names(store, book)) {
  for (const CloneName& clone : clones) {
    for (StoryNo story : clone.batches) of_story[story] = &clone;
  }
}

bool CloneTable::shows_other_names(const CloneTable& other) const {
  std::map<std::string_view, const CloneName*> by_key;
  for (const CloneName& clone : clones) by_key[clone.key] = &clone;
  return std::any_of(other.clones.begin(), other.clones.end(), [&](const CloneName& clone) {
    const auto here = by_key.find(clone.key);
    return here == by_key.end() || here->second->name != clone.name || here->second->genus != clone.genus;
  });
}

std::vector<BatchState> Logbook::batches() const {
  Inside& in = *inside_;
  std::vector<BatchState> all;
  in.store->each_batch([&](StoryNo story, BatchState&& batch) {
    if (!batch.begun) return;
    in.name_clone(batch, story);
    all.push_back(std::move(batch));
  });
  std::sort(all.begin(), all.end(), [](const BatchState& a, const BatchState& b) {
    if (a.clone != b.clone) return a.clone < b.clone;
    if (a.genus != b.genus) return a.genus < b.genus;
    if (a.label != b.label) return a.label < b.label;
    return a.id < b.id;
  });
  return all;
}

std::optional<BatchState> Logbook::batch(const BatchId& id) const {
  auto batch = inside_->batch(id);
  if (!batch || !batch->begun) return std::nullopt;
  inside_->name_clone(*batch, *inside_->store->find_story(id));
  return batch;
}

namespace {

std::vector<BatchId> begun_of(Store& store, const std::vector<StoryNo>& stories) {
  std::vector<BatchId> ids;
  for (StoryNo story : stories) {
    const auto batch = store.batch(story);
    if (batch && batch->begun) ids.push_back(batch->id);
  }
  return ids;
}

}  // namespace

std::vector<BatchId> Logbook::batches_by_label(const std::string& label) const {
  std::string upper = label;
  for (char& c : upper) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return begun_of(*inside_->store, inside_->store->batches_by_label(upper));
}

std::vector<BatchId> Logbook::batches_by_mark(const std::string& mark) const {
  return begun_of(*inside_->store, inside_->store->batches_by_mark(mark));
}

std::optional<PotState> Logbook::pot(const PotId& id) const {
  return inside_->pot(id);
}

std::vector<PotState> Logbook::pots_of(const BatchId& id) const {
  const auto story = inside_->store->find_story(id);
  return story && *story != 0 ? inside_->store->pots(*story, true) : std::vector<PotState>{};
}

std::vector<PotRow> Logbook::pots(bool with_emptied, const BatchId* only) const {
  Inside& in = *inside_;
  std::vector<PotRow> rows;
  const auto add = [&](StoryNo story, BatchState&& batch) {
    if (!batch.begun) return;
    in.name_clone(batch, story);
    for (PotState& pot : in.store->pots(story, with_emptied)) rows.push_back({batch, std::move(pot)});
  };
  if (only != nullptr) {
    const auto story = in.store->find_story(*only);
    auto batch = story && *story != 0 ? in.store->batch(*story) : std::nullopt;
    if (batch) add(*story, std::move(*batch));
  } else {
    in.store->each_batch(add);
  }
  std::sort(rows.begin(), rows.end(), [](const PotRow& a, const PotRow& b) {
    if (a.batch.label != b.batch.label) return a.batch.label < b.batch.label;
    if (a.batch.id != b.batch.id) return a.batch.id < b.batch.id;
    return a.pot.pot.number < b.pot.pot.number;
  });
  return rows;
}

std::vector<BatchPots> Logbook::batches_with_pots(std::optional<Day> on) const {
  Inside& in = *inside_;
  std::vector<BatchPots> all;
  if (on) {
    for (StoryNo story : in.store->all_stories()) {
      if (story == 0) continue;
      FoldedStory then = in.bookkeeping.fold_anew(story, on);
      if (!then.batch.begun) continue;
      in.name_clone(then.batch, story);
      BatchPots one{std::move(then.batch), {}};
      for (auto& [number, pot] : then.pots) one.pots.push_back(std::move(pot));
      all.push_back(std::move(one));
    }
  } else {
    in.store->each_batch([&](StoryNo story, BatchState&& batch) {
      if (!batch.begun) return;
      in.name_clone(batch, story);
      all.push_back({std::move(batch), in.store->pots(story, true)});
    });
  }
  std::sort(all.begin(), all.end(), [](const BatchPots& a, const BatchPots& b) {
    return a.batch.label != b.batch.label ? a.batch.label < b.batch.label : a.batch.id < b.batch.id;
  });
  return all;
}

std::vector<PotState> Logbook::Inside::filled_pots_of(const BatchId& id) const {
  const auto story = store->find_story(id);
  return story && *story != 0 ? store->pots(*story, false) : std::vector<PotState>{};
}

std::vector<PotRow> Logbook::Inside::guarded_rows(std::int64_t now_ms) const {
  std::vector<PotRow> rows;
  for (const auto& [story, number] : store->guarded_after(now_ms)) {
    PotRow row;
    auto in_story = store->batch(story);
    if (!in_story || !in_story->begun) continue;
    row.batch = std::move(*in_story);
    name_clone(row.batch, story);
    row.pot.pot = {row.batch.id, number};
    if (number != 0) {
      auto found = store->pot(story, number);
      if (!found) continue;
      row.pot = std::move(*found);
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

const std::vector<PotRow>& Logbook::Inside::guarded(std::int64_t now_ms) const {
  if (!guarded_now) guarded_now = guarded_rows(now_ms);
  return *guarded_now;
}

std::vector<PotRow> Logbook::guarded(std::int64_t now_ms) const {
  return inside_->guarded_rows(now_ms);
}

std::vector<Matter> Logbook::matters() const {
  return inside_->matters();
}

Stock Logbook::stock(std::optional<Day> on) const {
  Inside& in = *inside_;
  const BookState& book = in.bookkeeping.book();
  Stock stock;
  const CloneTable& table = in.clone_table();
  std::vector<std::int32_t> bounds;
  for (const CloneName& clone : table.clones) {
    CloneBalance balance;
    balance.clone = clone.name;
    balance.genus = clone.genus;
    BulbsByGrade bulbs;
    bounds.clear();
    if (const auto set = book.grade_bounds.find(folded_name(clone.genus)); set != book.grade_bounds.end()) {
      bounds = set->second;
    }
    for (StoryNo story : clone.batches) {
      std::optional<FoldedStory> then;
      if (on) then = in.bookkeeping.fold_anew(story, on);
      const BatchState batch = then ? then->batch : in.store->batch(story).value_or(BatchState{});
      if (!batch.begun) continue;
      ++balance.batches;
      balance.bulbs += batch.bulb_balance;
      balance.pieces += batch.piece_balance;
      for (const auto& [grade, count] : batch.bulbs_waiting) bulbs[grade] += count;
      const auto add_pot = [&](const PotState& pot) {
        balance.bulbs += pot.bulb_balance;
        balance.pieces += pot.piece_balance;
        for (const auto& [grade, count] : pot.bulbs) bulbs[grade] += count;
      };
      if (then) {
        for (const auto& [number, pot] : then->pots) add_pot(pot);
      } else {
        for (const PotState& pot : in.store->pots(story, true)) add_pot(pot);
      }
    }
    if (balance.batches == 0) continue;
    // Between pot and batch, and between batches of one clone, nothing is in or out. Where a parent is not known here,
    // or is of another clone, its bulbs are new to this clone, or given away by that.
    const std::int64_t moved = balance.bulbs.brought - balance.bulbs.taken;
    (moved > 0 ? balance.bulbs.begun : balance.bulbs.given) += moved > 0 ? moved : -moved;
    balance.bulbs.brought = balance.bulbs.taken = 0;
    const std::int64_t pieces_moved = balance.pieces.brought - balance.pieces.taken;
    balance.pieces.made += pieces_moved;
    balance.pieces.brought = balance.pieces.taken = 0;
    // In the classes that the grower has set; what lies across two stays as it was counted.
    BulbsByGrade shown;
    for (const auto& [grade, count] : bulbs) {
      Grade in_class = grade;
      for (std::size_t i = 0; grade.sized() && i <= bounds.size() && !bounds.empty(); ++i) {
        const Grade limits{i == 0 ? -1 : bounds[i - 1], i == bounds.size() ? -1 : bounds[i]};
        const bool above = limits.low_mm < 0 || grade.low_mm >= limits.low_mm;
        const bool below = limits.high_mm < 0 || (grade.high_mm >= 0 && grade.high_mm <= limits.high_mm);
        if (above && below) in_class = limits;
      }
      shown[in_class] += count;
    }
    for (const auto& [grade, count] : shown) {
      if (count != 0) stock.rows.push_back({clone.name, clone.genus, grade, count});
    }
    stock.balance.push_back(std::move(balance));
  }
  return stock;
}

std::vector<StoryLine> Logbook::story(const BatchId& id) const {
  Inside& in = *inside_;
  std::vector<StoryLine> lines;
  const auto no = in.store->find_story(id);
  if (!no) return lines;
  const std::vector<Entry> entries = in.store->entries_of_story(*no);
  const auto stands = standing(entries);
  const BookState& book = in.bookkeeping.book();
  for (std::size_t i = 0; i < entries.size(); ++i) {
    StoryLine line;
    line.entry = entries[i];
    line.key = fact_key(entries[i]);
    line.stands = stands[i].has_value();
    line.order = order_of(line.entry, line.entry.when.bare_day ? 0 : book.shift_ms(line.entry.id));
    line.fact = stands[i] ? stands[i]->payload : decode(entries[i].kind, entries[i].payload);
    if (stands[i]) line.rows = stands[i]->rows;
    if (stands[i] && line.entry.table) line.entry.table->rows = stands[i]->rows;
    lines.push_back(std::move(line));
  }
  std::stable_sort(lines.begin(), lines.end(), [&](const StoryLine& a, const StoryLine& b) {
    const bool begins_a = a.entry.kind == static_cast<std::uint16_t>(Kind::begun);
    const bool begins_b = b.entry.kind == static_cast<std::uint16_t>(Kind::begun);
    if (begins_a != begins_b) return begins_a;
    return a.order < b.order;
  });
  return lines;
}

Outcome Logbook::each_standing_fact(const std::function<void(const StoryLine&)>& visit) const {
  Inside& in = *inside_;
  const auto tell = [&](const BatchId& id) {
    std::set<FactKey> set_aside;  // by a settlement: the facts stand, and count nothing
    const auto no = in.store->find_story(id);
    if (no && *no != 0) {
      const auto batch = in.store->batch(*no);
      if (batch && batch->amended) set_aside = in.bookkeeping.fold_anew(*no).set_aside;
    }
    for (const StoryLine& line : story(id)) {
      if (line.stands && set_aside.count(line.key) == 0) visit(line);
    }
  };
  tell({});
  struct Beginning {
    std::int64_t at;
    BatchId id;
  };
  std::vector<Beginning> order;
  in.store->each_batch([&](StoryNo, BatchState&& batch) { order.push_back({batch.begun_on.utc_ms, batch.id}); });
  std::sort(order.begin(), order.end(),
            [](const Beginning& a, const Beginning& b) { return a.at != b.at ? a.at < b.at : a.id < b.id; });
  for (const Beginning& begun : order) tell(begun.id);
  if (in.store->failed()) return in.store->error();
  return Done{};
}

Logbook::KnownRows Logbook::known_rows(const FactKey& fact, bool perhaps_tapped) const {
  Inside& in = *inside_;
  KnownRows known;
  std::vector<Entry> same = in.store->entries_of_fact(fact);
  if (same.empty() && !perhaps_tapped) return known;
  if (same.empty()) {
    // Perhaps a tapped entry, met again in a table that was exported.
    if (!in.tapped_known) {
      for (const WriterRow& row : in.store->writers()) {
        in.store->each_entry(row, 1, [&](const Entry& entry, const Hash&) {
          if (!entry.table) in.tapped[fact_key(entry.id)] = entry.id;
          return true;
        });
      }
      in.tapped_known = true;
    }
    const auto found = in.tapped.find(fact);
    if (found == in.tapped.end()) return known;
    const WriterRow* row = in.store->find_writer(found->second.writer);
    in.store->each_entry(*row, found->second.seq, [&](const Entry& entry, const Hash&) {
      same.push_back(entry);
      return false;
    });
  }
  const auto story = in.store->find_story(story_of(same.front()));
  if (!story) return known;
  const auto& of_story = in.known_rows_of(*story);
  const auto found = of_story.find(fact);
  return found == of_story.end() ? known : found->second;
}

const std::unordered_map<FactKey, Logbook::KnownRows>& Logbook::Inside::known_rows_of(StoryNo story) {
  constexpr std::size_t facts_at_most = 50'000;
  if (known_revision != revision || known_facts > facts_at_most) {
    known_of_story.clear();
    known_facts = 0;
    known_revision = revision;
  }
  const auto [place, fresh] = known_of_story.try_emplace(story);
  auto& of_story = place->second;
  if (!fresh) return of_story;
  const std::vector<Entry> entries = store->entries_of_story(story);
  const auto stands = standing(entries);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const FactKey key = fact_key(entries[i]);
    KnownRows& known = of_story[key];
    if (stands[i]) known.standing.insert(known.standing.end(), stands[i]->rows.begin(), stands[i]->rows.end());
    if (entries[i].table) {
      known.withdrawn.insert(known.withdrawn.end(), entries[i].table->rows.begin(), entries[i].table->rows.end());
    } else {
      known.withdrawn.push_back(1);  // a tapped entry numbers its rows from 1
    }
  }
  const auto withdrawn = withdrawn_facts(entries);
  for (auto& [key, known] : of_story) {
    // What a correction names, and all that the fact ever had where it was taken back whole.
    const auto found = withdrawn.find(key);
    if (found == withdrawn.end() || !found->second.whole) known.withdrawn.clear();
    if (found != withdrawn.end()) {
      known.withdrawn.insert(known.withdrawn.end(), found->second.rows.begin(), found->second.rows.end());
    }
  }
  known_facts += of_story.size();
  return of_story;
}

std::string Logbook::next_label(std::int32_t year) {
  return inside_->next_label(year);
}

std::vector<Grade> Logbook::grades_of(const std::string& genus) const {
  const BookState& book = inside_->bookkeeping.book();
  std::vector<std::int32_t> bounds;
  if (const auto set = book.grade_bounds.find(folded_name(genus)); set != book.grade_bounds.end()) {
    bounds = set->second;
  } else {
    // Classes of 2 cm, as bulbs are sold (trade-facts.md, section 3: a class such as 26/28); below 2 cm and above 34
    // open. Common practice, and the grower's to change.
    const std::string name = folded_name(genus);
    const std::int32_t top = name == "hippeastrum" ? 340 : name == "narcissus" || name == "hyacinthus" ? 200 : 140;
    for (std::int32_t mm = 20; mm <= top; mm += 20) bounds.push_back(mm);
  }
  std::vector<Grade> grades;
  std::int32_t low = -1;
  for (std::int32_t bound : bounds) {
    grades.push_back({low, bound});
    low = bound;
  }
  grades.push_back({low, -1});
  return grades;
}

}  // namespace motherbulb

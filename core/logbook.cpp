#include "core/logbook.hpp"

#include <algorithm>

#include "core/label.hpp"
#include "core/logbook_inside.hpp"
#include "core/matters.hpp"
#include "core/names.hpp"

namespace motherbulb {

// --------------------------------------------------------------------------------------------------------- opening

Logbook::Logbook(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}

Logbook::~Logbook() {
  if (!inside_->store->read_only() && !inside_->store->failed()) inside_->store->checkpoint();
}

Result<std::unique_ptr<Logbook>> Logbook::open(const std::string& path, const OpenWish& wish, Host& host) {
  if (!wish.letter.empty() && (wish.letter.size() != 1 || wish.letter[0] < 'A' || wish.letter[0] > 'Z')) {
    return refusal("a device's letter is one of A to Z, not '" + wish.letter + "'");
  }
  auto store = Store::open(path, {wish.create, wish.must_be_new, wish.read_only});
  if (!store) return store.error();
  std::unique_ptr<Logbook> book(new Logbook(std::make_unique<Inside>(std::move(*store), host)));
  Inside& in = *book->inside_;
  if (!wish.letter.empty() && !wish.read_only && in.store->setting("letter").value_or("").empty()) {
    in.store->begin();
    in.store->set_setting("letter", wish.letter);
    if (auto kept = in.store->commit(); !kept) return kept.error();
  }
  in.start_clock();
  if (in.store->failed()) return in.store->error();
  return book;
}

Outcome Logbook::Inside::begin() {
  store->begin();
  if (store->failed()) {
    const Error error = store->error();
    store->rollback();
    bookkeeping.forget();
    return error;
  }
  if (generation != store->generation()) start_clock();
  return Done{};
}

void Logbook::Inside::start_clock() {
  generation = store->generation();
  latest = {};
  const std::int64_t now_ms = host.now_ms();
  const std::string self = store->setting("writer").value_or("");
  for (const WriterRow& row : store->writers()) {
    const Stamp last = store->stamp_at(row, row.last);
    const bool own = self == std::string(row.id.bytes.begin(), row.id.bytes.end());
    // A device's own stamps grow whatever its clock says.
    latest = own ? std::max(latest, last) : follow_stamp(latest, last, now_ms);
  }
}

When Logbook::Inside::now() {
  const std::int64_t now_ms = host.now_ms();
  return moment(now_ms, host.offset_minutes(now_ms));
}

std::string Logbook::Inside::letter() {
  // The letter that this device was given by name goes before the one that it began with.
  if (const auto self = store->setting("writer"); self && self->size() == 16) {
    WriterId id;
    std::copy(self->begin(), self->end(), id.bytes.begin());
    const auto& names = bookkeeping.book().names;
    const auto named = names.find(id);
    if (named != names.end() && named->second.letter.size() == 1 && named->second.letter[0] >= 'A' &&
        named->second.letter[0] <= 'Z')
      return named->second.letter;
  }
  if (auto known = store->setting("letter"); known && !known->empty()) return *known;
  // The first letter that the book does not know.
  std::set<std::string> taken;
  for (const std::string& used : store->label_letters()) taken.insert(used);
  for (const auto& [writer, name] : bookkeeping.book().names) taken.insert(name.letter);
  std::string letter = "Z";
  for (char c = 'A'; c <= 'Z'; ++c) {
    if (taken.count(std::string(1, c)) == 0) {
      letter = std::string(1, c);
      break;
    }
  }
  return letter;
}

// The writer of this store on this device. A store that was copied, put back or moved gets a new one, so that no
// sequence is ever used twice; and then a letter of its own too.
WriterRow& Logbook::Inside::own_writer() {
  const std::string token = host.store_token(store->path());
  const auto kept = store->setting("writer");
  if (kept && kept->size() == 16) {
    WriterId id;
    std::copy(kept->begin(), kept->end(), id.bytes.begin());
    WriterRow& row = store->writer(id);
    const bool moved = store->setting("token").value_or("") != token;
    const bool put_back = host.highest_sequence(id) > row.last;
    bool forked = false;
    for (const WriterId& other : store->forked_writers()) forked = forked || other == id;
    if (!moved && !put_back && !forked) return row;
    // Written with from now on, it is another device, and says so by a letter that the book does not know.
    if (row.last > 0) store->set_setting("letter", "");
  }
  WriterId id;
  host.random(id.bytes.data(), id.bytes.size());
  store->set_setting("writer", std::string(id.bytes.begin(), id.bytes.end()));
  store->set_setting("token", token);
  return store->writer(id);
}

// --------------------------------------------------------------------------------------------------------- writing

Outcome Logbook::Inside::refuse_writing() const {
  if (!store->read_only()) return Done{};
  return Error{ErrorKind::failed, store->path() + " was opened to be read only", {}};
}

std::vector<Receipt> Logbook::Inside::append_own(std::vector<Entry>& entries, bool give_when) {
  std::vector<Receipt> receipts;
  receipts.reserve(entries.size());
  WriterRow& writer = own_writer();
  if (store->setting("letter").value_or("").empty()) store->set_setting("letter", letter());
  const std::int64_t now_ms = host.now_ms();
  for (Entry& entry : entries) {
    entry.id = {writer.id, writer.last + 1};
    latest = next_stamp(latest, now_ms);
    entry.stamp = latest;
    if (give_when) entry.when = moment(now_ms, host.offset_minutes(now_ms));
    store->append(writer, entry, entry_hash(writer.head, canonical_body(entry)));
    bookkeeping.entry_added(entry, true);
    receipts.push_back({entry.id, fact_key(entry), story_of(entry), true});
    if (store->failed()) break;
  }
  store->save_writer(writer);
  return receipts;
}

Outcome Logbook::Inside::finish(Progress* progress) {
  Outcome outcome = Done{};
  if (!bookkeeping.settle(progress)) outcome = Error{ErrorKind::cancelled, "stopped; nothing was changed", {}};
  if (outcome && store->failed()) outcome = store->error();
  std::vector<std::pair<WriterId, std::uint64_t>> own;
  if (outcome) {
    if (const auto kept = store->setting("writer"); kept && kept->size() == 16) {
      WriterId id;
      std::copy(kept->begin(), kept->end(), id.bytes.begin());
      if (const WriterRow* row = store->find_writer(id)) own.emplace_back(id, row->last);
    }
    outcome = store->commit();
  } else {
    store->rollback();
  }
  numbers_given.clear();
  if (!outcome) {
    bookkeeping.forget();
    start_clock();
    return outcome;
  }
  for (const auto& [id, last] : own) host.keep_highest_sequence(id, last);
  tapped_known = false;
  tapped.clear();
  ++revision;
  constexpr std::size_t changes_known = 64, batches_at_most = 4096;
  Change change;
  change.revision = revision;
  std::set<StoryNo> touched = bookkeeping.take_changed(change.whole_book);
  if (clones && clones_revision != bookkeeping.wide_revision()) {
    const CloneTable before = std::move(*clones);
    clones.reset();
    change.whole_book = clone_table().shows_other_names(before) || change.whole_book;
  }
  change.whole_book = change.whole_book || touched.size() > batches_at_most;
  if (!change.whole_book) {
    for (const StoryNo story : touched) change.batches.push_back(store->story_id(story));
  }
  changes.push_back(std::move(change));
  if (changes.size() > changes_known) changes.pop_front();
  return outcome;
}

Result<Receipt> Logbook::run(const Command& command) {
  auto receipts = run_all({command});
  if (!receipts) return receipts.error();
  return receipts->front();
}

Result<std::vector<Receipt>> Logbook::run_all(const std::vector<Command>& commands) {
  Inside& in = *inside_;
  if (auto may = in.refuse_writing(); !may) return may.error();
  in.bookkeeping.book();
  if (auto begun = in.begin(); !begun) return begun.error();
  std::vector<Receipt> receipts;
  for (const Command& command : commands) {
    if (in.store->failed()) break;
    // Each is decided on what those before it left.
    in.bookkeeping.settle();
    Command wish = command;
    if (auto* record = std::get_if<Record>(&wish); record != nullptr && record->begun_by) {
      CHECK_OURS(*record->begun_by < receipts.size());
      record->batch = receipts[*record->begun_by].batch;
    }
    auto entries = decide(in, wish, in.now());
    if (!entries) {
      in.store->rollback();
      in.bookkeeping.forget();
      in.numbers_given.clear();
      return entries.error();
    }
    // A wish that writes several entries is answered with the first.
    const auto written = in.append_own(*entries, false);
    if (!written.empty()) receipts.push_back(written.front());
  }
  if (auto kept = in.finish(nullptr); !kept) return kept.error();
  return receipts;
}

Result<std::vector<Receipt>> Logbook::append(std::vector<Entry> entries, Progress* progress) {
  Inside& in = *inside_;
  if (auto may = in.refuse_writing(); !may) return may.error();
  if (entries.empty()) return std::vector<Receipt>{};
  in.bookkeeping.book();
  if (auto begun = in.begin(); !begun) return begun.error();
  auto receipts = in.append_own(entries, false);
  if (auto kept = in.finish(progress); !kept) return kept.error();
  return receipts;
}

Result<MergeReport> Logbook::merge(const std::vector<ByteSource*>& parcels, Progress* progress) {
  Inside& in = *inside_;
  if (auto may = in.refuse_writing(); !may) return may.error();
  in.bookkeeping.book();
  const std::set<std::uint64_t> before = in.matter_ids();
  if (auto begun = in.begin(); !begun) return begun.error();
  TakenIn taken;
  std::vector<ClockMeasured> clocks;
  for (ByteSource* parcel : parcels) {
    auto took = take_in(*in.store, in.bookkeeping, *parcel, in.host, in.latest, taken, clocks, progress);
    if (!took) {
      in.store->rollback();
      in.bookkeeping.forget();
      in.start_clock();
      return took.error();
    }
  }
  // A clock found wrong is written down once for what its device had written by then.
  in.bookkeeping.refresh_book();
  WriterId self;
  if (const auto kept = in.store->setting("writer"); kept && kept->size() == 16) {
    std::copy(kept->begin(), kept->end(), self.bytes.begin());
  }
  std::vector<Entry> notes;
  for (ClockMeasured& clock : clocks) {
    // What a device wrote only to say that a clock is wrong is no work of its own: else two that measure each other
    // would never come to an end.
    const WriterRow* row = in.store->find_writer(clock.writer);
    const auto only_measures = [&](std::uint64_t seq) {
      bool measures = false;
      in.store->each_entry(*row, seq, [&](const Entry& entry, const Hash&) {
        measures = entry.id.seq == seq && entry.kind == static_cast<std::uint16_t>(Kind::clock_measured);
        return false;
      });
      return measures;
    };
    while (row != nullptr && clock.upto > 0 && only_measures(clock.upto)) --clock.upto;
    bool known = clock.upto == 0;
    for (const Entry& entry : in.store->entries_of_book()) {
      const Payload payload = decode(entry.kind, entry.payload);
      const auto* measured = std::get_if<ClockMeasured>(&payload);
      if (measured == nullptr) continue;
      // Known already; or the other device has measured this one, which is the same difference seen from there.
      known = known || (measured->writer == clock.writer && measured->upto >= clock.upto) ||
              (entry.id.writer == clock.writer && measured->writer == self);
    }
    if (known) continue;
    Entry note;
    note.kind = static_cast<std::uint16_t>(Kind::clock_measured);
    note.payload = encode(clock);
    note.when = in.now();
    notes.push_back(std::move(note));
  }
  if (!notes.empty()) in.append_own(notes, false);
  if (auto kept = in.finish(progress); !kept) return kept.error();

  MergeReport report;
  report.new_entries = taken.fresh;
  report.known = taken.known;
  report.parked = taken.parked;
  for (std::uint64_t id : in.matter_ids()) report.matters += before.count(id) == 0 ? 1 : 0;
  report.digest = digest();
  return report;
}

void Logbook::rest() {
  inside_->store->checkpoint();
}

// --------------------------------------------------------------------------------------------------------- parcels

std::vector<Known> Logbook::vector() const {
  std::vector<Known> all;
  for (const WriterRow& row : inside_->store->writers()) {
    if (row.last > 0) all.push_back({row.id, row.last, row.head});
  }
  std::sort(all.begin(), all.end(), [](const Known& a, const Known& b) { return a.writer < b.writer; });
  return all;
}

std::string Logbook::digest() const {
  return digest_of(*inside_->store);
}

Outcome Logbook::write_parcel(ByteSink& sink, const std::vector<Known>* known_there, Progress* progress) {
  Inside& in = *inside_;
  ParcelHead head;
  head.written_at_ms = in.host.now_ms();
  if (const auto self = in.store->setting("writer"); self && self->size() == 16) {
    std::copy(self->begin(), self->end(), head.written_by.bytes.begin());
  }
  ParcelWriter writer(sink, head);
  std::vector<WriterRow> rows = in.store->writers();
  std::sort(rows.begin(), rows.end(), [](const WriterRow& a, const WriterRow& b) { return a.id < b.id; });
  const double all = static_cast<double>(std::max<std::int64_t>(entry_count(), 1));
  std::int64_t written = 0;
  for (const WriterRow& row : rows) {
    std::uint64_t first = 1;
    Hash before = first_hash(row.id);
    const std::vector<SideEntry> beside = in.store->aside(row.id);
    if (known_there != nullptr) {
      for (const Known& known : *known_there) {
        if (known.writer != row.id || known.last == 0) continue;
        const auto here = in.store->hash_at(row, std::min(known.last, row.last));
        // What the other has only counts as known where its chain is ours; else it gets everything of this writer.
        if (known.last <= row.last && here && *here == known.head) {
          first = known.last + 1;
          before = known.head;
        } else if (known.last > row.last) {
          first = row.last + 1;
        }
      }
    }
    Outcome outcome = Done{};
    if (first <= row.last) {
      writer.begin_run(row.id, first, before);
      in.store->each_entry(row, first, [&](const Entry& entry, const Hash&) {
        outcome = writer.add(entry);
        if (outcome && progress != nullptr && ++written % 4096 == 0 &&
            !progress->go_on(static_cast<double>(written) / all)) {
          outcome = Error{ErrorKind::cancelled, "stopped; no parcel was written", {}};
        }
        return outcome.ok();
      });
      if (outcome) outcome = writer.end_run(row.head);
    }
    // Every other content of a forked id, each as a run of its own.
    for (const SideEntry& side : beside) {
      if (!outcome) break;
      writer.begin_run(row.id, side.entry.id.seq, side.previous);
      outcome = writer.add(side.entry);
      if (outcome) outcome = writer.end_run(side.hash);
    }
    if (outcome && in.store->failed()) outcome = in.store->error();
    if (!outcome) return outcome;
  }
  for (const WriterId& id : in.store->parked_writers()) {
    // What waits behind a gap travels on too.
    for (const SideEntry& side : in.store->all_parked(id)) {
      writer.begin_run(id, side.entry.id.seq, side.previous);
      if (auto added = writer.add(side.entry); !added) return added;
      if (auto ended = writer.end_run(side.hash); !ended) return ended;
    }
  }
  return writer.finish(vector());
}

// ------------------------------------------------------------------------------------------------------- questions

std::int64_t Logbook::entry_count() const {
  return inside_->store->entry_count();
}
std::uint64_t Logbook::revision() const {
  return inside_->revision;
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
  for (std::size_t i = 0; i < entries.size(); ++i) {
    StoryLine line;
    line.entry = entries[i];
    line.key = fact_key(entries[i]);
    line.stands = stands[i].has_value();
    line.fact = stands[i] ? stands[i]->payload : decode(entries[i].kind, entries[i].payload);
    if (stands[i]) line.rows = stands[i]->rows;
    if (stands[i] && line.entry.table) line.entry.table->rows = stands[i]->rows;
    lines.push_back(std::move(line));
  }
  const BookState& book = in.bookkeeping.book();
  const auto order = [&](const StoryLine& line) {
    return order_of(line.entry, line.entry.when.bare_day ? 0 : book.shift_ms(line.entry.id));
  };
  std::stable_sort(lines.begin(), lines.end(), [&](const StoryLine& a, const StoryLine& b) {
    const bool begins_a = a.entry.kind == static_cast<std::uint16_t>(Kind::begun);
    const bool begins_b = b.entry.kind == static_cast<std::uint16_t>(Kind::begun);
    if (begins_a != begins_b) return begins_a;
    return order(a) < order(b);
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

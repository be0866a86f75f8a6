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
  auto store = Store::open(path, {wish.create, wish.must_be_new, wish.read_only, wish.untouched});
  if (!store) return store.error();
  std::unique_ptr<Logbook> book(new Logbook(std::make_unique<Inside>(std::move(*store), host)));
  Inside& in = *book->inside_;
  if (!wish.letter.empty() && !in.store->read_only() && in.store->setting("letter").value_or("").empty()) {
    in.store->begin();
    in.store->set_setting("letter", wish.letter);
    if (auto kept = in.store->commit(); !kept) return kept.error();
  }
  in.start_clock();
  if (auto folded = in.fold_anew(); !folded) return folded.error();
  if (in.store->failed()) return in.store->error();
  return book;
}

// After a new version of the store. All or nothing: cut short, it is done the next time.
Outcome Logbook::Inside::fold_anew() {
  const std::vector<StoryNo> stories = store->to_be_folded_anew();
  if (stories.empty()) return Done{};
  if (auto begun = begin(); !begun) return begun.error();
  for (StoryNo story : stories) bookkeeping.story_changed(story);
  store->folded_anew();
  return finish(nullptr);
}

Outcome Logbook::Inside::begin() {
  guarded_now.reset();
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

namespace {

// Changes neither what is on hold, nor what was found, nor where nobody enters, nor where anything stands.
bool leaves_guards(const Entry& entry) {
  switch (static_cast<Kind>(entry.kind)) {
    case Kind::looked:
    case Kind::watered:
    case Kind::fed:
    case Kind::covered:
    case Kind::uncovered:
    case Kind::dried_off:
    case Kind::started:
    case Kind::note:
      return true;
    default:
      return false;
  }
}

}  // namespace

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
    if (!leaves_guards(entry)) guarded_now.reset();
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

Outcome Logbook::open_anew(const std::function<Outcome()>& between) {
  Inside& in = *inside_;
  const Outcome opened = in.store->open_anew(between);
  in.bookkeeping.forget();
  in.numbers_given.clear();
  in.guarded_now.reset();
  in.tapped_known = false;
  in.tapped.clear();
  in.clones.reset();
  in.changes.clear();
  ++in.revision;
  if (opened) in.start_clock();
  return opened;
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

}  // namespace motherbulb

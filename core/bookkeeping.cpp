#include "core/bookkeeping.hpp"

#include <algorithm>

#include "core/matters.hpp"
#include "core/names.hpp"
#include "core/state_codec.hpp"

namespace motherbulb {
namespace {

FactKey key_of(const WriterId& writer) {
  return FactKey{writer.bytes};
}

std::int64_t whole_minutes(std::int64_t ms) {
  return (ms + (ms < 0 ? -30000 : 30000)) / 60000;
}

std::string minutes_text(std::int64_t ms) {
  const std::int64_t minutes = whole_minutes(ms < 0 ? -ms : ms);
  return std::to_string(minutes) + (minutes == 1 ? " minute " : " minutes ") + (ms < 0 ? "behind" : "ahead");
}

}  // namespace

std::int64_t BookState::shift_ms(const EntryId& id) const {
  for (const Shift& shift : shifts) {
    if (shift.writer == id.writer && shift.after < id.seq && id.seq <= shift.upto) return shift.ms;
  }
  return 0;
}

std::string_view BookState::device(const WriterId& writer) const {
  const auto found = names.find(writer);
  if (found != names.end() && !found->second.name.empty()) return found->second.name;
  std::string& text = nameless[writer];
  if (text.empty()) text = hex(writer);
  return text;
}

std::string BookState::clone_name(const std::string& genus, const std::string& name) const {
  std::string now = name;
  for (const Renaming& renaming : renamings) {
    if (renaming.genus == folded_name(genus) && renaming.from == folded_name(now)) now = renaming.to;
  }
  return now;
}

BookState read_book(Store& store) {
  struct Plain : BookView {
    std::int64_t shift_ms(const EntryId&) const override { return 0; }
    std::string_view device(const WriterId&) const override { return {}; }  // nothing here is compared by device
  };
  BookState book;
  Resolved resolved = resolve({}, store.entries_of_book(), Plain{});
  book.settlements = std::move(resolved.settlements);
  struct Measured {
    ClockMeasured fact;
    std::string helper;
    When when;
  };
  std::vector<Measured> measured;
  for (const Fact& fact : resolved.facts) {
    if (const auto* named = std::get_if<DeviceNamed>(&fact.payload)) {
      book.names[fact.order.id.writer] = {named->name, named->letter};
    } else if (const auto* renamed = std::get_if<CloneRenamed>(&fact.payload)) {
      book.renamings.push_back({folded_name(renamed->genus), folded_name(renamed->from), renamed->to});
    } else if (const auto* bounds = std::get_if<GradeBounds>(&fact.payload)) {
      book.grade_bounds[folded_name(bounds->genus)] = bounds->bounds_mm;
    } else if (const auto* clock = std::get_if<ClockMeasured>(&fact.payload)) {
      measured.push_back({*clock, fact.helper, fact.when});
    }
  }
  // Devices that a person named while settling who they are.
  for (const WriterRow& writer : store.writers()) {
    const auto settled = book.settlements.find(matter_id(MatterKind::unknown_device, key_of(writer.id), FactKey{}));
    if (settled == book.settlements.end() || settled->second.text.empty()) continue;
    BookState::Name& name = book.names[writer.id];
    if (name.name.empty()) name.name = settled->second.text;
  }
  // One clock, one matter for what was written up to each measuring; the first to measure speaks.
  std::stable_sort(measured.begin(), measured.end(), [](const Measured& a, const Measured& b) {
    if (a.fact.writer != b.fact.writer) return a.fact.writer < b.fact.writer;
    return a.fact.upto < b.fact.upto;
  });
  WriterId writer;
  std::uint64_t upto = 0;
  for (const Measured& m : measured) {
    if (m.fact.writer != writer) upto = 0;
    writer = m.fact.writer;
    if (m.fact.upto <= upto) continue;
    Matter matter;
    matter.kind = MatterKind::clock;
    matter.id = matter_id(matter.kind, key_of(writer), fact_key(EntryId{writer, m.fact.upto}));
    matter.proposal = Take::first;
    const auto named = book.names.find(writer);
    const std::string device = named == book.names.end() || named->second.name.empty()
                                   ? "device " + hex(writer).substr(0, 4)
                                   : named->second.name;
    const std::uint64_t count = m.fact.upto - upto;
    const std::string entries = std::to_string(count) + (count == 1 ? " entry" : " entries");
    matter.first = {device, m.when, minutes_text(m.fact.ahead_ms) + ": shift its " + entries,
                    whole_minutes(m.fact.ahead_ms), key_of(writer)};
    matter.second = {device, m.when, "leave its " + entries + " as written", 0, key_of(writer)};
    const auto settled = book.settlements.find(matter.id);
    if (settled == book.settlements.end()) {
      book.clocks.push_back(std::move(matter));
    } else if (settled->second.take == Take::first) {
      book.shifts.push_back({writer, upto, m.fact.upto, -m.fact.ahead_ms});
    }
    upto = m.fact.upto;
  }
  return book;
}

const BookState& Bookkeeping::book() {
  if (book_ && generation_ != store_.generation()) book_.reset();
  if (!book_) {
    book_ = read_book(store_);
    generation_ = store_.generation();
  }
  return *book_;
}

void Bookkeeping::entry_added(const Entry& entry, bool own) {
  if (entry.id.seq == 1 || entry.table) ++wide_revision_;  // a device that nobody knew, or now knows by its letter
  const BatchId id = story_of(entry);
  if (id.is_zero()) {
    book_touched_ = book_touched_ || entry.kind >= static_cast<std::uint16_t>(Kind::plan_edited);
    return;
  }
  const StoryNo story = store_.story(id);
  if (touched_.count(story) != 0) return;
  if (!go_on(story, entry, own)) touched_.insert(story);
}

// Goes on from the picture put away, where the entry comes after all that is folded and amends nothing.
bool Bookkeeping::go_on(StoryNo story, const Entry& entry, bool own) {
  const auto kind = static_cast<Kind>(entry.kind);
  if (entry.table || kind == Kind::begun || kind == Kind::correction || kind == Kind::settlement ||
      kind == Kind::combined || book_touched_) {
    return false;
  }
  auto batch = store_.batch(story);
  if (!batch || batch->amended || (batch->from_table && !own)) return false;
  const std::int64_t shift = book().shift_ms(entry.id);
  const FoldOrder order = order_of(entry, entry.when.bare_day ? 0 : shift);
  if (!(batch->last_order < order)) return false;
  changed_.insert(story);

  static const Settlements none;
  const auto open_of = [](const BulbBalance& bulbs, const PieceBalance& pieces) {
    return std::pair(bulbs.open, pieces.open);
  };
  const auto open_before = open_of(batch->bulb_balance, batch->piece_balance);
  std::map<std::int32_t, std::pair<std::int64_t, std::int64_t>> pots_open_before;
  StoryFold fold(std::move(*batch), none);
  if (entry.pot != 0) {
    if (auto pot = store_.pot(story, entry.pot)) {
      pots_open_before[entry.pot] = open_of(pot->bulb_balance, pot->piece_balance);
      fold.put_pot(std::move(*pot));
    }
  }
  Fact fact{std::nullopt,
            order,
            entry.when,
            entry.helper,
            book().device(entry.id.writer),
            entry.pot,
            decode(entry.kind, entry.payload)};
  if (!entry.when.bare_day) fact.when.utc_ms += shift;
  fold.apply(fact);
  store_.put_batch(story, fold.batch());
  const auto keep_balance = [&](const PotState* pot) {
    store_.drop_balance_matters(story, pot != nullptr ? pot->pot.number : 0);
    if (!fold.batch().begun) return;
    if (auto matter = balance_matter(fold.batch(), pot, none)) store_.put_matter(story, *matter);
  };
  if (open_of(fold.batch().bulb_balance, fold.batch().piece_balance) != open_before) keep_balance(nullptr);
  for (const auto& [number, pot] : fold.pots()) {
    store_.put_pot(story, pot);
    if (open_of(pot.bulb_balance, pot.piece_balance) != pots_open_before[number]) keep_balance(&pot);
  }
  for (const Matter& matter : fold.raised()) store_.put_matter(story, matter);
  return true;
}

FoldedStory Bookkeeping::fold_anew(StoryNo story, std::optional<Day> on) {
  const BatchId id = store_.story_id(story);
  const Resolved resolved = resolve(id, store_.entries_of_story(story), book(), on);
  std::vector<Link> links;
  for (Link& link : store_.links_to(story)) {
    if (!on || !(*on < local_day(link.when))) links.push_back(std::move(link));
  }
  return fold_story(id, resolved, links);
}

void Bookkeeping::fold_whole(StoryNo story) {
  const auto shown_before = store_.batch(story);
  const BatchId id = store_.story_id(story);
  Resolved resolved = resolve(id, store_.entries_of_story(story), book());
  std::sort(resolved.links.begin(), resolved.links.end(), [](const Link& a, const Link& b) { return a.fact < b.fact; });
  const std::vector<Link> before = store_.links_from(story);
  const auto same = [](const Link& a, const Link& b) { return encode_state(a) == encode_state(b); };
  if (!std::equal(before.begin(), before.end(), resolved.links.begin(), resolved.links.end(), same)) {
    for (const Link& link : before) touched_.insert(store_.story(link.to));
    for (const Link& link : resolved.links) touched_.insert(store_.story(link.to));
    store_.put_links(story, resolved.links);
    touched_.erase(story);
  }
  const FoldedStory folded = fold_story(id, resolved, store_.links_to(story));
  // A clone's name as it is shown is that of its first batch: a change of it may change others.
  if (shown_before && shown_before->begun &&
      (shown_before->clone != folded.batch.clone || shown_before->genus != folded.batch.genus)) {
    whole_book_changed_ = true;
  }
  if (!shown_before || shown_before->begun != folded.batch.begun || shown_before->label != folded.batch.label ||
      shown_before->clone != folded.batch.clone || shown_before->genus != folded.batch.genus) {
    ++wide_revision_;
  }
  store_.put_folded(story, folded);
  changed_.insert(story);
}

// Names and clocks reach into every story with entries of those writers.
void Bookkeeping::book_changed() {
  BookState before;
  if (book_) before = *book_;
  book_ = read_book(store_);
  for (const WriterRow& writer : store_.writers()) {
    std::uint64_t first = UINT64_MAX, last = 0;
    if (before.device(writer.id) != book_->device(writer.id)) first = 1, last = writer.last;
    const auto differ = [&](const BookState& a, const BookState& b) {
      for (const BookState::Shift& shift : a.shifts) {
        if (shift.writer != writer.id) continue;
        const bool kept = std::any_of(b.shifts.begin(), b.shifts.end(), [&](const BookState::Shift& other) {
          return other.writer == shift.writer && other.after == shift.after && other.upto == shift.upto &&
                 other.ms == shift.ms;
        });
        if (kept) continue;
        first = std::min(first, shift.after + 1);
        last = std::max(last, std::min(shift.upto, writer.last));
      }
    };
    differ(before, *book_);
    differ(*book_, before);
    if (first <= last)
      store_.each_story_with(writer.no, first, last, [this](StoryNo story) { touched_.insert(story); });
  }
}

bool Bookkeeping::refresh_book() {
  if (!book_touched_) return false;
  book_touched_ = false;
  whole_book_changed_ = true;
  ++wide_revision_;
  book_changed();
  for (const WriterId& writer : store_.forked_writers()) weigh_forks(store_, *this, writer);
  if (book_touched_) {  // a forked entry of the book itself counts now, or no more
    book_touched_ = false;
    book_changed();
  }
  return true;
}

bool Bookkeeping::settle(Progress* progress) {
  refresh_book();
  const double all = static_cast<double>(touched_.size());
  std::size_t done = 0;
  while (!touched_.empty() && !store_.failed()) {
    const StoryNo story = *touched_.begin();
    touched_.erase(touched_.begin());
    fold_whole(story);
    if (progress != nullptr && ++done % 256 == 0 &&
        !progress->go_on(std::min(1.0, static_cast<double>(done) / std::max(all, 1.0)))) {
      touched_.clear();
      return false;
    }
  }
  return true;
}

}  // namespace motherbulb

// Merging: the union of entries. What is known is left, what follows is appended, what comes after a gap is parked, and
// one id with two contents is kept beside the book on both sides.
#include <algorithm>
#include <cstdlib>

#include "core/logbook_inside.hpp"
#include "core/matters.hpp"
#include "shared/digest.hpp"

namespace motherbulb {
namespace {

class Taker {
public:
  Taker(Store& store, Bookkeeping& bookkeeping, Stamp& latest, std::int64_t now_ms, TakenIn& taken)
      : store_(store), bookkeeping_(bookkeeping), latest_(latest), now_ms_(now_ms), taken_(taken) {}

  void append(WriterRow& writer, const Entry& entry, const Hash& hash) {
    store_.append(writer, entry, hash);
    bookkeeping_.entry_added(entry, false);
    latest_ = follow_stamp(latest_, entry.stamp, now_ms_);
  }

  // Before a run of this writer is read.
  void turn_to(const WriterId& writer) {
    beside_.clear();
    for (const SideEntry& side : store_.aside(writer)) beside_.insert(side.hash);
  }
  // What follows this entry goes on a branch that is kept beside the book.
  bool is_beside(const Hash& hash) const { return beside_.count(hash) != 0; }

  void beside(const SideEntry& side) {
    beside_.insert(side.hash);
    if (store_.set_aside(side)) {
      ++taken_.fresh;
      forked_.insert(side.entry.id.writer);
    } else {
      ++taken_.known;
    }
  }

  // What was parked and now follows.
  void unpark(WriterRow& writer) {
    for (bool more = true; more;) {
      more = false;
      for (const SideEntry& side : store_.parked(writer.id, writer.last + 1)) {
        if (side.previous != writer.head) continue;
        append(writer, side.entry, side.hash);
        store_.unpark(side);
        more = true;
        break;
      }
    }
    // What is still parked though the book is past it is known by now, or has another content.
    for (const SideEntry& side : store_.all_parked(writer.id)) {
      if (side.entry.id.seq > writer.last) {
        if (side.entry.id.seq == writer.last + 1 || is_beside(side.previous)) park_to_aside(side);
        continue;
      }
      const auto hash = store_.hash_at(writer, side.entry.id.seq);
      store_.unpark(side);
      if (!hash || *hash != side.hash) {
        store_.set_aside(side);
        beside_.insert(side.hash);
        forked_.insert(writer.id);
      }
    }
  }

  const std::set<WriterId>& forked() const { return forked_; }

private:
  // It follows a content beside the book: that branch goes on.
  void park_to_aside(const SideEntry& side) {
    store_.unpark(side);
    store_.set_aside(side);
    beside_.insert(side.hash);
    forked_.insert(side.entry.id.writer);
  }

  Store& store_;
  Bookkeeping& bookkeeping_;
  Stamp& latest_;
  std::int64_t now_ms_;
  TakenIn& taken_;
  std::set<WriterId> forked_;
  std::set<Hash> beside_;  // of the writer at hand
};

// All of a parcel is known where the book has each run's last hash in its place: a hash covers all before it.
bool knows_all(Store& store, const ParcelReader& reader) {
  for (const ParcelRun& run : reader.runs()) {
    const WriterRow* writer = store.find_writer(run.writer);
    const std::uint64_t last = run.first + run.count - 1;
    if (writer == nullptr || last > writer->last || store.hash_at(*writer, last) != run.last) return false;
  }
  return true;
}

}  // namespace

Outcome take_in(Store& store, Bookkeeping& bookkeeping, ByteSource& source, Host& host, Stamp& latest, TakenIn& taken,
                std::vector<ClockMeasured>& clocks, Progress* progress) {
  auto opened = ParcelReader::open(source);
  if (!opened) return opened.error();
  ParcelReader& reader = **opened;
  Taker taker(store, bookkeeping, latest, host.now_ms(), taken);
  const double all = static_cast<double>(std::max<std::uint64_t>(reader.entries(), 1));
  std::uint64_t read = 0;
  std::uint64_t of_writer = 0;
  if (knows_all(store, reader)) {
    if (Outcome sound = reader.check_frame(); !sound) return sound;
    taken.known += static_cast<std::int64_t>(reader.entries());
    for (const ParcelRun& run : reader.runs()) {
      if (run.writer == reader.head().written_by) of_writer = std::max(of_writer, run.first + run.count - 1);
    }
  }

  for (;;) {
    auto next = reader.next_run();
    if (!next) return next.error();
    if (!*next) break;
    const ParcelRun run = **next;
    WriterRow& writer = store.writer(run.writer);
    const std::uint64_t last_before = writer.last;
    if (run.writer == reader.head().written_by) of_writer = std::max(of_writer, run.first + run.count - 1);
    taker.turn_to(run.writer);

    // Beside the run that is read runs what the book has of it.
    std::vector<std::pair<std::uint64_t, Hash>> known;
    std::size_t at_known = 0;
    std::uint64_t known_to = run.first - 1;
    const auto known_hash = [&](std::uint64_t seq) -> const Hash* {
      if (seq > last_before) return nullptr;
      if (seq > known_to) {
        known.clear();
        at_known = 0;
        store.each_hash(writer, seq, [&](std::uint64_t at, const Hash& hash) {
          known.emplace_back(at, hash);
          return known.size() < 4096;
        });
        known_to = known.empty() ? seq : known.back().first;
      }
      return at_known < known.size() && known[at_known].first == seq ? &known[at_known++].second : nullptr;
    };

    Hash previous = run.before;
    bool follows = false;  // the run's chain is the book's own at this point
    if (run.first <= last_before + 1) {
      const auto here = store.hash_at(writer, run.first - 1);
      follows = here && *here == run.before;
    }
    Entry entry;
    Hash hash;
    for (;;) {
      auto more = reader.next_entry(entry, hash);
      if (!more) return more.error();
      if (!*more) break;
      const std::uint64_t seq = entry.id.seq;
      if (seq <= last_before) {
        const Hash* own = known_hash(seq);
        if (own != nullptr && *own == hash) {
          ++taken.known;
          follows = true;
        } else {
          follows = false;
          taker.beside({entry, previous, hash});
        }
      } else if (follows && seq == writer.last + 1 && previous == writer.head) {
        taker.append(writer, entry, hash);
        ++taken.fresh;
      } else if (run.first > last_before + 1 && !taker.is_beside(previous)) {
        store.park({entry, previous, hash}) ? ++taken.parked : ++taken.known;
      } else {
        taker.beside({entry, previous, hash});
      }
      previous = hash;
      if (store.failed()) return store.error();
      if (++read % 4096 == 0 && progress != nullptr && !progress->go_on(0.7 * static_cast<double>(read) / all)) {
        return Error{ErrorKind::cancelled, "stopped; nothing was merged", {}};
      }
    }
    taker.unpark(writer);
    store.save_writer(writer);
  }
  for (const WriterId& writer : taker.forked()) weigh_forks(store, bookkeeping, writer);
  for (const Known& known : reader.vector()) {
    if (known.writer == reader.head().written_by) of_writer = std::max(of_writer, known.last);
  }

  // The parcel says when it was written by its own clock. Later than now: that clock is ahead. Earlier proves nothing,
  // since parcels lie about, unless the device already knew an entry of ours that is younger than that.
  const std::string self = store.setting("writer").value_or("");
  const auto is_self = [&self](const WriterId& id) { return self == std::string(id.bytes.begin(), id.bytes.end()); };
  std::int64_t ahead = std::max<std::int64_t>(reader.head().written_at_ms - host.now_ms(), 0);
  for (const Known& known : reader.vector()) {
    const WriterRow* own = is_self(known.writer) ? store.find_writer(known.writer) : nullptr;
    if (own == nullptr || known.last == 0 || known.last > own->last) continue;
    const std::int64_t behind = store.stamp_at(*own, known.last).wall_ms() - reader.head().written_at_ms;
    if (behind > accepted_drift_ms) ahead = -behind;
  }
  if (!is_self(reader.head().written_by) && of_writer > 0 && std::llabs(ahead) > accepted_drift_ms) {
    clocks.push_back({reader.head().written_by, of_writer, ahead});
  }
  return store.failed() ? Outcome(store.error()) : Outcome(Done{});
}

std::string digest_of(Store& store) {
  const FactKey digest = digest_128(store.digest_bytes());
  const std::string all = hex(digest);
  return all.substr(0, 4) + " " + all.substr(4, 4) + " " + all.substr(8, 4);
}

}  // namespace motherbulb

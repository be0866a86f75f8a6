// The one object that screens, command line and tests talk to: store, fold and host together.
//
// Promise: run, merge and the table calls each happen wholly or not at all, also across a crash; what a Receipt calls
// kept is on the disk. Queries show what is folded at that moment. One Logbook has its store to itself.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/command.hpp"
#include "core/host.hpp"
#include "core/state.hpp"
#include "shared/parcel.hpp"
#include "shared/result.hpp"

namespace motherbulb {

struct OpenWish {
  bool create = false;       // make the store where there is none
  bool must_be_new = false;  // refuse an existing one
  bool read_only = false;    // for commands that only look: nothing is written, not even a writer
  std::string letter;        // of the device, for a new store; empty: the first that the book does not know
  bool untouched = false;    // read_only, and the file stays byte for byte as it is, whatever its version
};

struct MergeReport {
  std::int64_t new_entries = 0, known = 0, parked = 0, matters = 0;  // matters raised by it
  std::string digest;
};

struct CheckReport {
  std::int64_t entries = 0;
  bool folded_equal = false, chains_ok = false;
  std::int64_t balances_open = 0, matters = 0;
  std::string digest;
  std::vector<std::string> faults;  // in words; empty: sound
};

// A stock row: bulbs of one clone and grade that are there.
struct StockRow {
  std::string clone, genus;
  Grade grade;
  std::int64_t bulbs = 0;
};
struct CloneBalance {
  std::string clone, genus;
  BulbBalance bulbs;
  PieceBalance pieces;
  std::int64_t batches = 0;
};
struct Stock {
  std::vector<StockRow> rows;
  std::vector<CloneBalance> balance;
};

struct PotRow {
  BatchState batch;
  PotState pot;
};

struct BatchPots {
  BatchState batch;
  std::vector<PotState> pots;  // by number, emptied ones among them
};

// One batch was combined with another, by a fact that stands.
struct CombinedWith {
  BatchId other;
  FoldOrder order;  // of the fact, with its entry
};

struct DeviceRow {
  WriterId writer;
  std::string name, letter;
  std::int64_t entries = 0;
  bool self = false;
};

// A fact of a story, ready to show: the entry, whether it stands, and what withdrew it.
struct StoryLine {
  Entry entry;
  Payload fact;
  FactKey key;
  bool stands = true;
  FoldOrder order;
  std::vector<std::uint64_t> rows;  // marks of its rows that stand, in the order of standing() (core/fold.hpp)
};

// Whether it is a book's own file, such as a backup, by how it begins. What is wrong with it, opening it says.
bool looks_like_book(ByteSource& source);

class Logbook {
public:
  static Result<std::unique_ptr<Logbook>> open(const std::string& path, const OpenWish& wish, Host& host);
  ~Logbook();

  // --- commands
  Result<Receipt> run(const Command& command);
  // Several wishes as one: all or none.
  Result<std::vector<Receipt>> run_all(const std::vector<Command>& commands);
  // Takes in all parcels or none.
  Result<MergeReport> merge(const std::vector<ByteSource*>& parcels, Progress* progress = nullptr);
  // Entries ready made (import, demo): chained, stamped and appended in one transaction. `id`, `stamp` are filled in.
  Result<std::vector<Receipt>> append(std::vector<Entry> entries, Progress* progress = nullptr);
  // Folds checkpoints into the file while nobody waits (a long stall otherwise falls on a tap).
  void rest();
  // Lets go of the store's files, lets `between` put them back to an earlier state, and reads them anew: what was
  // written since never happened. For a device whose disk answers later, when it answers that it could not keep
  // something.
  Outcome open_anew(const std::function<Outcome()>& between);

  // --- parcels
  Outcome write_parcel(ByteSink& sink, const std::vector<Known>* known_there, Progress* progress = nullptr);
  std::vector<Known> vector() const;
  std::string digest() const;  // xxxx xxxx xxxx

  // --- questions
  std::int64_t entry_count() const;
  std::uint64_t revision() const;  // grows with each change; screens redo their rows when it does
  // Batches begun or changed since the book stood at that revision; none where it is not known, or where more than
  // batches changed (names, clocks): then everything is to be asked for anew.
  std::optional<std::vector<BatchId>> changed_since(std::uint64_t revision) const;
  // When that entry was written down, in ms by its stamp; none: it is not there.
  std::optional<std::int64_t> written_at(const EntryId& id) const;
  std::string device_letter() const;  // given, or the first that the book does not know
  std::string path() const;
  std::vector<DeviceRow> devices() const;
  std::vector<std::string> helpers() const;  // everybody who wrote an entry, by name
  std::vector<BatchState> batches() const;   // sorted by clone, label
  std::optional<BatchState> batch(const BatchId& id) const;
  std::vector<BatchId> batches_by_label(const std::string& label) const;
  std::vector<BatchId> batches_by_mark(const std::string& mark) const;
  std::optional<PotState> pot(const PotId& id) const;
  std::vector<PotState> pots_of(const BatchId& id) const;
  // Pots sorted by label; emptied ones only where asked.
  std::vector<PotRow> pots(bool with_emptied, const BatchId* only = nullptr) const;
  // Every batch with all of its pots, sorted by label. `on`: as they stood at the end of that day.
  std::vector<BatchPots> batches_with_pots(std::optional<Day> on = std::nullopt) const;
  // Pots that are on hold, were found bad, or whose re-entry time runs at that moment; whole batches as pot 0.
  std::vector<PotRow> guarded(std::int64_t now_ms) const;
  std::vector<Matter> matters() const;  // open ones, sorted by id
  Stock stock(std::optional<Day> on = std::nullopt) const;
  // Batches into which something of it went, or out of which something came into it, by combining.
  std::vector<CombinedWith> combined_with(const BatchId& id) const;
  std::vector<StoryLine> story(const BatchId& id) const;  // in the order of the fold; zero: of the whole book
  // Every fact that stands and that no settlement keeps from counting, in the order of the fold, of the whole book and
  // every batch.
  Outcome each_standing_fact(const std::function<void(const StoryLine&)>& visit) const;
  // Of a table's fact: the marks of its rows that this book has and that stand, and those withdrawn. A row of an export
  // may be of a fact that was tapped (`perhaps_tapped`), which takes longer to know.
  struct KnownRows {
    std::vector<std::uint64_t> standing, withdrawn;
  };
  KnownRows known_rows(const FactKey& fact, bool perhaps_tapped = true) const;
  // The next free label of this device for a batch begun in that year.
  std::string next_label(std::int32_t year);
  // The one that next_label would give now; gives none away.
  std::string proposed_label(std::int32_t year) const;
  std::vector<Grade> grades_of(const std::string& genus) const;  // classes that counting offers, smallest first

  // --- care
  Result<CheckReport> check(Progress* progress = nullptr);
  // A verified copy; refuses an existing file. Stopped, it leaves none.
  Outcome backup(const std::string& file, Progress* progress = nullptr);
  static Outcome restore(const std::string& file, const std::string& store, Host& host);
  // All that a backup holds, as a parcel, which any book takes in: nothing is put over, and who takes it in goes on
  // under its own writer. The backup's file stays byte for byte as it is. Refused where it is damaged or no book.
  static Outcome parcel_of_backup(const std::string& file, ByteSink& sink, Host& host, Progress* progress = nullptr);

private:
  struct Inside;
  explicit Logbook(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace motherbulb

// What a Logbook holds. Included by core/logbook*.cpp and core/merge.cpp only.
#pragma once

#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "core/bookkeeping.hpp"
#include "core/decide.hpp"
#include "core/logbook.hpp"
#include "core/matters.hpp"
#include "core/store.hpp"

namespace motherbulb {

// Which clone each story is of, and the name it is shown under.
struct CloneTable {
  std::vector<CloneName> clones;
  std::map<StoryNo, const CloneName*> of_story;

  CloneTable(Store& store, const BookState& book);
  // True where a clone of the other table stands here under another name, or not at all.
  [[nodiscard]] bool shows_other_names(const CloneTable& other) const;
};

struct Logbook::Inside : BookQuestions {
  Inside(std::unique_ptr<Store> opened, Host& given) : store(std::move(opened)), bookkeeping(*store), host(given) {}

  std::unique_ptr<Store> store;
  Bookkeeping bookkeeping;
  Host& host;
  Stamp latest;                  // the highest stamp that this device follows
  std::uint64_t generation = 0;  // of the store when that was read
  std::uint64_t revision = 1;
  // What the last changes touched, the latest last: a screen redoes only the rows of those.
  struct Change {
    std::uint64_t revision = 0;  // that it led to
    bool whole_book = false;
    std::vector<BatchId> batches;
  };
  std::deque<Change> changes;
  std::unordered_map<FactKey, EntryId> tapped;  // facts of entries that no table brought; made when first asked for
  bool tapped_known = false;
  // Rows of facts of the stories asked about last, as of known_revision: a table asks for them row by row.
  std::unordered_map<StoryNo, std::unordered_map<FactKey, KnownRows>> known_of_story;
  std::uint64_t known_revision = 0;
  std::size_t known_facts = 0;
  const std::unordered_map<FactKey, KnownRows>& known_rows_of(StoryNo story);

  // --- BookQuestions
  std::optional<BatchState> batch(const BatchId& id) const override;
  std::optional<PotState> pot(const PotId& id) const override;
  std::vector<PotState> filled_pots_of(const BatchId& id) const override;
  std::vector<Entry> entries_of_story(const BatchId& id) const override;
  std::vector<Matter> matters() const override;
  const std::vector<PotRow>& guarded(std::int64_t now_ms) const override;
  std::vector<PotRow> guarded_rows(std::int64_t now_ms) const;
  // Of the transaction under way: many acts at once, a whole bench, ask the same. Forgotten where an act may change it.
  mutable std::optional<std::vector<PotRow>> guarded_now;
  Outcome fold_anew();  // the stories that a step of the schema left to be
  std::string next_label(std::int32_t year) override;

  // --- writing. Each within one transaction of the store.
  When now();
  Outcome begin();
  void start_clock();
  WriterRow& own_writer();  // made where there is none, or where this store was copied or put back
  std::string letter();     // of this device
  std::vector<Receipt> append_own(std::vector<Entry>& entries, bool give_when);
  // Folds, commits, and forgets all that was cached where that fails.
  Outcome finish(Progress* progress);
  Outcome refuse_writing() const;
  std::map<std::string, std::int64_t> numbers_given;  // highest label number by year and letter, since the last commit

  const CloneTable& clone_table() const;
  void name_clone(BatchState& batch, StoryNo story) const;  // shown under the name that its clone has now
  mutable std::optional<CloneTable> clones;                 // as of clones_revision
  mutable std::uint64_t clones_revision = 0;

  std::set<std::uint64_t> matter_ids() const;
  const std::vector<Matter>& matters_between() const;
  mutable std::vector<Matter> between_stories;  // as of between_revision
  mutable std::uint64_t between_revision = 0;
};

// Takes a parcel's entries into the store, within a transaction: appended, parked behind a gap, or set aside as a fork.
struct TakenIn {
  std::int64_t fresh = 0, known = 0, parked = 0;
};
Outcome take_in(Store& store, Bookkeeping& bookkeeping, ByteSource& source, Host& host, Stamp& latest, TakenIn& taken,
                std::vector<ClockMeasured>& clocks, Progress* progress);
std::string digest_of(Store& store);

}  // namespace motherbulb

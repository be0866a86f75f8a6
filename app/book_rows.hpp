// What the screens show of the book: asked for once, kept, and after a change asked for anew only where it changed.
//
// Promise: between two calls of refresh() every reference and pointer handed out stays valid.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/due/due.hpp"
#include "core/logbook.hpp"
#include "core/places.hpp"

namespace motherbulb {

// A filled pot, with what lists and benches ask of it in every frame.
struct PotView : PotRow {
  std::string label;  // 26B014-B/3
  PlaceParts place;
  Stage stage = Stage::growing;  // today
  When since;                    // it is at that stage; resting: since it was dried off
  std::optional<When> looked;    // last
  std::int64_t bulbs = 0;
  bool held = false;

  [[nodiscard]] PotId id() const { return pot.pot; }
  [[nodiscard]] bool of_pieces() const { return pot.unit == Unit::pieces; }
  [[nodiscard]] const std::string& held_reason() const {
    return pot.held_reason.empty() ? batch.held_reason : pot.held_reason;
  }
};

// The pots of one bench in the order in which they stand: by position, those without one last, by label.
struct BenchView {
  std::string name;  // empty: no place is known
  std::vector<const PotView*> pots;
  std::int32_t rows = 0, columns = 0;  // as it was laid out; 0: not said
};

// A step of a pot's growing plan that is outstanding, open already or yet to come.
struct DueRow {
  const BatchState* batch = nullptr;
  const PotView* pot = nullptr;  // null: what waits in the batch
  Due due;
};
// What one tap records: a step of the pots of one batch that stand on one bench and have the same window; everyday care
// of all that it is open for.
struct DueGroup {
  std::vector<const DueRow*> rows;  // the one that closes first, then by pot
  [[nodiscard]] const Due& due() const { return rows.front()->due; }
  [[nodiscard]] const BatchState& batch() const { return *rows.front()->batch; }
};

// Filled pots by what the start screen and the bar count.
struct HouseCounts {
  int of_pieces = 0, of_bulbs = 0;
  int with_damage = 0;
  int on_hold = 0;
  int resting = 0;  // or drying off
  int started = 0;
  int forming = 0, growing = 0;
  int due = 0, overdue = 0;  // groups open today; those of them that are overdue
};

class BookRows {
public:
  explicit BookRows(const Logbook& book) : book_(book) {}
  // Asks anew where the book has changed since, and reckons anew what the day says of it. Call before drawing.
  void refresh(Day today, Hemisphere where = Hemisphere::north);

  [[nodiscard]] const Logbook& book() const { return book_; }
  [[nodiscard]] const std::vector<const PotView*>& pots() const { return pots_; }           // filled ones, by label
  [[nodiscard]] const std::vector<const BatchState*>& batches() const { return batches_; }  // begun, by clone, label
  [[nodiscard]] const std::vector<Matter>& matters() const { return matters_; }
  [[nodiscard]] const std::vector<std::string>& helpers() const { return helpers_; }  // who wrote, by name
  [[nodiscard]] std::int64_t entries() const { return entries_; }
  [[nodiscard]] const HouseCounts& counts() const { return counts_; }
  [[nodiscard]] const PotView* filled(const PotId& id) const;      // null: not there, or emptied
  [[nodiscard]] const BatchState* batch(const BatchId& id) const;  // null: not in this book
  // The pots of a batch that stand filled, by number.
  [[nodiscard]] std::vector<const PotView*> filled_of(const BatchId& batch) const;
  [[nodiscard]] const PlanBook& plans() const { return *plans_; }
  [[nodiscard]] Day today() const { return today_; }
  // Everything outstanding: what closes first comes first.
  [[nodiscard]] const std::vector<DueGroup>& due() const { return due_groups_; }
  [[nodiscard]] std::vector<const DueRow*> due_of(const PotId& pot) const;  // number 0: what waits in the batch
  // Until when nobody enters that bench, and for what; null: it is free at that moment.
  [[nodiscard]] const NoEntry* no_entry_at(std::string_view bench, std::int64_t now_ms) const;
  // Asked for only where shown.
  [[nodiscard]] const std::vector<BenchView>& benches();  // in walking order
  [[nodiscard]] const Stock& stock();
  [[nodiscard]] const std::string& digest();
  [[nodiscard]] const std::vector<DeviceRow>& devices();
  [[nodiscard]] const DeviceRow* own_device();  // null: this one has written nothing yet
  // Of the batch asked for last, or of the whole book (zero); in the order of the fold.
  [[nodiscard]] const std::vector<StoryLine>& story(const BatchId& batch);
  // The lines that a fact of a batch counts; null where it is not there or counts none.
  [[nodiscard]] const Lines* lines_of_fact(const BatchId& batch, const FactKey& fact);
  [[nodiscard]] std::uint64_t revision() const { return revision_; }

private:
  struct OfBatch {
    BatchState batch;
    std::vector<PotView> pots;  // filled, by number
    std::vector<DueRow> due;    // by pot and step
  };
  void take(const BatchId& id);
  void reckon(OfBatch& here) const;  // what plans and the day say of it
  void read_plans();
  void count();
  void group_due();

  const Logbook& book_;
  std::uint64_t revision_ = 0;
  bool asked_ = false;
  std::map<BatchId, OfBatch> of_batch_;
  std::vector<const PotView*> pots_;
  std::vector<const BatchState*> batches_;
  std::vector<Matter> matters_;
  std::vector<std::string> helpers_;
  std::int64_t entries_ = 0;
  HouseCounts counts_;
  std::unique_ptr<PlanBook> plans_;
  Day today_;
  Hemisphere where_ = Hemisphere::north;
  std::vector<DueGroup> due_groups_;
  std::vector<std::pair<std::string_view, const NoEntry*>> no_entry_;  // by bench, those known of
  std::optional<std::vector<BenchView>> benches_;
  std::optional<Stock> stock_;
  std::optional<std::string> digest_;
  std::optional<std::vector<DeviceRow>> devices_;
  std::optional<BatchId> story_of_;
  std::vector<StoryLine> story_;
  std::map<FactKey, Lines> lines_;
};

}  // namespace motherbulb

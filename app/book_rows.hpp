// What the screens show of the book: asked for once, kept, and after a change asked for anew only where it changed.
//
// Promise: between two calls of refresh() every reference and pointer handed out stays valid.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/logbook.hpp"
#include "core/places.hpp"

namespace motherbulb {

// A filled pot, with what lists and benches ask of it in every frame.
struct PotView : PotRow {
  std::string label;  // 26B014-B/3
  PlaceParts place;
  Stage stage = Stage::growing;
  When since;                  // it is at that stage
  std::optional<When> looked;  // last
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

// Filled pots by what the start screen and the bar count.
struct HouseCounts {
  int of_pieces = 0, of_bulbs = 0;
  int with_damage = 0;
  int on_hold = 0;
  int resting = 0;  // or drying off
  int started = 0;
  int forming = 0, growing = 0;
};

class BookRows {
public:
  explicit BookRows(const Logbook& book) : book_(book) {}
  // Asks anew where the book has changed since. Call before drawing.
  void refresh();

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
  // Asked for only where shown.
  [[nodiscard]] const std::vector<BenchView>& benches();  // in walking order
  [[nodiscard]] const Stock& stock();
  [[nodiscard]] const std::string& digest();
  [[nodiscard]] const std::vector<DeviceRow>& devices();
  // Of the batch asked for last, or of the whole book (zero); in the order of the fold.
  [[nodiscard]] const std::vector<StoryLine>& story(const BatchId& batch);
  // The lines that a fact of a batch counts; null where it is not there or counts none.
  [[nodiscard]] const Lines* lines_of_fact(const BatchId& batch, const FactKey& fact);
  [[nodiscard]] std::uint64_t revision() const { return revision_; }

private:
  struct OfBatch {
    BatchState batch;
    std::vector<PotView> pots;  // filled, by number
  };
  void take(const BatchId& id);
  void count();

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
  std::optional<std::vector<BenchView>> benches_;
  std::optional<Stock> stock_;
  std::optional<std::string> digest_;
  std::optional<std::vector<DeviceRow>> devices_;
  std::optional<BatchId> story_of_;
  std::vector<StoryLine> story_;
  std::map<FactKey, Lines> lines_;
};

}  // namespace motherbulb

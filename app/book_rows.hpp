// What the screens show of the book, asked for once and kept until the book has changed.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/logbook.hpp"

namespace motherbulb {

class BookRows {
public:
  explicit BookRows(const Logbook& book) : book_(book) {}
  // Asks anew where the book has changed since. Call before drawing.
  void refresh();

  [[nodiscard]] const Logbook& book() const { return book_; }
  [[nodiscard]] const std::vector<PotRow>& pots() const { return pots_; }  // filled ones, by label
  [[nodiscard]] const std::vector<BatchState>& batches() const { return batches_; }
  [[nodiscard]] const std::vector<Matter>& matters() const { return matters_; }
  [[nodiscard]] const std::vector<std::string>& helpers() const { return helpers_; }  // who wrote, by name
  [[nodiscard]] std::int64_t entries() const { return entries_; }
  // Asked for only where shown.
  [[nodiscard]] const Stock& stock();
  [[nodiscard]] const std::string& digest();
  [[nodiscard]] const std::vector<DeviceRow>& devices();
  // The lines that a fact of a batch counts; null where it is not there or counts none.
  [[nodiscard]] const Lines* lines_of_fact(const BatchId& batch, const FactKey& fact);
  [[nodiscard]] std::uint64_t revision() const { return revision_; }

  // The pots of a batch that stand filled.
  [[nodiscard]] std::vector<PotRow> filled_of(const BatchId& batch) const;

private:
  const Logbook& book_;
  std::uint64_t revision_ = 0;
  bool asked_ = false;
  std::vector<PotRow> pots_;
  std::vector<BatchState> batches_;
  std::vector<Matter> matters_;
  std::vector<std::string> helpers_;
  std::int64_t entries_ = 0;
  std::optional<Stock> stock_;
  std::optional<std::string> digest_;
  std::optional<std::vector<DeviceRow>> devices_;
  std::map<FactKey, Lines> lines_;
};

}  // namespace motherbulb

// decide(): what the book says + a wish -> entries to append, or a refusal in words. Ids and stamps are given later.
#pragma once

#include <optional>
#include <vector>

#include "core/bookkeeping.hpp"
#include "core/command.hpp"
#include "core/host.hpp"
#include "core/logbook.hpp"

namespace motherbulb {

// What deciding may ask of the book.
struct BookQuestions {
  virtual ~BookQuestions() = default;
  virtual std::optional<BatchState> batch(const BatchId& id) const = 0;
  virtual std::optional<PotState> pot(const PotId& id) const = 0;
  virtual std::vector<PotState> filled_pots_of(const BatchId& id) const = 0;
  virtual std::vector<Entry> entries_of_story(const BatchId& id) const = 0;
  virtual std::vector<Matter> matters() const = 0;
  // Pots that are on hold, were found bad, or whose re-entry time runs at that moment; whole batches as pot 0.
  // May name some whose time is over at that moment.
  virtual const std::vector<PotRow>& guarded(std::int64_t now_ms) const = 0;
  virtual std::string next_label(std::int32_t year) = 0;
};

Result<std::vector<Entry>> decide(BookQuestions& book, const Command& command, const When& now);

}  // namespace motherbulb

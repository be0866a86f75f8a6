// Every wish, and decide(): what the book says + a wish -> entries to append, or a refusal in words.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "core/state.hpp"
#include "shared/entry.hpp"
#include "shared/result.hpp"

namespace motherbulb {

// Write a fact down. `when` none: now.
struct Record {
  std::string helper;
  std::optional<When> when;
  BatchId batch;  // zero: of the whole book; of Begun: zero
  std::int32_t pot = 0;
  Payload fact;
  bool sure = false;  // the person was asked about an unlikely count and said yes
  std::string despite;  // why it is done although something stands against it; kept as a note beside the fact
  // In run_all: not `batch`, but the one that this earlier command of the same call begins (from 0).
  std::optional<std::size_t> begun_by;
};
// Undo: withdraw a fact that stands.
struct TakeBack {
  std::string helper;
  BatchId batch;  // in whose story the fact stands
  FactKey fact;
  std::string why;
};
struct Settle {
  std::string helper;
  MatterId matter;
  Take take = Take::first;
};
using Command = std::variant<Record, TakeBack, Settle>;

// What was kept: shown only once the store has it safely.
struct Receipt {
  EntryId id;
  FactKey fact;
  BatchId batch;
  bool kept = false;  // false: pending; ask the logbook later (a browser answers later; a desktop at once)
};

// An unlikely count that decide refuses until Record::sure: its text begins with this.
inline constexpr std::string_view unlikely_prefix = "unlikely: ";
// What decide refuses until Record::despite says why it is done all the same (a hold, a re-entry time) begins with this.
inline constexpr std::string_view guarded_prefix = "stop: ";

}  // namespace motherbulb

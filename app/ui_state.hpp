// What the screens remember between frames: where we are, drafts, what was just kept. Nothing of it is in the book.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <variant>
#include <vector>

#include "app/parcel_preview.hpp"
#include "app/widgets/bars.hpp"
#include "core/command.hpp"
#include "core/logbook.hpp"

namespace motherbulb {

enum class Screen { start, who, unpot_choose, unpot, pests, rest, merge, clones, outlook, cutting, labels };

struct Handful {
  Grade grade;
  int count = 0;
};

// Counting one pot. Kept here, and nowhere else, until the book has it.
struct UnpotDraft {
  bool cut_bulbs = true;         // which kind the list shows
  std::optional<BatchId> batch;  // chosen in the list
  std::optional<PotRow> pot;     // on the bench
  int number = 0;                // "pot 3 of 9" of its batch
  int of = 0;
  std::vector<Grade> grades;    // all classes, smallest first
  std::size_t first_shown = 0;  // of the six on the picker
  std::size_t chosen = 0;       // among all
  std::vector<Handful> handfuls;
  std::vector<Cause> dead;  // pieces found dead, or bulbs lost
  bool choosing_cause = false;
  std::string asked;  // an unlikely count: the question; empty: none
  [[nodiscard]] bool begun() const { return !handfuls.empty() || !dead.empty(); }
  [[nodiscard]] std::int64_t total() const {
    std::int64_t sum = 0;
    for (const Handful& one : handfuls) sum += one.count;
    return sum;
  }
};

struct MergeDraft {
  std::vector<FoundParcel> dropped;  // dropped on the window, beside those found
  std::vector<ParcelPreview> waiting;
  std::uint64_t looked_at_revision = 0;
  bool looked = false;
  std::vector<ParcelPreview> merged;  // by the last merge
  std::optional<When> merged_at;
  std::set<MatterId> put_off;  // "Later"
};

// What was kept last, until the next act.
struct Kept {
  std::string words;
  std::vector<Receipt> receipts;  // empty: cannot be undone here
  std::string helper;
};

struct Trouble {
  std::string title;
  std::string words;
};

struct UiState {
  Screen screen = Screen::start;
  bool night = false;
  std::string helper;
  std::string typed_name;
  bool typing_name = false;
  Screen after_who = Screen::start;
  UnpotDraft unpot;
  MergeDraft merge;
  std::optional<Kept> kept;
  std::optional<When> last_kept;
  std::optional<Trouble> trouble;
};

// --- what a screen asks for: at most one a frame

struct Go {
  Screen to = Screen::start;
};
struct ChangeTheme {};
struct PutErrorAside {};
struct UndoKept {};
struct BeHelper {
  std::string name;
};
struct ChoosePot {
  PotRow row;
};
struct KeepCount {
  bool sure = false;
};
struct LookForParcels {};
struct MergeWaiting {};
struct SettleMatter {
  Matter matter;
  Take take = Take::first;
};
struct SettleAll {};
using Wish = std::variant<Go, ChangeTheme, PutErrorAside, UndoKept, BeHelper, ChoosePot, KeepCount, LookForParcels,
                          MergeWaiting, SettleMatter, SettleAll>;

}  // namespace motherbulb

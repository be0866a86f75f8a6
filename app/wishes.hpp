// What a screen asks for: at most one wish a frame. The app carries it out once the frame is drawn.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "app/settings.hpp"
#include "core/command.hpp"
#include "core/logbook.hpp"

namespace motherbulb {

struct UiState;

enum class Screen {
  start,
  first,  // three questions before the first day
  who,    // who is here, and when it was done
  unpot_choose,
  unpot,
  pots,  // the benches: pests and damage
  find,
  pot,     // one pot's whole story
  care,    // work on one pot, several, a bench or a batch
  due,     // what is due, and when its window closes
  rest,    // the pots by stage
  health,  // what is wrong, where, and what to do about it
  trace,   // from a bad pot to what it may have touched
  plans,   // the growing plans
  plan,    // one of them: copy it, change its numbers
  merge,
  clones,
  clone,
  cutting,        // sessions so far
  cut,            // a new session
  outlook,        // clones to look ahead of
  clone_outlook,  // the years ahead of one, and the plan
  season_plan,    // this season's plan of one clone or of all, and its limits
  yields,         // what the cuts of a clone gave
  labels,
  parcels,  // hand out, back up, check
  codes,    // a parcel as codes, one after the other
  scan,     // the camera reads codes
  settings
};

// What a screen is about. A screen takes what it needs and passes over the rest.
struct Subject {
  std::vector<PotId> pots;
  std::optional<BatchId> batch;
  std::string clone, genus;
  std::string plan;  // its id
};

struct Go {
  Screen to = Screen::start;
  Subject about;
};
struct GoBack {};
struct ChangeTheme {};
struct PutErrorAside {};
struct UndoKept {};
struct BeHelper {
  std::string name;
};
// From now on acts were done then; none: when they are tapped.
struct SetWhen {
  std::optional<When> when;
};
struct Configure {
  Settings settings;
};
struct ChoosePot {
  PotRow row;
};
struct KeepCount {
  bool sure = false;
};
struct LookForParcels {};
struct MergeWaiting {};
// The table that waits: its facts come in, or, where it was taken in, go out again.
struct TakeTable {};
struct SettleMatter {
  Matter matter;
  Take take = Take::first;
};
struct SettleAll {};

// Write these down, all or none. Who and when are filled in by the app; where nobody is here yet, it asks first and
// goes on by itself. What is unlikely is asked about once (AnswerAsked). Until the book has it, nothing of the draft
// may be cleared: `after` does that, and is called only then.
struct Keep {
  std::vector<Command> commands;
  std::string slip;  // "Pot 3: started"
  std::function<void(UiState&, const std::vector<Receipt>&)> after;
  bool back = false;  // then leave the screen for the one before
  std::optional<Go> then;
};
struct AnswerAsked {
  bool yes = false;
};
// Why something is done although a hold or a re-entry time stands against it.
struct AnswerWhy {
  std::string why;
};

// Write a parcel into a folder, under a name that nothing there has: everything, or what that device's book lacks by
// the parcel of its own that was found here.
struct HandOut {
  std::string folder;
  std::optional<WriterId> lacking;
};
// Show a parcel as codes on this screen: everything, or what that device's book lacks.
struct ShowCodes {
  std::optional<WriterId> lacking;
};
struct StartCamera {};
// Write a verified copy of the book into a folder, under a name that nothing there has.
struct BackUp {
  std::string folder;
};
// Write every fact that stands into a table there.
struct WriteTable {
  std::string folder;
};
struct CheckBook {};
struct OpenDemo {};
// Leave this book, which is damaged, for a new one.
struct SetAside {};
// Ask the person for parcels.
struct PickFiles {};
// Reckon what the screen shows, where it is not known yet: the years ahead of a clone, the plan, what its cuts gave. It
// may take seconds, with progress and "Stop"; while a plan is worked out the screen goes on.
struct Reckon {
  enum class What { outlook, season_plan, yields } what = What::outlook;
};
// Write a page or a calendar into a folder, under a name that nothing there has.
struct WriteOut {
  std::string folder;
  std::vector<std::string> name;  // parts of the file's name, before the day
  std::string ending;             // ".html"
  std::string content;
  std::string slip;  // "Week 48 written: {}", with the file's name for {}
};

using WishKinds = std::variant<Go, GoBack, ChangeTheme, PutErrorAside, UndoKept, BeHelper, SetWhen, Configure,
                               ChoosePot, KeepCount, LookForParcels, MergeWaiting, TakeTable, SettleMatter, SettleAll,
                               Keep, AnswerAsked, HandOut, BackUp, WriteTable, CheckBook, OpenDemo, SetAside, PickFiles,
                               AnswerWhy, WriteOut, Reckon, ShowCodes, StartCamera>;

// One of them; copied, moved and ended in wishes.cpp, once for all screens (as shared/entry.hpp's Payload).
struct Wish : WishKinds {
  Wish(const Wish& other);
  Wish(Wish&& other) noexcept;
  Wish& operator=(const Wish& other);
  Wish& operator=(Wish&& other) noexcept;
  ~Wish();
  template <class Kind, class = std::enable_if_t<!std::is_base_of_v<WishKinds, std::decay_t<Kind>> &&
                                                 std::is_constructible_v<WishKinds, Kind&&>>>
  Wish(Kind&& kind) : WishKinds(std::forward<Kind>(kind)) {}  // NOLINT: each of them is a wish
};

// A fact of one pot (0: of the whole batch) to keep.
[[nodiscard]] inline Record fact_of(const BatchId& batch, std::int32_t pot, Payload fact) {
  Record record;
  record.batch = batch;
  record.pot = pot;
  record.fact = std::move(fact);
  return record;
}

}  // namespace motherbulb

// The folded picture: what a batch, its pots and their balances are after all entries so far. Nothing here is written
// by hand: it is made by the fold only, can be thrown away, and is rebuilt identically.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "shared/entry.hpp"

namespace motherbulb {

using BulbsByGrade = std::map<Grade, std::int64_t>;  // no zeros
std::int64_t total(const BulbsByGrade& bulbs);
std::int64_t total(const Lines& lines);  // of all grades and causes

// A place in the order of the fold: the act's moment (after a settled shift), then the stamp, then the id. `at` counts
// quarters of a millisecond since 1970, so that a bare day's facts have places of their own between moments.
struct FoldOrder {
  std::int64_t at = 0;
  Stamp stamp;
  EntryId id;
  friend bool operator==(const FoldOrder& a, const FoldOrder& b) { return a.stamp == b.stamp && a.id == b.id; }
  friend bool operator<(const FoldOrder& a, const FoldOrder& b) {
    if (a.at != b.at) return a.at < b.at;
    if (!(a.stamp == b.stamp)) return a.stamp < b.stamp;
    return a.id < b.id;
  }
};

using LossByCause = std::array<std::int64_t, cause_count>;
std::int64_t total(const LossByCause& lost);

// Always: begun + increase + brought = there + cut + sold + given + discarded + lost + open + taken, of each pot, batch
// and clone. `brought` and `taken` are between pot and batch, or between batches of one clone; a clone has neither.
struct BulbBalance {
  std::int64_t begun = 0, increase = 0, brought = 0;
  std::int64_t there = 0, cut = 0, sold = 0, given = 0, discarded = 0, open = 0, taken = 0;
  LossByCause lost{};
  BulbBalance& operator+=(const BulbBalance& other);
};
// Always: made + brought = waiting + growing + lost + alive + open + taken; unpotted is alive + what of `open` was
// found missing at an unpotting.
struct PieceBalance {
  std::int64_t made = 0, brought = 0;
  std::int64_t waiting = 0, growing = 0, unpotted = 0, alive = 0, open = 0, taken = 0;
  LossByCause lost{};
  PieceBalance& operator+=(const PieceBalance& other);
};
bool balanced(const BulbBalance& balance);
bool balanced(const PieceBalance& balance);

enum class Stage : std::uint8_t { forming = 0, growing, drying_off, resting, started, emptied };
std::string_view to_text(Stage stage);  // forming, growing, drying-off, resting, started, emptied

// Something a merge or a check found that a person must settle.
enum class MatterKind : std::uint8_t {
  counted_twice = 1,
  observations_differ,
  label_twice,
  two_places,
  after_unpotting,
  clock,
  balance,
  unknown_device,
  near_names,
  fork
};
std::string_view to_text(MatterKind kind);  // counted-twice, …

struct MatterSide {
  std::string helper;
  std::optional<When> when;
  std::string text;        // plain English, for the command line; screens word it from the rest
  std::int64_t bulbs = 0;  // what this side counts; of a clock: minutes
  std::optional<FactKey> fact;
};
struct Matter {
  MatterId id;
  MatterKind kind = MatterKind::balance;
  PotId pot;  // batch zero: not about a batch
  Take proposal = Take::first;
  MatterSide first, second;
};
MatterId matter_id(MatterKind kind, const FactKey& a, const FactKey& b);

// Pests, disease, animals: seen on a pot.
struct DamageSeen {
  When when;
  Cause cause = Cause::unknown;
  std::string detail, helper, note;
  std::int32_t how_bad = 0;
};
// What somebody saw, for comparing with what the next one sees.
struct LastSeen {
  std::string device;  // by name, else by writer
  Day day;
  FactKey fact;
  std::string helper;
  When when;
  std::int64_t value = 0;
  std::string text;
};
// The unpotting that emptied a filling.
struct PotCount {
  FactKey fact;
  std::string helper;
  When when;
  std::int64_t pieces = 0;  // in the pot when it was emptied
  std::int64_t bulbs_before = 0;
  std::int64_t counted = 0;          // bulbs
  std::int64_t alive = 0, dead = 0;  // pieces
  bool alive_said = false;
  bool booked = false;                                         // the sums below are in the balances
  std::int64_t open_bulbs = 0, increase = 0, open_pieces = 0;  // what the count booked
};

// Work and events that a growing plan counts from. The first three are never due themselves.
enum class Step : std::uint8_t {
  begun = 0,
  potted,
  covered,
  uncover,
  look,
  unpot,
  grade,
  dry_off,
  start,
  repot,
  water,
  feed
};
inline constexpr int step_count = 12;
inline bool can_be_due(Step step) {
  return step > Step::covered;
}
std::string_view to_text(Step step);  // begun, potted, covered, uncover, look, …, dry-off, …
std::optional<Step> step_from_text(std::string_view text);

// When a step was done last: of the present filling of a pot, or by a word on the whole batch.
struct StepDone {
  Step step = Step::look;
  When when;
  FoldOrder order;
};
// Put off by a person, the last word on that step.
struct StepPutOff {
  std::string step;       // as written; one that this build does not know moves nothing
  std::int32_t days = 0;  // from the day of `when` on; 0: not this time
  std::string why, helper;
  When when;
  FoldOrder order;
};
// Nobody enters before that: a treatment's re-entry time.
struct NoEntry {
  When until;
  std::string product;
};
// The last test of a pot.
struct TestSeen {
  std::string subject, helper;
  TestResult result = TestResult::unsaid;
  When when;
  FoldOrder order;
};
// A batch follows that plan, by a person's word (PlanEdited of a batch). Content empty: the version that stood then.
struct PlanFollowed {
  std::string plan, content;
  FoldOrder order;
};

// What a pot holds and where it stands in its life.
struct PotState {
  using Damaged = DamageSeen;
  using Seen = LastSeen;
  using Count = PotCount;

  PotId pot;
  Unit unit = Unit::unsaid;  // of the present (or, emptied, the last) filling
  std::int64_t pieces = 0;
  BulbsByGrade bulbs;
  bool emptied = false;  // unpotted, and not filled again
  bool filled = false;   // ever potted
  When filled_on;        // of the present filling
  FoldOrder filled_order;
  std::string place;
  FoldOrder place_order;
  BulbBalance bulb_balance;
  PieceBalance piece_balance;
  bool assumed_grade = false;          // something was taken of a grade that nobody said
  std::optional<std::int64_t> shoots;  // seen last in this filling
  std::optional<When> last_looked;

  std::vector<Damaged> damage;  // of this pot, oldest first
  bool covered = false;
  Stage phase = Stage::growing;  // last of dried off / started / repotted, pot's own
  FoldOrder phase_order;
  std::optional<When> phase_on;
  bool held = false;
  FoldOrder held_order;
  std::string held_reason;

  // What later facts are compared with.
  std::optional<Seen> last_look, last_grading, last_move;
  std::optional<Count> count;  // the unpotting that emptied the present filling
  FactKey open_fact;           // the fact that changed bulb_balance.open last

  // What a growing plan counts from.
  std::vector<StepDone> done;       // of the present filling; one a step, in their order
  std::vector<StepPutOff> put_off;  // likewise
  std::optional<NoEntry> no_entry;  // the one that ends last
  std::optional<TestSeen> last_test;
};

struct BatchState {
  BatchId id;
  bool begun = false;  // false: this book knows entries about it, but not yet what began it
  std::string clone, genus, label, mark, helper, medium, note;
  std::optional<BatchId> parent;
  Method method = Method::growing_on;
  std::int32_t sections = 0;
  std::int64_t mothers = 0;
  std::optional<Grade> mother_grade;  // of the first line of mothers
  When begun_on;
  Blade blade = Blade::unsaid;
  std::int64_t pieces_waiting = 0;
  std::int64_t pieces_overpotted = 0;  // potted beyond what waited
  BulbsByGrade bulbs_waiting;
  BulbBalance bulb_balance;  // of what is not in a pot: pots have their own
  PieceBalance piece_balance;
  bool assumed_grade = false;
  FactKey open_fact;
  std::string place;  // where the whole batch was moved to
  FoldOrder place_order;
  Stage phase = Stage::growing;
  FoldOrder phase_order;
  std::optional<When> phase_on;
  std::optional<When> last_looked;
  FoldOrder looked_order;
  bool held = false;
  FoldOrder held_order;
  std::string held_reason;
  std::int32_t highest_pot = 0;
  std::int64_t entries = 0;  // folded into this story
  FoldOrder last_order;      // of the last of them
  bool amended = false;      // corrections or settlements stand in it: it is folded whole
  bool from_table = false;   // facts of it came from a table
  FoldOrder begun_order;
  std::vector<StepDone> done;       // words on the whole batch; `unpot`: of any of its pots
  std::vector<StepPutOff> put_off;  // of the whole batch
  std::optional<NoEntry> no_entry;
  std::optional<TestSeen> last_test;
  std::vector<PlanFollowed> plans;  // in the order of the fold
};

// As everybody sees them: with what was said of the whole batch taken in.
Stage stage_of(const BatchState& batch, const PotState& pot);
std::string place_of(const BatchState& batch, const PotState& pot);
bool on_hold(const BatchState& batch, const PotState& pot);
std::optional<When> last_looked(const BatchState& batch, const PotState& pot);
// When the step was done last to what the pot holds; none: never in this filling. `pot` none: to the whole batch.
const StepDone* done_last(const BatchState& batch, const PotState* pot, Step step);
const StepPutOff* put_off_last(const BatchState& batch, const PotState* pot, std::string_view step);
const NoEntry* no_entry_of(const BatchState& batch, const PotState& pot);  // the one that ends last
const TestSeen* last_test(const BatchState& batch, const PotState& pot);
// The last word on it was a test that found something, and nobody cleared it since.
bool found_bad(const BatchState& batch, const PotState& pot);
// Why bulbs of it must not be cut, sold or moved: on hold, or found bad; empty where nothing stands against it.
std::string held_because(const BatchState& batch, const PotState& pot);

// `26B014-X/3`; the batch alone where number is 0.
std::string pot_label(const BatchState& batch, std::int32_t number);

}  // namespace motherbulb

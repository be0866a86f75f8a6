// An entry: one thing that somebody recorded, at a time, on a device; never changed afterwards. And every fact that an
// entry can carry, one struct a kind, with the kind's fixed number (FORMAT.md).
//
// Invariants: (1) an entry's bytes (canonical_body) and its writer's previous hash give its own hash; (2) kind numbers
// are never reused; (3) a kind, or a payload, that this build does not understand stays byte for byte what it was.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <variant>
#include <vector>

#include "shared/day.hpp"
#include "shared/ids.hpp"
#include "shared/units.hpp"

namespace motherbulb {

using ByteString = std::vector<std::uint8_t>;

enum class Kind : std::uint16_t {
  begun = 1,
  potted = 2,
  covered = 3,
  uncovered = 4,
  looked = 5,
  watered = 6,
  fed = 7,
  treated = 8,
  moved = 9,
  lost = 10,
  damage = 11,
  unpotted = 12,
  graded = 13,
  divided = 14,
  dried_off = 15,
  started = 16,
  repotted = 17,
  flowered = 18,
  sold = 19,
  given = 20,
  discarded = 21,
  tested = 22,
  held = 23,
  cleared = 24,
  combined = 25,
  note = 26,
  hours = 27,
  money = 28,
  postponed = 29,
  plan_edited = 30,
  grade_bounds = 31,
  bench_laid_out = 32,
  clone_renamed = 33,
  device_named = 34,
  clock_measured = 35,
  correction = 36,
  settlement = 37,
  treatment = 38,
};
inline constexpr std::uint16_t last_known_kind = 38;
std::string_view to_text(Kind kind);  // as tables write it: begun, dried-off, …; others in the same manner
std::optional<Kind> kind_from_text(std::string_view text);

// One line of a count: so many, of a grade, by a cause. What a kind does not speak of stays empty.
struct Line {
  std::optional<Grade> grade;  // none: nobody said; of bulbs the fold then assumes one
  std::int64_t count = 0;      // 0 to 1,000,000
  Cause cause = Cause::unknown;
  std::string detail;  // the particular cause, as "thrips" in pest:thrips
  std::string note;
  friend bool operator==(const Line& a, const Line& b) {
    return a.grade == b.grade && a.count == b.count && a.cause == b.cause && a.detail == b.detail && a.note == b.note;
  }
};
using Lines = std::vector<Line>;
inline constexpr std::int64_t greatest_count = 1'000'000;

struct Begun {
  std::string clone;
  std::string genus;  // botanical
  std::optional<BatchId> parent;
  std::int32_t parent_pot = 0;  // the mothers or bulbs come out of this pot; 0: from what waits
  Method method = Method::growing_on;
  Lines mothers;              // mothers, or bulbs where the method does not cut, by grade
  std::int32_t sections = 0;  // per mother; sectors where the mother stays whole
  Blade blade = Blade::unsaid;
  YesNo dip = YesNo::unsaid;
  YesNo wedges = YesNo::unsaid;
  std::string medium;
  std::string label;  // printed; with its check character
  std::string mark;   // what the grower's table called it, empty where it was tapped
  std::string note;
};
struct Potted {
  Unit unit = Unit::unsaid;
  Lines lines;
  std::string place;
  std::string note;
};
struct Covered {
  std::string note;
};
struct Uncovered {
  std::string note;
};
struct Looked {
  std::optional<std::int64_t> shoots;
  Moisture moisture = Moisture::unsaid;
  YesNo rot = YesNo::unsaid;
  std::string note;
};
struct Watered {
  std::string note;
};
struct Fed {
  std::string note;
};
struct Treated {
  std::string product;  // by its label name
  std::string amount;
  std::optional<std::int32_t> re_entry_hours;
  std::string note;
};
struct Moved {
  std::string place;
  std::string note;
};
struct Lost {
  Lines lines;
  std::string note;
};
struct Damage {
  Cause cause = Cause::unknown;
  std::string detail;
  std::int32_t how_bad = 0;  // 0 not said, 1 a trace, 2 some, 3 much
  std::string note;
};
struct Unpotted {
  Lines lines;                        // bulbs by grade
  std::optional<std::int64_t> alive;  // pieces alive; none where nobody said
  Lines dead;                         // pieces found dead, by cause
  std::string note;
};
struct Graded {
  Lines lines;
  std::string note;
};
struct Divided {
  Lines lines;
  std::optional<std::int64_t> alive;
  Lines dead;
  std::string note;
};
struct DriedOff {
  std::string note;
};
struct Started {
  std::string note;
};
struct Repotted {
  Lines lines;
  std::string place;
  std::string note;
};  // no lines: the same bulbs
struct Flowered {
  std::int64_t true_to_type = 0;
  std::int64_t off_type = 0;
  std::string note;
};
struct Sold {
  Lines lines;
  std::optional<std::int64_t> cents;
  std::string note;
};
struct Given {
  Lines lines;
  std::string note;
};
struct Discarded {
  Lines lines;
  std::string note;
};
struct Tested {
  std::string subject;
  TestResult result = TestResult::unsaid;
  std::string note;
};
struct Held {
  std::string reason;
};
struct Cleared {
  std::string reason;
};
// Out of what waits in the entry's batch, into another batch of the same clone.
struct Combined {
  BatchId into;
  std::int64_t pieces = 0;
  Lines lines;
  std::string note;
};
struct Note {
  std::string text;
};
struct Hours {
  std::int32_t minutes = 0;
  std::string work;
};
struct Money {
  std::int64_t cents = 0;
  bool got = false;
  std::string what;
};
struct Postponed {
  std::string step;
  std::int32_t days = 0;
  std::string why;
};
struct PlanEdited {
  std::string plan;
  std::string content;
};
struct GradeBounds {
  std::string genus;
  std::vector<std::int32_t> bounds_mm;
};  // ascending
struct BenchLaidOut {
  std::string place;
  std::int32_t rows = 0;
  std::int32_t columns = 0;
  std::string note;
};
struct CloneRenamed {
  std::string genus;
  std::string from;
  std::string to;
};
struct DeviceNamed {
  std::string name;
  std::string letter;
};
// The clock of `writer` ran `ahead_ms` ahead of the one that measured (behind: negative), when it had written `upto`.
struct ClockMeasured {
  WriterId writer;
  std::uint64_t upto = 0;
  std::int64_t ahead_ms = 0;
};
// Withdraws a fact of the same batch (or of the book), or some of its rows, or puts another payload in its place.
struct Correction {
  FactKey target;
  std::vector<std::uint64_t> rows;  // row marks; none: the whole fact
  ByteString replacement;           // payload of the target's kind; empty: withdrawn
  std::string why;
};
enum class Take : std::uint8_t { first = 1, second = 2, both = 3 };
struct Settlement {
  MatterId matter;
  Take take = Take::first;
  std::string text;  // what the settlement gives besides: a new label, a device's name
};
// A treatment with all that an inspector may ask for. Treated is the short form; both begin a re-entry time.
struct Treatment {
  std::string product;       // by its label name
  std::string registration;  // the number by which the authority knows the product
  std::string amount;        // used in all
  std::string dose;          // as mixed: "2 ml to 1 l"
  std::string area;          // treated: "6 m2", "40 pots"
  std::string against;       // pest or disease
  std::string licence;       // of the person who applied it, where one is needed
  std::optional<std::int32_t> re_entry_hours;
  std::string note;
};
struct FromNewerVersion {};

using PayloadKinds =
    std::variant<FromNewerVersion, Begun, Potted, Covered, Uncovered, Looked, Watered, Fed, Treated, Moved, Lost,
                 Damage, Unpotted, Graded, Divided, DriedOff, Started, Repotted, Flowered, Sold, Given, Discarded,
                 Tested, Held, Cleared, Combined, Note, Hours, Money, Postponed, PlanEdited, GradeBounds, BenchLaidOut,
                 CloneRenamed, DeviceNamed, ClockMeasured, Correction, Settlement,
                 Treatment>;  // in the order of the kinds' numbers

// One of them. How so many alternatives are copied, moved and ended is compiled once, in entry.cpp: every file that
// sees an entry would else do it again, which is most of the wait for the compiler.
struct Payload : PayloadKinds {
  Payload();
  Payload(const Payload& other);
  Payload(Payload&& other) noexcept;
  Payload& operator=(const Payload& other);
  Payload& operator=(Payload&& other) noexcept;
  ~Payload();
  template <class Fact, class = std::enable_if_t<!std::is_base_of_v<PayloadKinds, std::decay_t<Fact>> &&
                                                 std::is_constructible_v<PayloadKinds, Fact&&>>>
  Payload(Fact&& fact) : PayloadKinds(std::forward<Fact>(fact)) {}  // NOLINT: a fact is a payload
};

// Where an entry came from a table: the fact it is, and a mark for each of its lines in their order; of an unpotting
// the lines, then the dead, then one for the row that says how many are alive; of a kind without lines, one mark. Two
// entries with one fact are one fact; a line counts once for each mark.
struct TableOrigin {
  FactKey fact;
  std::vector<std::uint64_t> rows;
  std::string device;  // letter of the device that imported it
};

struct Entry {
  EntryId id;
  Stamp stamp;
  When when;
  std::string helper;
  BatchId batch;         // zero: the whole book. Of `begun`: zero too, since it makes its batch
  std::int32_t pot = 0;  // 0: the whole batch
  std::optional<TableOrigin> table;
  std::uint16_t kind = 0;
  ByteString payload;  // canonical bytes of the kind's struct
};

// Payload <-> bytes. decode gives FromNewerVersion for an unknown kind and for bytes that are not exactly one payload.
std::uint16_t kind_number(const Payload& payload);
ByteString encode(const Payload& payload);
Payload decode(std::uint16_t kind, const ByteString& bytes);

// The lines that count in a payload; null for kinds without.
const Lines* lines_of(const Payload& payload);
Lines* lines_of(Payload& payload);

// What an entry's hash covers besides the hash before it (FORMAT.md, "Entry").
ByteString canonical_body(const Entry& entry);
void append_canonical_body(const Entry& entry, ByteString& out);
// The same where each nanosecond counts: into room for at least so many bytes; gives the end of what was written.
std::size_t greatest_canonical_size(const Entry& entry);
std::uint8_t* write_canonical_body(const Entry& entry, std::uint8_t* out);
// The entry of a canonical body; none where the bytes are not exactly one body.
std::optional<Entry> entry_from_body(const EntryId& id, const std::uint8_t* bytes, std::size_t size);
Hash first_hash(const WriterId& writer);  // stands before a writer's entry 1
Hash entry_hash(const Hash& previous, const ByteString& body);
Hash entry_hash(const Hash& previous, const std::uint8_t* body, std::size_t size);

FactKey fact_key(const Entry& entry);
FactKey fact_key(const EntryId& id);
// The batch in whose story the entry stands: its own for what it began.
BatchId story_of(const Entry& entry);

}  // namespace motherbulb

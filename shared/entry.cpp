#include "shared/entry.hpp"

#include <sodium.h>

#include <array>

#include "shared/codec.hpp"
#include "shared/result.hpp"

namespace motherbulb {

Payload::Payload() = default;
Payload::Payload(const Payload& other) = default;
Payload::Payload(Payload&& other) noexcept = default;
Payload& Payload::operator=(const Payload& other) = default;
Payload& Payload::operator=(Payload&& other) noexcept = default;
Payload::~Payload() = default;

namespace {

// Flags say which of a line's parts follow, so that the usual line (a grade and a count) takes five bytes.
enum LineParts : std::uint8_t { has_grade = 1, has_cause = 2, has_detail = 4, has_note = 8 };

}  // namespace

template <class Archive>
void serialize(Archive& ar, Grade& grade) {
  ar(grade.low_mm, grade.high_mm);
}

void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const Line& line) {
  const std::uint8_t parts =
      static_cast<std::uint8_t>((line.grade ? has_grade : 0) | (line.cause != Cause::unknown ? has_cause : 0) |
                                (line.detail.empty() ? 0 : has_detail) | (line.note.empty() ? 0 : has_note));
  out.byte(parts);
  out(line.count);
  if (line.grade) out(line.grade->low_mm, line.grade->high_mm);
  if (parts & has_cause) out.byte(static_cast<std::uint8_t>(line.cause));
  if (parts & has_detail) out(line.detail);
  if (parts & has_note) out(line.note);
}

void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, Line& line) {
  const std::uint8_t parts = in.byte();
  if (parts > 15) in.fail();
  in(line.count);
  if (line.count < 0 || line.count > greatest_count) in.fail();
  if (parts & has_grade) {
    line.grade.emplace();
    in(line.grade->low_mm, line.grade->high_mm);
    if (line.grade->low_mm < -1 || line.grade->high_mm < -1) in.fail();
  }
  if (parts & has_cause) {
    in(code(line.cause));
    if (static_cast<int>(line.cause) == 0 || static_cast<int>(line.cause) >= cause_count) in.fail();
  }
  if (parts & has_detail) in(line.detail);
  if (parts & has_note) in(line.note);
  // A part that is announced and empty would be a second way to say the same.
  if (((parts & has_detail) && line.detail.empty()) || ((parts & has_note) && line.note.empty())) in.fail();
}

// One serialize a kind, in the order of FORMAT.md.
template <class A>
void serialize(A& ar, Begun& f) {
  ar(f.clone, f.genus, f.parent, f.parent_pot, code(f.method), f.mothers, f.sections, code(f.blade), code(f.dip),
     code(f.wedges), f.medium, f.label, f.mark, f.note);
}
template <class A>
void serialize(A& ar, Potted& f) {
  ar(code(f.unit), f.lines, f.place, f.note);
}
template <class A>
void serialize(A& ar, Covered& f) {
  ar(f.note);
}
template <class A>
void serialize(A& ar, Uncovered& f) {
  ar(f.note);
}
template <class A>
void serialize(A& ar, Looked& f) {
  ar(f.shoots, code(f.moisture), code(f.rot), f.note);
}
template <class A>
void serialize(A& ar, Watered& f) {
  ar(f.note);
}
template <class A>
void serialize(A& ar, Fed& f) {
  ar(f.note);
}
template <class A>
void serialize(A& ar, Treated& f) {
  ar(f.product, f.amount, f.re_entry_hours, f.note);
}
template <class A>
void serialize(A& ar, Moved& f) {
  ar(f.place, f.note);
}
template <class A>
void serialize(A& ar, Lost& f) {
  ar(f.lines, f.note);
}
template <class A>
void serialize(A& ar, Damage& f) {
  ar(code(f.cause), f.detail, f.how_bad, f.note);
}
template <class A>
void serialize(A& ar, Unpotted& f) {
  ar(f.lines, f.alive, f.dead, f.note);
}
template <class A>
void serialize(A& ar, Graded& f) {
  ar(f.lines, f.note);
}
template <class A>
void serialize(A& ar, Divided& f) {
  ar(f.lines, f.alive, f.dead, f.note);
}
template <class A>
void serialize(A& ar, DriedOff& f) {
  ar(f.note);
}
template <class A>
void serialize(A& ar, Started& f) {
  ar(f.note);
}
template <class A>
void serialize(A& ar, Repotted& f) {
  ar(f.lines, f.place, f.note);
}
template <class A>
void serialize(A& ar, Flowered& f) {
  ar(f.true_to_type, f.off_type, f.note);
}
template <class A>
void serialize(A& ar, Sold& f) {
  ar(f.lines, f.cents, f.note);
}
template <class A>
void serialize(A& ar, Given& f) {
  ar(f.lines, f.note);
}
template <class A>
void serialize(A& ar, Discarded& f) {
  ar(f.lines, f.note);
}
template <class A>
void serialize(A& ar, Tested& f) {
  ar(f.subject, code(f.result), f.note);
}
template <class A>
void serialize(A& ar, Held& f) {
  ar(f.reason);
}
template <class A>
void serialize(A& ar, Cleared& f) {
  ar(f.reason);
}
template <class A>
void serialize(A& ar, Combined& f) {
  ar(f.into, f.pieces, f.lines, f.note);
}
template <class A>
void serialize(A& ar, Note& f) {
  ar(f.text);
}
template <class A>
void serialize(A& ar, Hours& f) {
  ar(f.minutes, f.work);
}
template <class A>
void serialize(A& ar, Money& f) {
  ar(f.cents, f.got, f.what);
}
template <class A>
void serialize(A& ar, Postponed& f) {
  ar(f.step, f.days, f.why);
}
template <class A>
void serialize(A& ar, PlanEdited& f) {
  ar(f.plan, f.content);
}
template <class A>
void serialize(A& ar, GradeBounds& f) {
  ar(f.genus, f.bounds_mm);
}
template <class A>
void serialize(A& ar, BenchLaidOut& f) {
  ar(f.place, f.rows, f.columns, f.note);
}
template <class A>
void serialize(A& ar, CloneRenamed& f) {
  ar(f.genus, f.from, f.to);
}
template <class A>
void serialize(A& ar, DeviceNamed& f) {
  ar(f.name, f.letter);
}
template <class A>
void serialize(A& ar, ClockMeasured& f) {
  ar(f.writer, f.upto, f.ahead_ms);
}
template <class A>
void serialize(A& ar, Correction& f) {
  ar(f.target, f.rows, f.replacement, f.why);
}
template <class A>
void serialize(A& ar, Settlement& f) {
  ar(f.matter.value, code(f.take), f.text);
}
template <class A>
void serialize(A& ar, Treatment& f) {
  ar(f.product, f.registration, f.amount, f.dose, f.area, f.against, f.licence, f.re_entry_hours, f.note);
}

namespace {

// Values beyond those that this build knows come from a newer version.
bool known(Method v) {
  return v >= Method::offsets && v <= Method::growing_on;
}
bool known(Cause v) {
  return static_cast<int>(v) < cause_count;
}
bool known(Unit v) {
  return v <= Unit::bulbs;
}
bool known(YesNo v) {
  return v <= YesNo::yes;
}
bool known(Blade v) {
  return v <= Blade::per_bulb;
}
bool known(Moisture v) {
  return v <= Moisture::wet;
}
bool known(TestResult v) {
  return v <= TestResult::unclear;
}
bool known(Take v) {
  return v >= Take::first && v <= Take::both;
}

template <class T>
bool understood(const T&) {
  return true;
}
bool understood(const Begun& f) {
  return known(f.method) && known(f.blade) && known(f.dip) && known(f.wedges) && f.sections >= 0 &&
         f.sections <= 100000 && f.parent_pot >= 0;
}
bool understood(const Potted& f) {
  return known(f.unit);
}
bool understood(const Looked& f) {
  return known(f.moisture) && known(f.rot);
}
bool understood(const Damage& f) {
  return known(f.cause) && f.how_bad >= 0 && f.how_bad <= 3;
}
bool understood(const Tested& f) {
  return known(f.result);
}
bool understood(const Combined& f) {
  return f.pieces >= 0 && f.pieces <= greatest_count;
}
bool understood(const Unpotted& f) {
  return !f.alive || (*f.alive >= 0 && *f.alive <= greatest_count);
}
bool understood(const Divided& f) {
  return !f.alive || (*f.alive >= 0 && *f.alive <= greatest_count);
}
bool understood(const Settlement& f) {
  return known(f.take);
}

template <std::size_t I>
Payload decode_as(const ByteString& bytes) {
  std::variant_alternative_t<I, PayloadKinds> fact;
  FactReader in(bytes.data(), bytes.size());
  in(fact);
  if (!in.finished() || !understood(fact)) return FromNewerVersion{};
  return fact;
}

using Decoder = Payload (*)(const ByteString&);
template <std::size_t... I>
constexpr std::array<Decoder, sizeof...(I)> decoders(std::index_sequence<I...>) {
  return {decode_as<I + 1>...};
}

constexpr std::array<std::string_view, last_known_kind + 1> kind_words = {"",
                                                                          "begun",
                                                                          "potted",
                                                                          "covered",
                                                                          "uncovered",
                                                                          "looked",
                                                                          "watered",
                                                                          "fed",
                                                                          "treated",
                                                                          "moved",
                                                                          "lost",
                                                                          "damage",
                                                                          "unpotted",
                                                                          "graded",
                                                                          "divided",
                                                                          "dried-off",
                                                                          "started",
                                                                          "repotted",
                                                                          "flowered",
                                                                          "sold",
                                                                          "given",
                                                                          "discarded",
                                                                          "tested",
                                                                          "held",
                                                                          "cleared",
                                                                          "combined",
                                                                          "note",
                                                                          "hours",
                                                                          "money",
                                                                          "postponed",
                                                                          "plan-edited",
                                                                          "grade-bounds",
                                                                          "bench-laid-out",
                                                                          "clone-renamed",
                                                                          "device-named",
                                                                          "clock-measured",
                                                                          "correction",
                                                                          "settlement",
                                                                          "treatment"};

template <class Variant>
auto lines_in(Variant& payload) {
  using Pointer = std::conditional_t<std::is_const_v<Variant>, const Lines*, Lines*>;
  return std::visit(
      [](auto& fact) -> Pointer {
        using T = std::decay_t<decltype(fact)>;
        if constexpr (std::is_same_v<T, Begun>) {
          return &fact.mothers;
        } else if constexpr (std::is_same_v<T, Potted> || std::is_same_v<T, Lost> || std::is_same_v<T, Unpotted> ||
                             std::is_same_v<T, Graded> || std::is_same_v<T, Divided> || std::is_same_v<T, Repotted> ||
                             std::is_same_v<T, Sold> || std::is_same_v<T, Given> || std::is_same_v<T, Discarded> ||
                             std::is_same_v<T, Combined>) {
          return &fact.lines;
        } else {
          return nullptr;
        }
      },
      payload);
}

// Lets libsodium choose the fastest code that this processor has; without, it takes the slowest.
const int chosen = sodium_init();

void little_endian(std::uint64_t value, int bytes, ByteString& out) {
  for (int i = 0; i < bytes; ++i) out.push_back(static_cast<std::uint8_t>(value >> (8 * i)));
}

}  // namespace

std::string_view to_text(Kind kind) {
  const auto number = static_cast<std::uint16_t>(kind);
  return number <= last_known_kind ? kind_words[number] : std::string_view("from a newer version");
}

std::optional<Kind> kind_from_text(std::string_view text) {
  for (std::uint16_t i = 1; i <= last_known_kind; ++i) {
    if (kind_words[i] == text) return static_cast<Kind>(i);
  }
  return std::nullopt;
}

std::uint16_t kind_number(const Payload& payload) {
  return static_cast<std::uint16_t>(payload.index());
}

ByteString encode(const Payload& payload) {
  ByteString bytes;
  FactWriter out(bytes);
  std::visit(
      [&out](const auto& fact) {
        using T = std::decay_t<decltype(fact)>;
        if constexpr (!std::is_same_v<T, FromNewerVersion>) out(fact);
      },
      payload);
  return bytes;
}

Payload decode(std::uint16_t kind, const ByteString& bytes) {
  static constexpr auto table = decoders(std::make_index_sequence<last_known_kind>{});
  if (kind == 0 || kind > last_known_kind) return FromNewerVersion{};
  return table[kind - 1u](bytes);
}

const Lines* lines_of(const Payload& payload) {
  return lines_in(payload);
}
Lines* lines_of(Payload& payload) {
  return lines_in(payload);
}

std::size_t greatest_canonical_size(const Entry& entry) {
  constexpr std::size_t number = 10;
  const std::size_t of_table =
      entry.table ? 16 + number * (2 + entry.table->rows.size()) + entry.table->device.size() : 0;
  return 37 + number * 3 + entry.helper.size() + of_table + entry.payload.size();
}

std::uint8_t* write_canonical_body(const Entry& entry, std::uint8_t* out) {
  const auto fixed = [&out](auto value) {  // written out: loops over bytes would take as long as the hash
    constexpr std::size_t size = sizeof value;
    out[0] = static_cast<std::uint8_t>(value);
    if constexpr (size >= 2) out[1] = static_cast<std::uint8_t>(value >> 8);
    if constexpr (size == 8) {
      out[2] = static_cast<std::uint8_t>(value >> 16);
      out[3] = static_cast<std::uint8_t>(value >> 24);
      out[4] = static_cast<std::uint8_t>(value >> 32);
      out[5] = static_cast<std::uint8_t>(value >> 40);
      out[6] = static_cast<std::uint8_t>(value >> 48);
      out[7] = static_cast<std::uint8_t>(value >> 56);
    }
    out += size;
  };
  const auto raw = [&out](const void* bytes, std::size_t size) {
    if (size > 0) std::memcpy(out, bytes, size);
    out += size;
  };
  const auto number = [&out](std::uint64_t value) {
    for (; value >= 128; value >>= 7) *out++ = static_cast<std::uint8_t>(value | 128);
    *out++ = static_cast<std::uint8_t>(value);
  };
  fixed(entry.kind);
  fixed(entry.stamp.value);
  fixed(static_cast<std::uint64_t>(entry.when.utc_ms));
  fixed(static_cast<std::uint16_t>(entry.when.offset_minutes));
  fixed(static_cast<std::uint8_t>((entry.when.bare_day ? 1 : 0) | (entry.table ? 2 : 0)));
  raw(entry.batch.bytes.data(), entry.batch.bytes.size());
  number(static_cast<std::uint32_t>(entry.pot));
  number(entry.helper.size());
  raw(entry.helper.data(), entry.helper.size());
  if (entry.table) {
    raw(entry.table->fact.bytes.data(), entry.table->fact.bytes.size());
    number(entry.table->rows.size());
    for (std::uint64_t row : entry.table->rows) number(row);
    number(entry.table->device.size());
    raw(entry.table->device.data(), entry.table->device.size());
  }
  number(entry.payload.size());
  raw(entry.payload.data(), entry.payload.size());
  return out;
}

void append_canonical_body(const Entry& entry, ByteString& out) {
  const std::size_t before = out.size();
  out.resize(before + greatest_canonical_size(entry));
  const std::uint8_t* end = write_canonical_body(entry, out.data() + before);
  out.resize(static_cast<std::size_t>(end - out.data()));
}

std::optional<Entry> entry_from_body(const EntryId& id, const std::uint8_t* bytes, std::size_t size) {
  constexpr std::size_t fixed = 2 + 8 + 8 + 2 + 1 + 16;
  if (size < fixed) return std::nullopt;
  const auto little_endian = [&bytes](int count) {
    std::uint64_t value = 0;
    for (int i = 0; i < count; ++i) value |= static_cast<std::uint64_t>(*bytes++) << (8 * i);
    return value;
  };
  Entry entry;
  entry.id = id;
  entry.kind = static_cast<std::uint16_t>(little_endian(2));
  entry.stamp.value = little_endian(8);
  entry.when.utc_ms = static_cast<std::int64_t>(little_endian(8));
  entry.when.offset_minutes = static_cast<std::int16_t>(little_endian(2));
  const std::uint64_t flags = little_endian(1);
  if (flags > 3) return std::nullopt;
  entry.when.bare_day = (flags & 1) != 0;
  for (std::uint8_t& byte : entry.batch.bytes) byte = *bytes++;
  FactReader in(bytes, size - fixed);
  const std::uint64_t pot = in.number();
  if (pot > INT32_MAX) return std::nullopt;
  entry.pot = static_cast<std::int32_t>(pot);
  in(entry.helper);
  if (flags & 2) {
    entry.table.emplace();
    in(entry.table->fact, entry.table->rows, entry.table->device);
  }
  in(entry.payload);
  if (!in.finished()) return std::nullopt;
  return entry;
}

ByteString canonical_body(const Entry& entry) {
  ByteString body;
  body.reserve(64 + entry.payload.size());
  append_canonical_body(entry, body);
  return body;
}

Hash entry_hash(const Hash& previous, const std::uint8_t* body, std::size_t size) {
  static_cast<void>(chosen);
  crypto_generichash_state state;
  Hash hash;
  crypto_generichash_init(&state, nullptr, 0, hash.bytes.size());
  crypto_generichash_update(&state, previous.bytes.data(), previous.bytes.size());
  crypto_generichash_update(&state, body, size);
  crypto_generichash_final(&state, hash.bytes.data(), hash.bytes.size());
  return hash;
}

Hash entry_hash(const Hash& previous, const ByteString& body) {
  return entry_hash(previous, body.data(), body.size());
}

Hash first_hash(const WriterId& writer) {
  static const char domain[] = "motherbulb writer 1";
  ByteString bytes(domain, domain + sizeof domain - 1);
  bytes.insert(bytes.end(), writer.bytes.begin(), writer.bytes.end());
  return entry_hash(Hash{}, bytes);
}

FactKey fact_key(const EntryId& id) {
  static const char domain[] = "motherbulb entry 1";
  ByteString bytes(domain, domain + sizeof domain - 1);
  bytes.insert(bytes.end(), id.writer.bytes.begin(), id.writer.bytes.end());
  little_endian(id.seq, 8, bytes);
  FactKey key;
  crypto_generichash(key.bytes.data(), key.bytes.size(), bytes.data(), bytes.size(), nullptr, 0);
  return key;
}

FactKey fact_key(const Entry& entry) {
  return entry.table ? entry.table->fact : fact_key(entry.id);
}

BatchId story_of(const Entry& entry) {
  return entry.kind == static_cast<std::uint16_t>(Kind::begun) ? batch_of(fact_key(entry)) : entry.batch;
}

}  // namespace motherbulb

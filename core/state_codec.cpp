#include "core/state_codec.hpp"

#include "shared/codec.hpp"

namespace motherbulb {

template <class A>
void serialize(A& ar, Grade& v) {
  ar(v.low_mm, v.high_mm);
}
template <class A>
void serialize(A& ar, When& v) {
  ar(v.utc_ms, v.offset_minutes, v.bare_day);
}
template <class A>
void serialize(A& ar, Day& v) {
  ar(v.days);
}
// Most of a pot's orders are of things that never happened: one byte.
inline void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const FoldOrder& v) {
  const bool any = v.at != 0 || v.stamp.value != 0 || v.id.seq != 0;
  out(any);
  if (any) out(v.at, v.stamp.value, v.id.writer, v.id.seq);
}
inline void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, FoldOrder& v) {
  bool any = false;
  in(any);
  v = {};
  if (any) in(v.at, v.stamp.value, v.id.writer, v.id.seq);
}
// A fact that mostly is none: one byte then. A type of its own, since every translation unit must write a FactKey
// alike.
struct KeyOrNone {
  FactKey& value;
};
inline void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const KeyOrNone& v) {
  const bool any = !v.value.is_zero();
  out(any);
  if (any) out.raw(v.value.bytes.data(), v.value.bytes.size());
}
inline void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, KeyOrNone& v) {
  bool any = false;
  in(any);
  v.value = {};
  if (any) in.raw(v.value.bytes.data(), v.value.bytes.size());
}
template <class A>
void serialize(A& ar, PotId& v) {
  ar(v.batch, v.number);
}
template <class A>
void serialize(A& ar, BulbBalance& v) {
  ar(v.begun, v.increase, v.brought, v.there, v.cut, v.sold, v.given, v.discarded, v.open, v.taken);
  for (std::int64_t& lost : v.lost) ar(lost);
}
template <class A>
void serialize(A& ar, PieceBalance& v) {
  ar(v.made, v.brought, v.waiting, v.growing, v.unpotted, v.alive, v.open, v.taken);
  for (std::int64_t& lost : v.lost) ar(lost);
}
template <class A>
void serialize(A& ar, PotState::Damaged& v) {
  ar(v.when, code(v.cause), v.detail, v.helper, v.note, v.how_bad);
}
template <class A>
void serialize(A& ar, PotState::Seen& v) {
  ar(v.device, v.day, v.fact, v.helper, v.when, v.value, v.text);
}
template <class A>
void serialize(A& ar, PotState::Count& v) {
  ar(v.fact, v.helper, v.when, v.pieces, v.bulbs_before, v.counted, v.alive, v.dead, v.alive_said, v.booked,
     v.open_bulbs, v.increase, v.open_pieces);
}
template <class A>
void serialize(A& ar, StepDone& v) {
  ar(code(v.step), v.when, v.order);
}
template <class A>
void serialize(A& ar, StepPutOff& v) {
  ar(v.step, v.days, v.why, v.helper, v.when, v.order);
}
template <class A>
void serialize(A& ar, NoEntry& v) {
  ar(v.until, v.product);
}
template <class A>
void serialize(A& ar, TestSeen& v) {
  ar(v.subject, v.helper, code(v.result), v.when, v.order);
}
template <class A>
void serialize(A& ar, PlanFollowed& v) {
  ar(v.plan, v.content, v.order);
}
template <class A>
void serialize(A& ar, MatterSide& v) {
  ar(v.helper, v.when, v.text, v.bulbs, v.fact);
}

inline void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const BulbsByGrade& bulbs) {
  out.number(bulbs.size());
  for (const auto& [grade, count] : bulbs) out(grade.low_mm, grade.high_mm, count);
}
inline void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, BulbsByGrade& bulbs) {
  bulbs.clear();
  for (std::size_t left = in.count(3); left > 0 && !in.failed(); --left) {
    Grade grade;
    std::int64_t count = 0;
    in(grade.low_mm, grade.high_mm, count);
    bulbs[grade] = count;
  }
}

template <class A>
void serialize(A& ar, BatchState& v) {
  ar(v.id, v.begun, v.clone, v.genus, v.label, v.mark, v.helper, v.medium, v.note, v.parent, code(v.method), v.sections,
     v.mothers, v.mother_grade, v.begun_on, code(v.blade), v.pieces_waiting, v.pieces_overpotted, v.bulbs_waiting,
     v.bulb_balance, v.piece_balance, v.assumed_grade, KeyOrNone{v.open_fact}, v.place, v.place_order, code(v.phase),
     v.phase_order, v.phase_on, v.last_looked, v.looked_order, v.held, v.held_order, v.held_reason, v.highest_pot,
     v.entries, v.last_order, v.amended, v.from_table, v.begun_order, v.done, v.put_off, v.no_entry, v.last_test,
     v.plans);
}
template <class A>
void serialize(A& ar, PotState& v) {
  ar(v.pot, code(v.unit), v.pieces, v.bulbs, v.emptied, v.filled, v.filled_on, v.filled_order, v.place, v.place_order,
     v.bulb_balance, v.piece_balance, v.assumed_grade, v.shoots, v.last_looked, v.damage, v.covered, code(v.phase),
     v.phase_order, v.phase_on, v.held, v.held_order, v.held_reason, v.last_look, v.last_grading, v.last_move, v.count,
     KeyOrNone{v.open_fact}, v.done, v.put_off, v.no_entry, v.last_test);
}
template <class A>
void serialize(A& ar, Matter& v) {
  ar(v.id.value, code(v.kind), v.pot, code(v.proposal), v.first, v.second);
}
// Lines of a link under a type of their own: how a Line goes into an entry is entry.cpp's to say, and two ways for one
// type would be two definitions of one function.
struct LinkLines {
  Lines& lines;
};
inline void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const LinkLines& v) {
  out.number(v.lines.size());
  for (const Line& line : v.lines) {
    out(line.grade, line.count, static_cast<std::uint8_t>(line.cause), line.detail, line.note);
  }
}
inline void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, LinkLines& v) {
  v.lines.clear();
  for (std::size_t left = in.count(5); left > 0 && !in.failed(); --left) {
    Line& line = v.lines.emplace_back();
    std::uint8_t cause = 0;
    in(line.grade, line.count, cause, line.detail, line.note);
    line.cause = static_cast<Cause>(cause);
  }
}
template <class A>
void serialize(A& ar, Link& v) {
  LinkLines lines{v.lines};
  ar(v.from, v.to, v.fact, v.order, v.when, v.helper, v.pot, v.arrives, v.cut, lines, v.pieces);
}
template <class A>
void serialize(A& ar, TableOrigin& v) {
  ar(v.fact, v.rows, v.device);
}

namespace {

template <class T>
ByteString write(const T& value) {
  ByteString bytes;
  FactWriter out(bytes);
  out(value);
  return bytes;
}

template <class T>
bool read(std::string_view bytes, T& value) {
  FactReader in(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
  in(value);
  return in.finished();
}

}  // namespace

ByteString encode_state(const BatchState& state) {
  return write(state);
}
ByteString encode_state(const PotState& state) {
  return write(state);
}
ByteString encode_state(const Matter& matter) {
  return write(matter);
}
ByteString encode_state(const Link& link) {
  return write(link);
}
ByteString encode_origin(const TableOrigin& origin) {
  return write(origin);
}
bool decode_state(std::string_view bytes, BatchState& state) {
  return read(bytes, state);
}
bool decode_state(std::string_view bytes, PotState& state) {
  return read(bytes, state);
}
bool decode_state(std::string_view bytes, Matter& matter) {
  return read(bytes, matter);
}
bool decode_state(std::string_view bytes, Link& link) {
  return read(bytes, link);
}
bool decode_origin(std::string_view bytes, TableOrigin& origin) {
  return read(bytes, origin);
}

}  // namespace motherbulb

// A parcel's plain text, as FORMAT.md ("Golden files") asks for it.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <type_traits>

#include "tests/shared/sample.hpp"

namespace motherbulb::reading {

inline std::string in_quotes(std::string_view text) {
  std::string out = "\"";
  for (char c : text) {
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (static_cast<unsigned char>(c) < 0x20) {
      const auto byte = static_cast<std::uint8_t>(c);
      out += "\\u00" + hex(&byte, 1);
    } else {
      out += c;
    }
  }
  return out + "\"";
}

inline std::string shown(const std::string& text) {
  return in_quotes(text);
}
inline std::string shown(bool value) {
  return value ? "true" : "false";
}
template <class T, std::enable_if_t<std::is_integral_v<T> && !std::is_same_v<T, bool>, int> = 0>
std::string shown(T value) {
  return std::to_string(value);
}
template <class T, std::enable_if_t<std::is_enum_v<T>, int> = 0>
std::string shown(T value) {
  return std::to_string(static_cast<int>(value));
}
template <std::size_t N, class Tag>
std::string shown(const Bytes<N, Tag>& value) {
  return in_quotes(hex(value));
}
inline std::string shown(const ByteString& bytes) {
  return in_quotes(hex(bytes.data(), bytes.size()));
}
inline std::string shown(MatterId matter) {
  return std::to_string(matter.value);
}
inline std::string shown(const Line& line) {
  std::string out = "{\"count\":" + shown(line.count);
  if (line.grade) out += ",\"grade\":[" + shown(line.grade->low_mm) + "," + shown(line.grade->high_mm) + "]";
  if (line.cause != Cause::unknown) out += ",\"cause\":" + shown(line.cause);
  if (!line.detail.empty()) out += ",\"detail\":" + shown(line.detail);
  if (!line.note.empty()) out += ",\"note\":" + shown(line.note);
  return out + "}";
}
template <class T>
std::string shown(const std::optional<T>& value) {
  return value ? shown(*value) : "null";
}
template <class T>
std::string shown(const std::vector<T>& list) {
  std::string out = "[";
  for (const T& item : list) out += (out.size() > 1 ? "," : "") + shown(item);
  return out + "]";
}

inline std::string fields() {
  return "";
}
template <class T, class... More>
std::string fields(const char* name, const T& value, const More&... more) {
  return in_quotes(name) + ":" + shown(value) + (sizeof...(more) > 0 ? "," : "") + fields(more...);
}

// clang-format off
inline std::string of(const FromNewerVersion&) { return ""; }
inline std::string of(const Begun& f) {
  return fields("clone", f.clone, "genus", f.genus, "parent", f.parent, "parent_pot", f.parent_pot, "method", f.method,
                "mothers", f.mothers, "sections", f.sections, "blade", f.blade, "dip", f.dip, "wedges", f.wedges,
                "medium", f.medium, "label", f.label, "mark", f.mark, "note", f.note);
}
inline std::string of(const Potted& f) { return fields("unit", f.unit, "lines", f.lines, "place", f.place, "note", f.note); }
inline std::string of(const Covered& f) { return fields("note", f.note); }
inline std::string of(const Uncovered& f) { return fields("note", f.note); }
inline std::string of(const Looked& f) {
  return fields("shoots", f.shoots, "moisture", f.moisture, "rot", f.rot, "note", f.note);
}
inline std::string of(const Watered& f) { return fields("note", f.note); }
inline std::string of(const Fed& f) { return fields("note", f.note); }
inline std::string of(const Treated& f) {
  return fields("product", f.product, "amount", f.amount, "re_entry_hours", f.re_entry_hours, "note", f.note);
}
inline std::string of(const Moved& f) { return fields("place", f.place, "note", f.note); }
inline std::string of(const Lost& f) { return fields("lines", f.lines, "note", f.note); }
inline std::string of(const Damage& f) {
  return fields("cause", f.cause, "detail", f.detail, "how_bad", f.how_bad, "note", f.note);
}
inline std::string of(const Unpotted& f) {
  return fields("lines", f.lines, "alive", f.alive, "dead", f.dead, "note", f.note);
}
inline std::string of(const Graded& f) { return fields("lines", f.lines, "note", f.note); }
inline std::string of(const Divided& f) {
  return fields("lines", f.lines, "alive", f.alive, "dead", f.dead, "note", f.note);
}
inline std::string of(const DriedOff& f) { return fields("note", f.note); }
inline std::string of(const Started& f) { return fields("note", f.note); }
inline std::string of(const Repotted& f) { return fields("lines", f.lines, "place", f.place, "note", f.note); }
inline std::string of(const Flowered& f) {
  return fields("true_to_type", f.true_to_type, "off_type", f.off_type, "note", f.note);
}
inline std::string of(const Sold& f) { return fields("lines", f.lines, "cents", f.cents, "note", f.note); }
inline std::string of(const Given& f) { return fields("lines", f.lines, "note", f.note); }
inline std::string of(const Discarded& f) { return fields("lines", f.lines, "note", f.note); }
inline std::string of(const Tested& f) { return fields("subject", f.subject, "result", f.result, "note", f.note); }
inline std::string of(const Held& f) { return fields("reason", f.reason); }
inline std::string of(const Cleared& f) { return fields("reason", f.reason); }
inline std::string of(const Combined& f) {
  return fields("into", f.into, "pieces", f.pieces, "lines", f.lines, "note", f.note);
}
inline std::string of(const Note& f) { return fields("text", f.text); }
inline std::string of(const Hours& f) { return fields("minutes", f.minutes, "work", f.work); }
inline std::string of(const Money& f) { return fields("cents", f.cents, "got", f.got, "what", f.what); }
inline std::string of(const Postponed& f) { return fields("step", f.step, "days", f.days, "why", f.why); }
inline std::string of(const PlanEdited& f) { return fields("plan", f.plan, "content", f.content); }
inline std::string of(const GradeBounds& f) { return fields("genus", f.genus, "bounds_mm", f.bounds_mm); }
inline std::string of(const BenchLaidOut& f) {
  return fields("place", f.place, "rows", f.rows, "columns", f.columns, "note", f.note);
}
inline std::string of(const CloneRenamed& f) { return fields("genus", f.genus, "from", f.from, "to", f.to); }
inline std::string of(const DeviceNamed& f) { return fields("name", f.name, "letter", f.letter); }
inline std::string of(const ClockMeasured& f) {
  return fields("writer", f.writer, "upto", f.upto, "ahead_ms", f.ahead_ms);
}
inline std::string of(const Correction& f) {
  return fields("target", f.target, "rows", f.rows, "replacement", f.replacement, "why", f.why);
}
inline std::string of(const Settlement& f) { return fields("matter", f.matter, "take", f.take, "text", f.text); }
inline std::string of(const Treatment& f) {
  return fields("product", f.product, "registration", f.registration, "amount", f.amount, "dose", f.dose, "area",
                f.area, "against", f.against, "licence", f.licence, "re_entry_hours", f.re_entry_hours, "note", f.note);
}
// clang-format on

inline std::string of(const Entry& entry, const Hash& hash) {
  std::string out = "entry " + shown(entry.id.seq) + " kind " + shown(entry.kind);
  if (entry.kind <= last_known_kind) out += " name " + std::string(to_text(static_cast<Kind>(entry.kind)));
  out += "\n  stamp " + shown(entry.stamp.wall_ms()) + " " + shown(entry.stamp.value & 0xffff);
  out += " when " + shown(entry.when.utc_ms) + " offset " + shown(entry.when.offset_minutes);
  if (entry.when.bare_day) out += " bare day";
  out += "\n  batch " + hex(entry.batch) + " pot " + shown(entry.pot) + " helper " + shown(entry.helper);
  if (entry.table) {
    out += "\n  table " + hex(entry.table->fact) + " rows " + shown(entry.table->rows) + " device " +
           shown(entry.table->device);
  }
  const Payload payload = decode(entry.kind, entry.payload);
  if (std::holds_alternative<FromNewerVersion>(payload)) {
    out += "\n  payload " + hex(entry.payload.data(), entry.payload.size());
  } else {
    out += "\n  payload {" + std::visit([](const auto& fact) { return of(fact); }, payload) + "}";
  }
  return out + "\n  fact " + hex(fact_key(entry)) + "\n  hash " + hex(hash) + "\n";
}

// The number of blocks is the frame's affair and no reader tells it; it comes from the trailer's bytes.
inline std::string of(const sample::Read& read, std::uint64_t blocks) {
  std::string out = "parcel 1 written by " + hex(read.head.written_by) + " at " + shown(read.head.written_at_ms) + "\n";
  std::size_t entries = 0;
  for (const sample::Run& run : read.runs) {
    out += "run " + hex(run.writer) + " first " + shown(run.first) + " count " + shown(run.entries.size()) + "\n";
    out += "before " + hex(run.before) + "\n";
    for (std::size_t i = 0; i < run.entries.size(); ++i) out += of(run.entries[i], run.hashes[i]);
    out += "last " + hex(run.last) + "\n";
    entries += run.entries.size();
  }
  for (const Known& known : read.vector) {
    out += "vector " + hex(known.writer) + " last " + shown(known.last) + " head " + hex(known.head) + "\n";
  }
  return out + "entries " + shown(entries) + " blocks " + shown(blocks) + "\n";
}

}  // namespace motherbulb::reading

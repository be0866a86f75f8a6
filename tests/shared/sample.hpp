// Entries to put into parcels: one of each kind, with every field said; a run of taps as a bench gives them. All names
// are invented. And the plain reading of a source of bytes.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "shared/parcel.hpp"

namespace motherbulb::sample {

template <class T>
T bytes_from(std::uint8_t first) {
  T made;
  for (std::uint8_t& byte : made.bytes) byte = first++;
  return made;
}

inline WriterId writer(std::uint8_t first) {
  return bytes_from<WriterId>(first);
}

inline Line line(std::optional<Grade> grade, std::int64_t count, Cause cause = Cause::unknown, std::string detail = "",
                 std::string note = "") {
  return Line{grade, count, cause, std::move(detail), std::move(note)};
}

// In the order of their numbers, from 1.
inline std::vector<Payload> one_of_each_kind() {
  const Lines graded = {line(Grade{-1, 20}, 3), line(Grade{20, 40}, 12, Cause::unknown, "", "two soft"),
                        line(Grade{160, -1}, 1)};
  const Lines dead = {line(std::nullopt, 2, Cause::rot), line(std::nullopt, 1, Cause::pest, "thrips", "one leaf")};
  Begun begun;
  begun.clone = "Tirna Red";
  begun.genus = "Hippeastrum";
  begun.parent = bytes_from<BatchId>(0x40);
  begun.parent_pot = 7;
  begun.method = Method::chipping;
  begun.mothers = {line(Grade{240, 260}, 2)};
  begun.sections = 16;
  begun.blade = Blade::per_bulb;
  begun.dip = YesNo::yes;
  begun.wedges = YesNo::no;
  begun.medium = "damp perlite";
  begun.label = "26B014-X";
  begun.mark = "red 3";
  begun.note = "first cut";
  Looked looked;
  looked.shoots = 9;
  looked.moisture = Moisture::damp;
  looked.rot = YesNo::no;
  looked.note = "even";
  return {
      begun,
      Potted{Unit::pieces, {line(std::nullopt, 8)}, "house 1 / bench 2", "one tray"},
      Covered{"fleece"},
      Uncovered{""},
      looked,
      Watered{""},
      Fed{"half strength"},
      Treated{"Invented product", "2 ml in 1 l", 12, "by its label"},
      Moved{"house 2 / bench 1", ""},
      Lost{dead, "found on Monday"},
      Damage{Cause::animal, "mouse", 2, "soil thrown out"},
      Unpotted{graded, 11, dead, "wet below"},
      Graded{graded, ""},
      Divided{graded, std::nullopt, {}, ""},
      DriedOff{""},
      Started{"18 degrees"},
      Repotted{{}, "house 3", ""},
      Flowered{14, 1, "one pale"},
      Sold{{line(Grade{140, 160}, 10)}, 12550, "market"},
      Given{{line(Grade{40, 60}, 1)}, "to a neighbour"},
      Discarded{{line(std::nullopt, 1'000'000)}, ""},
      Tested{"mosaic virus", TestResult::negative, "two leaves"},
      Held{"pale stripes"},
      Cleared{"second test negative"},
      Combined{bytes_from<BatchId>(0x60), 5, {line(Grade{20, 40}, 4)}, "same tray"},
      Note{"line one\nline two, with \"quotes\""},
      Hours{95, "potting"},
      Money{-499, false, "perlite"},
      Postponed{"unpot", 14, "roots still white"},
      PlanEdited{"hippeastrum chipping", "{\"weeks\": 30}"},
      GradeBounds{"Hippeastrum", {20, 40, 60, 140, 2000}},
      BenchLaidOut{"house 1 / bench 2", 4, 12, "door at the left"},
      CloneRenamed{"Hippeastrum", "Tirna Red", "Tirna Crimson"},
      DeviceNamed{"tablet in the potting shed", "B"},
      ClockMeasured{writer(0x80), 812, -2'820'000},
      Correction{bytes_from<FactKey>(0xa0), {1, 0xffff'ffff'ffff'ffff}, encode(Watered{"by hand"}), "wrong pot"},
      Settlement{MatterId{0x0123'4567'89ab}, Take::both, "26B015-K"},
      Treatment{"Invented product", "INV-0815", "40 ml", "2 ml to 1 l", "6 m2", "thrips", "LIC 17", 12, "by its label"},
  };
}

// A writer's entries, each chained to the one before.
struct Run {
  WriterId writer;
  std::uint64_t first = 1;
  Hash before;
  Hash last;
  std::vector<Entry> entries;
  std::vector<Hash> hashes;

  explicit Run(const WriterId& by, std::uint64_t first_seq = 1) : writer(by), first(first_seq) {
    before = first == 1 ? first_hash(writer) : bytes_from<Hash>(0x11);
    last = before;
  }
  void add(Entry entry) {
    entry.id = {writer, first + entries.size()};
    last = entry_hash(last, canonical_body(entry));
    hashes.push_back(last);
    entries.push_back(std::move(entry));
  }
};

inline Entry entry_of(const Payload& fact, std::int64_t ms, const std::string& helper = "Runa") {
  Entry entry;
  entry.stamp = {static_cast<std::uint64_t>(ms) << 16};
  entry.when = moment(ms, 60);
  entry.helper = helper;
  entry.kind = kind_number(fact);
  entry.payload = encode(fact);
  return entry;
}

// The taps of one device as a season's days bring them: water, looks, counts of three grades, moves, losses.
inline Run taps(std::mt19937_64& random, std::uint8_t device, std::size_t count, std::size_t batches = 100) {
  const auto below = [&random](std::uint64_t n) { return static_cast<std::int64_t>(random() % n); };
  static const std::array<const char*, 3> helpers = {"Runa", "Tomas", "Wiebke"};
  static const std::array<const char*, 4> places = {"house 1 / bench 2", "house 1 / bench 3", "house 2 / bench 1",
                                                    "shed"};
  Run run(writer(device));
  std::vector<BatchId> known(batches);
  std::mt19937_64 of_batches(1);  // the same on every device
  for (BatchId& batch : known) {
    for (std::uint8_t& byte : batch.bytes) byte = static_cast<std::uint8_t>(of_batches());
  }
  std::int64_t now = 1'772'000'000'000 + device * 1000;
  Stamp stamp;
  std::size_t batch = 0;
  std::int32_t pot = 1;
  for (std::size_t i = 0; i < count; ++i) {
    now += below(60) == 0 ? 3'600'000 + below(50'000'000) : 1'500 + below(40'000);
    stamp = next_stamp(stamp, now);
    if (below(8) == 0) {
      batch = static_cast<std::size_t>(below(batches));
      pot = 1;
    } else {
      ++pot;
    }
    Payload fact = Watered{};
    const std::int64_t act = below(100);
    if (act < 30) {
      Looked looked;
      if (below(2) == 0) looked.shoots = below(12);
      looked.moisture = static_cast<Moisture>(below(4));
      fact = looked;
    } else if (act < 45) {
      Lines found;
      for (std::int32_t low = 0; low < 60; low += 20) found.push_back(line(Grade{low, low + 20}, 1 + below(15)));
      fact = Unpotted{found, 6 + below(3), {}, ""};
    } else if (act < 55) {
      fact = Moved{places[static_cast<std::size_t>(below(4))], ""};
    } else if (act < 62) {
      const std::int64_t count_lost = 1 + below(3);  // first; the order of arguments is the compiler's
      fact = Lost{{line(std::nullopt, count_lost, static_cast<Cause>(1 + below(5)))}, ""};
    } else if (act < 65) {
      fact = Damage{Cause::pest, "thrips", static_cast<std::int32_t>(1 + below(3)), ""};
    } else if (act < 70) {
      fact = Potted{Unit::pieces, {line(std::nullopt, 8)}, places[static_cast<std::size_t>(below(4))], ""};
    } else if (act < 71) {
      fact = Note{"neck soft, look again on Friday"};
    }
    Entry entry;
    entry.stamp = stamp;
    entry.when = moment(now, below(30) == 0 ? 60 : 120);
    if (below(30) == 0) entry.when = moment(now - below(100'000'000), 120);
    if (below(40) == 0) entry.when = bare_day(local_day(entry.when), 120);
    entry.helper = helpers[static_cast<std::size_t>(below(10) == 0 ? below(3) : device % 3)];
    entry.batch = known[batch];
    entry.pot = pot;
    entry.kind = kind_number(fact);
    entry.payload = encode(fact);
    run.add(std::move(entry));
  }
  return run;
}

inline std::vector<Known> vector_of(const std::vector<Run>& runs) {
  std::vector<Known> known;
  for (const Run& run : runs) {
    bool there = false;
    for (const Known& one : known) there = there || one.writer == run.writer;
    if (!there) known.push_back({run.writer, run.first + run.entries.size() - 1, run.last});
  }
  std::sort(known.begin(), known.end(), [](const Known& a, const Known& b) { return a.writer < b.writer; });
  return known;
}

inline Result<ByteString> write(const std::vector<Run>& runs, const std::vector<Known>& vector,
                                const ParcelHead& head = {}) {
  MemorySink sink;
  ParcelWriter writer(sink, head);
  for (const Run& run : runs) {
    writer.begin_run(run.writer, run.first, run.before);
    for (const Entry& entry : run.entries) {
      if (Outcome done = writer.add(entry); !done) return done.error();
    }
    if (Outcome done = writer.end_run(run.last); !done) return done.error();
  }
  if (Outcome done = writer.finish(vector); !done) return done.error();
  return sink.bytes();
}

// What a parcel holds, all read.
struct Read {
  ParcelHead head;
  std::vector<Known> vector;
  std::vector<Run> runs;
};
inline Result<Read> read(ByteSource& source) {
  Result<std::unique_ptr<ParcelReader>> opened = ParcelReader::open(source);
  if (!opened) return opened.error();
  ParcelReader& reader = **opened;
  Read all{reader.head(), reader.vector(), {}};
  for (;;) {
    Result<std::optional<ParcelRun>> next = reader.next_run();
    if (!next) return next.error();
    if (!*next) return all;
    const ParcelRun& given = **next;
    Run run(given.writer, given.first);
    run.before = given.before;
    run.last = given.last;
    Entry entry;
    Hash hash;
    for (;;) {
      Result<bool> more = reader.next_entry(entry, hash);
      if (!more) return more.error();
      if (!*more) break;
      run.entries.push_back(entry);
      run.hashes.push_back(hash);
    }
    all.runs.push_back(std::move(run));
  }
}
inline Result<Read> read(const ByteString& bytes, const std::string& name = "a.parcel") {
  MemorySource source(bytes, name);
  return read(source);
}

inline bool same(const Entry& a, const Entry& b) {
  return a.id == b.id && canonical_body(a) == canonical_body(b);
}
inline bool same(const std::vector<Run>& a, const std::vector<Run>& b) {
  if (a.size() != b.size()) return false;
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i].writer != b[i].writer || a[i].first != b[i].first || a[i].before != b[i].before ||
        a[i].last != b[i].last || a[i].hashes != b[i].hashes || a[i].entries.size() != b[i].entries.size()) {
      return false;
    }
    for (std::size_t j = 0; j < a[i].entries.size(); ++j) {
      if (!same(a[i].entries[j], b[i].entries[j])) return false;
    }
  }
  return true;
}

}  // namespace motherbulb::sample

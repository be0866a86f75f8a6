// The parcel: entries on their way from one device to another, as a file or a stream. FORMAT.md is the specification;
// where it and this code differ, the code is wrong.
//
// A parcel is a head, runs of consecutive entries of one writer each, and a trailer. The writer streams; the reader
// reads it as a stream of bounded blocks, checks each length against the bytes left before it allocates, and refuses
// the whole on the first fault. The reader recomputes each run's hash chain from `before` and refuses a run that does
// not end in `last`.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "shared/bytes.hpp"
#include "shared/entry.hpp"

namespace motherbulb {

// How far a book knows a writer, and the hash of that entry.
struct Known {
  WriterId writer;
  std::uint64_t last = 0;
  Hash head;
  friend bool operator==(const Known& a, const Known& b) {
    return a.writer == b.writer && a.last == b.last && a.head == b.head;
  }
};

struct ParcelHead {
  WriterId written_by;             // the device that wrote the parcel
  std::int64_t written_at_ms = 0;  // by that device's own clock
};

// Consecutive entries first … first + count - 1 of one writer. `before` is the hash of the entry before the first
// (first_hash for entry 1). A writer may have several runs: where its sequence forked.
struct ParcelRun {
  WriterId writer;
  std::uint64_t first = 1;
  std::uint64_t count = 0;
  Hash before;
  Hash last;
};

class ParcelWriter {
public:
  ParcelWriter(ByteSink& sink, const ParcelHead& head);
  ~ParcelWriter();
  // begin_run, its add()s in order of sequence, end_run; then finish once, with the vector of the whole book that the
  // parcel was made from. finish does not commit the sink.
  void begin_run(const WriterId& writer, std::uint64_t first, const Hash& before);
  Outcome add(const Entry& entry);
  Outcome end_run(const Hash& last);
  Outcome finish(const std::vector<Known>& vector);

private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

class ParcelReader {
public:
  // Reads head and trailer and checks the frame (magic, version, lengths, checksums of both). The source must outlive
  // the reader.
  static Result<std::unique_ptr<ParcelReader>> open(ByteSource& source);
  ~ParcelReader();
  const ParcelHead& head() const;
  const std::vector<Known>& vector() const;  // of the book it was made from
  const std::vector<ParcelRun>& runs() const;
  std::uint64_t entries() const;  // in all runs
  // The next run, or none after the last (when the whole has been checked against the trailer). Only after the run
  // before it has been read to its end.
  Result<std::optional<ParcelRun>> next_run();
  // The next entry of the run with its hash; false at the end of the run, which has then been checked against `last`.
  // `entry` may be the same one each time: its room is used again.
  Result<bool> next_entry(Entry& entry, Hash& hash);
  // Instead of reading: goes through the whole and checks its frame (lengths, checksums), not its entries. For a parcel
  // whose runs show that all of it is known. No run can be read afterwards.
  Outcome check_frame();

private:
  struct Inside;
  explicit ParcelReader(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace motherbulb

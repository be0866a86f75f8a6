// The store's files on a device that keeps them elsewhere, and answers later whether they are safe (a browser, whose
// storage is written by another thread): a layer between SQLite and the files here, which notes all that is written.
//
// Promises: what take() gives, carried out in its order on files that stood as they stood here when recording began,
// makes them the same to the byte; the order is SQLite's own, so files that only a beginning of it reached are what a
// crash at that point leaves, and SQLite mends them. What was not said to be safe can be taken back to the byte.
//
// A group of changes, as take() gives it, is a row of these, numbers least byte first:
//   kind  1 byte   1 write, 2 cut or grow to a size, 3 remove, 4 bring to the disk
//   file  1 byte   0 the store itself, 1 its write-ahead log, 2 its rollback journal
//   zero  2 bytes
//   count 4 bytes  of a write: how many bytes follow this row; else 0
//   at    8 bytes  of a write: where; of 2: the size
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "shared/result.hpp"

namespace motherbulb {

class RecordedDisk {
public:
  // From now on SQLite reaches every file through this; those of `store` are recorded. One at a time in a process, and
  // while it lives every store opened must be closed before it ends.
  explicit RecordedDisk(const std::string& store);
  ~RecordedDisk();
  RecordedDisk(const RecordedDisk&) = delete;
  RecordedDisk& operator=(const RecordedDisk&) = delete;

  // Something was written that take() has not given yet.
  [[nodiscard]] bool has_news() const;
  struct Group {
    std::uint64_t number = 0;  // from 1, without gaps
    std::vector<std::uint8_t> changes;
    bool after_loss = false;  // the first after take_back
  };
  Group take();
  // The groups up to this one are safe elsewhere.
  void safe(std::uint64_t number);
  [[nodiscard]] std::uint64_t last_taken() const;
  [[nodiscard]] std::uint64_t last_safe() const;
  // All that was written is safe.
  [[nodiscard]] bool all_safe() const;

  // Takes back here what is not safe; no store may be open. The group that comes next makes the files elsewhere the
  // same, whatever of the groups lost on the way had reached them. Fails where a file here cannot be written.
  Outcome take_back();

  struct Inside;

private:
  std::unique_ptr<Inside> inside_;
};

}  // namespace motherbulb

// A disk in memory under SQLite, and what a power cut, an input or output error or a full disk make of it.
//
// What the disk promises is the least that SQLite reckons with: a write may reach the platter at any time until its
// file is synced, sector by sector, in any order, torn inside a sector, or never; what stood in the file around it is
// spared (SQLITE_IOCAP_POWERSAFE_OVERWRITE, as SQLite's own unix VFS says of its disks). A file's making and deletion
// lie in the folder, which is synced apart: with the first sync of a new journal or WAL, and with a deletion that asks
// for it, exactly where SQLite 3.40's unix VFS does (os_unix.c, unixSync and unixDelete). Where a file grew over bytes
// that never arrived, it holds zeros or rubbish. Compare SQLite's own crash tests, sqlite.org/testing.html, "Crash
// testing", and "Atomic commit in SQLite", sqlite.org/atomiccommit.html, section 2, for the assumptions.
//
// Code that looks at a file by other ways than SQLite's (is it there, is it empty, remove it) is served by stand-ins:
// for each file on the disk that is under SQLite, a file of one byte, or of none where it is empty, in a real folder.
//
// A cut needs no second run: a Disk writes down each operation, and Cuts draws from that what a cut before each of them
// may leave. So every operation of a run is a crash point, at the price of opening what is left.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "tests/fake_host.hpp"

namespace motherbulb::faults {

using FileBytes = std::vector<std::uint8_t>;
using Image = std::map<std::string, FileBytes>;  // what lies on a disk: files by their path

// The path of a file of this name, in the folder of the stand-ins.
std::string place(const std::string& name);

struct Operation {
  enum class Kind { make, remove, sync_folder, write, cut_to, sync, acknowledged };
  Kind kind = Kind::write;
  int file = -1;  // number of the file, counted from 0 in order of making; those of the first image come first
  std::uint64_t position = 0;  // of a write; of cut_to the new size; of acknowledged how many
  FileBytes bytes;
  std::string name;
};

// What a fault is and when. Operations that may fail are counted from 1: reads, writes, cuts, syncs, sizes, makings and
// deletions.
struct Fault {
  enum class Kind { input_output, full };  // full: only what needs room fails, and is not counted otherwise
  Kind kind = Kind::input_output;
  std::uint64_t at = 0;  // 0: never
  bool for_ever = false;
};

struct DiskFile {
  FileBytes bytes;
  std::string name;  // empty: a temporary file
  int number = -1;
  bool folder_unsynced = false;  // a new journal, whose first sync syncs the folder too
  int shared = 0;
  const void* reserved = nullptr;  // the handle that holds the lock
  const void* exclusive = nullptr;
};

class Disk {
public:
  explicit Disk(Image first = {}, std::uint64_t seed = 1);

  // What a program that runs sees now (as after a kill of the program: the system keeps what was written).
  Image image() const;
  const Image& first() const { return first_; }
  const std::vector<Operation>& operations() const { return operations_; }
  // Off by default for a disk that is only looked at.
  void write_down(bool wanted) { written_down_ = wanted; }
  // The program has told its user that so many things are safe.
  void acknowledge(std::uint64_t how_many);

  void set_fault(Fault fault) {
    fault_ = fault;
    counted_ = 0;
    faults_ = 0;
  }
  std::uint64_t counted() const { return counted_; }  // operations since set_fault that could have failed
  std::uint64_t faults() const { return faults_; }    // that did

  // --- for the VFS
  enum class Ask { input_output, room };
  std::optional<Fault::Kind> fails(Ask ask);
  std::shared_ptr<DiskFile> find(const std::string& name) const;
  std::shared_ptr<DiskFile> make(const std::string& name, bool journal);
  bool remove(const std::string& name, bool sync_folder);
  void write(DiskFile& file, const std::uint8_t* bytes, std::size_t count, std::uint64_t position);
  void cut_to(DiskFile& file, std::uint64_t size);
  void sync(DiskFile& file);
  void sync_failed(DiskFile& file);
  Chance& chance() { return chance_; }
  // Takes from the disk what somebody has removed by its stand-in.
  void look_for_removed();
  void put_stand_ins() const;
  void take_stand_ins() const;

private:
  void note(Operation operation);
  Image first_;
  std::map<std::string, std::shared_ptr<DiskFile>> files_;
  int next_number_ = 0;
  std::vector<Operation> operations_;
  bool written_down_ = true;
  bool under_sqlite() const;
  Fault fault_;
  std::uint64_t counted_ = 0, faults_ = 0;
  Chance chance_;
};

// While it lives, every file that SQLite opens in this process lies on this disk.
class UnderSqlite {
public:
  explicit UnderSqlite(Disk& disk);
  ~UnderSqlite();
  UnderSqlite(const UnderSqlite&) = delete;
  UnderSqlite& operator=(const UnderSqlite&) = delete;

private:
  Disk* before_;
};

// Walks through a run of operations; at each, draws what a power cut just before the next one may leave.
class Cuts {
public:
  Cuts(const Image& first, const std::vector<Operation>& operations);
  bool step();  // on by one operation; false at the end
  std::size_t at() const { return at_; }
  std::uint64_t acknowledged() const { return acknowledged_; }
  // Kinds of luck: 0 nothing unsynced is left; 1 all of it; 2 what came first, the last of it torn; others: by sector,
  // at random.
  Image draw(int luck, Chance& chance) const;

private:
  struct Lying {
    FileBytes synced;
    std::vector<const Operation*> unsynced;
  };
  const std::vector<Operation>& operations_;
  std::size_t at_ = 0;
  std::uint64_t acknowledged_ = 0;
  std::vector<Lying> files_;
  std::map<std::string, int> names_;             // synced
  std::vector<const Operation*> names_pending_;  // makings and deletions
};

}  // namespace motherbulb::faults

// The disk that loses power is itself put to the test: bare SQLite with settings that are known to be safe must come
// through every cut, and with settings that are known not to be (sqlite.org/howtocorrupt.html, 3.1;
// sqlite.org/pragma.html, "synchronous") it must be caught.
#include "tests/faults/power_vfs.hpp"

#include <doctest/doctest.h>
#include <sqlite3.h>

#include <string>

namespace motherbulb::faults {
namespace {

constexpr int rows = 30;

bool run(sqlite3* database, const std::string& text) {
  return sqlite3_exec(database, text.c_str(), nullptr, nullptr, nullptr) == SQLITE_OK;
}
std::string asked(sqlite3* database, const char* question) {
  std::string answer;
  sqlite3_exec(
      database, question,
      [](void* out, int count, char** values, char**) {
        if (count > 0 && values[0] != nullptr) *static_cast<std::string*>(out) = values[0];
        return 0;
      },
      &answer, nullptr);
  return answer;
}

// Thirty inserts, each acknowledged, with a checkpoint in between.
void write_rows(Disk& disk, const std::string& settings) {
  const UnderSqlite under(disk);
  sqlite3* database = nullptr;
  REQUIRE(sqlite3_open(place("rows").c_str(), &database) == SQLITE_OK);
  REQUIRE(run(database, "PRAGMA locking_mode=EXCLUSIVE;" + settings));
  REQUIRE(run(database, "CREATE TABLE t(n INTEGER PRIMARY KEY, filling BLOB)"));
  for (int n = 1; n <= rows; ++n) {
    REQUIRE(run(database, "INSERT INTO t VALUES(" + std::to_string(n) + ", randomblob(700))"));
    disk.acknowledge(static_cast<std::uint64_t>(n));
    if (n % 10 == 0) run(database, "PRAGMA wal_checkpoint(TRUNCATE)");
  }
  REQUIRE(sqlite3_close(database) == SQLITE_OK);
}

struct Tally {
  int cuts = 0, corrupt = 0, lost = 0;
};

Tally cut_everywhere(const std::string& settings) {
  Disk disk;
  write_rows(disk, settings);
  Tally tally;
  Chance chance(7);
  Cuts cuts(disk.first(), disk.operations());
  while (cuts.step()) {
    for (int luck = 0; luck < 6; ++luck) {
      Disk left(cuts.draw(luck, chance));
      left.write_down(false);
      const UnderSqlite under(left);
      sqlite3* database = nullptr;
      sqlite3_open(place("rows").c_str(), &database);
      run(database, "PRAGMA locking_mode=EXCLUSIVE");
      ++tally.cuts;
      const std::string sound = asked(database, "PRAGMA integrity_check");
      const std::string there = asked(database, "SELECT count(*) FROM t WHERE length(filling) = 700");
      if (sound != "ok") ++tally.corrupt;
      if ((there.empty() ? 0 : std::stoull(there)) < cuts.acknowledged()) ++tally.lost;
      sqlite3_close(database);
    }
  }
  return tally;
}

TEST_CASE("bare SQLite with the settings we ask of it comes through every power cut") {
  const Tally tally = cut_everywhere("PRAGMA synchronous=EXTRA; PRAGMA journal_mode=WAL");
  MESSAGE(tally.cuts << " cuts");
  CHECK(tally.cuts > 1000);
  CHECK(tally.corrupt == 0);
  CHECK(tally.lost == 0);
}

TEST_CASE("a rollback journal with full syncs comes through every power cut") {
  const Tally tally = cut_everywhere("PRAGMA journal_mode=DELETE; PRAGMA synchronous=EXTRA");
  CHECK(tally.corrupt == 0);
  CHECK(tally.lost == 0);
}

TEST_CASE("power cuts catch a WAL that is synced only at checkpoints: commits go missing") {
  const Tally tally = cut_everywhere("PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL");
  CHECK(tally.lost > 100);
}

TEST_CASE("power cuts catch a store that is never synced: it is torn") {
  const Tally tally = cut_everywhere("PRAGMA journal_mode=DELETE; PRAGMA synchronous=OFF");
  CHECK(tally.corrupt > 100);
}

}  // namespace
}  // namespace motherbulb::faults

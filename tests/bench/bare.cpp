#include "tests/bench/bare.hpp"

#include <sqlite3.h>

#include <cstdio>
#include <cstring>
#include <string_view>

namespace motherbulb::bench {
namespace {

class Bare {
public:
  // The settings of the store itself.
  explicit Bare(const std::string& file) {
    if (sqlite3_open(file.c_str(), &handle_) != SQLITE_OK) stop("cannot open " + file);
    run("PRAGMA locking_mode=EXCLUSIVE; PRAGMA synchronous=EXTRA; PRAGMA journal_mode=WAL; PRAGMA cache_size=-24000;"
        "PRAGMA temp_store=MEMORY; PRAGMA mmap_size=0; PRAGMA wal_autocheckpoint=0");
  }
  ~Bare() { sqlite3_close(handle_); }
  Bare(const Bare&) = delete;
  Bare& operator=(const Bare&) = delete;
  void run(const std::string& sql) {
    if (sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, nullptr) != SQLITE_OK) {
      stop(std::string(sqlite3_errmsg(handle_)) + " in " + sql);
    }
  }
  sqlite3_stmt* prepare(const std::string& sql) {
    sqlite3_stmt* statement = nullptr;
    if (sqlite3_prepare_v2(handle_, sql.c_str(), -1, &statement, nullptr) != SQLITE_OK) {
      stop(std::string(sqlite3_errmsg(handle_)) + " in " + sql);
    }
    return statement;
  }
  std::string text(const std::string& sql) {
    sqlite3_stmt* statement = prepare(sql);
    std::string all;
    while (sqlite3_step(statement) == SQLITE_ROW) {
      const auto* column = sqlite3_column_text(statement, 0);
      if (column != nullptr) all += reinterpret_cast<const char*>(column), all += ";\n";
    }
    sqlite3_finalize(statement);
    return all;
  }
  void attach(const std::string& file) {
    sqlite3_stmt* statement = prepare("ATTACH ? AS other");
    sqlite3_bind_text(statement, 1, file.c_str(), -1, SQLITE_TRANSIENT);
    sqlite3_step(statement);
    sqlite3_finalize(statement);
  }

private:
  sqlite3* handle_ = nullptr;
};

double now() {
  return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace

void make_bare(const std::string& store, const std::string& bare, int second_writer) {
  std::remove(bare.c_str());
  std::string shape;
  {
    Bare from(store);
    shape = from.text(
        "SELECT sql FROM sqlite_schema WHERE tbl_name='entry' AND type IN ('table','index') AND sql IS NOT NULL ORDER "
        "BY type DESC");
  }
  Bare into(bare);
  into.run(shape);
  into.attach(store);
  const std::string second = std::to_string(second_writer);
  into.run("BEGIN; INSERT INTO entry SELECT CASE writer WHEN 2 THEN " + second +
           " ELSE writer END, seq, stamp, at, zone, helper, batch, CASE WHEN writer=2 AND story>0 THEN story+" +
           second +
           "000000 ELSE story END, pot, kind, payload, origin, hash FROM other.entry; COMMIT;"
           "PRAGMA wal_checkpoint(TRUNCATE)");
}

std::vector<double> bare_inserts(const std::string& bare, int count) {
  Bare database(bare);
  sqlite3_stmt* insert = database.prepare(
      "INSERT INTO entry SELECT 900, ?1, stamp, at, zone, helper, batch, story, pot, kind, payload, origin, hash FROM "
      "entry "
      "WHERE writer=1 AND seq=?2");
  std::vector<double> seconds;
  for (int i = 1; i <= count; ++i) {
    sqlite3_bind_int(insert, 1, i);
    sqlite3_bind_int(insert, 2, 1 + i * 37 % 10'000);
    const double from = now();
    sqlite3_step(insert);
    if (sqlite3_reset(insert) != SQLITE_OK) stop("a bare insert failed");
    seconds.push_back(now() - from);
  }
  sqlite3_finalize(insert);
  return seconds;
}

void bare_merge(Measured& measured, const std::string& bare, const std::string& other) {
  Bare database(bare);
  database.attach(other);
  Clock clock(measured);
  database.run("BEGIN IMMEDIATE; INSERT OR IGNORE INTO entry SELECT * FROM other.entry; COMMIT");
  database.run("PRAGMA main.wal_checkpoint(TRUNCATE)");
  clock.stop();
}

std::vector<double> bare_hundreds(const std::string& bare, const std::string& other, int times) {
  std::remove(other.c_str());
  std::vector<double> seconds;
  {
    Bare from(bare);
    const std::string shape = from.text(
        "SELECT sql FROM sqlite_schema WHERE tbl_name='entry' AND type IN ('table','index') AND sql IS NOT NULL ORDER "
        "BY type DESC");
    Bare into(other);
    into.run(shape);
  }
  for (int i = 0; i < times; ++i) {
    {
      Bare into(other);
      into.attach(bare);
      into.run("DELETE FROM entry; INSERT INTO entry SELECT " + std::to_string(1000 + i) +
               ", seq, stamp, at, zone, helper, batch, story, pot, kind, payload, origin, hash FROM other.entry WHERE "
               "writer=1 AND seq%1000=" +
               std::to_string(i) + " LIMIT 100");
    }
    Bare database(bare);
    database.attach(other);
    sqlite3_stmt* look = database.prepare("SELECT max(seq) FROM entry WHERE writer=1");
    sqlite3_step(look);
    sqlite3_finalize(look);
    const double from = now();
    database.run("BEGIN IMMEDIATE; INSERT OR IGNORE INTO entry SELECT * FROM other.entry; COMMIT");
    seconds.push_back(now() - from);
  }
  return seconds;
}

void bare_scan(Measured& measured, const std::string& bare) {
  Bare database(bare);
  Clock clock(measured);
  sqlite3_stmt* scan = database.prepare("SELECT * FROM entry");
  std::uint64_t sum = 0;
  while (sqlite3_step(scan) == SQLITE_ROW) {
    for (int i = 0; i < sqlite3_column_count(scan); ++i) {
      if (sqlite3_column_type(scan, i) == SQLITE_BLOB) {
        const auto* bytes = static_cast<const unsigned char*>(sqlite3_column_blob(scan, i));
        const int size = sqlite3_column_bytes(scan, i);
        if (size > 0) sum += bytes[size - 1];
      } else {
        sum += static_cast<std::uint64_t>(sqlite3_column_int64(scan, i));
      }
    }
  }
  sqlite3_finalize(scan);
  clock.stop();
  measured.said[0] = static_cast<double>(sum % 1000);
}

void bare_table(Measured& measured, const std::string& table, const std::string& bare) {
  std::remove(bare.c_str());
  Bare database(bare);
  std::FILE* in = std::fopen(table.c_str(), "rb");
  if (in == nullptr) stop("cannot read " + table);
  Clock clock(measured);
  database.run(
      "CREATE TABLE fact(no INTEGER PRIMARY KEY, at TEXT NOT NULL, helper TEXT, event TEXT, clone TEXT, genus TEXT, "
      "batch TEXT, pot INTEGER, parent TEXT, method TEXT, sections INTEGER, grade TEXT, number INTEGER, cause TEXT, "
      "place TEXT, note TEXT) STRICT; CREATE INDEX fact_batch ON fact(batch, pot); CREATE INDEX fact_at ON fact(at); "
      "BEGIN");
  sqlite3_stmt* insert = database.prepare(
      "INSERT INTO fact(at,helper,event,clone,genus,batch,pot,parent,method,sections,grade,number,cause,"
      "place,note) VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)");
  char line[4096];
  bool header = true;
  while (std::fgets(line, sizeof line, in) != nullptr) {
    if (header) {
      header = false;
      continue;
    }
    const char* at = line;
    for (int cell = 1; cell <= 15; ++cell) {
      const char* from = at;
      const char* to;
      if (*from == '"') {
        to = std::strchr(++from, '"');
        at = to + 2;
      } else {
        to = from + std::strcspn(from, ",\n");
        at = to + 1;
      }
      const auto size = static_cast<int>(to - from);
      if (size == 0) {
        sqlite3_bind_null(insert, cell);
      } else if (cell == 7 || cell == 10 || cell == 12) {
        sqlite3_bind_int64(insert, cell, std::strtoll(from, nullptr, 10));
      } else {
        sqlite3_bind_text(insert, cell, from, size, SQLITE_STATIC);
      }
    }
    sqlite3_step(insert);
    if (sqlite3_reset(insert) != SQLITE_OK) stop("a bare row failed");
  }
  sqlite3_finalize(insert);
  std::fclose(in);
  database.run("COMMIT; PRAGMA wal_checkpoint(TRUNCATE)");
  clock.stop();
}

}  // namespace motherbulb::bench

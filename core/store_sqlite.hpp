// SQLite's handles with an owner each, and one way of failing: the first fault sticks, everything after it does
// nothing, and whoever commits is told. Included by core/store*.cpp only.
#pragma once

#include <sqlite3.h>

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "shared/ids.hpp"
#include "shared/result.hpp"

namespace motherbulb {

class Database;

// A prepared statement in use. Bind, step, read; reset when it leaves its scope.
class Query {
public:
  Query(Database& database, sqlite3_stmt* statement) : database_(&database), statement_(statement) {}
  Query(Query&& other) noexcept : database_(other.database_), statement_(other.statement_), at_(other.at_) {
    other.statement_ = nullptr;
  }
  Query(const Query&) = delete;
  Query& operator=(const Query&) = delete;
  Query& operator=(Query&&) = delete;
  ~Query();

  Query& bind(std::int64_t value);
  Query& bind(std::string_view text);
  Query& bind_bytes(const void* bytes, std::size_t size);  // must live until the next step or reset
  Query& bind_null();
  template <std::size_t N, class Tag>
  Query& bind(const Bytes<N, Tag>& value) {
    return bind_bytes(value.bytes.data(), N);
  }
  Query& bind(const std::vector<std::uint8_t>& bytes) { return bind_bytes(bytes.data(), bytes.size()); }

  bool step();  // a row is there; false at the end and after a fault
  void run() {  // for statements without rows
    step();
    reset();
  }
  void reset();

  std::int64_t number(int column) const;
  std::string text(int column) const;
  std::vector<std::uint8_t> bytes(int column) const;
  std::string_view view(int column) const;  // of text or bytes, until the next step
  bool is_null(int column) const;
  template <class B>
  B fixed(int column) const {
    B value;
    const std::string_view from = view(column);
    if (from.size() == value.bytes.size()) std::memcpy(value.bytes.data(), from.data(), from.size());
    return value;
  }

private:
  Database* database_;
  sqlite3_stmt* statement_;
  int at_ = 1;
};

class Database {
public:
  Database() = default;
  ~Database();
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;

  // `named`: what messages call it.
  Outcome open(const std::string& file, int flags, const std::string& named);
  void close();
  sqlite3* handle() const { return handle_; }

  void execute(const char* sql);
  Query query(std::string_view sql);  // prepared once, kept
  void note(int code);                // remembers the first fault
  void fail(ErrorKind kind, std::string what);
  bool failed() const { return failed_; }
  int fault_code() const { return fault_code_; }
  const Error& error() const { return error_; }
  void forget_error() { failed_ = false, fault_code_ = SQLITE_OK; }
  // The file could not be opened again after an error of the disk: each further wish first tries `mend` once more,
  // which says whether it is open now.
  void lose(const Error& error, std::function<bool()> mend);
  bool lost() const { return mend_ != nullptr; }
  std::int64_t changes() const { return handle_ == nullptr ? 0 : sqlite3_changes64(handle_); }
  std::int64_t last_row() const { return handle_ == nullptr ? 0 : sqlite3_last_insert_rowid(handle_); }

private:
  struct Prepared {
    std::string sql;
    sqlite3_stmt* statement = nullptr;
  };
  sqlite3* handle_ = nullptr;
  std::string path_;
  std::vector<Prepared> prepared_;
  std::unordered_map<const char*, std::size_t> by_address_;
  bool failed_ = false;
  int fault_code_ = SQLITE_OK;
  Error error_;
  void try_to_mend();
  std::function<bool()> mend_;
  bool mending_ = false;
};

// Writes the write-ahead log beside the file over itself and syncs it; true too where there is none. After a sync that
// failed the system may count what it has not brought to the disk as brought, and never try again; a log that is then
// gone on with has a hole after a power cut, and all after the hole is lost. (Rebello et al., "Can applications recover
// from fsync failures?", USENIX ATC 2020.) Only while the file is closed.
bool write_log_again(const std::string& path);

// In words: what happened to the file, and what would mend it.
Error sqlite_error(int code, const std::string& path, const char* message);

}  // namespace motherbulb

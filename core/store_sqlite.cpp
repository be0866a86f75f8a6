#include "core/store_sqlite.hpp"

#include <algorithm>
#include <cstring>

namespace motherbulb {

Error sqlite_error(int code, const std::string& path, const char* message) {
  const int primary = code & 0xff;
  switch (primary) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return {ErrorKind::in_use, path + " is open in another window or command; close that one and try again", {}};
    case SQLITE_NOTADB:
      return {ErrorKind::foreign, path + " is not a Motherbulb book; name the book's own file", {}};
    case SQLITE_CORRUPT:
      return {ErrorKind::damaged,
              path + " is damaged (" + (message != nullptr ? message : "its pages do not fit together") +
                  "); put the last backup back, then merge the other devices' parcels",
              {}};
    case SQLITE_FULL:
      return {ErrorKind::failed, path + ": the disk is full; make room, then try again. Nothing was changed", {}};
    case SQLITE_READONLY:
      return {
          ErrorKind::failed, path + " cannot be written (it, or its folder, is read-only). Nothing was changed", {}};
    case SQLITE_CANTOPEN:
      return {ErrorKind::failed, path + " cannot be opened; look whether its folder is there and may be written", {}};
    case SQLITE_NOMEM:
      return {ErrorKind::failed, path + ": there is not enough memory; close other programs and try again", {}};
    default:
      return {ErrorKind::failed,
              path + ": the disk does not answer as it should (" +
                  (message != nullptr ? message : sqlite3_errstr(code)) + "). Nothing was changed; check the disk",
              {}};
  }
}

bool write_log_again(const std::string& path) {
  sqlite3_vfs* vfs = sqlite3_vfs_find(nullptr);
  if (vfs == nullptr) return false;
  const std::string log = path + "-wal";
  int there = 0;
  if (vfs->xAccess(vfs, log.c_str(), SQLITE_ACCESS_EXISTS, &there) != SQLITE_OK) return false;
  if (there == 0) return true;
  std::vector<std::uint64_t> room(static_cast<std::size_t>(vfs->szOsFile) / sizeof(std::uint64_t) + 1);
  auto* file = reinterpret_cast<sqlite3_file*>(room.data());
  if (vfs->xOpen(vfs, log.c_str(), file, SQLITE_OPEN_READWRITE | SQLITE_OPEN_WAL, nullptr) != SQLITE_OK) {
    if (file->pMethods != nullptr) file->pMethods->xClose(file);
    return false;
  }
  sqlite3_int64 size = 0;
  bool good = file->pMethods->xFileSize(file, &size) == SQLITE_OK;
  std::vector<std::uint8_t> bytes(1 << 16);
  for (sqlite3_int64 at = 0; good && at < size;) {
    const int count = static_cast<int>(std::min<sqlite3_int64>(static_cast<sqlite3_int64>(bytes.size()), size - at));
    good = file->pMethods->xRead(file, bytes.data(), count, at) == SQLITE_OK &&
           file->pMethods->xWrite(file, bytes.data(), count, at) == SQLITE_OK;
    at += count;
  }
  good = good && file->pMethods->xSync(file, SQLITE_SYNC_FULL) == SQLITE_OK;
  file->pMethods->xClose(file);
  return good;
}

Query::~Query() {
  reset();
}

void Query::reset() {
  if (statement_ != nullptr) sqlite3_reset(statement_);
  at_ = 1;
}

Query& Query::bind(std::int64_t value) {
  if (statement_ != nullptr) sqlite3_bind_int64(statement_, at_, value);
  ++at_;
  return *this;
}

Query& Query::bind(std::string_view text) {
  if (statement_ != nullptr) {
    const int code = sqlite3_bind_text64(statement_, at_, text.data() == nullptr ? "" : text.data(), text.size(),
                                         SQLITE_TRANSIENT, SQLITE_UTF8);
    if (code != SQLITE_OK) database_->note(code);
  }
  ++at_;
  return *this;
}

Query& Query::bind_bytes(const void* bytes, std::size_t size) {
  if (statement_ != nullptr) {
    const int code = sqlite3_bind_blob64(statement_, at_, size == 0 ? "" : bytes, size, SQLITE_STATIC);
    if (code != SQLITE_OK) database_->note(code);
  }
  ++at_;
  return *this;
}

Query& Query::bind_null() {
  if (statement_ != nullptr) sqlite3_bind_null(statement_, at_);
  ++at_;
  return *this;
}

bool Query::step() {
  if (statement_ == nullptr || database_->failed()) return false;
  const int code = sqlite3_step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code != SQLITE_DONE) database_->note(code);
  return false;
}

std::int64_t Query::number(int column) const {
  return sqlite3_column_int64(statement_, column);
}
bool Query::is_null(int column) const {
  return sqlite3_column_type(statement_, column) == SQLITE_NULL;
}

std::string_view Query::view(int column) const {
  const void* first = sqlite3_column_blob(statement_, column);
  if (first == nullptr) return {};
  return {static_cast<const char*>(first), static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))};
}

std::string Query::text(int column) const {
  return std::string(view(column));
}

std::vector<std::uint8_t> Query::bytes(int column) const {
  const std::string_view from = view(column);
  return {from.begin(), from.end()};
}

Database::~Database() {
  close();
}

Outcome Database::open(const std::string& file, int flags, const std::string& named) {
  close();
  path_ = named;
  const int code =
      sqlite3_open_v2(file.c_str(), &handle_, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, nullptr);
  if (code != SQLITE_OK) {
    Error error = sqlite_error(code, named, handle_ != nullptr ? sqlite3_errmsg(handle_) : nullptr);
    close();
    return error;
  }
  return Done{};
}

void Database::close() {
  for (Prepared& prepared : prepared_) sqlite3_finalize(prepared.statement);
  prepared_.clear();
  by_address_.clear();
  if (handle_ != nullptr) sqlite3_close_v2(handle_);
  handle_ = nullptr;
  forget_error();
}

void Database::lose(const Error& error, std::function<bool()> mend) {
  close();
  fail(error.kind, error.what);
  mend_ = std::move(mend);
}

void Database::try_to_mend() {
  if (mend_ == nullptr || mending_) return;
  mending_ = true;
  if (mend_()) mend_ = nullptr;
  mending_ = false;
}

void Database::execute(const char* sql) {
  try_to_mend();
  if (failed_) return;
  note(sqlite3_exec(handle_, sql, nullptr, nullptr, nullptr));
}

Query Database::query(std::string_view sql) {
  try_to_mend();
  // Most statements are literals: found again by their address, and compared all the same.
  const auto found = by_address_.find(sql.data());
  if (found != by_address_.end() && prepared_[found->second].sql == sql &&
      !sqlite3_stmt_busy(prepared_[found->second].statement)) {
    return {*this, prepared_[found->second].statement};
  }
  for (std::size_t i = 0; i < prepared_.size(); ++i) {
    if (prepared_[i].sql != sql || sqlite3_stmt_busy(prepared_[i].statement)) continue;  // in use further up: another
    by_address_[sql.data()] = i;
    return {*this, prepared_[i].statement};
  }
  if (failed_) return {*this, nullptr};
  sqlite3_stmt* statement = nullptr;
  note(sqlite3_prepare_v3(handle_, sql.data(), static_cast<int>(sql.size()), SQLITE_PREPARE_PERSISTENT, &statement,
                          nullptr));
  if (statement != nullptr) {
    by_address_[sql.data()] = prepared_.size();
    prepared_.push_back({std::string(sql), statement});
  }
  return {*this, statement};
}

void Database::note(int code) {
  if (code == SQLITE_OK || code == SQLITE_DONE || code == SQLITE_ROW || failed_) return;
  failed_ = true;
  fault_code_ = code;
  error_ = sqlite_error(code, path_, handle_ != nullptr ? sqlite3_errmsg(handle_) : nullptr);
}

void Database::fail(ErrorKind kind, std::string what) {
  if (failed_) return;
  failed_ = true;
  fault_code_ = SQLITE_ERROR;
  error_ = {kind, std::move(what), {}};
}

}  // namespace motherbulb

#include "core/store.hpp"

#include <fcntl.h>
#include <sodium.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <system_error>

#include "core/state_codec.hpp"
#include "core/store_schema.hpp"
#include "core/store_sqlite.hpp"

namespace motherbulb {
namespace {

// What a setting's row is sealed with, so that a changed byte shows: no entry covers it.
Hash seal(const std::string& name, const std::string& value) {
  std::string text = "motherbulb setting 1";
  text += '\0';
  text += name;
  text += '\0';
  text += value;
  Hash hash;
  crypto_generichash(hash.bytes.data(), hash.bytes.size(), reinterpret_cast<const std::uint8_t*>(text.data()),
                     text.size(), nullptr, 0);
  return hash;
}

constexpr const char* entry_columns =
    "e.writer, e.seq, e.stamp, e.at, e.zone, e.helper, e.batch, e.story, e.pot, e.kind, e.payload, e.origin";

bool has_bytes(const std::string& file) {
  struct stat about {};
  return ::stat(file.c_str(), &about) == 0 && about.st_size > 0;
}

// Another process has it open: SQLite's locks lie on these bytes (its file format's lock-byte page). Not to be asked of
// a file that this process itself has open, whose locks closing it would give away.
bool is_held_elsewhere(const std::string& file) {
  const int handle = ::open(file.c_str(), O_RDONLY | O_CLOEXEC);
  if (handle < 0) return false;
  struct flock lock {};
  lock.l_type = F_WRLCK;
  lock.l_whence = SEEK_SET;
  lock.l_start = 0x40000000;
  lock.l_len = 512;
  const bool held = ::fcntl(handle, F_GETLK, &lock) == 0 && lock.l_type != F_UNLCK;
  ::close(handle);
  return held;
}

constexpr std::int64_t log_pages_at_most = 16384;  // 64 MiB: beyond it a checkpoint is made whoever waits

}  // namespace

Outcome folder_is_there(const std::string& file) {
  const std::size_t slash = file.find_last_of('/');
  if (slash == std::string::npos || slash == 0) return Done{};
  const std::string folder = file.substr(0, slash);
  struct stat about {};
  if (::stat(folder.c_str(), &about) == 0 && S_ISDIR(about.st_mode)) return Done{};
  return Error{ErrorKind::missing, "the folder " + folder + " is not there; make it, or name another", {}};
}

Store::Store() : database_(std::make_unique<Database>()) {}

Store::~Store() {
  if (copy_in_.empty()) return;
  database_->close();
  std::error_code ignored;
  std::filesystem::remove_all(copy_in_, ignored);
}

Result<std::unique_ptr<Store>> Store::open(const std::string& path, const Wish& wish) {
  struct stat about {};
  const bool there = ::stat(path.c_str(), &about) == 0;
  if (there && S_ISDIR(about.st_mode)) {
    return Error{ErrorKind::foreign, path + " is a folder, not a Motherbulb book; name the book's own file", {}};
  }
  if (there && wish.must_be_new) {
    return refusal(path + " is already there; name a new file, since a book is never overwritten");
  }
  if (!there && !wish.create) {
    return Error{ErrorKind::missing,
                 path + " is not there; check the name, or make a book with 'motherbulb demo' or 'motherbulb import'",
                 {}};
  }
  if (!there) {
    if (auto folder = folder_is_there(path); !folder) return folder.error();
  }
  if (there && about.st_size == 0) {
    return Error{
        ErrorKind::foreign,
        path +
            " is empty and not a Motherbulb book; name another file, or delete this one if making a book was cut short",
        {}};
  }
  std::unique_ptr<Store> store(new Store);
  store->path_ = path;
  store->read_only_ = wish.read_only || wish.untouched;
  if (sodium_init() < 0) return Error{ErrorKind::failed, "the hash library did not start", {}};
  store->flags_ = SQLITE_OPEN_READWRITE | (there ? 0 : SQLITE_OPEN_CREATE);
  store->file_ = path;
  const bool writable = !there || ::access(path.c_str(), W_OK) == 0;
  if (!writable && !store->read_only_) {
    return Error{ErrorKind::failed, path + " cannot be written (it is read-only). Nothing was changed", {}};
  }
  if (wish.untouched && is_held_elsewhere(path)) return sqlite_error(SQLITE_BUSY, path, nullptr);
  const bool has_log = wish.untouched && (has_bytes(path + "-wal") || has_bytes(path + "-journal"));
  Outcome opened = has_log                       ? store->open_a_copy()
                   : !writable || wish.untouched ? store->open_as_it_lies()
                                                 : store->database_->open(path, store->flags_, path);
  if (opened) opened = store->set_up(wish, !there);
  if (!opened) {
    store->database_->close();
    if (!there) {
      // Nothing is left behind of a store that could not be made.
      for (const char* end : {"", "-wal", "-shm", "-journal"}) std::remove((path + end).c_str());
    }
    return opened.error();
  }
  store->flags_ &= ~SQLITE_OPEN_CREATE;
  return store;
}

// On read-only media, or because it is to stay as it is. Where it was not closed properly a log lies beside it, which
// holds a part of it: then it is read with that.
Outcome Store::open_as_it_lies() {
  flags_ = SQLITE_OPEN_READONLY;
  if (!has_bytes(path_ + "-wal")) {
    flags_ |= SQLITE_OPEN_URI;
    file_ = "file:";
    for (const char c : path_) {
      const bool plain = c != '%' && c != '?' && c != '#';
      file_ += plain ? std::string(1, c) : c == '%' ? "%25" : c == '?' ? "%3f" : "%23";
    }
    file_ += "?immutable=1";
  }
  return database_->open(file_, flags_, path_);
}

Outcome Store::open_a_copy() {
  std::error_code fault;
  std::string folder = (std::filesystem::temp_directory_path(fault) / "motherbulb-XXXXXX").string();
  if (fault || ::mkdtemp(folder.data()) == nullptr) {
    return Error{ErrorKind::failed, "there is no place for a copy of " + path_ + " on this device; make room", {}};
  }
  copy_in_ = folder;
  file_ = folder + "/copy";
  for (const char* end : {"", "-wal", "-journal"}) {
    if (*end != 0 && !has_bytes(path_ + end)) continue;
    std::filesystem::copy_file(path_ + end, file_ + end, fault);
    if (fault) {
      return Error{
          ErrorKind::failed, path_ + end + " could not be copied to be read (" + fault.message() + "); make room", {}};
    }
  }
  flags_ = SQLITE_OPEN_READWRITE;
  return database_->open(file_, flags_, path_);
}

// From now on the copy is looked at, and may be written.
Outcome Store::copy_into_memory() {
  auto copy = std::make_unique<Database>();
  file_ = ":memory:";
  flags_ = SQLITE_OPEN_READWRITE;
  if (Outcome opened = copy->open(file_, flags_, path_); !opened) return opened;
  sqlite3_backup* copying = sqlite3_backup_init(copy->handle(), "main", database_->handle(), "main");
  if (copying != nullptr) sqlite3_backup_step(copying, -1);
  const int code = copying != nullptr ? sqlite3_backup_finish(copying) : sqlite3_errcode(copy->handle());
  if (code != SQLITE_OK) return sqlite_error(code, path_, sqlite3_errmsg(copy->handle()));
  database_ = std::move(copy);
  return Done{};
}

Outcome Store::set_up(const Wish& wish, bool fresh) {
  Database& db = *database_;
  sqlite3_busy_timeout(db.handle(), 1000);
  sqlite3_db_config(db.handle(), SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  sqlite3_db_config(db.handle(), SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
  sqlite3_limit(db.handle(), SQLITE_LIMIT_LENGTH, 256 << 20);
  sqlite3_limit(db.handle(), SQLITE_LIMIT_ATTACHED, 2);
  // EXTRA before the mode is chosen: else a crash can bring back the journal of the change of mode.
  db.execute(
      "PRAGMA locking_mode=EXCLUSIVE; PRAGMA synchronous=EXTRA; PRAGMA fullfsync=ON;"
      "PRAGMA checkpoint_fullfsync=ON; PRAGMA foreign_keys=ON; PRAGMA cell_size_check=ON; PRAGMA mmap_size=0;"
      "PRAGMA temp_store=MEMORY; PRAGMA cache_size=-40000");
  if (fresh) {
    db.execute("PRAGMA page_size=4096");
    db.execute("PRAGMA journal_mode=WAL");
    if (!db.failed()) schema::create(db);
    if (db.failed()) return db.error();
  } else {
    std::int64_t application = 0, version = 0;
    {
      Query query = db.query("PRAGMA application_id");
      if (query.step()) application = query.number(0);
    }
    {
      Query query = db.query("PRAGMA user_version");
      if (query.step()) version = query.number(0);
    }
    if (db.failed()) return db.error();
    if (application != schema::application_id) {
      Query tables = db.query("SELECT count(*) FROM sqlite_schema");
      if (application == 0 && version == 0 && tables.step() && tables.number(0) == 0) {
        return Error{ErrorKind::foreign,
                     path_ + " holds nothing; if making a book was cut short, delete it and make the book anew",
                     {}};
      }
      return Error{ErrorKind::foreign, path_ + " is not a Motherbulb book; name the book's own file", {}};
    }
    if (version > schema::current) {
      return Error{ErrorKind::newer,
                   path_ + " was written by a newer Motherbulb (book version " + std::to_string(version) +
                       ", this one reads up to " + std::to_string(schema::current) +
                       "); update this device. Nothing was changed",
                   {}};
    }
    if (version < schema::current && wish.untouched && (flags_ & SQLITE_OPEN_READWRITE) == 0) {
      if (Outcome copied = copy_into_memory(); !copied) return copied;
      return set_up(wish, fresh);
    }
    // Takes the lock at once, so that a second run is told now and not at its first tap.
    if (flags_ & SQLITE_OPEN_READWRITE) {
      db.execute("BEGIN IMMEDIATE; COMMIT");
      if (db.failed() && wish.read_only && (db.fault_code() & 0xff) == SQLITE_READONLY) db.forget_error();
    }
    if (version < schema::current && (flags_ & SQLITE_OPEN_READWRITE) == 0) {
      return Error{ErrorKind::failed,
                   path_ +
                       " was written by an older Motherbulb and cannot be brought up to date here, since it cannot be "
                       "written; copy it to a disk that can, and open that",
                   {}};
    }
    if (version < schema::current) schema::upgrade(db, version);
    // A backup comes without a write-ahead log.
    if (!read_only_) db.execute("PRAGMA journal_mode=WAL");
    if (db.failed()) return db.error();
  }
  db.execute("PRAGMA wal_autocheckpoint=0");
  if (!fresh) {
    // A look at the file's own order each time: damage is found the same day.
    Query query = db.query("SELECT count(*) FROM sqlite_schema");
    query.step();
  }
  if (db.failed()) return db.error();
  return Done{};
}

Outcome Store::reopen(const std::function<Outcome()>& between) {
  database_->close();
  loaded_ = false;
  writers_.clear(), writer_place_.clear(), words_.clear(), word_texts_.clear(), stories_.clear(), story_ids_.clear();
  letters_.clear(), letters_loaded_ = false;
  forks_known_ = false;
  ++generation_;
  if (between) {
    if (Outcome done = between(); !done) return done;
  }
  if (!read_only_ && !write_log_again(path_)) return sqlite_error(SQLITE_IOERR, path_, nullptr);
  if (auto opened = database_->open(file_, flags_, path_); !opened) return opened;
  return set_up({}, false);
}

void Store::begin() {
  database_->execute("BEGIN IMMEDIATE");
}

Outcome Store::commit() {
  database_->execute("COMMIT");
  if (database_->failed()) {
    const Error error = database_->error();
    rollback();
    // The last step failed and so does all after it: what lies in the log may be whole, and then counts.
    if (database_->lost()) {
      return Error{ErrorKind::failed,
                   path_ +
                       ": the disk stopped answering while this was being kept; whether it was shows once the disk "
                       "answers again. Look before you do it again",
                   {}};
    }
    return error;
  }
  if (log_pages() > log_pages_at_most) checkpoint();
  return Done{};
}

void Store::rollback() {
  if (database_->lost()) return;  // nothing is open
  const bool broken = database_->failed() && (database_->fault_code() & 0xff) == SQLITE_IOERR;
  database_->forget_error();
  if (sqlite3_get_autocommit(database_->handle()) == 0) {
    sqlite3_exec(database_->handle(), "ROLLBACK", nullptr, nullptr, nullptr);
  }
  loaded_ = false;
  writers_.clear(), writer_place_.clear(), words_.clear(), word_texts_.clear(), stories_.clear(), story_ids_.clear();
  letters_.clear(), letters_loaded_ = false;
  forks_known_ = false;
  // After an error of the disk the pages in memory are not to be trusted: open anew, read anew.
  // Where that fails it is tried again at the next wish, and said then.
  if (broken) static_cast<void>(open_anew({}));
}

Outcome Store::open_anew(const std::function<Outcome()>& between) {
  Outcome opened = reopen(between);
  if (!opened) {
    database_->lose(opened.error(), [this] {
      const auto again = reopen();
      if (!again) {
        database_->close();
        database_->fail(again.error().kind, again.error().what);
      }
      return again.ok();
    });
  }
  return opened;
}

bool Store::failed() const {
  return database_->failed();
}
Error Store::error() const {
  return database_->error();
}

void Store::checkpoint() {
  // A checkpoint that fails leaves the log as it is, and the log is as safe as the file.
  if (database_->lost()) return;
  sqlite3_wal_checkpoint_v2(database_->handle(), nullptr, SQLITE_CHECKPOINT_TRUNCATE, nullptr, nullptr);
}

std::int64_t Store::log_pages() const {
  if (database_->lost()) return 0;
  sqlite3_file* file = nullptr;
  sqlite3_int64 size = 0;
  if (sqlite3_file_control(database_->handle(), "main", SQLITE_FCNTL_JOURNAL_POINTER, &file) == SQLITE_OK &&
      file != nullptr && file->pMethods != nullptr && file->pMethods->xFileSize(file, &size) == SQLITE_OK) {
    return size / (4096 + 24);  // a page and its frame's head
  }
  return 0;
}

std::optional<std::string> Store::setting(const std::string& name) {
  Query query = database_->query("SELECT value FROM setting WHERE name=?");
  query.bind(name);
  if (!query.step()) return std::nullopt;
  return query.text(0);
}

void Store::set_setting(const std::string& name, const std::string& value) {
  const Hash sealed = seal(name, value);
  Query query = database_->query(
      "INSERT INTO setting(name, value, seal) VALUES(?,?,?) "
      "ON CONFLICT(name) DO UPDATE SET value=excluded.value, seal=excluded.seal");
  query.bind(name).bind_bytes(value.data(), value.size()).bind(sealed).run();
}

void Store::load() {
  if (loaded_) return;
  Query query = database_->query("SELECT no, id, last, head FROM writer ORDER BY no");
  if (database_->failed()) return;  // tried again the next time
  writers_.clear(), writer_place_.clear();
  while (query.step()) {
    WriterRow row{query.number(0), query.fixed<WriterId>(1), static_cast<std::uint64_t>(query.number(2)),
                  query.fixed<Hash>(3)};
    writer_place_[row.id] = writers_.size();
    writers_.push_back(row);
  }
  loaded_ = !database_->failed();
}

const std::vector<WriterRow>& Store::writers() {
  load();
  return writers_;
}

const WriterRow* Store::find_writer(const WriterId& id) {
  load();
  const auto found = writer_place_.find(id);
  return found == writer_place_.end() ? nullptr : &writers_[found->second];
}

WriterRow& Store::writer(const WriterId& id) {
  load();
  const auto found = writer_place_.find(id);
  if (found != writer_place_.end()) return writers_[found->second];
  WriterRow row{static_cast<WriterNo>(writers_.size()) + 1, id, 0, first_hash(id)};
  database_->query("INSERT INTO writer(no, id, last, head) VALUES(?,?,?,?)")
      .bind(row.no)
      .bind(row.id)
      .bind(0)
      .bind(row.head)
      .run();
  writer_place_[id] = writers_.size();
  writers_.push_back(row);
  return writers_.back();
}

std::int64_t Store::word(const std::string& text) {
  const auto found = words_.find(text);
  if (found != words_.end()) return found->second;
  std::int64_t no = 0;
  {
    Query query = database_->query("SELECT no FROM word WHERE text=?");
    query.bind(text);
    if (query.step()) no = query.number(0);
  }
  if (no == 0) {
    database_->query("INSERT INTO word(text) VALUES(?)").bind(text).run();
    no = database_->last_row();
  }
  words_[text] = no;
  word_texts_[no] = text;
  return no;
}

std::vector<std::string> Store::helpers() {
  std::vector<std::string> names;
  Query query = database_->query("SELECT text FROM word WHERE text<>'' ORDER BY text");
  while (query.step()) names.push_back(query.text(0));
  return names;
}

const std::string& Store::word_text(std::int64_t no) {
  const auto found = word_texts_.find(no);
  if (found != word_texts_.end()) return found->second;
  Query query = database_->query("SELECT text FROM word WHERE no=?");
  query.bind(no);
  return word_texts_[no] = query.step() ? query.text(0) : std::string();
}

StoryNo Store::story(const BatchId& id) {
  if (id.is_zero()) return 0;
  if (const auto found = find_story(id)) return *found;
  database_->query("INSERT INTO story(id) VALUES(?)").bind(id).run();
  const StoryNo no = database_->last_row();
  stories_[id] = no;
  story_ids_[no] = id;
  return no;
}

std::optional<StoryNo> Store::find_story(const BatchId& id) {
  if (id.is_zero()) return 0;
  const auto found = stories_.find(id);
  if (found != stories_.end()) return found->second;
  Query query = database_->query("SELECT no FROM story WHERE id=?");
  query.bind(id);
  if (!query.step()) return std::nullopt;
  stories_[id] = query.number(0);
  story_ids_[query.number(0)] = id;
  return query.number(0);
}

BatchId Store::story_id(StoryNo no) {
  if (no == 0) return {};
  const auto found = story_ids_.find(no);
  if (found != story_ids_.end()) return found->second;
  Query query = database_->query("SELECT id FROM story WHERE no=?");
  query.bind(no);
  return story_ids_[no] = query.step() ? query.fixed<BatchId>(0) : BatchId{};
}

std::vector<StoryNo> Store::all_stories() {
  std::vector<StoryNo> all;
  Query query = database_->query("SELECT no FROM story ORDER BY no DESC");
  while (query.step()) all.push_back(query.number(0));
  return all;
}

// zone: offset in minutes × 2, + 1 for a bare day.
void Store::append(WriterRow& writer, const Entry& entry, const Hash& hash) {
  const StoryNo in_story = story(story_of(entry));
  const bool begins = entry.kind == static_cast<std::uint16_t>(Kind::begun);
  Query query = database_->query(
      "INSERT INTO entry(writer, seq, stamp, at, zone, helper, batch, story, pot, kind, payload, origin, hash) "
      "VALUES(?,?,?,?,?,?,?,?,?,?,?,?,?)");
  query.bind(writer.no)
      .bind(static_cast<std::int64_t>(entry.id.seq))
      .bind(static_cast<std::int64_t>(entry.stamp.value))
      .bind(entry.when.utc_ms)
      .bind(entry.when.offset_minutes * 2 + (entry.when.bare_day ? 1 : 0))
      .bind(word(entry.helper));
  // The batch that the entry names is its story, but for what begins one.
  if (begins && !entry.batch.is_zero()) {
    query.bind(story(entry.batch));
  } else {
    query.bind_null();
  }
  ByteString origin;
  query.bind(in_story).bind(entry.pot).bind(entry.kind).bind(entry.payload);
  if (entry.table) {
    origin = encode_origin(*entry.table);
    query.bind(origin);
  } else {
    query.bind_null();
  }
  query.bind(hash).run();
  if (entry.table) {
    database_->query("INSERT INTO fact(fact, writer, seq) VALUES(?,?,?)")
        .bind(entry.table->fact)
        .bind(writer.no)
        .bind(static_cast<std::int64_t>(entry.id.seq))
        .run();
  }
  writer.last = entry.id.seq;
  writer.head = hash;
  // The letter that the writer's labels bear, for telling devices apart before they have a name.
  if (!letters_loaded_) {
    for (const auto& [no, letter] : letters()) letters_[no] = letter;
    letters_loaded_ = !database_->failed();
  }
  if (letters_.find(writer.no) == letters_.end()) {
    const std::string letter = letter_in(entry);
    if (!letter.empty()) put_letter(writer.no, letter);
  }
}

std::string letter_in(const Entry& entry) {
  if (entry.table && !entry.table->device.empty()) return entry.table->device;
  if (entry.kind != static_cast<std::uint16_t>(Kind::begun)) return "";
  const Payload payload = decode(entry.kind, entry.payload);
  const auto* begun = std::get_if<Begun>(&payload);
  return begun != nullptr && begun->label.size() > 2 ? begun->label.substr(2, 1) : "";
}

void Store::put_letter(WriterNo writer, const std::string& letter) {
  letters_[writer] = letter;
  database_->query("INSERT OR REPLACE INTO device(writer, letter) VALUES(?,?)").bind(writer).bind(letter).run();
}

std::map<WriterNo, std::string> Store::letters() {
  std::map<WriterNo, std::string> all;
  Query query = database_->query("SELECT writer, letter FROM device");
  while (query.step()) all[query.number(0)] = query.text(1);
  return all;
}

std::string Store::letter_by_entries(const WriterRow& writer) {
  std::string letter;
  each_entry(writer, 1, [&](const Entry& entry, const Hash&) {
    letter = letter_in(entry);
    return letter.empty();
  });
  return letter;
}

void Store::save_writer(const WriterRow& writer) {
  database_->query("UPDATE writer SET last=?, head=? WHERE no=?")
      .bind(static_cast<std::int64_t>(writer.last))
      .bind(writer.head)
      .bind(writer.no)
      .run();
}

std::optional<Hash> Store::hash_at(const WriterRow& writer, std::uint64_t seq) {
  if (seq == 0) return first_hash(writer.id);
  if (seq == writer.last) return writer.head;
  Query query = database_->query("SELECT hash FROM entry WHERE writer=? AND seq=?");
  query.bind(writer.no).bind(static_cast<std::int64_t>(seq));
  if (!query.step()) return std::nullopt;
  return query.fixed<Hash>(0);
}

std::int64_t Store::entry_count() {
  load();
  std::int64_t count = 0;
  for (const WriterRow& row : writers_) count += static_cast<std::int64_t>(row.last);
  Query query = database_->query("SELECT count(*) FROM aside");
  if (query.step()) count += query.number(0);
  return count;
}

Stamp Store::stamp_at(const WriterRow& writer, std::uint64_t seq) {
  Query query = database_->query("SELECT stamp FROM entry WHERE writer=? AND seq=?");
  query.bind(writer.no).bind(static_cast<std::int64_t>(seq));
  return {query.step() ? static_cast<std::uint64_t>(query.number(0)) : 0};
}

Entry Store::entry_from(Query& row, int c) {
  load();
  Entry entry;
  const auto writer = static_cast<std::size_t>(row.number(c)) - 1;
  if (writer < writers_.size()) entry.id.writer = writers_[writer].id;
  entry.id.seq = static_cast<std::uint64_t>(row.number(c + 1));
  entry.stamp.value = static_cast<std::uint64_t>(row.number(c + 2));
  const std::int64_t zone = row.number(c + 4);
  entry.when.utc_ms = row.number(c + 3);
  entry.when.bare_day = (zone & 1) != 0;
  entry.when.offset_minutes = static_cast<std::int32_t>((zone - (zone & 1)) / 2);
  entry.helper = word_text(row.number(c + 5));
  entry.kind = static_cast<std::uint16_t>(row.number(c + 9));
  if (entry.kind != static_cast<std::uint16_t>(Kind::begun)) {
    entry.batch = story_id(row.number(c + 7));
  } else if (!row.is_null(c + 6)) {
    entry.batch = story_id(row.number(c + 6));
  }
  entry.pot = static_cast<std::int32_t>(row.number(c + 8));
  entry.payload = row.bytes(c + 10);
  if (!row.is_null(c + 11)) {
    entry.table.emplace();
    if (!decode_origin(row.view(c + 11), *entry.table)) {
      database_->fail(ErrorKind::damaged, path_ + ": an entry's origin cannot be read; put the last backup back");
    }
  }
  return entry;
}

bool Store::fact_known(const FactKey& fact) {
  Query query = database_->query("SELECT 1 FROM fact WHERE fact=?");
  query.bind(fact);
  return query.step();
}

std::vector<Entry> Store::entries_of_fact(const FactKey& fact) {
  static const std::string sql = std::string("SELECT ") + entry_columns +
                                 " FROM fact f JOIN entry e ON e.writer=f.writer AND e.seq=f.seq WHERE f.fact=?";
  std::vector<Entry> entries;
  Query query = database_->query(sql);
  query.bind(fact);
  while (query.step()) entries.push_back(entry_from(query, 0));
  return entries;
}

// Forks are rare: where there are none, nothing is asked of the tables beside the book.
bool Store::any_forks() {
  if (!forks_known_) {
    Query query = database_->query("SELECT EXISTS(SELECT 1 FROM aside)");
    forks_ = query.step() && query.number(0) != 0;
    forks_known_ = !database_->failed();
  }
  return forks_;
}

std::vector<Entry> Store::entries_of_story(StoryNo story) {
  static const std::string plain = std::string("SELECT ") + entry_columns + " FROM entry e WHERE e.story=?1";
  static const std::string but_forked =
      plain + " AND NOT EXISTS (SELECT 1 FROM forked f WHERE f.writer=e.writer AND f.seq=e.seq)";
  std::vector<Entry> entries;
  {
    Query query = database_->query(any_forks() ? but_forked : plain);
    query.bind(story);
    while (query.step()) entries.push_back(entry_from(query, 0));
  }
  if (!any_forks()) return entries;
  Query aside = database_->query("SELECT writer, seq, body FROM aside WHERE counts=1 AND story=?");
  aside.bind(story);
  while (aside.step()) {
    const auto body = aside.view(2);
    if (auto entry = entry_from_body({aside.fixed<WriterId>(0), static_cast<std::uint64_t>(aside.number(1))},
                                     reinterpret_cast<const std::uint8_t*>(body.data()), body.size())) {
      entries.push_back(std::move(*entry));
    }
  }
  return entries;
}

std::vector<Entry> Store::entries_of_book() {
  // Of the kinds from 30 on, which tell the book something; notes, hours and money may be many.
  static const std::string sql = std::string("SELECT ") + entry_columns +
                                 " FROM entry e WHERE e.story=0 AND e.kind>=30 AND NOT EXISTS "
                                 "(SELECT 1 FROM forked f WHERE f.writer=e.writer AND f.seq=e.seq)";
  std::vector<Entry> entries;
  Query query = database_->query(sql);
  while (query.step()) entries.push_back(entry_from(query, 0));
  if (!any_forks()) return entries;
  Query aside = database_->query("SELECT writer, seq, body FROM aside WHERE counts=1 AND story=0");
  while (aside.step()) {
    const auto body = aside.view(2);
    auto entry = entry_from_body({aside.fixed<WriterId>(0), static_cast<std::uint64_t>(aside.number(1))},
                                 reinterpret_cast<const std::uint8_t*>(body.data()), body.size());
    if (entry && entry->kind >= 30) entries.push_back(std::move(*entry));
  }
  return entries;
}

void Store::each_entry(const WriterRow& writer, std::uint64_t first,
                       const std::function<bool(const Entry&, const Hash&)>& visit) {
  static const std::string sql =
      std::string("SELECT ") + entry_columns + ", e.hash FROM entry e WHERE e.writer=? AND e.seq>=? ORDER BY e.seq";
  Query query = database_->query(sql);
  query.bind(writer.no).bind(static_cast<std::int64_t>(first));
  while (query.step()) {
    if (!visit(entry_from(query, 0), query.fixed<Hash>(12))) return;
  }
}

void Store::each_hash(const WriterRow& writer, std::uint64_t first,
                      const std::function<bool(std::uint64_t, const Hash&)>& visit) {
  Query query = database_->query("SELECT seq, hash FROM entry WHERE writer=? AND seq>=? ORDER BY seq");
  query.bind(writer.no).bind(static_cast<std::int64_t>(first));
  while (query.step()) {
    if (!visit(static_cast<std::uint64_t>(query.number(0)), query.fixed<Hash>(1))) return;
  }
}

void Store::each_story_with(WriterNo writer, std::uint64_t first, std::uint64_t last,
                            const std::function<void(StoryNo)>& visit) {
  std::vector<StoryNo> stories;
  {
    Query query =
        database_->query("SELECT DISTINCT story FROM entry WHERE writer=? AND seq>=? AND seq<=? AND story<>0");
    query.bind(writer).bind(static_cast<std::int64_t>(first)).bind(static_cast<std::int64_t>(last));
    while (query.step()) stories.push_back(query.number(0));
  }
  for (StoryNo story : stories) visit(story);
}

// ------------------------------------------------------------------------------------------------ beside the book

namespace {

SideEntry side_from(Query& row) {
  SideEntry side;
  const EntryId id{row.fixed<WriterId>(0), static_cast<std::uint64_t>(row.number(1))};
  side.hash = row.fixed<Hash>(2);
  side.previous = row.fixed<Hash>(3);
  const auto body = row.view(4);
  if (auto entry = entry_from_body(id, reinterpret_cast<const std::uint8_t*>(body.data()), body.size())) {
    side.entry = std::move(*entry);
  }
  side.entry.id = id;
  return side;
}

}  // namespace

bool Store::park(const SideEntry& side) {
  const ByteString body = canonical_body(side.entry);
  Query query = database_->query(
      "INSERT INTO parked(writer, seq, hash, previous, body) VALUES(?,?,?,?,?) "
      "ON CONFLICT DO NOTHING");
  query.bind(side.entry.id.writer).bind(static_cast<std::int64_t>(side.entry.id.seq));
  query.bind(side.hash).bind(side.previous).bind(body).step();
  return database_->changes() > 0;
}

std::vector<SideEntry> Store::parked(const WriterId& writer, std::uint64_t seq) {
  std::vector<SideEntry> all;
  Query query =
      database_->query("SELECT writer, seq, hash, previous, body FROM parked WHERE writer=? AND seq=? ORDER BY hash");
  query.bind(writer).bind(static_cast<std::int64_t>(seq));
  while (query.step()) all.push_back(side_from(query));
  return all;
}

std::vector<SideEntry> Store::all_parked(const WriterId& writer) {
  std::vector<SideEntry> all;
  Query query =
      database_->query("SELECT writer, seq, hash, previous, body FROM parked WHERE writer=? ORDER BY seq, hash");
  query.bind(writer);
  while (query.step()) all.push_back(side_from(query));
  return all;
}

std::vector<WriterId> Store::parked_writers() {
  std::vector<WriterId> all;
  Query query = database_->query("SELECT DISTINCT writer FROM parked ORDER BY writer");
  while (query.step()) all.push_back(query.fixed<WriterId>(0));
  return all;
}

void Store::unpark(const SideEntry& side) {
  database_->query("DELETE FROM parked WHERE writer=? AND seq=? AND hash=?")
      .bind(side.entry.id.writer)
      .bind(static_cast<std::int64_t>(side.entry.id.seq))
      .bind(side.hash)
      .run();
}

std::int64_t Store::parked_count() {
  Query query = database_->query("SELECT count(*) FROM parked");
  return query.step() ? query.number(0) : 0;
}

bool Store::set_aside(const SideEntry& side) {
  const ByteString body = canonical_body(side.entry);
  Query query = database_->query(
      "INSERT INTO aside(writer, seq, hash, previous, story, counts, body) "
      "VALUES(?,?,?,?,?,0,?) ON CONFLICT DO NOTHING");
  query.bind(side.entry.id.writer).bind(static_cast<std::int64_t>(side.entry.id.seq));
  query.bind(side.hash).bind(side.previous).bind(story(story_of(side.entry))).bind(body).step();
  forks_known_ = false;
  return database_->changes() > 0;
}

std::vector<SideEntry> Store::aside(const WriterId& writer) {
  std::vector<SideEntry> all;
  Query query =
      database_->query("SELECT writer, seq, hash, previous, body FROM aside WHERE writer=? ORDER BY seq, hash");
  query.bind(writer);
  while (query.step()) all.push_back(side_from(query));
  return all;
}

std::vector<WriterId> Store::forked_writers() {
  std::vector<WriterId> all;
  Query query = database_->query("SELECT DISTINCT writer FROM aside ORDER BY writer");
  while (query.step()) all.push_back(query.fixed<WriterId>(0));
  return all;
}

void Store::set_forked(const WriterRow& writer, const std::vector<std::uint64_t>& main_out,
                       const std::vector<Hash>& aside_in) {
  database_->query("DELETE FROM forked WHERE writer=?").bind(writer.no).run();
  for (std::uint64_t seq : main_out) {
    database_->query("INSERT INTO forked(writer, seq) VALUES(?,?)")
        .bind(writer.no)
        .bind(static_cast<std::int64_t>(seq))
        .run();
  }
  database_->query("UPDATE aside SET counts=0 WHERE writer=?").bind(writer.id).run();
  for (const Hash& hash : aside_in) {
    database_->query("UPDATE aside SET counts=1 WHERE writer=? AND hash=?").bind(writer.id).bind(hash).run();
  }
}

std::string Store::digest_bytes() {
  load();
  std::vector<std::string> lines;
  const auto number = [](std::uint64_t value) {
    std::string text;
    for (int i = 0; i < 8; ++i) text += static_cast<char>(value >> (8 * i));
    return text;
  };
  const auto raw = [](const auto& value) {
    return std::string(reinterpret_cast<const char*>(value.bytes.data()), value.bytes.size());
  };
  const std::vector<WriterId> forked = forked_writers();
  for (const WriterRow& row : writers_) {
    if (row.last == 0) continue;
    if (std::find(forked.begin(), forked.end(), row.id) == forked.end()) {
      lines.push_back("w" + raw(row.id) + number(row.last) + raw(row.head));
      continue;
    }
    // Which branch stands in the book and which beside it differs between devices; the set of both does not.
    const std::vector<SideEntry> beside = aside(row.id);
    const std::uint64_t fork = beside.front().entry.id.seq;
    for (const SideEntry& side : beside)
      lines.push_back("f" + raw(row.id) + number(side.entry.id.seq) + raw(side.hash));
    each_hash(row, fork, [&](std::uint64_t seq, const Hash& hash) {
      lines.push_back("f" + raw(row.id) + number(seq) + raw(hash));
      return true;
    });
  }
  Query query = database_->query("SELECT writer, seq, hash FROM parked");
  while (query.step()) {
    lines.push_back("p" + query.text(0) + number(static_cast<std::uint64_t>(query.number(1))) + query.text(2));
  }
  std::sort(lines.begin(), lines.end());
  std::string all = "motherbulb book 1";
  for (const std::string& line : lines) all += line;
  return all;
}

}  // namespace motherbulb

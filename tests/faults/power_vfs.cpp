#include "tests/faults/power_vfs.hpp"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <utility>

#include "tests/make.hpp"

namespace motherbulb::faults {

// ------------------------------------------------------------------------------------------------ stand-ins

std::string place(const std::string& name) {
  static const make::Folder folder;
  return folder.file(name);
}

namespace {

Disk* under = nullptr;

void stand_in(const DiskFile& file) {
  std::ofstream out(file.name, std::ios::binary | std::ios::trunc);
  if (!file.bytes.empty()) out.put('*');
}
void no_stand_in(const std::string& name) {
  std::error_code ignored;
  std::filesystem::remove(name, ignored);
}

}  // namespace

bool Disk::under_sqlite() const {
  return under == this;
}
void Disk::put_stand_ins() const {
  for (const auto& [name, file] : files_) stand_in(*file);
}
void Disk::take_stand_ins() const {
  for (const auto& [name, file] : files_) no_stand_in(name);
}
void Disk::look_for_removed() {
  std::vector<std::string> removed;
  for (const auto& [name, file] : files_) {
    if (!std::filesystem::exists(name)) removed.push_back(name);
  }
  for (const std::string& name : removed) remove(name, false);
}

// ------------------------------------------------------------------------------------------------ the disk

Disk::Disk(Image first, std::uint64_t seed) : first_(std::move(first)), chance_(seed) {
  for (const auto& [name, bytes] : first_) {
    auto file = std::make_shared<DiskFile>();
    file->bytes = bytes;
    file->name = name;
    file->number = next_number_++;
    files_[name] = std::move(file);
  }
}

Image Disk::image() const {
  Image seen;
  for (const auto& [name, file] : files_) seen[name] = file->bytes;
  return seen;
}

void Disk::note(Operation operation) {
  if (written_down_) operations_.push_back(std::move(operation));
}

void Disk::acknowledge(std::uint64_t how_many) {
  note({Operation::Kind::acknowledged, -1, how_many, {}, {}});
}

std::optional<Fault::Kind> Disk::fails(Ask ask) {
  if (fault_.kind == Fault::Kind::full && ask != Ask::room) return std::nullopt;
  ++counted_;
  if (fault_.at == 0 || counted_ < fault_.at || (counted_ > fault_.at && !fault_.for_ever)) return std::nullopt;
  ++faults_;
  return fault_.kind;
}

std::shared_ptr<DiskFile> Disk::find(const std::string& name) const {
  const auto found = files_.find(name);
  return found == files_.end() ? nullptr : found->second;
}

std::shared_ptr<DiskFile> Disk::make(const std::string& name, bool journal) {
  auto file = std::make_shared<DiskFile>();
  file->name = name;
  if (name.empty()) return file;
  file->number = next_number_++;
  file->folder_unsynced = journal;
  files_[name] = file;
  note({Operation::Kind::make, file->number, 0, {}, name});
  if (under_sqlite()) stand_in(*file);
  return file;
}

bool Disk::remove(const std::string& name, bool sync_folder) {
  const auto found = files_.find(name);
  if (found == files_.end()) return false;
  const int number = found->second->number;
  files_.erase(found);
  note({Operation::Kind::remove, number, 0, {}, name});
  if (under_sqlite()) no_stand_in(name);
  if (sync_folder) note({Operation::Kind::sync_folder, -1, 0, {}, {}});
  return true;
}

void Disk::write(DiskFile& file, const std::uint8_t* bytes, std::size_t count, std::uint64_t position) {
  const bool was_empty = file.bytes.empty();
  if (file.bytes.size() < position + count) file.bytes.resize(position + count);
  if (count > 0) std::memcpy(file.bytes.data() + position, bytes, count);
  if (was_empty && !file.bytes.empty() && !file.name.empty() && under_sqlite()) stand_in(file);
  if (!file.name.empty()) {
    note({Operation::Kind::write, file.number, position, FileBytes(bytes, bytes + count), {}});
  }
}

void Disk::cut_to(DiskFile& file, std::uint64_t size) {
  if (size < file.bytes.size()) file.bytes.resize(size);
  if (file.bytes.empty() && !file.name.empty() && under_sqlite()) stand_in(file);
  if (!file.name.empty()) note({Operation::Kind::cut_to, file.number, size, {}, {}});
}

void Disk::sync(DiskFile& file) {
  if (file.name.empty()) return;
  note({Operation::Kind::sync, file.number, 0, {}, {}});
  if (file.folder_unsynced) {
    note({Operation::Kind::sync_folder, -1, 0, {}, {}});
    file.folder_unsynced = false;
  }
}

// As Linux does: what could not be brought to the platter counts as clean afterwards, still reads as written, and is
// never tried again (Rebello et al., "Can applications recover from fsync failures?", USENIX ATC 2020). For the cut
// that may come this is as if the writes had never been handed over; they are taken out of what is written down.
void Disk::sync_failed(DiskFile& file) {
  std::size_t since = operations_.size();
  while (since > 0 &&
         !(operations_[since - 1].kind == Operation::Kind::sync && operations_[since - 1].file == file.number)) {
    --since;
  }
  const auto lost = [&](const Operation& operation) {
    return operation.file == file.number && operation.kind == Operation::Kind::write;
  };
  operations_.erase(std::remove_if(operations_.begin() + static_cast<std::ptrdiff_t>(since), operations_.end(), lost),
                    operations_.end());
}

// ------------------------------------------------------------------------------------------------ the VFS

namespace {

struct Handle {
  sqlite3_file base;  // first: SQLite knows no more of it
  std::shared_ptr<DiskFile>* file;
  bool deleted_at_close;
  int lock;
};

Handle& handle(sqlite3_file* file) {
  return *reinterpret_cast<Handle*>(file);
}
DiskFile& lying(sqlite3_file* file) {
  return **handle(file).file;
}

// The code for a fault: `failed` for input and output, or that the disk is full.
int told(std::optional<Fault::Kind> fault, int failed) {
  return !fault ? SQLITE_OK : *fault == Fault::Kind::full ? SQLITE_FULL : failed;
}

int unlock(sqlite3_file* file, int wanted);

int close(sqlite3_file* file) {
  unlock(file, SQLITE_LOCK_NONE);
  Handle& held = handle(file);
  if (held.deleted_at_close && !(*held.file)->name.empty()) under->remove((*held.file)->name, false);
  delete held.file;
  held.file = nullptr;
  return SQLITE_OK;
}

int read(sqlite3_file* file, void* out, int count, sqlite3_int64 position) {
  if (const int code = told(under->fails(Disk::Ask::input_output), SQLITE_IOERR_READ)) return code;
  const FileBytes& bytes = lying(file).bytes;
  const auto wanted = static_cast<std::size_t>(count);
  const auto from = std::min(static_cast<std::size_t>(position), bytes.size());
  const std::size_t there = std::min(wanted, bytes.size() - from);
  if (there > 0) std::memcpy(out, bytes.data() + from, there);
  if (there == wanted) return SQLITE_OK;
  std::memset(static_cast<std::uint8_t*>(out) + there, 0, wanted - there);
  return SQLITE_IOERR_SHORT_READ;
}

int write(sqlite3_file* file, const void* bytes, int count, sqlite3_int64 position) {
  const auto* first = static_cast<const std::uint8_t*>(bytes);
  const auto wanted = static_cast<std::size_t>(count);
  if (const auto fault = under->fails(Disk::Ask::room)) {
    // A write that fails may have got half way.
    under->write(lying(file), first, wanted / 2, static_cast<std::uint64_t>(position));
    return told(fault, SQLITE_IOERR_WRITE);
  }
  under->write(lying(file), first, wanted, static_cast<std::uint64_t>(position));
  return SQLITE_OK;
}

int cut_to(sqlite3_file* file, sqlite3_int64 size) {
  if (const int code = told(under->fails(Disk::Ask::input_output), SQLITE_IOERR_TRUNCATE)) return code;
  under->cut_to(lying(file), static_cast<std::uint64_t>(size));
  return SQLITE_OK;
}

int sync(sqlite3_file* file, int) {
  if (const int code = told(under->fails(Disk::Ask::input_output), SQLITE_IOERR_FSYNC)) {
    under->sync_failed(lying(file));
    return code;
  }
  under->sync(lying(file));
  return SQLITE_OK;
}

int file_size(sqlite3_file* file, sqlite3_int64* size) {
  if (const int code = told(under->fails(Disk::Ask::input_output), SQLITE_IOERR_FSTAT)) return code;
  *size = static_cast<sqlite3_int64>(lying(file).bytes.size());
  return SQLITE_OK;
}

int lock(sqlite3_file* file, int wanted) {
  Handle& held = handle(file);
  DiskFile& on = lying(file);
  if (held.lock >= wanted) return SQLITE_OK;
  if (on.exclusive != nullptr && on.exclusive != file) return SQLITE_BUSY;
  if (wanted >= SQLITE_LOCK_RESERVED && on.reserved != nullptr && on.reserved != file) return SQLITE_BUSY;
  if (held.lock == SQLITE_LOCK_NONE) ++on.shared;
  if (wanted >= SQLITE_LOCK_RESERVED) on.reserved = file;
  if (wanted == SQLITE_LOCK_EXCLUSIVE) {
    if (on.shared > 1) {
      held.lock = SQLITE_LOCK_PENDING;
      return SQLITE_BUSY;
    }
    on.exclusive = file;
  }
  held.lock = wanted;
  return SQLITE_OK;
}

int unlock(sqlite3_file* file, int wanted) {
  Handle& held = handle(file);
  DiskFile& on = lying(file);
  if (held.lock <= wanted) return SQLITE_OK;
  if (on.exclusive == file) on.exclusive = nullptr;
  if (on.reserved == file) on.reserved = nullptr;
  if (wanted == SQLITE_LOCK_NONE) --on.shared;
  held.lock = wanted;
  return SQLITE_OK;
}

int check_reserved(sqlite3_file* file, int* reserved) {
  *reserved = lying(file).reserved != nullptr ? 1 : 0;
  return SQLITE_OK;
}

int control(sqlite3_file*, int, void*) {
  return SQLITE_NOTFOUND;
}
int sector_size(sqlite3_file*) {
  return 4096;
}
int characteristics(sqlite3_file*) {
  return SQLITE_IOCAP_POWERSAFE_OVERWRITE;
}

// Version 1: no shared memory. WAL then works only for a connection that has the file to itself, which is the rule
// here.
const sqlite3_io_methods methods = {
    1,       close,          read,    write,       cut_to,          sync,    file_size, lock,
    unlock,  check_reserved, control, sector_size, characteristics, nullptr, nullptr,   nullptr,
    nullptr, nullptr,        nullptr};

int open(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* flags_out) {
  Handle& held = handle(file);
  held.base.pMethods = nullptr;
  const std::string wanted = name == nullptr ? "" : name;
  if ((flags & SQLITE_OPEN_MAIN_DB) != 0) under->look_for_removed();
  std::shared_ptr<DiskFile> found = wanted.empty() ? nullptr : under->find(wanted);
  if (found == nullptr) {
    if ((flags & SQLITE_OPEN_CREATE) == 0) return SQLITE_CANTOPEN;
    if (const int code = told(under->fails(Disk::Ask::room), SQLITE_CANTOPEN)) {
      return code == SQLITE_FULL ? SQLITE_CANTOPEN : code;  // as SQLite's unix VFS tells of ENOSPC here
    }
    found =
        under->make(wanted, (flags & (SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_SUPER_JOURNAL | SQLITE_OPEN_WAL)) != 0);
  } else if (const int code = told(under->fails(Disk::Ask::input_output), SQLITE_CANTOPEN)) {
    return code;
  }
  held.file = new std::shared_ptr<DiskFile>(std::move(found));
  held.deleted_at_close = (flags & SQLITE_OPEN_DELETEONCLOSE) != 0;
  held.lock = SQLITE_LOCK_NONE;
  held.base.pMethods = &methods;
  if (flags_out != nullptr) *flags_out = flags;
  return SQLITE_OK;
}

int remove(sqlite3_vfs*, const char* name, int sync_folder) {
  if (under->find(name) == nullptr) return SQLITE_IOERR_DELETE_NOENT;
  if (const int code = told(under->fails(Disk::Ask::input_output), SQLITE_IOERR_DELETE)) return code;
  under->remove(name, sync_folder != 0);
  return SQLITE_OK;
}

int access(sqlite3_vfs*, const char* name, int, int* there) {
  // As the unix VFS has it, an empty file counts as none.
  const auto found = under->find(name);
  *there = found != nullptr && !found->bytes.empty() ? 1 : 0;
  return SQLITE_OK;
}

int full_name(sqlite3_vfs*, const char* name, int size, char* out) {
  sqlite3_snprintf(size, out, "%s", name);
  return SQLITE_OK;
}

int randomness(sqlite3_vfs*, int count, char* out) {
  for (int i = 0; i < count; ++i) out[i] = static_cast<char>(under->chance().next() >> 32);
  return count;
}
int sleep(sqlite3_vfs*, int microseconds) {
  return microseconds;
}
int current_time(sqlite3_vfs*, double* julian_day) {
  *julian_day = 2461101.5;
  return SQLITE_OK;
}
int last_error(sqlite3_vfs*, int, char*) {
  return 0;
}

sqlite3_vfs* vfs() {
  static sqlite3_vfs made = [] {
    sqlite3_vfs v{};
    v.iVersion = 1;
    v.szOsFile = static_cast<int>(sizeof(Handle));
    v.mxPathname = 512;
    v.zName = "motherbulb-power";
    v.xOpen = open;
    v.xDelete = remove;
    v.xAccess = access;
    v.xFullPathname = full_name;
    v.xRandomness = randomness;
    v.xSleep = sleep;
    v.xCurrentTime = current_time;
    v.xGetLastError = last_error;
    return v;
  }();
  return &made;
}

}  // namespace

UnderSqlite::UnderSqlite(Disk& disk) : before_(std::exchange(under, &disk)) {
  if (before_ != nullptr) before_->take_stand_ins();
  disk.put_stand_ins();
  if (before_ == nullptr) {
    sqlite3_initialize();
    sqlite3_vfs_register(vfs(), 1);
  }
}

UnderSqlite::~UnderSqlite() {
  under->take_stand_ins();
  under = before_;
  if (under == nullptr) {
    sqlite3_vfs_unregister(vfs());
  } else {
    under->put_stand_ins();
  }
}

// ------------------------------------------------------------------------------------------------ power cuts

namespace {

constexpr std::size_t sector = 512;

void put(FileBytes& file, const std::uint8_t* bytes, std::size_t count, std::uint64_t position, Chance& chance,
         bool rubbish) {
  if (count == 0) return;
  const std::size_t before = file.size();
  if (before < position + count) file.resize(position + count);
  if (rubbish) {
    for (std::size_t i = before; i < position; ++i) file[i] = static_cast<std::uint8_t>(chance.next() >> 32);
  }
  std::memcpy(file.data() + position, bytes, count);
}

}  // namespace

Cuts::Cuts(const Image& first, const std::vector<Operation>& operations) : operations_(operations) {
  for (const auto& [name, bytes] : first) {
    names_[name] = static_cast<int>(files_.size());
    files_.push_back({bytes, {}});
  }
}

bool Cuts::step() {
  if (at_ == operations_.size()) return false;
  const Operation& next = operations_[at_++];
  switch (next.kind) {
    case Operation::Kind::make:
      if (files_.size() <= static_cast<std::size_t>(next.file)) files_.resize(static_cast<std::size_t>(next.file) + 1);
      names_pending_.push_back(&next);
      break;
    case Operation::Kind::remove:
      names_pending_.push_back(&next);
      break;
    case Operation::Kind::sync_folder:
      for (const Operation* pending : names_pending_) {
        if (pending->kind == Operation::Kind::make) {
          names_[pending->name] = pending->file;
        } else {
          names_.erase(pending->name);
        }
      }
      names_pending_.clear();
      break;
    case Operation::Kind::write:
    case Operation::Kind::cut_to:
      files_[static_cast<std::size_t>(next.file)].unsynced.push_back(&next);
      break;
    case Operation::Kind::sync: {
      Lying& file = files_[static_cast<std::size_t>(next.file)];
      for (const Operation* pending : file.unsynced) {
        if (pending->kind == Operation::Kind::cut_to) {
          if (pending->position < file.synced.size()) file.synced.resize(pending->position);
        } else {
          if (file.synced.size() < pending->position + pending->bytes.size()) {
            file.synced.resize(pending->position + pending->bytes.size());
          }
          std::memcpy(file.synced.data() + pending->position, pending->bytes.data(), pending->bytes.size());
        }
      }
      file.unsynced.clear();
      break;
    }
    case Operation::Kind::acknowledged:
      acknowledged_ = next.position;
      break;
  }
  return true;
}

Image Cuts::draw(int luck, Chance& chance) const {
  std::map<std::string, int> names = names_;
  const std::uint64_t in_order = chance.below(names_pending_.size() + 1);
  std::uint64_t so_far = 0;
  for (const Operation* pending : names_pending_) {
    const bool arrived = luck == 1 || (luck == 2 && so_far < in_order) || (luck > 2 && chance.one_in(2));
    ++so_far;
    if (!arrived) continue;
    if (pending->kind == Operation::Kind::make) {
      names[pending->name] = pending->file;
    } else {
      names.erase(pending->name);
    }
  }
  const bool rubbish = luck > 2 && chance.one_in(2);
  // Of ten sectors so many arrive; the same for the whole cut, so that nearly all and nearly none come up too.
  const std::uint64_t of_ten = 1 + chance.below(9);
  Image left;
  for (const auto& [name, number] : names) {
    const Lying& file = files_[static_cast<std::size_t>(number)];
    FileBytes& bytes = left[name] = file.synced;
    const std::uint64_t first_few = chance.below(file.unsynced.size() + 1);
    for (std::size_t i = 0; i < file.unsynced.size() && luck != 0; ++i) {
      const Operation& pending = *file.unsynced[i];
      if (luck == 2 && i > first_few) break;
      if (pending.kind == Operation::Kind::cut_to) {
        if (luck <= 2 || chance.below(10) < of_ten) bytes.resize(std::min<std::size_t>(bytes.size(), pending.position));
        continue;
      }
      std::size_t from = 0;
      while (from < pending.bytes.size()) {
        const std::size_t end_of_sector = sector - (pending.position + from) % sector;
        const std::size_t size = std::min(end_of_sector, pending.bytes.size() - from);
        std::size_t arrived = size;
        if (luck == 2 && i == first_few) {
          arrived = chance.below(size + 1);  // and nothing of the sectors after it
        } else if (luck > 2) {
          arrived = chance.below(10) >= of_ten ? 0 : chance.one_in(16) ? chance.below(size) : size;
        }
        put(bytes, pending.bytes.data() + from, arrived, pending.position + from, chance, rubbish);
        if (luck == 2 && arrived < size) break;
        from += size;
      }
    }
  }
  return left;
}

}  // namespace motherbulb::faults

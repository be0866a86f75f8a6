// What merging asks for: look for parcels, take them in, settle what they raise.

#include <algorithm>
#include <filesystem>
#include <memory>
#include <system_error>

#include "app/app.hpp"
#include "app/words.hpp"
#include "core/table.hpp"

namespace motherbulb {

namespace {

// A parcel that lies in memory and may be asked for many times.
class HeldParcel : public ByteSource {
public:
  explicit HeldParcel(std::shared_ptr<MemorySource> held) : held_(std::move(held)) {}
  std::uint64_t size() const override { return held_->size(); }
  std::string name() const override { return held_->name(); }
  Outcome read(std::uint64_t position, std::uint8_t* out, std::size_t count) override {
    return held_->read(position, out, count);
  }

private:
  std::shared_ptr<MemorySource> held_;
};

void forget_dropped(MergeDraft& merge, const std::string& path) {
  auto& files = merge.dropped;
  files.erase(std::remove_if(files.begin(), files.end(), [&](const FoundParcel& one) { return one.path == path; }),
              files.end());
}

// The backup that was read from that file; null: none.
const DroppedBackup* held_backup(const MergeDraft& merge, const FoundParcel& file) {
  for (const DroppedBackup& one : merge.backups) {
    if (one.file == file) return &one;
  }
  return nullptr;
}

void forget_backup(MergeDraft& merge, const std::string& path) {
  auto& held = merge.backups;
  held.erase(std::remove_if(held.begin(), held.end(), [&](const DroppedBackup& one) { return one.file.path == path; }),
             held.end());
}

}  // namespace

void App::take_dropped(const std::string& path) {
  if (!surroundings_.look_at_file) return;
  end_work_elsewhere();
  const auto file = surroundings_.look_at_file(path);
  if (ui_.screen != Screen::merge) go(Go{Screen::merge, {}});
  if (!file) return fail(say(words().cannot_read, path), file.error());
  take_in(*file);
}

App::DroppedKind App::kind_of(const FoundParcel& file) const {
  if (!surroundings_.open_file) return DroppedKind::parcel;
  const auto source = surroundings_.open_file(file.path);
  if (!source) return DroppedKind::parcel;
  return looks_like_book(**source)    ? DroppedKind::backup
         : looks_like_table(**source) ? DroppedKind::table
                                      : DroppedKind::parcel;
}

Result<std::unique_ptr<ByteSource>> App::open_parcel(const FoundParcel& file) const {
  if (const DroppedBackup* held = held_backup(ui_.merge, file))
    return std::unique_ptr<ByteSource>(std::make_unique<HeldParcel>(held->parcel));
  return surroundings_.open_file(file.path);
}

Outcome App::read_backup(const FoundParcel& file) {
  Busy busy(*this, say(words().backup_reading, file.name));
  MemorySink sink;
  if (Outcome read = Logbook::parcel_of_backup(file.path, sink, host_, &busy); !read) return read;
  forget_backup(ui_.merge, file.path);
  ui_.merge.backups.push_back({file, std::make_shared<MemorySource>(sink.bytes(), file.path)});
  return Done{};
}

void App::take_in(const FoundParcel& file) {
  MergeDraft& merge = ui_.merge;
  // Not even looked into: whoever closes a file of the open book gives away its lock.
  std::error_code unknown;
  if (std::filesystem::equivalent(file.path, book_.path(), unknown) && !unknown)
    return fail(say(words().not_taken_in, file.name), refusal(std::string(words().backup_is_open_book)));
  const DroppedKind kind = kind_of(file);
  if (kind == DroppedKind::table) {
    // Before those that were taken in already; one that is dropped again waits anew.
    auto& tables = merge.tables;
    tables.erase(std::remove_if(tables.begin(), tables.end(),
                                [&](const DroppedTable& one) { return one.taken || one.file.path == file.path; }),
                 tables.end());
    tables.push_back(DroppedTable{file, false, {}});
    return;
  }
  if (kind == DroppedKind::backup) {
    // It lies there still once it was taken in, or refused, and is no parcel that waits.
    merge.looked_into.insert(file.path);
    // One that was read before still waits, whatever comes of reading it again.
    if (const Outcome read = read_backup(file); !read) {
      if (read.error().kind == ErrorKind::cancelled)
        return fail(say(words().not_taken_in, file.name),
                    Error{ErrorKind::cancelled, std::string(words().stopped_by_you), {}});
      Error error = read.error();
      error.what = with_short_name(error.what, file);
      return fail(say(words().cannot_read, file.name), error);
    }
  }
  forget_dropped(merge, file.path);
  merge.dropped.push_back(file);
  look_for_parcels();
  for (const ParcelPreview& one : ui_.merge.waiting) {
    if (one.file.path == file.path && !one.readable)
      ui_.trouble = Mishap{say(words().cannot_read, one.file.name), with_short_name(one.fault, one.file)};
  }
}

void App::look_for_parcels() {
  MergeDraft& merge = ui_.merge;
  merge.looked = true;
  last_look_ms_ = frame_ms_;
  std::vector<FoundParcel> files = merge.dropped;
  if (surroundings_.look_for_parcels) {
    for (const FoundParcel& found : surroundings_.look_for_parcels()) {
      if (std::none_of(files.begin(), files.end(), [&](const FoundParcel& one) { return one.path == found.path; }))
        files.push_back(found);
    }
  }
  refresh_rows();
  const bool book_changed = merge.looked_at_revision != rows_.revision();
  std::vector<ParcelPreview> waiting;
  for (const FoundParcel& file : files) {
    const auto before = std::find_if(merge.waiting.begin(), merge.waiting.end(),
                                     [&](const ParcelPreview& one) { return one.file == file; });
    if (before != merge.waiting.end() && !book_changed) {
      waiting.push_back(*before);
      continue;
    }
    if (!surroundings_.open_file) continue;
    auto source = open_parcel(file);
    const DroppedBackup* held = held_backup(merge, file);
    // A table waits in a place of its own.
    if (source && looks_like_table(**source)) continue;
    if (held == nullptr && merge.looked_into.count(file.path) != 0) continue;
    ParcelPreview preview;
    preview.file = file;
    if (source) {
      preview = preview_parcel(file, **source, book_.vector(), rows_.devices());
      preview.backup = held != nullptr;
    } else {
      preview.fault = source.error().what;
    }
    waiting.push_back(std::move(preview));
  }
  merge.waiting = std::move(waiting);
  merge.looked_at_revision = rows_.revision();
}

void App::merge() {
  MergeDraft& merge = ui_.merge;
  std::vector<std::unique_ptr<ByteSource>> sources;
  std::vector<ByteSource*> parcels;
  std::vector<ParcelPreview> taken;
  for (const ParcelPreview& one : merge.waiting) {
    if (!one.readable || one.fresh == 0) continue;
    auto source = open_parcel(one.file);
    if (!source) return fail(say(words().cannot_read, one.file.name), source.error());
    parcels.push_back(source->get());
    sources.push_back(std::move(*source));
    taken.push_back(one);
  }
  Busy busy(*this, std::string(words().merging));
  const auto report = book_.merge(parcels, &busy);
  last_change_ms_ = frame_ms_;
  rest_due_ = true;
  if (!report) {
    Error error = report.error();
    for (const ParcelPreview& one : taken) error.what = with_short_name(error.what, one.file);
    return fail(words().not_merged, error);
  }
  when_safe([this, taken = std::move(taken), report = *report](const std::optional<Error>& hindered) {
    if (hindered) return fail(words().not_merged, *hindered);
    ui_.trouble.reset();
    ui_.merge.merged = taken;
    for (const ParcelPreview& one : taken) {
      if (!one.backup) continue;
      forget_backup(ui_.merge, one.file.path);
      forget_dropped(ui_.merge, one.file.path);
    }
    ui_.merge.merged_at = now();
    ui_.last_kept = ui_.merge.merged_at;
    // What another device's book knew of this one's work lies there too.
    if (const DeviceRow* own = rows_.own_device()) {
      const WriterId self = own->writer;
      for (const ParcelPreview& one : taken) {
        for (const Known& known : one.knows) {
          if (known.writer == self) note_handed_out(known.last);
        }
      }
    }
    ui_.kept =
        Kept{say(words().merge_kept, counted(report.new_entries, "entry", "entries"), report.matters), {}, ui_.helper};
    look_for_parcels();
  });
}

void App::settle(const std::vector<std::pair<Matter, Take>>& answers) {
  if (answers.empty()) return;
  std::vector<Command> commands;
  for (const auto& [matter, take] : answers) {
    Settle settle;
    settle.matter = matter.id;
    settle.take = take;
    commands.emplace_back(settle);
  }
  const std::string slip =
      answers.size() == 1
          ? say(words().settled_kept, title_of(answers.front().first.kind))
          : say(words().settled_all_kept, counted(static_cast<std::int64_t>(answers.size()), "matter", "matters"));
  keep(Keep{std::move(commands), slip, {}, false, std::nullopt}, false);
}

}  // namespace motherbulb

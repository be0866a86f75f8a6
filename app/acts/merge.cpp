// What merging asks for: look for parcels, take them in, settle what they raise.

#include <algorithm>

#include "app/app.hpp"
#include "app/words.hpp"
#include "core/table.hpp"

namespace motherbulb {

void App::take_dropped(const std::string& path) {
  if (!surroundings_.look_at_file) return;
  const auto file = surroundings_.look_at_file(path);
  if (ui_.screen != Screen::merge) go(Go{Screen::merge, {}});
  if (!file) return fail(say(words().cannot_read, path), file.error());
  take_in(*file);
}

bool App::is_table(const FoundParcel& file) const {
  if (!surroundings_.open_file) return false;
  const auto source = surroundings_.open_file(file.path);
  return source && looks_like_table(**source);
}

void App::take_in(const FoundParcel& file) {
  if (is_table(file)) {
    // Before those that were taken in already; one that is dropped again waits anew.
    auto& tables = ui_.merge.tables;
    tables.erase(std::remove_if(tables.begin(), tables.end(),
                                [&](const DroppedTable& one) { return one.taken || one.file.path == file.path; }),
                 tables.end());
    tables.push_back(DroppedTable{file, false, {}});
    return;
  }
  ui_.merge.dropped.erase(std::remove_if(ui_.merge.dropped.begin(), ui_.merge.dropped.end(),
                                         [&](const FoundParcel& one) { return one.path == file.path; }),
                          ui_.merge.dropped.end());
  ui_.merge.dropped.push_back(file);
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
    auto source = surroundings_.open_file(file.path);
    if (source && looks_like_table(**source)) continue;
    ParcelPreview preview;
    preview.file = file;
    if (source) {
      preview = preview_parcel(file, **source, book_.vector(), rows_.devices());
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
    auto source = surroundings_.open_file(one.file.path);
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

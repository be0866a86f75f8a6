// What parcels & backup asks for: write a parcel or a backup under a name of its own, and check the book. What fails or
// is stopped leaves nothing behind.

#include <algorithm>

#include "app/app.hpp"
#include "app/words.hpp"
#include "app/words/codes.hpp"
#include "app/words/house.hpp"
#include "core/file_names.hpp"
#include "core/table.hpp"
#include "shared/ids.hpp"

namespace motherbulb {
namespace {

constexpr int most_of_a_day = 500;  // parcels of one helper in one folder

std::string device_name_of(const DeviceRow* own, const std::string& letter) {
  return own != nullptr && !own->name.empty() ? own->name : letter;
}

// Where a person stopped it, in those words.
Error told_of(Error error, std::string_view stopped) {
  if (error.kind == ErrorKind::cancelled) error.what = stopped;
  return error;
}

// Of the parcel that was found here, how far that device's book knew each writer.
std::optional<std::vector<Known>> known_by(const MergeDraft& merge, const WriterId& device) {
  std::optional<std::vector<Known>> known;
  std::uint64_t most = 0;
  for (const auto* parcels : {&merge.merged, &merge.waiting}) {
    for (const ParcelPreview& one : *parcels) {
      if (!one.readable || !(one.written_by == device)) continue;
      std::uint64_t all = 0;
      for (const Known& writer : one.knows) all += writer.last;
      if (known && all < most) continue;
      known = one.knows;
      most = all;
    }
  }
  return known;
}

}  // namespace

void App::look_for_places() {
  HouseDraft& house = ui_.house;
  house.places = surroundings_.places_to_write ? surroundings_.places_to_write() : std::vector<PlaceToWrite>{};
  const bool still_there = std::any_of(house.places.begin(), house.places.end(),
                                       [&](const PlaceToWrite& one) { return one.folder == house.place; });
  if (!still_there) house.place = house.places.empty() ? "" : house.places.front().folder;
}

std::string App::new_path(const std::string& folder, const std::vector<std::string>& parts, std::string_view ending) {
  std::string path;
  for (int nth = 1; nth <= most_of_a_day; ++nth) {
    path = folder + "/" + file_name(parts, local_day(now()), ending, nth);
    if (!surroundings_.file_is_there || !surroundings_.file_is_there(path)) return path;
  }
  return "";
}

Outcome App::write_whole(const std::string& path, const std::function<Outcome(ByteSink&)>& fill) {
  auto sink = surroundings_.write_file(path);
  if (!sink) return sink.error();
  if (Outcome filled = fill(**sink); !filled) return filled;
  return (*sink)->commit();
}

namespace {

PlaceToWrite place_named(const HouseDraft& house, const std::string& folder) {
  for (const PlaceToWrite& one : house.places) {
    if (one.folder == folder) return one;
  }
  return {folder, folder, true};
}

std::string name_in(const std::string& path) {
  return path.substr(path.rfind('/') + 1);
}

}  // namespace

void App::hand_out(const HandOut& wish) {
  const HouseWords& w = house_words();
  if (!surroundings_.write_file) return;
  std::optional<std::vector<Known>> known;
  if (wish.lacking) known = known_by(ui_.merge, *wish.lacking);
  const std::string device = device_name_of(rows_.own_device(), book_.device_letter());
  const std::string path = new_path(wish.folder, {ui_.helper, device}, ".parcel");
  if (path.empty())
    return fail(w.parcel_failed, refusal(wish.folder + " holds too many parcels of this day; clear some away"));
  std::int64_t entries = 0;
  {
    Busy busy(*this, std::string(w.parcel_working));
    const Outcome outcome = write_whole(path, [&](ByteSink& sink) -> Outcome {
      if (Outcome written = book_.write_parcel(sink, known ? &*known : nullptr, &busy); !written) return written;
      // Asked once more before it comes under its name: then it is there whole.
      if (!busy.go_on(1)) return Error{ErrorKind::cancelled, "", {}};
      return Done{};
    });
    if (!outcome) return fail(w.parcel_failed, told_of(outcome.error(), w.stopped));
  }
  if (surroundings_.hand_over) surroundings_.hand_over(path);
  if (const DeviceRow* own = rows_.own_device()) note_handed_out(static_cast<std::uint64_t>(own->entries));
  entries = lacking_entries(book_.vector(), known ? &*known : nullptr);
  ui_.trouble.reset();
  ui_.house.too_much_for_codes = false;
  ui_.house.handed_out = HouseDraft::Written{name_in(path), place_named(ui_.house, wish.folder), entries, now()};
  ui_.kept = Kept{say(w.parcel_kept, counted(entries, "entry", "entries")), {}, ui_.helper};
  look_for_parcels();
}

void App::note_handed_out(std::uint64_t upto) {
  const DeviceRow* own = rows_.own_device();
  if (own == nullptr) return;
  const std::string writer = hex(own->writer);
  if (ui_.handed_out.writer != writer) ui_.handed_out = {writer, 0};
  ui_.handed_out.upto = std::max(ui_.handed_out.upto, upto);
}

// Asked of devices that may take back the room in which they keep the book.
void App::look_at_storage() {
  ui_.at_risk = StorageRisk::none;
  const DeviceStorage storage = surroundings_.storage ? surroundings_.storage() : DeviceStorage{};
  if (!storage.known) return;
  constexpr double nearly = 0.9, least_room = 20e6;
  if (storage.allowed > 0 && (storage.used > nearly * storage.allowed || storage.allowed - storage.used < least_room)) {
    ui_.at_risk = StorageRisk::full;
    return;
  }
  const DeviceRow* own = rows_.own_device();
  if (own == nullptr) return;
  const std::uint64_t elsewhere = ui_.handed_out.writer == hex(own->writer) ? ui_.handed_out.upto : 0;
  // Asked of the book once for each entry, not in each frame.
  const EntryId first{own->writer, elsewhere + 1};
  if (!only_here_ms_ || !(only_here_ == first)) {
    only_here_ = first;
    only_here_ms_ = book_.written_at(first);
  }
  if (!only_here_ms_) return;
  if (local_day(moment(*only_here_ms_, host_.offset_minutes(*only_here_ms_))) < local_day(now())) {
    ui_.at_risk = StorageRisk::only_here;
  } else if (!storage.lasting) {
    ui_.at_risk = StorageRisk::may_be_cleared;
  }
}

namespace {

// Takes what goes into so many codes, and no more: a large book is not held in memory to find out that it is large.
class FewBytes : public ByteSink {
public:
  Outcome write(const std::uint8_t* bytes, std::size_t count) override {
    too_many_ = too_many_ || count > most_shown_codes * code_content - bytes_.size();
    if (too_many_) return refusal("this is too much for codes; a file is the way");
    bytes_.insert(bytes_.end(), bytes, bytes + count);
    return Done{};
  }
  Outcome commit() override { return Done{}; }
  [[nodiscard]] bool too_many() const { return too_many_; }
  [[nodiscard]] const std::vector<std::uint8_t>& bytes() const { return bytes_; }

private:
  std::vector<std::uint8_t> bytes_;
  bool too_many_ = false;
};

}  // namespace

void App::show_codes(const ShowCodes& wish) {
  const HouseWords& w = house_words();
  std::optional<std::vector<Known>> known;
  if (wish.lacking) known = known_by(ui_.merge, *wish.lacking);
  FewBytes sink;
  {
    Busy busy(*this, std::string(w.parcel_working));
    const Outcome outcome = book_.write_parcel(sink, known ? &*known : nullptr, &busy);
    if (sink.too_many()) {
      ui_.house.too_much_for_codes = true;
      return;
    }
    if (!outcome) return fail(w.parcel_failed, told_of(outcome.error(), w.stopped));
  }
  auto texts = cut_into_codes(sink.bytes());
  if (!texts) return fail(w.parcel_failed, texts.error());
  ui_.trouble.reset();
  go(Go{Screen::codes, {}});
  ui_.codes.texts = std::move(*texts);
  ui_.codes.entries = lacking_entries(book_.vector(), known ? &*known : nullptr);
  // All are as large as the first, which is never shorter than another: the picture does not jump.
  ui_.codes.version = code_symbol(ui_.codes.texts.front()).version;
  code_since_ms_ = frame_ms_;
}

void App::back_up(const BackUp& wish) {
  const HouseWords& w = house_words();
  const std::string device = device_name_of(rows_.own_device(), book_.device_letter());
  const std::string path = new_path(wish.folder, {std::string(w.backup_part), device}, ".book");
  if (path.empty())
    return fail(w.backup_failed, refusal(wish.folder + " holds too many backups of this day; clear some away"));
  {
    Busy busy(*this, std::string(w.backup_working));
    const Outcome outcome = book_.backup(path, &busy);
    if (!outcome) return fail(w.backup_failed, told_of(outcome.error(), w.stopped));
  }
  if (surroundings_.hand_over) surroundings_.hand_over(path);
  ui_.trouble.reset();
  ui_.house.backed_up =
      HouseDraft::Written{name_in(path), place_named(ui_.house, wish.folder), book_.entry_count(), now()};
  ui_.kept = Kept{say(w.backup_kept, counted(book_.entry_count(), "entry", "entries")), {}, ui_.helper};
}

void App::write_table(const WriteTable& wish) {
  const HouseWords& w = house_words();
  if (!surroundings_.write_file) return;
  const std::string device = device_name_of(rows_.own_device(), book_.device_letter());
  const std::string path = new_path(wish.folder, {std::string(w.table_part), device}, ".csv");
  if (path.empty())
    return fail(w.table_failed, refusal(wish.folder + " holds too many tables of this day; clear some away"));
  ExportReport report;
  {
    Busy busy(*this, std::string(w.table_working));
    const Outcome outcome = write_whole(path, [&](ByteSink& sink) -> Outcome {
      const auto written = export_table(book_, sink, &busy);
      if (!written) return written.error();
      report = *written;
      return Done{};
    });
    if (!outcome) return fail(w.table_failed, told_of(outcome.error(), w.stopped));
  }
  if (surroundings_.hand_over) surroundings_.hand_over(path);
  ui_.trouble.reset();
  ui_.house.table = HouseDraft::Written{name_in(path), place_named(ui_.house, wish.folder), report.rows, now()};
  const std::string rows = counted(report.rows, "row", "rows");
  ui_.kept = Kept{report.left_out == 0 ? say(w.table_kept, rows)
                                       : say(w.table_kept_without, rows, counted(report.left_out, "fact", "facts")),
                  {},
                  ui_.helper};
}

void App::write_out(const WriteOut& wish) {
  const HouseWords& w = house_words();
  if (!surroundings_.write_file) return;
  const std::string path = new_path(wish.folder, wish.name, wish.ending);
  if (path.empty())
    return fail(w.page_failed, refusal(wish.folder + " holds too many such files of this day; clear some away"));
  const Outcome outcome = write_whole(path, [&](ByteSink& sink) {
    return sink.write(reinterpret_cast<const std::uint8_t*>(wish.content.data()), wish.content.size());
  });
  if (!outcome) return fail(w.page_failed, outcome.error());
  if (surroundings_.hand_over) surroundings_.hand_over(path);
  ui_.trouble.reset();
  ui_.kept = Kept{say(wish.slip, name_in(path)), {}, ui_.helper};
}

void App::check_book() {
  const HouseWords& w = house_words();
  Busy busy(*this, std::string(w.check_working));
  const auto report = book_.check(&busy);
  if (!report) return fail(w.check_failed, told_of(report.error(), w.check_stopped));
  ui_.trouble.reset();
  ui_.house.checked = *report;
  ui_.house.checked_at = now();
}

}  // namespace motherbulb

// What parcels & backup asks for: write a parcel or a backup under a name of its own, and check the book. What fails or
// is stopped leaves nothing behind.

#include <algorithm>

#include "app/app.hpp"
#include "app/words.hpp"
#include "app/words/house.hpp"
#include "core/file_names.hpp"

namespace motherbulb {
namespace {

constexpr int most_of_a_day = 500;  // parcels of one helper in one folder

std::string device_name_of(const std::vector<DeviceRow>& devices, const std::string& letter) {
  for (const DeviceRow& device : devices) {
    if (device.self && !device.name.empty()) return device.name;
  }
  return letter;
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
  const std::string device = device_name_of(rows_.devices(), book_.device_letter());
  const std::string path = new_path(wish.folder, {ui_.helper, device}, ".parcel");
  if (path.empty())
    return fail(w.parcel_failed, refusal(wish.folder + " holds too many parcels of this day; clear some away"));
  std::int64_t entries = 0;
  {
    auto sink = surroundings_.write_file(path);
    if (!sink) return fail(w.parcel_failed, sink.error());
    Busy busy(*this, std::string(w.parcel_working));
    Outcome outcome = book_.write_parcel(**sink, known ? &*known : nullptr, &busy);
    // Asked once more before it comes under its name: then it is there whole.
    if (outcome && !busy.go_on(1)) outcome = Error{ErrorKind::cancelled, "", {}};
    if (outcome) outcome = (*sink)->commit();
    if (!outcome) {
      Error error = outcome.error();
      if (error.kind == ErrorKind::cancelled) error.what = w.stopped;
      return fail(w.parcel_failed, error);
    }
  }
  entries = lacking_entries(book_.vector(), known ? &*known : nullptr);
  ui_.trouble.reset();
  ui_.house.handed_out = HouseDraft::Written{name_in(path), place_named(ui_.house, wish.folder), entries, now()};
  ui_.kept = Kept{say(w.parcel_kept, counted(entries, "entry", "entries")), {}, ui_.helper};
  look_for_parcels();
}

void App::back_up(const BackUp& wish) {
  const HouseWords& w = house_words();
  const std::string device = device_name_of(rows_.devices(), book_.device_letter());
  const std::string path = new_path(wish.folder, {std::string(w.backup_part), device}, ".book");
  if (path.empty())
    return fail(w.backup_failed, refusal(wish.folder + " holds too many backups of this day; clear some away"));
  {
    Busy busy(*this, std::string(w.backup_working));
    const Outcome outcome = book_.backup(path, &busy);
    if (!outcome) {
      Error error = outcome.error();
      if (error.kind == ErrorKind::cancelled) error.what = w.stopped;
      return fail(w.backup_failed, error);
    }
  }
  ui_.trouble.reset();
  ui_.house.backed_up =
      HouseDraft::Written{name_in(path), place_named(ui_.house, wish.folder), book_.entry_count(), now()};
  ui_.kept = Kept{say(w.backup_kept, counted(book_.entry_count(), "entry", "entries")), {}, ui_.helper};
}

void App::write_out(const WriteOut& wish) {
  const HouseWords& w = house_words();
  if (!surroundings_.write_file) return;
  const std::string path = new_path(wish.folder, wish.name, wish.ending);
  if (path.empty())
    return fail(w.page_failed, refusal(wish.folder + " holds too many such files of this day; clear some away"));
  auto sink = surroundings_.write_file(path);
  if (!sink) return fail(w.page_failed, sink.error());
  Outcome outcome = (*sink)->write(reinterpret_cast<const std::uint8_t*>(wish.content.data()), wish.content.size());
  if (outcome) outcome = (*sink)->commit();
  if (!outcome) return fail(w.page_failed, outcome.error());
  ui_.trouble.reset();
  ui_.kept = Kept{say(wish.slip, name_in(path)), {}, ui_.helper};
}

void App::check_book() {
  const HouseWords& w = house_words();
  Busy busy(*this, std::string(w.check_working));
  const auto report = book_.check(&busy);
  if (!report) {
    Error error = report.error();
    if (error.kind == ErrorKind::cancelled) error.what = w.check_stopped;
    return fail(w.check_failed, error);
  }
  ui_.trouble.reset();
  ui_.house.checked = *report;
  ui_.house.checked_at = now();
}

}  // namespace motherbulb

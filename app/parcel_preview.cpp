#include "app/parcel_preview.hpp"

#include <algorithm>
#include <map>

#include "core/state.hpp"
#include "shared/parcel.hpp"

namespace motherbulb {
namespace {

void add(DayCounts& counts, const Payload& fact) {
  if (const auto* unpotted = std::get_if<Unpotted>(&fact)) {
    ++counts.unpotted;
    counts.bulbs += total(unpotted->lines);
    counts.lost += total(unpotted->dead);
  } else if (const auto* divided = std::get_if<Divided>(&fact)) {
    ++counts.unpotted;
    counts.bulbs += total(divided->lines);
    counts.lost += total(divided->dead);
  } else if (const auto* lost = std::get_if<Lost>(&fact)) {
    counts.lost += total(lost->lines);
  } else if (std::holds_alternative<Watered>(fact)) {
    ++counts.watered;
  } else if (std::holds_alternative<Damage>(fact)) {
    ++counts.damage;
  } else if (std::holds_alternative<Moved>(fact)) {
    ++counts.moved;
  }
}

std::uint64_t known_up_to(const std::vector<Known>& known, const WriterId& writer) {
  for (const Known& one : known) {
    if (one.writer == writer) return one.last;
  }
  return 0;
}

}  // namespace

std::string with_short_name(std::string text, const FoundParcel& file) {
  for (auto at = text.find(file.path); at != std::string::npos; at = text.find(file.path, at + file.name.size())) {
    text.replace(at, file.path.size(), file.name);
  }
  return text;
}

DayCounts& DayCounts::operator+=(const DayCounts& other) {
  unpotted += other.unpotted;
  bulbs += other.bulbs;
  lost += other.lost;
  watered += other.watered;
  damage += other.damage;
  moved += other.moved;
  return *this;
}

std::int64_t lacking_entries(const std::vector<Known>& here, const std::vector<Known>* known_there) {
  std::int64_t lacking = 0;
  for (const Known& one : here) {
    const std::uint64_t there = known_there == nullptr ? 0 : known_up_to(*known_there, one.writer);
    if (there < one.last) lacking += static_cast<std::int64_t>(one.last - there);
  }
  return lacking;
}

ParcelPreview preview_parcel(const FoundParcel& file, ByteSource& source, const std::vector<Known>& known_here,
                             const std::vector<DeviceRow>& devices) {
  ParcelPreview view;
  view.file = file;
  const auto refuse = [&](const Error& error) {
    view.fault = error.what;
    return view;
  };
  auto reader = ParcelReader::open(source);
  if (!reader) return refuse(reader.error());
  view.written_by = (*reader)->head().written_by;
  view.knows = (*reader)->vector();
  for (const DeviceRow& device : devices) {
    if (device.writer == view.written_by) view.device = device.name;
  }
  std::map<std::string, std::int64_t> written;
  while (true) {
    auto run = (*reader)->next_run();
    if (!run) return refuse(run.error());
    if (!*run) break;
    const std::uint64_t known = known_up_to(known_here, (*run)->writer);
    Entry entry;
    Hash hash;
    while (true) {
      const auto more = (*reader)->next_entry(entry, hash);
      if (!more) return refuse(more.error());
      if (!*more) break;
      if (entry.id.seq <= known) {
        ++view.known;
        continue;
      }
      ++view.fresh;
      ++written[entry.helper];
      const Payload fact = decode(entry.kind, entry.payload);
      add(view.brought, fact);
      if (const auto* named = std::get_if<DeviceNamed>(&fact); named != nullptr && entry.id.writer == view.written_by)
        view.device = named->name;
    }
  }
  written.erase("");
  std::vector<std::pair<std::string, std::int64_t>> busiest(written.begin(), written.end());
  std::stable_sort(busiest.begin(), busiest.end(), [](const auto& a, const auto& b) { return a.second > b.second; });
  for (const auto& one : busiest) view.helpers.push_back(one.first);
  view.readable = true;
  return view;
}

}  // namespace motherbulb

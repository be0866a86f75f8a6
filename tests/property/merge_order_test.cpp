// Merging in any order (R1 of the reliability goals): two to twelve devices tap, write parcels for whom they please,
// hand them on late, twice, by others' hands, or with a gap before them. Once everybody has everything, all books are
// equal, and equal to what was acknowledged, which a std::map has kept count of apart from them.
#include <doctest/doctest.h>

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "tests/faults/power_vfs.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"
#include "tests/property/random_work.hpp"

namespace motherbulb {
namespace {

using make::Model;
using make::must;

struct Device {
  std::string path;
  FakeHost host;
  std::unique_ptr<Logbook> book;
  Device(std::string where, std::uint64_t seed, std::int64_t skew_ms)
      : path(std::move(where)), host(seed, FakeHost::monday_ms + skew_ms) {}
};

struct Seen {
  std::int64_t acts = 0, refused = 0, merges = 0, parked = 0, matters = 0, devices = 0;
};

// Holds a book against the model; a clock that was found wrong is the only thing that a book writes by itself.
void hold_against(Logbook& book, const Model& model, std::size_t measured_at_most) {
  const auto entries = make::entries_in(book);
  std::size_t known = 0, measured = 0;
  const EntryId* before = nullptr;
  MemorySource source(make::parcel(book));
  const auto reader = must(ParcelReader::open(source));
  while (true) {
    const auto run = must(reader->next_run());
    if (!run) break;
    Entry entry;
    Hash hash;
    while (must(reader->next_entry(entry, hash))) {
      const auto told = model.find(entry.id);
      if (told == model.end()) {
        REQUIRE(entry.kind == static_cast<std::uint16_t>(Kind::clock_measured));
        ++measured;
        continue;
      }
      ++known;
      REQUIRE(entry.kind == told->second.kind);
      REQUIRE(entry.helper == told->second.helper);
      if (!told->second.payload.empty()) {
        REQUIRE(entry.payload == told->second.payload);
        REQUIRE(entry.batch == told->second.batch);
        REQUIRE(entry.pot == told->second.pot);
      }
    }
  }
  for (const auto& [id, body] : entries) {
    REQUIRE_MESSAGE((before == nullptr || !(*before == id)), "an entry is in the book twice");
    before = &id;
  }
  REQUIRE_MESSAGE(known == model.size(), "entries are lost: " << model.size() - known << " of " << model.size());
  REQUIRE(measured <= measured_at_most);
  REQUIRE(book.entry_count() == static_cast<std::int64_t>(known + measured));
}

void one_interleaving(std::uint64_t seed, Seen& seen) {
  INFO("MOTHERBULB_SEED=" << seed);
  Chance chance(seed);
  faults::Disk disk({}, seed);
  disk.write_down(false);
  const faults::UnderSqlite under(disk);

  const auto count = static_cast<std::size_t>(chance.one_in(4) ? chance.between(2, 12) : chance.between(2, 4));
  std::vector<std::unique_ptr<Device>> devices;
  Model model;
  for (std::size_t i = 0; i < count; ++i) {
    // Some clocks are off, one in ten so far that it must be found.
    const std::int64_t skew =
        chance.one_in(10) ? chance.between(-5'000'000, 5'000'000) : chance.between(-20'000, 20'000);
    devices.push_back(std::make_unique<Device>(faults::place("book" + std::to_string(i)), seed * 16 + i, skew));
    devices.back()->book = make::new_book(devices.back()->path, devices.back()->host);
  }
  seen.devices += static_cast<std::int64_t>(count);
  std::vector<std::vector<std::uint8_t>> mail;
  std::vector<std::vector<Known>> vectors(1);  // that somebody once had

  const std::int64_t steps = chance.between(10, 45);
  for (std::int64_t step = 0; step < steps; ++step) {
    for (const auto& device : devices) device->host.advance(chance.between(1, 90'000));
    Device& device = *devices[chance.below(count)];
    switch (chance.below(10)) {
      case 0: {  // a parcel, for nobody or for a book that knows (or once knew) so much
        vectors.push_back(devices[chance.below(count)]->book->vector());
        const std::vector<Known>& known = vectors[chance.below(vectors.size())];
        mail.push_back(make::parcel(*device.book, chance.one_in(3) ? nullptr : &known));
        break;
      }
      case 1:
      case 2: {  // one or several arrive, whatever went before
        if (mail.empty()) break;
        std::vector<std::vector<std::uint8_t>> arriving;
        const std::int64_t several = chance.one_in(3) ? chance.between(2, 3) : 1;
        for (std::int64_t i = 0; i < several; ++i) arriving.push_back(mail[chance.below(mail.size())]);
        const MergeReport report = make::merge(*device.book, arriving);
        ++seen.merges;
        seen.parked += report.parked;
        break;
      }
      case 3:
        if (chance.one_in(2)) {
          device.book.reset();
          device.book = make::open_book(device.path, device.host);
        } else {
          device.book->rest();
        }
        break;
      case 4:
        if (chance.one_in(3)) {
          // The same table may be imported on two devices: it is one fact in every book.
          make::import_rows(*device.book, seed * 4 + chance.below(2), FakeHost::monday_ms, model);
          break;
        }
        [[fallthrough]];
      default:
        ++seen.acts;
        if (!make::random_act(*device.book, chance, model)) ++seen.refused;
    }
  }

  // In the end everybody gets everything. Clocks found wrong are written down on the way, hence more than one round.
  bool equal = false;
  for (int round = 0; round < 4 && !equal; ++round) {
    std::vector<std::vector<std::uint8_t>> all;
    for (const auto& device : devices) all.push_back(make::parcel(*device->book));
    for (const auto& device : devices) {
      for (std::size_t i = all.size(); i > 1; --i) std::swap(all[i - 1], all[chance.below(i)]);
      if (chance.one_in(2)) {
        make::merge(*device->book, all);
      } else {
        for (const auto& bytes : all) make::merge(*device->book, bytes);
      }
      ++seen.merges;
    }
    equal = true;
    for (const auto& device : devices) equal = equal && device->book->digest() == devices[0]->book->digest();
  }
  REQUIRE_MESSAGE(equal, "books that hold the same entries do not come to the same digest");

  const std::string first = make::picture(*devices[0]->book);
  const auto first_entries = make::entries_in(*devices[0]->book);
  seen.matters += static_cast<std::int64_t>(devices[0]->book->matters().size());
  hold_against(*devices[0]->book, model, count * count * 4);
  for (std::size_t i = 1; i < count; ++i) {
    REQUIRE(make::difference(make::picture(*devices[i]->book), first) == "");
    REQUIRE(make::entries_in(*devices[i]->book) == first_entries);
  }
  // A book folded in one go, from the parcel alone, shows the same as those that grew.
  if (chance.one_in(4)) {
    FakeHost host(seed * 16 + 15);
    const auto fresh = make::new_book(faults::place("fresh"), host);
    make::merge(*fresh, make::parcel(*devices[0]->book));
    if (fresh->entry_count() == devices[0]->book->entry_count())
      REQUIRE(make::difference(make::picture(*fresh), first) == "");
    const CheckReport report = must(devices[count - 1]->book->check());
    REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
    REQUIRE(report.folded_equal);
    REQUIRE(report.chains_ok);
  }
}

TEST_CASE("however devices meet, all books come to the same and hold all that was acknowledged once") {
  const std::uint64_t first = make::seed();
  const std::uint64_t wanted = make::short_or_long<std::uint64_t>(10'000, 1'000'000);
  const std::uint64_t least = 100;
  const make::Patience patience(make::short_or_long(45.0, 4 * 3600.0), least);
  Seen seen;
  std::uint64_t done = 0;
  while (done < wanted && patience.left(done)) one_interleaving(first + done++, seen);
  MESSAGE(done << " interleavings of " << wanted << " from seed " << first << ": " << seen.devices << " devices, "
               << seen.acts << " acts (" << seen.refused << " refused), " << seen.merges << " merges, " << seen.parked
               << " entries parked on the way, " << seen.matters << " matters left");
  // The test has looked at what it is about.
  CHECK(done >= least);
  CHECK(seen.parked > 0);
  CHECK(seen.matters > 0);
  CHECK(seen.refused * 2 < seen.acts);
}

}  // namespace
}  // namespace motherbulb

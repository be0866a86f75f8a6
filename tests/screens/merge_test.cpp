// Merge the day, driven by real events in the real window.

#include <atomic>
#include <chrono>
#include <fstream>
#include <thread>

#include "tests/screens/drive.hpp"

namespace motherbulb {
namespace {

void write_file(const std::string& path, const std::vector<std::uint8_t>& bytes) {
  std::ofstream out(path, std::ios::binary);
  out.write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
  REQUIRE(out.good());
}

// This device's book, and two helpers' books that began as copies of its entries and counted since. Bo and Marit both
// unpotted pot 1 and do not agree; Bo also unpotted pot 2.
struct Day3 {
  make::Folder folder, elsewhere;
  FakeHost host{1}, host_bo{2}, host_marit{3};
  std::unique_ptr<Logbook> own = make::new_book(folder.file("house.book"), host, "A");
  std::unique_ptr<Logbook> bo = make::new_book(elsewhere.file("bo.book"), host_bo, "B");
  std::unique_ptr<Logbook> marit = make::new_book(elsewhere.file("marit.book"), host_marit, "C");
  BatchId chips;
  std::vector<std::uint8_t> parcel_bo, parcel_marit;

  Day3() {
    name(*own, "potting bench", "A");
    name(*bo, "sill tablet", "B");
    name(*marit, "her phone", "C");
    chips = make::begin_batch(*own, "Tirna Red", 2, 8);
    make::tap(*own, chips, 1, make::pieces_potted(8));
    make::tap(*own, chips, 2, make::pieces_potted(8));
    make::merge(*bo, make::parcel(*own));
    make::merge(*marit, make::parcel(*own));
    for (FakeHost* one : {&host, &host_bo, &host_marit}) one->advance_minutes(600);
    make::tap(*bo, chips, 1, make::unpotted(make::lines({{"2-4", 8}, {"4-6", 5}}), 8), "Bo");
    make::tap(*bo, chips, 2, make::unpotted(make::lines({{"2-4", 9}}), 7, make::dead(Cause::rot, 1)), "Bo");
    host_marit.advance_minutes(20);
    make::tap(*marit, chips, 1, make::unpotted(make::lines({{"2-4", 7}, {"4-6", 5}}), 8), "Marit");
    host.advance_minutes(30);
    host_bo.advance_minutes(30);
    host_marit.advance_minutes(10);
    const std::vector<Known> known = own->vector();
    parcel_bo = make::parcel(*bo, &known);
    parcel_marit = make::parcel(*marit, &known);
  }
  static void name(Logbook& book, const std::string& device, const std::string& letter) {
    make::tap(book, BatchId{}, 0, DeviceNamed{device, letter});
  }
  void lay_parcels_beside() const {
    write_file(folder.file("bo.parcel"), parcel_bo);
    write_file(folder.file("marit.parcel"), parcel_marit);
  }
  // What the same merge gives without a window, in the other order.
  [[nodiscard]] std::string digest_elsewhere() {
    FakeHost other{9, host.now_ms()};
    auto book = make::new_book(elsewhere.file("other.book"), other, "D");
    make::merge(*book, make::parcel(*own));
    make::merge(*book, parcel_marit);
    make::merge(*book, parcel_bo);
    return book->digest();
  }
};

std::optional<Matter> matter_of(const Logbook& book, MatterKind kind) {
  for (const Matter& matter : book.matters()) {
    if (matter.kind == kind) return matter;
  }
  return std::nullopt;
}

}  // namespace

TEST_CASE("two helpers' parcels beside the book are found, merged by one tap, and give the one true book") {
  Day3 day;
  day.lay_parcels_beside();
  const std::string expected = day.digest_elsewhere();
  drive::Driver driver(*day.own, day.host);
  REQUIRE(driver.ui().merge.waiting.size() == 2);
  driver.tap("quarter:merge");
  const ParcelPreview& bo = driver.ui().merge.waiting[0];
  CHECK(bo.readable);
  CHECK(bo.device == "sill tablet");
  CHECK(bo.fresh == 3);  // the device's name and two counts
  CHECK(bo.brought.unpotted == 2);
  CHECK(bo.brought.bulbs == 22);
  CHECK(bo.brought.lost == 1);
  driver.picture("merge-waiting-1280x800-day");
  driver.check_targets("merge, parcels waiting");

  driver.tap("merge");
  CHECK(day.own->digest() == expected);
  CHECK(driver.ui().merge.merged.size() == 2);
  CHECK(driver.ui().merge.merged_at.has_value());
  CHECK_FALSE(driver.ui().trouble.has_value());
  CHECK_FALSE(driver.has("merge"));  // nothing waits any more
  driver.picture("merge-merged-1280x800-day");
}

TEST_CASE("a pot that two counted is a matter, and one tap settles it by an entry that every book follows") {
  Day3 day;
  day.lay_parcels_beside();
  drive::Driver driver(*day.own, day.host, {800, 1280});
  driver.touch("bar:merge");
  driver.touch("merge");
  const auto matter = matter_of(*day.own, MatterKind::counted_twice);
  REQUIRE(matter.has_value());
  const std::int64_t entries = day.own->entry_count();
  const std::string name = "matter:" + hex(matter->id);
  // It may lie below the fold of the page: scroll until the act is whole in sight.
  for (int i = 0; i < 40 && !(driver.has(name + ":second") && driver.target(name + ":second").whole); ++i) {
    driver.wheel({400, 700}, -1);
  }
  driver.touch(name + ":second");
  CHECK(day.own->entry_count() == entries + 1);
  CHECK_FALSE(matter_of(*day.own, MatterKind::counted_twice).has_value());
  CHECK(day.own->pot({day.chips, 1})->count->counted == matter->second.bulbs);
  REQUIRE(driver.ui().kept.has_value());

  // Another book that takes the settlement in comes to the same.
  make::merge(*day.bo, make::parcel(*day.own));
  CHECK(day.bo->digest() == day.own->digest());
  CHECK_FALSE(matter_of(*day.bo, MatterKind::counted_twice).has_value());

  // And it can be undone where it was made.
  driver.touch("undo");
  CHECK(matter_of(*day.own, MatterKind::counted_twice).has_value());
}

TEST_CASE("Later puts a matter off without an entry, and all proposals are taken at once") {
  Day3 day;
  day.lay_parcels_beside();
  drive::Driver driver(*day.own, day.host, {1440, 900});
  driver.tap("bar:merge");
  driver.tap("merge");
  const std::vector<Matter> matters = day.own->matters();
  REQUIRE_FALSE(matters.empty());
  const std::int64_t entries = day.own->entry_count();
  driver.tap("matter:" + hex(matters.front().id) + ":later");
  CHECK(day.own->entry_count() == entries);
  CHECK(day.own->matters().size() == matters.size());
  CHECK_FALSE(driver.has("matter:" + hex(matters.front().id) + ":first"));
  if (driver.has("settle:show")) driver.tap("settle:show");
  if (driver.has("settle:all")) {
    driver.tap("settle:all");
    CHECK(day.own->matters().empty());
    CHECK(day.own->entry_count() == entries + static_cast<std::int64_t>(matters.size()));
  }
}

TEST_CASE("a file dropped on the window is shown as a parcel that waits") {
  Day3 day;
  write_file(day.elsewhere.file("from the post.bin"), day.parcel_bo);
  drive::Driver driver(*day.own, day.host);
  CHECK(driver.ui().merge.waiting.empty());
  driver.drop(day.elsewhere.file("from the post.bin"));
  CHECK(driver.ui().screen == Screen::merge);
  REQUIRE(driver.ui().merge.waiting.size() == 1);
  driver.tap("merge");
  CHECK(day.own->pot({day.chips, 2})->emptied);
}

TEST_CASE("a damaged parcel is refused in words and nothing is changed") {
  Day3 day;
  std::vector<std::uint8_t> damaged = day.parcel_bo;
  damaged[damaged.size() / 2] ^= 0x10U;
  write_file(day.elsewhere.file("damaged.parcel"), damaged);
  drive::Driver driver(*day.own, day.host, {360, 740});
  const std::string before = day.own->digest();
  driver.drop(day.elsewhere.file("damaged.parcel"));
  REQUIRE(driver.ui().trouble.has_value());
  CHECK_FALSE(driver.ui().trouble->words.empty());
  CHECK_FALSE(driver.has("merge"));
  CHECK(day.own->digest() == before);
  driver.picture("merge-damaged-360x740-day");
  driver.check_targets("merge, a damaged parcel");
}

TEST_CASE("a parcel on a stick is found while the screen is open") {
  Day3 day;
  make::Folder sticks;
  setenv("MOTHERBULB_STICKS", sticks.file("").c_str(), 1);
  drive::Driver driver(*day.own, day.host);
  driver.tap("bar:merge");
  CHECK(driver.ui().merge.waiting.empty());
  std::filesystem::create_directories(sticks.file("runa/STICK"));
  write_file(sticks.file("runa/STICK/bo.parcel"), day.parcel_bo);
  driver.wait(3500);
  CHECK(driver.ui().merge.waiting.size() == 1);
  unsetenv("MOTHERBULB_STICKS");
}

TEST_CASE("from the start screen a day of two parcels without matters is merged in two taps") {
  Day3 day;
  // Marit counted nothing that Bo counted too, so nothing is to be settled.
  make::Folder apart;
  FakeHost host{4, day.host.now_ms()};
  auto marit = make::new_book(apart.file("marit.book"), host, "E");
  Day3::name(*marit, "her other phone", "E");
  make::merge(*marit, make::parcel(*day.own));
  host.advance_minutes(5);
  make::tap(*marit, day.chips, 1, make::looked(3), "Marit");
  FakeHost host_ida{5, day.host.now_ms()};
  auto ida = make::new_book(apart.file("ida.book"), host_ida, "F");
  Day3::name(*ida, "a tablet", "F");
  make::merge(*ida, make::parcel(*day.own));
  host_ida.advance_minutes(6);
  make::tap(*ida, day.chips, 2, Watered{}, "Ida");
  const std::vector<Known> known = day.own->vector();
  write_file(day.folder.file("marit.parcel"), make::parcel(*marit, &known));
  write_file(day.folder.file("ida.parcel"), make::parcel(*ida, &known));
  day.host.advance_minutes(7);
  drive::Driver driver(*day.own, day.host);
  const std::vector<std::string> taps{"quarter:merge", "merge"};
  for (const std::string& one : taps) driver.tap(one);
  CHECK(driver.ui().merge.merged.size() == 2);
  CHECK(day.own->matters().empty());
  FakeHost other{9, day.host.now_ms()};
  auto book = make::new_book(apart.file("other.book"), other, "D");
  make::merge(*book, make::parcel(*ida));
  make::merge(*book, make::parcel(*marit));
  CHECK(day.own->digest() == book->digest());
}

TEST_CASE(
    "a picture dropped on the window, and a stick pulled before the merge, are told in words, and nothing is lost") {
  Day3 day;
  const std::string digest = day.own->digest();
  drive::Driver driver(*day.own, day.host);
  write_file(day.folder.file("leaf.png"), {0x89, 'P', 'N', 'G', 13, 10, 26, 10, 0, 0, 0, 13});
  driver.drop(day.folder.file("leaf.png"));
  REQUIRE(driver.ui().trouble.has_value());
  CHECK(driver.ui().trouble->title.find("leaf.png") != std::string::npos);
  driver.tap("error:aside");
  write_file(day.folder.file("bo.parcel"), day.parcel_bo);
  driver.wait(3200);
  REQUIRE(driver.has("merge"));
  std::filesystem::remove(day.folder.file("bo.parcel"));
  driver.tap("merge");
  REQUIRE(driver.ui().trouble.has_value());
  CHECK(day.own->digest() == digest);
  write_file(day.folder.file("bo.parcel"), day.parcel_bo);
  driver.wait(3200);
  driver.tap("merge");
  CHECK(day.own->digest() != digest);
}

TEST_CASE("a long merge shows how far it is, and a tap on Stop changes nothing") {
  make::Folder folder, elsewhere;
  FakeHost host{1}, other_host{2};
  auto book = make::new_book(folder.file("house.book"), host, "A");
  auto other = make::new_book(elsewhere.file("other.book"), other_host, "B");
  // Large enough to take some seconds on any machine.
  for (int batch = 0; batch < 40; ++batch) {
    const BatchId chips = make::begin_batch(*other, "Tirna Red", 2, 8);
    make::tap(*other, chips, 1, make::pieces_potted(8));
    std::vector<Entry> entries;
    for (int i = 0; i < 1500; ++i) {
      Entry entry;
      entry.helper = "Bo";
      entry.batch = chips;
      entry.pot = 1;
      other_host.advance(1000);
      entry.when = moment(other_host.now_ms(), 60);
      const Payload fact = Watered{};
      entry.kind = kind_number(fact);
      entry.payload = encode(fact);
      entries.push_back(std::move(entry));
    }
    make::must(other->append(std::move(entries)));
  }
  write_file(folder.file("other.parcel"), make::parcel(*other));
  host.set_now(other_host.now_ms() + 60'000);
  drive::Driver driver(*book, host);
  driver.tap("bar:merge");
  REQUIRE(driver.has("merge"));
  // While the merge holds this thread, another finger comes down where Stop stands: in the middle of the page, at the
  // lower end of its panel.
  std::atomic<bool> done{false};
  std::thread finger([&] {
    for (int i = 0; i < 200 && !done; ++i) {
      std::this_thread::sleep_for(std::chrono::milliseconds(100));
      for (const Uint32 type : {SDL_FINGERDOWN, SDL_FINGERUP}) {
        SDL_Event event{};
        event.type = type;
        event.tfinger.touchId = 1;
        event.tfinger.fingerId = 7;
        event.tfinger.x = 694.0F / 1280;
        event.tfinger.y = 476.0F / 800;
        SDL_PushEvent(&event);
      }
    }
  });
  driver.tap("merge");
  done = true;
  finger.join();
  driver.settle();
  REQUIRE(driver.ui().trouble.has_value());
  CAPTURE(driver.ui().trouble->words);
  CHECK(book->entry_count() == 0);
  CHECK(make::must(book->check()).folded_equal);
  // Nothing stands in the way of doing it after all.
  driver.tap("error:aside");
  driver.tap("merge");
  CHECK(book->entry_count() == other->entry_count());
}

}  // namespace motherbulb

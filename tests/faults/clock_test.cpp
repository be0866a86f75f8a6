// Clocks that are wrong (R10): from a second to a century off, and jumping in the middle of the day. Nobody's day is
// refused, a device's own order never turns round, the device is marked, and no clock drags another.
#include <doctest/doctest.h>

#include <memory>
#include <string>
#include <vector>

#include "tests/faults/power_vfs.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"

namespace motherbulb {
namespace {

using make::must;

constexpr std::int64_t second = 1'000, minute = 60 * second, hour = 60 * minute, day = 24 * hour;

struct Case {
  std::string name;
  std::int64_t now_ms;  // what the wrong clock shows when the right one shows FakeHost::monday_ms
};

std::vector<Case> cases() {
  const std::int64_t right = FakeHost::monday_ms;
  std::vector<Case> all = {{"right", right}};
  for (const auto& [name, off] : std::vector<std::pair<std::string, std::int64_t>>{{"a second", second},
                                                                                   {"30 seconds", 30 * second},
                                                                                   {"2 minutes", 2 * minute},
                                                                                   {"5 minutes", 5 * minute},
                                                                                   {"an hour", hour},
                                                                                   {"a day", day},
                                                                                   {"a year", 365 * day}}) {
    all.push_back({name + " ahead", right + off});
    all.push_back({name + " behind", right - off});
  }
  all.push_back({"1970", 5 * minute});
  all.push_back({"2000", 946'684'800'000});
  all.push_back({"2038-01-19T03:14:07Z", 2'147'483'647'000});
  all.push_back({"2100", 4'102'444'800'000});
  all.push_back({"47 minutes ahead", right + 47 * minute});
  return all;
}

bool clock_matter(const Logbook& book) {
  for (const Matter& matter : book.matters()) {
    if (matter.kind == MatterKind::clock) return true;
  }
  return false;
}

// Stamps of each writer in the order of its sequences.
void own_order_holds(Logbook& book) {
  MemorySource source(make::parcel(book));
  const auto reader = must(ParcelReader::open(source));
  while (true) {
    const auto run = must(reader->next_run());
    if (!run) break;
    Entry entry;
    Hash hash;
    Stamp before;
    while (must(reader->next_entry(entry, hash))) {
      REQUIRE(before < entry.stamp);
      before = entry.stamp;
    }
  }
}

TEST_CASE(
    "a clock that is wrong by whatever: no day refused, own order kept, the device marked, nobody dragged along") {
  CHECK(cases().size() == 20);
  const int runs = make::short_or_long(10, 2'000);
  const std::uint64_t seed = make::seed();
  for (const Case& one : cases()) {
    for (int run = 0; run < runs; ++run) {
      INFO(one.name << ", MOTHERBULB_SEED=" << seed << ", run " << run);
      Chance chance(seed + static_cast<std::uint64_t>(run));
      faults::Disk disk;
      disk.write_down(false);
      const faults::UnderSqlite under(disk);
      FakeHost right_host(1), wrong_host(2, one.now_ms);
      const auto right = make::new_book(faults::place("right"), right_host, "A");
      const auto wrong = make::new_book(faults::place("wrong"), wrong_host, "B");
      make::must(right->run(make::record({}, 0, DeviceNamed{"the office", "A"})));
      make::must(wrong->run(make::record({}, 0, DeviceNamed{"the tablet", "B"})));
      std::int64_t jumped = 0;
      std::int64_t tapped = 2;
      for (int i = 0; i < 6; ++i) {
        const std::int64_t passed = chance.between(second, 20 * minute);
        right_host.advance(passed);
        wrong_host.advance(passed);
        if (run % 2 == 1 && i == 3) {
          // Somebody sets it, or its battery is changed.
          jumped = chance.between(-3 * hour, 3 * hour);
          if (wrong_host.now_ms() + jumped < 0) jumped = -jumped;
          wrong_host.advance(jumped);
        }
        make::tap(*wrong, {}, 0, Note{"by the wrong clock"}, "Iven");
        make::tap(*right, {}, 0, Note{"by the right clock"});
        tapped += 2;
      }
      const std::int64_t off = wrong_host.now_ms() - right_host.now_ms();
      const MergeReport report = make::merge(*right, make::parcel(*wrong));
      REQUIRE(report.new_entries >= 7);
      REQUIRE(right->entry_count() >= tapped);
      // A parcel that seems old may have lain about: only a clock that is ahead is found at the first meeting.
      REQUIRE(clock_matter(*right) == (off > accepted_drift_ms));
      own_order_holds(*right);

      // Its next stamp is not further ahead of its own clock than is accepted.
      right_host.advance(second);
      wrong_host.advance(second);
      const Receipt after = make::tap(*right, {}, 0, Note{"after the merge"});
      MemorySource source(make::parcel(*right));
      const auto reader = must(ParcelReader::open(source));
      while (true) {
        const auto of_writer = must(reader->next_run());
        if (!of_writer) break;
        Entry entry;
        Hash hash;
        while (must(reader->next_entry(entry, hash))) {
          if (!(entry.id == after.id)) continue;
          REQUIRE(entry.stamp.wall_ms() <= right_host.now_ms() + accepted_drift_ms);
          REQUIRE(entry.stamp.wall_ms() >= right_host.now_ms() - 1);
          REQUIRE(entry.when.utc_ms == right_host.now_ms());
        }
      }
      // Back to the tablet and again: both books come to the same.
      for (int i = 0; i < 2; ++i) {
        make::merge(*wrong, make::parcel(*right));
        make::merge(*right, make::parcel(*wrong));
      }
      make::merge(*wrong, make::parcel(*right));
      make::merge(*right, make::parcel(*wrong));
      REQUIRE(make::difference(*right, *wrong) == "");
      // One that is behind is found as soon as its parcel shows that it had already been told of a later moment; and
      // the wrong device itself finds that the other is ahead of it.
      REQUIRE(clock_matter(*right) == (off > accepted_drift_ms || off < -accepted_drift_ms));
      own_order_holds(*wrong);
    }
  }
}

TEST_CASE("a device whose clock was set back goes on in its own order") {
  faults::Disk disk;
  const faults::UnderSqlite under(disk);
  FakeHost host(1);
  const auto book = make::new_book(faults::place("book"), host);
  for (int i = 0; i < 5; ++i) {
    make::tap(*book, {}, 0, Note{"before"});
    host.advance_minutes(1);
  }
  host.advance_days(-400);
  for (int i = 0; i < 5; ++i) make::tap(*book, {}, 0, Note{"after"});
  own_order_holds(*book);
  REQUIRE(must(book->check()).faults.empty());
}

TEST_CASE("more entries in one millisecond than a stamp's counter holds keep their order") {
  faults::Disk disk;
  disk.write_down(false);
  const faults::UnderSqlite under(disk);
  FakeHost host(1);
  const auto book = make::new_book(faults::place("book"), host);
  Entry note;
  note.when = moment(host.now_ms(), 60);
  note.helper = "Osk";
  note.kind = static_cast<std::uint16_t>(Kind::note);
  note.payload = encode(Note{"in the same millisecond"});
  REQUIRE(must(book->append(std::vector<Entry>(70'000, note))).size() == 70'000);
  own_order_holds(*book);
}

}  // namespace
}  // namespace motherbulb

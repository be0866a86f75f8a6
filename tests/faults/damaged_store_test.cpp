// A store whose bytes are not what was written (R7): one byte changed anywhere in the database or in its WAL. Either
// the book is not opened, or check finds it, or it makes no difference, or commits at the end of the WAL are gone, as
// if the device had been put back by them: then the device's own number tells, and the old writer is not gone on with.
// Never does a book that check calls sound show another sum.
#include <doctest/doctest.h>

#include <map>
#include <memory>
#include <set>
#include <string>

#include "tests/faults/power_vfs.hpp"
#include "tests/form.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"

namespace motherbulb {
namespace {

using faults::Disk;
using faults::Image;
using faults::UnderSqlite;
using make::must;

const std::string store = faults::place("island.book");

TEST_CASE("a byte changed in the store is found or makes no difference; no sum is silently wrong") {
  // A book with a database file that holds most and a WAL that holds the last of it, as a running program leaves them.
  Image image;
  FakeHost host(1);
  std::map<std::int64_t, std::string> pictures;  // by number of entries, as the book grew
  std::set<EntryId> ids;
  {
    Disk disk;
    disk.write_down(false);
    const UnderSqlite under(disk);
    auto book = make::new_book(store, host, "A");
    for (int i = 0; i < 60; ++i) make::write_small_day(*book, host);
    book.reset();
    book = make::open_book(store, host);
    pictures[book->entry_count()] = make::picture(*book);
    const BatchId batch = book->batches().front().id;
    for (std::int32_t pot = 1; pot <= 9; ++pot) {
      host.advance_minutes(1);
      make::tap(*book, batch, pot, make::pieces_potted(1));
      pictures[book->entry_count()] = make::picture(*book);
    }
    for (const auto& [id, body] : make::entries_in(*book)) ids.insert(id);
    image = disk.image();
  }
  REQUIRE(image.size() >= 2);  // the database and its WAL
  const std::string whole = pictures.rbegin()->second;

  const std::uint64_t seed = make::seed();
  Chance chance(seed);
  const auto wanted = make::short_or_long<std::uint64_t>(2'000, 100'000);
  const std::uint64_t least = 500;
  const make::Patience patience(make::short_or_long(60.0, 4 * 3600.0), least);
  std::uint64_t done = 0;
  int not_opened = 0, found_by_check = 0, harmless = 0, put_back = 0;
  for (; done < wanted && patience.left(done); ++done) {
    // Half of the flips in each file, however long.
    auto file = image.begin();
    if (chance.one_in(2)) ++file;
    const std::uint64_t place = chance.below(file->second.size());
    const auto with = static_cast<std::uint8_t>(1 + chance.below(255));
    INFO("MOTHERBULB_SEED=" << seed << ", " << file->first << " byte " << place << " changed by "
                            << static_cast<int>(with));
    Image damaged = image;
    damaged[file->first][place] ^= with;
    Disk disk(damaged);
    disk.write_down(false);
    const UnderSqlite under(disk);
    FakeHost here = host;
    auto opened = Logbook::open(store, OpenWish{}, here);
    if (!opened) {
      REQUIRE(opened.error().what.size() > 20);
      ++not_opened;
      continue;
    }
    const auto checked = (*opened)->check();
    if (!checked) {
      REQUIRE(checked.error().what.size() > 20);
      ++found_by_check;
      continue;
    }
    if (!checked->faults.empty() || !checked->folded_equal || !checked->chains_ok) {
      ++found_by_check;
      continue;
    }
    const std::string now = make::picture(**opened);
    if (now == whole) {
      ++harmless;
      continue;
    }
    const auto earlier = pictures.find((*opened)->entry_count());
    REQUIRE_MESSAGE(earlier != pictures.end(), "a book that check calls sound has entries missing");
    REQUIRE_MESSAGE(now == earlier->second, "a book that check calls sound shows something else");
    const Receipt receipt = make::tap(**opened, {}, 0, Note{"after the damage"});
    REQUIRE_MESSAGE(ids.count(receipt.id) == 0, "a sequence that stood in the lost part of the WAL is used again");
    ++put_back;
  }
  MESSAGE(done << " bytes changed from seed " << seed << ": " << not_opened << " not opened, " << found_by_check
               << " found by check, " << put_back << " put back and noticed by the device's own number, " << harmless
               << " without a difference");
  CHECK(done >= least);
  CHECK(static_cast<std::uint64_t>(not_opened + found_by_check) > done / 20);
  CHECK(put_back > 0);
}

TEST_CASE("a store cut short, empty, foreign, newer or with another's bytes is not opened, and stays as it is") {
  FakeHost host(1);
  Image image;
  {
    Disk disk;
    disk.write_down(false);
    const UnderSqlite under(disk);
    make::write_small_day(*make::new_book(store, host), host);
    image = disk.image();
  }
  const auto refused = [&](const faults::FileBytes& bytes, const std::string& what) {
    CAPTURE(what);
    Disk disk(Image{{store, bytes}});
    const UnderSqlite under(disk);
    FakeHost here = host;
    const auto opened = Logbook::open(store, OpenWish{}, here);
    REQUIRE(!opened.ok());
    CHECK(opened.error().what.size() > 20);
    CHECK(disk.image().at(store) == bytes);
    return opened.error().kind;
  };
  const faults::FileBytes& good = image.at(store);
  for (const std::size_t size : {std::size_t{1}, std::size_t{15}, std::size_t{99}, std::size_t{100}, std::size_t{512},
                                 std::size_t{4096}, std::size_t{8192}, good.size() / 2, good.size() - 4096}) {
    refused(faults::FileBytes(good.begin(), good.begin() + static_cast<std::ptrdiff_t>(size)),
            "cut to " + std::to_string(size));
  }
  const std::string text = "when,helper,event\n2026-03-02,Runa,note\n";
  CHECK(refused(faults::FileBytes(text.begin(), text.end()), "a table") == ErrorKind::foreign);
  // The file format of SQLite 3 (sqlite.org/fileformat.html, section 1.3): user_version stands at 60, application_id
  // at 68.
  faults::FileBytes other = good;
  other[68] ^= 1;
  CHECK(refused(other, "another program's database") == ErrorKind::foreign);
  other = good;
  other[60] = 0x70;
  CHECK(refused(other, "a newer version's store") == ErrorKind::newer);
}

}  // namespace
}  // namespace motherbulb

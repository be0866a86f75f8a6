// Backup and restore (R17), on a real disk: a backup is taken, the device goes on; the backup is restored, on the same
// device or on another, and goes on too. Both merge. No number is used twice, nothing is lost, and where a store was
// copied behind our back the fork is found.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <set>
#include <string>
#include <vector>

#include "tests/form.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"
#include "tests/property/random_work.hpp"

namespace motherbulb {
namespace {

using make::must;

std::set<WriterId> writers_of(const make::Model& model) {
  std::set<WriterId> found;
  for (const auto& [id, told] : model) found.insert(id.writer);
  return found;
}

void work(Logbook& book, FakeHost& host, Chance& chance, make::Model& model, std::int64_t acts) {
  for (; acts > 0; --acts) {
    host.advance(chance.between(1, 600'000));
    make::random_act(book, chance, model);
  }
}

// A device that worked and was backed up, and the place for the book that comes of its backup.
struct Drill {
  make::Folder folder;
  Chance chance;
  FakeHost old_host{1}, new_host;
  make::Model model;  // of all devices together: an id given out twice fails in random_act
  std::unique_ptr<Logbook> old_book, new_book;

  explicit Drill(std::uint64_t seed) : chance(seed), new_host(seed + 100) {
    old_book = make::new_book(folder.file("old"), old_host);
    work(*old_book, old_host, chance, model, 1 + chance.between(0, 12));
    must(old_book->backup(folder.file("backup")));
  }

  // Nothing is lost, and no number was used twice.
  void merge_both_ways() {
    make::merge(*new_book, make::parcel(*old_book));
    make::merge(*old_book, make::parcel(*new_book));
    REQUIRE(make::difference(*new_book, *old_book) == "");
    REQUIRE(new_book->entry_count() == static_cast<std::int64_t>(model.size()));
    for (const Matter& matter : new_book->matters()) REQUIRE(matter.kind != MatterKind::fork);
  }
};

TEST_CASE("a restored backup goes on under a new writer, and merges with what the device did since") {
  const std::uint64_t first = make::seed();
  const std::uint64_t drills = make::short_or_long<std::uint64_t>(100, 5'000);
  std::size_t acts = 0;
  for (std::uint64_t seed = first; seed < first + drills; ++seed) {
    INFO("MOTHERBULB_SEED=" << seed);
    Drill drill(seed);
    auto& [folder, chance, old_host, new_host, model, old_book, new_book] = drill;
    const std::string backup = folder.file("backup");
    const std::size_t in_backup = model.size();
    const std::string backed_up = make::picture(*old_book);
    // Sometimes the device goes on after its backup, sometimes the backup is all that is left.
    work(*old_book, old_host, chance, model, chance.between(0, 6));
    const bool same_device = chance.one_in(2);
    FakeHost& host = same_device ? old_host : new_host;
    host.set_now(old_host.now_ms());
    must(Logbook::restore(backup, folder.file("new"), host));
    new_book = make::open_book(folder.file("new"), host);
    REQUIRE(make::difference(make::picture(*new_book), backed_up) == "");
    REQUIRE(new_book->entry_count() == static_cast<std::int64_t>(in_backup));
    const std::set<WriterId> before = writers_of(model);
    const Receipt receipt = make::tap(*new_book, {}, 0, Note{"after the restore"});
    REQUIRE_MESSAGE(before.count(receipt.id.writer) == 0, "the restored book goes on under an old writer");
    model.emplace(receipt.id,
                  make::Told{{}, 0, "Runa", static_cast<std::uint16_t>(Kind::note), encode(Note{"after the restore"})});
    work(*new_book, host, chance, model, chance.between(0, 6));
    old_host.set_now(host.now_ms());
    drill.merge_both_ways();
    const CheckReport report = must(new_book->check());
    REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
    acts += model.size();
  }
  MESSAGE(drills << " drills from seed " << first << ", " << acts << " entries");
}

std::string all_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

TEST_CASE("a backup is taken in like a parcel: by an empty book, by one that went on, twice, and stays as it was") {
  const std::uint64_t first = make::seed();
  const std::uint64_t drills = make::short_or_long<std::uint64_t>(40, 2'000);
  for (std::uint64_t seed = first; seed < first + drills; ++seed) {
    INFO("MOTHERBULB_SEED=" << seed);
    Drill drill(seed);
    auto& [folder, chance, old_host, new_host, model, old_book, new_book] = drill;
    const std::string backup = folder.file("backup");
    const std::string bytes = all_of(backup);
    const std::size_t in_backup = model.size();
    work(*old_book, old_host, chance, model, chance.between(0, 6));
    new_host.set_now(old_host.now_ms());
    // What was kept there was lost; sometimes the new book has work of its own already.
    new_book = make::new_book(folder.file("new"), new_host);
    work(*new_book, new_host, chance, model, chance.between(0, 4));
    const auto here = static_cast<std::size_t>(new_book->entry_count());
    MemorySink sink;
    must(Logbook::parcel_of_backup(backup, sink, new_host));
    REQUIRE(static_cast<std::size_t>(make::merge(*new_book, sink.bytes()).new_entries) == in_backup);
    REQUIRE(new_book->entry_count() == static_cast<std::int64_t>(in_backup + here));
    REQUIRE(make::merge(*new_book, sink.bytes()).new_entries == 0);
    REQUIRE(make::merge(*old_book, sink.bytes()).new_entries == 0);
    work(*new_book, new_host, chance, model, 1 + chance.between(0, 4));  // an id given out twice fails there
    old_host.set_now(new_host.now_ms());
    drill.merge_both_ways();
    REQUIRE((all_of(backup) == bytes));
    for (const char* beside : {"-wal", "-journal", "-shm"}) REQUIRE(!std::filesystem::exists(backup + beside));
  }
  MESSAGE(drills << " drills from seed " << first);
}

TEST_CASE("a book that was copied as it lay, with its log beside it, is read and put back with what the log holds") {
  const make::Folder folder;
  FakeHost host(9), other_host(10);
  make::Model model;
  Chance chance(9);
  const std::string copy = folder.file("copy");
  std::size_t entries = 0;
  std::string shown;
  {
    const auto book = make::new_book(folder.file("store"), host);
    work(*book, host, chance, model, 6);
    book->rest();
    work(*book, host, chance, model, 6);  // these lie in the log
    entries = model.size();
    shown = make::picture(*book);
    for (const char* end : {"", "-wal"}) std::filesystem::copy_file(folder.file("store") + end, copy + end);
  }
  const std::string bytes = all_of(copy), log = all_of(copy + "-wal");
  REQUIRE(log.size() > 4096);
  other_host.set_now(host.now_ms());
  {
    MemorySink sink;
    must(Logbook::parcel_of_backup(copy, sink, other_host));
    const auto other = make::new_book(folder.file("other"), other_host);
    make::merge(*other, sink.bytes());
    CHECK(other->entry_count() == static_cast<std::int64_t>(entries));
    CHECK(make::difference(make::picture(*other), shown) == "");
  }
  must(Logbook::restore(copy, folder.file("back"), other_host));
  const auto back = make::open_book(folder.file("back"), other_host);
  CHECK(make::difference(make::picture(*back), shown) == "");
  CHECK((all_of(copy) == bytes));
  CHECK((all_of(copy + "-wal") == log));
  CHECK_FALSE(std::filesystem::exists(copy + "-shm"));
}

TEST_CASE("a store put back in its place from a copy does not go on numbering where it already was") {
  const make::Folder folder;
  const std::string path = folder.file("store"), copy = folder.file("copy");
  FakeHost host(3);
  make::Model model;
  Chance chance(3);
  auto book = make::new_book(path, host);
  work(*book, host, chance, model, 6);
  book.reset();
  std::filesystem::copy_file(path, copy);
  book = make::open_book(path, host);
  work(*book, host, chance, model, 4);
  const auto later = make::parcel(*book);
  book.reset();
  // Copied back by hand: the machine's token is the same, but the device's own number tells.
  std::filesystem::copy_file(copy, path, std::filesystem::copy_options::overwrite_existing);
  book = make::open_book(path, host);
  work(*book, host, chance, model, 4);
  make::merge(*book, later);
  CHECK(book->entry_count() == static_cast<std::int64_t>(model.size()));
  for (const Matter& matter : book->matters()) CHECK(matter.kind != MatterKind::fork);
}

TEST_CASE("a store copied to another place writes under another writer than the first") {
  const make::Folder folder;
  const std::string path = folder.file("store"), copy = folder.file("copy");
  FakeHost host(4), other_host(5);
  make::Model model;
  Chance chance(4);
  auto book = make::new_book(path, host);
  work(*book, host, chance, model, 6);
  book.reset();
  std::filesystem::copy_file(path, copy);
  book = make::open_book(path, host);
  const auto copied = make::open_book(copy, other_host);
  work(*book, host, chance, model, 5);
  work(*copied, other_host, chance, model, 5);
  host.set_now(std::max(host.now_ms(), other_host.now_ms()));
  other_host.set_now(host.now_ms());
  make::merge(*book, make::parcel(*copied));
  make::merge(*copied, make::parcel(*book));
  CHECK(book->entry_count() == static_cast<std::int64_t>(model.size()));
  CHECK(make::difference(*book, *copied) == "");
}

TEST_CASE("a backup never overwrites, a restore never overwrites, and a damaged backup is not restored") {
  const make::Folder folder;
  FakeHost host(6);
  const auto book = make::new_book(folder.file("store"), host);
  make::write_small_day(*book, host);
  must(book->backup(folder.file("backup")));
  const auto again = book->backup(folder.file("backup"));
  REQUIRE(!again.ok());
  CHECK(again.error().what.size() > 20);
  const auto over = Logbook::restore(folder.file("backup"), folder.file("store"), host);
  REQUIRE(!over.ok());
  CHECK(over.error().what.size() > 20);
  const auto missing = Logbook::restore(folder.file("nowhere"), folder.file("new"), host);
  REQUIRE(!missing.ok());
  CHECK(missing.error().kind == ErrorKind::missing);
  CHECK(!std::filesystem::exists(folder.file("new")));
  CHECK(!std::filesystem::exists(folder.file("nowhere")));

  const std::string bytes = all_of(folder.file("backup"));
  Chance chance(8);
  int refused = 0, not_taken_in = 0;
  const int tries = make::short_or_long(60, 2'000);
  for (int i = 0; i < tries; ++i) {
    std::string damaged = bytes;
    damaged[chance.below(damaged.size())] ^= static_cast<char>(1 + chance.below(255));
    const std::string bad = folder.file("bad"), target = folder.file("target");
    std::ofstream(bad, std::ios::binary) << damaged;
    const auto restored = Logbook::restore(bad, target, host);
    if (!restored) {
      ++refused;
      CHECK(!std::filesystem::exists(target));
      CHECK(restored.error().what.size() > 20);
    } else {
      // What was restored all the same shows the same sums.
      const auto opened = make::open_book(target, host);
      CHECK(make::difference(*opened, *book) == "");
    }
    for (const char* beside : {"", "-wal", "-journal", "-shm"}) std::filesystem::remove(target + beside);
    // Taken in like a parcel: the same entries, or none and the reason.
    FakeHost other_host(7);
    other_host.set_now(host.now_ms());
    {
      const auto other = make::new_book(target, other_host);
      MemorySink sink;
      Outcome taken = Logbook::parcel_of_backup(bad, sink, other_host);
      if (taken) {
        MemorySource source(sink.bytes());
        const auto merged = other->merge({&source});
        if (!merged) taken = merged.error();
      }
      if (taken) {
        CHECK(make::difference(*other, *book) == "");
      } else {
        ++not_taken_in;
        CHECK(taken.error().what.size() > 20);
        for (const char* inner : {"file:", "immutable", ":memory:", "this book"})
          CHECK_MESSAGE(taken.error().what.find(inner) == std::string::npos, taken.error().what);
        CHECK(other->entry_count() == 0);
      }
      CHECK((all_of(bad) == damaged));
    }
    for (const char* beside : {"", "-wal", "-journal", "-shm"}) std::filesystem::remove(target + beside);
  }
  MESSAGE(refused << " of " << tries << " damaged backups refused, the others without a difference; " << not_taken_in
                  << " not taken in");
  CHECK(refused > 0);
  CHECK(not_taken_in > 0);
}

}  // namespace
}  // namespace motherbulb

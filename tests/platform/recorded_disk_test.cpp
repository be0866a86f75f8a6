#include "platform/recorded_disk.hpp"

#include <doctest/doctest.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <map>
#include <random>
#include <sstream>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

using Files = std::array<std::optional<std::string>, 3>;
constexpr std::array<const char*, 3> ends{"", "-wal", "-journal"};

Files read_files(const std::string& store) {
  Files files;
  for (std::size_t i = 0; i < ends.size(); ++i) {
    if (!std::filesystem::exists(store + ends[i])) continue;
    std::ostringstream text;
    text << std::ifstream(store + ends[i], std::ios::binary).rdbuf();
    files[i] = text.str();
  }
  return files;
}

void write_files(const std::string& store, const Files& files) {
  for (std::size_t i = 0; i < ends.size(); ++i) {
    if (files[i] && !files[i]->empty()) std::ofstream(store + ends[i], std::ios::binary) << *files[i];
  }
}

std::uint64_t number(const std::vector<std::uint8_t>& bytes, std::size_t at, std::size_t count) {
  std::uint64_t value = 0;
  for (std::size_t i = count; i > 0; --i) value = value << 8 | bytes[at + i - 1];
  return value;
}

// Carries a group out as the header describes it, at most `most` of its changes; false where it was cut short. Written
// from the header, as the keeper's own reader is.
bool carry_out(const std::vector<std::uint8_t>& changes, Files& files, std::size_t most = SIZE_MAX) {
  for (std::size_t at = 0; at < changes.size();) {
    if (most-- == 0) return false;
    const int kind = changes[at];
    auto& file = files.at(changes[at + 1]);
    REQUIRE(changes[at + 2] == 0);
    REQUIRE(changes[at + 3] == 0);
    const auto count = static_cast<std::size_t>(number(changes, at + 4, 4));
    const auto place = static_cast<std::size_t>(number(changes, at + 8, 8));
    at += 16;
    REQUIRE(at + count <= changes.size());
    if (kind == 1) {
      if (!file) file.emplace();
      if (file->size() < place + count) file->resize(place + count, '\0');
      std::copy_n(changes.begin() + static_cast<std::ptrdiff_t>(at), count,
                  file->begin() + static_cast<std::ptrdiff_t>(place));
    } else if (kind == 2) {
      if (!file) file.emplace();
      file->resize(place, '\0');
    } else if (kind == 3) {
      file.reset();
    } else {
      REQUIRE(kind == 4);
    }
    at += count;
  }
  return true;
}

bool same(const Files& a, const Files& b) {
  // A file that is empty elsewhere is as good as none.
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i].value_or("") != b[i].value_or("")) return false;
  }
  return true;
}

}  // namespace

TEST_CASE("what was written, carried out elsewhere in its order, makes the same files") {
  make::Folder folder;
  FakeHost host;
  const std::string store = folder.file("house.book");
  RecordedDisk disk(store);
  Files elsewhere;
  {
    auto book = make::new_book(store, host);
    make::write_small_day(*book, host);
    book->rest();
    make::begin_batch(*book, "Tirna Red", 3, 12);
    const auto group = disk.take();
    CHECK(group.number == 1);
    CHECK_FALSE(group.after_loss);
    carry_out(group.changes, elsewhere);
    CHECK(same(elsewhere, read_files(store)));
    make::begin_batch(*book, "Tirna White", 1, 8);
    CHECK(disk.has_news());
    carry_out(disk.take().changes, elsewhere);
    CHECK_FALSE(disk.has_news());
    CHECK(same(elsewhere, read_files(store)));
  }
  carry_out(disk.take().changes, elsewhere);
  CHECK(same(elsewhere, read_files(store)));
}

TEST_CASE("whatever beginning of the changes arrived, what was safe is all there and the book is sound") {
  make::Folder folder;
  FakeHost host;
  const std::string store = folder.file("house.book");
  const auto seed = std::random_device{}();
  CAPTURE(seed);
  std::mt19937 draw(seed);
  std::vector<std::vector<std::uint8_t>> groups;
  std::vector<std::int64_t> entries;  // after each group
  {
    RecordedDisk disk(store);
    auto book = make::new_book(store, host);
    make::write_small_day(*book, host);
    groups.push_back(disk.take().changes);
    entries.push_back(book->entry_count());
    for (int i = 0; i < 12; ++i) {
      make::begin_batch(*book, "Tirna Red", 1, 8);
      if (i % 5 == 4) book->rest();
      groups.push_back(disk.take().changes);
      entries.push_back(book->entry_count());
    }
  }
  Files whole;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    if (g > 0) {
      for (int tries = 0; tries < 6; ++tries) {
        Files cut = whole;
        carry_out(groups[g], cut, draw() % 40);
        const std::string copy = folder.file("copy-" + std::to_string(g) + "-" + std::to_string(tries) + ".book");
        write_files(copy, cut);
        auto book = make::must(Logbook::open(copy, {}, host));
        CHECK(book->entry_count() >= entries[g - 1]);
        CHECK(book->entry_count() <= entries[g]);
        const auto report = make::must(book->check());
        CHECK(report.faults.empty());
      }
    }
    carry_out(groups[g], whole);
  }
}

TEST_CASE("what was not safe is taken back, and the next group puts the other side right") {
  for (const std::size_t arrived : {0U, 1U, 3U, 1000U}) {
    CAPTURE(arrived);
    make::Folder folder;
    FakeHost host;
    const std::string store = folder.file("house.book");
    RecordedDisk disk(store);
    Files elsewhere;
    auto book = make::new_book(store, host);
    make::write_small_day(*book, host);
    carry_out(disk.take().changes, elsewhere);
    disk.safe(disk.last_taken());
    CHECK(disk.all_safe());
    const std::string digest = book->digest();
    const std::int64_t entries = book->entry_count();

    make::begin_batch(*book, "Tirna Red", 3, 12);
    CHECK_FALSE(disk.all_safe());
    carry_out(disk.take().changes, elsewhere, arrived);  // and then it failed
    make::begin_batch(*book, "Tirna White", 1, 8);       // not even handed over
    CHECK(book->entry_count() > entries);
    make::must(book->open_anew([&] { return disk.take_back(); }));
    CHECK(book->entry_count() == entries);
    CHECK(book->digest() == digest);
    CHECK(make::must(book->check()).faults.empty());

    // What is written on from there is one group with what puts the other side right.
    make::begin_batch(*book, "Tirna White", 2, 8);
    const auto group = disk.take();
    CHECK(group.after_loss);
    carry_out(group.changes, elsewhere);
    disk.safe(group.number);
    CHECK(disk.all_safe());
    CHECK(same(elsewhere, read_files(store)));
    const std::string copy = folder.file("copy.book");
    write_files(copy, elsewhere);
    auto other = make::must(Logbook::open(copy, {}, host));
    CHECK(other->digest() == book->digest());
  }
}

TEST_CASE("a book whose making was taken back is not there") {
  make::Folder folder;
  FakeHost host;
  const std::string store = folder.file("house.book");
  RecordedDisk disk(store);
  { auto book = make::new_book(store, host); }
  make::must(disk.take_back());
  CHECK_FALSE(std::filesystem::exists(store));
  CHECK_FALSE(std::filesystem::exists(store + "-wal"));
}

TEST_CASE("other files are not recorded") {
  make::Folder folder;
  FakeHost host;
  RecordedDisk disk(folder.file("house.book"));
  auto book = make::new_book(folder.file("other.book"), host);
  make::write_small_day(*book, host);
  CHECK_FALSE(disk.has_news());
  CHECK(disk.all_safe());
}

// A store that an older version wrote is brought up to date when it is opened: its entries stay byte for byte, all that
// is folded from them is folded anew. Cut short at any point, it is done the next time.
#include <doctest/doctest.h>
#include <sqlite3.h>

#include <fstream>
#include <iterator>
#include <memory>
#include <string>

#include "tests/faults/power_vfs.hpp"
#include "tests/make.hpp"
#include "tests/picture.hpp"

namespace motherbulb {
namespace {

using faults::Cuts;
using faults::Disk;
using faults::Fault;
using faults::Image;
using faults::UnderSqlite;
using make::must;

const std::string store = faults::place("older.book");

class Raw {
public:
  Raw() {
    REQUIRE(sqlite3_open(store.c_str(), &database_) == SQLITE_OK);
    run("PRAGMA locking_mode=EXCLUSIVE");
  }
  ~Raw() { sqlite3_close(database_); }
  Raw(const Raw&) = delete;
  Raw& operator=(const Raw&) = delete;
  void run(const std::string& sql) {
    char* fault = nullptr;
    const int code = sqlite3_exec(database_, sql.c_str(), nullptr, nullptr, &fault);
    const std::string what = fault == nullptr ? "" : fault;
    sqlite3_free(fault);
    REQUIRE_MESSAGE(code == SQLITE_OK, what);
  }
  std::int64_t number(const std::string& sql) {
    sqlite3_stmt* statement = nullptr;
    REQUIRE(sqlite3_prepare_v2(database_, sql.c_str(), -1, &statement, nullptr) == SQLITE_OK);
    REQUIRE(sqlite3_step(statement) == SQLITE_ROW);
    const std::int64_t found = sqlite3_column_int64(statement, 0);
    sqlite3_finalize(statement);
    return found;
  }

private:
  sqlite3* database_ = nullptr;
};

// The tables as version 1 had them (step 1 of core/store_schema.cpp), with states that this version cannot read, and a
// matter and a link that no entry says.
void make_version_1() {
  Raw raw;
  raw.run(R"sql(
BEGIN;
DROP TABLE batch;
DROP TABLE pot;
DROP TABLE refold;
CREATE TABLE batch(story INTEGER PRIMARY KEY, label TEXT NOT NULL, mark TEXT NOT NULL, state BLOB NOT NULL) STRICT;
CREATE INDEX batch_label ON batch(label);
CREATE INDEX batch_mark ON batch(mark) WHERE mark<>'';
CREATE TABLE pot(story INTEGER NOT NULL, number INTEGER NOT NULL, emptied INTEGER NOT NULL, state BLOB NOT NULL,
                 PRIMARY KEY(story, number)) STRICT, WITHOUT ROWID;
INSERT INTO batch SELECT no, 'old', '', x'00' FROM story;
INSERT INTO pot SELECT no, 7, 0, x'00' FROM story;
INSERT INTO matter SELECT no, 4711, 7, 1, x'00' FROM story LIMIT 1;
INSERT INTO link SELECT no, no, x'00112233445566778899aabbccddeeff', x'00' FROM story LIMIT 1;
PRAGMA user_version=1;
COMMIT;
)sql");
  REQUIRE(raw.number("PRAGMA user_version") == 1);
  REQUIRE(raw.number("SELECT count(*) FROM pot") > 1);
}

// A store of version 1 on a disk, what it is to show, and a parcel of all its entries.
struct Older {
  Image image;
  FakeHost host{1};
  std::string picture;
  std::vector<std::uint8_t> parcel;
};

const Older& older() {
  static const Older made = [] {
    Older older;
    Disk disk;
    disk.write_down(false);
    const UnderSqlite under(disk);
    {
      auto book = make::new_book(store, older.host, "A");
      make::write_small_day(*book, older.host);
      const BatchId batch = make::begin_bulbs(*book, "Skarn Blue", make::lines({{"20-22", 9}}));
      make::tap(*book, batch, 1, make::bulbs_potted(make::lines({{"20-22", 4}}), "house 1, bench 1, no. 1"));
      make::tap(*book, batch, 2, make::bulbs_potted(make::lines({{"20-22", 4}}), "house 1, bench 2, no. 1"));
      make::tap(*book, batch, 1, Watered{});
      make::tap(*book, batch, 1, Tested{"mosaic virus", TestResult::positive, ""});
      make::tap(*book, batch, 1, Held{"pale stripes"});
      make::tap(*book, batch, 0, Postponed{"repot", 14, "too wet"});
      make::tap(*book, batch, 2, Treated{"soft soap", "", 12, ""});
      make::tap(*book, batch, 1, Discarded{make::lines({{"20-22", 9}}), ""});  // more than there are: a matter
      older.picture = make::picture(*book);
      older.parcel = make::parcel(*book);
      REQUIRE(!book->matters().empty());
    }
    make_version_1();
    older.image = disk.image();
    return older;
  }();
  return made;
}

void check_sound(Logbook& book) {
  REQUIRE(make::difference(make::picture(book), older().picture) == "");
  const CheckReport report = must(book.check());
  REQUIRE_MESSAGE(report.faults.empty(), report.faults.front());
  REQUIRE(report.folded_equal);
  REQUIRE(report.chains_ok);
}

TEST_CASE("a backup of version 1 is taken in whole, and stays byte for byte as it was") {
  const make::Folder folder;
  const std::string backup = folder.file("older.book");
  const auto& bytes = older().image.at(store);
  std::ofstream(backup, std::ios::binary) << std::string(bytes.begin(), bytes.end());
  FakeHost host = older().host;
  MemorySink sink;
  must(Logbook::parcel_of_backup(backup, sink, host));
  std::ifstream in(backup, std::ios::binary);
  const std::string after((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
  CHECK((after == std::string(bytes.begin(), bytes.end())));
  auto book = make::new_book(folder.file("new"), host, "B");
  make::merge(*book, sink.bytes());
  CHECK(make::difference(make::picture(*book), older().picture) == "");
}

TEST_CASE("a store of version 1 is opened, folded anew, and shows what a book made today of its entries shows") {
  Disk disk(older().image);
  disk.write_down(false);
  const UnderSqlite under(disk);
  FakeHost host = older().host;
  {
    auto book = make::open_book(store, host);
    check_sound(*book);
    FakeHost other_host(2);
    other_host.set_now(host.now_ms());
    auto other = make::new_book(faults::place("fresh.book"), other_host, "B");
    make::merge(*other, {older().parcel});
    CHECK(make::difference(*book, *other) == "");
    // What was folded is guarded by: the pot found bad, and the treated one until its time is over.
    CHECK(book->guarded(host.now_ms()).size() == 2);
    CHECK(book->guarded(host.now_ms() + 13 * 3'600'000).size() == 1);
    make::tap(*book, {}, 0, Note{"goes on"});
    CHECK(must(book->check()).faults.empty());
  }
  Raw raw;
  CHECK(raw.number("PRAGMA user_version") == 2);
  CHECK(raw.number("SELECT count(*) FROM refold") == 0);
  CHECK(raw.number("SELECT count(*) FROM matter WHERE id=4711") == 0);
}

TEST_CASE("a store of version 1 that is opened only to be read is brought up to date too") {
  Disk disk(older().image);
  disk.write_down(false);
  const UnderSqlite under(disk);
  FakeHost host = older().host;
  OpenWish wish;
  wish.read_only = true;
  {
    auto book = must(Logbook::open(store, wish, host));
    check_sound(*book);
  }
  auto book = make::open_book(store, host);
  check_sound(*book);
}

TEST_CASE("a backup of version 1 is put back") {
  Disk disk(older().image);
  disk.write_down(false);
  const UnderSqlite under(disk);
  FakeHost host = older().host;
  const std::string back = faults::place("back.book");
  must(Logbook::restore(store, back, host));
  auto book = make::open_book(back, host);
  check_sound(*book);
}

TEST_CASE("bringing a store up to date fails on a failing or full disk in words, and is done the next time") {
  for (const Fault::Kind kind : {Fault::Kind::input_output, Fault::Kind::full}) {
    for (const bool for_ever : {false, true}) {
      std::uint64_t refused = 0;
      for (std::uint64_t at = 1;; ++at) {
        INFO((kind == Fault::Kind::full ? "disk full" : "error")
             << " at operation " << at << (for_ever ? " and for ever after" : ""));
        Disk disk(older().image);
        disk.write_down(false);
        const UnderSqlite under(disk);
        FakeHost host = older().host;
        disk.set_fault({kind, at, for_ever});
        auto opened = Logbook::open(store, OpenWish{}, host);
        const bool met = disk.faults() > 0;
        disk.set_fault({});
        if (!opened) {
          ++refused;
          REQUIRE(met);
          REQUIRE(opened.error().kind == ErrorKind::failed);
          REQUIRE(opened.error().what.size() > 20);
          opened = Logbook::open(store, OpenWish{}, host);
        }
        REQUIRE_MESSAGE(opened.ok(), "the next try: " << opened.error().what);
        check_sound(**opened);
        if (!met) break;
      }
      CHECK(refused > 0);
    }
  }
}

TEST_CASE("a power cut while a store is brought up to date leaves one that is brought up to date the next time") {
  Disk disk(older().image);
  {
    const UnderSqlite under(disk);
    FakeHost host = older().host;
    auto book = make::open_book(store, host);
    check_sound(*book);
  }
  Cuts cuts(disk.first(), disk.operations());
  Chance chance(1);
  std::size_t cut = 0;
  while (cuts.step()) {
    for (const int luck : {0, 1, 2, 3}) {
      INFO("after operation " << cuts.at() << ", luck " << luck);
      Disk left(cuts.draw(luck, chance));
      left.write_down(false);
      const UnderSqlite under(left);
      FakeHost host = older().host;
      auto opened = Logbook::open(store, OpenWish{}, host);
      REQUIRE_MESSAGE(opened.ok(), opened.error().what);
      check_sound(**opened);
      ++cut;
    }
  }
  CHECK(cut > 20);
}

}  // namespace
}  // namespace motherbulb

// The logbook as a whole: keeping, merging, settling on one device and looking on another, forks, clocks, the check.
#include "core/logbook.hpp"

#include <doctest/doctest.h>
#include <sqlite3.h>

#include "core/label.hpp"
#include "tests/make.hpp"

using namespace motherbulb;
using namespace motherbulb::make;

namespace {

// What a person sees of a book, in one text: equal books give equal texts.
std::string picture(const Logbook& book) {
  std::string text = book.digest() + "\n";
  const Stock stock = book.stock();
  for (const StockRow& row : stock.rows) {
    text += row.clone + " " + to_text(row.grade) + " " + std::to_string(row.bulbs) + "\n";
  }
  for (const CloneBalance& row : stock.balance) {
    CHECK(balanced(row.bulbs));
    CHECK(balanced(row.pieces));
    text += row.clone + " " + std::to_string(row.bulbs.begun) + " " + std::to_string(row.bulbs.there) + " " +
            std::to_string(row.bulbs.open) + " " + std::to_string(row.pieces.made) + "\n";
  }
  for (const PotRow& row : book.pots(true)) {
    text += pot_label(row.batch, row.pot.pot.number) + " " + std::string(to_text(stage_of(row.batch, row.pot))) + " " +
            place_of(row.batch, row.pot) + " " + std::to_string(row.pot.pieces) + " " +
            std::to_string(total(row.pot.bulbs)) + "\n";
  }
  for (const Matter& matter : book.matters()) text += hex(matter.id) + " " + std::string(to_text(matter.kind)) + "\n";
  return text;
}

void check_sound(Logbook& book) {
  const CheckReport report = must(book.check());
  for (const std::string& fault : report.faults) MESSAGE(fault);
  CHECK(report.faults.empty());
  CHECK(report.folded_equal);
  CHECK(report.chains_ok);
}

const Matter* find(const std::vector<Matter>& matters, MatterKind kind) {
  for (const Matter& matter : matters) {
    if (matter.kind == kind) return &matter;
  }
  return nullptr;
}

void name_device(Logbook& book, const std::string& name) {
  Record wish;
  wish.fact = DeviceNamed{name, ""};
  must(book.run(wish));
}

struct TwoBooks {
  Folder folder;
  FakeHost host_a{1}, host_b{2};
  std::unique_ptr<Logbook> a, b;
  BatchId batch;

  TwoBooks() {
    a = new_book(folder.file("a.book"), host_a, "A");
    b = new_book(folder.file("b.book"), host_b, "B");
    name_device(*a, "bench tablet");
    name_device(*b, "sill tablet");
    batch = begin_batch(*a, "Tirna Red", 1, 8);
    tap(*a, batch, 1, pieces_potted(8));
    exchange();
    later(60);
  }
  void later(std::int64_t minutes) {
    host_a.advance_minutes(minutes);
    host_b.advance_minutes(minutes);
  }
  void exchange() {
    const auto from_a = parcel(*a), from_b = parcel(*b);
    merge(*a, from_b);
    merge(*b, from_a);
  }
};

}  // namespace

TEST_CASE("a letter given to this device by name goes on its labels, until that is taken back") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("a.book"), host, "A");
  CHECK(book->next_label(2026).substr(0, 3) == "26A");
  const Receipt named = make::tap(*book, BatchId{}, 0, DeviceNamed{"potting bench", "K"});
  CHECK(book->device_letter() == "K");
  CHECK(book->next_label(2026).substr(0, 3) == "26K");
  // Another device's name changes nothing here.
  FakeHost other_host{2};
  auto other = make::new_book(folder.file("b.book"), other_host, "B");
  make::tap(*other, BatchId{}, 0, DeviceNamed{"phone", "P"});
  make::merge(*book, make::parcel(*other));
  CHECK(book->device_letter() == "K");
  TakeBack back;
  back.fact = named.fact;
  back.helper = "Runa";
  make::must(book->run(back));
  CHECK(book->device_letter() == "A");
}

TEST_CASE("a backup that is stopped on the way leaves no file, and the book goes on") {
  struct Stop : Progress {
    bool go_on(double share) override {
      shares.push_back(share);
      return false;
    }
    std::vector<double> shares;
  };
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("a.book"), host);
  make::write_small_day(*book, host);
  std::vector<Entry> many;
  make::Device device(1);
  for (int i = 0; i < 20'000; ++i) many.push_back(device.entry(Watered{"a word"}, book->batches().front().id, 1));
  make::must(book->append(many));
  Stop stop;
  const Outcome stopped = book->backup(folder.file("copy.book"), &stop);
  REQUIRE_FALSE(stopped.ok());
  CHECK(stopped.error().kind == ErrorKind::cancelled);
  REQUIRE_FALSE(stop.shares.empty());
  CHECK(stop.shares.front() < 0.7);  // on the way, not at its end
  CHECK_FALSE(std::filesystem::exists(folder.file("copy.book")));
  make::must(book->backup(folder.file("copy.book")));
  CHECK(std::filesystem::exists(folder.file("copy.book")));
  make::tap(*book, book->batches().front().id, 1, Watered{});
}

TEST_CASE("a kept entry is there after the book was closed and opened") {
  Folder folder;
  FakeHost host;
  std::string before;
  {
    auto book = new_book(folder.file("a.book"), host, "A");
    write_small_day(*book, host);
    CHECK(book->entry_count() == 11);
    before = picture(*book);
  }
  auto book = open_book(folder.file("a.book"), host);
  CHECK(picture(*book) == before);
  check_sound(*book);
}

TEST_CASE("folding tap by tap gives the tables that folding from scratch gives") {
  Folder folder;
  FakeHost host;
  auto book = new_book(folder.file("a.book"), host, "A");
  for (int day = 0; day < 3; ++day) {
    write_small_day(*book, host);
    check_sound(*book);
    host.advance_days(1);
  }
}

TEST_CASE("an entry set back to yesterday is folded where it belongs") {
  Folder folder;
  FakeHost host;
  auto book = new_book(folder.file("a.book"), host, "A");
  const BatchId batch = begin_bulbs(*book, "Red", lines({{"8-10", 5}}));
  tap(*book, batch, 1, bulbs_potted(lines({{"8-10", 5}})));
  host.advance_days(2);
  tap(*book, batch, 1, unpotted(lines({{"10-12", 3}})));
  CHECK(book->stock().balance[0].bulbs.open == 2);
  // The mouse was seen the day before; a pot that is emptied refuses a loss now, the table of yesterday takes it.
  Record late = record(batch, 1, lost(Cause::animal, 2));
  const auto refused = book->run(late);
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.error().what.find("was unpotted by Runa") != std::string::npos);
  Entry entry;
  entry.kind = static_cast<std::uint16_t>(Kind::lost);
  entry.payload = encode(lost(Cause::animal, 2));
  entry.batch = batch;
  entry.pot = 1;
  entry.when = moment(host.now_ms() - 24 * 60 * 60'000, 60);
  must(book->append({entry}));
  CHECK(book->stock().balance[0].bulbs.open == 0);
  CHECK(book->matters().empty());
  check_sound(*book);
}

TEST_CASE("stock on an earlier day counts only what was done by then") {
  Folder folder;
  FakeHost host;
  auto book = new_book(folder.file("a.book"), host, "A");
  const BatchId batch = begin_bulbs(*book, "Red", lines({{"8-10", 5}}));
  host.advance_days(10);
  tap(*book, batch, 0, Sold{lines({{"8-10", 2}}), std::nullopt, ""});
  CHECK(book->stock().balance[0].bulbs.there == 3);
  CHECK(book->stock(day_from_text("2026-03-05")).balance[0].bulbs.there == 5);
  CHECK(book->stock(day_from_text("2026-03-01")).balance.empty());
}

TEST_CASE("undo where it was made: the fact counts no more, on every device") {
  TwoBooks two;
  const Receipt kept = tap(*two.a, two.batch, 1, unpotted(lines({{"2-4", 9}}), 7));
  CHECK(kept.kept);
  CHECK(two.a->stock().balance[0].bulbs.there == 9);
  must(two.a->run(TakeBack{"Runa", two.batch, kept.fact, "wrong pot"}));
  CHECK(two.a->stock().balance[0].bulbs.there == 0);
  CHECK_FALSE(two.a->run(TakeBack{"Runa", two.batch, kept.fact, ""}).ok());
  two.exchange();
  CHECK(picture(*two.a) == picture(*two.b));
  CHECK(two.b->stock().balance[0].bulbs.there == 0);
}

TEST_CASE("one pot counted on two devices is one matter, and settled on one it is settled on the other") {
  for (Take take : {Take::first, Take::second, Take::both}) {
    TwoBooks two;
    tap(*two.a, two.batch, 1, unpotted(lines({{"2-4", 13}}), 7));
    two.later(23);
    tap(*two.b, two.batch, 1, unpotted(lines({{"2-4", 12}}), 7), "Bo");
    const MergeReport report = merge(*two.a, parcel(*two.b));
    CHECK(report.new_entries == 1);
    CHECK(report.matters == 1);
    merge(*two.b, parcel(*two.a));
    CHECK(picture(*two.a) == picture(*two.b));
    REQUIRE(two.a->matters().size() == 1);
    CHECK(two.a->stock().balance[0].bulbs.increase == 13);
    must(two.a->run(Settle{"Runa", two.a->matters()[0].id, take}));
    merge(*two.b, parcel(*two.a));
    CHECK(two.b->matters().empty());
    const std::int64_t expected = take == Take::first ? 13 : take == Take::second ? 12 : 25;
    CHECK(two.b->stock().balance[0].bulbs.increase == expected);
    CHECK(picture(*two.a) == picture(*two.b));
    check_sound(*two.a);
    check_sound(*two.b);
    // A table gets what counts: the count that was set aside is not in it.
    std::int64_t counts = 0;
    must(two.b->each_standing_fact([&](const StoryLine& line) {
      counts += line.entry.kind == static_cast<std::uint16_t>(Kind::unpotted) ? 1 : 0;
    }));
    CHECK(counts == (take == Take::both ? 2 : 1));
  }
}

TEST_CASE("merging twice, and merging what is known, changes nothing") {
  TwoBooks two;
  tap(*two.b, two.batch, 1, looked(3));
  const auto from_b = parcel(*two.b);
  CHECK(merge(*two.a, from_b).new_entries == 1);
  const std::string once = picture(*two.a);
  const MergeReport again = merge(*two.a, from_b);
  CHECK(again.new_entries == 0);
  CHECK(again.matters == 0);
  CHECK(picture(*two.a) == once);
}

TEST_CASE("a parcel for a given book holds only what that book lacks") {
  TwoBooks two;
  tap(*two.b, two.batch, 1, looked(3));
  const auto known = two.a->vector();
  MemorySource source(parcel(*two.b, &known));
  auto reader = must(ParcelReader::open(source));
  CHECK(reader->entries() == 1);
  CHECK(merge(*two.a, parcel(*two.b, &known)).new_entries == 1);
}

TEST_CASE("entries behind a gap are parked and taken when it is filled") {
  TwoBooks two;
  const auto before = two.b->vector();
  tap(*two.b, two.batch, 1, looked(3));
  const auto middle = two.b->vector();
  const auto first = parcel(*two.b, &before);
  two.later(24 * 60);
  tap(*two.b, two.batch, 1, looked(4));
  const MergeReport late = merge(*two.a, parcel(*two.b, &middle));
  CHECK(late.parked == 1);
  CHECK(late.new_entries == 0);
  CHECK_FALSE(two.a->pot({two.batch, 1})->shoots.has_value());
  check_sound(*two.a);
  merge(*two.a, first);
  CHECK(two.a->pot({two.batch, 1})->shoots == 4);
  merge(*two.b, parcel(*two.a));
  CHECK(picture(*two.a) == picture(*two.b));
}

TEST_CASE("a batch that only another device's parcel knows waits for it and then counts") {
  TwoBooks two;
  FakeHost host_c(3, two.host_a.now_ms());
  auto c = new_book(two.folder.file("c.book"), host_c, "C");
  const auto of_a = two.a->vector();
  tap(*two.b, two.batch, 1, lost(Cause::rot, 2));
  merge(*c, parcel(*two.b, &of_a));  // without what began the batch
  CHECK(c->stock().balance.empty());
  CHECK(c->matters().empty());
  merge(*c, parcel(*two.a));
  CHECK(c->stock().balance.at(0).pieces.lost[static_cast<std::size_t>(Cause::rot)] == 2);
  check_sound(*c);
}

TEST_CASE("a clock that runs ahead is measured at the merge, and its entries shift when that is settled") {
  TwoBooks two;
  two.host_b.advance_minutes(47);
  tap(*two.b, two.batch, 1, looked(5), "Bo");
  const MergeReport report = merge(*two.a, parcel(*two.b));
  CHECK(report.matters == 1);
  const auto matters = two.a->matters();
  const Matter* clock = find(matters, MatterKind::clock);
  REQUIRE(clock != nullptr);
  CHECK(clock->proposal == Take::first);
  CHECK(clock->first.bulbs == 47);
  CHECK_MESSAGE(two.a->pot({two.batch, 1})->shoots == 5, "nobody's day is refused");
  const std::int64_t written = two.a->pot({two.batch, 1})->last_looked->utc_ms;
  must(two.a->run(Settle{"Runa", clock->id, Take::first}));
  CHECK(two.a->pot({two.batch, 1})->last_looked->utc_ms == written - 47 * 60'000);
  CHECK(two.a->matters().empty());
  merge(*two.b, parcel(*two.a));
  CHECK(picture(*two.a) == picture(*two.b));
  CHECK(two.b->pot({two.batch, 1})->last_looked->utc_ms == written - 47 * 60'000);
  check_sound(*two.a);
  check_sound(*two.b);
  // Its stamps were not followed: this device goes on by its own clock.
  const Receipt next = tap(*two.a, two.batch, 1, Watered{});
  for (const StoryLine& line : two.a->story(two.batch)) {
    if (line.entry.id == next.id) CHECK(line.entry.stamp.wall_ms() <= two.host_a.now_ms() + accepted_drift_ms);
  }
}

TEST_CASE("a parcel that lay about for a day is no clock that is slow") {
  TwoBooks two;
  tap(*two.b, two.batch, 1, looked(5));
  const auto from_b = parcel(*two.b);
  two.host_a.advance_days(1);
  CHECK(merge(*two.a, from_b).matters == 0);
}

TEST_CASE("a clock that is behind shows when its parcel is older than what it already knew of us") {
  TwoBooks two;
  tap(*two.a, two.batch, 1, looked(5));
  merge(*two.b, parcel(*two.a));
  two.host_b.advance_minutes(-30);
  merge(*two.a, parcel(*two.b));
  const auto matters = two.a->matters();
  const Matter* clock = find(matters, MatterKind::clock);
  REQUIRE(clock != nullptr);
  CHECK(clock->first.bulbs == -30);
}

TEST_CASE("one label on two batches is a matter; the one not taken gets another label, everywhere") {
  TwoBooks two;
  Begun same = begun("Skarn Blue", Method::growing_on, lines({{"8-10", 5}}));
  same.label = two.a->batch(two.batch)->label;
  tap(*two.b, {}, 0, same);
  two.exchange();
  const auto matters = two.a->matters();
  const Matter* twice = find(matters, MatterKind::label_twice);
  REQUIRE(twice != nullptr);
  CHECK(two.a->batches_by_label(same.label).size() == 2);
  must(two.a->run(Settle{"", twice->id, Take::first}));
  CHECK(two.a->batches_by_label(same.label).size() == 1);
  CHECK(find(two.a->matters(), MatterKind::label_twice) == nullptr);
  merge(*two.b, parcel(*two.a));
  CHECK(picture(*two.a) == picture(*two.b));
  check_sound(*two.b);
}

TEST_CASE("names of clones that differ by a letter are a matter; taking one renames the other") {
  TwoBooks two;
  begin_bulbs(*two.b, "Tirna Rad", lines({{"8-10", 5}}));
  begin_bulbs(*two.b, "tirna  RED", lines({{"8-10", 2}}));  // case and spaces make no other clone
  two.exchange();
  const auto matters = two.a->matters();
  const Matter* near = find(matters, MatterKind::near_names);
  REQUIRE(near != nullptr);
  CHECK(near->first.text == "Tirna Red");
  CHECK(two.a->stock().balance.size() == 2);
  must(two.a->run(Settle{"", near->id, Take::first}));
  CHECK(two.a->stock().balance.size() == 1);
  CHECK(two.a->stock().balance[0].bulbs.there == 7);
  CHECK(two.a->matters().empty());
  merge(*two.b, parcel(*two.a));
  CHECK(picture(*two.a) == picture(*two.b));
}

TEST_CASE("a device without a name or a letter is a matter, and one tap names it") {
  Folder folder;
  FakeHost host_a(1), host_b(2);
  auto a = new_book(folder.file("a.book"), host_a, "A");
  const BatchId batch = begin_batch(*a, "Tirna Red", 1, 8);
  tap(*a, batch, 1, pieces_potted(8));
  auto b = new_book(folder.file("b.book"), host_b);
  merge(*b, parcel(*a));
  tap(*b, batch, 1, looked(2));
  CHECK(merge(*a, parcel(*b)).matters == 1);
  const auto matters = a->matters();
  const Matter* unknown = find(matters, MatterKind::unknown_device);
  REQUIRE(unknown != nullptr);
  must(a->run(Settle{"", unknown->id, Take::first}));
  CHECK(a->matters().empty());
  merge(*b, parcel(*a));
  CHECK(b->matters().empty());
  check_sound(*b);
}

TEST_CASE("a device that only merges and settles needs no name") {
  Folder folder;
  FakeHost host_a(1), host_hub(2);
  auto a = new_book(folder.file("a.book"), host_a, "A");
  const BatchId batch = begin_bulbs(*a, "Tirna Red", lines({{"8-10", 5}}));
  tap(*a, batch, 1, bulbs_potted(lines({{"8-10", 5}})));
  tap(*a, batch, 1, unpotted(lines({{"8-10", 3}})));
  auto hub = new_book(folder.file("hub.book"), host_hub);
  merge(*hub, parcel(*a));
  REQUIRE(hub->matters().size() == 1);
  must(hub->run(Settle{"Runa", hub->matters()[0].id, Take::second}));
  CHECK(hub->matters().empty());
  merge(*a, parcel(*hub));
  CHECK(a->matters().empty());
}

TEST_CASE("a copied store goes on with a writer of its own, and so does one that was put back in place") {
  Folder folder;
  FakeHost host;
  const std::string path = folder.file("a.book"), copy = folder.file("copy.book");
  {
    auto book = new_book(path, host, "A");
    write_small_day(*book, host);
  }
  std::filesystem::copy_file(path, copy);
  auto copied = open_book(copy, host);
  const BatchId batch = copied->batches().front().id;
  tap(*copied, batch, 0, Note{"on the copy"});
  CHECK(copied->vector().size() == 2);
  copied.reset();

  {
    auto book = open_book(path, host);
    tap(*book, batch, 0, Note{"one more"});
    CHECK(book->vector().size() == 1);
  }
  auto original = open_book(path, host);
  merge(*original, [&] {
    auto again = open_book(copy, host);
    return parcel(*again);
  }());
  CHECK(find(original->matters(), MatterKind::fork) == nullptr);
  original.reset();

  // An older copy over the same file: the device remembers how far it had written.
  std::filesystem::copy_file(copy, path, std::filesystem::copy_options::overwrite_existing);
  auto back = open_book(path, host);
  const auto before = back->vector();
  const Receipt receipt = tap(*back, batch, 0, Note{"after putting back"});
  for (const Known& known : before) CHECK_FALSE(known.writer == receipt.id.writer);
}

TEST_CASE("one id with two contents: both kept, neither counts until settled, the same on both devices") {
  // A backup put where the device cannot know it.
  BatchId batch;
  struct Blind : FakeHost {
    using FakeHost::FakeHost;
    std::string store_token(const std::string&) override { return "same"; }
    std::uint64_t highest_sequence(const WriterId&) override { return 0; }
  };
  Folder blind_folder;
  Blind blind_a(5), blind_b(6);
  {
    auto book = new_book(blind_folder.file("a.book"), blind_a, "A");
    batch = begin_bulbs(*book, "Red", lines({{"8-10", 10}}));
  }
  std::filesystem::copy_file(blind_folder.file("a.book"), blind_folder.file("b.book"));
  auto a = open_book(blind_folder.file("a.book"), blind_a);
  auto b = open_book(blind_folder.file("b.book"), blind_b);
  blind_a.advance_minutes(5), blind_b.advance_minutes(6);
  tap(*a, batch, 0, Sold{lines({{"8-10", 1}}), std::nullopt, ""}, "Runa");
  tap(*b, batch, 0, Sold{lines({{"8-10", 2}}), std::nullopt, ""}, "Bo");
  tap(*b, batch, 0, Given{lines({{"8-10", 4}}), ""}, "Bo");
  const auto from_a = parcel(*a), from_b = parcel(*b);
  merge(*a, from_b);
  merge(*b, from_a);
  CHECK(picture(*a) == picture(*b));
  const Matter* fork = nullptr;
  const auto matters = a->matters();
  fork = find(matters, MatterKind::fork);
  REQUIRE(fork != nullptr);
  // Entry 2 has two contents and counts nothing; entry 3 has one.
  CHECK(a->stock().balance[0].bulbs.sold == 0);
  CHECK(a->stock().balance[0].bulbs.given == 4);
  check_sound(*a);
  check_sound(*b);

  must(a->run(Settle{"", fork->id, Take::both}));
  CHECK(a->stock().balance[0].bulbs.sold == 3);
  CHECK(a->vector().size() == 2);  // a writer that forked is written with no more
  merge(*b, parcel(*a));
  CHECK(picture(*a) == picture(*b));
  CHECK(find(b->matters(), MatterKind::fork) == nullptr);
  check_sound(*b);

  // A third device learns both contents from one parcel.
  FakeHost host_c(9);
  auto c = new_book(blind_folder.file("c.book"), host_c, "C");
  host_c.advance_minutes(60);
  merge(*c, parcel(*b));
  CHECK(picture(*c) == picture(*b));
}

TEST_CASE("a changed byte in any table shows in the check") {
  Folder folder;
  FakeHost host;
  const std::string path = folder.file("a.book");
  {
    auto book = new_book(path, host, "A");
    write_small_day(*book, host);
    const BatchId batch = begin_bulbs(*book, "Red", lines({{"8-10", 5}}));
    tap(*book, batch, 1, bulbs_potted(lines({{"8-10", 5}})));
    tap(*book, batch, 1, unpotted(lines({{"8-10", 3}})));  // an open balance: a matter
    Begun child = begun("Red", Method::chipping, lines({{"8-10", 1}}), 4);
    child.parent = batch;
    tap(*book, {}, 0, child);
    Entry entry;
    entry.kind = static_cast<std::uint16_t>(Kind::watered);
    entry.payload = encode(Watered{});
    entry.batch = batch;
    entry.when = when("2026-03-02");
    entry.table = TableOrigin{FactKey{{7}}, {1}, "A"};
    must(book->append({entry}));
    check_sound(*book);
  }
  struct Change {
    const char* table;
    const char* sql;
  };
  const std::vector<Change> changes = {
      {"setting", "UPDATE setting SET value=x'41414141' WHERE name='letter'"},
      {"writer", "UPDATE writer SET head=zeroblob(32)"},
      {"writer", "UPDATE writer SET last=last-1"},
      {"word", "UPDATE word SET text='Rune' WHERE text='Runa'"},
      {"story", "UPDATE story SET id=randomblob(16) WHERE no=1"},
      {"entry", "UPDATE entry SET payload=x'00' WHERE seq=3"},
      {"entry", "UPDATE entry SET stamp=stamp+1 WHERE seq=3"},
      {"entry", "UPDATE entry SET hash=zeroblob(32) WHERE seq=3"},
      {"entry", "UPDATE entry SET pot=pot+1 WHERE seq=3"},
      {"entry", "UPDATE entry SET story=1 WHERE kind=1"},
      {"fact", "UPDATE fact SET fact=zeroblob(16)"},
      {"batch", "UPDATE batch SET label='26A999-X' WHERE story=1"},
      {"batch", "UPDATE batch SET state=CAST(substr(state,1,length(state)-1)||x'01' AS BLOB) WHERE story=1"},
      {"pot", "UPDATE pot SET emptied=1-emptied WHERE number=2"},
      {"pot", "DELETE FROM pot WHERE number=2"},
      {"pot", "UPDATE pot SET state=CAST(substr(state,1,length(state)-1)||x'7f' AS BLOB) WHERE number=2"},
      {"matter", "UPDATE matter SET kind=1"},
      {"matter", "DELETE FROM matter"},
      {"link", "UPDATE link SET content=CAST(substr(content,1,length(content)-1)||x'7f' AS BLOB)"},
      {"link", "DELETE FROM link"},
      {"device", "UPDATE device SET letter='Q'"},
  };
  for (const Change& change : changes) {
    CAPTURE(std::string(change.sql));
    const std::string harmed = folder.file("harmed.book");
    std::filesystem::copy_file(path, harmed, std::filesystem::copy_options::overwrite_existing);
    sqlite3* handle = nullptr;
    REQUIRE(sqlite3_open(harmed.c_str(), &handle) == SQLITE_OK);
    sqlite3_exec(handle, "DROP TRIGGER entry_stays; DROP TRIGGER entry_remains", nullptr, nullptr, nullptr);
    REQUIRE(sqlite3_exec(handle, change.sql, nullptr, nullptr, nullptr) == SQLITE_OK);
    CHECK(sqlite3_changes(handle) > 0);
    sqlite3_close(handle);
    auto opened = Logbook::open(harmed, {false, false, true, ""}, host);
    REQUIRE(opened.ok());
    const CheckReport report = must((*opened)->check());
    CHECK_FALSE((report.folded_equal && report.chains_ok && report.faults.empty()));
  }
}

TEST_CASE("backup and restore give the same book with another writer") {
  Folder folder;
  FakeHost host;
  auto book = new_book(folder.file("a.book"), host, "A");
  write_small_day(*book, host);
  must(book->backup(folder.file("backup.book")));
  CHECK_FALSE(book->backup(folder.file("backup.book")).ok());  // never over an existing file
  must(Logbook::restore(folder.file("backup.book"), folder.file("back.book"), host));
  auto back = open_book(folder.file("back.book"), host);
  CHECK(back->digest() == book->digest());
  const Receipt next = tap(*back, back->batches().front().id, 0, Note{"after"});
  CHECK(next.id.seq == 1);
  merge(*book, parcel(*back));
  CHECK(book->digest() == back->digest());
  CHECK(find(book->matters(), MatterKind::fork) == nullptr);
  check_sound(*back);
}

TEST_CASE("what is no book, a newer book or an open one is refused in words, and nothing is made") {
  Folder folder;
  FakeHost host;
  const auto kind_of = [&](const std::string& path, OpenWish wish = {}) {
    auto opened = Logbook::open(path, wish, host);
    REQUIRE_FALSE(opened.ok());
    CHECK_FALSE(opened.error().what.empty());
    return opened.error().kind;
  };
  CHECK(kind_of(folder.file("none.book")) == ErrorKind::missing);
  CHECK_FALSE(std::filesystem::exists(folder.file("none.book")));
  CHECK(kind_of(folder.file("no/such/folder.book"), {true, false, false, ""}) == ErrorKind::missing);
  {
    std::FILE* file = std::fopen(folder.file("text.book").c_str(), "w");
    for (int i = 0; i < 500; ++i) std::fputs("this is a letter and not a book\n", file);
    std::fclose(file);
  }
  CHECK(kind_of(folder.file("text.book")) == ErrorKind::foreign);
  sqlite3* handle = nullptr;
  sqlite3_open(folder.file("other.book").c_str(), &handle);
  sqlite3_exec(handle, "CREATE TABLE other(x)", nullptr, nullptr, nullptr);
  sqlite3_close(handle);
  CHECK(kind_of(folder.file("other.book")) == ErrorKind::foreign);
  { auto book = new_book(folder.file("new.book"), host, "A"); }
  sqlite3_open(folder.file("new.book").c_str(), &handle);
  sqlite3_exec(handle, "PRAGMA user_version=99", nullptr, nullptr, nullptr);
  sqlite3_close(handle);
  CHECK(kind_of(folder.file("new.book")) == ErrorKind::newer);
  auto open = new_book(folder.file("open.book"), host, "A");
  CHECK(kind_of(folder.file("open.book")) == ErrorKind::in_use);
}

TEST_CASE("an unlikely count is asked about once and then kept") {
  Folder folder;
  FakeHost host;
  auto book = new_book(folder.file("a.book"), host, "A");
  const BatchId batch = begin_batch(*book, "Red", 1, 8);
  tap(*book, batch, 1, pieces_potted(8));
  Record wish = record(batch, 1, unpotted(lines({{"-2", 41}})));
  wish.sure = false;
  auto asked = book->run(wish);
  REQUIRE_FALSE(asked.ok());
  CHECK(asked.error().what == "unlikely: more than 40 bulblets from 8 pieces, is that right?");
  CHECK(book->entry_count() == 2);
  wish.sure = true;
  must(book->run(wish));
  CHECK(book->stock().balance[0].bulbs.there == 41);
}

TEST_CASE("a text that is no UTF-8 is refused before anything is written") {
  Folder folder;
  FakeHost host;
  auto book = new_book(folder.file("a.book"), host, "A");
  const BatchId batch = begin_batch(*book, "Red", 1, 8);
  CHECK_FALSE(book->run(record(batch, 0, Note{"caf\xe9"})).ok());
  CHECK(book->entry_count() == 1);
}

TEST_CASE("labels count on through a year, and a new device takes a letter that the book does not know") {
  Folder folder;
  FakeHost host_a(1), host_b(2);
  auto a = new_book(folder.file("a.book"), host_a);
  CHECK(a->next_label(2026).substr(0, 7) == "26A001-");
  const BatchId batch = begin_batch(*a, "Red", 1, 8);
  tap(*a, batch, 1, pieces_potted(8));
  auto b = new_book(folder.file("b.book"), host_b);
  merge(*b, parcel(*a));
  CHECK(b->next_label(2026).substr(2, 1) == "B");
}

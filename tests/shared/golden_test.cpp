// Parcels that were released once are read for ever. The files in shared/golden/ are compared with their plain text,
// and with the entries they were made from; tests/read_parcel.py does the first from FORMAT.md alone.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

#include "shared/blocks.hpp"
#include "tests/shared/reading.hpp"

using namespace motherbulb;
using sample::Run;

namespace {

std::string golden(const std::string& name) {
  const char* root = std::getenv("MOTHERBULB_SOURCE_DIR");
  return std::string(root == nullptr ? "." : root) + "/shared/golden/" + name;
}

ByteString bytes_of(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
  return ByteString(text.begin(), text.end());
}

std::uint64_t blocks_of(const ByteString& bytes) {
  const std::size_t trailer_size =
      static_cast<std::size_t>(frame::get(bytes.data() + bytes.size() - frame::tail_size, 4));
  return frame::get(bytes.data() + bytes.size() - trailer_size + frame::hash_size, 8);
}

Result<std::string> text_of(const ByteString& bytes) {
  Result<sample::Read> read = sample::read(bytes);
  if (!read) return read.error();
  return reading::of(*read, blocks_of(bytes));
}

// What the files of version 1 hold. It stays as it is: other contents get another file.
struct Golden {
  ParcelHead head;
  std::vector<Run> runs;
  std::vector<Known> vector;
};

Golden every_kind() {
  Golden made;
  made.head = {sample::writer(0x10), 1'772'441'400'000};
  Run run(sample::writer(0x10));
  std::int64_t at = 1'772'438'400'000;  // 2 March 2026, 08:00 UTC
  for (const Payload& fact : sample::one_of_each_kind()) {
    if (kind_number(fact) > 37) break;  // came later, with a file of their own
    Entry entry = sample::entry_of(fact, at += 61'007);
    if (entry.kind != 1 && entry.kind < 27) {
      entry.batch = batch_of(fact_key(EntryId{run.writer, 1}));
      entry.pot = entry.kind;
    }
    run.add(std::move(entry));
  }
  Entry unknown = sample::entry_of(Watered{}, at += 1000);
  unknown.kind = 4711;
  unknown.payload = {0x00, 0xff, 0x80, 0x0a, 0x00};
  run.add(unknown);
  Entry longer = sample::entry_of(Watered{"with a field that came later"}, at += 1000);
  longer.payload.push_back(1);
  run.add(longer);
  Entry beyond = sample::entry_of(Damage{Cause::pest, "", 4, ""}, at += 1000);
  run.add(beyond);
  Entry nothing = sample::entry_of(Note{""}, at += 1000);
  nothing.payload.clear();
  run.add(nothing);
  made.vector = sample::vector_of({run});
  made.runs = {run};
  return made;
}

// Kind 38 came later: all of it said, nothing of it said, and the whole book's.
Golden treatment() {
  Golden made;
  made.head = {sample::writer(0x60), 1'795'600'000'000};
  Run run(sample::writer(0x60));
  std::int64_t at = 1'795'593'600'000;  // 25 November 2026, 08:00 UTC
  const BatchId batch = sample::bytes_from<BatchId>(0x40);
  Entry said = sample::entry_of(sample::one_of_each_kind().at(37), at += 61'007);
  said.batch = batch;
  said.pot = 3;
  run.add(said);
  Entry bare = sample::entry_of(Treatment{}, at += 61'007, "");
  bare.batch = batch;
  bare.when = bare_day(local_day(bare.when), 60);
  run.add(bare);
  Entry hours = sample::entry_of(Treatment{"", "", "", "", "", "", "", 0, ""}, at += 61'007);
  run.add(hours);
  Entry later = sample::entry_of(Treatment{}, at += 61'007);
  later.payload.push_back(0);  // a field that a still newer version added
  run.add(later);
  made.vector = sample::vector_of({run});
  made.runs = {run};
  return made;
}

Golden extremes() {
  Golden made;
  made.head = {sample::writer(0x10), -1};
  Run run(sample::writer(0x20), 7);
  const std::vector<std::string> texts = {
      "",
      "\xc3\x85sa \xe2\x80\x9cQuoted\xe2\x80\x9d \"plain\" \\ \t \r\n end",
      "\xf0\x9f\xa7\x85 \xf0\x9f\x91\xa9\xe2\x80\x8d\xf0\x9f\x8c\xbe",      // emoji
      "\xd7\xa9\xd7\x95\xd7\xa9\xd7\x9f \xd8\xb2\xd9\x86\xd8\xa8\xd9\x82",  // right to left
      std::string("nul \0 inside", 12),
      "\xe7\x90\x83\xe6\xa0\xb9",
      std::string(10'000, 'x')};
  std::int64_t at = 951'782'400'000;  // 29 February 2000
  for (const std::string& text : texts) {
    Entry entry = sample::entry_of(Note{text}, at += 86'400'000, text);
    run.add(std::move(entry));
  }
  for (std::int64_t ms : {INT64_MIN, std::int64_t{-1}, std::int64_t{0}, INT64_MAX}) {
    for (std::int32_t minutes : {-1080, 0, 765, 1080}) {
      Entry entry = sample::entry_of(Watered{}, 0);
      entry.stamp.value = ms < 0 ? 0 : UINT64_MAX - static_cast<std::uint64_t>(minutes + 1080);
      entry.when = {ms, minutes, minutes == 0};
      entry.pot = minutes == 1080 ? INT32_MAX : 0;
      run.add(std::move(entry));
    }
  }
  // Days that people meet: 1970, leap days, 2038, 2100, and the ends of what a day can be.
  for (std::int32_t days : {INT32_MIN, -719'162, -1, 0, 19'782, 24'855, 47'541, 2'932'896, INT32_MAX}) {
    Entry entry = sample::entry_of(Watered{}, 1'772'438'400'000);
    entry.when = bare_day(Day{days}, 60);
    run.add(std::move(entry));
  }
  Lines lines = {sample::line(Grade{}, 0), sample::line(Grade{0, INT32_MAX}, greatest_count),
                 sample::line(std::nullopt, 1, Cause::dried_out, "d", "n")};
  run.add(sample::entry_of(Lost{lines, ""}, 1'772'438'400'000));
  run.add(sample::entry_of(Money{INT64_MIN, true, ""}, 1'772'438'400'000));
  run.add(sample::entry_of(Money{INT64_MAX, false, ""}, 1'772'438'400'000));
  run.add(sample::entry_of(Hours{INT32_MIN, ""}, 1'772'438'400'000));
  run.add(sample::entry_of(ClockMeasured{sample::writer(0xf0), UINT64_MAX, INT64_MIN}, 1'772'438'400'000));
  made.vector = sample::vector_of({run});
  made.runs = {run};
  return made;
}

Golden tables_and_fork() {
  Golden made;
  made.head = {sample::writer(0x30), 1'772'441'400'000};
  Run one(sample::writer(0x30));
  Begun begun;
  begun.clone = "Skarn Blue";
  begun.genus = "Narcissus";
  begun.method = Method::growing_on;
  begun.mothers = {sample::line(Grade{100, 120}, 30)};
  begun.label = "26C001-8";
  Entry first = sample::entry_of(begun, 1'772'438'400'000);
  first.table = TableOrigin{sample::bytes_from<FactKey>(0x70), {1}, "C"};
  first.when = bare_day(Day{20'514}, 60);
  one.add(first);
  Entry second = sample::entry_of(Sold{{sample::line(Grade{100, 120}, 2), sample::line(Grade{120, 140}, 1)}, 900, ""},
                                  1'772'438'400'000);
  second.stamp.value += 1;
  second.batch = batch_of(first.table->fact);
  second.table = TableOrigin{sample::bytes_from<FactKey>(0x90), {0, UINT64_MAX, 0x0102'0304'0506'0708}, "C"};
  one.add(second);
  Entry third = sample::entry_of(Watered{"left"}, 1'772'438'500'000);
  third.table = TableOrigin{sample::bytes_from<FactKey>(0xb0), {}, ""};
  one.add(third);
  // The same writer went on from its second entry on another device, from a copied store.
  Run other(one.writer, 3);
  other.before = one.hashes[1];
  other.last = other.before;
  other.add(sample::entry_of(Watered{"right"}, 1'772'438'500'000, "Tomas"));
  other.add(sample::entry_of(Watered{"right again"}, 1'772'438'600'000, "Tomas"));
  std::mt19937_64 random(20260302);
  Run many = sample::taps(random, 3, 100, 20);
  made.vector = sample::vector_of({one, many});
  made.vector.push_back({sample::writer(0xe0), 1, sample::bytes_from<Hash>(0xc0)});  // known, and not sent
  made.runs = {one, other, many};
  return made;
}

std::map<std::string, Golden> all() {
  return {
      {"v1-kinds", every_kind()},
      {"v1-treatment", treatment()},
      {"v1-extremes", extremes()},
      {"v1-tables-fork", tables_and_fork()},
      {"v1-empty", Golden{{sample::writer(0x50), 0}, {}, {{sample::writer(0x50), 3, sample::bytes_from<Hash>(1)}}}}};
}

}  // namespace

TEST_CASE("every golden parcel reads as its plain text says") {
  std::size_t read = 0;
  for (const auto& file : std::filesystem::directory_iterator(golden(""))) {
    if (file.path().extension() != ".parcel") continue;
    const std::string stem = file.path().stem().string();
    INFO(stem);
    Result<std::string> text = text_of(bytes_of(file.path().string()));
    if (!text) FAIL(text.error().what);
    const ByteString wanted = bytes_of(golden(stem + ".txt"));
    CHECK(*text == std::string(wanted.begin(), wanted.end()));
    ++read;
  }
  CHECK(read >= 4);
}

TEST_CASE("the golden parcels hold what they were made of") {
  for (const auto& [file, made] : all()) {
    const std::string name = file;  // captured below
    INFO(name);
    Result<sample::Read> read = sample::read(bytes_of(golden(name + ".parcel")));
    if (!read) FAIL(read.error().what);
    CHECK(sample::same(read->runs, made.runs));
    CHECK(read->head.written_by == made.head.written_by);
    CHECK(read->head.written_at_ms == made.head.written_at_ms);
    CHECK(read->vector.size() == made.vector.size());
  }
}

TEST_CASE("between them the golden parcels show every kind") {
  std::vector<bool> seen(last_known_kind + 1);
  for (const auto& [name, made] : all()) {
    for (const Run& run : made.runs) {
      for (const Entry& entry : run.entries) {
        const bool understood = !std::holds_alternative<FromNewerVersion>(decode(entry.kind, entry.payload));
        if (understood) seen[entry.kind] = true;
      }
    }
  }
  for (std::size_t kind = 1; kind <= last_known_kind; ++kind) CHECK_MESSAGE(seen[kind], kind);
}

// Not a test: writes the files of a version before its release, and never again. FORMAT.md, "Golden files".
TEST_CASE("golden files are written" * doctest::skip()) {
  for (const auto& [name, made] : all()) {
    if (std::filesystem::exists(golden(name + ".parcel"))) continue;
    Result<ByteString> bytes = sample::write(made.runs, made.vector, made.head);
    REQUIRE(bytes.ok());
    Result<std::string> text = text_of(*bytes);
    REQUIRE(text.ok());
    std::ofstream(golden(name + ".parcel"), std::ios::binary)
        .write(reinterpret_cast<const char*>(bytes->data()), static_cast<std::streamsize>(bytes->size()));
    std::ofstream(golden(name + ".txt"), std::ios::binary) << *text;
  }
}

// Parcels: what goes in comes out, and nothing else is taken for a parcel.
#include <doctest/doctest.h>

#include <cstdio>
#include <ctime>
#include <fstream>
#include <functional>
#include <string>

#include "shared/blocks.hpp"
#include "tests/form.hpp"
#include "tests/shared/forge.hpp"
#include "tests/shared/sample.hpp"

using namespace motherbulb;
using sample::Run;

namespace {

ByteString must_write(const std::vector<Run>& runs, const ParcelHead& head = {}) {
  Result<ByteString> written = sample::write(runs, sample::vector_of(runs), head);
  if (!written) FAIL("not written: " << written.error().what);
  return *written;
}

// Some bytes of a parcel and a lie about one of them, without a copy of all.
class Altered : public ByteSource {
public:
  Altered(const ByteString& bytes, std::uint64_t size, std::uint64_t at = UINT64_MAX, std::uint8_t flip = 0)
      : bytes_(bytes), size_(size), at_(at), flip_(flip) {}
  std::uint64_t size() const override { return size_; }
  std::string name() const override { return "a.parcel"; }
  Outcome read(std::uint64_t position, std::uint8_t* out, std::size_t count) override {
    if (position > size_ || count > size_ - position) return Error{ErrorKind::failed, "read beyond the end", {}};
    if (count > 0) std::memcpy(out, bytes_.data() + position, count);
    if (at_ >= position && at_ - position < count) out[at_ - position] ^= flip_;
    return Done{};
  }

private:
  const ByteString& bytes_;
  std::uint64_t size_;
  std::uint64_t at_;
  std::uint8_t flip_;
};

// Reads all of it, for its frame and its entries; true where any step refuses.
bool refused(ByteSource& source) {
  Result<std::unique_ptr<ParcelReader>> opened = ParcelReader::open(source);
  if (!opened) return true;
  Entry entry;
  Hash hash;
  for (;;) {
    Result<std::optional<ParcelRun>> run = (*opened)->next_run();
    if (!run) return true;
    if (!*run) return false;
    for (;;) {
      Result<bool> more = (*opened)->next_entry(entry, hash);
      if (!more) return true;
      if (!*more) break;
    }
  }
}

bool frame_refused(ByteSource& source) {
  Result<std::unique_ptr<ParcelReader>> opened = ParcelReader::open(source);
  return !opened || !(*opened)->check_frame();
}

ErrorKind kind_of_refusal(const ByteString& bytes) {
  Result<sample::Read> read = sample::read(bytes);
  REQUIRE_FALSE(read.ok());
  return read.error().kind;
}

// A parcel of about so many bytes, of two writers and with a table's entries among them.
ByteString reference_parcel(std::size_t wanted) {
  std::mt19937_64 random(make::seed());
  for (std::size_t count = 40;; count += 5 + count / 20) {
    std::vector<Run> runs = {sample::taps(random, 1, count, 20), sample::taps(random, 2, count / 2, 20)};
    Entry from_table = sample::entry_of(Watered{"from a table"}, 1'772'000'000'000);
    from_table.table = TableOrigin{sample::bytes_from<FactKey>(9), {7, 8, 9}, "B"};
    runs[1].add(from_table);
    ByteString bytes = must_write(runs);
    if (bytes.size() >= wanted) return bytes;
  }
}

}  // namespace

TEST_CASE("a parcel gives back every entry, hash, run and the vector, whatever is in it") {
  std::vector<Run> runs;
  runs.emplace_back(sample::writer(0x20));
  std::int64_t at = 1'772'000'000'000;
  for (const Payload& fact : sample::one_of_each_kind()) runs[0].add(sample::entry_of(fact, at += 61'007));
  std::mt19937_64 random(make::seed());
  runs.push_back(sample::taps(random, 3, 500));
  const ParcelHead head{sample::writer(0x20), -77};
  const ByteString bytes = must_write(runs, head);
  Result<sample::Read> read = sample::read(bytes);
  REQUIRE(read.ok());
  CHECK(sample::same(read->runs, runs));
  CHECK(read->head.written_by == head.written_by);
  CHECK(read->head.written_at_ms == -77);
  CHECK(read->vector == sample::vector_of(runs));
}

TEST_CASE("extremes of every number of an entry pass through a parcel") {
  Run run(sample::writer(1), 5);
  for (std::int64_t ms :
       {INT64_MIN, INT64_MIN + 1, std::int64_t{-86'400'000}, std::int64_t{0}, INT64_MAX - 1, INT64_MAX}) {
    for (std::uint64_t stamp : {std::uint64_t{0}, std::uint64_t{65535}, UINT64_MAX, std::uint64_t{1} << 63}) {
      for (std::int32_t minutes : {-1080, -1, 0, 345, 1080}) {
        for (bool bare : {false, true}) {
          Entry entry;
          entry.stamp = {stamp};
          entry.when = When{ms, minutes, bare};
          entry.kind = stamp == 0 ? 1 : 65535;
          entry.pot = minutes < 0 ? INT32_MAX : 0;
          run.add(entry);
        }
      }
    }
  }
  for (std::int32_t days : {INT32_MIN, -719162, -1, 0, 47482, INT32_MAX}) {
    for (std::int32_t minutes : {-1080, 0, 1080}) {
      Entry entry;
      entry.when = bare_day(Day{days}, minutes);
      entry.kind = 6;
      run.add(entry);
    }
  }
  Result<sample::Read> read = sample::read(must_write({run}));
  REQUIRE(read.ok());
  CHECK(sample::same(read->runs, {run}));
}

TEST_CASE("a kind of the future and a payload that is not understood pass through byte for byte") {
  Run run(sample::writer(1));
  for (std::uint16_t kind : std::initializer_list<std::uint16_t>{39, 4711, 65535}) {
    Entry entry;
    entry.kind = kind;
    entry.payload = {0xff, 0x00, 0x80, 0x0a};
    run.add(entry);
  }
  Entry longer = sample::entry_of(Watered{"x"}, 1000);
  longer.payload.push_back(7);  // a field that a newer version added
  run.add(longer);
  Result<sample::Read> read = sample::read(must_write({run}));
  REQUIRE(read.ok());
  CHECK(sample::same(read->runs, {run}));
  for (const Entry& entry : read->runs[0].entries) {
    CHECK(std::holds_alternative<FromNewerVersion>(decode(entry.kind, entry.payload)));
  }
}

TEST_CASE("two runs of one writer, where its sequence forked, stay two") {
  Run one(sample::writer(1));
  one.add(sample::entry_of(Watered{}, 1000));
  one.add(sample::entry_of(Watered{"left"}, 2000));
  Run other(sample::writer(1), 2);
  other.before = one.hashes[0];
  other.last = one.hashes[0];
  other.add(sample::entry_of(Watered{"right"}, 2000));
  Result<sample::Read> read = sample::read(must_write({one, other}));
  REQUIRE(read.ok());
  CHECK(sample::same(read->runs, {one, other}));
}

TEST_CASE("a parcel of nothing says how far the book knows") {
  const std::vector<Known> vector = {{sample::writer(9), 3, sample::bytes_from<Hash>(1)},
                                     {sample::writer(2), 7, sample::bytes_from<Hash>(2)}};
  Result<ByteString> bytes = sample::write({}, vector);
  REQUIRE(bytes.ok());
  Result<sample::Read> read = sample::read(*bytes);
  REQUIRE(read.ok());
  CHECK(read->runs.empty());
  REQUIRE(read->vector.size() == 2);
  CHECK(read->vector[0] == vector[1]);  // in the order of the writers
  CHECK(read->vector[1] == vector[0]);
}

TEST_CASE("the same entries give the same bytes, whatever the head says") {
  std::mt19937_64 random(make::seed());
  const std::vector<Run> runs = {sample::taps(random, 1, 300)};
  const ByteString first = must_write(runs, {sample::writer(1), 1});
  CHECK(first == must_write(runs, {sample::writer(1), 1}));
  const ByteString later = must_write(runs, {sample::writer(1), 2});
  REQUIRE(later.size() == first.size());
  std::size_t different = 0;
  for (std::size_t i = frame::head_size + frame::block_head_size; i < first.size() - frame::least_trailer_size - 300;
       ++i) {
    different += first[i] != later[i];
  }
  CHECK(different == 0);  // the chain of checksums apart, which hangs on the head
}

TEST_CASE("many entries and large ones are cut into blocks that stay in their bounds") {
  Run run(sample::writer(1));
  for (int i = 0; i < 70'000; ++i) {
    Entry entry;
    entry.kind = 6;
    run.add(entry);
  }
  for (std::size_t size : {10'000u, 300'000u, 2'000'000u, 5u, 1'000'000u}) {
    std::string text(size, 'a');
    std::mt19937_64 random(size);
    for (char& c : text) c = static_cast<char>('a' + random() % 26);
    run.add(sample::entry_of(Note{text}, 5000));
  }
  const ByteString bytes = must_write({run});
  Result<sample::Read> read = sample::read(bytes);
  REQUIRE(read.ok());
  CHECK(sample::same(read->runs, {run}));
}

TEST_CASE("an entry that no parcel can carry is refused before it is written") {
  Run run(sample::writer(1));
  run.add(sample::entry_of(Note{std::string(frame::greatest_body_size, 'a')}, 5000));
  Result<ByteString> written = sample::write({run}, {});
  REQUIRE_FALSE(written.ok());
  CHECK(written.error().kind == ErrorKind::refused);
  CHECK(written.error().what.find("entry 1 of ") != std::string::npos);

  Run wrong(sample::writer(1));
  Entry entry = sample::entry_of(Watered{}, 5000);
  entry.helper = "\xff";
  wrong.add(entry);
  written = sample::write({wrong}, {});
  REQUIRE_FALSE(written.ok());
  CHECK(written.error().kind == ErrorKind::damaged);
}

TEST_CASE("a book whose chain is broken hands nothing on") {
  std::mt19937_64 random(make::seed());
  Run run = sample::taps(random, 1, 30);
  run.entries[12].payload.push_back(1);
  Result<ByteString> written = sample::write({run}, {});
  REQUIRE_FALSE(written.ok());
  CHECK(written.error().kind == ErrorKind::damaged);
  CHECK(written.error().what.find("entries 1 to 30 of ") != std::string::npos);
}

TEST_CASE("a book with a hole in it hands nothing on") {
  std::mt19937_64 random(make::seed());
  Run run = sample::taps(random, 1, 30);
  run.entries.erase(run.entries.begin() + 12);
  Result<ByteString> written = sample::write({run}, {});
  REQUIRE_FALSE(written.ok());
  CHECK(written.error().kind == ErrorKind::damaged);
  CHECK(written.error().what.find("entry 13 of ") == 0);
}

TEST_CASE("a sink that fails stops the writer with the sink's own words") {
  class Full : public ByteSink {
  public:
    explicit Full(std::size_t room) : room_(room) {}
    Outcome write(const std::uint8_t*, std::size_t count) override {
      if (count > room_) return Error{ErrorKind::failed, "the stick is full", {}};
      room_ -= count;
      return Done{};
    }
    Outcome commit() override { return Done{}; }

  private:
    std::size_t room_;
  };
  std::mt19937_64 random(make::seed());
  const Run run = sample::taps(random, 1, 50);
  const std::size_t needed = sample::write({run}, {})->size();
  for (std::size_t room = 0; room < needed; room += 7) {
    Full sink(room);
    ParcelWriter writer(sink, {});
    writer.begin_run(run.writer, 1, run.before);
    bool failed = false;
    for (const Entry& entry : run.entries) failed = failed || !writer.add(entry);
    failed = failed || !writer.end_run(run.last);
    const Outcome finished = failed ? writer.add(run.entries[0]) : writer.finish({});
    REQUIRE_FALSE(finished.ok());
    CHECK(finished.error().what == "the stick is full");
  }
}

TEST_CASE("a parcel of what is known can be checked without reading it") {
  std::mt19937_64 random(make::seed());
  const std::vector<Run> runs = {sample::taps(random, 1, 3000), sample::taps(random, 2, 10)};
  MemorySource source(must_write(runs));
  auto opened = ParcelReader::open(source);
  REQUIRE(opened.ok());
  REQUIRE((*opened)->runs().size() == 2);
  CHECK((*opened)->runs()[0].writer == runs[0].writer);
  CHECK((*opened)->runs()[0].count == 3000);
  CHECK((*opened)->runs()[0].last == runs[0].last);
  CHECK((*opened)->entries() == 3010);
  CHECK((*opened)->check_frame().ok());
}

// ------------------------------------------------------------------------------------------------------ damage (R6)

TEST_CASE("every flipped bit and every cut of a parcel is refused") {
  const ByteString bytes = reference_parcel(make::short_or_long<std::size_t>(4096, 65536));
  MESSAGE("seed " << make::seed() << ", " << bytes.size() << " bytes");
  Altered whole(bytes, bytes.size());
  REQUIRE_FALSE(refused(whole));
  REQUIRE_FALSE(frame_refused(whole));
  std::size_t taken = 0;
  std::size_t frames_taken = 0;
  std::size_t tried = 0;
  for (std::uint64_t at = 0; at < bytes.size(); ++at) {
    for (int bit = 0; bit < 8; ++bit) {
      Altered flipped(bytes, bytes.size(), at, static_cast<std::uint8_t>(1 << bit));
      ++tried;
      taken += !refused(flipped);
      if (bit == static_cast<int>(at % 8)) frames_taken += !frame_refused(flipped);
    }
    Altered cut(bytes, at);
    ++tried;
    taken += !refused(cut);
    frames_taken += !frame_refused(cut);
  }
  CHECK(tried == bytes.size() * 9);
  CHECK(taken == 0);
  CHECK(frames_taken == 0);
}

TEST_CASE("bytes put behind, before or into a parcel are refused") {
  const ByteString bytes = reference_parcel(2048);
  for (std::size_t at = 0; at <= bytes.size(); ++at) {
    ByteString longer = bytes;
    longer.insert(longer.begin() + static_cast<std::ptrdiff_t>(at), at % 2 == 0 ? 0 : bytes[at % bytes.size()]);
    MemorySource source(longer);
    CHECK(refused(source));
  }
  ByteString twice = bytes;
  twice.insert(twice.end(), bytes.begin(), bytes.end());
  MemorySource source(twice);
  CHECK(refused(source));
}

TEST_CASE("swapped, repeated and spliced pieces are refused") {
  std::mt19937_64 random(make::seed());
  MESSAGE("seed " << make::seed());
  const ByteString one = reference_parcel(make::short_or_long<std::size_t>(4096, 65536));
  const ByteString other = must_write({sample::taps(random, 1, 400, 20)});
  std::size_t taken = 0;
  const int times = make::short_or_long(5'000, 100'000);
  for (int i = 0; i < times; ++i) {
    ByteString bytes = one;
    const std::size_t size = 1 + random() % 300;
    const std::size_t from = random() % (one.size() - size);
    const std::size_t to = random() % (one.size() - size);
    switch (i % 3) {
      case 0:  // two pieces change places
        for (std::size_t k = 0; k < size; ++k) std::swap(bytes[from + k], bytes[to + k]);
        break;
      case 1:  // a piece stands twice
        bytes.insert(bytes.begin() + static_cast<std::ptrdiff_t>(to), one.begin() + static_cast<std::ptrdiff_t>(from),
                     one.begin() + static_cast<std::ptrdiff_t>(from + size));
        break;
      default:  // a piece of another parcel
        for (std::size_t k = 0; k < size; ++k) bytes[to + k] = other[(from + k) % other.size()];
    }
    if (bytes == one) continue;
    MemorySource source(std::move(bytes));
    taken += !refused(source);
  }
  CHECK(taken == 0);
}

TEST_CASE("whole blocks and trailers of sound parcels do not fit into another") {
  // Runs of one block each, so that each block is sound in itself.
  std::mt19937_64 random(make::seed());
  const std::vector<Run> runs = {sample::taps(random, 1, 50), sample::taps(random, 2, 50)};
  const ByteString two = must_write(runs);
  const ByteString swapped_runs = must_write({runs[1], runs[0]});
  REQUIRE(two.size() == swapped_runs.size());
  const auto block_size = [](const ByteString& bytes, std::size_t at) {
    return frame::block_head_size + static_cast<std::size_t>(frame::get(bytes.data() + at + 8, 4));
  };
  const std::size_t first = block_size(two, frame::head_size);
  const std::size_t second = block_size(two, frame::head_size + first);
  ByteString swapped(two.begin(), two.begin() + frame::head_size);
  const auto piece = [&two](std::size_t at, std::size_t size) {
    const auto begin = two.begin() + static_cast<std::ptrdiff_t>(at);
    return ByteString(begin, begin + static_cast<std::ptrdiff_t>(size));
  };
  forge::append(piece(frame::head_size + first, second), swapped);
  forge::append(piece(frame::head_size, first), swapped);
  forge::append(piece(frame::head_size + first + second, two.size() - frame::head_size - first - second), swapped);
  CHECK(kind_of_refusal(swapped) == ErrorKind::damaged);

  ByteString other_trailer(two.begin(), two.begin() + static_cast<std::ptrdiff_t>(frame::head_size + first + second));
  other_trailer.insert(other_trailer.end(),
                       swapped_runs.begin() + static_cast<std::ptrdiff_t>(frame::head_size + first + second),
                       swapped_runs.end());
  CHECK(kind_of_refusal(other_trailer) == ErrorKind::damaged);
}

// --------------------------------------------------------------------------------------------------------- in words

TEST_CASE("what is no parcel, newer, or damaged is refused as that, with the file's name and what would mend it") {
  const auto words = [](const ByteString& bytes) {
    Result<sample::Read> read = sample::read(bytes, "monday.parcel");
    REQUIRE_FALSE(read.ok());
    CHECK(read.error().what.find("monday.parcel") == 0);
    CHECK(read.error().what.find('\n') == std::string::npos);
    return read.error();
  };
  // The first bytes of a PNG picture (ISO/IEC 15948, 5.2) and of a SQLite store (its file format, 1.3).
  for (const std::string& start : {std::string("\x89PNG\r\n\x1a\n"), std::string("SQLite format 3\0", 16),
                                   std::string("when,helper,event"), std::string("\0", 1), std::string()}) {
    const Error error = words(ByteString(start.begin(), start.end()));
    CHECK(error.kind == ErrorKind::foreign);
    CHECK(error.what.find("choose") != std::string::npos);
  }
  ByteString bytes = reference_parcel(1024);
  bytes[8] = 2;
  Error error = words(bytes);
  CHECK(error.kind == ErrorKind::newer);
  CHECK(error.what.find("install the newer version") != std::string::npos);
  bytes[8] = 0;
  CHECK(words(bytes).kind == ErrorKind::damaged);
  bytes[8] = 1;
  bytes[bytes.size() / 2] ^= 1;
  error = words(bytes);
  CHECK(error.kind == ErrorKind::damaged);
  CHECK(error.what.find("copy it again") != std::string::npos);
  bytes.resize(bytes.size() / 2);
  CHECK(words(bytes).kind == ErrorKind::damaged);
  bytes.resize(3);
  CHECK(words(bytes).kind == ErrorKind::damaged);
}

TEST_CASE("a source that fails is told in the source's words, and the reader stays refused") {
  class Failing : public Altered {
  public:
    Failing(const ByteString& bytes, int reads) : Altered(bytes, bytes.size()), reads_(reads) {}
    Outcome read(std::uint64_t position, std::uint8_t* out, std::size_t count) override {
      if (reads_-- <= 0) return Error{ErrorKind::failed, "the stick is gone", {}};
      return Altered::read(position, out, count);
    }

  private:
    int reads_;
  };
  const ByteString bytes = reference_parcel(1024);
  int refusals = 0;
  for (int reads = 0; reads < 20; ++reads) {
    Failing source(bytes, reads);
    Result<sample::Read> read = sample::read(source);
    if (read) break;
    CHECK(read.error().kind == ErrorKind::failed);
    CHECK(read.error().what == "the stick is gone");
    ++refusals;
  }
  CHECK(refusals >= 5);
}

// ------------------------------------------------------------------------------------------------ size bombs (R9)

namespace {

// The greatest memory that the process has held since the last call, in KiB; Linux keeps count of it.
std::size_t greatest_memory_kib() {
  std::ifstream status("/proc/self/status");
  std::string line;
  while (std::getline(status, line)) {
    if (line.rfind("VmHWM:", 0) == 0) return std::stoul(line.substr(6));
  }
  return 0;
}
void forget_greatest_memory() {
  std::ofstream("/proc/self/clear_refs") << "5";
}

}  // namespace

TEST_CASE("a parcel made by hand after the specification is read") {
  Result<sample::Read> read = sample::read(forge::Forged().made());
  if (!read) FAIL(read.error().what);
  REQUIRE(read->runs.size() == 1);
  REQUIRE(read->runs[0].entries.size() == 2);
  CHECK(read->head.written_at_ms == 1'800'000'000'000);
  const Entry& second = read->runs[0].entries[1];
  CHECK(second.id.seq == 2);
  CHECK(second.stamp.wall_ms() == 3'600'000'000);
  CHECK(second.when == moment(3'600'000'000, 60));
  CHECK(second.helper == "Runa");
  CHECK(std::get<Note>(decode(second.kind, second.payload)).text == "a");
}

TEST_CASE("no length or count, however large, makes the reader slow or greedy") {
  using forge::Forged;
  // The field, the value that is true, and the greatest that fits into it or that the format allows.
  struct Field {
    const char* name;
    std::function<std::uint64_t&(Forged&)> of;
    std::uint64_t truth;
    std::uint64_t greatest;
  };
  std::vector<Field> fields = {
      {"entries of the block", [](Forged& f) -> std::uint64_t& { return f.block_entries; }, 2, 65536},
      {"content size", [](Forged& f) -> std::uint64_t& { return f.content_size; }, 0, frame::greatest_block_size},
      {"packed size", [](Forged& f) -> std::uint64_t& { return f.packed_size; }, 0, frame::greatest_block_size},
      {"helpers", [](Forged& f) -> std::uint64_t& { return f.helpers; }, 1, 65536},
      {"helper size", [](Forged& f) -> std::uint64_t& { return f.helper_size; }, 4, frame::greatest_body_size},
      {"devices", [](Forged& f) -> std::uint64_t& { return f.devices; }, 0, 65536},
      {"batches", [](Forged& f) -> std::uint64_t& { return f.batches_size; }, 0, 65536 * 16},
      {"facts", [](Forged& f) -> std::uint64_t& { return f.facts_size; }, 0, 65536 * 16},
      {"rows", [](Forged& f) -> std::uint64_t& { return f.rows_size; }, 0, frame::greatest_block_size},
      {"payloads", [](Forged& f) -> std::uint64_t& { return f.payloads_size; }, 4, frame::greatest_block_size},
      {"blocks", [](Forged& f) -> std::uint64_t& { return f.blocks; }, 1, UINT64_MAX},
      {"entries", [](Forged& f) -> std::uint64_t& { return f.entries; }, 2, UINT64_MAX},
      {"runs", [](Forged& f) -> std::uint64_t& { return f.runs; }, 1, UINT64_MAX},
      {"first", [](Forged& f) -> std::uint64_t& { return f.first; }, 1, INT64_MAX},
      {"count", [](Forged& f) -> std::uint64_t& { return f.count; }, 2, INT64_MAX},
      {"known", [](Forged& f) -> std::uint64_t& { return f.known; }, 1, UINT64_MAX},
      {"trailer size", [](Forged& f) -> std::uint64_t& { return f.trailer_size; }, 0, frame::greatest_trailer_size},
      {"total", [](Forged& f) -> std::uint64_t& { return f.total; }, 0, UINT64_MAX},
  };
  for (std::size_t i = 0; i < 12; ++i) {
    fields.push_back({"width of a column", [i](Forged& f) -> std::uint64_t& { return f.columns[i].width; }, 0, 8});
    fields.push_back({"least of a column", [i](Forged& f) -> std::uint64_t& { return f.columns[i].zigzag_least; },
                      Forged().columns[i].zigzag_least, UINT16_MAX * 2});
  }
  (void)sample::read(Forged().made());
  forget_greatest_memory();
  const std::size_t before = greatest_memory_kib();
  double slowest_ms = 0;
  std::size_t tried = 0;
  for (const Field& field : fields) {
    for (std::uint64_t value :
         {std::uint64_t{0}, std::uint64_t{1}, field.greatest - 1, field.greatest, field.greatest + 1,
          std::uint64_t{1} << 31, (std::uint64_t{1} << 32) - 1, std::uint64_t{1} << 63, UINT64_MAX}) {
      Forged lie;
      std::uint64_t& place = field.of(lie);
      if (value == place) continue;
      place = value;
      if (lie.made() == Forged().made()) continue;  // a size of 0 stands for the true one; a width has one byte only
      const std::string name = field.name;
      if (name == "first" && value > 1 && value < INT64_MAX) continue;  // a run may begin anywhere
      if (name == "width of a column" && static_cast<std::uint8_t>(value) == field.truth) continue;
      if (name == "width of a column" && (&place == &lie.columns[10].width || &place == &lie.columns[11].width) &&
          static_cast<std::uint8_t>(value) <= 8) {
        continue;  // of no numbers, the width says nothing
      }
      if (name == "least of a column" &&
          (&place == &lie.columns[10].zigzag_least || &place == &lie.columns[11].zigzag_least)) {
        continue;
      }
      MemorySource source(lie.made());
      const std::clock_t begun = std::clock();
      const bool no = refused(source);
      const double took_ms = 1e3 * static_cast<double>(std::clock() - begun) / CLOCKS_PER_SEC;
      INFO(name << " at " << value);
      CHECK(no);
      slowest_ms = std::max(slowest_ms, took_ms);
      ++tried;
    }
  }
  CHECK(tried > 250);
  // No measure of speed: who believed such a number would be busy for minutes.
  CHECK(slowest_ms <= 1000);
  const std::size_t after = greatest_memory_kib();
  REQUIRE(before > 0);
  CHECK(after - before <= 16 * 1024);
  MESSAGE(tried << " lies, slowest " << slowest_ms << " ms, " << after - before << " KiB more");
}

// ------------------------------------------------------------------------------------------------------------ size

TEST_CASE("a season's taps of three devices take at most 40 bytes an entry, a single day's too") {
  std::mt19937_64 random(make::seed());
  for (std::size_t count : {1000u, 40u}) {
    std::vector<Run> runs;
    for (std::uint8_t device = 1; device <= 3; ++device) runs.push_back(sample::taps(random, device, count, 200));
    const double each = static_cast<double>(must_write(runs).size()) / static_cast<double>(3 * count);
    MESSAGE(3 * count << " entries: " << each << " bytes each");
    CHECK(each <= 40);
  }
}

// Entries: canonical bytes, the hash chain, facts, and what is left alone because a newer version wrote it.
#include "shared/entry.hpp"

#include <doctest/doctest.h>
#include <sodium.h>

#include <set>

#include "tests/form.hpp"
#include "tests/shared/sample.hpp"

using namespace motherbulb;

namespace {

ByteString bytes_of(const std::string& hexadecimal) {
  ByteString bytes(hexadecimal.size() / 2);
  REQUIRE(from_hex(hexadecimal, bytes.data(), bytes.size()));
  return bytes;
}

bool understood(std::uint16_t kind, const ByteString& payload) {
  return !std::holds_alternative<FromNewerVersion>(decode(kind, payload));
}

}  // namespace

TEST_CASE("the hash is BLAKE2b") {
  // Source: RFC 7693, appendix A, BLAKE2b-512 of "abc".
  ByteString digest(64);
  const std::string abc = "abc";
  crypto_generichash(digest.data(), digest.size(), reinterpret_cast<const unsigned char*>(abc.data()), abc.size(),
                     nullptr, 0);
  CHECK(hex(digest.data(), digest.size()) ==
        "ba80a53f981c4d0d6a2797b69f12f6e94c212f14685ac4b74b12bb6fdbffa2d1"
        "7d87c5392aab792dc252d5de4533cc9518d38aa8dbf1925ab92386edd4009923");
}

TEST_CASE("the hash passes the self-test of RFC 7693") {
  // Source: RFC 7693, appendix E: a hash of hashes over four lengths of digest and six of input, with and without key,
  // the input made by its Fibonacci-like generator.
  const auto sequence = [](std::size_t size, std::uint32_t seed) {
    std::uint32_t a = 0xDEAD4BADu * seed;
    std::uint32_t b = 1;
    ByteString out(size);
    for (std::uint8_t& byte : out) {
      const std::uint32_t t = a + b;
      a = b;
      b = t;
      byte = static_cast<std::uint8_t>(t >> 24);
    }
    return out;
  };
  crypto_generichash_state all;
  crypto_generichash_init(&all, nullptr, 0, 32);
  for (std::size_t size : {20u, 32u, 48u, 64u}) {
    for (std::size_t length : {0u, 3u, 128u, 129u, 255u, 1024u}) {
      const ByteString in = sequence(length, static_cast<std::uint32_t>(length));
      ByteString digest(size);
      crypto_generichash(digest.data(), size, in.data(), length, nullptr, 0);
      crypto_generichash_update(&all, digest.data(), size);
      const ByteString key = sequence(size, static_cast<std::uint32_t>(size));
      crypto_generichash(digest.data(), size, in.data(), length, key.data(), size);
      crypto_generichash_update(&all, digest.data(), size);
    }
  }
  ByteString result(32);
  crypto_generichash_final(&all, result.data(), result.size());
  CHECK(hex(result.data(), 32) == "c23a7800d98123bd10f506c61e29da5603d763b8bbad2e737f5e765a7bccd475");
}

TEST_CASE("an entry's body is laid out as FORMAT.md says") {
  Entry entry;
  entry.id = {sample::writer(1), 9};
  entry.kind = 6;
  entry.stamp = {0x0102'0304'0506'0708};
  entry.when = {-2, -90, true};
  entry.batch = sample::bytes_from<BatchId>(0x20);
  entry.pot = 300;
  entry.helper = "Bo";
  entry.payload = {1, 'x'};
  // By hand: kind, stamp, when, offset, flags, batch, pot, helper, payload.
  CHECK(canonical_body(entry) == bytes_of("0600"
                                          "0807060504030201"
                                          "feffffffffffffff"
                                          "a6ff"
                                          "01"
                                          "202122232425262728292a2b2c2d2e2f"
                                          "ac02"
                                          "02426f"
                                          "020178"));
  entry.table = TableOrigin{sample::bytes_from<FactKey>(0x40), {5, 128}, "C"};
  CHECK(canonical_body(entry) == bytes_of("0600"
                                          "0807060504030201"
                                          "feffffffffffffff"
                                          "a6ff"
                                          "03"
                                          "202122232425262728292a2b2c2d2e2f"
                                          "ac02"
                                          "02426f"
                                          "404142434445464748494a4b4c4d4e4f"
                                          "02058001"
                                          "0143"
                                          "020178"));
}

TEST_CASE("an entry comes back from its body, and from nothing else") {
  std::mt19937_64 random(make::seed());
  sample::Run run = sample::taps(random, 1, 200);
  Entry from_table = sample::entry_of(Watered{}, 5);
  from_table.table = TableOrigin{sample::bytes_from<FactKey>(1), {1, UINT64_MAX}, "Q"};
  run.add(from_table);
  for (const Entry& entry : run.entries) {
    const ByteString body = canonical_body(entry);
    CHECK(body.size() <= greatest_canonical_size(entry));
    const std::optional<Entry> back = entry_from_body(entry.id, body.data(), body.size());
    REQUIRE(back.has_value());
    CHECK(sample::same(*back, entry));
    for (std::size_t size = 0; size < body.size(); ++size) CHECK(!entry_from_body(entry.id, body.data(), size));
  }
  ByteString longer = canonical_body(from_table);
  longer.push_back(0);
  CHECK_FALSE(entry_from_body(from_table.id, longer.data(), longer.size()).has_value());
  ByteString flagged = canonical_body(run.entries[0]);
  flagged[20] = 4;
  CHECK_FALSE(entry_from_body(from_table.id, flagged.data(), flagged.size()).has_value());
}

TEST_CASE("each field of an entry is covered by its hash, and so are its writer and its place by the chain") {
  const Hash before = first_hash(sample::writer(1));
  Entry entry = sample::entry_of(Watered{"x"}, 1'772'438'400'000);
  entry.table = TableOrigin{sample::bytes_from<FactKey>(1), {3}, "B"};
  std::set<Hash> hashes = {entry_hash(before, canonical_body(entry))};
  const auto changed = [&](auto change) {
    Entry other = entry;
    change(other);
    hashes.insert(entry_hash(before, canonical_body(other)));
  };
  changed([](Entry& e) { e.kind = 7; });
  changed([](Entry& e) { e.stamp.value += 1; });
  changed([](Entry& e) { e.when.utc_ms += 1; });
  changed([](Entry& e) { e.when.offset_minutes += 1; });
  changed([](Entry& e) { e.when.bare_day = true; });
  changed([](Entry& e) { e.helper = "Tomas"; });
  changed([](Entry& e) { e.batch.bytes[15] = 1; });
  changed([](Entry& e) { e.pot = 1; });
  changed([](Entry& e) { e.table->fact.bytes[0] = 9; });
  changed([](Entry& e) { e.table->rows.push_back(1); });
  changed([](Entry& e) { e.table->device = "C"; });
  changed([](Entry& e) { e.table.reset(); });
  changed([](Entry& e) { e.payload[1] = 'y'; });
  hashes.insert(entry_hash(first_hash(sample::writer(2)), canonical_body(entry)));
  hashes.insert(entry_hash(entry_hash(before, canonical_body(entry)), canonical_body(entry)));
  CHECK(hashes.size() == 16);
}

TEST_CASE("a tapped fact is named by its entry, one from a table by the table, a batch by the fact that began it") {
  Entry tapped = sample::entry_of(Watered{}, 5);
  tapped.id = {sample::writer(1), 5};
  Entry other = tapped;
  other.id.seq = 6;
  CHECK(fact_key(tapped) == fact_key(tapped.id));
  CHECK(fact_key(tapped) != fact_key(other));
  Entry from_table = tapped;
  from_table.table = TableOrigin{sample::bytes_from<FactKey>(7), {1}, "B"};
  CHECK(fact_key(from_table) == sample::bytes_from<FactKey>(7));
  other.table = from_table.table;
  CHECK(fact_key(other) == fact_key(from_table));  // imported on two devices, and one fact

  tapped.batch = sample::bytes_from<BatchId>(3);
  CHECK(story_of(tapped) == tapped.batch);
  tapped.kind = static_cast<std::uint16_t>(Kind::begun);
  CHECK(story_of(tapped) == batch_of(fact_key(tapped)));
}

TEST_CASE("every kind's payload comes back, is one encoding, and has its number and its word") {
  const std::vector<Payload> all = sample::one_of_each_kind();
  REQUIRE(all.size() == last_known_kind);
  std::set<std::string> words;
  for (std::uint16_t kind = 1; kind <= last_known_kind; ++kind) {
    const Payload& payload = all[kind - 1u];
    CHECK(kind_number(payload) == kind);
    const ByteString bytes = encode(payload);
    const Payload back = decode(kind, bytes);
    CHECK(kind_number(back) == kind);
    CHECK(encode(back) == bytes);
    const std::string word{to_text(static_cast<Kind>(kind))};
    words.insert(word);
    CHECK(kind_from_text(word) == static_cast<Kind>(kind));
    // Cut, lengthened, or of the kind 0: not one payload.
    for (std::size_t size = 0; size < bytes.size(); ++size) {
      CHECK_FALSE(understood(kind, ByteString(bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(size))));
    }
    ByteString longer = bytes;
    longer.push_back(0);
    CHECK_FALSE(understood(kind, longer));
  }
  CHECK(words.size() == last_known_kind);
  CHECK_FALSE(kind_from_text("").has_value());
  CHECK_FALSE(kind_from_text("Begun").has_value());
}

TEST_CASE("payloads are laid out as FORMAT.md says") {
  // By hand, from its tables.
  CHECK(encode(Watered{"x"}) == bytes_of("0178"));
  Looked looked;
  looked.shoots = 9;
  looked.moisture = Moisture::damp;
  CHECK(encode(looked) == bytes_of("0112"
                                   "02"
                                   "00"
                                   "00"));
  Unpotted unpotted;
  unpotted.lines = {sample::line(Grade{20, 40}, 3), sample::line(std::nullopt, 1, Cause::pest, "ant", "n")};
  unpotted.alive = 11;
  CHECK(encode(unpotted) == bytes_of("02"
                                     "01062850"
                                     "0e0202"
                                     "03616e74"
                                     "016e"
                                     "0116"
                                     "00"
                                     "00"));
  CHECK(encode(Money{-499, true, ""}) == bytes_of("e507"
                                                  "01"
                                                  "00"));
  CHECK(encode(Settlement{MatterId{128}, Take::both, "k"}) == bytes_of("8001"
                                                                       "03"
                                                                       "016b"));
}

TEST_CASE("a kind of the future and a value of the future come from a newer version") {
  CHECK_FALSE(understood(0, {}));
  CHECK_FALSE(understood(last_known_kind + 1, {0}));
  CHECK_FALSE(understood(65535, {0}));
  CHECK(understood(11, encode(Damage{Cause::dried_out, "", 3, ""})));
  CHECK_FALSE(understood(11, encode(Damage{static_cast<Cause>(7), "", 0, ""})));
  CHECK_FALSE(understood(11, encode(Damage{Cause::pest, "", 4, ""})));
  CHECK_FALSE(understood(11, encode(Damage{Cause::pest, "", -1, ""})));
  CHECK_FALSE(understood(2, encode(Potted{static_cast<Unit>(3), {}, "", ""})));
  CHECK_FALSE(understood(22, encode(Tested{"", static_cast<TestResult>(4), ""})));
  CHECK_FALSE(understood(37, encode(Settlement{MatterId{1}, static_cast<Take>(0), ""})));
  CHECK_FALSE(understood(37, encode(Settlement{MatterId{1}, static_cast<Take>(4), ""})));
  Begun begun;
  CHECK(understood(1, encode(begun)));
  begun.method = static_cast<Method>(11);
  CHECK_FALSE(understood(1, encode(begun)));
  begun.method = static_cast<Method>(0);
  CHECK_FALSE(understood(1, encode(begun)));
  begun.method = Method::chipping;
  begun.sections = 100'001;
  CHECK_FALSE(understood(1, encode(begun)));
  begun.sections = -1;
  CHECK_FALSE(understood(1, encode(begun)));
}

TEST_CASE("counts, grades and causes of a line keep their limits, and an empty part is not announced") {
  const auto lost = [](const Line& line) { return understood(10, encode(Lost{{line}, ""})); };
  CHECK(lost(sample::line(std::nullopt, 0)));
  CHECK(lost(sample::line(std::nullopt, greatest_count)));
  CHECK_FALSE(lost(sample::line(std::nullopt, greatest_count + 1)));
  CHECK_FALSE(lost(sample::line(std::nullopt, -1)));
  CHECK_FALSE(lost(sample::line(std::nullopt, INT64_MAX)));
  CHECK(lost(sample::line(Grade{-1, -1}, 1)));
  CHECK_FALSE(lost(sample::line(Grade{-2, 20}, 1)));
  CHECK_FALSE(lost(sample::line(Grade{20, -2}, 1)));
  CHECK_FALSE(lost(sample::line(std::nullopt, 1, static_cast<Cause>(7))));
  CHECK(understood(10, bytes_of("01"
                                "040201"
                                "61"
                                "00")));
  CHECK_FALSE(understood(10, bytes_of("01"
                                      "0402"
                                      "00"
                                      "00")));  // a particular cause announced, and empty
  CHECK_FALSE(understood(10, bytes_of("01"
                                      "0802"
                                      "00"
                                      "00")));
  CHECK_FALSE(understood(10, bytes_of("01"
                                      "0202"
                                      "00"
                                      "00")));  // the cause announced, and unknown
  CHECK_FALSE(understood(10, bytes_of("01"
                                      "1002"
                                      "00")));  // a part of the future
}

TEST_CASE("the lines that count are found in the kinds that have some") {
  std::string with;
  for (Payload payload : sample::one_of_each_kind()) {
    const Lines* lines = lines_of(std::as_const(payload));
    CHECK(lines == lines_of(payload));
    if (lines != nullptr) with += std::string(to_text(static_cast<Kind>(kind_number(payload)))) + " ";
  }
  CHECK(with == "begun potted lost unpotted graded divided repotted sold given discarded combined ");
  Payload none = FromNewerVersion{};
  CHECK(lines_of(none) == nullptr);
}

#include "shared/ids.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <type_traits>
#include <vector>

using namespace motherbulb;

TEST_CASE("ids of different things are of different types") {
  CHECK_FALSE(std::is_convertible_v<WriterId, BatchId>);
  CHECK_FALSE(std::is_convertible_v<FactKey, BatchId>);
  CHECK_FALSE(std::is_convertible_v<BatchId, FactKey>);
  CHECK_FALSE(std::is_convertible_v<std::uint64_t, MatterId>);
}

TEST_CASE("bytes are ordered as unsigned numbers, the first byte first") {
  WriterId low, high, higher;
  low.bytes[0] = 0x7f;
  high.bytes[0] = 0x80;
  higher.bytes[0] = 0x80;
  higher.bytes[15] = 1;
  CHECK(low < high);
  CHECK(high < higher);
  CHECK_FALSE(higher < high);
  CHECK(high != higher);
  CHECK(WriterId{}.is_zero());
  CHECK_FALSE(higher.is_zero());
}

TEST_CASE("entries are ordered by writer and then by sequence, pots by batch and then by number") {
  WriterId first, second;
  first.bytes[3] = 1;
  second.bytes[2] = 1;
  std::vector<EntryId> entries = {{second, 1}, {first, 2}, {first, 10}, {first, 1}};
  std::sort(entries.begin(), entries.end());
  CHECK(entries == std::vector<EntryId>{{first, 1}, {first, 2}, {first, 10}, {second, 1}});
  BatchId one, two;
  two.bytes[0] = 1;
  std::vector<PotId> pots = {{two, 0}, {one, 12}, {one, 2}};
  std::sort(pots.begin(), pots.end());
  CHECK(pots == std::vector<PotId>{{one, 2}, {one, 12}, {two, 0}});
}

TEST_CASE("a batch is named by the fact that began it, and back") {
  FactKey fact;
  for (std::size_t i = 0; i < 16; ++i) fact.bytes[i] = static_cast<std::uint8_t>(i * 17);
  CHECK(fact_of(batch_of(fact)) == fact);
}

TEST_CASE("hexadecimal digits go both ways, and nothing else is taken for them") {
  WriterId id;
  for (std::size_t i = 0; i < 16; ++i) id.bytes[i] = static_cast<std::uint8_t>(i * 16 + 15 - i);
  CHECK(hex(id) == "0f1e2d3c4b5a69788796a5b4c3d2e1f0");
  WriterId back;
  CHECK(from_hex("0F1e2d3c4b5a69788796a5b4c3d2E1f0", back.bytes.data(), 16));
  CHECK(back == id);
  for (const char* wrong : {"", "0", "0f1e2d3c4b5a69788796a5b4c3d2e1f", "0f1e2d3c4b5a69788796a5b4c3d2e1f00",
                            "0f1e2d3c4b5a69788796a5b4c3d2e1fg", " f1e2d3c4b5a69788796a5b4c3d2e1f0",
                            "0x1e2d3c4b5a69788796a5b4c3d2e1f0", "-f1e2d3c4b5a69788796a5b4c3d2e1f0"}) {
    WriterId untouched = id;
    CHECK_FALSE(from_hex(wrong, untouched.bytes.data(), 16));
    CHECK(untouched == id);
  }
}

TEST_CASE("a matter's name is twelve hexadecimal digits, leading noughts too") {
  CHECK(hex(MatterId{0}) == "000000000000");
  CHECK(hex(MatterId{0x0000'0b00'00a1}) == "00000b0000a1");
  CHECK(hex(MatterId{0xffff'ffff'ffff}) == "ffffffffffff");
  CHECK(matter_id_from_hex("00000b0000a1") == std::optional<MatterId>(MatterId{0x0b00'00a1}));
  CHECK(matter_id_from_hex("00000B0000A1") == std::optional<MatterId>(MatterId{0x0b00'00a1}));
  CHECK_FALSE(matter_id_from_hex("b0000a1").has_value());
  CHECK_FALSE(matter_id_from_hex("0000000b0000a1").has_value());
  CHECK_FALSE(matter_id_from_hex("0000-0b00-00a1").has_value());
}

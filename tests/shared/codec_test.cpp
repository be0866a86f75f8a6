// Canonical bytes: one encoding for each value, and a reader that trusts no byte.
#include "shared/codec.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace motherbulb;

namespace {

using Raw = std::vector<std::uint8_t>;

template <class T>
Raw written(const T& value) {
  Raw out;
  FactWriter writer(out);
  writer(value);
  return out;
}
template <class T>
std::optional<T> read(const Raw& bytes) {
  FactReader in(bytes.data(), bytes.size());
  T value{};
  in(value);
  if (!in.finished()) return std::nullopt;
  return value;
}
template <class T>
void goes_both_ways(const T& value) {
  const std::optional<T> back = read<T>(written(value));
  REQUIRE(back.has_value());
  CHECK(*back == value);
}

}  // namespace

TEST_CASE("numbers are written in base 128, the least digits first") {
  // Worked out by hand from FORMAT.md, "Numbers, text, hashes".
  CHECK(written(std::uint64_t{0}) == Raw{0});
  CHECK(written(std::uint64_t{127}) == Raw{127});
  CHECK(written(std::uint64_t{128}) == Raw{0x80, 0x01});
  CHECK(written(std::uint64_t{300}) == Raw{0xac, 0x02});
  CHECK(written(UINT64_MAX) == Raw{0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x01});
  CHECK(written(std::int32_t{-1}) == Raw{1});
  CHECK(written(std::int32_t{1}) == Raw{2});
  CHECK(written(std::int32_t{-64}) == Raw{127});
  CHECK(written(std::int32_t{64}) == Raw{0x80, 0x01});
  CHECK(written(INT64_MIN) == written(UINT64_MAX));
  CHECK(written(true) == Raw{1});
  CHECK(written(std::string("\xc3\xa9")) == Raw{2, 0xc3, 0xa9});
  CHECK(written(std::vector<std::int32_t>{1, -1}) == Raw{2, 2, 1});
  CHECK(written(std::optional<std::int64_t>()) == Raw{0});
  CHECK(written(std::optional<std::int64_t>(5)) == Raw{1, 10});
}

TEST_CASE("every value comes back, ends of the ranges too") {
  for (unsigned bit = 0; bit < 64; ++bit) {
    for (std::uint64_t near : {std::uint64_t{0}, std::uint64_t{1}, UINT64_MAX}) {
      const std::uint64_t value = (std::uint64_t{1} << bit) + near;
      goes_both_ways(value);
      goes_both_ways(static_cast<std::int64_t>(value));
      goes_both_ways(static_cast<std::int32_t>(value));
      goes_both_ways(static_cast<std::uint16_t>(value));
    }
  }
  goes_both_ways(INT64_MIN);
  goes_both_ways(INT64_MAX);
  goes_both_ways(std::string());
  goes_both_ways(std::string("a\0b", 3));
  goes_both_ways(std::string(100'000, 'x'));
  goes_both_ways(Raw{0, 255, 10});
  goes_both_ways(std::vector<std::string>{"", "a"});
  goes_both_ways(std::optional<std::string>("x"));
}

TEST_CASE("a second encoding of a value is refused") {
  CHECK_FALSE(read<std::uint64_t>({0x80, 0x00}).has_value());  // nought in two bytes
  CHECK_FALSE(read<std::uint64_t>({0xff, 0x80, 0x00}).has_value());
  CHECK_FALSE(read<bool>({2}).has_value());
  CHECK_FALSE(read<std::optional<bool>>({2, 1}).has_value());
}

TEST_CASE("a number too large for its place is refused, not cut") {
  CHECK_FALSE(read<std::uint64_t>({0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0x02}).has_value());
  CHECK_FALSE(read<std::uint64_t>({0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x01}).has_value());
  CHECK_FALSE(read<std::uint16_t>(written(std::uint64_t{65536})).has_value());
  CHECK_FALSE(read<std::int32_t>(written(std::int64_t{2147483648})).has_value());
  CHECK_FALSE(read<std::int32_t>(written(std::int64_t{-2147483649})).has_value());
}

TEST_CASE("a length beyond the bytes that are left is refused before anything is made of it") {
  for (std::uint64_t length :
       {std::uint64_t{3}, std::uint64_t{1} << 31, (std::uint64_t{1} << 32) - 1, std::uint64_t{1} << 63, UINT64_MAX}) {
    Raw bytes = written(length);
    bytes.push_back('a');
    bytes.push_back('b');
    CHECK_FALSE(read<std::string>(bytes).has_value());
    CHECK_FALSE(read<Raw>(bytes).has_value());
    CHECK_FALSE(read<std::vector<std::string>>(bytes).has_value());
    CHECK_FALSE(read<std::vector<std::uint64_t>>(bytes).has_value());
  }
}

TEST_CASE("a text that is no UTF-8 is refused") {
  CHECK_FALSE(read<std::string>({1, 0xe9}).has_value());
  CHECK_FALSE(read<std::string>({2, 0xc0, 0x80}).has_value());
}

TEST_CASE("once it has failed, a reader gives noughts and stays failed") {
  const Raw bytes = {0x80, 0x00, 7, 7, 7};
  FactReader in(bytes.data(), bytes.size());
  CHECK(in.number() == 0);
  CHECK(in.failed());
  std::uint64_t number = 9;
  std::string text = "before";
  Raw raw = {1};
  in(number, text, raw);
  CHECK(number == 0);
  CHECK(text.empty());
  CHECK(raw.empty());
  CHECK(in.byte() == 0);
  CHECK(in.left() == 0);
  CHECK_FALSE(in.finished());
}

TEST_CASE("every cut of an encoding is refused, and whatever stands behind it is seen") {
  const Raw whole = written(std::vector<std::string>{"one", "two", std::string(300, 'x')});
  for (std::size_t size = 0; size < whole.size(); ++size) {
    CHECK_FALSE(read<std::vector<std::string>>(Raw(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(size)))
                    .has_value());
  }
  Raw longer = whole;
  longer.push_back(0);
  CHECK_FALSE(read<std::vector<std::string>>(longer).has_value());
}

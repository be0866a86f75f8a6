// Parcels as codes: what is cut comes together again, and nothing else does.

#include "shared/parcel_codes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

#include "tests/form.hpp"
#include "tests/make.hpp"

namespace motherbulb {
namespace {

using Took = CodeCollector::Took;

ByteString some_bytes(std::size_t count, std::uint64_t seed) {
  Chance chance(seed);
  ByteString bytes(count);
  for (std::uint8_t& byte : bytes) byte = static_cast<std::uint8_t>(chance.below(256));
  return bytes;
}

std::vector<std::string> codes_of(const ByteString& parcel) {
  return make::must(cut_into_codes(parcel));
}

std::string golden(const std::string& name) {
  const char* root = std::getenv("MOTHERBULB_SOURCE_DIR");
  std::ifstream file(std::string(root == nullptr ? "." : root) + "/shared/golden/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::size_t from = 0;
  for (std::size_t end = text.find('\n'); end != std::string::npos; end = text.find('\n', from)) {
    lines.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  return lines;
}

}  // namespace

TEST_CASE("a parcel of any length comes together from its codes, in whatever order and however often they come") {
  const std::uint64_t seed = make::seed();
  CAPTURE(seed);
  Chance chance(seed);
  for (const std::size_t length : {1UL, 2UL, 619UL, 620UL, 621UL, 1240UL, 5000UL, 37200UL, most_codes * code_content}) {
    CAPTURE(length);
    const ByteString parcel = some_bytes(length, seed + length);
    const std::vector<std::string> codes = codes_of(parcel);
    REQUIRE(codes.size() == codes_for(length));
    CodeCollector collector;
    CHECK(collector.count() == 0);
    std::vector<std::size_t> order(codes.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    for (std::size_t i = order.size(); i > 1; --i) std::swap(order[i - 1], order[chance.below(i)]);
    for (std::size_t i = 0; i < order.size(); ++i) {
      CHECK_FALSE(collector.whole().has_value());
      CHECK(collector.take(codes[order[i]]) == Took::fresh);
      CHECK(collector.take(codes[order[chance.below(i + 1)]]) == Took::known);
      CHECK(collector.have() == i + 1);
      CHECK(collector.count() == codes.size());
      CHECK(collector.has(order[i] + 1));
      CHECK(collector.missing().size() == codes.size() - i - 1);
    }
    REQUIRE(collector.whole().has_value());
    CHECK(*collector.whole() == parcel);
  }
}

TEST_CASE(
    "a code's text is such as every camera's reader hands on: base 45 characters, no space at an end, not too long") {
  const std::string allowed = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
  for (std::uint64_t seed = 0; seed < 40; ++seed) {
    for (const std::string& text : codes_of(some_bytes(1 + 97 * seed, seed))) {
      CHECK(text.size() <= longest_code_text);
      CHECK(text.find_first_not_of(allowed) == std::string::npos);
      CHECK(text.front() == 'M');
      CHECK(text.back() == '.');
    }
  }
  // The longest is exactly what was promised.
  CHECK(codes_of(some_bytes(code_content, 1)).front().size() == longest_code_text);
}

TEST_CASE("the base 45 in it is that of RFC 9285") {
  // Section 4.3: "AB" is BB8, "Hello!!" is %69 VD92EX0, "base-45" is UJCLQE7W581. A piece cannot be these words alone,
  // so they stand at its front: in place of the digest, the number and the count.
  CodePiece piece;
  const std::string said = "base-45-";
  std::copy(said.begin(), said.end(), piece.parcel.begin());
  // Seven letters are three pairs and one left over; in a longer text the pairs stand as there: UJC LQE 7W5.
  CHECK(write_code(piece).substr(4, 9) == "UJCLQE7W5");
  const std::string other = "Hello!!x";
  std::copy(other.begin(), other.end(), piece.parcel.begin());
  CHECK(write_code(piece).substr(4, 9) == "%69 VD92E");
}

TEST_CASE("nothing, and more than cameras are held at, is not cut into codes") {
  CHECK_FALSE(cut_into_codes({}).ok());
  const auto refused = cut_into_codes(ByteString(most_codes * code_content + 1));
  REQUIRE_FALSE(refused.ok());
  CHECK(refused.error().what.find("257") != std::string::npos);
}

TEST_CASE("a code of which one character was misread is damaged, never another code") {
  const std::vector<std::string> codes = codes_of(some_bytes(1500, 7));
  const std::string allowed = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";
  for (const std::string& code : codes) {
    for (std::size_t at = 0; at < code.size(); ++at) {
      std::string misread = code;
      misread[at] = allowed[(allowed.find(code[at]) + 1 + at % 44) % 45];
      CodeCollector collector;
      const Took took = collector.take(misread);
      CHECK_MESSAGE((took == Took::damaged || (at < 4 && (took == Took::foreign || took == Took::newer))), "at " << at);
      CHECK(collector.count() == 0);
    }
    for (std::size_t length = 0; length < code.size(); ++length) {
      const CodeRead read = read_code(std::string_view(code).substr(0, length));
      CHECK_FALSE(read.piece.has_value());
    }
    CHECK_FALSE(read_code(code + " ").piece.has_value());
    CHECK_FALSE(read_code(" " + code).piece.has_value());
  }
}

TEST_CASE("what a camera sees elsewhere is foreign, and a later version is said to be newer") {
  CodeCollector collector;
  for (const std::string& text :
       {std::string(), std::string("WIFI:S:glasshouse;;"), std::string("MB"), std::string("MB0:AB."),
        std::string("MBx:AB."), std::string(5000, 'M'), std::string("\0\0\xff", 3)}) {
    CHECK(collector.take(text) == Took::foreign);
  }
  CHECK(collector.take("MB2:ANYTHING") == Took::newer);
  CHECK(collector.take("MB1:") == Took::damaged);
  CHECK(collector.take("MB1:.") == Took::damaged);
  CHECK(collector.count() == 0);
  CHECK(collector.missing().empty());
}

TEST_CASE("numbers that do not fit together are refused, with the right check too") {
  CodePiece sound;
  sound.nth = 2;
  sound.count = 3;
  sound.length = 1500;
  sound.content = ByteString(620, 1);
  REQUIRE(read_code(write_code(sound)).piece.has_value());
  const auto refuses = [&](auto change) {
    CodePiece piece = sound;
    change(piece);
    return !read_code(write_code(piece)).piece.has_value();
  };
  CHECK(refuses([](CodePiece& p) { p.nth = 0; }));
  CHECK(refuses([](CodePiece& p) { p.nth = 4; }));
  CHECK(refuses([](CodePiece& p) { p.count = 0; }));
  CHECK(refuses([](CodePiece& p) { p.count = 2; }));
  CHECK(refuses([](CodePiece& p) { p.count = 4; }));
  CHECK(refuses([](CodePiece& p) { p.length = 0; }));
  CHECK(refuses([](CodePiece& p) { p.length = 0xFFFFFFFF; }));
  CHECK(refuses([](CodePiece& p) { p.length = 1240; }));
  CHECK(refuses([](CodePiece& p) { p.content.pop_back(); }));
  CHECK(refuses([](CodePiece& p) { p.content.push_back(0); }));
  CHECK(refuses([](CodePiece& p) { p.content.clear(); }));
  CHECK(refuses([](CodePiece& p) {
    p.count = 257;
    p.length = 257 * 620;
  }));
}

TEST_CASE("pieces that make up another parcel than they say are dropped, and the right ones still come together") {
  const ByteString parcel = some_bytes(1500, 3);
  const std::vector<std::string> codes = codes_of(parcel);
  CodePiece forged = *read_code(codes[1]).piece;
  forged.content[17] ^= 1;
  CodeCollector collector;
  CHECK(collector.take(write_code(forged)) == Took::fresh);
  CHECK(collector.take(codes[0]) == Took::fresh);
  CHECK(collector.take(codes[1]) == Took::known);
  CHECK(collector.take(codes[2]) == Took::undone);
  CHECK_FALSE(collector.whole().has_value());
  CHECK(collector.count() == 0);
  for (const std::string& code : codes) CHECK(collector.take(code) == Took::fresh);
  CHECK(collector.whole() == parcel);
}

TEST_CASE("a device that hands out anew is followed after three different codes, and what was read before is kept") {
  const ByteString first = some_bytes(10 * code_content, 1), second = some_bytes(12 * code_content, 2);
  const std::vector<std::string> of_first = codes_of(first), of_second = codes_of(second);
  CodeCollector collector;
  for (std::size_t i = 0; i < 6; ++i) collector.take(of_first[i]);
  CHECK(collector.take(of_second[0]) == Took::aside);
  // The same one again and again says nothing new.
  for (int i = 0; i < 20; ++i) CHECK(collector.take(of_second[0]) == Took::aside);
  CHECK(collector.take(of_second[1]) == Took::aside);
  CHECK(collector.count() == 10);
  CHECK(collector.have() == 6);
  CHECK(collector.take(of_second[2]) == Took::fresh);
  CHECK(collector.count() == 12);
  CHECK(collector.have() == 3);
  // And back again, with all that was read.
  for (std::size_t i = 6; i < 9; ++i) collector.take(of_first[i]);
  CHECK(collector.count() == 10);
  CHECK(collector.have() == 9);
  CHECK(collector.take(of_first[9]) == Took::fresh);
  CHECK(collector.whole() == first);
}

TEST_CASE("two screens in one picture do not drive each other out") {
  const ByteString first = some_bytes(8 * code_content, 1), second = some_bytes(9 * code_content, 2);
  const std::vector<std::string> of_first = codes_of(first), of_second = codes_of(second);
  CodeCollector collector;
  for (std::size_t i = 0; i < 8 && !collector.whole(); ++i) {
    collector.take(of_first[i]);
    collector.take(of_second[i]);
    CHECK(collector.count() == 8);
  }
  CHECK(collector.whole() == first);
  // A short one that is complete is plainly there.
  const ByteString little = some_bytes(50, 3);
  CodeCollector other;
  other.take(of_first[0]);
  CHECK(other.take(codes_of(little).front()) == Took::fresh);
  CHECK(other.whole() == little);
}

TEST_CASE("a third parcel takes the place of the one aside, not of the one that is followed") {
  const std::vector<std::string> of_first = codes_of(some_bytes(8 * code_content, 1)),
                                 of_second = codes_of(some_bytes(9 * code_content, 2)),
                                 of_third = codes_of(some_bytes(10 * code_content, 3));
  CodeCollector collector;
  for (std::size_t i = 0; i < 5; ++i) collector.take(of_first[i]);
  for (std::size_t i = 0; i < 8; ++i) {
    CHECK(collector.take(of_second[i]) == Took::aside);
    CHECK(collector.take(of_third[i]) == Took::aside);
  }
  CHECK(collector.count() == 8);
  CHECK(collector.have() == 5);
}

TEST_CASE("codes that were shown once are read for ever: the golden ones") {
  const std::string parcel = golden("v1-tables-fork.parcel");
  const std::vector<std::string> codes = lines_of(golden("v1-tables-fork.codes"));
  REQUIRE(codes.size() == 4);
  CodeCollector collector;
  for (const std::string& code : codes) CHECK(collector.take(code) == Took::fresh);
  CHECK(collector.whole() == ByteString(parcel.begin(), parcel.end()));
  CHECK(codes_of(ByteString(parcel.begin(), parcel.end())) == codes);
}

// Only by hand, and only where the file is missing: what was released stays as it is.
TEST_CASE("golden codes are written" * doctest::skip()) {
  const char* root = std::getenv("MOTHERBULB_SOURCE_DIR");
  const std::string path = std::string(root == nullptr ? "." : root) + "/shared/golden/v1-tables-fork.codes";
  if (std::ifstream(path).good()) return;
  const std::string parcel = golden("v1-tables-fork.parcel");
  std::ofstream file(path, std::ios::binary);
  for (const std::string& code : codes_of(ByteString(parcel.begin(), parcel.end()))) file << code << '\n';
}

}  // namespace motherbulb

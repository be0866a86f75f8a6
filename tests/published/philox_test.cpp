// The generator of the paths against the known answers that its authors published with it (file kat_vectors of their
// reference implementation, philox4x32, 10 rounds; the third takes the digits of pi).
#include "core/science/philox.hpp"

#include <doctest/doctest.h>

#include <set>

namespace motherbulb {
namespace {

using Block = std::array<std::uint32_t, 4>;

TEST_CASE("Philox 4x32-10 gives its published known answers") {
  CHECK(philox4x32({0, 0, 0, 0}, {0, 0}) == Block{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
  constexpr std::uint32_t all = 0xffffffff;
  CHECK(philox4x32({all, all, all, all}, {all, all}) == Block{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd});
  CHECK(philox4x32({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}) ==
        Block{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1});
}

TEST_CASE("a stream begins with the block of its counter, and no two streams are alike") {
  PhiloxStream stream(0x299f31d0a4093822u, 0x0370734413198a2eu, 0x85a308d3u);
  const Block first = philox4x32({0, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0});
  const Block second = philox4x32({1, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0});
  for (const std::uint32_t word : first) CHECK(stream() == word);
  for (const std::uint32_t word : second) CHECK(stream() == word);

  std::set<double> firsts;
  for (std::uint64_t path = 0; path < 100; ++path) {
    for (std::uint32_t season = 1; season <= 10; ++season) firsts.insert(PhiloxStream(7, path, season).part());
  }
  CHECK(firsts.size() == 1'000);
  CHECK(*firsts.begin() >= 0);
  CHECK(*firsts.rbegin() < 1);
}

}  // namespace
}  // namespace motherbulb

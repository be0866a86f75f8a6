// What a fuzz target begins with. Each target makes its own: sound inputs of every sort, so that no heap of bytes has
// to be kept here. What a fuzzer found and was mended is kept, in tests/fuzz/corpus/NAME/.
#pragma once

#include <cstdint>
#include <vector>

namespace motherbulb::fuzz {

using Seed = std::vector<std::uint8_t>;

std::vector<Seed> seeds();

}  // namespace motherbulb::fuzz

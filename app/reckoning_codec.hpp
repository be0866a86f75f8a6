// A reckoning's job and its answer as bytes, from one worker of a page to another. Both are of one build: the bytes
// are kept nowhere, and have no version.
#pragma once

#include <cstdint>
#include <vector>

#include "app/reckoning.hpp"
#include "shared/result.hpp"

namespace motherbulb {

[[nodiscard]] std::vector<std::uint8_t> encode_job(const ReckonJob& job);
[[nodiscard]] std::vector<std::uint8_t> encode_answer(const Result<ReckonAnswer>& answer);
// Refused where bytes are missing, or too many.
Result<ReckonJob> decode_job(const std::vector<std::uint8_t>& bytes);
// The answer, or what the reckoning was refused for.
Result<ReckonAnswer> decode_answer(const std::vector<std::uint8_t>& bytes);

}  // namespace motherbulb

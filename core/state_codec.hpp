// The folded picture's bytes in the folded tables: canonical, so that equal pictures are equal bytes.
#pragma once

#include <optional>

#include "core/fold.hpp"
#include "core/state.hpp"

namespace motherbulb {

ByteString encode_state(const BatchState& state);
ByteString encode_state(const PotState& state);
ByteString encode_state(const Matter& matter);
ByteString encode_state(const Link& link);
ByteString encode_origin(const TableOrigin& origin);
bool decode_state(std::string_view bytes, BatchState& state);
bool decode_state(std::string_view bytes, PotState& state);
bool decode_state(std::string_view bytes, Matter& matter);
bool decode_state(std::string_view bytes, Link& link);
bool decode_origin(std::string_view bytes, TableOrigin& origin);

}  // namespace motherbulb

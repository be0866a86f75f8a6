// Short names for bytes: BLAKE2b (RFC 7693) of any length up to 32 bytes, over parts given one after the other.
#pragma once

#include <cstdint>
#include <memory>
#include <string_view>

#include "shared/ids.hpp"

namespace motherbulb {

// Parts are taken as one run of bytes; whoever hashes texts of free length writes their lengths between them.
class Digest {
public:
  explicit Digest(std::size_t bytes);  // 16 to 32
  ~Digest();
  Digest(const Digest&) = delete;
  Digest& operator=(const Digest&) = delete;
  Digest& raw(const void* bytes, std::size_t count);
  Digest& raw(std::string_view bytes) { return raw(bytes.data(), bytes.size()); }
  // Once, with as many bytes as were asked for.
  void finish(std::uint8_t* out);

private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

FactKey digest_128(std::string_view bytes);
// The first 8 bytes of digest_128, as a little-endian number.
std::uint64_t digest_64(std::string_view bytes);

}  // namespace motherbulb

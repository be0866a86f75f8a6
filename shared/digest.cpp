#include "shared/digest.hpp"

#include <sodium.h>

#include "shared/result.hpp"

namespace motherbulb {

struct Digest::Inside {
  crypto_generichash_state state;
  std::size_t bytes;
};

Digest::Digest(std::size_t bytes) : inside_(std::make_unique<Inside>()) {
  CHECK_OURS(bytes >= crypto_generichash_BYTES_MIN && bytes <= crypto_generichash_BYTES);
  inside_->bytes = bytes;
  crypto_generichash_init(&inside_->state, nullptr, 0, bytes);
}

Digest::~Digest() = default;

Digest& Digest::raw(const void* bytes, std::size_t count) {
  crypto_generichash_update(&inside_->state, static_cast<const unsigned char*>(bytes), count);
  return *this;
}

void Digest::finish(std::uint8_t* out) {
  crypto_generichash_final(&inside_->state, out, inside_->bytes);
}

FactKey digest_128(std::string_view bytes) {
  FactKey key;
  crypto_generichash(key.bytes.data(), key.bytes.size(), reinterpret_cast<const unsigned char*>(bytes.data()),
                     bytes.size(), nullptr, 0);
  return key;
}

std::uint64_t digest_64(std::string_view bytes) {
  const FactKey key = digest_128(bytes);
  std::uint64_t value = 0;
  for (std::size_t i = 8; i > 0; --i) value = value << 8 | key.bytes[i - 1];
  return value;
}

}  // namespace motherbulb

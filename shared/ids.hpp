// Names of things, one type each, so that a pot can never be mistaken for a batch. All are plain values with a total
// order that is the same on every machine (bytes compared as unsigned).
#pragma once

#include <array>
#include <cstdint>
#include <cstring>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace motherbulb {

// N bytes with an order. Tag makes each use a type of its own.
template <std::size_t N, class Tag>
struct Bytes {
  std::array<std::uint8_t, N> bytes{};

  friend bool operator==(const Bytes& a, const Bytes& b) { return std::memcmp(a.bytes.data(), b.bytes.data(), N) == 0; }
  friend bool operator!=(const Bytes& a, const Bytes& b) { return !(a == b); }
  friend bool operator<(const Bytes& a, const Bytes& b) { return std::memcmp(a.bytes.data(), b.bytes.data(), N) < 0; }
  bool is_zero() const { return *this == Bytes{}; }
};

// One installation's way of writing; made of 128 random bits, and anew after a restore, a copy or lost storage.
using WriterId = Bytes<16, struct WriterTag>;
// BLAKE2b-256.
using Hash = Bytes<32, struct HashTag>;
// What a fact is known by in every book. For an entry that was tapped: a digest of its EntryId. For one that came from
// a table: a digest of what the table says (FORMAT.md, "Facts"), so that the same table imported on two devices is one
// fact. Corrections and settlements name facts, never entries.
using FactKey = Bytes<16, struct FactTag>;
// A batch is known by the fact that began it. Zero: none, the whole book.
using BatchId = Bytes<16, struct BatchTag>;

inline BatchId batch_of(const FactKey& begun) {
  return BatchId{begun.bytes};
}
inline FactKey fact_of(const BatchId& batch) {
  return FactKey{batch.bytes};
}

// (writer, sequence): identifies one entry for ever. Sequences have no gaps and begin at 1.
struct EntryId {
  WriterId writer;
  std::uint64_t seq = 0;

  friend bool operator==(const EntryId& a, const EntryId& b) { return a.seq == b.seq && a.writer == b.writer; }
  friend bool operator<(const EntryId& a, const EntryId& b) {
    return a.writer != b.writer ? a.writer < b.writer : a.seq < b.seq;
  }
};

// A pot of a batch: its number on the label, from 1. Number 0 stands for the batch itself: what waits unpotted.
struct PotId {
  BatchId batch;
  std::int32_t number = 0;

  friend bool operator==(const PotId& a, const PotId& b) { return a.number == b.number && a.batch == b.batch; }
  friend bool operator<(const PotId& a, const PotId& b) {
    return a.batch != b.batch ? a.batch < b.batch : a.number < b.number;
  }
};

// A matter's name: 48 bits, shown as twelve hexadecimal digits; a digest of its kind and the facts it is about.
struct MatterId {
  std::uint64_t value = 0;
  friend bool operator==(MatterId a, MatterId b) { return a.value == b.value; }
  friend bool operator<(MatterId a, MatterId b) { return a.value < b.value; }
};

std::string hex(const std::uint8_t* bytes, std::size_t count);
template <std::size_t N, class Tag>
std::string hex(const Bytes<N, Tag>& value) {
  return hex(value.bytes.data(), N);
}
std::string hex(MatterId id);  // twelve digits
// Exactly 2·count hexadecimal digits of either case; false, and `out` untouched, on anything else.
bool from_hex(std::string_view text, std::uint8_t* out, std::size_t count);
std::optional<MatterId> matter_id_from_hex(std::string_view text);

template <std::size_t N, class Tag>
struct BytesHasher {
  std::size_t operator()(const Bytes<N, Tag>& value) const {
    std::size_t mixed;  // the bytes are random or digests already
    std::memcpy(&mixed, value.bytes.data(), sizeof mixed);
    return mixed;
  }
};

}  // namespace motherbulb

template <std::size_t N, class Tag>
struct std::hash<motherbulb::Bytes<N, Tag>> : motherbulb::BytesHasher<N, Tag> {};

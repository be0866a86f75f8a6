// Parcels made by hand, after FORMAT.md and not with the writer of ours: every length and every count in them can be
// set to a lie, with all checksums right around it.
#pragma once

#include <sodium.h>

#include <cstdint>
#include <string>
#include <vector>

#include "shared/entry.hpp"

namespace motherbulb::forge {

inline void fixed(std::uint64_t value, int bytes, ByteString& out) {
  for (int i = 0; i < bytes; ++i) out.push_back(static_cast<std::uint8_t>(value >> (8 * i)));
}
inline void number(std::uint64_t value, ByteString& out) {
  for (; value >= 128; value >>= 7) out.push_back(static_cast<std::uint8_t>(value | 128));
  out.push_back(static_cast<std::uint8_t>(value));
}
inline void append(const ByteString& bytes, ByteString& out) {
  out.insert(out.end(), bytes.begin(), bytes.end());
}
template <class T>
void append_value(const T& value, ByteString& out) {
  out.insert(out.end(), value.bytes.begin(), value.bytes.end());
}
inline ByteString blake2b_256(const ByteString& bytes) {
  ByteString hash(32);
  crypto_generichash(hash.data(), hash.size(), bytes.data(), bytes.size(), nullptr, 0);
  return hash;
}

// One column: the least number, the width of the others, and they.
struct Column {
  std::uint64_t zigzag_least = 0;
  std::uint64_t width = 0;
  ByteString differences;
};

// A parcel of one run of one block, stored unpacked: `entries` of a note each on nothing (kind 26, "a").
struct Forged {
  std::uint64_t version = 1;
  // the block's head
  std::uint64_t block_entries = 2;
  std::uint64_t content_size = 0;  // 0: as it is
  std::uint64_t packed_size = 0;   // 0: as it is
  // the content
  std::uint64_t helpers = 1;
  std::uint64_t helper_size = 4;
  std::uint64_t devices = 0;
  std::uint64_t batches_size = 0;
  std::uint64_t facts_size = 0;
  std::uint64_t rows_size = 0;
  std::uint64_t payloads_size = 4;
  std::vector<Column> columns = {{}, {52}, {3'600'000'000}, {}, {}, {120}, {}, {2}, {}, {4}, {}, {}};
  // the trailer
  std::uint64_t blocks = 1;
  std::uint64_t entries = 2;
  std::uint64_t runs = 1;
  std::uint64_t first = 1;
  std::uint64_t count = 2;
  std::uint64_t known = 1;
  std::uint64_t known_last = 2;
  std::uint64_t trailer_size = 0;  // 0: as it is
  std::uint64_t total = 0;         // 0: as it is

  ByteString made() const {
    const WriterId writer{{1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16}};
    // What the entries are, for the hashes: both alike but for their stamps.
    Hash last = first_hash(writer);
    for (std::uint64_t i = 1; i <= 2; ++i) {
      Entry entry;
      entry.stamp.value = 1'800'000'000 * i << 16;
      entry.when = moment(static_cast<std::int64_t>(1'800'000'000 * i), 60);
      entry.helper = "Runa";
      entry.kind = 26;
      entry.payload = {1, 'a'};
      last = entry_hash(last, canonical_body(entry));
    }
    ByteString content;
    number(helpers, content);
    number(helper_size, content);
    append({'R', 'u', 'n', 'a'}, content);
    number(devices, content);
    number(batches_size, content);
    number(facts_size, content);
    number(rows_size, content);
    number(payloads_size, content);
    append({1, 'a', 1, 'a'}, content);
    for (const Column& column : columns) {
      number(column.zigzag_least, content);
      content.push_back(static_cast<std::uint8_t>(column.width));
      append(column.differences, content);
    }

    ByteString parcel = {'M', 'B', 'p', 'a', 'r', 'c', 'e', 'l'};
    fixed(version, 2, parcel);
    append_value(writer, parcel);
    fixed(1'800'000'000'000, 8, parcel);
    ByteString start(32);
    append(parcel, start);
    ByteString chain = blake2b_256(start);
    append(chain, parcel);
    ByteString head;
    fixed(block_entries, 4, head);
    fixed(content_size == 0 ? content.size() : content_size, 4, head);
    fixed(packed_size == 0 ? content.size() : packed_size, 4, head);
    append(head, chain);
    append(content, chain);
    chain = blake2b_256(chain);
    append(head, parcel);
    append(chain, parcel);
    append(content, parcel);

    ByteString trailer = chain;
    fixed(blocks, 8, trailer);
    fixed(entries, 8, trailer);
    number(runs, trailer);
    append_value(writer, trailer);
    number(first, trailer);
    number(count, trailer);
    append_value(first_hash(writer), trailer);
    append_value(last, trailer);
    number(known, trailer);
    append_value(writer, trailer);
    number(known_last, trailer);
    append_value(last, trailer);
    const std::uint64_t size = trailer.size() + 4 + 8 + 32 + 8;
    fixed(trailer_size == 0 ? size : trailer_size, 4, trailer);
    fixed(total == 0 ? parcel.size() + size : total, 8, trailer);
    ByteString checked(32);
    append(trailer, checked);
    append(blake2b_256(checked), trailer);
    append({'M', 'B', 'e', 'n', 'd', 's', '\r', '\n'}, trailer);
    append(trailer, parcel);
    return parcel;
  }
};

}  // namespace motherbulb::forge

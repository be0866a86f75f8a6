// The inside of a parcel: its numbers, its limits, and the columns in which a block holds its entries (FORMAT.md,
// "Frame" and "Block"). Only the parcel's writer and reader, and their tests, look in here.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "shared/entry.hpp"

namespace motherbulb {

namespace frame {

inline constexpr std::array<std::uint8_t, 8> magic = {'M', 'B', 'p', 'a', 'r', 'c', 'e', 'l'};
inline constexpr std::array<std::uint8_t, 8> end_mark = {'M', 'B', 'e', 'n', 'd', 's', '\r', '\n'};
inline constexpr std::uint16_t version = 1;
inline constexpr std::size_t hash_size = 32;
inline constexpr std::size_t head_size = 8 + 2 + 16 + 8 + hash_size;
inline constexpr std::size_t block_head_size = 4 + 4 + 4 + hash_size;
inline constexpr std::size_t tail_size = 4 + 8 + hash_size + 8;
inline constexpr std::size_t least_trailer_size = hash_size + 8 + 8 + 1 + 1 + tail_size;
inline constexpr std::size_t greatest_trailer_size = std::size_t{4} << 20;
inline constexpr std::size_t greatest_body_size = std::size_t{2} << 20;  // of one entry
inline constexpr std::size_t usual_block_size = std::size_t{256} << 10;  // where the writer begins a new block
inline constexpr std::size_t greatest_block_size = greatest_body_size + (std::size_t{64} << 10);
inline constexpr std::uint32_t greatest_block_entries = 65536;
inline constexpr std::uint64_t greatest_seq = INT64_MAX;  // what a store can hold
inline constexpr std::int32_t greatest_offset_minutes = 18 * 60;

// The columns of a block that hold one number an entry, in their order; then those with one number for each entry that
// came from a table.
enum Column : std::size_t {
  flags,
  kind,
  stamp_ms,
  stamp_counter,
  when_column,
  offset_minutes,
  batch,
  helper,
  pot,
  payload_size,
  row_count,
  device,
  column_count
};
inline constexpr std::size_t first_table_column = row_count;
enum Flag : std::uint8_t { bare_day_flag = 1, table_flag = 2, whole_day_flag = 4 };

void put(std::uint64_t value, int bytes, ByteString& out);  // little-endian
std::uint64_t get(const std::uint8_t* at, int bytes);
void put_number(std::uint64_t value, ByteString& out);  // as FactWriter::number
// What the parcel's chain of checksums becomes after these bytes.
Hash chained(const Hash& before, const std::uint8_t* head, std::size_t head_size, const std::uint8_t* bytes,
             std::size_t size);

}  // namespace frame

// Gathers entries of one run and gives the block's content.
class BlockWriter {
public:
  void add(const Entry& entry);
  std::uint32_t entries() const { return entries_; }
  std::size_t size() const;            // content() takes at most so many bytes
  void take_content(ByteString& out);  // and begins anew

private:
  // Numbers of one column as they come; written as the least of them and the differences from it, each in as many bytes
  // as the greatest of those needs.
  class Numbers {
  public:
    void add(std::int64_t value);
    std::size_t size() const { return 11 + values_.size() * width_; }
    void put_into(ByteString& out);

  private:
    std::vector<std::int64_t> values_;
    std::int64_t least_ = 0;
    std::int64_t greatest_ = 0;
    std::size_t width_ = 0;
  };
  // Texts, each with its number from 1 in the order of their first use; the empty text is 0.
  struct Texts {
    std::vector<std::string> all;
    std::unordered_map<std::string, std::int64_t> numbers;
    std::size_t size = 5;
    std::int64_t number_of(const std::string& text);
  };

  std::uint32_t entries_ = 0;
  std::int64_t last_stamp_ms_ = 0;
  std::array<Numbers, frame::column_count> columns_;
  Texts helpers_;
  Texts devices_;
  std::vector<BatchId> batches_;
  std::unordered_map<BatchId, std::int64_t> batch_numbers_;
  ByteString facts_;
  ByteString rows_;
  ByteString payloads_;
};

// Gives back the entries of a block's content. Trusts no byte. What it gives has no id: the run says that. Holds beside
// the content at most 16 bytes for each text in its dictionaries.
class BlockReader {
public:
  // So many bytes beyond the content's end must be readable, whatever stands there.
  static constexpr std::size_t slack = 8;

  // False where the content is no block of so many entries. The content must stay where it is until all are read.
  bool open(const std::uint8_t* content, std::size_t size, std::uint32_t entries);
  std::uint32_t left() const { return left_; }
  // Only while some are left. False where it is damaged; at the last entry also where something is left over.
  bool next(Entry& entry);

private:
  struct Bytes {
    const std::uint8_t* at = nullptr;
    const std::uint8_t* end = nullptr;
    std::size_t left() const { return static_cast<std::size_t>(end - at); }
  };
  struct Numbers {
    const std::uint8_t* at = nullptr;
    std::size_t width = 0;
    std::uint64_t least = 0;
    std::uint64_t mask = 0;
    std::int64_t next();
  };
  static bool read_texts(Bytes& from, std::uint32_t entries, std::vector<std::string_view>& into);
  static bool read_bytes(Bytes& from, Bytes& into);

  std::uint32_t left_ = 0;
  std::uint32_t table_entries_left_ = 0;
  std::int64_t last_stamp_ms_ = 0;
  std::array<Numbers, frame::column_count> columns_;
  std::vector<std::string_view> helpers_;
  std::vector<std::string_view> devices_;
  Bytes batches_;
  Bytes facts_;
  Bytes rows_;
  Bytes payloads_;
};

}  // namespace motherbulb

#include "shared/blocks.hpp"

#include <sodium.h>

#include <algorithm>
#include <cstring>

#include "shared/text.hpp"

namespace motherbulb {
namespace frame {

void put(std::uint64_t value, int bytes, ByteString& out) {
  for (int i = 0; i < bytes; ++i) out.push_back(static_cast<std::uint8_t>(value >> (8 * i)));
}

std::uint64_t get(const std::uint8_t* at, int bytes) {
  std::uint64_t value = 0;
  for (int i = 0; i < bytes; ++i) value |= static_cast<std::uint64_t>(at[i]) << (8 * i);
  return value;
}

void put_number(std::uint64_t value, ByteString& out) {
  while (value >= 128) {
    out.push_back(static_cast<std::uint8_t>(value | 128));
    value >>= 7;
  }
  out.push_back(static_cast<std::uint8_t>(value));
}

Hash chained(const Hash& before, const std::uint8_t* head, std::size_t head_bytes, const std::uint8_t* bytes,
             std::size_t size) {
  crypto_generichash_state state;
  Hash hash;
  crypto_generichash_init(&state, nullptr, 0, hash.bytes.size());
  crypto_generichash_update(&state, before.bytes.data(), before.bytes.size());
  crypto_generichash_update(&state, head, head_bytes);
  crypto_generichash_update(&state, bytes, size);
  crypto_generichash_final(&state, hash.bytes.data(), hash.bytes.size());
  return hash;
}

}  // namespace frame

namespace {

constexpr std::uint64_t ms_per_minute = 60 * 1000;
constexpr std::int64_t ms_per_day = 24 * 60 * 60 * 1000;

// Differences are taken modulo 2^64, so that none overflows.
std::uint64_t zigzag(std::uint64_t difference) {
  return difference << 1 ^ (0 - (difference >> 63));
}
std::uint64_t unzigzag(std::uint64_t value) {
  return value >> 1 ^ (0 - (value & 1));
}

std::uint64_t offset_ms(std::int32_t minutes) {
  return static_cast<std::uint64_t>(static_cast<std::int64_t>(minutes)) * ms_per_minute;
}

// Floored, as days are.
std::int64_t day_of(std::int64_t ms) {
  return ms / ms_per_day - (ms % ms_per_day < 0 ? 1 : 0);
}

// A number as FactReader::number reads it.
bool read_number(const std::uint8_t*& at, const std::uint8_t* end, std::uint64_t& value) {
  value = 0;
  for (unsigned shift = 0; shift < 64; shift += 7) {
    if (at == end) return false;
    const std::uint8_t next = *at++;
    if ((next == 0 && shift > 0) || (shift == 63 && next > 1)) return false;  // a shorter form exists; beyond 64 bits
    value |= static_cast<std::uint64_t>(next & 127) << shift;
    if (next < 128) return true;
  }
  return false;
}

}  // namespace

void BlockWriter::Numbers::add(std::int64_t value) {
  if (values_.empty()) {
    least_ = value;
    greatest_ = value;
  } else if (value < least_ || value > greatest_) {
    least_ = std::min(least_, value);
    greatest_ = std::max(greatest_, value);
    std::uint64_t range = static_cast<std::uint64_t>(greatest_) - static_cast<std::uint64_t>(least_);
    for (width_ = 0; range > 0; range >>= 8) ++width_;
  }
  values_.push_back(value);
}

void BlockWriter::Numbers::put_into(ByteString& out) {
  frame::put_number(zigzag(static_cast<std::uint64_t>(least_)), out);
  out.push_back(static_cast<std::uint8_t>(width_));
  for (std::int64_t value : values_) {
    frame::put(static_cast<std::uint64_t>(value) - static_cast<std::uint64_t>(least_), static_cast<int>(width_), out);
  }
  values_.clear();
  least_ = 0;
  greatest_ = 0;
  width_ = 0;
}

std::int64_t BlockWriter::Texts::number_of(const std::string& text) {
  if (text.empty()) return 0;
  const auto [found, added] = numbers.try_emplace(text, static_cast<std::int64_t>(all.size()) + 1);
  if (added) {
    all.push_back(text);
    size += text.size() + 5;
  }
  return found->second;
}

void BlockWriter::add(const Entry& entry) {
  using namespace frame;
  std::uint8_t bits =
      static_cast<std::uint8_t>((entry.when.bare_day ? bare_day_flag : 0) | (entry.table ? table_flag : 0));
  const std::int64_t stamp = entry.stamp.wall_ms();
  std::uint64_t when = static_cast<std::uint64_t>(entry.when.utc_ms) - static_cast<std::uint64_t>(stamp);
  // A bare day that is a local midnight, as all are that we write, is sent as a number of days.
  const auto local =
      static_cast<std::int64_t>(static_cast<std::uint64_t>(entry.when.utc_ms) + offset_ms(entry.when.offset_minutes));
  const std::int64_t days = local / ms_per_day;
  if (entry.when.bare_day && local % ms_per_day == 0 && days >= INT32_MIN && days <= INT32_MAX) {
    bits |= whole_day_flag;
    when = static_cast<std::uint64_t>(days - day_of(stamp));
  }
  columns_[flags].add(bits);
  columns_[kind].add(entry.kind);
  columns_[stamp_ms].add(stamp - last_stamp_ms_);
  columns_[stamp_counter].add(static_cast<std::int64_t>(entry.stamp.value & 0xffff));
  columns_[when_column].add(static_cast<std::int64_t>(when));
  columns_[offset_minutes].add(entry.when.offset_minutes);
  last_stamp_ms_ = stamp;
  std::int64_t batch_number = 0;
  if (!entry.batch.is_zero()) {
    const auto [found, added] = batch_numbers_.try_emplace(entry.batch, static_cast<std::int64_t>(batches_.size()) + 1);
    if (added) batches_.push_back(entry.batch);
    batch_number = found->second;
  }
  columns_[batch].add(batch_number);
  columns_[helper].add(helpers_.number_of(entry.helper));
  columns_[pot].add(entry.pot);
  columns_[payload_size].add(static_cast<std::int64_t>(entry.payload.size()));
  payloads_.insert(payloads_.end(), entry.payload.begin(), entry.payload.end());
  if (entry.table) {
    facts_.insert(facts_.end(), entry.table->fact.bytes.begin(), entry.table->fact.bytes.end());
    columns_[row_count].add(static_cast<std::int64_t>(entry.table->rows.size()));
    for (std::uint64_t row : entry.table->rows) put(row, 8, rows_);
    columns_[device].add(devices_.number_of(entry.table->device));
  }
  ++entries_;
}

std::size_t BlockWriter::size() const {
  std::size_t sum =
      helpers_.size + devices_.size + batches_.size() * 16 + facts_.size() + rows_.size() + payloads_.size() + 4 * 5;
  for (const Numbers& column : columns_) sum += column.size();
  return sum;
}

void BlockWriter::take_content(ByteString& out) {
  out.clear();
  for (Texts* texts : {&helpers_, &devices_}) {
    frame::put_number(texts->all.size(), out);
    for (const std::string& text : texts->all) {
      frame::put_number(text.size(), out);
      out.insert(out.end(), text.begin(), text.end());
    }
    *texts = Texts{};
  }
  frame::put_number(batches_.size() * 16, out);
  for (const BatchId& id : batches_) out.insert(out.end(), id.bytes.begin(), id.bytes.end());
  for (ByteString* bytes : {&facts_, &rows_, &payloads_}) {
    frame::put_number(bytes->size(), out);
    out.insert(out.end(), bytes->begin(), bytes->end());
    bytes->clear();
  }
  for (Numbers& column : columns_) column.put_into(out);
  entries_ = 0;
  last_stamp_ms_ = 0;
  batches_.clear();
  batch_numbers_.clear();
}

inline std::int64_t BlockReader::Numbers::next() {
  // Eight bytes at once, whatever lies beyond the column: written out, compilers make one load of it.
  const std::uint64_t wide = static_cast<std::uint64_t>(at[0]) | static_cast<std::uint64_t>(at[1]) << 8 |
                             static_cast<std::uint64_t>(at[2]) << 16 | static_cast<std::uint64_t>(at[3]) << 24 |
                             static_cast<std::uint64_t>(at[4]) << 32 | static_cast<std::uint64_t>(at[5]) << 40 |
                             static_cast<std::uint64_t>(at[6]) << 48 | static_cast<std::uint64_t>(at[7]) << 56;
  at += width;
  return static_cast<std::int64_t>((wide & mask) + least);
}

bool BlockReader::read_bytes(Bytes& from, Bytes& into) {
  std::uint64_t size;
  if (!read_number(from.at, from.end, size) || size > from.left()) return false;
  into = {from.at, from.at + size};
  from.at += size;
  return true;
}

bool BlockReader::read_texts(Bytes& from, std::uint32_t entries, std::vector<std::string_view>& into) {
  into.clear();
  std::uint64_t count;
  if (!read_number(from.at, from.end, count) || count > entries) return false;
  for (std::uint64_t i = 0; i < count; ++i) {
    Bytes text;
    if (!read_bytes(from, text) || text.left() == 0) return false;
    into.emplace_back(reinterpret_cast<const char*>(text.at), text.left());
    if (!is_utf8(into.back())) return false;
  }
  return true;
}

bool BlockReader::open(const std::uint8_t* content, std::size_t size, std::uint32_t entries) {
  left_ = 0;
  last_stamp_ms_ = 0;
  if (entries == 0 || entries > frame::greatest_block_entries) return false;
  Bytes from{content, content + size};
  if (!read_texts(from, entries, helpers_) || !read_texts(from, entries, devices_) || !read_bytes(from, batches_) ||
      !read_bytes(from, facts_) || !read_bytes(from, rows_) || !read_bytes(from, payloads_) ||
      batches_.left() % 16 != 0 || facts_.left() % 16 != 0 || facts_.left() / 16 > entries || rows_.left() % 8 != 0) {
    return false;
  }
  table_entries_left_ = static_cast<std::uint32_t>(facts_.left() / 16);
  for (std::size_t i = 0; i < frame::column_count; ++i) {
    Numbers& column = columns_[i];
    const std::size_t count = i < frame::first_table_column ? entries : table_entries_left_;
    std::uint64_t least;
    if (!read_number(from.at, from.end, least) || from.at == from.end) return false;
    column.least = unzigzag(least);
    column.width = *from.at++;
    if (column.width > 8 || count * column.width > from.left()) return false;
    column.mask = column.width == 8 ? UINT64_MAX : (std::uint64_t{1} << (8 * column.width)) - 1;
    column.at = from.at;
    from.at += count * column.width;
  }
  if (from.at != from.end) return false;
  left_ = entries;
  return true;
}

bool BlockReader::next(Entry& entry) {
  using namespace frame;
  const std::int64_t bits = columns_[flags].next();
  const std::int64_t kind_read = columns_[kind].next();
  const std::int64_t ms = columns_[stamp_ms].next();
  const std::int64_t counter = columns_[stamp_counter].next();
  const auto when = static_cast<std::uint64_t>(columns_[when_column].next());
  const std::int64_t minutes = columns_[offset_minutes].next();
  const auto batch_number = static_cast<std::uint64_t>(columns_[batch].next());
  const auto helper_number = static_cast<std::uint64_t>(columns_[helper].next());
  const std::int64_t pot_read = columns_[pot].next();
  const auto size = static_cast<std::uint64_t>(columns_[payload_size].next());

  const std::uint64_t stamp = static_cast<std::uint64_t>(last_stamp_ms_) + static_cast<std::uint64_t>(ms);
  if (bits < 0 || bits > 7 || (bits & (whole_day_flag | bare_day_flag)) == whole_day_flag || kind_read < 1 ||
      kind_read > UINT16_MAX || stamp >> 48 != 0 || counter < 0 || counter > UINT16_MAX ||
      minutes < -greatest_offset_minutes || minutes > greatest_offset_minutes || batch_number > batches_.left() / 16 ||
      helper_number > helpers_.size() || pot_read < 0 || pot_read > INT32_MAX || size > payloads_.left()) {
    return false;
  }
  last_stamp_ms_ = static_cast<std::int64_t>(stamp);
  entry.kind = static_cast<std::uint16_t>(kind_read);
  entry.stamp.value = stamp << 16 | static_cast<std::uint64_t>(counter);
  entry.when.offset_minutes = static_cast<std::int32_t>(minutes);
  entry.when.bare_day = (bits & bare_day_flag) != 0;
  if (bits & whole_day_flag) {
    const auto days = static_cast<std::int64_t>(when + static_cast<std::uint64_t>(day_of(last_stamp_ms_)));
    if (days < INT32_MIN || days > INT32_MAX) return false;
    entry.when.utc_ms = days * ms_per_day - static_cast<std::int64_t>(offset_ms(entry.when.offset_minutes));
  } else {
    entry.when.utc_ms = static_cast<std::int64_t>(when + stamp);
  }
  if (batch_number == 0) {
    entry.batch = BatchId{};
  } else {
    std::memcpy(entry.batch.bytes.data(), batches_.at + (batch_number - 1) * 16, 16);
  }
  if (helper_number == 0) {
    entry.helper.clear();
  } else {
    entry.helper = helpers_[static_cast<std::size_t>(helper_number - 1)];
  }
  entry.pot = static_cast<std::int32_t>(pot_read);
  entry.payload.assign(payloads_.at, payloads_.at + size);
  payloads_.at += size;

  if (bits & table_flag) {
    if (table_entries_left_ == 0) return false;
    --table_entries_left_;
    const auto count = static_cast<std::uint64_t>(columns_[row_count].next());
    const auto device_number = static_cast<std::uint64_t>(columns_[device].next());
    if (count > rows_.left() / 8 || device_number > devices_.size()) return false;
    if (!entry.table) entry.table.emplace();
    std::memcpy(entry.table->fact.bytes.data(), facts_.at, 16);
    facts_.at += 16;
    entry.table->rows.resize(static_cast<std::size_t>(count));
    for (std::uint64_t& row : entry.table->rows) {
      row = get(rows_.at, 8);
      rows_.at += 8;
    }
    entry.table->device =
        device_number == 0 ? std::string_view() : devices_[static_cast<std::size_t>(device_number) - 1];
  } else {
    entry.table.reset();
  }
  return --left_ > 0 || (table_entries_left_ == 0 && rows_.left() == 0 && payloads_.left() == 0);
}

}  // namespace motherbulb

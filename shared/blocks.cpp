#include "shared/blocks.hpp"

#include <sodium.h>

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

std::uint64_t number_of(const std::string& text, std::vector<std::string>& all,
                        std::unordered_map<std::string, std::uint64_t>& numbers, std::size_t& size) {
  if (text.empty()) return 0;
  const auto [found, added] = numbers.try_emplace(text, all.size() + 1);
  if (added) {
    all.push_back(text);
    size += text.size() + 5;
  }
  return found->second;
}

}  // namespace

void BlockWriter::add(const Entry& entry) {
  using namespace frame;
  std::uint8_t bits =
      static_cast<std::uint8_t>((entry.when.bare_day ? bare_day_flag : 0) | (entry.table ? table_flag : 0));
  // A bare day that is a local midnight, as all are that we write, is sent as a number of days.
  const std::uint64_t local_ms = static_cast<std::uint64_t>(entry.when.utc_ms) + offset_ms(entry.when.offset_minutes);
  const std::int64_t local = static_cast<std::int64_t>(local_ms);
  const std::int64_t stamp = entry.stamp.wall_ms();
  std::uint64_t when = static_cast<std::uint64_t>(entry.when.utc_ms) - static_cast<std::uint64_t>(stamp);
  const std::int64_t days = local / ms_per_day;
  if (entry.when.bare_day && local % ms_per_day == 0 && days >= INT32_MIN && days <= INT32_MAX) {
    bits |= whole_day_flag;
    when = static_cast<std::uint64_t>(days - day_of(stamp));
  }
  columns_[flags].push_back(bits);
  put_number(entry.kind, columns_[kind]);
  put_number(zigzag(static_cast<std::uint64_t>(stamp - last_stamp_ms_)), columns_[stamp_ms]);
  put_number(entry.stamp.value & 0xffff, columns_[stamp_counter]);
  put_number(zigzag(when), columns_[when_column]);
  put_number(zigzag(static_cast<std::uint64_t>(static_cast<std::int64_t>(entry.when.offset_minutes))),
             columns_[offset_minutes]);
  last_stamp_ms_ = stamp;
  std::uint64_t batch_number = 0;
  if (!entry.batch.is_zero()) {
    const auto [found, added] = batch_numbers_.try_emplace(entry.batch, batches_.size() + 1);
    if (added) {
      batches_.push_back(entry.batch);
      dictionary_size_ += entry.batch.bytes.size();
    }
    batch_number = found->second;
  }
  put_number(batch_number, columns_[batch]);
  put_number(number_of(entry.helper, helpers_, helper_numbers_, dictionary_size_), columns_[helper]);
  put_number(static_cast<std::uint32_t>(entry.pot), columns_[pot]);
  put_number(entry.payload.size(), columns_[payload_size]);
  columns_[payload].insert(columns_[payload].end(), entry.payload.begin(), entry.payload.end());
  if (entry.table) {
    columns_[fact].insert(columns_[fact].end(), entry.table->fact.bytes.begin(), entry.table->fact.bytes.end());
    put_number(entry.table->rows.size(), columns_[row_count]);
    for (std::uint64_t row : entry.table->rows) put(row, 8, columns_[rows]);
    put_number(number_of(entry.table->device, devices_, device_numbers_, dictionary_size_), columns_[device]);
  }
  ++entries_;
}

std::size_t BlockWriter::size() const {
  std::size_t sum = dictionary_size_ + 15;  // and the three dictionaries' counts
  for (const ByteString& column : columns_) sum += column.size() + 5;
  return sum;
}

void BlockWriter::take_content(ByteString& out) {
  out.clear();
  for (const auto* texts : {&helpers_, &devices_}) {
    frame::put_number(texts->size(), out);
    for (const std::string& text : *texts) {
      frame::put_number(text.size(), out);
      out.insert(out.end(), text.begin(), text.end());
    }
  }
  frame::put_number(batches_.size(), out);
  for (const BatchId& id : batches_) out.insert(out.end(), id.bytes.begin(), id.bytes.end());
  for (ByteString& column : columns_) {
    frame::put_number(column.size(), out);
    out.insert(out.end(), column.begin(), column.end());
    column.clear();
  }
  entries_ = 0;
  dictionary_size_ = 0;
  last_stamp_ms_ = 0;
  helpers_.clear();
  devices_.clear();
  batches_.clear();
  helper_numbers_.clear();
  device_numbers_.clear();
  batch_numbers_.clear();
}

inline bool BlockReader::number(Cursor& from, std::uint64_t& value) {
  if (from.at == from.end) return false;
  value = *from.at++;
  if (value < 128) return true;
  value &= 127;
  for (unsigned shift = 7; shift < 64; shift += 7) {
    if (from.at == from.end) return false;
    const std::uint8_t next = *from.at++;
    if (next == 0 || (shift == 63 && next > 1)) return false;  // a shorter form exists; beyond 64 bits
    value |= static_cast<std::uint64_t>(next & 127) << shift;
    if (next < 128) return true;
  }
  return false;
}

bool BlockReader::texts(Cursor& from, std::vector<std::string_view>& into) {
  into.clear();
  std::uint64_t count;
  if (!number(from, count) || count > entries_) return false;
  for (std::uint64_t i = 0; i < count; ++i) {
    std::uint64_t size;
    if (!number(from, size) || size == 0 || size > static_cast<std::size_t>(from.end - from.at)) return false;
    into.emplace_back(reinterpret_cast<const char*>(from.at), static_cast<std::size_t>(size));
    if (!is_utf8(into.back())) return false;
    from.at += size;
  }
  return true;
}

bool BlockReader::open(const std::uint8_t* content, std::size_t size, std::uint32_t entries) {
  left_ = 0;
  entries_ = entries;
  last_stamp_ms_ = 0;
  if (entries == 0 || entries > size / frame::least_entry_size) return false;
  Cursor from{content, content + size};
  if (!texts(from, helpers_) || !texts(from, devices_)) return false;
  if (!number(from, batch_count_) || batch_count_ > entries ||
      batch_count_ > static_cast<std::size_t>(from.end - from.at) / 16) {
    return false;
  }
  batches_ = from.at;
  from.at += batch_count_ * 16;
  for (Cursor& column : columns_) {
    std::uint64_t length;
    if (!number(from, length) || length > static_cast<std::size_t>(from.end - from.at)) return false;
    column = {from.at, from.at + length};
    from.at += length;
  }
  if (from.at != from.end) return false;
  left_ = entries;
  return true;
}

bool BlockReader::next(Entry& entry) {
  using namespace frame;
  std::uint64_t kind_read, ms, counter, when, minutes, batch_number, helper_number, pot_read, size;
  Cursor& bits_at = columns_[flags];
  if (bits_at.at == bits_at.end) return false;
  const std::uint8_t bits = *bits_at.at++;
  if (!number(columns_[kind], kind_read) || !number(columns_[stamp_ms], ms) ||
      !number(columns_[stamp_counter], counter) || !number(columns_[when_column], when) ||
      !number(columns_[offset_minutes], minutes) || !number(columns_[batch], batch_number) ||
      !number(columns_[helper], helper_number) || !number(columns_[pot], pot_read) ||
      !number(columns_[payload_size], size)) {
    return false;
  }
  if (bits > 7 || (bits & (whole_day_flag | bare_day_flag)) == whole_day_flag) return false;
  if (kind_read == 0 || kind_read > UINT16_MAX || counter > UINT16_MAX) return false;
  entry.kind = static_cast<std::uint16_t>(kind_read);

  const std::uint64_t stamp = static_cast<std::uint64_t>(last_stamp_ms_) + unzigzag(ms);
  if (stamp >> 48 != 0) return false;
  last_stamp_ms_ = static_cast<std::int64_t>(stamp);
  entry.stamp.value = stamp << 16 | counter;

  const auto offset = static_cast<std::int64_t>(unzigzag(minutes));
  if (offset < -greatest_offset_minutes || offset > greatest_offset_minutes) return false;
  entry.when.offset_minutes = static_cast<std::int32_t>(offset);
  entry.when.bare_day = (bits & bare_day_flag) != 0;
  if (bits & whole_day_flag) {
    const auto days = static_cast<std::int64_t>(unzigzag(when) + static_cast<std::uint64_t>(day_of(last_stamp_ms_)));
    if (days < INT32_MIN || days > INT32_MAX) return false;
    entry.when.utc_ms = days * ms_per_day - static_cast<std::int64_t>(offset_ms(entry.when.offset_minutes));
  } else {
    entry.when.utc_ms = static_cast<std::int64_t>(unzigzag(when) + stamp);
  }

  if (batch_number > batch_count_ || helper_number > helpers_.size() || pot_read > INT32_MAX) return false;
  if (batch_number == 0) {
    entry.batch = BatchId{};
  } else {
    std::memcpy(entry.batch.bytes.data(), batches_ + (batch_number - 1) * 16, 16);
  }
  if (helper_number == 0) {
    entry.helper.clear();
  } else {
    entry.helper = helpers_[static_cast<std::size_t>(helper_number - 1)];
  }
  entry.pot = static_cast<std::int32_t>(pot_read);

  Cursor& bytes = columns_[payload];
  if (size > static_cast<std::size_t>(bytes.end - bytes.at)) return false;
  entry.payload.assign(bytes.at, bytes.at + size);
  bytes.at += size;

  if (bits & table_flag) {
    if (!entry.table) entry.table.emplace();
    Cursor& facts = columns_[fact];
    Cursor& row_bytes = columns_[rows];
    std::uint64_t count, device_number;
    if (facts.end - facts.at < 16 || !number(columns_[row_count], count) || !number(columns_[device], device_number) ||
        count > static_cast<std::size_t>(row_bytes.end - row_bytes.at) / 8 || device_number > devices_.size()) {
      return false;
    }
    std::memcpy(entry.table->fact.bytes.data(), facts.at, 16);
    facts.at += 16;
    entry.table->rows.resize(static_cast<std::size_t>(count));
    for (std::uint64_t& row : entry.table->rows) {
      row = get(row_bytes.at, 8);
      row_bytes.at += 8;
    }
    if (device_number == 0) {
      entry.table->device.clear();
    } else {
      entry.table->device = devices_[static_cast<std::size_t>(device_number - 1)];
    }
  } else {
    entry.table.reset();
  }

  if (--left_ > 0) return true;
  for (const Cursor& column : columns_) {
    if (column.at != column.end) return false;
  }
  return true;
}

}  // namespace motherbulb

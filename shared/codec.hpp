// The canonical bytes of a fact, both ways: cereal archives of our own. The writer gives each value one encoding only;
// the reader trusts no byte: it checks each length against the bytes left before it allocates, refuses what has a
// shorter encoding, and once it has failed gives zeros and stays failed.
//
// Unsigned numbers: little-endian base 128, shortest form. Signed: zigzag, then as unsigned. bool and enum: one byte.
// Text (UTF-8) and lists: length, then contents. Fixed bytes: as they are. Optional: one byte 0 or 1, then the value.
#pragma once

#include <cereal/cereal.hpp>
#include <cstring>
#include <optional>
#include <string>
#include <type_traits>
#include <vector>

#include "shared/ids.hpp"
#include "shared/text.hpp"

namespace motherbulb {

class FactWriter : public cereal::OutputArchive<FactWriter, cereal::AllowEmptyClassElision> {
public:
  explicit FactWriter(std::vector<std::uint8_t>& out) : OutputArchive(this), out_(out) {}
  void byte(std::uint8_t value) { out_.push_back(value); }
  void number(std::uint64_t value) {
    while (value >= 128) {
      out_.push_back(static_cast<std::uint8_t>(value | 128));
      value >>= 7;
    }
    out_.push_back(static_cast<std::uint8_t>(value));
  }
  void raw(const void* bytes, std::size_t size) {
    const auto* first = static_cast<const std::uint8_t*>(bytes);
    out_.insert(out_.end(), first, first + size);
  }

private:
  std::vector<std::uint8_t>& out_;
};

class FactReader : public cereal::InputArchive<FactReader, cereal::AllowEmptyClassElision> {
public:
  FactReader(const std::uint8_t* bytes, std::size_t size) : InputArchive(this), at_(bytes), left_(size) {}
  bool failed() const { return failed_; }
  bool finished() const { return !failed_ && left_ == 0; }
  std::size_t left() const { return left_; }
  void fail() {
    failed_ = true;
    left_ = 0;
  }
  std::uint8_t byte() {
    if (left_ == 0) return fail(), std::uint8_t{0};
    --left_;
    return *at_++;
  }
  std::uint64_t number() {
    std::uint64_t value = 0;
    for (unsigned shift = 0; shift < 64; shift += 7) {
      const std::uint8_t next = byte();
      if (failed_) return 0;
      if (shift == 63 && next > 1) return fail(), 0;
      value |= static_cast<std::uint64_t>(next & 127) << shift;
      if (next < 128) {
        if (next == 0 && shift > 0) return fail(), 0;  // a shorter form exists
        return value;
      }
    }
    return fail(), 0;
  }
  // A count of things that take at least `least` bytes each.
  std::size_t count(std::size_t least) {
    const std::uint64_t value = number();
    if (failed_) return 0;
    if (value > left_ / (least == 0 ? 1 : least)) return fail(), std::size_t{0};
    return static_cast<std::size_t>(value);
  }
  void raw(void* out, std::size_t size) {
    if (size > left_) return fail();
    if (size > 0) std::memcpy(out, at_, size);
    at_ += size;
    left_ -= size;
  }

private:
  const std::uint8_t* at_;
  std::size_t left_;
  bool failed_ = false;
};

// An enumerator, as one byte. (cereal has its own way with bare enumerators, which this names around.)
template <class Enum>
struct Code {
  Enum& value;
};
template <class Enum>
Code<Enum> code(Enum& value) {
  return {value};
}
template <class Enum>
void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const Code<Enum>& code) {
  out.byte(static_cast<std::uint8_t>(code.value));
}
template <class Enum>
void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, Code<Enum>& code) {
  code.value = static_cast<Enum>(in.byte());
}

template <class T, std::enable_if_t<std::is_arithmetic_v<T>, int> = 0>
void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const T& value) {
  static_assert(!std::is_floating_point_v<T>, "no entry holds a floating-point number");
  if constexpr (std::is_same_v<T, bool>) {
    out.byte(static_cast<std::uint8_t>(value));
  } else if constexpr (std::is_signed_v<T>) {
    const auto wide = static_cast<std::int64_t>(value);
    out.number(static_cast<std::uint64_t>(wide) << 1 ^ static_cast<std::uint64_t>(wide >> 63));
  } else {
    out.number(value);
  }
}

template <class T, std::enable_if_t<std::is_arithmetic_v<T>, int> = 0>
void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, T& value) {
  if constexpr (std::is_same_v<T, bool>) {
    const std::uint8_t read = in.byte();
    if (read > 1) in.fail();
    value = read == 1;
  } else if constexpr (std::is_signed_v<T>) {
    const std::uint64_t read = in.number();
    const auto wide = static_cast<std::int64_t>(read >> 1) ^ -static_cast<std::int64_t>(read & 1);
    value = static_cast<T>(wide);
    if (static_cast<std::int64_t>(value) != wide) in.fail();
  } else {
    const std::uint64_t read = in.number();
    value = static_cast<T>(read);
    if (value != read) in.fail();
  }
}

inline void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const std::string& text) {
  out.number(text.size());
  out.raw(text.data(), text.size());
}
inline void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, std::string& text) {
  text.resize(in.count(1));
  in.raw(text.data(), text.size());
  if (!is_utf8(text)) in.fail();
}

template <std::size_t N, class Tag>
void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const Bytes<N, Tag>& value) {
  out.raw(value.bytes.data(), N);
}
template <std::size_t N, class Tag>
void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, Bytes<N, Tag>& value) {
  in.raw(value.bytes.data(), N);
}

template <class T>
void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const std::vector<T>& list) {
  out.number(list.size());
  for (const T& item : list) out(item);
}
template <class T>
void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, std::vector<T>& list) {
  const std::size_t count = in.count(1);
  list.clear();
  for (std::size_t i = 0; i < count && !in.failed(); ++i) {
    list.emplace_back();
    in(list.back());
  }
}
inline void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const std::vector<std::uint8_t>& bytes) {
  out.number(bytes.size());
  out.raw(bytes.data(), bytes.size());
}
inline void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, std::vector<std::uint8_t>& bytes) {
  bytes.resize(in.count(1));
  in.raw(bytes.data(), bytes.size());
}

template <class T>
void CEREAL_SAVE_FUNCTION_NAME(FactWriter& out, const std::optional<T>& value) {
  out.byte(value ? 1 : 0);
  if (value) out(*value);
}
template <class T>
void CEREAL_LOAD_FUNCTION_NAME(FactReader& in, std::optional<T>& value) {
  const std::uint8_t there = in.byte();
  if (there > 1) in.fail();
  value.reset();
  if (there == 1) in(value.emplace());
}

}  // namespace motherbulb

CEREAL_SETUP_ARCHIVE_TRAITS(motherbulb::FactReader, motherbulb::FactWriter)

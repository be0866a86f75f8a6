#include "shared/parcel_codes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "shared/digest.hpp"
#include "shared/entry.hpp"

namespace motherbulb {
namespace {

constexpr std::string_view mark = "MB";
constexpr char version = '1';
constexpr char after_version = ':';
constexpr char end = '.';
constexpr std::size_t before = 4;  // characters before the base 45 text
constexpr std::size_t head = 16;   // digest 8, nth 2, count 2, length 4
constexpr std::size_t check = 4;

static_assert(before + (head + code_content + check) / 2 * 3 + 1 == longest_code_text);

std::string_view text_of(const std::uint8_t* bytes, std::size_t count) {
  return {reinterpret_cast<const char*>(bytes), count};
}

std::array<std::uint8_t, 8> digest_of(const ByteString& parcel) {
  const FactKey whole = digest_128(text_of(parcel.data(), parcel.size()));
  std::array<std::uint8_t, 8> first{};
  std::copy_n(whole.bytes.begin(), first.size(), first.begin());
  return first;
}

std::array<std::uint8_t, check> check_of(const std::uint8_t* bytes, std::size_t count) {
  FactKey whole;
  Digest digest(whole.bytes.size());
  digest.raw("motherbulb code 1").raw(bytes, count).finish(whole.bytes.data());
  std::array<std::uint8_t, check> first{};
  std::copy_n(whole.bytes.begin(), first.size(), first.begin());
  return first;
}

void put(std::uint32_t value, std::size_t bytes, ByteString& out) {
  for (std::size_t i = 0; i < bytes; ++i) out.push_back(static_cast<std::uint8_t>(value >> (8 * i)));
}

std::uint32_t get(const std::uint8_t* from, std::size_t bytes) {
  std::uint32_t value = 0;
  for (std::size_t i = bytes; i > 0; --i) value = value << 8U | from[i - 1];
  return value;
}

// RFC 9285, table 1.
constexpr std::string_view base_45 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:";

void add_digits(std::uint32_t value, std::size_t digits, std::string& text) {
  for (std::size_t i = 0; i < digits; ++i, value /= 45) text.push_back(base_45[value % 45]);
}

std::string to_base_45(const ByteString& bytes) {
  std::string text;
  text.reserve(bytes.size() / 2 * 3 + 2);
  for (std::size_t i = 0; i + 1 < bytes.size(); i += 2) add_digits(bytes[i] * 256U + bytes[i + 1], 3, text);
  if (bytes.size() % 2 == 1) add_digits(bytes.back(), 2, text);
  return text;
}

// None where it is not exactly what to_base_45 writes.
std::optional<ByteString> from_base_45(std::string_view text) {
  if (text.size() % 3 == 1) return std::nullopt;
  ByteString bytes;
  bytes.reserve(text.size() / 3 * 2 + 1);
  for (std::size_t i = 0; i < text.size(); i += 3) {
    const std::size_t digits = std::min<std::size_t>(3, text.size() - i);
    std::uint32_t value = 0;
    for (std::size_t k = digits; k > 0; --k) {
      const std::size_t digit = base_45.find(text[i + k - 1]);
      if (digit == std::string_view::npos) return std::nullopt;
      value = value * 45 + static_cast<std::uint32_t>(digit);
    }
    if (value > (digits == 3 ? 0xFFFFU : 0xFFU)) return std::nullopt;
    if (digits == 3) bytes.push_back(static_cast<std::uint8_t>(value >> 8U));
    bytes.push_back(static_cast<std::uint8_t>(value));
  }
  return bytes;
}

// How many bytes of a parcel of that length stand in its code `nth`.
std::size_t content_of(std::uint32_t length, std::uint32_t nth) {
  const std::size_t from = (nth - 1) * code_content;
  return std::min<std::size_t>(code_content, length - from);
}

}  // namespace

Result<std::vector<std::string>> cut_into_codes(const ByteString& parcel) {
  if (parcel.empty()) return refusal("there is nothing to show as codes");
  const std::uint64_t count = codes_for(parcel.size());
  if (count > most_codes) {
    return refusal(
        fmt::format("the parcel would take {} codes, and {} is the most; hand it out as a file", count, most_codes));
  }
  std::vector<std::string> texts;
  CodePiece piece;
  piece.parcel = digest_of(parcel);
  piece.count = static_cast<std::uint32_t>(count);
  piece.length = static_cast<std::uint32_t>(parcel.size());
  for (piece.nth = 1; piece.nth <= piece.count; ++piece.nth) {
    const auto from = parcel.begin() + static_cast<std::ptrdiff_t>((piece.nth - 1) * code_content);
    piece.content.assign(from, from + static_cast<std::ptrdiff_t>(content_of(piece.length, piece.nth)));
    texts.push_back(write_code(piece));
  }
  return texts;
}

std::string write_code(const CodePiece& piece) {
  ByteString bytes(piece.parcel.begin(), piece.parcel.end());
  put(piece.nth, 2, bytes);
  put(piece.count, 2, bytes);
  put(piece.length, 4, bytes);
  bytes.insert(bytes.end(), piece.content.begin(), piece.content.end());
  const auto checked = check_of(bytes.data(), bytes.size());
  bytes.insert(bytes.end(), checked.begin(), checked.end());
  std::string text(mark);
  text.push_back(version);
  text.push_back(after_version);
  text += to_base_45(bytes);
  text.push_back(end);
  return text;
}

CodeRead read_code(std::string_view text) {
  if (text.size() < before || text.substr(0, mark.size()) != mark || text[3] != after_version)
    return {std::nullopt, CodeFault::foreign};
  const char of = text[2];
  if (of < '1' || of > '9') return {std::nullopt, CodeFault::foreign};
  if (of > version) return {std::nullopt, CodeFault::newer};
  const CodeRead damaged{std::nullopt, CodeFault::damaged};
  if (text.size() > longest_code_text || text.size() <= before || text.back() != end) return damaged;
  const std::optional<ByteString> bytes = from_base_45(text.substr(before, text.size() - before - 1));
  if (!bytes || bytes->size() <= head + check) return damaged;
  const std::size_t checked = bytes->size() - check;
  const auto right = check_of(bytes->data(), checked);
  if (!std::equal(right.begin(), right.end(), bytes->begin() + static_cast<std::ptrdiff_t>(checked))) return damaged;
  CodePiece piece;
  std::copy_n(bytes->begin(), piece.parcel.size(), piece.parcel.begin());
  piece.nth = get(bytes->data() + 8, 2);
  piece.count = get(bytes->data() + 10, 2);
  piece.length = get(bytes->data() + 12, 4);
  if (piece.count < 1 || piece.count > most_codes || piece.nth < 1 || piece.nth > piece.count) return damaged;
  if (codes_for(piece.length) != piece.count || checked - head != content_of(piece.length, piece.nth)) return damaged;
  piece.content.assign(bytes->begin() + head, bytes->begin() + static_cast<std::ptrdiff_t>(checked));
  return {std::move(piece), CodeFault::foreign};
}

// --------------------------------------------------------------------------------------------------- the collector

bool CodeCollector::Gathered::is_of(const CodePiece& piece) const {
  return pieces.size() == piece.count && length == piece.length && parcel == piece.parcel;
}

bool CodeCollector::Gathered::add(CodePiece&& piece) {
  if (!is_of(piece)) {
    parcel = piece.parcel;
    length = piece.length;
    pieces.assign(piece.count, {});
    have = 0;
  }
  ByteString& place = pieces[piece.nth - 1];
  if (!place.empty()) return false;
  place = std::move(piece.content);
  ++have;
  return true;
}

ByteString CodeCollector::Gathered::joined() const {
  ByteString all;
  all.reserve(length);
  for (const ByteString& piece : pieces) all.insert(all.end(), piece.begin(), piece.end());
  return all;
}

CodeCollector::Took CodeCollector::settle(bool fresh) {
  if (first_.complete() && digest_of(first_.joined()) != first_.parcel) {
    first_ = std::exchange(aside_, {});
    return Took::undone;
  }
  return fresh ? Took::fresh : Took::known;
}

CodeCollector::Took CodeCollector::take(std::string_view text) {
  CodeRead read = read_code(text);
  if (!read.piece) {
    return read.fault == CodeFault::foreign ? Took::foreign
           : read.fault == CodeFault::newer ? Took::newer
                                            : Took::damaged;
  }
  if (first_.pieces.empty() || first_.is_of(*read.piece)) {
    in_a_row_.clear();
    return settle(first_.add(std::move(*read.piece)));
  }
  if (!aside_.is_of(*read.piece)) in_a_row_.clear();
  const std::uint32_t nth = read.piece->nth;
  const bool fresh = aside_.add(std::move(*read.piece));
  if (std::find(in_a_row_.begin(), in_a_row_.end(), nth) == in_a_row_.end()) in_a_row_.push_back(nth);
  if (in_a_row_.size() < plainly && !aside_.complete()) return Took::aside;
  std::swap(first_, aside_);
  in_a_row_.clear();
  return settle(fresh);
}

bool CodeCollector::has(std::size_t nth) const {
  return nth >= 1 && nth <= first_.pieces.size() && !first_.pieces[nth - 1].empty();
}

std::vector<std::size_t> CodeCollector::missing() const {
  std::vector<std::size_t> all;
  for (std::size_t nth = 1; nth <= count(); ++nth) {
    if (!has(nth)) all.push_back(nth);
  }
  return all;
}

std::optional<ByteString> CodeCollector::whole() const {
  if (!first_.complete()) return std::nullopt;
  return first_.joined();
}

}  // namespace motherbulb

#include "platform/web/web_host.hpp"

#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>

#include "platform/web/page.hpp"
#include "shared/ids.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t most_at_once = 256;  // random bytes, by the standard's limit for getentropy
constexpr const char* token_name = "token";

std::string name_of(const WriterId& writer) {
  return "sequence-" + hex(writer);
}

}  // namespace

std::int64_t WebHost::now_ms() {
  const auto since = std::chrono::system_clock::now().time_since_epoch();
  return std::chrono::duration_cast<std::chrono::milliseconds>(since).count();
}

std::int32_t WebHost::offset_minutes(std::int64_t utc_ms) {
  return page::offset_minutes(utc_ms);
}

void WebHost::random(std::uint8_t* out, std::size_t count) {
  while (count > 0) {
    const std::size_t part = std::min(count, most_at_once);
    if (::getentropy(out, part) != 0) std::abort();  // without it no two writers are sure to differ
    out += part;
    count -= part;
  }
}

std::string WebHost::store_token(const std::string&) {
  std::string token = page::remembered(token_name);
  if (token.empty()) {
    std::uint8_t bits[16];
    random(bits, sizeof bits);
    page::remember(token_name, hex(bits, sizeof bits));
    // Empty where the browser remembers nothing: then it cannot tell.
    token = page::remembered(token_name);
  }
  return token;
}

std::uint64_t WebHost::highest_sequence(const WriterId& writer) {
  const std::string text = page::remembered(name_of(writer));
  return text.empty() ? 0 : std::strtoull(text.c_str(), nullptr, 10);
}

void WebHost::keep_highest_sequence(const WriterId& writer, std::uint64_t sequence) {
  waiting_.emplace_back(writer, sequence);
}

void WebHost::safe() {
  for (const auto& [writer, sequence] : waiting_) {
    if (sequence > highest_sequence(writer)) page::remember(name_of(writer), std::to_string(sequence));
  }
  waiting_.clear();
}

}  // namespace motherbulb

// What the core asks of a device, in a browser. What is kept apart from the book lies in the page's own small storage:
// a browser that loses one of the two makes a new writer, so no sequence is ever used twice.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "core/host.hpp"

namespace motherbulb {

class WebHost : public Host {
public:
  std::int64_t now_ms() override;
  std::int32_t offset_minutes(std::int64_t utc_ms) override;
  void random(std::uint8_t* out, std::size_t count) override;
  // Made once for this browser's storage, and lost with it.
  std::string store_token(const std::string& path) override;
  std::uint64_t highest_sequence(const WriterId& writer) override;
  // Written down only once the store is safe (`safe`): a browser that dies before has not used that sequence.
  void keep_highest_sequence(const WriterId& writer, std::uint64_t sequence) override;

  void safe();
  void taken_back() { waiting_.clear(); }

private:
  std::vector<std::pair<WriterId, std::uint64_t>> waiting_;
};

}  // namespace motherbulb

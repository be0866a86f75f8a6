// The store's files in a browser: they stand in memory, and the keeper (platform/web/page/keeper.js, a thread of its
// own) brings what is written to them into the browser's storage and answers when it is safe there.
#pragma once

#include <string>

#include "platform/recorded_disk.hpp"

namespace motherbulb {

class PageDisk {
public:
  explicit PageDisk(const std::string& store) : recorded_(store) {}

  enum class State { safe, on_its_way, failed };
  [[nodiscard]] State state() const {
    return failed_ ? State::failed : recorded_.all_safe() ? State::safe : State::on_its_way;
  }
  [[nodiscard]] const std::string& why() const { return why_; }
  [[nodiscard]] RecordedDisk& recorded() { return recorded_; }

  // What the keeper answered.
  void safe(std::uint64_t group) { recorded_.safe(group); }
  void failed(std::string why) {
    failed_ = true;
    why_ = std::move(why);
  }
  // No store may be open meanwhile.
  Outcome take_back() {
    failed_ = false;
    return recorded_.take_back();
  }

private:
  RecordedDisk recorded_;
  bool failed_ = false;
  std::string why_;
};

}  // namespace motherbulb

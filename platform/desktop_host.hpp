// What the core asks of a device, on a desktop.
#pragma once

#include <string>

#include "core/host.hpp"

namespace motherbulb {

class DesktopHost : public Host {
public:
  // `state_folder`: where the highest sequences are remembered; empty: nowhere.
  explicit DesktopHost(std::string state_folder = usual_state_folder());

  std::int64_t now_ms() override;
  std::int32_t offset_minutes(std::int64_t utc_ms) override;
  void random(std::uint8_t* out, std::size_t count) override;
  // A digest of the machine, the file's number on its disk and when that file came to be. Empty where there is no file.
  std::string store_token(const std::string& path) override;
  // Remembered as well as may be: a loss is met by store_token in most cases, so nothing waits for the disk.
  std::uint64_t highest_sequence(const WriterId& writer) override;
  void keep_highest_sequence(const WriterId& writer, std::uint64_t sequence) override;

  static std::string usual_state_folder();
  // Where a first book is made; empty where this machine has no place for a person's data.
  static std::string usual_data_folder();

private:
  std::string state_folder_;
};

}  // namespace motherbulb

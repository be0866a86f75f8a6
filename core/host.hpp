// All that the core asks of a device. Tests hand it a clock that moves when told.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "shared/bytes.hpp"
#include "shared/ids.hpp"

namespace motherbulb {

class Host {
public:
  virtual ~Host() = default;
  virtual std::int64_t now_ms() = 0;                              // since 1970 in UTC, by the device's clock
  virtual std::int32_t offset_minutes(std::int64_t utc_ms) = 0;   // of the device's zone at that moment
  virtual void random(std::uint8_t* out, std::size_t count) = 0;  // unguessable
  // Changes whenever a store is no longer the file on the machine where its writer was made: copied, restored, moved to
  // another disk. Empty where the device cannot tell.
  virtual std::string store_token(const std::string& path) = 0;
  // The highest sequence that this writer is known to have used on this device, kept apart from any store; 0 for none.
  // A store that stands below it has been put back from a copy, and must not go on with that writer.
  virtual std::uint64_t highest_sequence(const WriterId& writer) = 0;
  virtual void keep_highest_sequence(const WriterId& writer, std::uint64_t sequence) = 0;
};

// Long work tells how far it is, and stops when told so.
class Progress {
public:
  virtual ~Progress() = default;
  virtual bool go_on(double share_done) = 0;  // 0 to 1; false: stop, nothing is changed
};

}  // namespace motherbulb

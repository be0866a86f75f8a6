// Where bytes come from and go to, without saying whether that is a file, a page's download or memory.
#pragma once

#include <cstdint>
#include <cstring>
#include <string>
#include <vector>

#include "shared/result.hpp"

namespace motherbulb {

// Bytes that can be read in any order; their number does not change.
class ByteSource {
public:
  virtual ~ByteSource() = default;
  virtual std::uint64_t size() const = 0;
  virtual std::string name() const = 0;  // for messages: a file's name
  // Reads exactly `count` bytes from `position`, or fails.
  virtual Outcome read(std::uint64_t position, std::uint8_t* out, std::size_t count) = 0;
};

// Bytes written one after the other. Nothing is in place for others before commit() has answered: a file comes under
// its name whole and safely on the disk, or not at all.
class ByteSink {
public:
  virtual ~ByteSink() = default;
  virtual Outcome write(const std::uint8_t* bytes, std::size_t count) = 0;
  virtual Outcome commit() = 0;
};

class MemorySource : public ByteSource {
public:
  explicit MemorySource(std::vector<std::uint8_t> bytes, std::string name = "parcel")
      : bytes_(std::move(bytes)), name_(std::move(name)) {}
  std::uint64_t size() const override { return bytes_.size(); }
  std::string name() const override { return name_; }
  Outcome read(std::uint64_t position, std::uint8_t* out, std::size_t count) override {
    if (position > bytes_.size() || count > bytes_.size() - position) {
      return Error{ErrorKind::failed, name_ + " ends before it should", {}};
    }
    if (count > 0) std::memcpy(out, bytes_.data() + position, count);
    return Done{};
  }

private:
  std::vector<std::uint8_t> bytes_;
  std::string name_;
};

class MemorySink : public ByteSink {
public:
  Outcome write(const std::uint8_t* bytes, std::size_t count) override {
    bytes_.insert(bytes_.end(), bytes, bytes + count);
    return Done{};
  }
  Outcome commit() override { return Done{}; }
  const std::vector<std::uint8_t>& bytes() const { return bytes_; }

private:
  std::vector<std::uint8_t> bytes_;
};

}  // namespace motherbulb

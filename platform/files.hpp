// Files as the core's sources and sinks. What a sink writes stands under its name whole and safely on the disk, or not
// at all: it is written under a new name in the same folder, flushed to the disk, read back and compared, and only then
// renamed; the folder is flushed last. Something that is no plain file (a pipe, a terminal) is written to as it is.
#pragma once

#include <cstdint>
#include <memory>
#include <string>

#include "shared/bytes.hpp"
#include "shared/digest.hpp"

namespace motherbulb {

class FileSource : public ByteSource {
public:
  static Result<std::unique_ptr<ByteSource>> open(const std::string& path);
  ~FileSource() override;
  FileSource(const FileSource&) = delete;
  FileSource& operator=(const FileSource&) = delete;
  std::uint64_t size() const override { return size_; }
  std::string name() const override { return path_; }
  Outcome read(std::uint64_t position, std::uint8_t* out, std::size_t count) override;

private:
  FileSource(std::string path, int file, std::uint64_t size) : path_(std::move(path)), file_(file), size_(size) {}
  std::string path_;
  int file_;
  std::uint64_t size_;
};

class FileSink : public ByteSink {
public:
  // Refuses a folder, and a store: a store is never overwritten.
  static Result<std::unique_ptr<ByteSink>> create(const std::string& path);
  ~FileSink() override;  // what was not committed leaves nothing behind
  FileSink(const FileSink&) = delete;
  FileSink& operator=(const FileSink&) = delete;
  Outcome write(const std::uint8_t* bytes, std::size_t count) override;
  Outcome commit() override;

private:
  FileSink(std::string path, std::string unfinished, int file)
      : path_(std::move(path)), unfinished_(std::move(unfinished)), file_(file), digest_(32) {}
  Error failed(const char* doing);
  Outcome compare_with_disk(const Hash& written);

  std::string path_;
  std::string unfinished_;  // empty: written to as it is
  int file_;
  Digest digest_;
  std::uint64_t size_ = 0;
};

bool file_exists(const std::string& path);
// Its first bytes are those of a store (of any SQLite file).
bool looks_like_a_store(const std::string& path);
// A store that this run made and could not fill: it and what SQLite keeps beside it.
void remove_new_store(const std::string& path);

}  // namespace motherbulb

#include "platform/files.hpp"

#include <doctest/doctest.h>
#include <sys/stat.h>

#include <filesystem>
#include <fstream>
#include <sstream>

#include "tests/make.hpp"

using namespace motherbulb;

namespace {

void put(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}
std::string got(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}
Outcome write(ByteSink& sink, const std::string& text) {
  return sink.write(reinterpret_cast<const std::uint8_t*>(text.data()), text.size());
}
std::size_t files_in(const std::string& folder) {
  std::size_t count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) count += entry.exists() ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("a file comes under its name only when it is committed") {
  make::Folder folder;
  const std::string path = folder.file("out.csv");
  put(path, "yesterday");
  {
    auto sink = make::must(FileSink::create(path));
    make::must(write(*sink, "half"));
    CHECK(got(path) == "yesterday");
  }
  CHECK(got(path) == "yesterday");
  CHECK(files_in(folder.file("")) == 1);
  auto sink = make::must(FileSink::create(path));
  make::must(write(*sink, "whole "));
  make::must(write(*sink, "and today's"));
  make::must(sink->commit());
  CHECK(got(path) == "whole and today's");
  CHECK(files_in(folder.file("")) == 1);
}

TEST_CASE("a folder, a missing folder and a store are refused as places to write") {
  make::Folder folder;
  CHECK(FileSink::create(folder.file("")).error().kind == ErrorKind::refused);
  CHECK(FileSink::create(folder.file("no/such/file")).error().kind == ErrorKind::missing);
  CHECK(FileSink::create(folder.file(std::string(300, 'n'))).error().kind == ErrorKind::refused);
  const std::string store = folder.file("a.book");
  put(store, std::string("SQLite format 3\0 and more", 25));
  CHECK(looks_like_a_store(store));
  CHECK(FileSink::create(store).error().kind == ErrorKind::refused);
  std::filesystem::create_symlink(store, folder.file("link"));
  CHECK(FileSink::create(folder.file("link")).error().kind == ErrorKind::refused);
  CHECK_FALSE(looks_like_a_store(folder.file("missing")));
}

TEST_CASE("a full disk is told in words, and nothing stays behind") {
  const auto sink = make::must(FileSink::create("/dev/full"));
  const auto outcome = write(*sink, "anything");
  REQUIRE_FALSE(outcome);
  CHECK(outcome.error().kind == ErrorKind::failed);
  CHECK(outcome.error().what.find("the disk is full") != std::string::npos);
}

TEST_CASE("a link stays a link, and a file keeps its permissions") {
  make::Folder folder;
  put(folder.file("real"), "old");
  std::filesystem::permissions(folder.file("real"), std::filesystem::perms(0640));
  std::filesystem::create_symlink("real", folder.file("link"));
  auto sink = make::must(FileSink::create(folder.file("link")));
  make::must(write(*sink, "new"));
  make::must(sink->commit());
  CHECK(std::filesystem::is_symlink(folder.file("link")));
  CHECK(got(folder.file("real")) == "new");
  CHECK(std::filesystem::status(folder.file("real")).permissions() == std::filesystem::perms(0640));
}

TEST_CASE("a file is read from any position, and never past its end") {
  make::Folder folder;
  put(folder.file("in"), "0123456789");
  const auto source = make::must(FileSource::open(folder.file("in")));
  CHECK(source->size() == 10);
  CHECK(source->name() == folder.file("in"));
  std::uint8_t bytes[4] = {};
  make::must(source->read(6, bytes, 4));
  CHECK(std::string(bytes, bytes + 4) == "6789");
  CHECK_FALSE(source->read(8, bytes, 4));
  CHECK(FileSource::open(folder.file("none")).error().kind == ErrorKind::missing);
  CHECK(FileSource::open(folder.file("")).error().kind == ErrorKind::missing);
}

TEST_CASE("what a pipe gives is read whole") {
  make::Folder folder;
  REQUIRE(::mkfifo(folder.file("pipe").c_str(), 0600) == 0);
  const std::string writing = "printf 'through a pipe' > '" + folder.file("pipe") + "' &";
  REQUIRE(std::system(writing.c_str()) == 0);
  const auto source = make::must(FileSource::open(folder.file("pipe")));
  CHECK(source->size() == 14);
}

TEST_CASE("a store that could not be filled leaves nothing behind") {
  make::Folder folder;
  for (const char* end : {"", "-wal", "-shm"}) put(folder.file("a.book") + end, "x");
  put(folder.file("other"), "x");
  remove_new_store(folder.file("a.book"));
  CHECK(files_in(folder.file("")) == 1);
  CHECK(file_exists(folder.file("other")));
}

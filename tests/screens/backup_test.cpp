// A backup dropped on the window is taken in like a parcel: whole or not at all, with nothing put over, and the
// backup's own file stays as it was.

#include <cstdlib>
#include <fstream>
#include <iterator>

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

std::string all_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

void write(const std::string& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}

// A day's work, its backup, and an empty book on another device.
struct Loss {
  make::Folder folder;
  FakeHost host{1}, other_host{2};
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  std::unique_ptr<Logbook> fresh = make::new_book(folder.file("fresh.book"), other_host, "B");
  std::string backup = folder.file("backup-bench.book");

  Loss() {
    make::tap(*book, BatchId{}, 0, DeviceNamed{"potting bench", "A"});
    make::write_small_day(*book, host);
    make::must(book->backup(backup));
    other_host.set_now(host.now_ms());
  }
};

}  // namespace

TEST_CASE("a backup dropped on an empty book waits like a parcel and comes in whole") {
  for (const drive::Size& size : drive::sizes) {
    Loss loss;
    CAPTURE(size.text());
    drive::Driver driver(*loss.fresh, loss.other_host, drive::wish_of(size));
    const std::string bytes = all_of(loss.backup);
    driver.drop(loss.backup);
    REQUIRE(driver.ui().screen == Screen::merge);
    REQUIRE_FALSE(driver.ui().trouble);
    REQUIRE(driver.ui().merge.waiting.size() == 1);
    CHECK(driver.ui().merge.waiting.front().fresh == loss.book->entry_count());
    CHECK(loss.fresh->entry_count() == 0);
    drive::check_scene(driver, "backup-waits-" + size.text() + "-day");
    driver.tap("merge");
    CHECK(loss.fresh->digest() == loss.book->digest());
    CHECK(driver.ui().merge.backups.empty());
    CHECK(driver.ui().merge.waiting.empty());
    CHECK((all_of(loss.backup) == bytes));
    // What is tapped now goes on under this device's own writer.
    make::tap(*loss.fresh, BatchId{}, 0, Note{"after the loss"});
    make::merge(*loss.book, make::parcel(*loss.fresh));
    CHECK(loss.book->entry_count() == loss.fresh->entry_count());
    CHECK(loss.book->digest() == loss.fresh->digest());
    driver.drop(loss.backup);
    REQUIRE(driver.ui().merge.waiting.size() == 1);
    CHECK(driver.ui().merge.waiting.front().fresh == 0);
  }
}

TEST_CASE("a damaged backup, or a file that only begins like one, is refused in words and changes nothing") {
  Loss loss;
  drive::Driver driver(*loss.fresh, loss.other_host, {360, 800});
  std::string bytes = all_of(loss.backup);
  for (std::size_t at = 4096; at < bytes.size(); at += 512) bytes[at] = static_cast<char>(~bytes[at]);
  write(loss.folder.file("bad.book"), bytes);
  write(loss.folder.file("other.db"), bytes.substr(0, 16) + std::string(9000, 'x'));
  for (const char* name : {"bad.book", "other.db"}) {
    driver.drop(loss.folder.file(name));
    REQUIRE(driver.ui().trouble);
    CHECK(driver.ui().trouble->title == std::string(name) + " cannot be read");
    CAPTURE(driver.ui().trouble->words);
    CHECK(driver.ui().trouble->words.find(std::string(name).substr(1)) == 1);  // begins with it, as a sentence
    for (const std::string& inner : {loss.folder.file(""), std::string("file:"), std::string("immutable")})
      CHECK(driver.ui().trouble->words.find(inner) == std::string::npos);
    CHECK(driver.ui().merge.waiting.empty());
    CHECK(loss.fresh->entry_count() == 0);
    drive::check_scene(driver, std::string("backup-refused-") + name + "-phone-day");
    driver.tap("error:aside");
  }
}

TEST_CASE("the file of the open book is not even looked into, and keeps its lock") {
  Loss loss;
  drive::Driver driver(*loss.book, loss.host);
  const char* binary = std::getenv("MOTHERBULB_BINARY");
  REQUIRE(binary != nullptr);
  const std::string open_elsewhere =
      std::string(binary) + " check " + loss.folder.file("house.book") + " > /dev/null 2>&1";
  REQUIRE(std::system(open_elsewhere.c_str()) != 0);
  driver.drop(loss.folder.file("house.book"));
  REQUIRE(driver.ui().trouble);
  CHECK(driver.ui().trouble->title == "house.book: nothing was taken in");
  CHECK(driver.ui().trouble->words.find("the book that is open here") != std::string::npos);
  CHECK(std::system(open_elsewhere.c_str()) != 0);
}

}  // namespace motherbulb

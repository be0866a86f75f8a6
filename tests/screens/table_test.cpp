// A grower's table, dropped on the window: in, out again, and refused with each fault named.

#include <fstream>

#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

constexpr const char* head = "when,helper,event,clone,genus,batch,pot,method,sections,grade,count,cause\n";
constexpr const char* rows =
    "2026-09-01T09:00+02:00,Ines,begun,Sleet Lantern,Hippeastrum,S1,,chipping,8,24-26,1,\n"
    "2026-09-01T09:10+02:00,Ines,potted,,,S1,1,,,,8,\n"
    "2026-09-20T10:00+02:00,Bo,lost,,,S1,1,,,,2,rot\n";

void write(const std::string& path, const std::string& text) {
  std::ofstream out(path, std::ios::binary);
  out << text;
  REQUIRE(out.flush().good());
}

}  // namespace

TEST_CASE("a table is taken in by one tap, is known when it comes again, and goes out again as it came") {
  for (const bool night : {false, true}) {
    for (const drive::Size& size : drive::sizes) {
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      drive::Demo demo;
      drive::Driver driver(*demo.book, demo.host, drive::wish_of(size, night));
      const std::string before = demo.book->digest();
      const std::int64_t entries = demo.book->entry_count();
      write(demo.folder.file("september.csv"), std::string(head) + rows);
      driver.drop(demo.folder.file("september.csv"));
      CHECK(driver.ui().screen == Screen::merge);
      CHECK(demo.book->digest() == before);  // nothing comes in unasked
      drive::check_scene(driver, "table-waits" + end);
      driver.tap("table");
      REQUIRE(driver.ui().kept);
      CHECK(driver.ui().kept->words == "3 rows new, 0 known already");
      CHECK(demo.book->entry_count() == entries + 3);
      drive::check_scene(driver, "table-taken" + end);
      driver.tap("table");
      CHECK(driver.ui().kept->words == "3 rows taken back");
      for (const auto& pot : demo.book->pots(true)) CHECK(pot.batch.clone != "Sleet Lantern");
      driver.tap("table");
      CHECK(driver.ui().kept->words == "3 rows new, 0 known already");
      // Whoever leaves has done with it.
      driver.tap("bar:pots");
      driver.tap("bar:merge");
      CHECK_FALSE(driver.has("table"));
    }
  }
}

TEST_CASE("a longer version brings what is new, and what others brought is not taken back with it") {
  drive::Demo demo;
  drive::Driver driver(*demo.book, demo.host, drive::wish_of({1280, 800}));
  write(demo.folder.file("september.csv"), std::string(head) + rows);
  // A name that says nothing: it is known by its first line.
  write(demo.folder.file("october"), std::string(head) + rows + "2026-10-02T10:00+02:00,Bo,watered,,,S1,1,,,,,\n");
  driver.drop(demo.folder.file("september.csv"));
  driver.drop(demo.folder.file("october"));
  driver.tap("table");
  CHECK(driver.ui().kept->words == "3 rows new, 0 known already");
  driver.tap("table");  // the next that waits
  CHECK(driver.ui().kept->words == "1 row new, 3 known already");
  const std::string with = demo.book->digest();
  // The first may still go; the longer one may not, for the most of it was there before.
  REQUIRE(driver.ui().merge.tables.size() == 1);
  CHECK(driver.ui().merge.tables.front().file.name == "september.csv");
  driver.drop(demo.folder.file("october"));
  driver.tap("table");
  CHECK(driver.ui().kept->words == "0 rows new, 4 known already");
  CHECK_FALSE(driver.has("table"));
  CHECK(demo.book->digest() == with);
}

TEST_CASE("a table with faults is refused whole, and the first is named by line and column") {
  for (const drive::Size& size : drive::sizes) {
    drive::Demo demo;
    drive::Driver driver(*demo.book, demo.host, drive::wish_of(size));
    const std::string before = demo.book->digest();
    write(demo.folder.file("spoilt.CSV"), std::string(head) + rows +
                                              "2026-09-21T10:00+02:00,Bo,lost,,,S1,1,,,,many,rot\n"
                                              "2026-09-21T10:05+02:00,Bo,flew,,,S1,1,,,,,\n"
                                              "2026-09-21T10:06+02:00,Bo,lost,,,S1,1,,,,some,rot\n"
                                              "2026-09-21T10:07+02:00,Bo,lost,,,S1,1,,,,few,rot\n"
                                              "2026-09-21T10:08+02:00,Bo,lost,,,S1,1,,,,none,rot\n");
    driver.drop(demo.folder.file("spoilt.CSV"));
    driver.tap("table");
    REQUIRE(driver.ui().trouble);
    CHECK(driver.ui().trouble->title == "spoilt.CSV: nothing was taken in");
    const std::string& words = driver.ui().trouble->words;
    CAPTURE(words);
    CHECK(words.find("many") != std::string::npos);
    CHECK(words.find("Line 5, column count") == 0);
    CHECK(words.find("And 4 more") != std::string::npos);
    CHECK(words.find(demo.folder.file("")) == std::string::npos);
    CHECK(demo.book->digest() == before);
    drive::check_scene(driver, "table-refused-" + size.text() + "-day");
    driver.tap("error:aside");
    CHECK(driver.has("table"));  // mended, it can be tried again
  }
}

}  // namespace motherbulb

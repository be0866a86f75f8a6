// What the window remembers, and the parcels it finds, on a real disk.

#include "platform/remembered.hpp"

#include <fstream>

#include "platform/desktop/nearby.hpp"
#include "tests/screens/drive.hpp"

namespace motherbulb {

TEST_CASE("book, helper and theme come back as they were left, names in any script among them") {
  make::Folder folder;
  const Remembered left{"some house/the book.book", "Žofie d’Arc", true};
  save_remembered(folder.file("state"), left);
  CHECK(load_remembered(folder.file("state")) == left);
}

TEST_CASE("every setting of the device comes back, each by itself") {
  make::Folder folder;
  Remembered left;
  left.store = folder.file("a.book");
  for (int i = 0; i < 5; ++i) {
    CAPTURE(i);
    left.night = i == 0;
    left.left_hand = i == 1;
    left.less_motion = i == 2;
    left.south = i == 3;
    left.text_percent = i == 4 ? 175 : 100;
    save_remembered(folder.file("state"), left);
    CHECK(load_remembered(folder.file("state")) == left);
  }
}

TEST_CASE("what is tapped in the settings reaches what is remembered, and a window opened from it has it") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("house.book"), host);
  make::write_small_day(*book, host);
  Remembered remembered;
  {
    drive::Driver driver(*book, host, {1440, 900});
    driver.tap("link:settings");
    for (const char* tap : {"house:south", "theme:night", "hand:left", "text:150"}) driver.tap(tap);
    const Settings& now = driver.ui().settings;
    remembered = {book->path(),    driver.ui().helper, now.night,       now.left_hand,
                  now.less_motion, now.south,          now.text_percent};
    save_remembered(folder.file("state"), remembered);
  }
  const Remembered found = load_remembered(folder.file("state"));
  CHECK(found == remembered);
  drive::Driver again(*book, host,
                      {1440, 900, found.night, found.helper, found.less_motion, found.left_hand, found.text_percent});
  CHECK(again.ui().settings.night);
  CHECK(again.ui().settings.left_hand);
  CHECK(again.ui().settings.text_percent == 150);
  CHECK(again.app->fonts().scale() == doctest::Approx(1.5));
}

TEST_CASE("a file that is missing, of a later version or no text remembers nothing wrong") {
  make::Folder folder;
  CHECK(load_remembered(folder.file("none")) == Remembered{});
  CHECK(load_remembered("") == Remembered{});
  std::ofstream(folder.file("window"), std::ios::binary) << "zoom 3\nhelper Runa\n\x01\xff\ntheme dusk\n";
  const Remembered found = load_remembered(folder.file(""));
  CHECK(found.helper == "Runa");
  CHECK_FALSE(found.night);
  CHECK(found.store.empty());
}

TEST_CASE("a name with a line break cannot smuggle a line into what is remembered") {
  make::Folder folder;
  save_remembered(folder.file("state"), {"my.book", "Runa\nbook other.book", false});
  CHECK(load_remembered(folder.file("state")).store == "my.book");
  CHECK(load_remembered(folder.file("state")).helper.empty());
}

TEST_CASE("parcels are found beside the book by their name, sorted, and nothing else is") {
  make::Folder folder;
  for (const char* name : {"b.parcel", "a.parcel", "notes.txt", "house.book"}) std::ofstream(folder.file(name)) << name;
  std::filesystem::create_directories(folder.file("deeper"));
  std::ofstream(folder.file("deeper/c.parcel")) << "c";
  std::filesystem::create_directories(folder.file("folder.parcel"));
  const std::vector<FoundFile> found = NearbyFiles::parcels_near(folder.file("house.book"));
  REQUIRE(found.size() == 2);
  CHECK(found[0].name == "a.parcel");
  CHECK(found[0].size == 8);
  CHECK(found[1].name == "b.parcel");
  CHECK_FALSE(NearbyFiles::look_at(folder.file("none.parcel")).ok());
  CHECK_FALSE(NearbyFiles::look_at(folder.file("deeper")).ok());
}

}  // namespace motherbulb

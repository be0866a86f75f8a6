// What the window remembers, and the parcels it finds, on a real disk.

#include "platform/desktop/remembered.hpp"

#include <fstream>

#include "platform/desktop/nearby.hpp"
#include "tests/make.hpp"

namespace motherbulb {

TEST_CASE("book, helper and theme come back as they were left, names in any script among them") {
  make::Folder folder;
  const Remembered left{"some house/the book.book", "Žofie d’Arc", true};
  save_remembered(folder.file("state"), left);
  CHECK(load_remembered(folder.file("state")) == left);
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
  const std::vector<NearbyFile> found = NearbyFiles::parcels_near(folder.file("house.book"));
  REQUIRE(found.size() == 2);
  CHECK(found[0].name == "a.parcel");
  CHECK(found[0].size == 8);
  CHECK(found[1].name == "b.parcel");
  CHECK_FALSE(NearbyFiles::look_at(folder.file("none.parcel")).ok());
  CHECK_FALSE(NearbyFiles::look_at(folder.file("deeper")).ok());
}

}  // namespace motherbulb

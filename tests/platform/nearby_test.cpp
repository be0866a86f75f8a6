// Places for new parcels and backups, on a real disk.

#include "platform/desktop/nearby.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "platform/desktop_host.hpp"
#include "tests/make.hpp"

using namespace motherbulb;

namespace {

// An environment variable for the length of a test.
class Environment {
public:
  Environment(const char* name, const std::string& value) : name_(name) {
    if (const char* old = std::getenv(name)) old_ = old;
    ::setenv(name, value.c_str(), 1);
  }
  ~Environment() { old_ ? ::setenv(name_, old_->c_str(), 1) : ::unsetenv(name_); }
  Environment(const Environment&) = delete;
  Environment& operator=(const Environment&) = delete;

private:
  const char* name_;
  std::optional<std::string> old_;
};

}  // namespace

TEST_CASE("the book's folder comes first, then each stick by its name") {
  make::Folder folder, sticks;
  const Environment given("MOTHERBULB_STICKS", sticks.file(""));
  std::filesystem::create_directories(sticks.file("runa/BULBS"));
  std::filesystem::create_directories(sticks.file("bo/OLD"));
  std::ofstream(sticks.file("bo/no folder")) << "x";
  const std::vector<FoundPlace> places = NearbyFiles::places_to_write(folder.file("house.book"));
  REQUIRE(places.size() == 3);
  CHECK(std::filesystem::path(places[0].folder) == std::filesystem::path(folder.file("house.book")).parent_path());
  CHECK_FALSE(places[0].stick);
  CHECK(places[1].name == "OLD");
  CHECK(places[1].stick);
  CHECK(places[2].folder == sticks.file("runa/BULBS"));
}

TEST_CASE("a folder that was left where sticks are mounted is no stick: nothing is mounted on it") {
  // What the machine itself has mounted is its own affair; whatever is named must lie on another disk than its parent.
  for (const FoundPlace& place : NearbyFiles::places_to_write("house.book")) {
    CAPTURE(place.folder);
    CHECK(std::filesystem::is_directory(place.folder));
    if (!place.stick) CHECK(std::filesystem::path(place.folder).is_absolute());
  }
}

TEST_CASE("what is written to a place stands there once committed, and is seen there") {
  make::Folder folder;
  const std::string path = folder.file("a.parcel");
  CHECK_FALSE(NearbyFiles::is_there(path));
  {
    auto sink = make::must(NearbyFiles::write(path));
    make::must(sink->write(reinterpret_cast<const std::uint8_t*>("abc"), 3));
    CHECK_FALSE(NearbyFiles::is_there(path));
    make::must(sink->commit());
  }
  CHECK(NearbyFiles::is_there(path));
  CHECK_FALSE(NearbyFiles::write(folder.file("none/a.parcel")).ok());
}

TEST_CASE("a first book has its place among a person's data, or none") {
  {
    const Environment data("XDG_DATA_HOME", "/some/data");
    CHECK(DesktopHost::usual_data_folder() == "/some/data/motherbulb");
  }
  const Environment relative("XDG_DATA_HOME", "not absolute");
  {
    const Environment home("HOME", "/some/one");
    CHECK(DesktopHost::usual_data_folder() == "/some/one/.local/share/motherbulb");
  }
  const Environment nobody("HOME", "");
  CHECK(DesktopHost::usual_data_folder().empty());
}

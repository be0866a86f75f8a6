// A tablet lasts the day: frames are drawn when something happens, and never otherwise.

#include "tests/screens/drive.hpp"

namespace motherbulb {

TEST_CASE("while nothing happens, nothing is drawn") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("house.book"), host);
  make::write_small_day(*book, host);
  drive::Driver driver(*book, host);
  driver.tap("bar:unpot");
  const long before = driver.frames();
  driver.wait(1500);
  CHECK(driver.frames() == before);
}

TEST_CASE("an event brings three frames") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("house.book"), host);
  make::write_small_day(*book, host);
  drive::Driver driver(*book, host);
  driver.tap("bar:pots");
  const long before = driver.frames();
  driver.key(SDLK_DOWN);
  CHECK(driver.frames() == before + 3);
}

TEST_CASE("the window's shape may change while it is open") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("house.book"), host);
  make::write_small_day(*book, host);
  drive::Driver driver(*book, host);
  CHECK(driver.target("bar:start").rect.x < 20);
  driver.resize(800, 1200);
  CHECK(driver.target("bar:start").rect.y > 1000);
  driver.resize(400, 800);
  CHECK(driver.target("bar:merge").rect.right() <= 400);
  driver.tap("bar:merge");
  CHECK(driver.ui().screen == Screen::merge);
}

TEST_CASE("a long list is scrolled by finger and wheel, and no row is tapped by it") {
  make::Folder folder;
  FakeHost host;
  auto book = make::new_book(folder.file("house.book"), host);
  for (int i = 0; i < 30; ++i) {
    const BatchId chips = make::begin_batch(*book, "Tirna Red", 1, 8);
    make::tap(*book, chips, 1, make::pieces_potted(8));
  }
  drive::Driver driver(*book, host, {360, 740});
  driver.tap("bar:unpot");
  const std::vector<std::string> before = driver.names();
  driver.drag({180, 600}, {180, 260}, 8, 10);
  driver.settle();
  CHECK(driver.ui().screen == Screen::unpot_choose);
  CHECK(driver.names() != before);
  driver.wheel({180, 500}, 400);
  CHECK(driver.names() == before);
}

}  // namespace motherbulb

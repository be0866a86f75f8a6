// What the screens show on a device that has no folders and no command line, and may take back the room in which it
// keeps the book: as the page does.

#include <fstream>
#include <iterator>

#include "app/spoken.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

struct Page {
  DeviceStorage storage{true, true, 0, 0};
  std::vector<std::string> handed_over;
  int picked = 0, demos = 0, set_aside = 0;

  drive::Wish wish(drive::Wish wish) {
    wish.around = [this](Surroundings& around) {
      drive::be_a_page(around);
      around.storage = [this] { return storage; };
      around.hand_over = [this](const std::string& path) { handed_over.push_back(path); };
      around.pick_files = [this] { ++picked; };
      around.open_demo = [this] { ++demos; };
      around.set_aside = [this] { ++set_aside; };
    };
    return wish;
  }
};

}  // namespace

TEST_CASE("what may be lost with the device is said at the start, with the one act that mends it") {
  for (const bool night : {false, true}) {
    for (const drive::Size& size : drive::sizes) {
      drive::Demo demo;
      Page page;
      page.storage.lasting = false;
      drive::Driver driver(*demo.book, demo.host, page.wish(drive::wish_of(size, night)));
      make::begin_batch(*demo.book, "Tirna Red", 1, 8);
      driver.session->ask_for_frame();
      driver.settle();
      CHECK(driver.ui().at_risk == StorageRisk::may_be_cleared);
      drive::check_scene(driver, "page-risk-" + size.text() + (night ? "-night" : "-day"));
      driver.tap("risk:hand out");
      CHECK(driver.ui().screen == Screen::parcels);
      driver.tap("hand out");
      REQUIRE(page.handed_over.size() == 1);
      drive::check_scene(driver, "page-handed-out-" + size.text() + (night ? "-night" : "-day"));
      driver.tap("bar:start");
      CHECK(driver.ui().at_risk == StorageRisk::none);
      CHECK_FALSE(driver.has("risk:hand out"));
      // What is written after it is at risk again; from the next day on, whatever the device promises.
      make::begin_batch(*demo.book, "Tirna Red", 1, 8);
      page.storage.lasting = true;
      driver.session->ask_for_frame();
      driver.settle();
      CHECK(driver.ui().at_risk == StorageRisk::none);
      demo.host.advance_days(1);
      driver.session->ask_for_frame();
      driver.settle();
      CHECK(driver.ui().at_risk == StorageRisk::only_here);
      page.storage.used = 95;
      page.storage.allowed = 100;
      driver.session->ask_for_frame();
      driver.settle();
      CHECK(driver.ui().at_risk == StorageRisk::full);
    }
  }
}

TEST_CASE("a book that is not sound can be set aside there, and only such a one") {
  for (const bool night : {false, true}) {
    for (const drive::Size& size : drive::sizes) {
      CAPTURE(size.text());
      drive::Demo demo;
      Page page;
      const auto check = [&](bool sound) {
        drive::Driver driver(*demo.book, demo.host, page.wish(drive::wish_of(size, night)));
        drive::find_and_tap(driver, "link:parcels");
        drive::find_and_tap(driver, "check");
        REQUIRE(driver.ui().house.checked);
        CHECK(driver.ui().house.checked->chains_ok == sound);
        if (sound) {
          for (int i = 0; i < 20; ++i) drive::wheel(driver, -3, 0.8F);
          CHECK_FALSE(driver.has("set aside"));
          return;
        }
        for (int i = 0; i < 40 && !(driver.has("set aside") && driver.target("set aside").whole); ++i)
          drive::wheel(driver, -2, 0.8F);
        drive::check_scene(driver, "page-unsound-" + size.text() + (night ? "-night" : "-day"));
        driver.tap("set aside");
        CHECK(page.set_aside == 1);
      };
      check(true);
      // One letter of an entry is another from now on.
      const std::string path = demo.book->path();
      demo.book.reset();
      std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
      const std::string bytes{std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
      const std::size_t at = bytes.find("back inside, mesh over it");
      REQUIRE(at != std::string::npos);
      file.seekp(static_cast<std::streamoff>(at));
      file.put('B');
      file.close();
      demo.book = make::open_book(path, demo.host);
      check(false);
    }
  }
}

TEST_CASE("with a table waiting and other ways in, the helpers' labels still stand clear of the book") {
  for (const drive::Size& size : drive::sizes) {
    CAPTURE(size.text());
    drive::Demo demo;
    Page page;
    drive::Driver driver(*demo.book, demo.host, page.wish(drive::wish_of(size)));
    std::ofstream(demo.folder.file("one.csv")) << "when,helper,event\n";
    driver.drop(demo.folder.file("one.csv"));
    REQUIRE(driver.has("table"));
    drive::check_scene(driver, "page-table-waits-" + size.text() + "-day");
    const auto written = [&](const std::string& beginning) {
      for (const Fonts::Written& one : driver.app->fonts().written()) {
        if (one.words.rfind(beginning, 0) == 0) return one.box;
      }
      FAIL("nothing begins with " << beginning);
      return Rect{};
    };
    // Of the last label's lines, the book lies below what is left of the label, a strand's length apart.
    CHECK(written("This book").y - written("3,115 in this book").bottom() > 40);
  }
}

TEST_CASE("while the disk takes its time a sign stands where the slip will, in every size and theme") {
  for (const bool night : {false, true}) {
    for (const drive::Size& size : drive::sizes) {
      drive::Demo demo;
      bool quick = true;
      drive::Wish wish = drive::wish_of(size, night);
      wish.around = [&](Surroundings& around) {
        around.safety = [&] { return Safety{quick ? Safety::State::safe : Safety::State::on_its_way, ""}; };
      };
      drive::Driver driver(*demo.book, demo.host, wish);
      driver.tap("bar:unpot");
      driver.tap(drive::first_named(driver, "batch:"));
      driver.tap("pad:3");
      quick = false;
      driver.tap("keep");
      driver.wait(600);
      REQUIRE(driver.ui().keeping);
      drive::check_scene(driver, "page-keeping-" + size.text() + (night ? "-night" : "-day"));
      quick = true;
      driver.wait(20);
      driver.settle();
      CHECK_FALSE(driver.ui().keeping);
      CHECK(driver.ui().kept);
    }
  }
}

TEST_CASE("parcels are chosen where there are no folders to look through") {
  for (const drive::Size& size : drive::sizes) {
    drive::Demo demo;
    Page page;
    drive::Driver driver(*demo.book, demo.host, page.wish(drive::wish_of(size)));
    driver.tap("bar:merge");
    drive::check_scene(driver, "page-merge-" + size.text() + "-day");
    driver.tap("choose file");
    CHECK(page.picked == 1);
  }
}

TEST_CASE("an empty book on a device without commands leads to the demo by a key") {
  for (const drive::Size& size : drive::sizes) {
    make::Folder folder;
    FakeHost host;
    auto book = make::new_book(folder.file("house.book"), host);
    Page page;
    drive::Driver driver(*book, host, page.wish(drive::wish_of(size)));
    drive::check_scene(driver, "page-empty-" + size.text() + "-day", true);
    if (size.width < 800) continue;  // on a phone it lies below the fold
    driver.tap("first:demo");
    CHECK(page.demos == 1);
  }
}

TEST_CASE("all that is drawn is told in words, in the order in which it is read") {
  drive::Demo demo;
  drive::Driver driver(*demo.book, demo.host, drive::wish_of({1280, 800}));
  driver.app->fonts().keep_log(true);
  driver.tap("bar:start");
  const auto told = spoken(driver.app->touch(), driver.app->fonts(), day_theme());
  const auto named = [&](const std::string& name) {
    return std::find_if(told.begin(), told.end(), [&](const Spoken& one) { return one.name == name; });
  };
  // Every control once, with words.
  for (const Target& target : driver.app->touch().targets()) {
    CAPTURE(target.name);
    REQUIRE(named(target.name) != told.end());
    CHECK_FALSE(named(target.name)->words.empty());
    CHECK(std::count_if(told.begin(), told.end(), [&](const Spoken& one) { return one.name == target.name; }) == 1);
  }
  CHECK(named("quarter:unpot")->words.find("Unpot & count") != std::string::npos);
  CHECK(named("quarter:unpot")->kind == Spoken::Kind::control);
  CHECK(named("who") < named("quarter:unpot"));
  CHECK(named("quarter:unpot") < named("quarter:merge"));
  CHECK(named("quarter:merge") < named("bar:start"));
}

TEST_CASE("a control is pressed and a field written into by name") {
  drive::Demo demo;
  drive::Driver driver(*demo.book, demo.host, drive::wish_of({1280, 800}));
  const auto press = [&](const char* name) {
    driver.app->touch().press_by_name(name);
    driver.session->ask_for_frame();
    driver.settle();
  };
  press("who");
  REQUIRE(driver.ui().screen == Screen::who);
  press("who:other");
  REQUIRE(driver.app->touch().fields().size() == 1);
  const std::string field = driver.app->touch().fields().front().name;
  driver.app->touch().write_by_name(field, "Åsa\nØrsted");
  driver.session->ask_for_frame();
  driver.settle();
  REQUIRE(driver.app->touch().fields().size() == 1);
  CHECK(driver.app->touch().fields().front().value == "ÅsaØrsted");
  // What is not there is passed over.
  press("no such key");
  CHECK(driver.ui().screen == Screen::who);
}

}  // namespace motherbulb

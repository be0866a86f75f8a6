// Parcels & backup in the real window: what is written stands whole on the disk and is what it should be, and what
// cannot be written is told in words.

#include <fstream>

#include "app/words/house.hpp"
#include "platform/files.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

void reach(drive::Driver& driver, const std::string& name) {
  const float w = static_cast<float>(driver.window->width_px());
  const float h = static_cast<float>(driver.window->height_px());
  for (int i = 0; i < 40 && !(driver.has(name) && driver.target(name).whole); ++i) driver.wheel({w / 2, h / 2}, -2);
  driver.tap(name);
}

void open_parcels(drive::Driver& driver) {
  reach(driver, "link:parcels");
  REQUIRE(driver.ui().screen == Screen::parcels);
}

std::vector<std::string> files_in(const std::string& folder) {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(std::filesystem::path(folder)))
    names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

std::int64_t with_ending(const std::string& folder, const std::string& ending) {
  const auto names = files_in(folder);
  return std::count_if(names.begin(), names.end(), [&](const std::string& name) {
    return name.size() >= ending.size() && name.compare(name.size() - ending.size(), ending.size(), ending) == 0;
  });
}

MergeReport merge_file(Logbook& into, const std::string& path) {
  auto source = make::must(FileSource::open(path));
  return make::must(into.merge({source.get()}));
}

// A book of three days' work, sticks to plug in, and the environment that shows them to the program.
struct House {
  make::Folder folder, sticks, elsewhere;
  FakeHost host{1}, other_host{2};
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  std::unique_ptr<Logbook> other = make::new_book(elsewhere.file("other.book"), other_host, "B");

  House() {
    setenv("MOTHERBULB_STICKS", sticks.file("").c_str(), 1);
    make::tap(*book, BatchId{}, 0, DeviceNamed{"potting bench", "A"});
    make::write_small_day(*book, host);
  }
  ~House() { unsetenv("MOTHERBULB_STICKS"); }
  House(const House&) = delete;
  House& operator=(const House&) = delete;
  // Clocks that agree, so that merging has nothing to say of them.
  void other_clock_is_the_same() { other_host.advance_minutes((host.now_ms() - other_host.now_ms()) / 60'000); }
  std::string plug_in() {
    std::filesystem::create_directories(sticks.file("runa/BULBS"));
    return sticks.file("runa/BULBS");
  }
};

}  // namespace

TEST_CASE("everything is handed out beside the book, and another book that takes it in is the same") {
  House house;
  drive::Driver driver(*house.book, house.host);
  open_parcels(driver);
  driver.tap("hand out");
  REQUIRE_FALSE(driver.ui().trouble.has_value());
  REQUIRE(driver.ui().house.handed_out.has_value());
  const std::string file = driver.ui().house.handed_out->file;
  const Day today = local_day(moment(house.host.now_ms(), house.host.offset_minutes(house.host.now_ms())));
  CHECK(file == "runa-potting-bench-" + to_text(today) + ".parcel");
  CHECK(driver.ui().house.handed_out->entries == house.book->entry_count());
  house.other_clock_is_the_same();
  const MergeReport report = merge_file(*house.other, house.folder.file(file));
  CHECK(report.new_entries == house.book->entry_count());
  CHECK(house.other->digest() == house.book->digest());

  // A second one of the day has a name of its own; the first stays what it is.
  const auto before = std::filesystem::file_size(house.folder.file(file));
  driver.tap("hand out");
  CHECK(driver.ui().house.handed_out->file != file);
  CHECK(with_ending(house.folder.file(""), ".parcel") == 2);
  CHECK(std::filesystem::file_size(house.folder.file(file)) == before);
}

TEST_CASE("a device whose parcel lies here is sent only what it lacks, onto a stick that is plugged in meanwhile") {
  House house;
  house.other_clock_is_the_same();
  make::merge(*house.other, make::parcel(*house.book));
  make::tap(*house.other, BatchId{}, 0, DeviceNamed{"her phone", "B"}, "Marit");
  {
    auto sink = make::must(FileSink::create(house.folder.file("marit.parcel")));
    make::must(house.other->write_parcel(*sink, nullptr));
    make::must(sink->commit());
  }
  drive::Driver driver(*house.book, house.host, {800, 1280});
  driver.tap("bar:merge");
  driver.tap("merge");
  driver.tap("bar:start");
  house.host.advance_minutes(5);
  const BatchId chips = house.book->batches().front().id;
  make::tap(*house.book, chips, 1, Watered{}, "Runa");
  driver.session->ask_for_frame();
  driver.settle();
  open_parcels(driver);
  const std::string device = hex(house.other->devices().front().self ? house.other->devices().front().writer
                                                                     : house.other->devices().back().writer);
  const std::string stick = house.plug_in();
  driver.wait(3500);
  reach(driver, "parcel:" + device);
  driver.wheel({400, 600}, 100);
  reach(driver, "place:" + stick);
  reach(driver, "hand out");
  REQUIRE_FALSE(driver.ui().trouble.has_value());
  REQUIRE(driver.ui().house.handed_out.has_value());
  CHECK(driver.ui().house.handed_out->entries == 1);
  CHECK(driver.ui().house.handed_out->place.stick);
  CHECK(with_ending(stick, ".parcel") == 1);
  house.other_clock_is_the_same();
  const MergeReport report = merge_file(*house.other, stick + "/" + driver.ui().house.handed_out->file);
  CHECK(report.new_entries == 1);
  CHECK(report.known == 0);
  CHECK(house.other->digest() == house.book->digest());
}

TEST_CASE("a backup opens, is sound, and is the same book; a second one never overwrites the first") {
  House house;
  drive::Driver driver(*house.book, house.host);
  open_parcels(driver);
  driver.tap("back up");
  REQUIRE_FALSE(driver.ui().trouble.has_value());
  REQUIRE(driver.ui().house.backed_up.has_value());
  driver.tap("back up");
  CHECK(with_ending(house.folder.file(""), ".book") == 3);
  OpenWish look;
  look.read_only = true;
  auto copy = make::must(Logbook::open(house.folder.file(driver.ui().house.backed_up->file), look, house.other_host));
  CHECK(copy->digest() == house.book->digest());
  const CheckReport report = make::must(copy->check());
  CHECK(report.chains_ok);
  CHECK(report.folded_equal);
  CHECK(report.faults.empty());
}

TEST_CASE("every fact goes out as a table, and comes back as known") {
  House house;
  drive::Driver driver(*house.book, house.host);
  open_parcels(driver);
  drive::find_and_tap(driver, "write table");
  REQUIRE_FALSE(driver.ui().trouble.has_value());
  REQUIRE(driver.ui().house.table.has_value());
  const std::string file = driver.ui().house.table->file;
  CHECK(file.find(".csv") == file.size() - 4);
  const std::string digest = house.book->digest();
  driver.drop(house.folder.file(file));
  driver.tap("table");
  REQUIRE(driver.ui().kept);
  CHECK(driver.ui().kept->words.rfind("0 rows new, ", 0) == 0);
  CHECK(driver.ui().kept->words.find(" 0 known") == std::string::npos);
  CHECK(house.book->digest() == digest);
}

TEST_CASE("the check says in words what it found") {
  House house;
  drive::Driver driver(*house.book, house.host, {1440, 900});
  open_parcels(driver);
  driver.tap("check");
  REQUIRE(driver.ui().house.checked.has_value());
  CHECK(driver.ui().house.checked->folded_equal);
  CHECK(driver.ui().house.checked->entries == house.book->entry_count());
  driver.session->ask_for_frame();
  driver.settle();
  bool said = false;
  for (const Fonts::Written& one : driver.app->fonts().written()) said = said || one.words.find("Sound") == 0;
  CHECK(said);
  driver.tap("take in");
  CHECK(driver.ui().screen == Screen::merge);
}

TEST_CASE("a stick that was pulled, and a place that takes nothing, are told in words; the book is unharmed") {
  House house;
  const std::string stick = house.plug_in();
  // Nobody, root neither, can write here.
  std::filesystem::create_directory_symlink("/proc/self", house.sticks.file("runa/SHUT"));
  drive::Driver driver(*house.book, house.host);
  open_parcels(driver);
  const std::string digest = house.book->digest();
  driver.tap("place:" + house.sticks.file("runa/SHUT"));
  for (const char* act : {"hand out", "back up"}) {
    CAPTURE(act);
    driver.tap(act);
    REQUIRE(driver.ui().trouble.has_value());
    CHECK_FALSE(driver.ui().trouble->words.empty());
    drive::check_scene(driver, std::string("parcels-shut-") + (act[0] == 'h' ? "parcel" : "backup") + "-1280x800-day");
    driver.tap("error:aside");
  }
  driver.tap("place:" + stick);
  std::filesystem::remove_all(stick);
  driver.tap("hand out");
  REQUIRE(driver.ui().trouble.has_value());
  CHECK_FALSE(driver.ui().trouble->words.empty());
  CHECK_FALSE(driver.ui().house.handed_out.has_value());
  CHECK_FALSE(driver.ui().house.backed_up.has_value());
  CHECK(house.book->digest() == digest);
  CHECK_FALSE(std::filesystem::exists(stick));
}

TEST_CASE("stopped on the way, nothing is written and nothing is found out") {
  House house;
  drive::Driver driver(*house.book, house.host);
  open_parcels(driver);
  const auto before = files_in(house.folder.file(""));
  driver.app->set_breathe([](double) { return false; });
  for (const char* act : {"hand out", "back up", "check"}) {
    CAPTURE(act);
    driver.tap(act);
    REQUIRE(driver.ui().trouble.has_value());
    CHECK(driver.ui().trouble->words.find("Stopped") == 0);
    driver.tap("error:aside");
  }
  CHECK(files_in(house.folder.file("")) == before);
  CHECK_FALSE(driver.ui().house.handed_out.has_value());
  CHECK_FALSE(driver.ui().house.backed_up.has_value());
  CHECK_FALSE(driver.ui().house.checked.has_value());
  // The next wish goes through.
  driver.app->set_breathe([](double) { return true; });
  driver.tap("back up");
  CHECK(driver.ui().house.backed_up.has_value());
}

TEST_CASE("parcels & backup in every size and theme") {
  make::Folder sticks;
  setenv("MOTHERBULB_STICKS", sticks.file("").c_str(), 1);
  std::filesystem::create_directories(sticks.file("ines/BULBS"));
  for (const drive::Size& size : drive::sizes) {
    for (const bool night : {false, true}) {
      drive::Demo demo;
      drive::Wish wish;
      wish.width = size.width;
      wish.height = size.height;
      wish.night = night;
      wish.helper = "Ines";
      drive::Driver driver(*demo.book, demo.host, wish);
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      const Point middle{static_cast<float>(size.width) / 2, static_cast<float>(size.height) / 2};
      open_parcels(driver);
      drive::check_scene(driver, "parcels" + end);
      reach(driver, "hand out");
      reach(driver, "back up");
      reach(driver, "check");
      driver.wheel(middle, 100);
      drive::check_scene(driver, "parcels-done" + end);
      driver.wheel(middle, size.width < 400 ? -9 : -60);
      drive::check_scene(driver, "parcels-done-lower" + end);
      driver.wheel(middle, -60);
      drive::check_scene(driver, "parcels-done-lowest" + end);
    }
  }
  unsetenv("MOTHERBULB_STICKS");
}

}  // namespace motherbulb

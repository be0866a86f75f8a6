// A parcel as codes, from one screen to another device's camera. What is drawn is read by a program that is not ours
// (zbarimg, Debian's zbar-tools), off the picture of the window.

#include <cstdio>
#include <set>

#include "app/words/codes.hpp"
#include "platform/files.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

// What another program reads off a picture in build/pictures; empty: it found no code.
std::string read_by_zbar(const std::string& picture) {
  const std::string file = drive::build_folder() + "/pictures/" + picture + ".png";
  const std::string command =
      "zbarimg --nodbus --quiet --raw -Sdisable -Sqrcode.enable -Sbinary '" + file + "' 2> /dev/null";
  std::FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  std::string text;
  char some[4096];
  for (std::size_t count = 0; (count = std::fread(some, 1, sizeof some, pipe)) > 0;) text.append(some, count);
  pclose(pipe);
  return text;
}

std::vector<std::uint8_t> bytes_of(const std::string& text) {
  return {text.begin(), text.end()};
}

void open_parcels(drive::Driver& driver) {
  driver.tap("bar:start");
  drive::find_and_tap(driver, "link:parcels");
  REQUIRE(driver.ui().screen == Screen::parcels);
}

void show_codes(drive::Driver& driver) {
  open_parcels(driver);
  drive::find_and_tap(driver, "as codes");
  REQUIRE(driver.ui().screen == Screen::codes);
}

// Holds them still and comes back to the first.
void hold_first(drive::Driver& driver) {
  if (driver.has("codes:still") && !driver.ui().codes.still) driver.tap("codes:still");
  while (driver.ui().codes.shown != 0) driver.tap("codes:back");
}

struct House {
  make::Folder folder, elsewhere;
  FakeHost host{1}, other_host{2};
  std::unique_ptr<Logbook> book = make::new_book(folder.file("house.book"), host, "A");
  std::unique_ptr<Logbook> other = make::new_book(elsewhere.file("other.book"), other_host, "B");

  House() {
    make::tap(*book, BatchId{}, 0, DeviceNamed{"potting bench", "A"});
    make::write_small_day(*book, host);
    other_host.advance_minutes((host.now_ms() - other_host.now_ms()) / 60'000);
  }
  // So that its parcel is some codes long: notes that no packing makes shorter.
  void write_notes(int count, std::uint64_t seed = 5) {
    Chance chance(seed);
    const BatchId chips = book->batches().front().id;
    for (int i = 0; i < count; ++i) {
      std::string text;
      for (int k = 0; k < 64; ++k) text.push_back(static_cast<char>(chance.between(33, 126)));
      make::tap(*book, chips, 1, Note{text});
    }
  }
  std::vector<std::string> codes() { return make::must(cut_into_codes(make::parcel(*book))); }
};

// A camera that is none: it says how often it was started, and is refused where told.
struct Camera {
  bool on = false;
  int started = 0;
  std::string refuses;
  make::Folder held;
  int files = 0;
  std::string not_held;

  std::function<void(Surroundings&)> around() {
    return [this](Surroundings& around) {
      around.start_camera = [this]() -> Outcome {
        if (!refuses.empty()) return refusal(refuses);
        CHECK_FALSE(on);
        on = true;
        ++started;
        return Done{};
      };
      around.stop_camera = [this] {
        CHECK(on);
        on = false;
      };
      around.take_in_bytes = [this](std::string name, std::vector<std::uint8_t> bytes) -> Result<FoundParcel> {
        if (!not_held.empty()) return refusal(not_held);
        const std::string path = held.file(std::to_string(++files) + name);
        auto sink = make::must(FileSink::create(path));
        make::must(sink->write(bytes.data(), bytes.size()));
        make::must(sink->commit());
        return FoundParcel{path, name, bytes.size(), files};
      };
    };
  }
};

drive::Wish with_camera(Camera& camera, drive::Wish wish = {}) {
  wish.around = camera.around();
  return wish;
}

void see(drive::Driver& driver, const std::string& text) {
  driver.app->take_code(bytes_of(text));
  driver.session->ask_for_frame();
  driver.settle();
}

bool said(const drive::Driver& driver, std::string_view words) {
  for (const Fonts::Written& one : driver.app->fonts().written()) {
    if (one.words.find(words) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE(
    "another program reads off the window's picture, in every size and theme, the parcel that the book hands out") {
  House house;
  house.write_notes(25);
  for (const drive::Size& size : drive::sizes) {
    for (const bool night : {false, true}) {
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      CAPTURE(end);
      drive::Driver driver(*house.book, house.host, drive::wish_of(size, night));
      show_codes(driver);
      hold_first(driver);
      const std::size_t count = driver.ui().codes.texts.size();
      REQUIRE(count >= 3);
      // ISO/IEC 18004, table 7: at level M 965 alphanumeric characters want version 20 (970), and 19 (890) is too
      // small.
      CHECK(driver.ui().codes.version == 20);
      CHECK(driver.ui().codes.symbol.side == 97);
      CodeCollector collector;
      for (std::size_t i = 0; i < count; ++i) {
        CAPTURE(i);
        CHECK(said(driver, std::to_string(i + 1) + " of " + std::to_string(count)));
        driver.picture("codes-read" + end);
        const std::string text = read_by_zbar("codes-read" + end);
        CHECK(text == driver.ui().codes.texts[i]);
        collector.take(text);
        driver.tap("codes:next");
      }
      CHECK(driver.ui().codes.shown == 0);
      const auto parcel = collector.whole();
      REQUIRE(parcel.has_value());
      FakeHost host{7, house.host.now_ms()};
      make::Folder folder;
      auto book = make::new_book(folder.file("other.book"), host, "C");
      const MergeReport report = make::merge(*book, *parcel);
      CHECK(report.new_entries == house.book->entry_count());
      CHECK(book->digest() == house.book->digest());
    }
  }
}

TEST_CASE("on dense displays, in low windows and with large text the code is read as well") {
  House house;
  house.write_notes(12);
  std::vector<drive::Wish> wishes;
  for (const float scale : {2.0F, 3.0F}) {
    drive::Wish wish;
    wish.width = static_cast<int>(360 * scale);
    wish.height = static_cast<int>(520 * scale);
    wish.scale = scale;
    wishes.push_back(wish);
  }
  drive::Wish low;
  low.width = 700;
  low.height = 560;
  wishes.push_back(low);
  drive::Wish large = drive::wish_of({800, 1280});
  large.text_percent = 200;
  wishes.push_back(large);
  drive::Wish left;
  left.left_hand = true;
  wishes.push_back(left);
  for (std::size_t i = 0; i < wishes.size(); ++i) {
    CAPTURE(i);
    drive::Driver driver(*house.book, house.host, wishes[i]);
    show_codes(driver);
    hold_first(driver);
    const std::string name = "codes-read-other-" + std::to_string(i);
    drive::check_scene(driver, name, true);
    CHECK(read_by_zbar(name) == driver.ui().codes.texts[0]);
  }
}

TEST_CASE("the codes go round by themselves, with less motion too, and a frame is drawn for each and no more") {
  House house;
  house.write_notes(25);
  drive::Driver driver(*house.book, house.host);
  REQUIRE(driver.ui().settings.less_motion);
  show_codes(driver);
  REQUIRE_FALSE(driver.ui().codes.still);
  const std::size_t count = driver.ui().codes.texts.size();
  std::set<std::size_t> seen;
  const long before = driver.frames();
  const double from = driver.window->now_ms();
  while (seen.size() < count && driver.window->now_ms() < from + 1500.0 * static_cast<double>(count)) {
    driver.wait(50);
    seen.insert(driver.ui().codes.shown);
  }
  CHECK(seen.size() == count);
  const double took = driver.window->now_ms() - from;
  CHECK(took > 600.0 * static_cast<double>(count - 2));
  CHECK(driver.frames() - before <= static_cast<long>(took / 600) + 2);
  // Held still, they stay, and nothing is drawn.
  driver.tap("codes:still");
  const std::size_t shown = driver.ui().codes.shown;
  const long held = driver.frames();
  driver.wait(1500);
  CHECK(driver.ui().codes.shown == shown);
  CHECK(driver.frames() == held);
  driver.tap("codes:back");
  CHECK(driver.ui().codes.shown == (shown + count - 1) % count);
  driver.tap("codes:next");
  driver.tap("codes:next");
  CHECK(driver.ui().codes.shown == (shown + 1) % count);
  driver.tap("codes:still");
  driver.wait(700);
  CHECK(driver.ui().codes.shown != (shown + 1) % count);
  // Gone with the screen.
  driver.tap("back");
  CHECK(driver.ui().screen == Screen::parcels);
  CHECK(driver.ui().codes.texts.empty());
}

TEST_CASE("what one device lacks goes as codes too: one code, that needs no turning over") {
  House house;
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
  house.host.advance_minutes(5);
  make::tap(*house.book, house.book->batches().front().id, 1, Watered{}, "Runa");
  driver.session->ask_for_frame();
  driver.settle();
  open_parcels(driver);
  drive::find_and_tap(driver, drive::first_named(driver, "parcel:" + hex(house.other->devices().back().self
                                                                             ? house.other->devices().back().writer
                                                                             : house.other->devices().front().writer)));
  drive::find_and_tap(driver, "as codes");
  REQUIRE(driver.ui().screen == Screen::codes);
  CHECK(driver.ui().codes.entries == 1);
  REQUIRE(driver.ui().codes.texts.size() == 1);
  CHECK_FALSE(driver.has("codes:next"));
  drive::check_scene(driver, "codes-one-800x1280-day");
  const std::string text = read_by_zbar("codes-one-800x1280-day");
  CodeCollector collector;
  collector.take(text);
  REQUIRE(collector.whole().has_value());
  house.other_host.advance_minutes(5);
  const MergeReport report = make::merge(*house.other, *collector.whole());
  CHECK(report.new_entries == 1);
  CHECK(house.other->digest() == house.book->digest());
}

TEST_CASE("what is too much for codes is told where it was asked for, and goes as a file") {
  House house;
  house.write_notes(900);
  REQUIRE(codes_for(make::parcel(*house.book).size()) > most_shown_codes);
  for (const drive::Size& size : drive::sizes) {
    drive::Driver driver(*house.book, house.host, drive::wish_of(size));
    open_parcels(driver);
    drive::find_and_tap(driver, "as codes");
    CHECK(driver.ui().screen == Screen::parcels);
    CHECK(driver.ui().house.too_much_for_codes);
    CHECK_FALSE(driver.ui().trouble.has_value());
    drive::check_scene(driver, "parcels-too-much-" + size.text() + "-day");
    drive::wheel(driver, -3);
    drive::check_scene(driver, "parcels-too-much-lower-" + size.text() + "-day");
    CHECK(said(driver, "too much for codes"));
    drive::find_and_tap(driver, "hand out");
    CHECK(driver.ui().house.handed_out.has_value());
    CHECK_FALSE(driver.ui().house.too_much_for_codes);
  }
}

TEST_CASE("codes that a camera sees, in any order and among others, become a parcel that waits to be merged") {
  House house;
  house.write_notes(25);
  Camera camera;
  drive::Driver driver(*house.other, house.other_host, with_camera(camera));
  driver.tap("bar:merge");
  CHECK_FALSE(camera.on);
  driver.tap("read codes");
  REQUIRE(driver.ui().screen == Screen::scan);
  CHECK(camera.on);
  CHECK_FALSE(driver.ui().scan.picture.empty());
  CHECK(driver.ui().scan.picture.w >= 300);
  std::vector<std::string> codes = house.codes();
  REQUIRE(codes.size() >= 3);
  see(driver, "WIFI:S:glasshouse;;");
  see(driver, codes[1].substr(0, 700));
  CHECK(driver.ui().scan.collector.count() == 0);
  see(driver, "MB2:SOMETHING.");
  CHECK(said(driver, "newer version"));
  for (std::size_t i = codes.size(); i > 1; --i) {
    see(driver, codes[i - 1]);
    see(driver, codes[i - 1]);
    CHECK(driver.ui().scan.collector.have() == codes.size() - i + 1);
  }
  CHECK_FALSE(said(driver, "newer version"));
  CHECK(said(driver, "Still missing: 1"));
  CHECK(driver.ui().screen == Screen::scan);
  const std::string digest = house.other->digest();
  see(driver, codes[0]);
  CHECK_FALSE(camera.on);
  CHECK(driver.ui().screen == Screen::merge);
  CHECK(driver.ui().scan.picture.empty());
  REQUIRE(driver.ui().merge.waiting.size() == 1);
  CHECK(driver.ui().merge.waiting[0].readable);
  CHECK(driver.ui().merge.waiting[0].fresh == house.book->entry_count());
  CHECK(house.other->digest() == digest);  // looked at, not merged
  driver.tap("merge");
  CHECK(house.other->digest() == house.book->digest());
  CHECK(camera.started == 1);
  // A code that comes late is passed over.
  see(driver, codes[0]);
  CHECK(driver.ui().screen == Screen::merge);
}

TEST_CASE("whichever way the screen is left, the camera is stopped; where there is none, none is offered") {
  House house;
  {
    drive::Driver driver(*house.book, house.host);
    driver.tap("bar:merge");
    CHECK_FALSE(driver.has("read codes"));
  }
  Camera camera;
  drive::Driver driver(*house.book, house.host, with_camera(camera));
  for (const char* way : {"back", "bar:merge", "bar:start", "bar:pots"}) {
    CAPTURE(way);
    driver.tap("bar:merge");
    driver.tap("read codes");
    CHECK(camera.on);
    driver.tap(way);
    CHECK_FALSE(camera.on);
    CHECK(driver.ui().scan.picture.empty());
  }
  driver.tap("bar:merge");
  driver.tap("read codes");
  driver.drop(house.folder.file("nothing.parcel"));
  CHECK(driver.ui().screen == Screen::merge);
  CHECK_FALSE(camera.on);
}

TEST_CASE("a camera that is refused, at once or later, is told in words and may be tried again with what was read") {
  House house;
  house.write_notes(25);
  const std::vector<std::string> codes = house.codes();
  Camera camera;
  camera.refuses = "the browser may not use the camera; allow it in the page's settings";
  drive::Driver driver(*house.other, house.other_host, with_camera(camera));
  driver.tap("bar:merge");
  driver.tap("read codes");
  CHECK(driver.ui().screen == Screen::scan);
  REQUIRE(driver.ui().trouble.has_value());
  CHECK(driver.ui().trouble->title == codes_words().camera_failed);
  CHECK(driver.ui().scan.picture.empty());
  camera.refuses.clear();
  driver.tap("scan:start");
  CHECK(camera.on);
  CHECK_FALSE(driver.ui().trouble.has_value());
  see(driver, codes[0]);
  camera.on = false;  // it is gone by itself, and says so
  driver.app->camera_failed(refusal("the camera was unplugged; plug it in again"));
  driver.session->ask_for_frame();
  driver.settle();
  REQUIRE(driver.ui().trouble.has_value());
  see(driver, codes[1]);  // nothing comes from a camera that is off
  CHECK(driver.ui().scan.collector.have() == 1);
  driver.tap("scan:start");
  CHECK(driver.ui().scan.collector.have() == 1);
  // What was read cannot be held: told, and read again.
  camera.not_held = "there is no room for the parcel; free some";
  for (const std::string& code : codes) see(driver, code);
  CHECK(driver.ui().screen == Screen::scan);
  REQUIRE(driver.ui().trouble.has_value());
  CHECK(driver.ui().trouble->title == codes_words().not_taken);
  CHECK_FALSE(camera.on);
  camera.not_held.clear();
  driver.tap("error:aside");
  driver.tap("scan:start");
  for (const std::string& code : codes) see(driver, code);
  CHECK(driver.ui().screen == Screen::merge);
  CHECK(driver.ui().merge.waiting.size() == 1);
  // Its trouble is left with its screen.
  driver.tap("read codes");
  driver.app->camera_failed(refusal("the camera was unplugged; plug it in again"));
  camera.on = false;
  driver.session->ask_for_frame();
  driver.settle();
  driver.tap("back");
  CHECK_FALSE(driver.ui().trouble.has_value());
}

TEST_CASE("reading codes in every size and theme, from the first look to the last code but one") {
  House house;
  house.write_notes(25);
  const std::vector<std::string> codes = house.codes();
  // A long one: its marks have room too.
  const std::vector<std::string> many = make::must(cut_into_codes(std::vector<std::uint8_t>(200 * code_content, 7)));
  for (const drive::Size& size : drive::sizes) {
    for (const bool night : {false, true}) {
      const std::string end = "-" + size.text() + (night ? "-night" : "-day");
      Camera camera;
      drive::Driver driver(*house.other, house.other_host, with_camera(camera, drive::wish_of(size, night)));
      driver.tap("bar:merge");
      drive::check_scene(driver, "merge-camera" + end, true);
      driver.tap("read codes");
      drive::check_scene(driver, "scan" + end);
      see(driver, codes[0]);
      see(driver, "MB2:SOMETHING.");
      drive::check_scene(driver, "scan-some" + end);
      for (std::size_t i = 2; i < codes.size(); ++i) see(driver, codes[i]);
      drive::check_scene(driver, "scan-last" + end);
      driver.tap("back");
      driver.tap("read codes");
      for (std::size_t i = 0; i < many.size(); i += 2) driver.app->take_code(bytes_of(many[i]));
      drive::check_scene(driver, "scan-many" + end);
      driver.app->camera_failed(refusal("the browser may not use the camera; allow it in the page's settings"));
      camera.on = false;
      drive::check_scene(driver, "scan-refused" + end);
    }
  }
}

}  // namespace motherbulb

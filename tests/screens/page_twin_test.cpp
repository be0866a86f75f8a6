// What the page's screens are compared with: tests/web/walk.txt, walked through the demo in the real window on a device
// that has what a browser has. For each picture of the walk build/pictures gets walk-WINDOW-NAME.png, and beside it as
// .json all that the screen tells. tests/web/pictures_test.mjs walks the same way in the page.

#include <fstream>
#include <sstream>

#include "app/spoken.hpp"
#include "tests/screens/scenes.hpp"

namespace motherbulb {
namespace {

struct WalkWindow {
  std::string name;
  int width = 0, height = 0;  // dp
  float ratio = 1;            // pixels a dp
  bool night = false;
};
struct WalkStep {
  std::string act, on;
};
struct Walk {
  std::vector<WalkWindow> windows;
  std::vector<WalkStep> steps;
};

Walk read_walk() {
  const char* source = std::getenv("MOTHERBULB_SOURCE_DIR");
  std::ifstream file(std::string(source != nullptr ? source : ".") + "/tests/web/walk.txt");
  REQUIRE_MESSAGE(file.good(), "tests/web/walk.txt cannot be read");
  Walk walk;
  for (std::string line; std::getline(file, line);) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream words(line);
    std::string act;
    words >> act;
    if (act == "window") {
      WalkWindow window;
      std::string theme;
      words >> window.name >> window.width >> window.height >> window.ratio >> theme;
      window.night = theme == "night";
      walk.windows.push_back(window);
      continue;
    }
    std::string on;
    std::getline(words >> std::ws, on);
    walk.steps.push_back({act, on});
  }
  REQUIRE(!walk.windows.empty());
  REQUIRE(!walk.steps.empty());
  return walk;
}

// As the page with the demo, in a browser that has a camera.
void be_the_page(Surroundings& around, std::int64_t now_ms) {
  drive::be_a_page(around);
  around.start_camera = []() -> Outcome { return Done{}; };
  around.stop_camera = [] {};
  around.take_in_bytes = [](const std::string&, const std::vector<std::uint8_t>&) -> Result<FoundParcel> {
    return Error{ErrorKind::missing, "there is no camera here", {}};
  };
  around.places_to_write = [look = around.places_to_write] {
    std::vector<PlaceToWrite> places = look();
    for (PlaceToWrite& place : places) place = {"/handed/saved", "", false, true};
    return places;
  };
  around.look_for_parcels = [look = around.look_for_parcels, now_ms] {
    std::vector<FoundParcel> found = look();
    for (FoundParcel& one : found) one.modified_ms = now_ms;
    return found;
  };
}

// The control of that name; of a name that ends with * the first that begins so and is enabled, none where there is
// none.
std::string control(const drive::Driver& driver, const std::string& wanted) {
  if (wanted.empty() || wanted.back() != '*') return driver.has(wanted) ? wanted : "";
  const std::string beginning = wanted.substr(0, wanted.size() - 1);
  for (const Spoken& one : spoken(driver.app->touch(), driver.app->fonts(), day_theme())) {
    if (one.kind == Spoken::Kind::control && one.enabled && one.name.rfind(beginning, 0) == 0) return one.name;
  }
  return "";
}

void carry_out(drive::Driver& driver, const WalkStep& step, const std::string& window) {
  CAPTURE(step.act);
  CAPTURE(step.on);
  if (step.act == "touch") {
    const std::string name = control(driver, step.on);
    driver.touch(name.empty() ? step.on : name);
  } else if (step.act == "maybe") {
    if (const std::string name = control(driver, step.on); !name.empty()) driver.touch(name);
  } else if (step.act == "find") {
    // Down by two lines until it is there, and by two more so that it is whole.
    for (int i = 0; i < 30 && control(driver, step.on).empty(); ++i) drive::wheel(driver, -2, 0.4F);
    drive::wheel(driver, -2, 0.4F);
    driver.touch(control(driver, step.on));
  } else if (step.act == "picture" || step.act == "words") {
    const std::string name = "walk-" + window + "-" + step.on;
    driver.picture(name);
    std::ofstream told(drive::build_folder() + "/pictures/" + name + ".json");
    told << spoken_json(*driver.app);
    CHECK(told.flush().good());
  } else {
    FAIL("the walk knows no such act");
  }
}

}  // namespace

TEST_CASE("the walk that the page is to show alike") {
  const Walk walk = read_walk();
  for (const WalkWindow& window : walk.windows) {
    CAPTURE(window.name);
    drive::Demo demo;
    drive::Wish wish;
    wish.width = static_cast<int>(static_cast<float>(window.width) * window.ratio);
    wish.height = static_cast<int>(static_cast<float>(window.height) * window.ratio);
    wish.scale = window.ratio;
    wish.night = window.night;
    wish.helper = "Ines";
    wish.around = [&](Surroundings& around) { be_the_page(around, demo.host.now_ms()); };
    drive::Driver driver(*demo.book, demo.host, wish);
    for (const WalkStep& step : walk.steps) carry_out(driver, step, window.name);
  }
}

}  // namespace motherbulb

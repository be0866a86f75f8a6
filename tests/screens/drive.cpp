#include "tests/screens/drive.hpp"

#define STB_IMAGE_WRITE_STATIC
#define STB_IMAGE_WRITE_IMPLEMENTATION
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wunused-function"
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"
#include <stb/stb_image_write.h>
#pragma GCC diagnostic pop

#include <algorithm>
#include <cmath>

#include "app/spoken.hpp"

namespace motherbulb::drive {

namespace {

Settings settings_of(const Wish& wish) {
  Settings settings;
  settings.night = wish.night;
  settings.less_motion = wish.less_motion;
  settings.left_hand = wish.left_hand;
  settings.text_percent = wish.text_percent;
  return settings;
}

}  // namespace

void write_picture(const std::string& name, const std::vector<std::uint8_t>& rgb, int width, int height) {
  const std::filesystem::path folder = std::filesystem::path(build_folder()) / "pictures";
  std::error_code ignored;
  std::filesystem::create_directories(folder, ignored);
  const std::string file = (folder / (name + ".png")).string();
  CHECK_MESSAGE(stbi_write_png(file.c_str(), width, height, 3, rgb.data(), width * 3) != 0, "not written: " << file);
}

std::unique_ptr<SdlWindow> open_window(int width, int height) {
  std::unique_ptr<SdlWindow> window = make::must(SdlWindow::open({"Motherbulb under test", width, height}));
  // A display server starts itself anew when its last client leaves, and refuses whoever comes just then: stay.
  static const bool stays = SDL_InitSubSystem(SDL_INIT_VIDEO) == 0;
  CHECK(stays);
  return window;
}

Driver::Driver(Logbook& book, Host& host, const Wish& wish) {
  window = open_window(wish.width, wish.height);
  Surroundings around = surroundings_of<NearbyFiles>(book.path());
  if (wish.around) wish.around(around);
  app = std::make_unique<App>(book, host, std::move(around), AppWish{wish.helper, settings_of(wish)});
  app->fonts().keep_log(true);
  session = std::make_unique<Session<SdlWindow>>(*app, *window, build_folder() + "/assets/fonts", wish.scale);
  settle();
}

void Driver::step() {
  open = session->step(1) && open;
}

void Driver::settle() {
  for (int i = 0; i < 8; ++i) step();
  // A thrown list glides for up to two seconds, however fast frames are drawn.
  const double patience_ms = window->now_ms() + 10'000;
  while (!session->settled() && window->now_ms() < patience_ms) step();
  REQUIRE_MESSAGE(session->settled(), "the window never comes to rest");
}

void Driver::push(SDL_Event event) {
  REQUIRE(SDL_PushEvent(&event) == 1);
}

Target Driver::target(const std::string& name) const {
  const Target* found = app->touch().find(name);
  if (found == nullptr) {
    std::string all;
    for (const std::string& one : names()) all += " [" + one + "]";
    FAIL("no control named " << name << "; there are" << all);
  }
  return *found;
}

std::vector<std::string> Driver::names() const {
  std::vector<std::string> all;
  for (const Target& one : app->touch().targets()) all.push_back(one.name);
  return all;
}

void Driver::tap(const std::string& name) {
  const Target found = target(name);
  REQUIRE_MESSAGE(found.enabled, name << " is not enabled");
  const Point at = found.rect.middle() * app->fonts().scale();
  SDL_Event event{};
  event.type = SDL_MOUSEBUTTONDOWN;
  event.button.button = SDL_BUTTON_LEFT;
  event.button.state = SDL_PRESSED;
  event.button.clicks = 1;
  event.button.x = static_cast<Sint32>(at.x);
  event.button.y = static_cast<Sint32>(at.y);
  push(event);
  step();
  event.type = SDL_MOUSEBUTTONUP;
  event.button.state = SDL_RELEASED;
  push(event);
  step();
  // A second tap of a test is meant: let the time pass in which it would count as water.
  SDL_Delay(90);
  settle();
}

void Driver::finger(Uint32 type, Point at, SDL_FingerID finger) {
  SDL_Event event{};
  event.type = type;
  event.tfinger.touchId = 1;
  event.tfinger.fingerId = finger;
  event.tfinger.x = at.x * app->fonts().scale() / static_cast<float>(window->width_px());
  event.tfinger.y = at.y * app->fonts().scale() / static_cast<float>(window->height_px());
  event.tfinger.pressure = 1;
  push(event);
}

void Driver::touch_at(Point at, SDL_FingerID id) {
  finger(SDL_FINGERDOWN, at, id);
  finger(SDL_FINGERUP, at, id);
}

void Driver::touch(const std::string& name) {
  const Target found = target(name);
  REQUIRE_MESSAGE(found.enabled, name << " is not enabled");
  touch_at(found.rect.middle());
  step();
  SDL_Delay(90);
  settle();
}

void Driver::drag(Point from, Point to, int steps, int ms_each) {
  finger(SDL_FINGERDOWN, from);
  step();
  for (int i = 1; i <= steps; ++i) {
    SDL_Delay(static_cast<Uint32>(ms_each));
    finger(SDL_FINGERMOTION, from + (to - from) * (static_cast<float>(i) / static_cast<float>(steps)));
    step();
  }
  finger(SDL_FINGERUP, to);
  step();
}

void Driver::key(SDL_Keycode code, Uint16 modifiers) {
  SDL_Event event{};
  event.type = SDL_KEYDOWN;
  event.key.state = SDL_PRESSED;
  event.key.keysym.sym = code;
  event.key.keysym.mod = modifiers;
  push(event);
  settle();
}

void Driver::type(const std::string& text) {
  SDL_Event event{};
  event.type = SDL_TEXTINPUT;
  std::copy_n(text.begin(), std::min(text.size(), sizeof event.text.text - 1), event.text.text);
  push(event);
  settle();
}

void Driver::wheel(Point at, float lines) {
  SDL_Event event{};
  event.type = SDL_MOUSEWHEEL;
  event.wheel.y = static_cast<Sint32>(lines);
  event.wheel.preciseY = lines;
  event.wheel.mouseX = static_cast<Sint32>(at.x * app->fonts().scale());
  event.wheel.mouseY = static_cast<Sint32>(at.y * app->fonts().scale());
  push(event);
  settle();
}

void Driver::drop(const std::string& path) {
  SDL_Event event{};
  event.type = SDL_DROPFILE;
  event.drop.file = SDL_strdup(path.c_str());
  push(event);
  settle();
}

void Driver::resize(int width, int height) {
  window->resize(width, height);
  for (int i = 0; i < 200 && (window->width_px() != width || window->height_px() != height); ++i) {
    SDL_Delay(5);
    step();
  }
  REQUIRE(window->width_px() == width);
  REQUIRE(window->height_px() == height);
  session->ask_for_frame();
  settle();
}

void Driver::wait(int ms) {
  const double until = window->now_ms() + ms;
  while (window->now_ms() < until) step();
}

void Driver::picture(const std::string& name) {
  session->ask_for_frame();
  settle();
  write_picture(name, window->pixels(), window->width_px(), window->height_px());
}

void Driver::check_targets(const std::string& where) const {
  const std::vector<Target>& all = app->touch().targets();
  const float scale = app->fonts().scale();
  const Rect whole{0, 0, static_cast<float>(window->width_px()) / scale,
                   static_cast<float>(window->height_px()) / scale};
  CHECK_MESSAGE(!all.empty(), where);
  // Who cannot see a picture is told what it does.
  for (const Spoken& one : spoken(app->touch(), app->fonts(), day_theme())) {
    CHECK_MESSAGE((one.kind != Spoken::Kind::control || one.words != one.name),
                  where << ": nothing says what '" << one.name << "' does (app/words/spoken.cpp)");
  }
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Target& one = all[i];
    CAPTURE(where);
    CAPTURE(one.name);
    CHECK(one.rect.x >= 0);
    CHECK(one.rect.y >= 0);
    CHECK(one.rect.right() <= whole.right() + 0.5F);
    CHECK(one.rect.bottom() <= whole.bottom() + 0.5F);
    if (one.whole) {
      const float least = one.bench ? 56.0F : 48.0F;
      CHECK(one.rect.w >= least - 0.01F);
      CHECK(one.rect.h >= least - 0.01F);
    }
    for (std::size_t k = i + 1; k < all.size(); ++k) {
      const Target& other = all[k];
      CAPTURE(other.name);
      CHECK_MESSAGE(one.name != other.name, "two controls bear one name");
      const float across = std::max(one.rect.x - other.rect.right(), other.rect.x - one.rect.right());
      const float down = std::max(one.rect.y - other.rect.bottom(), other.rect.y - one.rect.bottom());
      CHECK(std::max(across, down) >= 7.5F);
    }
  }
}

}  // namespace motherbulb::drive

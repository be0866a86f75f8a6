// The loop between a window and the app. The window is handed in by main.cpp or by a test, so that app/ sees no
// platform; any type with the members of platform's SdlWindow will do.
//
// Promises: each tap is answered by a frame of its own, on what the tap before it left; frames are drawn when
// something happens, three after each event and while something moves, and never otherwise.
#pragma once

#include <imgui.h>

#include <algorithm>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "app/app.hpp"
#include "app/layout.hpp"

namespace motherbulb {

template <class Window>
class Session {
public:
  // `scale`: pixels a dp beside the display's own density; `fonts`: the folder of the font files.
  Session(App& app, Window& window, std::string fonts, float scale = 1)
      : app_(app), window_(window), font_folder_(std::move(fonts)), wished_scale_(scale) {
    app_.set_breathe([this](double) { return breathe(); });
  }

  // Waits at most `most_ms` for something to happen (less where the app asks for it) and answers it. False: the window
  // was closed.
  bool step(int most_ms) {
    if (scale_ == 0) draw(true);
    if (app_.ask_disk()) frames_due_ = std::max(frames_due_, 3);
    // What is touched before the disk has answered waits, and meets the screen that the answer leaves.
    if (app_.awaits_disk()) {
      if (app_.idle(window_.now_ms())) frames_due_ = std::max(frames_due_, 1);
      draw_due();
      return true;
    }
    const int calm = patience();
    const int wait = most_ms < 0 ? calm : calm < 0 ? most_ms : std::min(most_ms, calm);
    auto inputs = std::exchange(held_back_, {});
    if (inputs.empty()) inputs = window_.wait(wait);
    for (auto input = inputs.begin(); input != inputs.end(); ++input) {
      if (app_.awaits_disk()) {
        held_back_.assign(input, inputs.end());
        break;
      }
      if (!take(*input)) return false;
    }
    if (inputs.empty() && app_.idle(window_.now_ms())) frames_due_ = std::max(frames_due_, 1);
    while (app_.touch().has_unanswered() && !app_.awaits_disk()) draw(false);
    draw_due();
    return true;
  }
  // How long nothing needs to be done: 0 where a frame is due, -1 without end.
  [[nodiscard]] int patience() const {
    if (app_.awaits_disk()) return frames_due_ > 0 ? 0 : app_.wait_ms(window_.now_ms());
    if (!held_back_.empty()) return 0;
    return frames_due_ > 0 ? (moving_ ? 8 : 0) : app_.wait_ms(window_.now_ms());
  }

  // Something that happened to the window and did not come by it: taken up in its turn.
  template <class Input>
  void put(Input input) {
    held_back_.push_back(std::move(input));
  }
  void ask_for_frame() { frames_due_ = std::max(frames_due_, 3); }
  [[nodiscard]] bool settled() const { return frames_due_ == 0; }
  [[nodiscard]] long frames_shown() const { return frames_shown_; }

private:
  // False: the window was closed.
  template <class Input>
  bool take(const Input& input) {
    if (input.kind == decltype(input.kind)::quit) return false;
    if (input.kind == decltype(input.kind)::drop) {
      app_.take_dropped(input.text);
    } else if (feed(input)) {
      draw(false);
    }
    frames_due_ = 3;
    return true;
  }

  void draw_due() {
    if (frames_due_ <= 0) return;
    draw(true);
    --frames_due_;
    if (moving_) frames_due_ = std::max(frames_due_, 1);
  }

  template <class Input>
  bool feed(const Input& input) {
    using InputKind = decltype(input.kind);
    Touch touch;
    touch.pointer = input.pointer;
    touch.at = {input.x / scale_, input.y / scale_};
    touch.time_ms = input.time_ms;
    touch.wheel = input.wheel;
    switch (input.kind) {
      case InputKind::press:
        touch.kind = Touch::Kind::press;
        break;
      case InputKind::move:
        touch.kind = Touch::Kind::move;
        break;
      case InputKind::release:
        touch.kind = Touch::Kind::release;
        break;
      case InputKind::cancel:
        touch.kind = Touch::Kind::cancel;
        break;
      case InputKind::wheel:
        touch.kind = Touch::Kind::wheel;
        break;
      case InputKind::key:
        touch.kind = Touch::Kind::key;
        touch.key = static_cast<Key>(input.key);  // both lists are in one order
        break;
      case InputKind::text: {
        bool any = false;
        for (const char c : input.text) {
          Touch typed = touch;
          typed.kind = Touch::Kind::text;
          typed.character = c;
          any = app_.touch().feed(typed) || any;
        }
        return any;
      }
      case InputKind::drop:
      case InputKind::redraw:
      case InputKind::quit:
        return false;
    }
    return app_.touch().feed(touch);
  }

  // How many pixels a dp has: what the display asks for, times the text size wished for, as far as the window has room
  // for a whole screen at that size.
  [[nodiscard]] float scale_now() const {
    const float plain = wished_scale_ * window_.density();
    const float room = std::min(static_cast<float>(window_.width_px()) / plain / narrowest_dp,
                                static_cast<float>(window_.height_px()) / plain / lowest_dp);
    const float wished = static_cast<float>(app_.ui().settings.text_percent) / 100.0F;
    return plain * std::max(1.0F, std::min(wished, room));
  }

  // Called while long work goes on: shows how far it is, and takes the tap that stops it.
  bool breathe() {
    const double now = window_.now_ms();
    if (now - breathed_ms_ < breath_every_ms) return true;
    breathed_ms_ = now;
    for (const auto& input : window_.wait(0)) {
      if (input.kind == decltype(input.kind)::quit) return false;
      if (input.kind != decltype(input.kind)::drop && feed(input)) draw(false);
    }
    draw(true);
    frames_due_ = 3;
    return true;
  }

  void draw(bool show) {
    const float scale = scale_now();
    if (scale != scale_ || app_.fonts().wants_rebuild()) {
      scale_ = scale;
      app_.build_fonts(*ImGui::GetIO().Fonts, font_folder_, scale);
      window_.fonts_changed();
    }
    window_.begin_frame();
    FrameWish wish;
    wish.width = static_cast<float>(window_.width_px()) / scale;
    wish.height = static_cast<float>(window_.height_px()) / scale;
    wish.time_ms = window_.now_ms();
    app_.frame(*ImGui::GetBackgroundDrawList(), wish);
    if (show) {
      window_.show_frame(app_.ground());
      ++frames_shown_;
    } else {
      window_.drop_frame();
    }
    if (app_.act()) frames_due_ = std::max(frames_due_, 3);
    moving_ = app_.moving();
    if (app_.fonts().wants_rebuild()) frames_due_ = std::max(frames_due_, 2);
  }

  static constexpr double breath_every_ms = 50;

  App& app_;
  Window& window_;
  std::string font_folder_;
  decltype(std::declval<Window&>().wait(0)) held_back_;  // until the disk has answered
  float wished_scale_;
  float scale_ = 0;
  int frames_due_ = 3;
  bool moving_ = false;
  double breathed_ms_ = 0;
  long frames_shown_ = 0;
};

struct WindowOptions {
  std::string helper;  // whose taps these are; empty: asked for
  std::string fonts;   // the folder of the font files: assets/fonts beside the program
  Settings settings;
  int width = 1280;
  int height = 800;
  float scale = 1;
};

// What the app asks of the files round it, from platform/desktop's NearbyFiles or what stands in for it.
template <class Files>
Surroundings surroundings_of(const std::string& store) {
  const auto found = [](const auto& file) { return FoundParcel{file.path, file.name, file.size, file.modified_ms}; };
  Surroundings around;
  around.look_for_parcels = [store, found] {
    std::vector<FoundParcel> parcels;
    for (const auto& file : Files::parcels_near(store)) parcels.push_back(found(file));
    return parcels;
  };
  around.look_at_file = [found](const std::string& path) -> Result<FoundParcel> {
    const auto file = Files::look_at(path);
    if (!file) return file.error();
    return found(*file);
  };
  around.open_file = [](const std::string& path) { return Files::open(path); };
  around.places_to_write = [store] {
    std::vector<PlaceToWrite> places;
    for (const auto& place : Files::places_to_write(store)) places.push_back({place.folder, place.name, place.stick});
    return places;
  };
  around.file_is_there = [](const std::string& path) { return Files::is_there(path); };
  around.write_file = [](const std::string& path) { return Files::write(path); };
  return around;
}

// Settings as platform/remembered.hpp keeps them, there and back.
template <class Remembered>
Settings settings_remembered(const Remembered& remembered) {
  Settings settings;
  settings.night = remembered.night;
  settings.left_hand = remembered.left_hand;
  settings.less_motion = remembered.less_motion;
  settings.south = remembered.south;
  settings.text_percent = remembered.text_percent;
  return settings;
}
template <class Remembered>
void remember(Remembered& remembered, const std::string& helper, const Settings& settings) {
  remembered.helper = helper;
  remembered.night = settings.night;
  remembered.left_hand = settings.left_hand;
  remembered.less_motion = settings.less_motion;
  remembered.south = settings.south;
  remembered.text_percent = settings.text_percent;
}

// Opens a window on the book and runs until it is closed. Fails where there is no display. `changed` is told of the
// helper and the settings whenever a person changed one of them.
template <class Window, class Files>
Outcome run_window(Logbook& book, Host& host, const WindowOptions& options,
                   const std::function<void(const std::string& helper, const Settings&)>& changed) {
  auto window = Window::open({"Motherbulb", options.width, options.height});
  if (!window) return window.error();
  App app(book, host, surroundings_of<Files>(book.path()), {options.helper, options.settings});
  Session<Window> session(app, **window, options.fonts, options.scale);
  std::string helper = options.helper;
  Settings settings = options.settings;
  while (session.step(-1)) {
    if (app.ui().helper == helper && app.ui().settings == settings) continue;
    helper = app.ui().helper;
    settings = app.ui().settings;
    changed(helper, settings);
  }
  return Done{};
}

}  // namespace motherbulb

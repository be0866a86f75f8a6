// The app without a window: frames are drawn into lists that nobody shows, time runs only when told. For tests that
// want many thousand frames, also under sanitizers.
#pragma once

#include <imgui.h>

#include <cstdlib>
#include <memory>
#include <string>
#include <utility>

#include "app/window.hpp"
#include "platform/desktop/nearby.hpp"

namespace motherbulb::headless {

// What a window does after the fonts were built: their pixels go where nobody sees them, their places stay.
inline void take_fonts() {
  unsigned char* pixels = nullptr;
  int w = 0;
  int h = 0;
  ImGui::GetIO().Fonts->GetTexDataAsAlpha8(&pixels, &w, &h);
  ImGui::GetIO().Fonts->ClearTexData();
  ImGui::GetIO().Fonts->ClearInputData();
  ImGui::GetIO().Fonts->SetTexID(reinterpret_cast<ImTextureID>(1));
}

class Screen {
public:
  Screen(Logbook& book, Host& host, const AppWish& wish, float width, float height)
      : Screen(book, host, wish, width, height, surroundings_of<NearbyFiles>(book.path())) {}
  Screen(Logbook& book, Host& host, const AppWish& wish, float width, float height, Surroundings around)
      : app(book, host, std::move(around), wish), width_(width), height_(height) {
    context_ = ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    const char* folder = std::getenv("MOTHERBULB_BUILD_DIR");
    fonts_ = std::string(folder != nullptr ? folder : ".") + "/assets/fonts";
    frame();
  }
  ~Screen() { ImGui::DestroyContext(context_); }
  Screen(const Screen&) = delete;
  Screen& operator=(const Screen&) = delete;

  void resize(float width, float height) {
    width_ = width;
    height_ = height;
  }
  [[nodiscard]] float width() const { return width_; }
  [[nodiscard]] float height() const { return height_; }
  void pass(double ms) { now_ms_ += ms; }
  [[nodiscard]] double now_ms() const { return now_ms_; }

  // One frame, and what it asked for.
  void frame() {
    ImGui::SetCurrentContext(context_);
    if (!built_ || app.fonts().wants_rebuild()) {
      built_ = true;
      app.build_fonts(*ImGui::GetIO().Fonts, fonts_, 1);
      take_fonts();
    }
    ImGui::GetIO().DisplaySize = {width_, height_};
    ImGui::GetIO().DeltaTime = 0.016F;
    ImGui::NewFrame();
    app.frame(*ImGui::GetBackgroundDrawList(), {width_, height_, now_ms_});
    ImGui::EndFrame();
    app.act();
  }
  void feed(const Touch& touch) {
    if (app.touch().feed(touch)) frame();
    while (app.touch().has_unanswered()) frame();
  }
  void finger(Touch::Kind kind, Point at, std::int64_t pointer = 1) {
    Touch touch;
    touch.kind = kind;
    touch.pointer = pointer;
    touch.at = at;
    touch.time_ms = now_ms_;
    feed(touch);
  }
  void tap(Point at) {
    pass(120);
    finger(Touch::Kind::press, at);
    pass(60);
    finger(Touch::Kind::release, at);
    frame();
  }
  // False where there is no such control.
  bool tap(const std::string& name) {
    const Target* target = app.touch().find(name);
    if (target == nullptr) return false;
    tap(target->rect.middle());
    return true;
  }
  void key(Key which) {
    Touch touch;
    touch.kind = Touch::Kind::key;
    touch.key = which;
    touch.time_ms = now_ms_;
    feed(touch);
    frame();
  }
  void type(char character) {
    Touch touch;
    touch.kind = Touch::Kind::text;
    touch.character = character;
    touch.time_ms = now_ms_;
    feed(touch);
  }

  App app;

private:
  ImGuiContext* context_ = nullptr;
  std::string fonts_;
  float width_, height_;
  double now_ms_ = 1000;
  bool built_ = false;
};

}  // namespace motherbulb::headless

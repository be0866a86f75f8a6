#include "platform/sdl_window.hpp"

#include <SDL.h>
#include <imgui.h>

#include <algorithm>
#include <utility>

namespace motherbulb {
namespace {

struct SdlDeleter {
  void operator()(SDL_Window* window) const { SDL_DestroyWindow(window); }
  void operator()(SDL_Renderer* renderer) const { SDL_DestroyRenderer(renderer); }
  void operator()(SDL_Texture* texture) const { SDL_DestroyTexture(texture); }
};

Error display_error(const char* doing) {
  return Error{ErrorKind::failed,
               std::string(doing) + ": " + SDL_GetError() +
                   ". A window needs a display; the commands of the command line work without one.",
               {}};
}

WindowKey key_of(const SDL_Keysym& key) {
  switch (key.sym) {
    case SDLK_RETURN:
    case SDLK_KP_ENTER:
      return WindowKey::enter;
    case SDLK_ESCAPE:
      return WindowKey::escape;
    case SDLK_BACKSPACE:
      return WindowKey::backspace;
    case SDLK_TAB:
      return (key.mod & KMOD_SHIFT) != 0 ? WindowKey::back_tab : WindowKey::tab;
    case SDLK_UP:
      return WindowKey::up;
    case SDLK_DOWN:
      return WindowKey::down;
    case SDLK_PAGEUP:
      return WindowKey::page_up;
    case SDLK_PAGEDOWN:
      return WindowKey::page_down;
    default:
      return WindowKey::none;
  }
}

// The one who starts SDL ends it, after window and renderer are gone.
struct SdlSession {
  bool started = false;
  SdlSession() = default;
  SdlSession(const SdlSession&) = delete;
  SdlSession& operator=(const SdlSession&) = delete;
  ~SdlSession() {
    if (started) SDL_QuitSubSystem(SDL_INIT_VIDEO);
  }
};

struct LibraryContext {
  LibraryContext() {
    ImGui::CreateContext();
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    io.LogFilename = nullptr;
    io.BackendFlags |= ImGuiBackendFlags_RendererHasVtxOffset;
    // The fonts' texture is read without smoothing between its pixels.
    ImGui::GetStyle().AntiAliasedLinesUseTex = false;
  }
  LibraryContext(const LibraryContext&) = delete;
  LibraryContext& operator=(const LibraryContext&) = delete;
  ~LibraryContext() { ImGui::DestroyContext(); }
};

}  // namespace

struct SdlWindow::Inside {
  SdlSession sdl;
  LibraryContext library;
  std::unique_ptr<SDL_Window, SdlDeleter> window;
  std::unique_ptr<SDL_Renderer, SdlDeleter> renderer;
  std::unique_ptr<SDL_Texture, SdlDeleter> fonts;
  double last_frame_ms = 0;

  void take(const SDL_Event& event, std::vector<WindowInput>& inputs);
  void paint(const ImDrawData& data);
  [[nodiscard]] double time_of(const SDL_Event& event) const {
    const auto passed = static_cast<std::uint32_t>(SDL_GetTicks() - event.common.timestamp);
    // An event from ahead of the clock (pushed by hand) is of now.
    return static_cast<double>(SDL_GetTicks64()) - (passed > 0x7FFFFFFFU ? 0.0 : static_cast<double>(passed));
  }
  [[nodiscard]] std::pair<int, int> points() const {
    int w = 0;
    int h = 0;
    SDL_GetWindowSize(window.get(), &w, &h);
    return {std::max(w, 1), std::max(h, 1)};
  }
  [[nodiscard]] std::pair<int, int> surface() const {
    int w = 0;
    int h = 0;
    SDL_GetRendererOutputSize(renderer.get(), &w, &h);
    return {std::max(w, 1), std::max(h, 1)};
  }
};

Result<std::unique_ptr<SdlWindow>> SdlWindow::open(const WindowWish& wish) {
  SDL_SetHint(SDL_HINT_TOUCH_MOUSE_EVENTS, "0");
  SDL_SetHint(SDL_HINT_MOUSE_TOUCH_EVENTS, "0");
  SDL_SetHint(SDL_HINT_VIDEO_ALLOW_SCREENSAVER, "1");
  // In a page, keys are those of the canvas: what is typed into its other fields stays there.
  SDL_SetHint(SDL_HINT_EMSCRIPTEN_KEYBOARD_ELEMENT, "#canvas");
  SDL_SetHint(SDL_HINT_APP_NAME, wish.title.c_str());
  auto inside = std::make_unique<Inside>();
  if (SDL_InitSubSystem(SDL_INIT_VIDEO) != 0) return display_error("No window can be opened");
  inside->sdl.started = true;
  // Without a display SDL may fall back to one that nobody sees, and the program would wait there for ever.
  const std::string driver = SDL_GetCurrentVideoDriver() != nullptr ? SDL_GetCurrentVideoDriver() : "";
  const bool unseen =
      driver != "x11" && driver != "wayland" && driver != "cocoa" && driver != "windows" && driver != "emscripten";
  if (unseen && SDL_getenv("SDL_VIDEODRIVER") == nullptr) {
    SDL_SetError("there is no display here");
    return display_error("No window can be opened");
  }
  inside->window.reset(SDL_CreateWindow(wish.title.c_str(), SDL_WINDOWPOS_CENTERED, SDL_WINDOWPOS_CENTERED, wish.width,
                                        wish.height, SDL_WINDOW_RESIZABLE | SDL_WINDOW_ALLOW_HIGHDPI));
  if (!inside->window) return display_error("No window can be opened");
  inside->renderer.reset(SDL_CreateRenderer(inside->window.get(), -1, 0));
  if (!inside->renderer) inside->renderer.reset(SDL_CreateRenderer(inside->window.get(), -1, SDL_RENDERER_SOFTWARE));
  if (!inside->renderer) return display_error("Nothing can be drawn in the window");
  SDL_SetWindowMinimumSize(inside->window.get(), 320, 480);
  SDL_StartTextInput();
  SDL_EventState(SDL_DROPFILE, SDL_ENABLE);
  return std::unique_ptr<SdlWindow>(new SdlWindow(std::move(inside)));
}

SdlWindow::SdlWindow(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
SdlWindow::~SdlWindow() = default;

void SdlWindow::Inside::take(const SDL_Event& event, std::vector<WindowInput>& inputs) {
  WindowInput input;
  input.time_ms = time_of(event);
  const auto [points_w, points_h] = points();
  const auto [surface_w, surface_h] = surface();
  const float ratio = static_cast<float>(surface_w) / static_cast<float>(points_w);
  const auto at_mouse = [&](int x, int y) {
    input.x = static_cast<float>(x) * ratio;
    input.y = static_cast<float>(y) * ratio;
  };
  switch (event.type) {
    case SDL_QUIT:
      input.kind = WindowInput::Kind::quit;
      break;
    case SDL_MOUSEBUTTONDOWN:
    case SDL_MOUSEBUTTONUP:
      if (event.button.which == SDL_TOUCH_MOUSEID || event.button.button != SDL_BUTTON_LEFT) return;
      input.kind = event.type == SDL_MOUSEBUTTONDOWN ? WindowInput::Kind::press : WindowInput::Kind::release;
      at_mouse(event.button.x, event.button.y);
      break;
    case SDL_MOUSEMOTION:
      if (event.motion.which == SDL_TOUCH_MOUSEID || (event.motion.state & SDL_BUTTON_LMASK) == 0) return;
      input.kind = WindowInput::Kind::move;
      at_mouse(event.motion.x, event.motion.y);
      break;
    case SDL_MOUSEWHEEL: {
      int x = 0;
      int y = 0;
      SDL_GetMouseState(&x, &y);
      if (event.wheel.mouseX != 0 || event.wheel.mouseY != 0) {
        x = event.wheel.mouseX;
        y = event.wheel.mouseY;
      }
      input.kind = WindowInput::Kind::wheel;
      input.wheel = event.wheel.preciseY;
      if (input.wheel == 0) input.wheel = static_cast<float>(event.wheel.y);
      if (event.wheel.direction == SDL_MOUSEWHEEL_FLIPPED) input.wheel = -input.wheel;
      at_mouse(x, y);
      break;
    }
    case SDL_FINGERDOWN:
    case SDL_FINGERMOTION:
    case SDL_FINGERUP:
      input.kind = event.type == SDL_FINGERDOWN ? WindowInput::Kind::press
                   : event.type == SDL_FINGERUP ? WindowInput::Kind::release
                                                : WindowInput::Kind::move;
      input.pointer = event.tfinger.fingerId + 1;
      input.x = event.tfinger.x * static_cast<float>(surface_w);
      input.y = event.tfinger.y * static_cast<float>(surface_h);
      break;
    case SDL_KEYDOWN:
      input.key = key_of(event.key.keysym);
      if (input.key == WindowKey::none) return;
      input.kind = WindowInput::Kind::key;
      break;
    case SDL_TEXTINPUT:
      input.kind = WindowInput::Kind::text;
      input.text = event.text.text;
      break;
    case SDL_DROPFILE:
      input.kind = WindowInput::Kind::drop;
      if (event.drop.file != nullptr) {
        input.text = event.drop.file;
        SDL_free(event.drop.file);
      }
      break;
    case SDL_WINDOWEVENT:
      if (event.window.event == SDL_WINDOWEVENT_FOCUS_LOST) {
        // A press that began here may end elsewhere, unseen.
        input.kind = WindowInput::Kind::cancel;
        inputs.push_back(input);
      }
      input.kind = WindowInput::Kind::redraw;
      break;
    case SDL_RENDER_TARGETS_RESET:
    case SDL_RENDER_DEVICE_RESET:
      input.kind = WindowInput::Kind::redraw;
      break;
    default:
      return;
  }
  inputs.push_back(std::move(input));
}

std::vector<WindowInput> SdlWindow::wait(int most_ms) {
  std::vector<WindowInput> inputs;
  SDL_Event event;
  const int got = most_ms < 0 ? SDL_WaitEvent(&event) : SDL_WaitEventTimeout(&event, most_ms);
  if (got == 0) return inputs;
  do {
    inside_->take(event, inputs);
  } while (SDL_PollEvent(&event) != 0);
  return inputs;
}

double SdlWindow::now_ms() const {
  return static_cast<double>(SDL_GetTicks64());
}
int SdlWindow::width_px() const {
  return inside_->surface().first;
}
int SdlWindow::height_px() const {
  return inside_->surface().second;
}
float SdlWindow::density() const {
  return static_cast<float>(inside_->surface().first) / static_cast<float>(inside_->points().first);
}

void SdlWindow::begin_frame() {
  ImGuiIO& io = ImGui::GetIO();
  const auto [w, h] = inside_->surface();
  io.DisplaySize = {static_cast<float>(w), static_cast<float>(h)};
  const double now = now_ms();
  io.DeltaTime = static_cast<float>(std::clamp((now - inside_->last_frame_ms) / 1000.0, 0.001, 1.0));
  inside_->last_frame_ms = now;
  ImGui::NewFrame();
}

void SdlWindow::drop_frame() {
  ImGui::EndFrame();
}

void SdlWindow::show_frame(std::uint32_t ground) {
  ImGui::Render();
  SDL_Renderer* renderer = inside_->renderer.get();
  SDL_RenderSetClipRect(renderer, nullptr);
  SDL_SetRenderDrawColor(renderer, static_cast<Uint8>(ground & 0xFFU), static_cast<Uint8>((ground >> 8U) & 0xFFU),
                         static_cast<Uint8>((ground >> 16U) & 0xFFU), 255);
  SDL_RenderClear(renderer);
  inside_->paint(*ImGui::GetDrawData());
  SDL_RenderPresent(renderer);
}

void SdlWindow::Inside::paint(const ImDrawData& data) {
  for (int n = 0; n < data.CmdListsCount; ++n) {
    const ImDrawList& list = *data.CmdLists[n];
    for (const ImDrawCmd& command : list.CmdBuffer) {
      const SDL_Rect clip{static_cast<int>(command.ClipRect.x), static_cast<int>(command.ClipRect.y),
                          static_cast<int>(command.ClipRect.z - command.ClipRect.x),
                          static_cast<int>(command.ClipRect.w - command.ClipRect.y)};
      if (command.ElemCount == 0 || clip.w <= 0 || clip.h <= 0) continue;
      SDL_RenderSetClipRect(renderer.get(), &clip);
      const ImDrawVert* vertices = list.VtxBuffer.Data + command.VtxOffset;
      const ImDrawIdx* indices = list.IdxBuffer.Data + command.IdxOffset;
      static_assert(sizeof(ImU32) == sizeof(SDL_Color));
      SDL_RenderGeometryRaw(renderer.get(), static_cast<SDL_Texture*>(command.GetTexID()), &vertices->pos.x,
                            sizeof(ImDrawVert), reinterpret_cast<const SDL_Color*>(&vertices->col), sizeof(ImDrawVert),
                            &vertices->uv.x, sizeof(ImDrawVert),
                            list.VtxBuffer.Size - static_cast<int>(command.VtxOffset), indices,
                            static_cast<int>(command.ElemCount), sizeof(ImDrawIdx));
    }
  }
  SDL_RenderSetClipRect(renderer.get(), nullptr);
}

void SdlWindow::fonts_changed() {
  unsigned char* pixels = nullptr;
  int w = 0;
  int h = 0;
  ImFontAtlas& atlas = *ImGui::GetIO().Fonts;
  atlas.GetTexDataAsRGBA32(&pixels, &w, &h);
  inside_->fonts.reset(
      SDL_CreateTexture(inside_->renderer.get(), SDL_PIXELFORMAT_ABGR8888, SDL_TEXTUREACCESS_STATIC, w, h));
  SDL_UpdateTexture(inside_->fonts.get(), nullptr, pixels, 4 * w);
  SDL_SetTextureBlendMode(inside_->fonts.get(), SDL_BLENDMODE_BLEND);
  SDL_SetTextureScaleMode(inside_->fonts.get(), SDL_ScaleModeNearest);
  atlas.SetTexID(inside_->fonts.get());
  // The pixels are on the texture now; the glyphs' places are kept.
  atlas.ClearTexData();
  atlas.ClearInputData();
}

std::vector<std::uint8_t> SdlWindow::pixels() const {
  const auto [w, h] = inside_->surface();
  std::vector<std::uint8_t> bytes(static_cast<std::size_t>(w) * static_cast<std::size_t>(h) * 3);
  // A shown frame's back buffer need not hold it any more: draw it once again, and read before it is shown.
  if (const ImDrawData* data = ImGui::GetDrawData()) inside_->paint(*data);
  SDL_RenderReadPixels(inside_->renderer.get(), nullptr, SDL_PIXELFORMAT_RGB24, bytes.data(), w * 3);
  return bytes;
}

std::string SdlWindow::painter_name() const {
  SDL_RendererInfo info{};
  return SDL_GetRendererInfo(inside_->renderer.get(), &info) == 0 ? info.name : "";
}

std::string SdlWindow::program_folder() {
  char* folder = SDL_GetBasePath();
  if (folder == nullptr) return "";
  std::string found = folder;
  SDL_free(folder);
  return found;
}

void SdlWindow::resize(int width, int height) {
  SDL_SetWindowSize(inside_->window.get(), width, height);
}

}  // namespace motherbulb

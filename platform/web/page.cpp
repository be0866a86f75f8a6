#include "platform/web/page.hpp"

#include <SDL.h>
#include <emscripten.h>

#include <cstdlib>

EM_JS(char*, page_remembered, (const char* name),
      { return stringToNewUTF8(Module.page.remembered(UTF8ToString(name))); });
EM_JS(void, page_remember, (const char* name, const char* text),
      { Module.page.remember(UTF8ToString(name), UTF8ToString(text)); });
EM_JS(int, page_offset_minutes, (double utc_ms), { return -new Date(utc_ms).getTimezoneOffset(); });
EM_JS(void, page_hand_over, (const char* path, int share),
      { Module.page.handOver(UTF8ToString(path), share ? true : false); });
EM_JS(int, page_can_share, (), { return Module.page.canShare() ? 1 : 0; });
EM_JS(void, page_pick_files, (), { Module.page.pickFiles(); });
EM_JS(int, page_has_camera, (), { return Module.page.hasCamera() ? 1 : 0; });
EM_JS(void, page_start_camera, (), { Module.page.startCamera(); });
EM_JS(void, page_stop_camera, (), { Module.page.stopCamera(); });
EM_JS(void, page_start_reckoning, (const std::uint8_t* job, int size, int with_book),
      { Module.page.startReckoning(HEAPU8.slice(job, job + size), with_book ? true : false); });
EM_JS(void, page_stop_reckoning, (), { Module.page.stopReckoning(); });
EM_JS(void, page_hurry_reckoning, (), { Module.page.hurryReckoning(); });
EM_JS(int, page_reckoning_is_wanted, (), { return Module.page.reckoningIsWanted() ? 1 : 0; });
EM_JS(void, page_reckoning_goes_on, (double share, double target), { Module.page.reckoningGoesOn(share, target); });
EM_JS(void, page_open_demo, (), { Module.page.openDemo(); });
EM_JS(void, page_set_aside, (), { Module.page.setAside(); });
EM_JS(void, page_wake, (), { Module.page.wake(); });

namespace motherbulb::page {

std::string remembered(const std::string& name) {
  char* text = page_remembered(name.c_str());
  const std::string found = text == nullptr ? "" : text;
  std::free(text);
  return found;
}

void remember(const std::string& name, const std::string& text) {
  page_remember(name.c_str(), text.c_str());
}

std::int32_t offset_minutes(std::int64_t utc_ms) {
  return page_offset_minutes(static_cast<double>(utc_ms));
}

void hand_over(const std::string& path, bool share) {
  page_hand_over(path.c_str(), share ? 1 : 0);
}

bool can_share() {
  return page_can_share() != 0;
}

void pick_files() {
  page_pick_files();
}

bool has_camera() {
  return page_has_camera() != 0;
}

void start_camera() {
  page_start_camera();
}

void stop_camera() {
  page_stop_camera();
}

void start_reckoning(const std::vector<std::uint8_t>& job, bool with_book) {
  page_start_reckoning(job.data(), static_cast<int>(job.size()), with_book ? 1 : 0);
}

void stop_reckoning() {
  page_stop_reckoning();
}

void hurry_reckoning() {
  page_hurry_reckoning();
}

bool reckoning_is_wanted() {
  return page_reckoning_is_wanted() != 0;
}

void reckoning_goes_on(double share, std::int64_t target) {
  page_reckoning_goes_on(share, static_cast<double>(target));
}

void open_demo() {
  page_open_demo();
}

void set_aside() {
  page_set_aside();
}

void wake() {
  page_wake();
}

void wake_on_window_events() {
  SDL_AddEventWatch(
      [](void*, SDL_Event* event) {
        // SDL's own mark for the end of a poll is no event: woken by it, the page would never sleep.
        if (event->type != SDL_POLLSENTINEL) page_wake();
        return 1;
      },
      nullptr);
}

}  // namespace motherbulb::page

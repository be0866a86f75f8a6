// A parcel that comes by the camera, as codes off another screen.

#include "app/words/codes.hpp"
#include "app/app.hpp"
#include "core/file_names.hpp"

namespace motherbulb {

void App::start_camera() {
  if (!ui_.has_camera || ui_.scan.running) return;
  if (ui_.trouble && ui_.trouble->title == codes_words().camera_failed) ui_.trouble.reset();
  const Outcome started = surroundings_.start_camera();
  if (!started) return fail(codes_words().camera_failed, started.error());
  ui_.scan.running = true;
}

void App::stop_camera() {
  // What went wrong with it matters on its own screen only.
  if (ui_.trouble && ui_.trouble->title == codes_words().camera_failed) ui_.trouble.reset();
  if (!ui_.scan.running) return;
  ui_.scan.running = false;
  surroundings_.stop_camera();
}

void App::camera_failed(const Error& why) {
  if (!ui_.scan.running) return;
  ui_.scan.running = false;
  fail(codes_words().camera_failed, why);
}

void App::take_code(const std::vector<std::uint8_t>& bytes) {
  if (ui_.screen != Screen::scan || !ui_.scan.running) return;
  const CodesWords& w = codes_words();
  ScanDraft& scan = ui_.scan;
  const auto took = scan.collector.take({reinterpret_cast<const char*>(bytes.data()), bytes.size()});
  if (took == CodeCollector::Took::newer) scan.newer = true;
  if (took == CodeCollector::Took::fresh) scan.newer = false;
  auto whole = scan.collector.whole();
  if (!whole) return;
  stop_camera();
  const auto file = surroundings_.take_in_bytes(file_name({std::string(w.file_part)}, local_day(now()), ".parcel"),
                                                std::move(*whole));
  if (!file) {
    scan.collector = {};
    return fail(w.not_taken, file.error());
  }
  ui_.trouble.reset();
  go_to_place(Screen::merge);
  take_in(*file);
}

}  // namespace motherbulb

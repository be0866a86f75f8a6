// The program as a page: what main.cpp is on a desktop. The page (platform/web/page/page.js) has put the store's files
// and the fonts into the files in memory before it calls motherbulb_start; then it calls motherbulb_step whenever
// something has happened, and hands what was written to the keeper.
#include <emscripten.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <memory>
#include <string>
#include <vector>

#include "app/reckoning.hpp"
#include "app/reckoning_codec.hpp"
#include "app/spoken.hpp"
#include "app/window.hpp"
#include "core/demo.hpp"
#include "platform/remembered.hpp"
#include "platform/sdl_window.hpp"
#include "platform/web/page.hpp"
#include "platform/web/page_disk.hpp"
#include "platform/web/page_files.hpp"
#include "platform/web/web_host.hpp"

namespace {

using namespace motherbulb;

constexpr const char* store_path = "/book/motherbulb.book";
constexpr const char* state_folder = "/state";

struct Page {
  PageDisk disk{store_path};
  WebHost host;
  Remembered remembered = load_remembered(state_folder);
  std::unique_ptr<Logbook> book;
  std::unique_ptr<SdlWindow> window;
  std::unique_ptr<App> app;
  std::unique_ptr<Session<SdlWindow>> session;
  RecordedDisk::Group group;  // taken last: the page reads its bytes
  std::string text;           // told last: the page reads it
  bool of_no_use = false;     // the book could not be opened, and never will be
  DeviceStorage storage;
  bool demo = false, read_only = false;
};

// Lives as long as the page: its parts are reached from the page's calls.
std::unique_ptr<Page> page_here;

HandedOut handed_out_of(const Remembered& remembered) {
  return {remembered.handed_writer, remembered.handed_upto};
}

void remember_if_changed(Page& page) {
  const UiState& ui = page.app->ui();
  if (page.remembered.helper == ui.helper && settings_remembered(page.remembered) == ui.settings &&
      handed_out_of(page.remembered) == ui.handed_out)
    return;
  page.remembered.handed_writer = ui.handed_out.writer;
  page.remembered.handed_upto = ui.handed_out.upto;
  remember(page.remembered, ui.helper, ui.settings);
  save_remembered(state_folder, page.remembered);
  page::remember("window", text_of_remembered(page.remembered));
}

Surroundings surroundings_of_page(Page& page) {
  Surroundings around = surroundings_of<PageFiles>(store_path);
  around.places_to_write = [look = around.places_to_write] {
    std::vector<PlaceToWrite> places = look();
    for (PlaceToWrite& place : places) place.leaves = true;
    return places;
  };
  around.hand_over = [](const std::string& path) { PageFiles::hand_over(path); };
  around.pick_files = [] { page::pick_files(); };
  if (page::has_camera()) {
    around.start_camera = []() -> Outcome {
      page::start_camera();
      return Done{};
    };
    around.stop_camera = [] { page::stop_camera(); };
    around.take_in_bytes = [look = around.look_at_file](const std::string& name,
                                                        const std::vector<std::uint8_t>& bytes) -> Result<FoundParcel> {
      const auto path = PageFiles::take_in(name, bytes);
      if (!path) return path.error();
      return look(*path);
    };
  }
  around.start_reckoning = [](const ReckonJob& job) { page::start_reckoning(encode_job(job), job.asks_book()); };
  around.stop_reckoning = [] { page::stop_reckoning(); };
  around.hurry_reckoning = [] { page::hurry_reckoning(); };
  around.open_demo = [] { page::open_demo(); };
  if (!page.read_only) {
    around.set_aside = [&page] {
      page.book->rest();  // then all of it is in one file
      page::set_aside();
    };
  }
  around.safety = [&page]() -> Safety {
    switch (page.disk.state()) {
      case PageDisk::State::safe:
        return {Safety::State::safe, ""};
      case PageDisk::State::on_its_way:
        return {Safety::State::on_its_way, ""};
      case PageDisk::State::failed:
        break;
    }
    return {Safety::State::failed, page.disk.why()};
  };
  around.take_back = [&page] {
    page.host.taken_back();
    return page.disk.take_back();
  };
  if (!page.demo) around.storage = [&page] { return page.storage; };
  return around;
}

// The demo book, where there is no book yet; its helpers' parcels wait as if they had been chosen.
Outcome make_demo(Page& page) {
  const std::int64_t now = page.host.now_ms();
  const Day today = local_day(moment(now, page.host.offset_minutes(now)));
  if (Outcome made = write_demo(store_path, today, page.host); !made) return made;
  for (const std::string& parcel : demo_parcels(store_path)) PageFiles::move_in(parcel);
  return Done{};
}

// What was reckoned last: the page reads its bytes.
std::vector<std::uint8_t> answer_here;

Result<ReckonAnswer> answer_to(const std::vector<std::uint8_t>& bytes) {
  const auto job = decode_job(bytes);
  if (!job) return job.error();
  WebHost host;
  std::unique_ptr<Logbook> book;
  if (job->asks_book()) {
    OpenWish wish;
    wish.read_only = true;
    auto opened = Logbook::open(store_path, wish, host);
    if (!opened) return opened.error();
    book = std::move(*opened);
  }
  std::int64_t target = 0;
  double told = -1;
  ReckonWatch watch;
  watch.go_on = [&](double share) {
    if (share >= told + 0.01) page::reckoning_goes_on(told = share, target);
    return page::reckoning_is_wanted();
  };
  watch.aims_at = [&](std::int64_t at) { page::reckoning_goes_on(std::max(0.0, told), target = at); };
  watch.now_ms = [&host] { return host.now_ms(); };
  return reckon(book.get(), *job, watch);
}

const char* tell(Page& page, std::string text) {
  page.text = std::move(text);
  return page.text.c_str();
}

}  // namespace

extern "C" {

// Opens the book and draws the first frame. An empty text: done; else what hindered it, in words.
EMSCRIPTEN_KEEPALIVE const char* motherbulb_start(int width, int height, int read_only, int demo) {
  page_here = std::make_unique<Page>();
  Page& page = *page_here;
  page.demo = demo != 0;
  page.read_only = read_only != 0;
  PageFiles::set_up();
  if (demo != 0 && read_only == 0 && !PageFiles::is_there(store_path)) {
    if (Outcome made = make_demo(page); !made) return tell(page, made.error().what);
  }
  OpenWish wish;
  wish.create = read_only == 0;
  wish.read_only = read_only != 0;
  auto book = Logbook::open(store_path, wish, page.host);
  if (!book) {
    const ErrorKind kind = book.error().kind;
    page.of_no_use = !page.read_only && (kind == ErrorKind::damaged || kind == ErrorKind::foreign);
    return tell(page, book.error().what);
  }
  page.book = std::move(*book);
  auto window = SdlWindow::open({"Motherbulb", width, height});
  if (!window) return tell(page, window.error().what);
  page.window = std::move(*window);
  page.app = std::make_unique<App>(
      *page.book, page.host, surroundings_of_page(page),
      AppWish{page.remembered.helper, settings_remembered(page.remembered), handed_out_of(page.remembered)});
  page.app->fonts().keep_log(true);  // what is written stands in the page's mirror too
  page.session = std::make_unique<Session<SdlWindow>>(*page.app, *page.window, "/fonts");
  page::wake_on_window_events();
  page.session->step(0);
  return tell(page, "");
}

// After that failed: whether nothing but a new book will help.
EMSCRIPTEN_KEEPALIVE int motherbulb_of_no_use() {
  return page_here->of_no_use ? 1 : 0;
}

// Answers all that has happened. How long nothing needs to be done, in ms: 0 where another frame is due, -1 without
// end.
EMSCRIPTEN_KEEPALIVE int motherbulb_step() {
  Page& page = *page_here;
  page.session->step(0);
  remember_if_changed(page);
  return page.session->patience();
}

// Of the files: what was written since. 0: nothing; else the number of the group, whose bytes the next two name.
EMSCRIPTEN_KEEPALIVE double motherbulb_take_changes() {
  Page& page = *page_here;
  if (!page.disk.recorded().has_news()) return 0;
  page.group = page.disk.recorded().take();
  return static_cast<double>(page.group.number);
}
EMSCRIPTEN_KEEPALIVE const std::uint8_t* motherbulb_changes() {
  return page_here->group.changes.data();
}
EMSCRIPTEN_KEEPALIVE int motherbulb_changes_size() {
  return static_cast<int>(page_here->group.changes.size());
}
EMSCRIPTEN_KEEPALIVE int motherbulb_changes_after_loss() {
  return page_here->group.after_loss ? 1 : 0;
}
// What the keeper answered.
EMSCRIPTEN_KEEPALIVE void motherbulb_safe(double group) {
  Page& page = *page_here;
  page.disk.safe(static_cast<std::uint64_t>(group));
  if (page.disk.state() == PageDisk::State::safe) page.host.safe();
}
EMSCRIPTEN_KEEPALIVE void motherbulb_failed(const char* why) {
  page_here->disk.failed(why);
}

// How safe the browser's storage is: persisted 1, not 0, unknown -1; bytes used and allowed, 0 where unknown.
EMSCRIPTEN_KEEPALIVE void motherbulb_storage(int persisted, double used, double allowed) {
  page_here->storage = {true, persisted != 0, used, allowed};
  page_here->session->ask_for_frame();
}

// A parcel lies there under its name.
EMSCRIPTEN_KEEPALIVE void motherbulb_dropped(const char* path) {
  WindowInput dropped;
  dropped.kind = WindowInput::Kind::drop;
  dropped.text = path;
  page_here->session->put(std::move(dropped));
}

// The camera saw a code.
EMSCRIPTEN_KEEPALIVE void motherbulb_code(const char* text) {
  const std::string seen = text;
  page_here->app->take_code({seen.begin(), seen.end()});
  page_here->session->ask_for_frame();
}
// It gives no picture.
EMSCRIPTEN_KEEPALIVE void motherbulb_camera_failed(const char* why) {
  page_here->app->camera_failed({ErrorKind::missing, why, {}});
  page_here->session->ask_for_frame();
}
// Where its picture lies, in pixels: "x y w h"; all 0 where there is none.
EMSCRIPTEN_KEEPALIVE const char* motherbulb_camera_place() {
  Page& page = *page_here;
  const ScanDraft& scan = page.app->ui().scan;
  const Rect place = page.app->ui().screen == Screen::scan && scan.running ? scan.picture : Rect{};
  const float scale = page.app->fonts().scale();
  std::string text;
  for (const float one : {place.x, place.y, place.w, place.h})
    text += (text.empty() ? "" : " ") + std::to_string(static_cast<int>(std::lround(one * scale)));
  return tell(page, std::move(text));
}

// In the page's second worker, which holds no window and no book of its own: carries out a job; the book's files lie
// where they do in the page, where it asks for them. The answer's size; its bytes are named by the next.
EMSCRIPTEN_KEEPALIVE int motherbulb_reckon(const std::uint8_t* job, int size) {
  answer_here = encode_answer(answer_to({job, job + size}));
  return static_cast<int>(answer_here.size());
}
EMSCRIPTEN_KEEPALIVE const std::uint8_t* motherbulb_answer() {
  return answer_here.data();
}
// In the page: what came from there.
EMSCRIPTEN_KEEPALIVE void motherbulb_reckoning_goes_on(double share, double target) {
  page_here->app->reckoning_goes_on(share, static_cast<std::int64_t>(target));
  page_here->session->ask_for_frame();
}
EMSCRIPTEN_KEEPALIVE void motherbulb_reckoned(const std::uint8_t* answer, int size) {
  page_here->app->reckoned(decode_answer({answer, answer + size}));
  page_here->session->ask_for_frame();
}
EMSCRIPTEN_KEEPALIVE void motherbulb_not_reckoned(const char* why) {
  page_here->app->reckoned(Error{ErrorKind::failed, why, {}});
  page_here->session->ask_for_frame();
}

// All that can be touched and read, as JSON (app/spoken.hpp).
EMSCRIPTEN_KEEPALIVE const char* motherbulb_spoken() {
  Page& page = *page_here;
  return tell(page, spoken_json(*page.app));
}
// A control of it was pressed otherwise than by touch.
EMSCRIPTEN_KEEPALIVE void motherbulb_press(const char* name) {
  page_here->app->touch().press_by_name(name);
  page_here->session->ask_for_frame();
}
EMSCRIPTEN_KEEPALIVE void motherbulb_write(const char* name, const char* text) {
  page_here->app->touch().write_by_name(name, text);
  page_here->session->ask_for_frame();
}

// The device's own way back. 0: there is nowhere to go back to.
EMSCRIPTEN_KEEPALIVE int motherbulb_back() {
  const bool gone = page_here->app->step_back();
  page_here->session->ask_for_frame();
  return gone ? 1 : 0;
}
// Something is begun that leaving the page would lose.
EMSCRIPTEN_KEEPALIVE int motherbulb_unsaved() {
  const Page& page = *page_here;
  return page.app->has_unsaved() || page.app->awaits_disk() ? 1 : 0;
}
EMSCRIPTEN_KEEPALIVE double motherbulb_frames() {
  return static_cast<double>(page_here->session->frames_shown());
}
EMSCRIPTEN_KEEPALIVE double motherbulb_entries() {
  return static_cast<double>(page_here->book->entry_count());
}
EMSCRIPTEN_KEEPALIVE const char* motherbulb_digest() {
  return tell(*page_here, page_here->book->digest());
}

}  // extern "C"

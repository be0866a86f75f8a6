// Wires core, app and platform together; does nothing else.
#include <filesystem>
#include <string>
#include <vector>

#include "app/cli/cli.hpp"
#include "app/cli/output.hpp"
#include "app/window.hpp"
#include "platform/desktop/nearby.hpp"
#include "platform/desktop/remembered.hpp"
#include "platform/desktop/window.hpp"
#include "platform/desktop_host.hpp"
#include "platform/files.hpp"

namespace {

using namespace motherbulb;

// `store` empty: the book that was open last.
int open_window(Host& host, const std::string& store) {
  const std::string folder = DesktopHost::usual_state_folder();
  Remembered remembered = load_remembered(folder);
  if (!store.empty()) remembered.store = std::filesystem::absolute(store).string();
  if (remembered.store.empty()) {
    return cli::fail_usage("no book was open here before: name one, or make one with `motherbulb demo STORE`.");
  }
  const auto book = Logbook::open(remembered.store, OpenWish{}, host);
  if (!book) return cli::fail(book.error());
  save_remembered(folder, remembered);
  WindowOptions options;
  options.helper = remembered.helper;
  options.settings.night = remembered.night;
  options.settings.left_hand = remembered.left_hand;
  options.settings.less_motion = remembered.less_motion;
  options.settings.south = remembered.south;
  options.settings.text_percent = remembered.text_percent;
  options.fonts = DesktopWindow::program_folder() + "assets/fonts";
  const Outcome run = run_window<DesktopWindow, NearbyFiles>(**book, host, options,
                                                             [&](const std::string& helper, const Settings& settings) {
                                                               remembered.helper = helper;
                                                               remembered.night = settings.night;
                                                               remembered.left_hand = settings.left_hand;
                                                               remembered.less_motion = settings.less_motion;
                                                               remembered.south = settings.south;
                                                               remembered.text_percent = settings.text_percent;
                                                               save_remembered(folder, remembered);
                                                             });
  return run ? 0 : cli::fail(run.error());
}

}  // namespace

int main(int count, char** words) {
  DesktopHost host;
  const cli::Machine machine{host,
                             FileSource::open,
                             FileSink::create,
                             file_exists,
                             looks_like_a_store,
                             remove_new_store,
                             [&host](const std::string& store) { return open_window(host, store); }};
  return cli::run_command_line(std::vector<std::string>(words + (count > 0 ? 1 : 0), words + count), machine);
}

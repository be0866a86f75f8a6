// Wires core, app and platform together; does nothing else.
#include <filesystem>
#include <string>
#include <vector>

#include "app/cli/cli.hpp"
#include "app/cli/output.hpp"
#include "app/window.hpp"
#include "platform/desktop/nearby.hpp"
#include "platform/desktop_host.hpp"
#include "platform/files.hpp"
#include "platform/remembered.hpp"
#include "platform/sdl_window.hpp"

namespace {

using namespace motherbulb;

// A first book, where no book was ever open on this machine.
struct FirstBook {
  std::string path;
  bool is_new = false;
};
FirstBook first_book() {
  const std::string folder = DesktopHost::usual_data_folder();
  if (folder.empty()) return {};
  std::error_code ignored;  // what is not there shows when the book is opened
  std::filesystem::create_directories(folder, ignored);
  const std::string path = (std::filesystem::path(folder) / "motherbulb.book").string();
  return {path, !file_exists(path)};
}

// `store` empty: the book that was open last, or else a first one.
int open_window(Host& host, const std::string& store) {
  const std::string folder = DesktopHost::usual_state_folder();
  Remembered remembered = load_remembered(folder);
  if (!store.empty()) remembered.store = std::filesystem::absolute(store).string();
  OpenWish wish;
  FirstBook first;
  if (remembered.store.empty()) {
    first = first_book();
    if (first.path.empty()) {
      return cli::fail_usage("no book was open here before: name one, or make one with `motherbulb demo STORE`.");
    }
    remembered.store = first.path;
    wish.create = true;
  }
  auto book = Logbook::open(remembered.store, wish, host);
  if (!book) return cli::fail(book.error());
  if (!first.is_new) save_remembered(folder, remembered);
  WindowOptions options;
  options.helper = remembered.helper;
  options.settings = settings_remembered(remembered);
  options.fonts = SdlWindow::program_folder() + "assets/fonts";
  const Outcome run = run_window<SdlWindow, NearbyFiles>(**book, host, options,
                                                         [&](const std::string& helper, const Settings& settings) {
                                                           remember(remembered, helper, settings);
                                                           save_remembered(folder, remembered);
                                                         });
  if (!run) {
    // No window came up: a book made for it alone is not left behind.
    if (first.is_new) {
      book = Error{};
      remove_new_store(first.path);
    }
    return cli::fail(run.error());
  }
  save_remembered(folder, remembered);
  return 0;
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

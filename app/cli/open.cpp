#include "app/cli/command.hpp"

namespace motherbulb::cli {

Result<std::unique_ptr<Logbook>> open_to_look(const std::string& store, const Context& context) {
  OpenWish wish;
  wish.read_only = true;
  return Logbook::open(store, wish, context.machine.host);
}

namespace {

Result<std::unique_ptr<Logbook>> open_or_make(const std::string& store, const std::string& letter,
                                              const Context& context) {
  OpenWish wish;
  wish.create = true;
  wish.letter = letter;
  return Logbook::open(store, wish, context.machine.host);
}

}  // namespace

OpenedStore::OpenedStore(const std::string& store, const std::string& letter, const Context& context)
    : store_(store),
      context_(context),
      existed_(context.machine.exists(store)),
      book_(open_or_make(store, letter, context)) {}

OpenedStore::~OpenedStore() {
  if (keep_ || existed_) return;
  if (book_.ok()) (*book_).reset();
  context_.machine.remove_new_store(store_);
}

}  // namespace motherbulb::cli

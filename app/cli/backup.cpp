#include "app/cli/command.hpp"

namespace motherbulb::cli {

int backup(const BackupWish& wish, const Context& context) {
  auto opened = open_to_look(wish.store, context);
  if (!opened) return fail(opened.error());
  auto outcome = (*opened)->backup(wish.file);
  if (!outcome) return fail(outcome.error());
  if (context.format == Format::json) {
    return say_json(Json{{"entries", (*opened)->entry_count()}, {"file", wish.file}, {"digest", (*opened)->digest()}});
  }
  return say(counted((*opened)->entry_count(), "entry", "entries") + " copied to " + wish.file +
             ", read back and found the same.\n");
}

}  // namespace motherbulb::cli

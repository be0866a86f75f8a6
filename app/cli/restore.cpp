#include "app/cli/command.hpp"

namespace motherbulb::cli {

int restore(const RestoreWish& wish, const Context& context) {
  auto outcome = Logbook::restore(wish.file, wish.store, context.machine.host);
  if (!outcome) return fail(outcome.error());
  auto opened = open_to_look(wish.store, context);
  if (!opened) return fail(opened.error());
  if (context.format == Format::json) {
    return say_json(
        Json{{"entries", (*opened)->entry_count()}, {"store", wish.store}, {"digest", (*opened)->digest()}});
  }
  return say(counted((*opened)->entry_count(), "entry", "entries") + " restored into " + wish.store +
             ". What was recorded since the backup comes back with the other devices' parcels.\n");
}

}  // namespace motherbulb::cli

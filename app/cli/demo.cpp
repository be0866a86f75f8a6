#include "core/demo.hpp"

#include "app/cli/command.hpp"
#include "app/cli/day.hpp"

namespace motherbulb::cli {

int demo(const DemoWish& wish, const Context& context) {
  const auto on = day_or_today(wish.on, context.machine.host);
  if (!on) return fail(on.error());
  auto outcome = write_demo(wish.store, *on, context.machine.host);
  if (!outcome) return fail(outcome.error());
  const auto parcels = demo_parcels(wish.store);
  if (context.format == Format::json) {
    return say_json(Json{{"store", wish.store}, {"on", to_text(*on)}, {"parcels", parcels}});
  }
  return say("The demo book stands in " + wish.store + "; its seasons end on " + to_text(*on) +
             ". All in it is invented.\nTwo helpers' parcels lie beside it, for you to merge:\n  motherbulb merge " +
             wish.store + " " + parcels[0] + " " + parcels[1] + "\n");
}

}  // namespace motherbulb::cli

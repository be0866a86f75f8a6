#include "core/demo/house.hpp"

#include <algorithm>

namespace motherbulb::demo {

std::int32_t House::nerine_grows(std::int32_t girth_mm) {
  if (girth_mm < 70) return chance_.around_middle(22, 34);
  return girth_mm < 120 ? chance_.around_middle(14, 24) : chance_.around_middle(0, 6);
}

void House::nerine(Clone clone, std::int32_t count) {
  const auto grows = [this](std::int32_t girth) { return nerine_grows(girth); };
  const auto to_a_pot = [](std::int32_t girth) { return girth < 50 ? 12 : girth < 90 ? 5 : 1; };  // V171: 10 cm for one
  const std::string bench(clones[clone].bench);
  std::vector<Batch> all;
  all.push_back(begin_bulbs(clone, first_, bulbs_of(clone, count, {105, 145}), "stock as it stood"));
  pot_bulbs(all.front(), later(first_, 1), bench, to_a_pot);
  Day from = later(first_, 1);
  const std::int32_t first_year = civil(first_).year, last_year = civil(last_).year;
  for (std::int32_t year = first_year; year <= last_year; ++year) {
    const Day up = in_week(year, 14, 2), started = in_week(year, 15, 2), dry = in_week(year, 51, 3);
    if (later(first_, 60) <= up) {
      if (last_ < later(up, 1)) break;
      for (Batch& batch : all) {
        for (Pot& pot : batch.pots) {
          if (pot.emptied) continue;
          Bulbs offsets;
          for (const Bulb& bulb : pot.bulbs) {
            if (bulb.girth_mm >= 120 && chance_.percent(45)) {
              const Bulbs one = bulbs_of(clone, 1, {45, 80});
              offsets.insert(offsets.end(), one.begin(), one.end());
            }
          }
          unpot_bulbs(batch, pot, up, grows, offsets);
        }
      }
      Batch& stock = all.front();
      // S49 in the trade facts: a hidden virus, so stock is tested before it is increased.
      write(stock, later(up, -30), 0, Tested{"Nerine latent virus", TestResult::negative, "two leaves of each mother"});
      Batch batch = begin_cut(stock, later(up, 1), 2, Method::twin_scaling, 24, "damp vermiculite");
      pot_pieces(batch, later(up, 1), 24, "propagator");
      pieces_rot(batch, later(up, 1), 9, 9);
      const Day opened = later(up, 7 * 12);
      care(batch, later(up, 1), opened, {{200, 300}, {0, 0}, {24, 34}});
      // V126 (common practice): 0.5 to 0.9 bulblets a twin-scale.
      for (Pot& pot : batch.pots) unpot_pieces(batch, pot, opened, form(batch, pot, 76, 100, 0, {14, 34}));
      if (opened <= last_) pot_bulbs(batch, later(opened, 1), bench, to_a_pot);
      for (Batch& older : all) {
        if (!older.waiting.empty()) pot_bulbs(older, started, bench, to_a_pot);
        write(older, started, 0, Started{});
      }
      all.push_back(std::move(batch));
      from = started;
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
      Batch& batch = all[i];
      if (batch.pots.empty()) continue;
      const Day since = std::max(from, batch.pots.back().since);
      bulbs_rot(batch, since, dry, 8);
      care(batch, since, dry, {{18, 26}, {0, 0}, {120, 170}});
      for (const Pot& pot : batch.pots) {
        // V214, V215: sold at 12 to 16 cm, which flower.
        if (pot.emptied || largest_mm(pot) < 118 || last_year + 1 < year) continue;
        const Day in_flower = in_week(year, 40 + static_cast<std::int32_t>(i % 2), 2);
        if (since < in_flower && chance_.percent(60)) {
          write(batch, in_flower, pot.number, Flowered{static_cast<std::int64_t>(pot.bulbs.size()), 0, ""});
        }
      }
      if (since < dry) write(batch, dry, 0, DriedOff{"cold and dry until April"});
    }
  }
  for (Batch& batch : all) grown_[clone].push_back(std::move(batch));
}

}  // namespace motherbulb::demo

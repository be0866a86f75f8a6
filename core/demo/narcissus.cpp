#include "core/demo/house.hpp"

#include <algorithm>

namespace motherbulb::demo {

std::int32_t House::narcissus_grows(std::int32_t girth_mm) {
  if (girth_mm < 40) return chance_.around_middle(22, 36);
  if (girth_mm < 70) return chance_.around_middle(18, 30);
  if (girth_mm < 100) return chance_.around_middle(13, 24);
  return girth_mm < 140 ? chance_.around_middle(4, 12) : chance_.around_middle(0, 4);
}

void House::narcissus(Clone clone, std::int32_t count, Method method) {
  const auto grows = [this](std::int32_t girth) { return narcissus_grows(girth); };
  const auto to_a_pot = [](std::int32_t girth) { return girth < 40 ? 14 : girth < 70 ? 10 : 5; };
  std::vector<Batch> all;
  all.push_back(begin_bulbs(clone, first_, bulbs_of(clone, count, {100, 150}), "stock as it stood"));
  pot_bulbs(all.front(), later(first_, 1), std::string(clones[clone].bench), to_a_pot);
  Day from = later(first_, 1);
  const std::int32_t first_year = civil(first_).year, last_year = civil(last_).year;
  for (std::int32_t year = first_year; year <= last_year; ++year) {
    const Day leaves_down = in_week(year, 23, 2), lifted = in_week(year, 26, clone == tallow_window ? 2 : 3);
    const Day cut_on = in_week(year, 30, 4), planted = in_week(year, 38, 3);
    if (lifted < later(first_, 60)) continue;
    if (last_ < leaves_down) break;
    for (std::size_t i = 0; i < all.size(); ++i) {
      Batch& batch = all[i];
      bulbs_rot(batch, std::max(from, batch.pots.back().since), leaves_down, 8);
      care(batch, std::max(from, batch.pots.empty() ? from : batch.pots.back().since), leaves_down,
           {{18, 26}, {0, 0}, {110, 150}});
      for (const Pot& pot : batch.pots) {
        if (pot.emptied || largest_mm(pot) < 100) continue;  // V210: from about 10 g on a bulb flowers
        Flowered flowered;
        flowered.true_to_type = static_cast<std::int64_t>(pot.bulbs.size());
        const Day in_flower = in_week(year, 12 + static_cast<std::int32_t>(i % 3), 3);
        if (pot.since < later(in_flower, -90)) write(batch, in_flower, pot.number, flowered);
      }
      write(batch, leaves_down, 0, DriedOff{"leaves down"});
      for (Pot& pot : batch.pots) {
        if (pot.emptied) continue;
        Bulbs offsets;
        for (const Bulb& bulb : pot.bulbs) {
          // V077: offsets from about 35 g on (V070: 40 g is 10 to 12 cm); V078: none of what was cut in their second
          // year, which they spend below that.
          if (bulb.girth_mm >= 115 && chance_.percent(38)) {
            const Bulbs one = bulbs_of(clone, 1, {50, 90});
            offsets.insert(offsets.end(), one.begin(), one.end());
          }
        }
        unpot_bulbs(batch, pot, lifted, grows, offsets);
      }
    }
    const bool cuts_now = clone == tallow_window || (year - first_year) % 2 == 1;
    if (cuts_now && cut_on <= last_) {
      Batch& stock = all.front();
      const std::int32_t mothers = clone == tallow_window ? 3 : 1;
      // V069: a bulb of 10 to 12 cm into 8; V066: a large one into 60 to 100 twin-scales. A bag counts as one pot.
      Batch batch = begin_cut(stock, cut_on, mothers, method, clone == tallow_window ? 8 : 60, "damp vermiculite");
      pot_pieces(batch, cut_on, clone == tallow_window ? 12 : 30, "propagator");
      pieces_rot(batch, cut_on, 9, 5);
      // V072, V073: 12 weeks at 20 C.
      const Day opened = later(cut_on, 7 * 12);
      care(batch, cut_on, opened, {{200, 300}, {0, 0}, {24, 34}});
      for (Pot& pot : batch.pots) {
        // V075: 0.51 to 1.5 bulbs a propagule; V064, V065: of twin-scales 80 to 90 in a hundred, one each. V074:
        // those from 10 mm on grow on.
        const Formed formed =
            clone == tallow_window ? form(batch, pot, 88, 84, 16, {16, 40}) : form(batch, pot, 88, 100, 0, {14, 34});
        unpot_pieces(batch, pot, opened, formed);
      }
      if (opened <= last_) pot_bulbs(batch, later(opened, 1), std::string(clones[clone].bench), to_a_pot);
      all.push_back(std::move(batch));
    }
    if (clone == tallow_window) {
      // V160: saleable from 12 cm.
      let_go(all.front(), in_week(year, 34, 5), 128, 7, Sold{{}, 220, "harbour market"});
    } else if (year == last_year - 1) {
      let_go(all.front(), in_week(year, 34, 5), 120, 4, Given{{}, "to the school garden"});
    }
    for (Batch& batch : all) {
      if (!batch.waiting.empty()) pot_bulbs(batch, planted, std::string(clones[clone].bench), to_a_pot);
    }
    if (clone == eighth_buoy && year == first_year + 2) off_type(all.front(), in_week(year + 1, 13, 4));
    from = planted;
  }
  if (last_ < in_week(last_year, 23, 2) || in_week(last_year, 38, 3) <= last_) {
    for (const Batch& batch : all) {
      care(batch, std::max(from, batch.pots.back().since), last_, {{18, 26}, {0, 0}, {110, 150}});
    }
  }
  for (Batch& batch : all) grown_[clone].push_back(std::move(batch));
}

void House::off_type(Batch& batch, Day day) {
  for (Pot& pot : batch.pots) {
    if (pot.emptied || pot.bulbs.size() < 3) continue;
    if (last_ <= day) return;
    write(batch, day, pot.number,
          Flowered{static_cast<std::int64_t>(pot.bulbs.size()) - 1, 1, "one with a darker cup"});
    Discarded discarded;
    discarded.lines = counted({pot.bulbs.back()});
    discarded.note = "not true";
    write(batch, later(day, 1), pot.number, discarded);
    pot.bulbs.pop_back();
    return;
  }
}

}  // namespace motherbulb::demo

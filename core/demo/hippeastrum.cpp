#include "core/demo/house.hpp"

#include <algorithm>

namespace motherbulb::demo {

Formed House::form_crosswise(const Batch& batch, Range girth_mm) {
  return {bulbs_of(batch.clone, batch.sections + (chance_.percent(50) ? 1 : 0), girth_mm), 1};
}

Formed House::form_hippeastrum(const Batch& batch, const Pot& pot) {
  // Size in the first autumn. V036: 20.74 mm across in pots, a girth of 65 mm; V026: most at 12 cm and more, but in a
  // bed of warm soil and after 11 months; ours stand in pots for 8.
  constexpr Range girth_mm = {28, 108};
  if (leaves_mother_whole(batch.method)) return form_crosswise(batch, girth_mm);
  // V007: 1.625 bulblets to a section of 8; V022: 1.70 of 12; V034: up to 2.2 of 4. Ours 1.6 to a section that lives.
  return form(batch, pot, 94, 47, 44, girth_mm);
}

std::int32_t House::hippeastrum_grows(std::int32_t girth_mm) {
  if (girth_mm < 120) return chance_.around_middle(62, 90);
  if (girth_mm < 180) return chance_.around_middle(52, 72);
  if (girth_mm < 240) return chance_.around_middle(22, 40);
  return chance_.around_middle(4, 14);
}

Bulbs House::hippeastrum_offsets(Clone clone, std::int32_t mothers) {
  Bulbs all;
  for (std::int32_t i = 0; i < mothers; ++i) {
    const Bulbs some = bulbs_of(clone, chance_.around_middle(0, 2), {55, 110});
    all.insert(all.end(), some.begin(), some.end());
  }
  return all;
}

std::int32_t House::hippeastrum_to_a_pot(std::int32_t girth_mm) {
  return girth_mm < 80 ? 4 : girth_mm < 120 ? 3 : girth_mm < 160 ? 2 : 1;
}

void House::hippeastrum(Clone clone, std::int32_t mothers, std::int32_t girth_mm) {
  const bool ember = clone == harbour_ember;
  const std::string bench(clones[clone].bench);
  const Growth nothing = [](std::int32_t) { return 0; };  // it is added when the season ends, below

  Batch stock =
      begin_bulbs(clone, first_, bulbs_of(clone, mothers, {girth_mm - 25, girth_mm + 25}),
                  ember ? "offsets of our own seedling, raised in this house" : "bought in as five, grown on");
  pot_bulbs(stock, first_, bench, [](std::int32_t) { return 1; });

  struct Cohort {
    Batch batch;
    int season;
  };
  std::vector<Cohort> young;
  for (int season = 0; season < 4; ++season) {
    const Day end = later(last_, -7 * 52 * (3 - season));
    const Day cut_on = later(end, -7 * 35 + (ember ? 0 : 5));
    const Day dry = later(cut_on, -7 * 9);  // V132, V145: a rest of 8 to 10 weeks

    // The mothers' year.
    care(stock, season == 0 ? first_ : later(end, -7 * 52), dry, {{17, 24}, {34, 48}, {150, 220}});
    write(stock, dry, 0, DriedOff{});
    std::vector<std::size_t> largest;
    for (std::size_t i = 0; i < stock.pots.size(); ++i) {
      if (filled(stock.pots[i])) largest.push_back(i);
    }
    std::stable_sort(largest.begin(), largest.end(), [&](std::size_t a, std::size_t b) {
      return largest_mm(stock.pots[a]) > largest_mm(stock.pots[b]);
    });
    static constexpr std::int32_t ember_cuts[] = {2, 2, 3, 8}, ledge_cuts[] = {1, 2, 2, 5};
    const auto take =
        std::min(largest.size(), static_cast<std::size_t>(ember ? ember_cuts[season] : ledge_cuts[season]));
    for (std::size_t i = 0; i < take; ++i) {
      Pot& pot = stock.pots[largest[i]];
      unpot_bulbs(stock, pot, cut_on, nothing, hippeastrum_offsets(clone, season == 0 ? 0 : 1));
    }
    if (ember && season == 2) check_for_virus(stock, later(cut_on, 84));
    const auto cut = static_cast<std::int32_t>(take);
    std::vector<Batch> cuts_made;
    if (season == 0) {
      cuts_made.push_back(begin_cut(stock, cut_on, cut, Method::cross_cutting, 8, "damp perlite"));
    } else if (season == 1) {
      cuts_made.push_back(begin_cut(stock, cut_on, cut, Method::chipping, 8, "damp perlite"));
    } else if (season == 2) {
      cuts_made.push_back(begin_cut(stock, cut_on, cut, Method::chipping, 12, "perlite and bark"));
    } else {
      const std::int32_t chipped = cut / 2;
      cuts_made.push_back(begin_cut(stock, cut_on, chipped, Method::chipping, 8, "damp perlite"));
      cuts_made.push_back(begin_cut(stock, later(cut_on, 1), cut - chipped, Method::cross_cutting, 8, "damp perlite"));
    }
    // V149: established bulbs are repotted every 3 to 5 years. Half the mothers are, in the last season.
    if (season == 3) {
      int seen = 0;
      for (Pot& pot : stock.pots) {
        if (pot.emptied || pot.since != first_ || ++seen % 2 == 0) continue;
        Repotted repotted;
        for (Bulb& bulb : pot.bulbs) {
          bulb.girth_mm += 14;
          bulb.noted = class_of(clone, bulb.girth_mm);
        }
        repotted.lines = counted(pot.bulbs);
        repotted.place = pot.place;
        write(stock, later(cut_on, 2), pot.number, repotted);
      }
    }
    write(stock, later(cut_on, 3), 0, Started{});
    pot_bulbs(stock, later(cut_on, 4), bench, hippeastrum_to_a_pot);
    // V144: in flower 6 to 10 weeks after the start.
    for (const Pot& pot : stock.pots) {
      if (pot.emptied || largest_mm(pot) < 220) continue;
      Flowered flowered;
      flowered.true_to_type = chance_.between(1, 2);
      write(stock, later(cut_on, 7 * chance_.between(7, 10)), pot.number, flowered);
    }
    care(stock, later(cut_on, 4), end, {{17, 24}, {34, 48}, {150, 220}});
    for (Pot& pot : stock.pots) {
      for (Bulb& bulb : pot.bulbs) bulb.girth_mm += hippeastrum_grows(bulb.girth_mm);
    }

    // What was cut.
    for (Batch& batch : cuts_made) {
      const Day potted_on = season == 3 && leaves_mother_whole(batch.method) ? later(cut_on, 1) : cut_on;
      forming(batch, potted_on, season, end);
      young.push_back({std::move(batch), season});
    }

    // What was cut in earlier seasons grows on through this one.
    for (Cohort& cohort : young) {
      if (cohort.season < season) growing(cohort.batch, cohort.season, end, bench);
    }
  }
  if (ember) {
    for (Cohort& cohort : young) {
      if (cohort.season == 3) ready_ember_.push_back(std::move(cohort.batch));
    }
  } else {
    for (Cohort& cohort : young) {
      if (cohort.season == 3) ready_ledge_.push_back(std::move(cohort.batch));
    }
  }
  for (Cohort& cohort : young) {
    if (cohort.season < 3) grown_[clone].push_back(std::move(cohort.batch));
  }
  grown_[clone].push_back(std::move(stock));
}

void House::forming(Batch& batch, Day cut_on, int season, Day end) {
  const bool whole = leaves_mother_whole(batch.method);
  pot_pieces(batch, cut_on, whole ? 1 : batch.sections, "propagator");  // a mother a pot
  for (const Pot& pot : batch.pots) write(batch, cut_on, pot.number, Covered{});
  // V536: first shoots after 8 to 13 weeks.
  const Day open = later(cut_on, 7 * chance_.between(11, 13));
  for (const Pot& pot : batch.pots) write(batch, open, pot.number, Uncovered{});
  pieces_rot(batch, cut_on, 14, 8);
  if (batch.clone == kittiwake_ledge && season == 2) mouse(batch, later(cut_on, 7 * 19));
  care(batch, cut_on, season == 3 ? later(last_, 0) : later(end, -14), {{15, 22}, {30, 40}, {22, 34}}, 9);
  for (const Pot& pot : batch.pots) {
    if (chance_.percent(60)) {
      write(batch, later(open, chance_.between(1, 3)), pot.number,
            Moved{place_on(std::string(clones[batch.clone].bench)), ""});
    }
  }
  if (season == 3) return;  // they stand ready on the last day
  const Day first_unpotted = later(end, -12);
  int done = 0;
  for (Pot& pot : batch.pots) {
    const Day day = later(first_unpotted, 4 * (done++ / 6));
    const Formed formed = form_hippeastrum(batch, pot);
    if (batch.clone == harbour_ember && season == 1 && done == 2) {
      count_twice(batch, pot, day, formed);
      continue;
    }
    unpot_pieces(batch, pot, day, formed);
  }
}

void House::count_twice(Batch& batch, Pot& pot, Day day, const Formed& formed) {
  const Device first = device_for(batch.clone, day);
  Unpotted second = count_of(pot, formed);
  ++second.lines.front().count;
  unpot_pieces(batch, pot, day, formed);
  write_by(first == marit ? bo : marit, day, batch.number, pot.number, second);
  Act* settle = write_by(ines, later(first_, (round_of(day) + 1) * round_days), batch.number, pot.number, Note{});
  if (settle != nullptr) settle->what = What::settle_count;
}

void House::mouse(Batch& batch, Day day) {
  if (last_ <= day) return;
  int pots = 0;
  for (Pot& pot : batch.pots) {
    if (pot.pieces < 2 || pots == 3) continue;
    ++pots;
    write(batch, later(day, -9), pot.number, Moved{"outdoors, cold frame", "to harden off"});
    write(batch, day, pot.number, Damage{Cause::animal, "mouse", 3, "dug up overnight, pieces gnawed from below"});
    const std::int32_t gone = std::min(pot.pieces - 1, chance_.between(1, 2));
    write(batch, day, pot.number, Lost{counted_by_cause(gone, Cause::animal, "mouse"), ""});
    pot.pieces -= gone;
    write(batch, day, pot.number, Moved{place_on("bench 3"), "back inside, mesh over it"});
  }
}

void House::check_for_virus(Batch& batch, Day day) {
  for (const Pot& pot : batch.pots) {
    if (pot.emptied) continue;
    write(batch, day, pot.number, Held{"pale streaks along two leaves"});
    write(batch, later(day, 4), pot.number, Tested{"Hippeastrum mosaic", TestResult::unsaid, "leaf sent away"});
    write(batch, later(day, 27), pot.number, Tested{"Hippeastrum mosaic", TestResult::negative, ""});
    write(batch, later(day, 27), pot.number, Cleared{"test negative; cold draught from the door"});
    return;
  }
}

void House::growing(Batch& batch, int cut_in, Day end, const std::string& bench) {
  const Day begin = later(end, -7 * 52);
  const bool first_season = std::none_of(batch.pots.begin(), batch.pots.end(), filled);
  const Day potted = later(begin, 7 * 8 + 2 * cut_in);
  if (first_season) pot_bulbs(batch, potted, bench, hippeastrum_to_a_pot);
  const Day from = first_season ? potted : begin;
  // How long before the season's end each batch is dried off, so that on the last day one is past its rest of 8 to 10
  // weeks (V145), one is due, and one rests.
  static constexpr std::int32_t dry_weeks[] = {11, 9, 5};
  const Day dry = later(end, -7 * dry_weeks[cut_in] - 2);
  bulbs_rot(batch, from, dry, 6);
  care(batch, from, dry, {{17, 24}, {32, 46}, {150, 210}});
  write(batch, dry, 0, DriedOff{"leaves down, water stopped"});
  for (const Pot& pot : batch.pots) {
    if (!pot.emptied && chance_.percent(12)) {
      write(batch, later(dry, 3), pot.number, Moved{place_on("cool room"), "for its rest"});
    }
  }
  const Growth grows = [this](std::int32_t girth) { return hippeastrum_grows(girth); };
  // Rested, taken up, graded, potted on and started. In the last season that is yet to be done.
  const Day up = end == last_ ? later(last_, 5) : later(dry, 7 * 9 + 3);
  bool misses = batch.clone == harbour_ember && cut_in == 1 && end == later(last_, -7 * 52);
  for (Pot& pot : batch.pots) {
    if (pot.emptied) continue;
    Bulbs offsets;
    if (largest_mm(pot) > 180) offsets = hippeastrum_offsets(batch.clone, static_cast<std::int32_t>(pot.bulbs.size()));
    // The balance that stays open: one pot gave two bulbs fewer than went in, and nobody knows why.
    const bool short_count = misses && pot.bulbs.size() >= 3;
    if (short_count) misses = false;
    unpot_bulbs(batch, pot, up, grows, offsets, short_count ? 2 : 0);
  }
  // V203, V204: from 20 to 22 cm on they sell. Nothing of 'Harbour Ember' is let go yet.
  if (batch.clone == kittiwake_ledge) {
    let_go(batch, later(up, 1), 222, 3, Sold{{}, 1800, "to a neighbour's stall"});
  } else if (cut_in == 0) {
    let_go(batch, later(up, 1), 200, 1, Given{{}, "to a friend, for safety in another house"});
  }
  pot_bulbs(batch, later(up, 2), bench, hippeastrum_to_a_pot);
  write(batch, later(up, 2), 0, Started{});
}

}  // namespace motherbulb::demo

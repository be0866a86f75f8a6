#include "core/demo/house.hpp"

#include <algorithm>

namespace motherbulb::demo {

void House::office() {
  std::int32_t month = 0;
  for (Day day = later(first_, 27); day < last_; day = later(day, 28), ++month) {
    // V517, V519: 100 to 300 sections and 60 to 150 pots an hour, so hours and not days.
    write_of_book(day, Hours{15 * chance_.between(20, 56), month % 13 < 3 ? "cutting, potting" : "the round"});
    if (month % 4 == 1)
      write_of_book(later(day, 1), Money{chance_.between(18, 74) * 100, false, "perlite, bark, labels"});
  }
  for (std::int32_t i = 0; i < 4; ++i) {
    const Day day = later(first_, 90 + 341 * i);
    write_of_book(
        day, Note{i % 2 == 0 ? "vents wired for the winter gales" : "heating set two degrees lower after the bill"});
  }
  for (std::int32_t i = 0; i < 3; ++i) {
    // A tap on the wrong batch, and its undoing.
    const Day day = later(first_, 200 + 370 * i);
    const auto& some = grown_[i];
    if (some.empty()) continue;
    const Batch& batch = some.front();
    write_by(ines, day, batch.number, 0, Fed{"full strength"});
    undo(ines, day);
  }
}

void House::last_morning() {
  std::vector<std::pair<Batch*, Pot*>> ember_ready, ledge_ready;
  for (Batch& batch : ready_ember_) {
    for (Pot& pot : batch.pots) ember_ready.push_back({&batch, &pot});
  }
  for (Batch& batch : ready_ledge_) {
    for (Pot& pot : batch.pots) ledge_ready.push_back({&batch, &pot});
  }
  recent_damage(ember_ready, ledge_ready);

  // Bo, whose tablet came back from a flat battery 47 minutes ahead.
  for (const Batch& batch : ready_ember_) write(batch, last_, 0, Watered{});
  for (std::size_t i = 0; i < ember_ready.size(); ++i) {
    auto& [batch, pot] = ember_ready[i];
    if (i < 3) {
      const Formed formed = form_hippeastrum(*batch, *pot);
      Unpotted second = count_of(*pot, formed);
      unpot_pieces(*batch, *pot, last_, formed);
      if (i == 1) twice_ = {batch, pot, second};
      continue;
    }
    write(*batch, last_, pot->number, seen(*batch, *pot, 0));
  }
  round(harbour_ember, 22, 4);

  for (const Batch& batch : ready_ledge_) write(batch, last_, 0, Watered{});
  for (std::size_t i = 0; i < ledge_ready.size(); ++i) {
    auto& [batch, pot] = ledge_ready[i];
    if (i < 1) {
      unpot_pieces(*batch, *pot, last_, form_hippeastrum(*batch, *pot));
      continue;
    }
    write(*batch, last_, pot->number, seen(*batch, *pot, 0));
  }
  round(kittiwake_ledge, 12, 3);
  round(eighth_buoy, 6, 1);
  // Marit comes to Bo's bench: she counts a pot that he had emptied, its bulbs still in the tray, and finds one
  // fewer; and sees more shoots in another than he did.
  if (twice_.batch != nullptr) {
    Lines& lines = twice_.count.lines;
    if (--lines.back().count == 0) lines.pop_back();
    write_by(marit, last_, twice_.batch->number, twice_.pot->number, twice_.count);
  }
  const auto& [batch, pot] = ember_ready.back();
  write_by(marit, last_, batch->number, pot->number, seen(*batch, *pot, 2));

  round(tallow_window, 16, 3);
  round(grey_selkie, 12, 2);
  write_of_book(last_, Hours{95, "the morning round"});
}

Looked House::seen(const Batch& batch, const Pot& pot, std::int32_t more) {
  Looked looked;
  looked.shoots = (pot.pieces > 1 ? pot.pieces : batch.sections) + more;
  looked.moisture = Moisture::damp;
  looked.rot = YesNo::no;
  return looked;
}

void House::round(Clone clone, std::int32_t looks, std::int32_t moves) {
  for (const Batch& batch : grown_[clone]) {
    if (std::any_of(batch.pots.begin(), batch.pots.end(), filled) && chance_.percent(60))
      write(batch, last_, 0, Watered{});
    for (const Pot& pot : batch.pots) {
      if (pot.emptied || looks == 0) continue;
      --looks;
      Looked looked;
      looked.moisture = chance_.percent(60) ? Moisture::damp : Moisture::dry;
      write(batch, last_, pot.number, looked);
      if (moves > 0 && chance_.percent(30)) {
        --moves;
        write(batch, last_, pot.number, Moved{place_on(std::string(clones[clone].bench)), "nearer the light"});
      } else if (chance_.percent(6)) {
        trouble(batch, pot, last_);
      }
    }
  }
}

void House::recent_damage(const std::vector<std::pair<Batch*, Pot*>>& ember,
                          const std::vector<std::pair<Batch*, Pot*>>& ledge) {
  struct Kind {
    int days_ago;
    Cause cause;
    const char* detail;
    std::int32_t how_bad;
    const char* note;
  };
  static constexpr Kind kinds[] = {{17, Cause::pest, "bulb mite", 2, "rusty scale edges, leaves bent like sickles"},
                                   {12, Cause::pest, "thrips", 1, "silver streaks, outer leaf only"},
                                   {9, Cause::animal, "slug", 2, "two leaves eaten to the midrib"},
                                   {6, Cause::disease, "red blotch", 1, "one red spot with a sharp edge"}};
  std::size_t at = 4;
  for (const Kind& kind : kinds) {
    const auto& [batch, pot] = at % 2 == 0 ? ember[at % ember.size()] : ledge[at % ledge.size()];
    write(*batch, later(last_, -kind.days_ago), pot->number, Damage{kind.cause, kind.detail, kind.how_bad, kind.note});
    ++at;
  }
  const auto& [batch, pot] = ledge.back();
  write(*batch, later(last_, -41), pot->number, Held{"light and dark green patches, kept apart"});
  write(*batch, later(last_, -38), pot->number, Tested{"Hippeastrum mosaic", TestResult::unsaid, "leaf sent away"});
  write(*batch, later(last_, -15), pot->number,
        Tested{"Hippeastrum mosaic", TestResult::unclear, "to be tested again"});
}

}  // namespace motherbulb::demo

#include "core/demo/house.hpp"

#include <algorithm>

namespace motherbulb::demo {

const std::vector<std::int32_t>& bounds_of(std::string_view genus) {
  static const std::vector<std::int32_t> hippeastrum = {20,  40,  60,  80,  100, 120, 140, 160,
                                                        180, 200, 220, 240, 260, 280, 300, 320};
  static const std::vector<std::int32_t> narcissus = {20, 40, 60, 80, 100, 120, 140, 160};
  static const std::vector<std::int32_t> nerine = {20, 40, 60, 80, 100, 120, 140};
  return genus == "Hippeastrum" ? hippeastrum : genus == "Narcissus" ? narcissus : nerine;
}

Grade class_of(Clone clone, std::int32_t girth_mm) {
  const std::vector<std::int32_t>& bounds = bounds_of(clones[clone].genus);
  Grade grade;
  for (const std::int32_t bound : bounds) {
    if (girth_mm < bound) {
      grade.high_mm = bound;
      return grade;
    }
    grade.low_mm = bound;
  }
  return grade;
}

Lines counted(const Bulbs& bulbs) {
  std::map<Grade, std::int64_t> by_grade;
  for (const Bulb& bulb : bulbs) ++by_grade[bulb.noted];
  Lines lines;
  for (const auto& [grade, count] : by_grade) {
    Line line;
    line.grade = grade;
    line.count = count;
    lines.push_back(line);
  }
  return lines;
}

Lines counted_by_cause(std::int64_t count, Cause cause, const std::string& detail) {
  Line line;
  line.count = count;
  line.cause = cause;
  line.detail = detail;
  return {line};
}

Day later(Day day, std::int32_t days) {
  return Day{day.days + days};
}

Day in_week(std::int32_t year, std::int32_t week, std::int32_t weekday) {
  const Day fourth = *day_from_civil({year, 1, 4});  // always in week 1
  return later(fourth, 7 * (week - 1) + weekday - iso_week(fourth).weekday);
}

Season House::live() {
  set_up();
  hippeastrum(harbour_ember, 20, 285);
  hippeastrum(kittiwake_ledge, 13, 265);
  narcissus(tallow_window, 36, Method::chipping);
  narcissus(eighth_buoy, 24, Method::twin_scaling);
  nerine(grey_selkie, 18);
  office();
  last_morning();
  return finish();
}

Device House::device_for(int clone, Day day) const {
  const std::int32_t round = round_of(day);
  if (round == 0 || clone < 0) return ines;
  if (day == last_)
    return clone == harbour_ember ? bo : clone == kittiwake_ledge || clone == eighth_buoy ? marit : ines;
  const std::uint64_t draw = Chance(static_cast<std::uint64_t>(round * clone_count + clone) + 77).next() % 10;
  return draw < 5 ? ines : draw < 8 ? bo : marit;
}

std::int64_t House::next_moment(Device device, Day day) {
  // Seconds since midnight on the island. The last morning begins early, and its parcels are written at 8. Marit
  // begins so late that what she does after Bo stays after it by his clock too.
  const auto [found, fresh] = clocks_.try_emplace({device, day.days}, 0);
  std::int32_t& second = found->second;
  if (fresh) {
    static constexpr std::int32_t last_begins[device_count] = {6 * 3600 + 1800, 6 * 3600 + 900, 6 * 3600 + 3000};
    second = day == last_ ? last_begins[device] : chance_.between(7 * 3600, 10 * 3600);
  } else {
    second += day == last_ ? chance_.between(40, 80) : chance_.between(45, 240);
  }
  return std::int64_t{day.days} * 86'400'000 + std::int64_t{second} * 1000 -
         std::int64_t{island_offset_minutes} * 60'000;
}

Act* House::write_by(Device device, Day day, std::int32_t batch, std::int32_t pot, Payload fact) {
  if (last_ < day || day < first_) return nullptr;
  Act act;
  act.at_ms = next_moment(device, day);
  act.device = device;
  act.batch = batch;
  act.pot = pot;
  act.fact = std::move(fact);
  season_.acts.push_back(std::move(act));
  return &season_.acts.back();
}

Act* House::write(const Batch& batch, Day day, std::int32_t pot, Payload fact) {
  return write_by(device_for(batch.clone, day), day, batch.number, pot, std::move(fact));
}

void House::write_of_book(Day day, Payload fact, Device device) {
  write_by(device, day, -1, 0, std::move(fact));
}

void House::undo(Device device, Day day) {
  Act* act = write_by(device, day, -1, 0, Note{});
  if (act != nullptr) act->what = What::take_back;
}

std::string House::place_on(const std::string& bench) {
  std::int32_t& position = positions_[bench];
  position = position % 72 + 1;
  return "Skerry House, " + bench + ", no. " + std::to_string(position);
}

Bulbs House::bulbs_of(Clone clone, std::int32_t count, Range girth_mm) {
  Bulbs made;
  for (std::int32_t i = 0; i < count; ++i) {
    const std::int32_t girth = chance_.around_middle(girth_mm.low, girth_mm.high);
    made.push_back({girth, class_of(clone, girth)});
  }
  return made;
}

Batch House::begin_bulbs(Clone clone, Day day, Bulbs bulbs, const std::string& note) {
  Begun begun = begun_of(clone, Method::growing_on, counted(bulbs));
  begun.note = note;
  Batch batch = begin(clone, day, Method::growing_on, 0, std::move(begun), -1);
  batch.waiting = std::move(bulbs);
  return batch;
}

Batch House::begin_cut(Batch& from, Day day, std::int32_t mothers, Method method, std::int32_t sections,
                       const std::string& medium) {
  std::stable_sort(from.waiting.begin(), from.waiting.end(),
                   [](const Bulb& a, const Bulb& b) { return a.girth_mm < b.girth_mm; });
  mothers = std::min(mothers, static_cast<std::int32_t>(from.waiting.size()));
  const Bulbs cut(from.waiting.end() - mothers, from.waiting.end());
  from.waiting.resize(from.waiting.size() - static_cast<std::size_t>(mothers));
  Begun begun = begun_of(from.clone, method, counted(cut));
  begun.sections = sections;
  begun.blade = chance_.percent(80) ? Blade::per_bulb : Blade::per_batch;
  begun.dip = chance_.percent(50) ? YesNo::yes : YesNo::no;
  begun.wedges = method == Method::cross_cutting ? YesNo::yes : YesNo::unsaid;
  begun.medium = medium;
  Batch batch = begin(from.clone, day, method, sections, std::move(begun), from.number);
  batch.pieces_waiting = leaves_mother_whole(method) ? mothers : mothers * sections;
  return batch;
}

Begun House::begun_of(Clone clone, Method method, Lines mothers) const {
  Begun begun;
  begun.clone = clones[clone].name;
  begun.genus = clones[clone].genus;
  begun.method = method;
  begun.mothers = std::move(mothers);
  return begun;
}

Batch House::begin(Clone clone, Day day, Method method, std::int32_t sections, Begun begun, std::int32_t parent) {
  Batch batch;
  batch.clone = clone;
  batch.method = method;
  batch.sections = sections;
  if (last_ < day) return batch;
  batch.number = season_.batches++;
  if (Act* act = write(batch, day, 0, std::move(begun))) act->parent = parent;
  return batch;
}

Pot& House::new_pot(Batch& batch, Day day, const std::string& bench) {
  Pot pot;
  pot.number = static_cast<std::int32_t>(batch.pots.size()) + 1;
  pot.place = place_on(bench);
  pot.since = day;
  batch.pots.push_back(std::move(pot));
  return batch.pots.back();
}

void House::pot_pieces(Batch& batch, Day day, std::int32_t to_a_pot, const std::string& bench) {
  if (last_ < day) return;
  while (batch.pieces_waiting > 0) {
    Pot& pot = new_pot(batch, day, bench);
    pot.pieces = std::min(to_a_pot, batch.pieces_waiting);
    batch.pieces_waiting -= pot.pieces;
    Potted potted;
    potted.unit = Unit::pieces;
    Line line;
    line.count = pot.pieces;
    potted.lines = {line};
    potted.place = pot.place;
    write(batch, day, pot.number, potted);
  }
}

void House::pot_bulbs(Batch& batch, Day day, const std::string& bench, std::int32_t (*to_a_pot)(std::int32_t)) {
  if (last_ < day) return;
  std::stable_sort(batch.waiting.begin(), batch.waiting.end(),
                   [](const Bulb& a, const Bulb& b) { return b.girth_mm < a.girth_mm; });
  std::size_t next = 0;
  while (next < batch.waiting.size()) {
    Pot& pot = new_pot(batch, day, bench);
    const std::size_t many = static_cast<std::size_t>(to_a_pot(batch.waiting[next].girth_mm));
    while (pot.bulbs.size() < many && next < batch.waiting.size()) pot.bulbs.push_back(batch.waiting[next++]);
    write(batch, day, pot.number, Potted{Unit::bulbs, counted(pot.bulbs), pot.place, ""});
  }
  batch.waiting.clear();
}

bool House::filled(const Pot& pot) {
  return !pot.emptied;
}

std::int32_t House::largest_mm(const Pot& pot) {
  return pot.bulbs.empty() ? 0 : pot.bulbs.front().girth_mm;
}

void House::care(const Batch& batch, Day from, Day to, const Care& care, std::int32_t shoots_from_week) {
  if (std::none_of(batch.pots.begin(), batch.pots.end(), filled)) return;
  const Day end = std::min(to, last_);
  for (Day day = later(from, chance_.between(3, 12)); day < end;
       day = later(day, chance_.between(care.water.low, care.water.high))) {
    write(batch, day, 0, Watered{});
  }
  if (care.feed.high > 0) {
    for (Day day = later(from, chance_.between(30, 50)); day < end;
         day = later(day, chance_.between(care.feed.low, care.feed.high))) {
      write(batch, day, 0, Fed{"half strength"});
    }
  }
  if (care.look.high == 0) return;
  for (const Pot& pot : batch.pots) {
    if (pot.emptied) continue;
    std::int32_t shoots = 0;
    for (Day day = later(from, chance_.between(care.look.low / 2, care.look.high)); day < end;
         day = later(day, chance_.between(care.look.low, care.look.high))) {
      Looked looked;
      looked.moisture = chance_.percent(70) ? Moisture::damp : chance_.percent(50) ? Moisture::dry : Moisture::wet;
      const std::int32_t weeks = (day.days - from.days) / 7;
      if (shoots_from_week >= 0) {
        const std::int32_t most = pot.pieces > 1 ? pot.pieces : batch.sections;
        if (weeks >= shoots_from_week)
          shoots = std::min(most, std::max(shoots, (weeks - shoots_from_week) * most / 12));
        looked.shoots = shoots;
        looked.rot = YesNo::no;
      }
      write(batch, day, pot.number, looked);
      if (chance_.percent(3)) trouble(batch, pot, day);
    }
  }
}

void House::trouble(const Batch& batch, const Pot& pot, Day day) {
  struct Kind {
    Cause cause;
    const char *detail, *note;
  };
  static constexpr Kind kinds[] = {{Cause::pest, "thrips", "silver streaks on the outer leaf"},
                                   {Cause::animal, "slug", "ragged leaf, slime on the rim"},
                                   {Cause::pest, "bulb mite", "leaf base scarred, bent to one side"},
                                   {Cause::pest, "mealybug", "white wool in the neck, wiped off"},
                                   {Cause::disease, "red blotch", "red spots with a sharp edge, leaves kept dry"}};
  // Red blotch is a trouble of Hippeastrum and its kin; the others' leaves get the rest.
  const Kind& kind = kinds[chance_.between(0, clones[batch.clone].genus == "Hippeastrum" ? 4 : 3)];
  write(batch, day, pot.number, Damage{kind.cause, kind.detail, chance_.between(1, 2), kind.note});
}

void House::pieces_rot(Batch& batch, Day from, std::int32_t weeks, std::int32_t percent) {
  for (Pot& pot : batch.pots) {
    if (pot.emptied || leaves_mother_whole(batch.method)) continue;
    std::int32_t gone = 0;
    for (std::int32_t i = 0; i < pot.pieces; ++i) gone += chance_.percent(percent) ? 1 : 0;
    if (gone == 0) continue;
    const Day day = later(from, 7 * chance_.between(3, weeks));
    if (last_ <= day) continue;
    write(batch, day, pot.number, Lost{counted_by_cause(gone, Cause::rot, ""), ""});
    pot.pieces -= gone;
  }
}

void House::bulbs_rot(Batch& batch, Day from, Day to, std::int32_t percent) {
  for (Pot& pot : batch.pots) {
    if (pot.emptied) continue;
    for (std::size_t i = 0; i < pot.bulbs.size();) {
      const bool rots = chance_.percent(pot.bulbs[i].girth_mm < 120 ? percent : 4);
      const Day day = later(from, chance_.between(20, std::max(21, to.days - from.days - 10)));
      if (!rots || last_ <= later(day, 1) || to <= later(day, 1)) {
        ++i;
        continue;
      }
      Lines lines = counted_by_cause(1, chance_.percent(75) ? Cause::rot : Cause::dried_out, "");
      lines.front().grade = pot.bulbs[i].noted;
      write(batch, day, pot.number, Lost{std::move(lines), ""});
      pot.bulbs.erase(pot.bulbs.begin() + static_cast<std::ptrdiff_t>(i));
      if (pot.bulbs.empty()) {
        write(batch, day, pot.number, Unpotted{});
        pot.emptied = true;
      }
    }
  }
}

Formed House::form(const Batch& batch, const Pot& pot, std::int32_t share, std::int32_t ones, std::int32_t twos,
                   Range girth_mm) {
  Formed formed;
  for (std::int32_t i = 0; i < pot.pieces; ++i) {
    if (!chance_.percent(share)) continue;
    ++formed.alive;
    const std::int32_t draw = chance_.between(0, 99);
    const Bulbs some = bulbs_of(batch.clone, draw < ones ? 1 : draw < ones + twos ? 2 : 3, girth_mm);
    formed.bulbs.insert(formed.bulbs.end(), some.begin(), some.end());
  }
  return formed;
}

void House::unpot_pieces(Batch& batch, Pot& pot, Day day, const Formed& formed) {
  if (last_ < day) return;
  write(batch, day, pot.number, count_of(pot, formed));
  batch.waiting.insert(batch.waiting.end(), formed.bulbs.begin(), formed.bulbs.end());
  pot.emptied = true;
  pot.pieces = 0;
}

Unpotted House::count_of(const Pot& pot, const Formed& formed) {
  Unpotted unpotted;
  unpotted.lines = counted(formed.bulbs);
  unpotted.alive = formed.alive;
  std::int32_t dead = pot.pieces - formed.alive;
  if (dead > 0 && chance_.percent(30)) --dead;
  if (dead > 0) unpotted.dead = counted_by_cause(dead, Cause::rot, "");
  return unpotted;
}

void House::unpot_bulbs(Batch& batch, Pot& pot, Day day, const Growth& grown, const Bulbs& offsets,
                        std::int32_t not_found) {
  if (last_ < day) return;
  Bulbs found;
  for (Bulb bulb : pot.bulbs) {
    bulb.girth_mm += grown(bulb.girth_mm);
    bulb.noted = class_of(batch.clone, bulb.girth_mm);
    found.push_back(bulb);
  }
  found.resize(found.size() - static_cast<std::size_t>(not_found));
  found.insert(found.end(), offsets.begin(), offsets.end());
  Unpotted unpotted;
  unpotted.lines = counted(found);
  write(batch, day, pot.number, unpotted);
  batch.waiting.insert(batch.waiting.end(), found.begin(), found.end());
  pot.emptied = true;
  pot.bulbs.clear();
}

std::int32_t House::let_go(Batch& batch, Day day, std::int32_t girth_mm, std::int32_t most, Payload act) {
  if (last_ < day) return 0;
  Bulbs gone, kept;
  for (const Bulb& bulb : batch.waiting) {
    const bool goes = bulb.girth_mm >= girth_mm && static_cast<std::int32_t>(gone.size()) < most;
    (goes ? gone : kept).push_back(bulb);
  }
  if (gone.empty()) return 0;
  const auto many = static_cast<std::int32_t>(gone.size());
  *lines_of(act) = counted(gone);
  if (auto* sold = std::get_if<Sold>(&act); sold != nullptr && sold->cents) *sold->cents *= many;
  batch.waiting = std::move(kept);
  write(batch, day, 0, std::move(act));
  return many;
}

void House::set_up() {
  write_of_book(first_, Note{std::string(invented_note)});
  for (int device = 0; device < device_count; ++device) {
    write_of_book(first_, DeviceNamed{std::string(devices[device].name), std::string(devices[device].letter)},
                  static_cast<Device>(device));
  }
  for (const char* genus : {"Hippeastrum", "Narcissus", "Nerine"}) {
    write_of_book(first_, GradeBounds{genus, bounds_of(genus)});
  }
  for (const char* bench : {"bench 2", "bench 3", "bench 4", "bench 5"}) {
    write_of_book(first_, BenchLaidOut{std::string("Skerry House, ") + bench, 6, 12, ""});
  }
}

Season House::finish() {
  std::stable_sort(season_.acts.begin(), season_.acts.end(),
                   [](const Act& a, const Act& b) { return a.at_ms < b.at_ms; });
  for (std::int32_t day = first_.days + round_days; day < last_.days; day += round_days) {
    season_.evenings.push_back(std::int64_t{day} * 86'400'000 - std::int64_t{island_offset_minutes} * 60'000 -
                               4 * 3'600'000);
  }
  season_.last_morning_ms = std::int64_t{last_.days} * 86'400'000 - std::int64_t{island_offset_minutes} * 60'000;
  season_.evenings.push_back(season_.last_morning_ms - 4 * 3'600'000);
  season_.parcels_ms = season_.last_morning_ms + 8 * 3'600'000;
  return std::move(season_);
}

Season tell(Day last) {
  return House(last).live();
}

}  // namespace motherbulb::demo

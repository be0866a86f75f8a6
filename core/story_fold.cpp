// The second step of the fold: counting, as design.md, "Counting", says.
#include <algorithm>

#include "core/fold.hpp"

namespace motherbulb {
namespace {

void add(BulbsByGrade& bulbs, Grade grade, std::int64_t count) {
  if (count > 0) bulbs[grade] += count;
}

void add(BulbsByGrade& bulbs, const BulbsByGrade& more) {
  for (const auto& [grade, count] : more) bulbs[grade] += count;
}

std::int64_t take_of(BulbsByGrade& bulbs, Grade grade, std::int64_t count, BulbsByGrade& taken) {
  const auto found = bulbs.find(grade);
  if (found == bulbs.end() || count <= 0) return 0;
  const std::int64_t got = std::min(count, found->second);
  taken[grade] += got;
  found->second -= got;
  if (found->second == 0) bulbs.erase(found);
  return got;
}

// Takes bulbs out, never below none; what was not there to take is missing. Of no grade: from the grade with most, the
// smaller where two are equal. Of a grade: that one, then bulbs that nobody sized.
BulbsByGrade take(BulbsByGrade& bulbs, const std::optional<Grade>& grade, std::int64_t count, std::int64_t& missing,
                  bool& assumed) {
  BulbsByGrade taken;
  std::int64_t left = count;
  if (grade) {
    left -= take_of(bulbs, *grade, left, taken);
    if (grade->sized()) left -= take_of(bulbs, Grade{}, left, taken);
  } else {
    while (left > 0 && !bulbs.empty()) {
      const auto most = std::max_element(bulbs.begin(), bulbs.end(),
                                         [](const auto& a, const auto& b) { return a.second < b.second; });
      if (bulbs.size() > 1 || most->first.sized()) assumed = true;
      left -= take_of(bulbs, most->first, left, taken);
    }
  }
  missing += left;
  return taken;
}

std::string count_text(std::int64_t count, const char* one, const char* many) {
  return std::to_string(count) + " " + (count == 1 ? one : many);
}

std::string grades_text(const Lines& lines) {
  std::string text;
  for (const Line& line : lines) {
    if (!text.empty()) text += ", ";
    const std::string grade = line.grade ? to_text(*line.grade) : "";
    text += std::to_string(line.count) + (grade.empty() ? std::string(" unsized") : " of " + grade + " cm");
  }
  return text;
}

}  // namespace

// Where bulbs and pieces are: in a pot, or waiting in the batch.
struct StoryFold::Place {
  BulbsByGrade& bulbs;
  std::int64_t& pieces;
  BulbBalance& bulb_balance;
  PieceBalance& piece_balance;
  std::int64_t PieceBalance::*pieces_held;
  bool& assumed;
  FactKey& open_fact;
};

// A fact by its key, which is made only where somebody asks.
struct StoryFold::Named {
  Named(const Fact& fact) : fact_(&fact) {}
  Named(const FactKey& key) : key_(&key) {}
  FactKey key() const { return key_ != nullptr ? *key_ : fact_->key(); }

private:
  const Fact* fact_ = nullptr;
  const FactKey* key_ = nullptr;
};

StoryFold::StoryFold(const BatchId& story, const Settlements& settlements) : settlements_(settlements) {
  batch_.id = story;
}

StoryFold::StoryFold(BatchState batch, const Settlements& settlements)
    : batch_(std::move(batch)), settlements_(settlements) {}

void StoryFold::put_pot(PotState pot) {
  const std::int32_t number = pot.pot.number;
  pots_[number] = std::move(pot);
}

PotState& StoryFold::pot(std::int32_t number) {
  const auto [found, fresh] = pots_.try_emplace(number);
  if (fresh) {
    found->second.pot = {batch_.id, number};
    batch_.highest_pot = std::max(batch_.highest_pot, number);
  }
  return found->second;
}

StoryFold::Place StoryFold::place_for(std::int32_t number) {
  if (number == 0) {
    return {batch_.bulbs_waiting,   batch_.pieces_waiting, batch_.bulb_balance, batch_.piece_balance,
            &PieceBalance::waiting, batch_.assumed_grade,  batch_.open_fact};
  }
  PotState& in = pot(number);
  return {in.bulbs,         in.pieces,   in.bulb_balance, in.piece_balance, &PieceBalance::growing,
          in.assumed_grade, in.open_fact};
}

bool StoryFold::meets_settled(const Matter& matter, Take& take) {
  const auto settled = settlements_.find(matter.id);
  if (settled == settlements_.end()) return false;
  take = settled->second.take;
  return true;
}

// When a fact left the balance open and a person has said "lost" (or "found more"), it is booked so.
void StoryFold::settle_open(BulbBalance& balance, FactKey& open_fact, std::int64_t open_before, const Named& named,
                            std::int32_t number) {
  if (balance.open == open_before) return;
  const FactKey fact = named.key();
  open_fact = fact;
  if (balance.open == 0) return;
  FactKey where = fact_of(batch_.id);
  where.bytes[0] = static_cast<std::uint8_t>(where.bytes[0] ^ number);
  where.bytes[1] = static_cast<std::uint8_t>(where.bytes[1] ^ number >> 8);
  const auto settled = settlements_.find(matter_id(MatterKind::balance, fact, where));
  if (settled == settlements_.end() || settled->second.take != Take::second) return;
  if (balance.open > 0) {
    balance.lost[static_cast<std::size_t>(Cause::unknown)] += balance.open;
  } else {
    balance.increase -= balance.open;
  }
  balance.open = 0;
}

std::optional<Matter> balance_matter(const BatchState& batch, const PotState* pot, const Settlements& settlements) {
  const BulbBalance& balance = pot != nullptr ? pot->bulb_balance : batch.bulb_balance;
  // Pieces die unseen: an open balance of them is only shown, but for more potted than waited.
  const std::int64_t pieces_beyond = pot == nullptr ? -batch.pieces_overpotted : 0;
  if (balance.open == 0 && pieces_beyond == 0) return std::nullopt;
  const std::int32_t number = pot != nullptr ? pot->pot.number : 0;
  const FactKey fact = pot != nullptr ? pot->open_fact : batch.open_fact;
  FactKey where = fact_of(batch.id);
  where.bytes[0] = static_cast<std::uint8_t>(where.bytes[0] ^ number);
  where.bytes[1] = static_cast<std::uint8_t>(where.bytes[1] ^ number >> 8);
  Matter matter;
  matter.kind = MatterKind::balance;
  matter.id = matter_id(MatterKind::balance, fact, where);
  matter.pot = {batch.id, number};
  if (settlements.count(matter.id) != 0) return std::nullopt;
  matter.first.fact = fact;
  matter.first.bulbs = balance.open;
  matter.second.bulbs = balance.open;
  if (balance.open > 0) {
    matter.first.text = "leave " + count_text(balance.open, "bulb", "bulbs") + " not accounted for";
    matter.second.text = "book " + count_text(balance.open, "bulb", "bulbs") + " as lost, cause unknown";
    matter.proposal = Take::second;
  } else if (balance.open < 0) {
    matter.first.text = "leave it: " + count_text(-balance.open, "bulb", "bulbs") + " more went out than were there";
    matter.second.text = "book " + count_text(-balance.open, "bulb", "bulbs") + " as increase";
    matter.proposal = Take::first;
  } else {
    matter.first.text = "leave it: " + count_text(-pieces_beyond, "piece", "pieces") + " more potted than were cut";
    matter.second = matter.first;
    matter.proposal = Take::first;
  }
  return matter;
}

void StoryFold::begin(const Fact& fact, const Begun& begun) {
  if (!batch_.begun) {
    batch_.begun = true;
    batch_.begun_order = fact.order;
    batch_.clone = begun.clone;
    batch_.genus = begun.genus;
    batch_.label = begun.label;
    batch_.mark = begun.mark;
    batch_.helper = fact.helper;
    batch_.medium = begun.medium;
    batch_.note = begun.note;
    batch_.parent = begun.parent;
    batch_.method = begun.method;
    batch_.sections = begun.sections;
    batch_.mothers = total(begun.mothers);
    batch_.mother_grade = begun.mothers.empty() ? std::nullopt : begun.mothers.front().grade;
    batch_.begun_on = fact.when;
    batch_.blade = begun.blade;
  }
  const std::int64_t count = total(begun.mothers);
  BulbBalance& bulbs = batch_.bulb_balance;
  if (!cuts(begun.method)) {
    (begun.parent ? bulbs.brought : bulbs.begun) += count;
    bulbs.there += count;
    for (const Line& line : begun.mothers) add(batch_.bulbs_waiting, line.grade.value_or(Grade{}), line.count);
    return;
  }
  if (!begun.parent) {  // new to the book, and gone at once
    bulbs.begun += count;
    bulbs.cut += count;
  }
  const std::int64_t pieces =
      leaves_mother_whole(begun.method) ? count : count * std::max<std::int64_t>(begun.sections, 1);
  batch_.piece_balance.made += pieces;
  batch_.piece_balance.waiting += pieces;
  batch_.pieces_waiting += pieces;
}

void StoryFold::fill(const Fact& fact, std::int32_t number, Unit unit, const Lines& lines, const std::string& place) {
  PotState& into = pot(number);
  const std::int64_t open_before = batch_.bulb_balance.open;
  if (into.emptied || !into.filled) {
    if (into.emptied) {
      into.damage.clear();
      into.shoots.reset();
      into.last_look.reset();
      into.last_grading.reset();
      into.phase = Stage::growing;
      into.phase_on.reset();
      into.done.clear();
      into.put_off.clear();
    }
    into.unit = Unit::unsaid;
    into.emptied = false;
    into.filled = true;
    into.count.reset();
    into.filled_on = fact.when;
    into.filled_order = fact.order;
  }
  if (!place.empty()) {
    into.place = place;
    into.place_order = fact.order;
  }
  for (const Line& line : lines) {
    Unit what = unit;
    if (line.grade) {
      what = Unit::bulbs;
    } else if (what == Unit::unsaid) {
      if (batch_.pieces_waiting > 0) {
        what = Unit::pieces;
      } else if (total(batch_.bulbs_waiting) > 0) {
        what = Unit::bulbs;
      } else {
        what = cuts(batch_.method) ? Unit::pieces : Unit::bulbs;
      }
    }
    into.unit = what;
    if (what == Unit::pieces) {
      const std::int64_t got = std::min(line.count, batch_.pieces_waiting);
      batch_.pieces_waiting -= got;
      PieceBalance& from = batch_.piece_balance;
      from.waiting -= got;
      from.taken += line.count;
      from.open -= line.count - got;
      if (line.count > got) {
        batch_.pieces_overpotted += line.count - got;
        batch_.open_fact = fact.key();
      }
      into.pieces += line.count;
      into.piece_balance.brought += line.count;
      into.piece_balance.growing += line.count;
      continue;
    }
    std::int64_t missing = 0;
    const BulbsByGrade taken = take(batch_.bulbs_waiting, line.grade, line.count, missing, batch_.assumed_grade);
    batch_.bulb_balance.taken += line.count;
    batch_.bulb_balance.there -= line.count - missing;
    batch_.bulb_balance.open -= missing;
    if (line.grade) {
      add(into.bulbs, *line.grade, line.count);
    } else {
      add(into.bulbs, taken);
      add(into.bulbs, Grade{}, missing);
    }
    into.bulb_balance.brought += line.count;
    into.bulb_balance.there += line.count;
  }
  settle_open(batch_.bulb_balance, batch_.open_fact, open_before, fact, 0);
}

// Unpotting and dividing; and, where the bulbs stay in the pot, grading and repotting with a new count.
void StoryFold::empty(const Fact& fact, const Lines& lines, const std::optional<std::int64_t>& alive, const Lines& dead,
                      bool stays_in_pot) {
  PotState& from = pot(fact.pot);
  const std::int64_t open_before = from.bulb_balance.open;
  PotState::Count count;
  count.fact = fact.key();
  count.helper = fact.helper;
  count.when = fact.when;
  count.pieces = from.pieces;
  count.bulbs_before = total(from.bulbs);
  from.piece_balance.growing -= from.pieces;
  from.pieces = 0;
  from.bulb_balance.there -= count.bulbs_before;
  from.bulbs.clear();
  if (from.unit == Unit::unsaid) from.unit = cuts(batch_.method) ? Unit::pieces : Unit::bulbs;
  from.count = count;
  // Alive and dead are of pieces; a pot of bulbs has none.
  const bool of_bulbs = from.unit == Unit::bulbs && count.pieces == 0;
  count_again(from, lines, of_bulbs ? std::nullopt : alive, of_bulbs ? Lines{} : dead);
  if (stays_in_pot) {
    from.count.reset();
    from.unit = Unit::bulbs;
    // What count_again put to wait goes back at once.
    for (const Line& line : lines) {
      const Grade grade = line.grade.value_or(Grade{});
      std::int64_t missing = 0;
      bool assumed = false;
      take(batch_.bulbs_waiting, grade, line.count, missing, assumed);
      add(from.bulbs, grade, line.count);
    }
    const std::int64_t counted = total(lines);
    batch_.bulb_balance.brought -= counted;
    batch_.bulb_balance.there -= counted;
    from.bulb_balance.taken -= counted;
    from.bulb_balance.there += counted;
  } else {
    from.emptied = true;
  }
  settle_open(from.bulb_balance, from.open_fact, open_before, fact, fact.pot);
}

// Books a count of what the pot held when it was emptied, or adds a second one ("both are right") to the first.
void StoryFold::count_again(PotState& from, const Lines& lines, const std::optional<std::int64_t>& alive,
                            const Lines& dead) {
  PotState::Count& count = *from.count;
  BulbBalance& bulbs = from.bulb_balance;
  PieceBalance& pieces = from.piece_balance;
  const std::int64_t here = total(lines);
  // Take back what the count so far had booked, and book the sum anew.
  bulbs.increase -= count.increase;
  bulbs.open -= count.open_bulbs;
  pieces.open -= count.open_pieces;
  const std::int64_t found_before = std::max<std::int64_t>(count.pieces - count.dead, 0);
  if (count.booked) {
    pieces.unpotted -= found_before;
    pieces.alive -= count.alive_said ? count.alive : found_before;
  }
  count.booked = true;
  count.counted += here;
  for (const Line& line : dead) {
    pieces.lost[static_cast<std::size_t>(line.cause)] += line.count;
    count.dead += line.count;
  }
  if (alive) {
    count.alive_said = true;
    count.alive += *alive;
  }
  count.increase = std::max<std::int64_t>(count.counted - count.bulbs_before, 0);
  count.open_bulbs = std::max<std::int64_t>(count.bulbs_before - count.counted, 0);
  const std::int64_t found = std::max<std::int64_t>(count.pieces - count.dead, 0);
  const std::int64_t alive_now = count.alive_said ? count.alive : found;
  // Dead beyond the pieces there were make open negative, as does more alive than there were.
  count.open_pieces = count.pieces - count.dead - alive_now;
  bulbs.increase += count.increase;
  bulbs.open += count.open_bulbs;
  pieces.open += count.open_pieces;
  pieces.unpotted += found;
  pieces.alive += alive_now;
  bulbs.taken += here;
  batch_.bulb_balance.brought += here;
  batch_.bulb_balance.there += here;
  for (const Line& line : lines) add(batch_.bulbs_waiting, line.grade.value_or(Grade{}), line.count);
}

void StoryFold::regrade(const Fact& fact, const Lines& lines) {
  if (fact.pot != 0) return empty(fact, lines, std::nullopt, {}, true);
  BulbBalance& balance = batch_.bulb_balance;
  const std::int64_t open_before = balance.open;
  const std::int64_t had = total(batch_.bulbs_waiting), counted = total(lines);
  batch_.bulbs_waiting.clear();
  for (const Line& line : lines) add(batch_.bulbs_waiting, line.grade.value_or(Grade{}), line.count);
  balance.there += counted - had;
  if (counted >= had) {
    balance.increase += counted - had;
  } else {
    balance.open += had - counted;
  }
  settle_open(balance, batch_.open_fact, open_before, fact, 0);
}

void StoryFold::lose(const Fact& fact, const Lines& lines) {
  Place at = place_for(fact.pot);
  const std::int64_t open_before = at.bulb_balance.open;
  for (const Line& line : lines) {
    const auto cause = static_cast<std::size_t>(line.cause);
    bool pieces = false;
    if (fact.pot != 0) {
      const PotState& here = pot(fact.pot);
      pieces = here.unit == Unit::pieces || (here.unit == Unit::unsaid && cuts(batch_.method) && batch_.begun);
    } else if (!line.grade) {
      pieces = at.pieces > 0 || (at.bulbs.empty() && batch_.piece_balance.made > 0);
    }
    if (pieces) {
      const std::int64_t got = std::min(line.count, at.pieces);
      at.pieces -= got;
      at.piece_balance.*at.pieces_held -= got;
      at.piece_balance.lost[cause] += line.count;
      at.piece_balance.open -= line.count - got;
      continue;
    }
    std::int64_t missing = 0;
    take(at.bulbs, line.grade, line.count, missing, at.assumed);
    at.bulb_balance.there -= line.count - missing;
    at.bulb_balance.lost[cause] += line.count;
    at.bulb_balance.open -= missing;
  }
  settle_open(at.bulb_balance, at.open_fact, open_before, fact, fact.pot);
}

void StoryFold::act_on_bulbs(const Named& fact, std::int32_t number, const Lines& lines,
                             std::int64_t BulbBalance::*booked) {
  Place at = place_for(number);
  const std::int64_t open_before = at.bulb_balance.open;
  for (const Line& line : lines) {
    std::int64_t missing = 0;
    take(at.bulbs, line.grade, line.count, missing, at.assumed);
    at.bulb_balance.there -= line.count - missing;
    at.bulb_balance.*booked += line.count;
    at.bulb_balance.open -= missing;
  }
  settle_open(at.bulb_balance, at.open_fact, open_before, fact, number);
}

// True: the pot is emptied, so this work counts nothing in it. `both`: a person said that the work was done all the
// same, on what came out of the pot.
bool StoryFold::on_emptied(const FactKey& key, const std::string& helper, const When& when, std::int32_t number,
                           std::string_view work, std::int64_t count, bool& both) {
  both = false;
  if (number == 0) return false;
  const auto found = pots_.find(number);
  if (found == pots_.end() || !found->second.emptied || !found->second.count) return false;
  const PotState::Count& emptied = *found->second.count;
  Matter matter;
  matter.kind = MatterKind::after_unpotting;
  matter.id = matter_id(matter.kind, emptied.fact, key);
  matter.pot = {batch_.id, number};
  // Bulbs repotted with their sizes are most likely those that came out.
  matter.proposal = work.substr(0, 8) == "repotted" && count > 0 ? Take::both : Take::first;
  matter.first = {emptied.helper, emptied.when, "unpotted, " + count_text(emptied.counted, "bulb", "bulbs"),
                  emptied.counted, emptied.fact};
  matter.second = {helper, when, std::string(work), count, key};
  Take take = Take::first;
  if (!meets_settled(matter, take)) {
    raised_.push_back(std::move(matter));
    return true;
  }
  if (take == Take::second) set_aside_.insert(emptied.fact);
  if (take == Take::first) kept_out_.insert(key);
  both = take == Take::both;
  return true;
}

// Two devices that say different things of one pot on one day.
void StoryFold::observe(const Fact& fact, std::optional<PotState::Seen> PotState::*last, MatterKind kind,
                        std::int64_t value, const std::string& text) {
  if (fact.pot == 0) return;
  PotState& at = pot(fact.pot);
  const Day day = local_day(fact.when);
  std::optional<PotState::Seen>& seen = at.*last;
  if (seen && seen->day == day && seen->device != fact.device && seen->text != text) {
    Matter matter;
    matter.kind = kind;
    matter.id = matter_id(kind, seen->fact, fact.key());
    matter.pot = at.pot;
    matter.proposal = Take::second;
    matter.first = {seen->helper, seen->when, seen->text, seen->value, seen->fact};
    matter.second = {fact.helper, fact.when, text, value, fact.key()};
    Take take = Take::both;
    if (!meets_settled(matter, take)) {
      raised_.push_back(std::move(matter));
    } else if (take == Take::first) {
      set_aside_.insert(fact.key());
    } else if (take == Take::second) {
      set_aside_.insert(seen->fact);
    }
  }
  seen = PotState::Seen{std::string(fact.device), day, fact.key(), fact.helper, fact.when, value, text};
}

void StoryFold::apply(const Link& link) {
  batch_.last_order = std::max(batch_.last_order, link.order);
  if (without_.count(link.fact) != 0) return;
  std::int32_t number = link.pot;
  bool both = false;
  const auto work = link.cut ? "cut up" : link.arrives ? "combined" : "taken out to grow on";
  if (on_emptied(link.fact, link.helper, link.when, number, work, total(link.lines), both)) {
    if (both) {
      number = 0;
    } else if (!link.arrives) {
      // The other batch has them, so they went out of here, where they were not: the balance stays open until settled.
      PotState& from = pots_.at(number);
      const std::int64_t open_before = from.bulb_balance.open;
      (link.cut ? from.bulb_balance.cut : from.bulb_balance.taken) += total(link.lines);
      from.bulb_balance.open -= total(link.lines);
      settle_open(from.bulb_balance, from.open_fact, open_before, link.fact, number);
      return;
    }
  }
  if (!link.arrives)
    return act_on_bulbs(link.fact, number, link.lines, link.cut ? &BulbBalance::cut : &BulbBalance::taken);
  const std::int64_t count = total(link.lines);
  batch_.bulb_balance.brought += count;
  batch_.bulb_balance.there += count;
  for (const Line& line : link.lines) add(batch_.bulbs_waiting, line.grade.value_or(Grade{}), line.count);
  batch_.piece_balance.brought += link.pieces;
  batch_.piece_balance.waiting += link.pieces;
  batch_.pieces_waiting += link.pieces;
}

void StoryFold::apply(const Fact& given) {
  ++batch_.entries;
  const bool begins = std::holds_alternative<Begun>(given.payload);
  if (!begins) batch_.last_order = std::max(batch_.last_order, given.order);
  if (!without_.empty() && without_.count(given.key()) != 0) return;
  if (begins) return begin(given, std::get<Begun>(given.payload));

  const auto kind = static_cast<Kind>(kind_number(given.payload));
  Fact moved;
  const Fact* at = &given;
  const auto known_pot = pots_.find(given.pot);
  const bool emptied = given.pot != 0 && known_pot != pots_.end() && known_pot->second.emptied;

  if (emptied) {
    const Lines* lines = lines_of(given.payload);
    const std::int64_t count = lines != nullptr ? total(*lines) : 0;
    switch (kind) {
      case Kind::unpotted:
      case Kind::divided: {
        // One filling counted twice.
        PotState& pot_here = known_pot->second;
        const std::optional<std::int64_t>* alive = nullptr;
        const Lines* dead = nullptr;
        if (const auto* unpotted = std::get_if<Unpotted>(&given.payload)) {
          alive = &unpotted->alive;
          dead = &unpotted->dead;
        } else {
          const auto& divided = std::get<Divided>(given.payload);
          alive = &divided.alive;
          dead = &divided.dead;
        }
        if (!pot_here.count) return;
        Matter matter;
        matter.kind = MatterKind::counted_twice;
        matter.id = matter_id(matter.kind, pot_here.count->fact, given.key());
        matter.pot = pot_here.pot;
        matter.proposal = Take::first;
        matter.first = {pot_here.count->helper, pot_here.count->when,
                        count_text(pot_here.count->counted, "bulb", "bulbs"), pot_here.count->counted,
                        pot_here.count->fact};
        matter.second = {given.helper, given.when,
                         count_text(count, "bulb", "bulbs") + (count > 0 ? ": " : "") + grades_text(*lines), count,
                         given.key()};
        Take take = Take::first;
        if (!meets_settled(matter, take)) {
          raised_.push_back(std::move(matter));
        } else if (take == Take::second) {
          set_aside_.insert(pot_here.count->fact);
        } else if (take == Take::first) {
          kept_out_.insert(given.key());
        } else {
          const std::int64_t open_before = pot_here.bulb_balance.open;
          count_again(pot_here, *lines, *alive, *dead);
          settle_open(pot_here.bulb_balance, pot_here.open_fact, open_before, given, given.pot);
        }
        return;
      }
      case Kind::repotted:
      case Kind::lost:
      case Kind::sold:
      case Kind::given:
      case Kind::discarded:
      case Kind::graded:
      case Kind::looked:
      case Kind::watered:
      case Kind::fed:
      case Kind::treated:
      case Kind::treatment:
      case Kind::covered:
      case Kind::uncovered:
      case Kind::moved:
      case Kind::damage:
      case Kind::flowered: {
        bool both = false;
        const std::string work =
            std::string(to_text(kind)) + (lines != nullptr ? " " + std::to_string(count) : std::string());
        if (on_emptied(given.key(), given.helper, given.when, given.pot, work, count, both) && !both) return;
        if (both && kind == Kind::repotted) {
          // Bulbs that came out and waited went back into the pot.
          if (count > 0) fill(given, given.pot, Unit::bulbs, *lines, std::get<Repotted>(given.payload).place);
          return;
        }
        if (both && lines != nullptr) {
          PotState& pot_here = known_pot->second;
          if (kind == Kind::lost && pot_here.bulb_balance.open > 0) {
            // The loss explains what the count had found missing.
            std::int64_t& open = pot_here.bulb_balance.open;
            Lost rest;
            for (Line line : std::get<Lost>(given.payload).lines) {
              const std::int64_t explained = std::min(open, line.count);
              open -= explained;
              pot_here.bulb_balance.lost[static_cast<std::size_t>(line.cause)] += explained;
              line.count -= explained;
              if (line.count > 0) rest.lines.push_back(line);
            }
            pot_here.open_fact = given.key();
            moved = given;
            moved.pot = 0;
            moved.payload = rest;
          } else {
            moved = given;
            moved.pot = 0;
          }
          at = &moved;
        } else if (both) {
          return;
        }
        break;
      }
      default:
        break;
    }
  }

  const Fact& fact = *at;
  note_plan_facts(fact, kind);
  // Of the whole batch, or of one pot.
  PotState* in = fact.pot != 0 ? &pot(fact.pot) : nullptr;
  const auto set_phase = [&](Stage stage) {
    if (in != nullptr) {
      in->phase = stage;
      in->phase_order = fact.order;
      in->phase_on = fact.when;
    } else {
      batch_.phase = stage;
      batch_.phase_order = fact.order;
      batch_.phase_on = fact.when;
    }
  };
  const auto set_hold = [&](bool held, const std::string& reason) {
    if (in != nullptr) {
      in->held = held;
      in->held_order = fact.order;
      in->held_reason = held ? reason : "";
    } else {
      batch_.held = held;
      batch_.held_order = fact.order;
      batch_.held_reason = held ? reason : "";
    }
  };

  switch (kind) {
    case Kind::potted: {
      const auto& potted = std::get<Potted>(fact.payload);
      if (in != nullptr) fill(fact, fact.pot, potted.unit, potted.lines, potted.place);
      break;
    }
    case Kind::covered:
    case Kind::uncovered:
      if (in != nullptr) in->covered = kind == Kind::covered;
      break;
    case Kind::looked: {
      const auto& looked = std::get<Looked>(fact.payload);
      if (in == nullptr) {
        batch_.last_looked = fact.when;
        batch_.looked_order = fact.order;
        break;
      }
      in->last_looked = fact.when;
      std::string text;
      if (looked.shoots) {
        in->shoots = looked.shoots;
        text = count_text(*looked.shoots, "shoot", "shoots") + " seen";
      }
      if (looked.rot != YesNo::unsaid)
        text += looked.rot == YesNo::yes ? (text.empty() ? "rot seen" : ", rot seen")
                                         : (text.empty() ? "no rot" : ", no rot");
      if (!text.empty())
        observe(fact, &PotState::last_look, MatterKind::observations_differ, looked.shoots.value_or(0), text);
      break;
    }
    case Kind::moved: {
      const auto& place = std::get<Moved>(fact.payload).place;
      if (in == nullptr) {
        batch_.place = place;
        batch_.place_order = fact.order;
        break;
      }
      observe(fact, &PotState::last_move, MatterKind::two_places, 0, place);
      in->place = place;
      in->place_order = fact.order;
      break;
    }
    case Kind::lost:
      lose(fact, std::get<Lost>(fact.payload).lines);
      break;
    case Kind::damage:
      if (in != nullptr) {
        const auto& damage = std::get<Damage>(fact.payload);
        in->damage.push_back({fact.when, damage.cause, damage.detail, fact.helper, damage.note, damage.how_bad});
      }
      break;
    case Kind::unpotted: {
      const auto& unpotted = std::get<Unpotted>(fact.payload);
      if (in != nullptr) empty(fact, unpotted.lines, unpotted.alive, unpotted.dead, false);
      break;
    }
    case Kind::divided: {
      const auto& divided = std::get<Divided>(fact.payload);
      if (in != nullptr) empty(fact, divided.lines, divided.alive, divided.dead, false);
      break;
    }
    case Kind::graded: {
      const auto& graded = std::get<Graded>(fact.payload);
      observe(fact, &PotState::last_grading, MatterKind::observations_differ, total(graded.lines),
              grades_text(graded.lines));
      regrade(fact, graded.lines);
      break;
    }
    case Kind::repotted: {
      const auto& repotted = std::get<Repotted>(fact.payload);
      set_phase(Stage::growing);
      if (in == nullptr) break;
      const bool was_filled = in->filled;
      if (!repotted.lines.empty() && !was_filled) {
        fill(fact, fact.pot, Unit::bulbs, repotted.lines, repotted.place);
        break;
      }
      if (!repotted.lines.empty()) empty(fact, repotted.lines, std::nullopt, {}, true);
      in->filled_on = fact.when;
      in->filled_order = fact.order;
      if (!repotted.place.empty()) {
        in->place = repotted.place;
        in->place_order = fact.order;
      }
      break;
    }
    case Kind::dried_off:
      set_phase(Stage::drying_off);
      break;
    case Kind::started:
      set_phase(Stage::started);
      break;
    case Kind::sold:
      act_on_bulbs(fact, fact.pot, std::get<Sold>(fact.payload).lines, &BulbBalance::sold);
      break;
    case Kind::given:
      act_on_bulbs(fact, fact.pot, std::get<Given>(fact.payload).lines, &BulbBalance::given);
      break;
    case Kind::discarded:
      act_on_bulbs(fact, fact.pot, std::get<Discarded>(fact.payload).lines, &BulbBalance::discarded);
      break;
    case Kind::held:
      set_hold(true, std::get<Held>(fact.payload).reason);
      break;
    case Kind::cleared:
      set_hold(false, "");
      break;
    case Kind::combined: {
      const auto& combined = std::get<Combined>(fact.payload);
      act_on_bulbs(fact, 0, combined.lines, &BulbBalance::taken);
      const std::int64_t got = std::min(combined.pieces, batch_.pieces_waiting);
      batch_.pieces_waiting -= got;
      batch_.piece_balance.waiting -= got;
      batch_.piece_balance.taken += combined.pieces;
      batch_.piece_balance.open -= combined.pieces - got;
      break;
    }
    default:  // counts nothing: told in the story only
      break;
  }
}

// What a growing plan counts from, and what stands against work on it. Before the pot is emptied or filled by the fact.
void StoryFold::note_step(const Fact& fact, Step step) {
  const auto note = [&](std::vector<StepDone>& all) {
    const auto found = std::find_if(all.begin(), all.end(), [step](const StepDone& one) { return one.step == step; });
    if (found == all.end()) {
      all.push_back({step, fact.when, fact.order});
      std::sort(all.begin(), all.end(), [](const StepDone& a, const StepDone& b) { return a.step < b.step; });
    } else {
      *found = {step, fact.when, fact.order};
    }
  };
  if (fact.pot != 0) note(pot(fact.pot).done);
  if (fact.pot == 0 || step == Step::unpot) note(batch_.done);
}

void StoryFold::note_plan_facts(const Fact& fact, Kind kind) {
  PotState* in = fact.pot != 0 ? &pot(fact.pot) : nullptr;
  const auto no_entry = [&](const std::optional<std::int32_t>& hours, const std::string& product) {
    if (!hours || *hours <= 0) return;
    NoEntry one{fact.when, product};
    // Of a bare day nobody knows the hour: the time runs from its end.
    if (one.until.bare_day) one.until = moment(one.until.utc_ms + 24 * 3'600'000LL, one.until.offset_minutes);
    one.until.utc_ms += *hours * 3'600'000LL;
    std::optional<NoEntry>& at = in != nullptr ? in->no_entry : batch_.no_entry;
    if (!at || at->until.utc_ms < one.until.utc_ms) at = one;
  };
  switch (kind) {
    case Kind::covered:
      return note_step(fact, Step::covered);
    case Kind::uncovered:
      return note_step(fact, Step::uncover);
    case Kind::looked:
    case Kind::damage:  // whoever saw it has looked
      return note_step(fact, Step::look);
    case Kind::unpotted:
    case Kind::divided:
      return note_step(fact, Step::unpot);
    case Kind::graded:
      return note_step(fact, Step::grade);
    case Kind::dried_off:
      return note_step(fact, Step::dry_off);
    case Kind::started:
      return note_step(fact, Step::start);
    case Kind::repotted:
      return note_step(fact, Step::repot);
    case Kind::watered:
      return note_step(fact, Step::water);
    case Kind::fed:
      return note_step(fact, Step::feed);
    case Kind::treated: {
      const auto& treated = std::get<Treated>(fact.payload);
      return no_entry(treated.re_entry_hours, treated.product);
    }
    case Kind::treatment: {
      const auto& treatment = std::get<Treatment>(fact.payload);
      return no_entry(treatment.re_entry_hours, treatment.product);
    }
    case Kind::tested: {
      const auto& tested = std::get<Tested>(fact.payload);
      (in != nullptr ? in->last_test : batch_.last_test) =
          TestSeen{tested.subject, fact.helper, tested.result, fact.when, fact.order};
      return;
    }
    case Kind::postponed: {
      const auto& postponed = std::get<Postponed>(fact.payload);
      std::vector<StepPutOff>& all = in != nullptr ? in->put_off : batch_.put_off;
      const StepPutOff one{postponed.step, postponed.days, postponed.why, fact.helper, fact.when, fact.order};
      const auto found =
          std::find_if(all.begin(), all.end(), [&one](const StepPutOff& other) { return other.step == one.step; });
      if (found == all.end()) {
        all.push_back(one);
      } else {
        *found = one;
      }
      return;
    }
    case Kind::plan_edited: {
      const auto& plan = std::get<PlanEdited>(fact.payload);
      batch_.plans.push_back({plan.plan, plan.content, fact.order});
      return;
    }
    default:
      return;
  }
}

FoldedStory fold_story(const BatchId& story, const Resolved& resolved, const std::vector<Link>& links_here) {
  std::set<FactKey> without;
  std::vector<const Link*> links;
  for (const Link& link : links_here) links.push_back(&link);
  std::sort(links.begin(), links.end(), [](const Link* a, const Link* b) { return a->order < b->order; });
  for (;;) {
    StoryFold fold(story, resolved.settlements);
    fold.without(without);
    fold.batch().amended = resolved.amended;
    fold.batch().from_table = resolved.from_table;
    std::size_t next = 0;
    for (const Fact& fact : resolved.facts) {
      if (!std::holds_alternative<Begun>(fact.payload)) {
        while (next < links.size() && links[next]->order < fact.order) fold.apply(*links[next++]);
      }
      fold.apply(fact);
    }
    while (next < links.size()) fold.apply(*links[next++]);
    // A settlement may set aside a fact that had already counted: each round sets at least one more aside.
    const std::size_t before = without.size();
    without.insert(fold.set_aside().begin(), fold.set_aside().end());
    if (without.size() != before) continue;

    FoldedStory folded;
    folded.matters = fold.raised();
    const auto add_balance = [&](const PotState* pot) {
      if (auto matter = balance_matter(fold.batch(), pot, resolved.settlements)) folded.matters.push_back(*matter);
    };
    if (fold.batch().begun) {  // until its beginning is known here, nothing of it can balance
      add_balance(nullptr);
      for (const auto& [number, pot] : fold.pots()) add_balance(&pot);
    }
    // One label on two batches was settled by giving this one another.
    const Settled* relabelled = nullptr;
    for (const auto& [id, settled] : resolved.settlements) {
      if (settled.text.empty()) continue;
      if (relabelled == nullptr || relabelled->order < settled.order) relabelled = &settled;
    }
    if (relabelled != nullptr) fold.batch().label = relabelled->text;
    std::sort(folded.matters.begin(), folded.matters.end(),
              [](const Matter& a, const Matter& b) { return a.id < b.id; });
    folded.set_aside = without;
    folded.set_aside.insert(fold.kept_out().begin(), fold.kept_out().end());
    folded.batch = std::move(fold.batch());
    folded.pots = std::move(fold.pots());
    return folded;
  }
}

}  // namespace motherbulb

// The glasshouse itself, while its four seasons are told: what truly stands in each pot, and the work on it. Each piece
// of work changes what stands there and writes down the act that a helper would.
//
// All figures are either a row of the project's table of trade values (V and a number, with what it says; S is a source
// of the trade facts) or the demo's own invention, and say so. No published number is used for more than it measured.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/demo/chance.hpp"
#include "core/demo/season.hpp"

namespace motherbulb::demo {

enum Clone { harbour_ember = 0, kittiwake_ledge, tallow_window, eighth_buoy, grey_selkie };
constexpr int clone_count = 5;

struct CloneNames {
  std::string_view name, genus, bench;
};
constexpr CloneNames clones[clone_count] = {{"Harbour Ember", "Hippeastrum", "bench 2"},
                                            {"Kittiwake Ledge", "Hippeastrum", "bench 3"},
                                            {"Tallow Window", "Narcissus", "bench 4"},
                                            {"Eighth Buoy", "Narcissus", "bench 4"},
                                            {"Grey Selkie", "Nerine", "bench 5"}};

struct Bulb {
  std::int32_t girth_mm = 0;
  Grade noted;  // as what the book has it: the class at its last count
};
using Bulbs = std::vector<Bulb>;

struct Pot {
  std::int32_t number = 0;
  bool emptied = false;
  std::int32_t pieces = 0;
  Bulbs bulbs;
  std::string place;
  Day since;
};

struct Batch {
  std::int32_t number = -1;
  Clone clone = harbour_ember;
  Method method = Method::growing_on;
  std::int32_t sections = 0;
  std::int32_t pieces_waiting = 0;
  Bulbs waiting;
  std::vector<Pot> pots;
};

struct Range {
  std::int32_t low, high;
};
// Days between two rounds of the same work.
struct Care {
  Range water{16, 23};
  Range feed{0, 0};  // none
  Range look{0, 0};
};

// How much a bulb of that girth gains in its season, both in millimetres.
using Growth = std::function<std::int32_t(std::int32_t)>;

struct Formed {
  Bulbs bulbs;
  std::int32_t alive = 0;
};
struct Twice {
  Batch* batch = nullptr;
  Pot* pot = nullptr;
  Unpotted count;
};

// Bounds between the classes, girth in millimetres. Hippeastrum from 22 on and the others' upper classes are the
// trade's (V196 to V202, V205 to V209, V214 to V215); those below are 2 cm steps of our own.
const std::vector<std::int32_t>& bounds_of(std::string_view genus);
Grade class_of(Clone clone, std::int32_t girth_mm);
Lines counted(const Bulbs& bulbs);
Lines counted_by_cause(std::int64_t count, Cause cause, const std::string& detail);
Day later(Day day, std::int32_t days);
// Monday of that ISO week, or the day after it that is asked for.
Day in_week(std::int32_t year, std::int32_t week, std::int32_t weekday = 1);

class House {
public:
  explicit House(Day last) : chance_(0x5bd1e995u), last_(last), first_(later(last, -7 * weeks_told)) {}
  Season live();

private:
  // ------------------------------------------------------------------------------------------------ writing down

  static constexpr std::int32_t round_days = 28;  // from one merge of the three devices to the next

  std::int32_t round_of(Day day) const { return day == last_ ? 1000 : (day.days - first_.days) / round_days; }
  // One clone, one round, one device: nobody works on what another has just changed and not yet merged.
  Device device_for(int clone, Day day) const;
  std::int64_t next_moment(Device device, Day day);
  // Null for a day outside the four seasons: it is not told.
  Act* write_by(Device device, Day day, std::int32_t batch, std::int32_t pot, Payload fact);
  Act* write(const Batch& batch, Day day, std::int32_t pot, Payload fact);
  void write_of_book(Day day, Payload fact, Device device = ines);
  void undo(Device device, Day day);

  // ------------------------------------------------------------------------------------------------ what is done

  // Nothing is done after the last day: what was planned for then stays as it stands.
  std::string place_on(const std::string& bench);
  Bulbs bulbs_of(Clone clone, std::int32_t count, Range girth_mm);
  Batch begin_bulbs(Clone clone, Day day, Bulbs bulbs, const std::string& note);
  // Cuts `mothers` bulbs that wait in `from`, the largest.
  Batch begin_cut(Batch& from, Day day, std::int32_t mothers, Method method, std::int32_t sections,
                  const std::string& medium);
  Begun begun_of(Clone clone, Method method, Lines mothers) const;
  Batch begin(Clone clone, Day day, Method method, std::int32_t sections, Begun begun, std::int32_t parent);
  Pot& new_pot(Batch& batch, Day day, const std::string& bench);
  void pot_pieces(Batch& batch, Day day, std::int32_t to_a_pot, const std::string& bench);
  // All that waits into new pots, `to_a_pot(girth)` of like size together.
  void pot_bulbs(Batch& batch, Day day, const std::string& bench, std::int32_t (*to_a_pot)(std::int32_t));
  static bool filled(const Pot& pot);
  static std::int32_t largest_mm(const Pot& pot);  // 0 where no bulb is in it
  // The daily round from the day after `from` to the day before `to`: watering and feeding of the whole batch, looks
  // pot by pot.
  void care(const Batch& batch, Day from, Day to, const Care& care, std::int32_t shoots_from_week = -1);
  // Damage of the common kinds, at no published rate.
  void trouble(const Batch& batch, const Pot& pot, Day day);
  // Pieces that rot before they form anything: those found on a round, and written down. Between 5 and 38 in a hundred
  // chips and scored bulbs did not live in V086 (Lachenalia, survival 0.62 to 0.95); for the other genera no rate is
  // published, so the demo stays at the low end of it.
  void pieces_rot(Batch& batch, Day from, std::int32_t weeks, std::int32_t percent);
  // Bulbs lost in a season of growing on. V180 and V181 give 4 to 6 in a hundred adults a year (wild Narcissus); small
  // bulbs no published rate, ours lose `percent`.
  void bulbs_rot(Batch& batch, Day from, Day to, std::int32_t percent);
  // What the pieces of a pot gave: `share` in a hundred live, and those bear 1 bulblet, 2 or 3 in `ones`, `twos` and
  // the rest of a hundred.
  Formed form(const Batch& batch, const Pot& pot, std::int32_t share, std::int32_t ones, std::int32_t twos,
              Range girth_mm);
  // A mother cut crosswise from below, one piece. V535: 8 to 9 bulblets from 8 sectors.
  Formed form_crosswise(const Batch& batch, Range girth_mm);
  Formed form_hippeastrum(const Batch& batch, const Pot& pot);
  // Empties a pot of pieces. The pieces not alive are said to be rotten; now and then one is just not found.
  void unpot_pieces(Batch& batch, Pot& pot, Day day, const Formed& formed);
  Unpotted count_of(const Pot& pot, const Formed& formed);
  // Empties a pot of bulbs that have grown by `grown(girth)`, with `offsets` new ones.
  void unpot_bulbs(Batch& batch, Pot& pot, Day day, const Growth& grown, const Bulbs& offsets,
                   std::int32_t not_found = 0);
  // Takes bulbs that wait, of `girth_mm` and more, at most `most`; they leave by `act` (Sold, Given, Discarded).
  std::int32_t let_go(Batch& batch, Day day, std::int32_t girth_mm, std::int32_t most, Payload act);

  // ------------------------------------------------------------------------------------------------ Hippeastrum

  // V130, V131, V152, V153: two or three seasons of 8 to 10 months to flowering size. In warm soil 12 cm after 11
  // months and 22 cm after 21 (so 10 cm in the second season); ours, cooler and in pots, 6 to 9.
  std::int32_t hippeastrum_grows(std::int32_t girth_mm);
  // V538: none to two offsets to a mother left alone.
  Bulbs hippeastrum_offsets(Clone clone, std::int32_t mothers);
  static std::int32_t hippeastrum_to_a_pot(std::int32_t girth_mm);
  // A heated house gives each batch its rest when the grower chooses, so these seasons are counted back from the last
  // day: each of the four ends `E`, 0, 52, 104 and 156 weeks before it. Mothers rest from E - 44 weeks to E - 35 and
  // are cut then; V537: unpotted 32 weeks later. What they gave rests dry and is potted again, and rests in pots a
  // season on.
  void hippeastrum(Clone clone, std::int32_t mothers, std::int32_t girth_mm);
  // From the cut to the first count.
  void forming(Batch& batch, Day cut_on, int season, Day end);
  // The first count again by another helper who had not heard of it, and settled that evening.
  void count_twice(Batch& batch, Pot& pot, Day day, const Formed& formed);
  // Animals dig up pots set outdoors (the trade facts' "Cross-cutting", and S91 for squirrels and mice).
  void mouse(Batch& batch, Day day);
  // Looks like a virus, is tested, and is none: cleared.
  void check_for_virus(Batch& batch, Day day);
  // One season of growing on, from the dry rest after the count at the end of the last one to the count at the end of
  // this one.
  void growing(Batch& batch, int cut_in, Day end, const std::string& bench);

  // ------------------------------------------------------------------------------------------------ Narcissus

  // V155 to V159 and V071: four years and more from a small piece to a flower. Weight grows fastest in the smallest.
  std::int32_t narcissus_grows(std::int32_t girth_mm);
  // The island's weeks are those of the north: leaves die down in June, bulbs are cut dormant in July and August
  // (trade facts, S17) and planted in September.
  void narcissus(Clone clone, std::int32_t count, Method method);
  // A stray among them: seen in flower, rogued out.
  void off_type(Batch& batch, Day day);

  // ------------------------------------------------------------------------------------------------ Nerine

  // V127: three to four years from offset to flower. No sizes by season are published; these are ours.
  std::int32_t nerine_grows(std::int32_t girth_mm);
  // V166: growth of 8 to 9 months; V167, V168: 3 to 4 months cold and dry. Here dry from week 51 to week 15.
  void nerine(Clone clone, std::int32_t count);

  // ------------------------------------------------------------------------------------------------ the office

  void set_up();
  void office();
  // The last morning: Bo on the bench of 'Harbour Ember', Marit on that of 'Kittiwake Ledge', Ines on the rest.
  void last_morning();
  static Looked seen(const Batch& batch, const Pot& pot, std::int32_t more);
  // Looks at the first `looks` filled pots of a clone, and moves `moves` of them.
  void round(Clone clone, std::int32_t looks, std::int32_t moves);
  // Notes of the last weeks on pots that stand, and the hold that stands.
  void recent_damage(const std::vector<std::pair<Batch*, Pot*>>& ember,
                     const std::vector<std::pair<Batch*, Pot*>>& ledge);

  // In order of time, with the evenings.
  Season finish();

  Chance chance_;
  Day last_, first_;
  Season season_;
  std::map<std::pair<int, std::int32_t>, std::int32_t> clocks_;
  std::map<std::string, std::int32_t> positions_;
  std::vector<Batch> ready_ember_, ready_ledge_;
  std::vector<Batch> grown_[clone_count];
  Twice twice_;
};

}  // namespace motherbulb::demo

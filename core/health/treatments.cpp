#include "core/health/treatments.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "core/places.hpp"

namespace motherbulb {
namespace {

constexpr std::int64_t one_act = 60'000 * 4;  // in the quarters of a millisecond of FoldOrder::at

template <class T>
void add_once(std::vector<T>& all, const T& one) {
  if (std::find(all.begin(), all.end(), one) == all.end()) all.push_back(one);
}

// Where the pots of one batch stand, as its story is read on.
class Standing {
public:
  void take(const StoryLine& line) {
    const std::int32_t pot = line.entry.pot;
    if (const auto* potted = std::get_if<Potted>(&line.fact)) {
      filled_.insert(pot);
      move(pot, potted->place);
    } else if (const auto* repotted = std::get_if<Repotted>(&line.fact)) {
      if (pot != 0) filled_.insert(pot);
      move(pot, repotted->place);
    } else if (const auto* moved = std::get_if<Moved>(&line.fact)) {
      move(pot, moved->place);
    } else if (std::holds_alternative<Unpotted>(line.fact) || std::holds_alternative<Divided>(line.fact)) {
      filled_.erase(pot);
    }
  }
  void tell(std::int32_t pot, std::vector<std::string>& places) const {
    if (pot != 0) return add(of(pot), places);
    for (const std::int32_t one : filled_) add(split_place(of(one)).bench, places);
    if (filled_.empty()) add(of_batch_, places);
  }

private:
  static void add(const std::string& place, std::vector<std::string>& places) {
    if (!place.empty()) add_once(places, place);
  }
  void move(std::int32_t pot, const std::string& place) {
    if (place.empty()) return;
    if (pot != 0) {
      places_[pot] = place;
    } else {
      of_batch_ = place;
      places_.clear();
    }
  }
  std::string of(std::int32_t pot) const {
    const auto found = places_.find(pot);
    return found == places_.end() ? of_batch_ : found->second;
  }

  std::set<std::int32_t> filled_;
  std::map<std::int32_t, std::string> places_;
  std::string of_batch_;
};

std::optional<Treatment> treatment_in(const Payload& fact) {
  if (const auto* treatment = std::get_if<Treatment>(&fact)) return *treatment;
  const auto* treated = std::get_if<Treated>(&fact);
  if (treated == nullptr) return std::nullopt;
  Treatment said;
  said.product = treated->product;
  said.amount = treated->amount;
  said.re_entry_hours = treated->re_entry_hours;
  said.note = treated->note;
  return said;
}

struct Found {
  FoldOrder order;
  TreatmentRow row;
  ByteString said;
};

// None where the line is no treatment of those days.
std::optional<Found> found_in(const StoryLine& line, Day from, Day to) {
  const std::optional<Treatment> said = line.stands ? treatment_in(line.fact) : std::nullopt;
  const Day day = local_day(line.entry.when);
  if (!said || day < from || to < day) return std::nullopt;
  Found one;
  one.order = line.order;
  one.row.when = line.entry.when;
  one.row.helper = line.entry.helper;
  one.row.fact = *said;
  one.row.enter_again = enter_again(line.entry.when, said->re_entry_hours);
  one.said = encode(*said);
  return one;
}

// The next entry of the same act.
bool goes_on(const Found& act, const Found& next) {
  return !act.row.when.bare_day && !next.row.when.bare_day && act.row.helper == next.row.helper &&
         act.said == next.said;
}

}  // namespace

std::optional<When> enter_again(const When& when, const std::optional<std::int32_t>& hours) {
  if (!hours || *hours < 0) return std::nullopt;
  constexpr std::int64_t hour_ms = 3'600'000;
  return moment(when.utc_ms + (when.bare_day ? 24 * hour_ms : 0) + *hours * hour_ms, when.offset_minutes);
}

std::vector<TreatmentRow> treatments_of(const Logbook& book, Day from, Day to) {
  std::vector<Found> found;
  for (const BatchState& batch : book.batches()) {
    Standing standing;
    for (const StoryLine& line : book.story(batch.id)) {
      if (!line.stands) continue;
      standing.take(line);
      std::optional<Found> one = found_in(line, from, to);
      if (!one) continue;
      one->row.pots = {pot_label(batch, line.entry.pot)};
      one->row.crops = {{batch.genus, batch.clone}};
      standing.tell(line.entry.pot, one->row.places);
      found.push_back(std::move(*one));
    }
  }
  // Of no batch: what was treated is the house.
  for (const StoryLine& line : book.story({})) {
    if (std::optional<Found> one = found_in(line, from, to)) found.push_back(std::move(*one));
  }
  std::sort(found.begin(), found.end(), [](const Found& a, const Found& b) { return a.order < b.order; });

  // Two people may treat side by side: an act is looked for among those that still run.
  std::vector<Found> acts;
  std::vector<std::size_t> running;
  for (Found& one : found) {
    const auto over = [&](std::size_t act) { return one.order.at - acts[act].order.at > one_act; };
    running.erase(std::remove_if(running.begin(), running.end(), over), running.end());
    const auto of =
        std::find_if(running.begin(), running.end(), [&](std::size_t act) { return goes_on(acts[act], one); });
    if (of == running.end()) {
      running.push_back(acts.size());
      acts.push_back(std::move(one));
      continue;
    }
    Found& act = acts[*of];
    for (const std::string& pot : one.row.pots) add_once(act.row.pots, pot);
    for (const std::string& place : one.row.places) add_once(act.row.places, place);
    for (const TreatmentRow::Crop& crop : one.row.crops) add_once(act.row.crops, crop);
    act.order = one.order;
  }
  std::vector<TreatmentRow> rows;
  rows.reserve(acts.size());
  for (Found& act : acts) rows.push_back(std::move(act.row));
  return rows;
}

}  // namespace motherbulb

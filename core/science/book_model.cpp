#include "core/science/book_model.hpp"

#include <algorithm>
#include <map>
#include <utility>

#include "core/names.hpp"
#include "core/places.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/growth_tally.hpp"

namespace motherbulb {
namespace {

constexpr std::int32_t year_days = 365;

// Whose batches are looked for: names as they are compared.
struct Whose {
  std::string clone, genus;
  bool is(const std::string& its_clone, const std::string& its_genus) const {
    return folded_name(its_clone) == clone && folded_name(its_genus) == genus;
  }
  bool is(const BatchState& batch) const { return batch.begun && is(batch.clone, batch.genus); }
};

BulbsByGrade bulbs_of(const std::vector<BatchPots>& batches, const Whose& whose) {
  BulbsByGrade bulbs;
  for (const BatchPots& one : batches) {
    if (!whose.is(one.batch)) continue;
    for (const auto& [grade, count] : one.batch.bulbs_waiting) bulbs[grade] += count;
    for (const PotState& pot : one.pots) {
      for (const auto& [grade, count] : pot.bulbs) bulbs[grade] += count;
    }
  }
  return bulbs;
}

// Answers for ways of cutting, each asked for once.
class Ways {
public:
  Ways(const GrowthInput& input, const CutGiver& gives) : input_(input), gives_(gives) {}

  const CutGives& of(Method method, std::int32_t sections) {
    const auto key = std::make_pair(method, sections);
    if (const auto known = known_.find(key); known != known_.end()) return known->second;
    return known_.emplace(key, what_gives(input_, gives_, method, sections)).first->second;
  }

private:
  const GrowthInput& input_;
  const CutGiver& gives_;
  std::map<std::pair<Method, std::int32_t>, CutGives> known_;
};

// The sections of a batch that grow, with what one of them may give.
GrowingPieces pieces_of(const BatchState& batch, std::int64_t count, const GrowthInput& input, Ways& ways) {
  const CutGives& way = ways.of(batch.method, batch.sections);
  const StartingYield* published = input.start.yield(batch.method);
  Grade mother = batch.mother_grade.value_or(Grade{});
  // Mothers that nobody sized were as large as those of whom the yield was published.
  if (!mother.sized() && published != nullptr) mother.low_mm = static_cast<std::int32_t>(10 * published->girth_cm);
  const double of_mother = way.per_mother[class_of(input.grades, mother)];
  // A mother that is cut from below stays one piece.
  const double pieces = leaves_mother_whole(batch.method) ? 1.0 : std::max(1, way.sections);
  GrowingPieces growing{count, of_mother / pieces, way.size_shares, way.dispersion / pieces, {}};
  for (const DrawnGives& one : way.may_be) {
    growing.may_be.emplace_back(one.per_mother[class_of(input.grades, mother)] / pieces, one.size_shares);
  }
  return growing;
}

void gather_pieces(const BookOnDay& known, const Whose& whose, GrowthInput& input, Ways& ways) {
  for (const BatchPots& one : known.stands) {
    if (!whose.is(one.batch) || !cuts(one.batch.method)) continue;
    std::int64_t pieces = one.batch.pieces_waiting;
    for (const PotState& pot : one.pots) pieces += pot.emptied ? 0 : pot.pieces;
    if (pieces > 0) input.pieces.push_back(pieces_of(one.batch, pieces, input, ways));
  }
}

void gather_places(const BookOnDay& known, const Whose& whose, GrowthInput& input) {
  std::map<std::string, std::int64_t> benches;
  for (const BatchPots& one : known.stands) {
    if (!whose.is(one.batch)) continue;
    benches[split_place(one.batch.place).bench] += one.batch.pieces_waiting + total(one.batch.bulbs_waiting);
    for (const PotState& pot : one.pots) {
      if (!pot.emptied) benches[split_place(place_of(one.batch, pot)).bench] += pot.pieces + total(pot.bulbs);
    }
  }
  bool named = false;
  for (const auto& [bench, standing] : benches) named = named || (!bench.empty() && standing > 0);
  for (const auto& [bench, standing] : benches) {
    if (named && standing > 0) input.places.push_back(static_cast<double>(standing));
  }
}

void gather_cuts(const BookOnDay& known, const Whose& whose, GrowthInput& input, Ways& ways) {
  std::map<std::pair<Method, std::int32_t>, std::vector<double>> mothers;
  std::vector<double> all(input.grades.size(), 0.0);
  for (const CutBefore& cut : known.records.cuts) {
    const bool in_year = known.on.days - cut.on.days < year_days;
    if (!in_year || !whose.is(cut.clone, cut.genus)) continue;
    std::vector<double>& of_way = mothers[{cut.method, cut.sections}];
    of_way.resize(input.grades.size(), 0.0);
    const std::size_t which = class_of(input.grades, cut.grade);
    of_way[which] += static_cast<double>(cut.mothers);
    all[which] += static_cast<double>(cut.mothers);
  }
  const std::vector<double> stood = counts_by_class(bulbs_of(known.year_before, whose), input.grades);
  const std::vector<double> stand = counts_by_class(input.stock, input.grades);
  for (const auto& [way, cut_of] : mothers) {
    CutGives cut = ways.of(way.first, way.second);
    cut.share_cut.assign(input.grades.size(), 0.0);
    for (std::size_t j = 0; j < cut_of.size(); ++j) {
      const double among = all[j] > stood[j] ? all[j] + stand[j] : stood[j];
      if (cut_of[j] > 0) cut.share_cut[j] = std::min(1.0, cut_of[j] / among);
    }
    input.cuts.push_back(std::move(cut));
  }
}

}  // namespace

Result<BookOnDay> book_on_day(const Logbook& book, Day on) {
  auto facts = past_facts(book);
  if (!facts) return facts.error();
  return book_on_day(book, on, std::move(*facts));
}

BookOnDay book_on_day(const Logbook& book, Day on, std::vector<PastFact> facts) {
  const auto later = [on](const PastFact& fact) { return on < local_day(fact.when); };
  const auto left = std::remove_if(facts.begin(), facts.end(), later);
  // Where nothing is later, what stands is what the book has folded already.
  const bool all = left == facts.end();
  facts.erase(left, facts.end());
  BookOnDay known;
  known.on = on;
  known.records = growth_records(facts);
  known.stands = all ? book.batches_with_pots() : book.batches_with_pots(on);
  known.year_before = book.batches_with_pots(Day{on.days - year_days});
  return known;
}

StartingValues starting_values_or_assumed(const std::string& genus, std::vector<std::string>& assumed) {
  if (const StartingValues* known = starting_values(genus)) return *known;
  StartingValues values = *starting_values("Narcissus");
  values.genus = genus;
  assumed.push_back("Of " + (genus.empty() ? std::string("a genus that nobody named") : genus) +
                    " nothing published is at hand: it counts as Narcissus does (assumption).");
  return values;
}

CutGives published_or_assumed(const StartingValues& start, Method method, std::int32_t sections,
                              const std::vector<Grade>& grades) {
  if (const StartingYield* yield = start.yield(method)) {
    return published_cut(start, *yield, sections > 0 ? sections : static_cast<std::int32_t>(yield->sections), grades);
  }
  CutGives cut;
  cut.method = method;
  cut.sections = sections > 0 ? sections : 8;
  cut.per_mother.assign(grades.size(), static_cast<double>(cut.sections));
  cut.bulblet_girth_cm = start.bulblet_girth_cm.value;
  cut.size_shares = sizes_around(cut.bulblet_girth_cm, usual_size_spread, grades);
  cut.share_cut.assign(grades.size(), 0.0);
  cut.dispersion = cut.sections * usual_dispersion;
  cut.source = "nothing is published of " + start.genus + ", so one bulblet a section (assumption)";
  return cut;
}

CutGives what_gives(const GrowthInput& input, const CutGiver& gives, Method method, std::int32_t sections) {
  std::optional<CutGives> given;
  if (gives) given = gives(method, sections, input.grades);
  return given ? std::move(*given) : published_or_assumed(input.start, method, sections, input.grades);
}

Result<GrowthInput> growth_input_of(const Logbook& book, const BookOnDay& known, const std::string& clone,
                                    const CutGiver& gives) {
  const std::string folded = folded_name(clone);
  const BatchState* first = nullptr;
  for (const BatchPots& one : known.stands) {
    if (first == nullptr && one.batch.begun && folded_name(one.batch.clone) == folded) first = &one.batch;
  }
  if (first == nullptr) {
    return refusal("no batch of a clone \"" + clone + "\" had begun by " + to_text(known.on) +
                   "; name one that stock lists");
  }
  const Whose whose{folded, folded_name(first->genus)};
  GrowthInput input;
  input.clone = first->clone;
  input.start = starting_values_or_assumed(first->genus, input.assumed);
  input.grades = book.grades_of(first->genus);
  input.stock = bulbs_of(known.stands, whose);
  Ways ways(input, gives);
  gather_pieces(known, whose, input, ways);
  gather_places(known, whose, input);
  gather_cuts(known, whose, input, ways);
  return input;
}

Result<GrowthModel> growth_model_of(const Logbook& book, const std::string& clone, Day on, const CutGiver& gives) {
  const auto known = book_on_day(book, on);
  if (!known) return known.error();
  const auto input = growth_input_of(book, *known, clone, gives);
  if (!input) return input.error();
  return growth_model(*input, known->records);
}

}  // namespace motherbulb

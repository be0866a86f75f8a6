#include "app/yields_picture.hpp"

#include <algorithm>
#include <cmath>

#include "core/names.hpp"
#include "core/science/after_cut.hpp"
#include "core/science/book_facts.hpp"
#include "core/science/book_yields.hpp"

namespace motherbulb {
namespace {

// What one mother comes to in each way, her size being that of most of those that were cut.
void compare_ways(const Logbook& book, const std::string& clone, Day on, const YieldRecords& records,
                  YieldsPicture& picture) {
  const std::string& genus = picture.ways.front().row.genus;
  const CutGiver gives = cut_givers_of(records)(clone, genus);
  const auto growth = growth_model_of(book, clone, on, gives);
  if (!growth) return;  // nothing of it stands in the book of that day
  std::vector<Grade> grades;
  for (const ClassGrowth& one : growth->classes) grades.push_back(one.grade);
  const auto most = std::max_element(picture.ways.begin(), picture.ways.end(),
                                     [](const auto& a, const auto& b) { return a.row.sections < b.row.sections; });
  const auto girth_mm = static_cast<std::int32_t>(std::lround(10 * most->row.girth_cm));
  const std::size_t mother = class_of(grades, Grade{girth_mm, girth_mm});
  picture.mother = grades[mother];
  std::vector<std::string> assumed;
  const StartingValues start = starting_values_or_assumed(genus, assumed);
  for (YieldsOfWay& way : picture.ways) {
    auto given = gives(way.row.method, way.row.sections_each, grades);
    if (!given) given = published_or_assumed(start, way.row.method, way.row.sections_each, grades);
    way.saleable = saleable_after_cut(*growth, *given, mother, most_seasons_asked);
  }
  picture.left_whole = saleable_left_whole(*growth, mother, most_seasons_asked);
}

}  // namespace

Result<YieldsPicture> yields_of_clone(const Logbook& book, const std::string& clone, Day on, const GoOn& go_on) {
  if (!go_on(0)) return stopped_by_hand();
  const auto facts = past_facts(book);
  if (!facts) return facts.error();
  const YieldRecords records = yield_records(*facts);
  const std::string folded = folded_name(clone);
  YieldsPicture picture;
  picture.taken_pots = records.taken_pots;
  picture.uncounted_pots = records.uncounted_pots;
  for (const MethodYields& method : yields_by_method(records)) {
    const std::size_t first = picture.ways.size();
    for (const YieldRow& row : method.rows) {
      if (folded_name(row.clone) == folded) picture.ways.push_back({row, {}});
    }
    if (picture.ways.size() == first || !method.priors) continue;
    const YieldFile file = yield_file(method, clone);
    const std::vector<YieldAnswer> answers = yields(file.priors, file.pots, file.asks, {}, go_on);
    if (answers.size() != file.asks.size()) return stopped_by_hand();
    for (std::size_t i = 0; i < answers.size() && first + i < picture.ways.size(); ++i)
      picture.ways[first + i].row.answer = answers[i];
  }
  for (const FinishedPot& pot : records.pots) {
    if (folded_name(pot.clone) != folded) continue;
    for (YieldsOfWay& way : picture.ways) {
      if (way.row.method == pot.method && way.row.sections_each == pot.sections_each &&
          folded_name(way.row.genus) == folded_name(pot.genus))
        way.pots.push_back(pot);
    }
  }
  if (!picture.ways.empty()) compare_ways(book, clone, on, records, picture);
  return go_on(1) ? Result<YieldsPicture>(std::move(picture)) : stopped_by_hand();
}

}  // namespace motherbulb

#include "core/science/book_yields.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>

#include "core/names.hpp"
#include "core/science/after_cut.hpp"
#include "core/science/bulblet_sizes.hpp"

namespace motherbulb {
namespace {

const MethodYields* method_of(const std::vector<MethodYields>& methods, const std::string& genus, Method method) {
  const auto found = std::find_if(methods.begin(), methods.end(), [&](const MethodYields& one) {
    return one.method == method && folded_name(one.genus) == folded_name(genus);
  });
  return found == methods.end() ? nullptr : &*found;
}

// The yields of a book, and the sizes of bulblets by each way of cutting, each reckoned when first asked for.
class KnownYields {
public:
  explicit KnownYields(const YieldRecords& records) : methods_(yields_by_method(records)) {}

  std::optional<CutGives> give(const std::string& clone, const std::string& genus, Method method, std::int32_t sections,
                               const std::vector<Grade>& grades) const;

private:
  const BulbletSizes& sizes_of(const MethodYields& of, double usual_girth_cm, double sections_power) const;

  std::vector<MethodYields> methods_;
  mutable std::map<const MethodYields*, BulbletSizes> sizes_;
};

// log(m(k) / m(8)). Propagules are as large as they are, however many a mother gives.
double log_count_ratio(Method method, double sections_power, std::int32_t sections) {
  return counts_propagules(method) ? 0 : sections_power * std::log(std::max(1, sections) / 8.0);
}

std::string source_of(const MethodYields& of, const std::string& clone) {
  std::int64_t own = 0, others = 0;
  for (const YieldRow& row : of.rows) {
    (folded_name(row.clone) == folded_name(clone) ? own : others) += row.pots;
  }
  const auto pots = [](std::int64_t count) { return std::to_string(count) + (count == 1 ? " pot" : " pots"); };
  std::string counted = own > 0 ? pots(own) + " of this clone" : "";
  if (others > 0) counted += (own > 0 ? " and " : "") + pots(others) + " of other clones";
  return "from " + counted + ", beside what is published (" + of.source + ")";
}

// Of all clones: how the girths of bulblets spread is of the genus.
const BulbletSizes& KnownYields::sizes_of(const MethodYields& of, double usual_girth_cm, double sections_power) const {
  const auto known = sizes_.find(&of);
  if (known != sizes_.end()) return known->second;
  std::vector<SizedBulblets> counted;
  for (const YieldRow& row : of.rows) {
    const double ratio = log_count_ratio(of.method, sections_power, row.sections_each);
    for (const auto& [grade, count] : row.bulblets) counted.push_back({ratio, grade, count});
  }
  return sizes_.emplace(&of, bulblet_sizes(usual_girth_cm, counted)).first->second;
}

std::optional<CutGives> KnownYields::give(const std::string& clone, const std::string& genus, Method method,
                                          std::int32_t sections, const std::vector<Grade>& grades) const {
  const MethodYields* of = method_of(methods_, genus, method);
  if (of == nullptr || !of->priors || of->pots.empty()) return std::nullopt;
  std::vector<std::string> assumed;
  const StartingValues start = starting_values_or_assumed(genus, assumed);
  CutGives gives = published_or_assumed(start, method, sections, grades);
  const std::int32_t k = std::clamp(sections, 1, most_yield_sections);
  std::vector<YieldAsk> asks;
  for (std::size_t i = 0; i < grades.size(); ++i) {
    asks.push_back(
        {folded_name(clone), k, std::clamp(middle_cm(grades, i), least_yield_girth_cm, most_yield_girth_cm)});
  }
  // Two more tell how the number of sections counts: log m(16) - log m(8) = b log 2.
  for (const std::int32_t of_sections : {8, 16}) asks.push_back({"", of_sections, 26});
  std::vector<YieldPot> pots = of->pots;
  for (YieldPot& pot : pots) pot.clone = folded_name(pot.clone);
  const std::vector<YieldAnswer> answers = yields(*of->priors, pots, asks);
  if (answers.size() != asks.size()) return std::nullopt;
  for (std::size_t i = 0; i < grades.size(); ++i) gives.per_mother[i] = answers[i].per_mother.mean;
  const double power = (answers[grades.size() + 1].log_mean - answers[grades.size()].log_mean) / std::log(2.0);
  gives.dispersion = std::max(1e-6, k * answers.front().f);
  const BulbletSizes& sizes = sizes_of(*of, start.bulblet_girth_cm.value, power);
  gives.size_shares = sizes.shares(log_count_ratio(method, power, k), grades);
  gives.bulblet_girth_cm = sizes.girth_cm(log_count_ratio(method, power, k));
  gives.source = source_of(*of, clone);
  for (const YieldRow& row : of->rows) gives.own_pots += folded_name(row.clone) == folded_name(clone) ? row.pots : 0;
  std::vector<double> log_means, log_variances;
  for (std::size_t i = 0; i < grades.size(); ++i) {
    log_means.push_back(answers[i].log_mean);
    log_variances.push_back(answers[i].log_variance);
  }
  gives.may_be =
      draw_gives(method, log_means, log_variances, sizes, log_count_ratio(method, power, k), grades, usual_sets);
  return gives;
}

}  // namespace

CutGivers cut_givers_of(const YieldRecords& records) {
  const auto known = std::make_shared<const KnownYields>(records);
  return [known](const std::string& clone, const std::string& genus) -> CutGiver {
    return [known, clone, genus](Method method, std::int32_t sections, const std::vector<Grade>& grades) {
      return known->give(clone, genus, method, sections, grades);
    };
  };
}

std::optional<CutOutcome> cut_outcome(const YieldRow& row, const GrowthModel& growth, const CutGiver& gives,
                                      std::size_t seasons) {
  std::vector<Grade> grades;
  for (const ClassGrowth& one : growth.classes) grades.push_back(one.grade);
  const auto way = gives(row.method, row.sections_each, grades);
  if (!way) return std::nullopt;
  const auto girth_mm = static_cast<std::int32_t>(std::lround(10 * row.girth_cm));
  const std::size_t mother = class_of(grades, Grade{girth_mm, girth_mm});
  return CutOutcome{way->bulblet_girth_cm, way->size_shares, saleable_after_cut(growth, *way, mother, seasons),
                    saleable_left_whole(growth, mother, seasons)};
}

}  // namespace motherbulb

#include "core/science/book_yields.hpp"

#include <algorithm>
#include <memory>

#include "core/names.hpp"

namespace motherbulb {
namespace {

constexpr double sizes_weight = 8;  // bulblets that the published spread counts for

const MethodYields* method_of(const std::vector<MethodYields>& methods, const std::string& genus, Method method) {
  const auto found = std::find_if(methods.begin(), methods.end(), [&](const MethodYields& one) {
    return one.method == method && folded_name(one.genus) == folded_name(genus);
  });
  return found == methods.end() ? nullptr : &*found;
}

// Moves the published shares by class towards what was counted.
void count_sizes(const MethodYields& of, const std::string& clone, const std::vector<Grade>& grades,
                 std::vector<double>& shares) {
  std::vector<double> counted(grades.size(), 0.0);
  double all = 0;
  for (const YieldRow& row : of.rows) {
    if (folded_name(row.clone) != folded_name(clone)) continue;
    for (const auto& [grade, count] : row.bulblets) {
      if (!grade.sized()) continue;
      counted[class_of(grades, grade)] += static_cast<double>(count);
      all += static_cast<double>(count);
    }
  }
  for (std::size_t i = 0; i < shares.size(); ++i) {
    shares[i] = (sizes_weight * shares[i] + counted[i]) / (sizes_weight + all);
  }
}

std::string source_of(const MethodYields& of, const std::string& clone) {
  std::int64_t own = 0, others = 0;
  for (const YieldRow& row : of.rows) {
    (folded_name(row.clone) == folded_name(clone) ? own : others) += row.pots;
  }
  const auto pots = [](std::int64_t count) { return std::to_string(count) + (count == 1 ? " pot" : " pots"); };
  return "reckoned from " + pots(own) + " of this clone and " + pots(others) +
         " of others, beside what is published (" + of.source + ")";
}

std::optional<CutGives> give(const std::vector<MethodYields>& methods, const std::string& clone,
                             const std::string& genus, Method method, std::int32_t sections,
                             const std::vector<Grade>& grades) {
  const MethodYields* of = method_of(methods, genus, method);
  if (of == nullptr || !of->priors || of->pots.empty()) return std::nullopt;
  std::vector<std::string> assumed;
  CutGives gives = published_or_assumed(starting_values_or_assumed(genus, assumed), method, sections, grades);
  std::vector<YieldAsk> asks;
  for (std::size_t i = 0; i < grades.size(); ++i) {
    asks.push_back({folded_name(clone), std::clamp(sections, 1, most_yield_sections),
                    std::clamp(middle_cm(grades, i), least_yield_girth_cm, most_yield_girth_cm)});
  }
  std::vector<YieldPot> pots = of->pots;
  for (YieldPot& pot : pots) pot.clone = folded_name(pot.clone);
  const std::vector<YieldAnswer> answers = yields(*of->priors, pots, asks);
  if (answers.size() != asks.size()) return std::nullopt;
  for (std::size_t i = 0; i < answers.size(); ++i) gives.per_mother[i] = answers[i].per_mother.mean;
  gives.dispersion = std::max(1e-6, sections * answers.front().f);
  count_sizes(*of, clone, grades, gives.size_shares);
  gives.source = source_of(*of, clone);
  return gives;
}

}  // namespace

CutGivers cut_givers_of(const YieldRecords& records) {
  const auto methods = std::make_shared<const std::vector<MethodYields>>(yields_by_method(records));
  return [methods](const std::string& clone, const std::string& genus) -> CutGiver {
    return [methods, clone, genus](Method method, std::int32_t sections, const std::vector<Grade>& grades) {
      return give(*methods, clone, genus, method, sections, grades);
    };
  };
}

}  // namespace motherbulb

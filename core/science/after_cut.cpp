#include "core/science/after_cut.hpp"

#include <utility>

namespace motherbulb {
namespace {

double left_by_bad_events(const GrowthModel& growth) {
  const auto& bad = growth.model.bad_event;
  return bad ? 1 - bad->chance * bad->takes : 1.0;
}

// One season of bulbs by class that are not cut.
std::vector<double> grown_on(const GrowthModel& growth, const std::vector<double>& bulbs) {
  std::vector<double> next(bulbs.size(), 0.0);
  for (std::size_t from = 0; from < bulbs.size(); ++from) {
    const ClassGrowth& one = growth.classes[from];
    for (std::size_t to = 0; to < bulbs.size(); ++to) {
      next[to] += bulbs[from] * ((1 - one.loss.value) * one.grows_to[to] + one.offsets.value * growth.offset_sizes[to]);
    }
  }
  return next;
}

double saleable_of(const GrowthModel& growth, const std::vector<double>& bulbs) {
  double sum = 0;
  for (std::size_t i = 0; i < bulbs.size(); ++i) sum += growth.classes[i].saleable ? bulbs[i] : 0;
  return sum;
}

// `bulbs`: at the end of season 1, bad events not yet taken off.
std::vector<double> followed(const GrowthModel& growth, std::vector<double> bulbs, std::size_t seasons) {
  std::vector<double> saleable;
  double left = 1;
  for (std::size_t t = 1; t <= seasons; ++t) {
    if (t > 1) bulbs = grown_on(growth, bulbs);
    left *= left_by_bad_events(growth);
    saleable.push_back(left * saleable_of(growth, bulbs));
  }
  return saleable;
}

}  // namespace

std::vector<double> saleable_after_cut(const GrowthModel& growth, const CutGives& way, std::size_t mother,
                                       std::size_t seasons) {
  std::vector<double> bulblets(growth.classes.size(), 0.0);
  for (std::size_t i = 0; i < bulblets.size(); ++i) bulblets[i] = way.per_mother[mother] * way.size_shares[i];
  return followed(growth, std::move(bulblets), seasons);
}

std::vector<double> saleable_left_whole(const GrowthModel& growth, std::size_t mother, std::size_t seasons) {
  std::vector<double> one(growth.classes.size(), 0.0);
  one[mother] = 1;
  return followed(growth, grown_on(growth, one), seasons);
}

}  // namespace motherbulb

#include "core/science/growth_model.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "core/names.hpp"
#include "core/science/growth_tally.hpp"

namespace motherbulb {
namespace {

constexpr double offsets_weight = 8;  // bulbs that a prior weighs as much as: section 2 of the mathematics
constexpr double loss_weight = 20;
constexpr double others_weight = 8;                    // at most, of other clones of the genus
constexpr double ordinary_weight = 9, bad_weight = 1;  // one bad season in ten, with twice the losses: assumptions
constexpr double usual_clone_sd = 0.4, usual_sections_sd = 0.15, usual_girth_sd = 0.5;  // t, b and d of section 1
constexpr double usual_cut_dispersion = 8 * usual_dispersion;

double sum(const std::vector<double>& numbers) {
  return std::accumulate(numbers.begin(), numbers.end(), 0.0);
}

// ------------------------------------------------------------------------------------------------ priors and estimates

double pooled(double prior, double prior_weight, double counted, double of) {
  return (prior_weight * prior + counted) / (prior_weight + of);
}

// As `pooled`, but what was counted weighs at most as much as `others_weight` bulbs.
double shifted(double prior, double prior_weight, double counted, double of) {
  if (of <= others_weight) return pooled(prior, prior_weight, counted, of);
  return pooled(prior, prior_weight, counted * others_weight / of, others_weight);
}

GrowthMeans means_of(const StartingValues& start, const std::vector<Grade>& grades) {
  const std::size_t k = grades.size();
  GrowthMeans means;
  means.growth = Square(k);
  for (std::size_t from = 0; from < k; ++from) {
    const std::vector<double> column = growth_from_start(start.growth, grades, from);
    for (std::size_t to = 0; to < k; ++to) means.growth.at(to, from) = column[to];
    const bool grown = middle_cm(grades, from) >= start.grown_from_cm.value;
    means.loss.push_back(grown ? start.loss_grown.value : start.loss_young.value);
    means.offsets.push_back(grown ? start.offsets.value : 0);
  }
  means.offset_sizes = sizes_around(start.bulblet_girth_cm.value, usual_size_spread, grades);
  return means;
}

GrowthMeans moved_by_others(const GrowthMeans& start, const GrowthTally& others) {
  GrowthMeans means = start;
  const std::size_t k = start.loss.size();
  const double sized = sum(others.offset_sizes);
  for (std::size_t j = 0; j < k; ++j) {
    means.loss[j] = shifted(start.loss[j], loss_weight, others.lost[j], others.bulbs[j]);
    means.offsets[j] = shifted(start.offsets[j], offsets_weight, others.offsets[j], others.bulbs[j]);
    means.offset_sizes[j] = shifted(start.offset_sizes[j], offsets_weight, others.offset_sizes[j], sized);
    const double seen = others.seen(j);
    for (std::size_t to = 0; to < k; ++to) {
      means.growth.at(to, j) = shifted(start.growth.at(to, j), growth_weight, others.moved.at(to, j), seen);
    }
  }
  return means;
}

struct Reckoned {
  GrowthTally own, others;
  GrowthMeans prior;  // moved by other clones
};

Reckoned reckon(const GrowthInput& input, const GrowthRecords& records) {
  std::vector<const Filling*> own, others;
  const std::string clone = folded_name(input.clone), genus = folded_name(input.start.genus);
  for (const Filling& filling : records.fillings) {
    if (folded_name(filling.genus) != genus) continue;
    (folded_name(filling.clone) == clone ? own : others).push_back(&filling);
  }
  const GrowthMeans start = means_of(input.start, input.grades);
  Reckoned reckoned;
  reckoned.others = tally_of(others, input.grades, start);
  reckoned.prior = moved_by_others(start, reckoned.others);
  reckoned.own = tally_of(own, input.grades, reckoned.prior);
  return reckoned;
}

std::vector<ClassGrowth> classes_of(const GrowthInput& input, const Reckoned& reckoned) {
  const StartingValues& start = input.start;
  const GrowthTally& own = reckoned.own;
  const GrowthMeans& prior = reckoned.prior;
  const std::vector<double> stock = counts_by_class(input.stock, input.grades);
  const Square growth = updated_growth(prior.growth, own.moved);
  std::vector<ClassGrowth> classes;
  for (std::size_t j = 0; j < input.grades.size(); ++j) {
    ClassGrowth one;
    one.grade = input.grades[j];
    one.name = name_of_class(one.grade);
    one.saleable = std::max(0, one.grade.low_mm) >= std::lround(10 * start.saleable_from_cm.value);
    one.bulbs = std::llround(stock[j]);
    const bool grown = middle_cm(input.grades, j) >= start.grown_from_cm.value;
    one.loss = {pooled(prior.loss[j], loss_weight, own.lost[j], own.bulbs[j]), prior.loss[j], own.bulbs[j],
                reckoned.others.bulbs[j], grown ? start.loss_grown.source : start.loss_young.source};
    one.offsets = {pooled(prior.offsets[j], offsets_weight, own.offsets[j], own.bulbs[j]), prior.offsets[j],
                   own.bulbs[j], reckoned.others.bulbs[j],
                   grown ? start.offsets.source : "assumption: none before the bulb is grown"};
    for (std::size_t to = 0; to < growth.size; ++to) {
      one.grows_to.push_back(growth.at(to, j));
      one.grows_to_prior.push_back(prior.growth.at(to, j));
    }
    one.seen = own.seen(j);
    one.seen_others = reckoned.others.seen(j);
    classes.push_back(std::move(one));
  }
  return classes;
}

double from_records(const std::vector<ClassGrowth>& classes) {
  double known = 0, bulbs = 0, known_evenly = 0;
  for (const ClassGrowth& one : classes) {
    const double share = one.seen / (one.seen + growth_weight);
    known += static_cast<double>(one.bulbs) * share;
    bulbs += static_cast<double>(one.bulbs);
    known_evenly += share / static_cast<double>(classes.size());
  }
  return bulbs > 0 ? known / bulbs : known_evenly;
}

// ------------------------------------------------------------------------------------------------ the model

// By what the shares of each way of cutting are multiplied so that no class is cut more than once.
double to_one(const std::vector<CutGives>& cuts, std::size_t from) {
  double all = 0;
  for (const CutGives& cut : cuts) all += cut.share_cut[from];
  return all > 1 ? 1 / all : 1;
}

double sum_of_squares(const std::vector<double>& numbers) {
  return std::inner_product(numbers.begin(), numbers.end(), numbers.begin(), 0.0);
}

// The law of the model holds for each bulb of a class, of which a share p is cut, and for each size of bulblet by
// itself; that of the yields for all bulblets of a mother together. With shares q of the sizes, what n bulbs give in
// all varies as it should where p m² n / f = (p m)² n (sum of q²) / dispersion.
double dispersion_of(const GrowthInput& input, const std::vector<ClassGrowth>& classes) {
  std::int64_t bulbs = 0;
  for (const ClassGrowth& one : classes) bulbs += one.bulbs;
  double cut_alike = 0, by_mother = 0;
  const auto add = [&](double parents, double share, double mean, double dispersion, const std::vector<double>& sizes) {
    cut_alike += parents * share * share * mean * mean * sum_of_squares(sizes);
    by_mother += parents * share * mean * mean / dispersion;
  };
  for (std::size_t j = 0; j < classes.size(); ++j) {
    const double parents = bulbs > 0 ? static_cast<double>(classes[j].bulbs) : 1;
    for (const CutGives& cut : input.cuts) {
      add(parents, cut.share_cut[j] * to_one(input.cuts, j), cut.per_mother[j], cut.dispersion, cut.size_shares);
    }
  }
  for (const GrowingPieces& pieces : input.pieces) {
    add(static_cast<double>(pieces.count), 1, pieces.bulblets_each, pieces.dispersion, pieces.size_shares);
  }
  if (!(cut_alike > 0) || !(by_mother > 0)) return usual_cut_dispersion;
  return std::clamp(cut_alike / by_mother, 1e-6, 1e9);
}

void add_increase(const GrowthInput& input, const GrowthModel& made, Square& increase) {
  const std::size_t first = made.has_sections ? 1 : 0, k = made.classes.size();
  for (std::size_t j = 0; j < k; ++j) {
    double kept = 1;
    for (const CutGives& cut : input.cuts) {
      const double share = cut.share_cut[j] * to_one(input.cuts, j);
      kept -= share;
      for (std::size_t i = 0; i < k; ++i) {
        increase.at(first + i, first + j) += share * cut.per_mother[j] * cut.size_shares[i];
      }
    }
    for (std::size_t i = 0; i < k; ++i) {
      increase.at(first + i, first + j) += std::max(0.0, kept) * made.classes[j].offsets.value * made.offset_sizes[i];
    }
  }
  double pieces = 0;
  for (const GrowingPieces& one : input.pieces) pieces += static_cast<double>(one.count);
  if (!made.has_sections) return;
  for (const GrowingPieces& one : input.pieces) {
    const double each = static_cast<double>(one.count) / pieces * one.bulblets_each;
    for (std::size_t i = 0; i < k; ++i) increase.at(1 + i, 0) += each * one.size_shares[i];
  }
}

ModelYear year_of(const GrowthInput& input, const GrowthModel& made, bool bad) {
  const std::size_t first = made.has_sections ? 1 : 0, k = made.classes.size();
  ModelYear year;
  year.name = bad ? "bad" : "ordinary";
  year.weight = bad ? bad_weight : ordinary_weight;
  year.survival = Square(first + k);
  year.increase = Square(first + k);
  for (std::size_t j = 0; j < k; ++j) {
    double cut = 0;
    for (const CutGives& one : input.cuts) cut += one.share_cut[j] * to_one(input.cuts, j);
    const auto [ordinary, hard] = loss_by_season(made.classes[j].loss.value);
    const double alive = std::max(0.0, 1 - cut) * (1 - (bad ? hard : ordinary));
    for (std::size_t i = 0; i < k; ++i) {
      year.survival.at(first + i, first + j) = alive * made.classes[j].grows_to[i];
    }
  }
  add_increase(input, made, year.increase);
  return year;
}

// Beta(1, 19) of a bench's season, Beta(2, 2) of what it takes, moved by what the book has.
struct EventKnown {
  double chance_a, chance_b, takes_a, takes_b;
};
EventKnown event_known(const GrowthRecords& records) {
  const auto events = static_cast<double>(records.bad_benches.size());
  double shares = 0;
  for (const BadBench& bench : records.bad_benches) shares += std::clamp(bench.share, 0.0, 1.0);
  const double seasons = std::max(events, records.bench_years);
  return {1 + events, 19 + seasons - events, 2 + shares, 2 + events - shares};
}
BadEvent mean_of(const EventKnown& known) {
  return {known.chance_a / (known.chance_a + known.chance_b), known.takes_a / (known.takes_a + known.takes_b)};
}

Model model_of(const GrowthInput& input, const BadEvent& bad_event, const GrowthModel& made) {
  Model model;
  model.name = input.clone;
  if (made.has_sections) {
    model.classes.push_back({"sections", false});
    std::int64_t pieces = 0;
    for (const GrowingPieces& one : input.pieces) pieces += one.count;
    model.start.push_back(pieces);
  }
  for (const ClassGrowth& one : made.classes) {
    model.classes.push_back({one.name, one.saleable});
    model.start.push_back(one.bulbs);
  }
  model.years = {year_of(input, made, false), year_of(input, made, true)};
  model.law = IncreaseLaw::negbin;
  model.dispersion = dispersion_of(input, made.classes);
  const double standing = sum(input.places);
  for (const double bulbs : input.places) {
    if (bulbs > 0) model.places.push_back(bulbs / standing);
  }
  model.bad_event = bad_event;
  return model;
}

// ------------------------------------------------------------------------------------------------ what is not known

constexpr std::uint64_t seed_of_sets = 2;

std::vector<double> added(const std::vector<double>& one, double times, const std::vector<double>& other) {
  std::vector<double> sums;
  for (std::size_t i = 0; i < one.size(); ++i) sums.push_back(times * one[i] + other[i]);
  return sums;
}

// One draw from what the priors and the counts leave open: of each class by itself.
GrowthModel drawn(const GrowthInput& input, const EventKnown& event, const Reckoned& reckoned, const GrowthModel& made,
                  std::size_t set) {
  PhiloxStream stream(seed_of_sets, set, 0);
  const GrowthTally& own = reckoned.own;
  const GrowthMeans& prior = reckoned.prior;
  GrowthModel one;
  one.has_sections = made.has_sections;
  one.classes = made.classes;
  for (std::size_t j = 0; j < one.classes.size(); ++j) {
    ClassGrowth& of = one.classes[j];
    const double lives = std::max(0.0, own.bulbs[j] - own.lost[j]);
    of.loss.value =
        draw_beta(loss_weight * prior.loss[j] + own.lost[j], loss_weight * (1 - prior.loss[j]) + lives, stream);
    const double daughters = offsets_weight * prior.offsets[j] + own.offsets[j];
    of.offsets.value = daughters > 0 ? draw_gamma(daughters, stream) / (offsets_weight + own.bulbs[j]) : 0;
    std::vector<double> weights;
    for (std::size_t to = 0; to < one.classes.size(); ++to) {
      weights.push_back(growth_weight * prior.growth.at(to, j) + own.moved.at(to, j));
    }
    of.grows_to = draw_dirichlet(weights, stream);
  }
  one.offset_sizes = draw_dirichlet(added(prior.offset_sizes, offsets_weight, own.offset_sizes), stream);
  GrowthInput so = input;
  for (CutGives& cut : so.cuts) {
    if (set >= cut.may_be.size()) continue;
    cut.per_mother = cut.may_be[set].per_mother;
    cut.size_shares = cut.may_be[set].size_shares;
  }
  for (GrowingPieces& pieces : so.pieces) {
    if (set >= pieces.may_be.size()) continue;
    pieces.bulblets_each = pieces.may_be[set].first;
    pieces.size_shares = pieces.may_be[set].second;
  }
  const BadEvent bad{draw_beta(event.chance_a, event.chance_b, stream),
                     draw_beta(event.takes_a, event.takes_b, stream)};
  one.model = model_of(so, bad, one);
  return one;
}

// ------------------------------------------------------------------------------------------------ what is not recorded

std::string percent(double share) {
  return std::to_string(std::lround(100 * share)) + " %";
}

// Of which classes something is lacking, to follow what is: " of any size", " of 0-2 to 8-10 and 30-32 cm"; empty where
// of none. `of`: classes that it can be lacking of.
template <class Of, class Lacks>
std::string sizes_where(const std::vector<ClassGrowth>& classes, Of of, Lacks lacks) {
  std::vector<std::string> runs;
  bool all = true;
  for (std::size_t i = 0; i < classes.size(); ++i) {
    if (!of(classes[i])) continue;
    if (!lacks(classes[i])) {
      all = false;
      continue;
    }
    const std::size_t first = i;
    while (i + 1 < classes.size() && of(classes[i + 1]) && lacks(classes[i + 1])) ++i;
    runs.push_back(classes[first].name + (i > first ? " to " + classes[i].name : ""));
  }
  if (runs.empty()) return "";
  if (all) return " of any size";
  std::string text;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    text += i == 0 ? " of " : i + 1 < runs.size() ? ", " : " and ";
    text += runs[i];
  }
  return text + " cm";
}

void tell_of_classes(const GrowthInput& input, const std::vector<ClassGrowth>& classes,
                     std::vector<std::string>& missing) {
  const StartingValues& start = input.start;
  const auto every = [](const ClassGrowth&) { return true; };
  const std::string growth = sizes_where(classes, every, [](const ClassGrowth& one) { return one.seen < 1; });
  if (!growth.empty()) {
    missing.push_back("No bulb" + growth +
                      " of this clone was potted and counted again by size: they grow as published (" +
                      start.growth.source + ").");
  }
  const std::string loss = sizes_where(classes, every, [](const ClassGrowth& one) { return one.loss.own < 1; });
  if (!loss.empty()) {
    missing.push_back("Losses of bulbs" + loss +
                      " of this clone cannot be told from the records: " + percent(start.loss_grown.value) +
                      " of grown bulbs are lost in a season (" + start.loss_grown.source + ") and " +
                      percent(start.loss_young.value) + " of young ones (" + start.loss_young.source + ").");
  }
  const std::string offsets = sizes_where(
      classes, [](const ClassGrowth& one) { return one.offsets.prior > 0; },
      [](const ClassGrowth& one) { return one.offsets.own < 1; });
  if (!offsets.empty()) {
    missing.push_back("Natural daughters of bulbs" + offsets +
                      " of this clone are not recorded: they come as is usual for the genus (" + start.offsets.source +
                      ").");
  }
}

void tell_of_increase(const GrowthInput& input, const Reckoned& reckoned, std::vector<std::string>& missing) {
  if (!(sum(reckoned.own.offset_sizes) > 0)) {
    missing.push_back("The size of natural daughters is not recorded: they are as large as bulblets of a cut (" +
                      input.start.bulblet_girth_cm.source + "; how they spread around it is an assumption).");
  }
  for (const CutGives& cut : input.cuts) {
    if (!(sum(cut.share_cut) > 0) || cut.source.empty()) continue;
    missing.push_back("What " + std::string(to_text(cut.method)) + " into " + std::to_string(cut.sections) +
                      " gives: " + cut.source + ".");
  }
}

void tell_of_bulbs(const GrowthInput& input, const Reckoned& reckoned, std::vector<std::string>& missing) {
  if (const auto unsized = input.stock.find(Grade{}); unsized != input.stock.end() && unsized->second > 0) {
    missing.push_back(
        std::to_string(unsized->second) +
        (unsized->second == 1 ? " bulb was never sized: it counts as " : " bulbs were never sized: they count as ") +
        name_of_class(input.grades.front()) + ", the smallest class.");
  }
  const std::int64_t pots = reckoned.own.unsized_pots + reckoned.others.unsized_pots;
  if (pots > 0) {
    missing.push_back(std::to_string(pots) + (pots == 1 ? " pot of this genus was" : " pots of this genus were") +
                      " filled with bulbs that nobody sized, and tell nothing of growth and losses.");
  }
}

void tell_of_seasons(const GrowthInput& input, const GrowthRecords& records, std::vector<std::string>& missing) {
  missing.push_back(
      "How seasons differ is not recorded: one in ten is a bad one, in which twice as many are lost (assumption).");
  if (!(records.bench_years > 0)) {
    missing.push_back(
        "No bench has had 6 or more pots: in one season of 20 a place loses much at once, half of what stands there "
        "(assumption).");
  }
  if (input.places.empty()) {
    missing.push_back("Where the bulbs stand is not recorded: they count as standing in one place.");
  }
}

}  // namespace

std::pair<double, double> loss_by_season(double loss) {
  const double years = ordinary_weight + bad_weight;
  const double ordinary = loss * years / (ordinary_weight + 2 * bad_weight);
  if (2 * ordinary <= 1) return {ordinary, 2 * ordinary};
  return {std::clamp((loss * years - bad_weight) / ordinary_weight, 0.0, 1.0), 1.0};
}

GrowthModel growth_model(const GrowthInput& input, const GrowthRecords& records) {
  const Reckoned reckoned = reckon(input, records);
  GrowthModel made;
  made.classes = classes_of(input, reckoned);
  const double sized = sum(reckoned.own.offset_sizes);
  for (std::size_t i = 0; i < input.grades.size(); ++i) {
    made.offset_sizes.push_back(
        pooled(reckoned.prior.offset_sizes[i], offsets_weight, reckoned.own.offset_sizes[i], sized));
  }
  for (const GrowingPieces& one : input.pieces) made.has_sections = made.has_sections || one.count > 0;
  const EventKnown event = event_known(records);
  made.model = model_of(input, mean_of(event), made);
  for (std::size_t set = 0; set < input.sets; ++set) {
    made.may_be.push_back(drawn(input, event, reckoned, made, set));
    const Model& model = made.may_be.back().model;
    made.model.may_be.push_back({model.years, model.dispersion, model.bad_event});
  }
  made.from_records = from_records(made.classes);
  made.missing = input.assumed;
  tell_of_classes(input, made.classes, made.missing);
  tell_of_increase(input, reckoned, made.missing);
  tell_of_bulbs(input, reckoned, made.missing);
  tell_of_seasons(input, records, made.missing);
  return made;
}

double bulblets_by_law(const StartingYield& yield, double sections, double girth_cm) {
  const double power = counts_propagules(yield.method) ? 1.0 : usual_sections_power;
  return yield.per_mother * std::pow(sections / yield.sections, power) *
         std::pow(girth_cm / yield.girth_cm, usual_girth_power);
}

double bulblet_girth_by_law(const StartingValues& start, const StartingYield& yield, double sections) {
  // Propagules are as large as they are published; sections share the mother out.
  if (counts_propagules(yield.method)) return start.bulblet_girth_cm.value;
  constexpr double usual_sections = 8;
  return start.bulblet_girth_cm.value * std::pow(sections / usual_sections, -usual_sections_power / 3);
}

CutGives published_cut(const StartingValues& start, const StartingYield& yield, std::int32_t sections,
                       const std::vector<Grade>& grades) {
  CutGives cut;
  cut.method = yield.method;
  cut.sections = std::max(1, sections);
  for (std::size_t j = 0; j < grades.size(); ++j) {
    cut.per_mother.push_back(bulblets_by_law(yield, cut.sections, middle_cm(grades, j)));
  }
  cut.bulblet_girth_cm = bulblet_girth_by_law(start, yield, cut.sections);
  cut.size_shares = sizes_around(cut.bulblet_girth_cm, usual_size_spread, grades);
  cut.share_cut.assign(grades.size(), 0.0);
  cut.dispersion = cut.sections * usual_dispersion;
  cut.source = "as published (" + yield.source + ")";
  const bool propagules = counts_propagules(yield.method);
  const double log_sections = std::log(cut.sections / 8.0);
  std::vector<double> log_means, log_variances;
  for (std::size_t j = 0; j < grades.size(); ++j) {
    const double log_girth = std::log(std::max(0.1, middle_cm(grades, j)) / 26);
    log_means.push_back(std::log(cut.per_mother[j]));
    log_variances.push_back(yield.sd * yield.sd + usual_clone_sd * usual_clone_sd +
                            (propagules ? 0 : usual_sections_sd * usual_sections_sd * log_sections * log_sections) +
                            usual_girth_sd * usual_girth_sd * log_girth * log_girth);
  }
  cut.may_be = draw_gives(yield.method, log_means, log_variances, bulblet_sizes(start.bulblet_girth_cm.value, {}),
                          propagules ? 0 : usual_sections_power * log_sections, grades, usual_sets);
  return cut;
}

}  // namespace motherbulb

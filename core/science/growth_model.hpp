// From what is known of a genus and what the book tells of a clone: the model that outlook and plan reckon with.
//
// Section 2 of the mathematics. Each number starts from a prior (starting values, with their source) and moves to what
// the grower's own counts say, the further the more bulbs were counted:
//   growth    prior: the girth c becomes C - (C - c) exp(-approach) e in a season, log e ~ Normal(0, spread), averaged
//             over the class (an integral projection model: Easterling, Ellner & Dixon, Ecology 81, 2000). It weighs as
//             much as 8 bulbs (Dirichlet-multinomial). Pots of mixed sizes by EM (growth_tally.hpp).
//   loss      beta-binomial, prior weight 20 bulbs; what was neither counted nor written down as lost is lost.
//   offsets   gamma-Poisson, prior weight 8 bulbs; counted beyond what was potted, the smallest counted being they.
// Other clones of the genus move the prior's mean by at most the weight of 8 bulbs; its weight stays.
//
// Promise: for any input of sound sizes `fault_of` the model is empty, columns of survival sum to at most 1, nothing is
// NaN, and the work is bounded: at most 100 rounds over the fillings of the genus.
#pragma once

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "core/science/growth_classes.hpp"
#include "core/science/growth_records.hpp"
#include "core/science/model.hpp"
#include "core/science/starting_values.hpp"
#include "core/science/unsure.hpp"
#include "shared/units.hpp"

namespace motherbulb {

// A way of cutting, and how much of it is done. Vectors have one number for each class of bulbs.
struct CutGives {
  Method method = Method::chipping;
  std::int32_t sections = 8;
  std::vector<double> per_mother;   // mean bulblets of a mother, by her class
  std::vector<double> size_shares;  // share of the bulblets in each class; sums to 1
  // What these may be as well, by what the records leave open: as many sets as growth_model makes, or none.
  std::vector<DrawnGives> may_be;
  std::vector<double> share_cut;  // of the bulbs of each class that is cut this way in a season; 0 to 1
  double bulblet_girth_cm = 0;    // the median bulblet
  double dispersion = 24;         // of one mother's bulblets: variance m + m²/dispersion
  std::string source;             // where the means come from, in words
  std::int64_t own_pots = 0;      // of the clone, that were counted
};

// Sections of one way of cutting that grow now.
struct GrowingPieces {
  std::int64_t count = 0;
  double bulblets_each = 0;
  std::vector<double> size_shares;
  double dispersion = 3;  // of one section's bulblets
  // Likewise: bulblets of one section, and their sizes.
  std::vector<std::pair<double, std::vector<double>>> may_be;
};

struct GrowthInput {
  std::string clone;
  StartingValues start;       // of the genus
  std::vector<Grade> grades;  // classes of the genus, smallest first and without gaps; at least one
  BulbsByGrade stock;         // whole bulbs of the clone now, by any grades
  std::vector<GrowingPieces> pieces;
  std::vector<CutGives> cuts;
  std::vector<double> places;     // bulbs and pieces by bench; empty: not known
  std::size_t sets = usual_sets;  // of what is not known; 0: none
  // What was assumed in making this, in plain sentences: they stand first in `missing`.
  std::vector<std::string> assumed;
};

// A number, what it would be without records of the clone, and by how many bulbs it was moved.
struct Estimate {
  double value = 0;
  double prior = 0;    // moved by other clones already
  double own = 0;      // bulbs of the clone that were counted
  double others = 0;   // bulbs of other clones of the genus
  std::string source;  // of the starting value
};

// What a season makes of a bulb of one class that is not cut. The parts of which a plan makes its acts.
struct ClassGrowth {
  Grade grade;
  std::string name;
  bool saleable = false;
  std::int64_t bulbs = 0;              // now
  Estimate loss;                       // chance to be lost in a season, mean over good and bad ones
  Estimate offsets;                    // natural daughters of one in a season
  std::vector<double> grows_to;        // of one that lives: chances by class, summing to 1
  std::vector<double> grows_to_prior;  // likewise without records of the clone
  double seen = 0, seen_others = 0;    // bulbs whose growth was counted: of the clone, of others of the genus
};

struct GrowthModel {
  Model model;                       // the first class is "sections" where pieces grow
  bool has_sections = false;         // so that class i of the bulbs is class i + 1 of the model
  std::vector<ClassGrowth> classes;  // of bulbs, smallest first
  std::vector<double> offset_sizes;  // shares by class, summing to 1
  // What all that may be as well, drawn from what is known after the records; the same sets as in the model's `may_be`.
  std::vector<GrowthModel> may_be;
  // What the book does not tell, and what is assumed in its place with the source. Plain sentences.
  std::vector<std::string> missing;
  double from_records = 0;  // 0 to 1: mean of n / (n + 8) over the clone's bulbs, n bulbs counted in their class
};

// The chances of loss of an ordinary and of a bad season, the model's years, so that their mean is `loss`.
std::pair<double, double> loss_by_season(double loss);

GrowthModel growth_model(const GrowthInput& input, const GrowthRecords& records);

// Bulblets of a mother of that girth, by the law of section 1: exp(u) (k/8)^b (c/26)^d.
double bulblets_by_law(const StartingYield& yield, double sections, double girth_cm);
// The median girth of bulblets, cm: the mass that leaves a mother is shared, so the girth falls by the cube root of
// their number (section 1, r = 1).
double bulblet_girth_by_law(const StartingValues& start, const StartingYield& yield, double sections);
// The way of cutting as it is published, for every class of mother; nothing is cut yet. Bulblets are spread around the
// genus's bulblet with `usual_size_spread`.
// What it may be as well: by the priors of section 1, and those of bulblet_sizes.hpp.
CutGives published_cut(const StartingValues& start, const StartingYield& yield, std::int32_t sections,
                       const std::vector<Grade>& grades);
// Of the log of a girth; an assumption.
inline constexpr double usual_size_spread = 0.4;
// f of section 1: its median there.
inline constexpr double usual_dispersion = 3;

}  // namespace motherbulb

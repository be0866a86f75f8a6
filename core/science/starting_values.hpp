// Where the reckoning starts before the grower's own records speak: published values and common practice, each with its
// source. assets/starting_values.json, built into the program.
//
//   {"what": TEXT, "genera": [{
//      "genus": BOTANICAL NAME,
//      "growth": {"full_girth_cm", "approach", "spread", "source"},     girth c becomes C - (C - c) exp(-approach) e in
//      a
//                                                                       season, log e ~ Normal(0, spread)
//      "saleable_from_cm": {"value", "source"}, "grown_from_cm": {...}, from there on the losses of grown bulbs hold
//      "offsets": {...},                                                natural daughters of a grown bulb in a season
//      "loss_grown": {...}, "loss_young": {...},                        share lost in a season
//      "bulblet_girth_cm": {...},                                       of a bulblet when a cut is taken up
//      "yields": [{"method", "per_mother", "sections", "girth_cm", "sd", "source", "note"}]}]}
//
// A yield is as it was published: so many bulblets of a mother of that girth in so many sections. `sd` is that of its
// log: 0.5, and 1 where only a range or a weak source is known.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shared/result.hpp"
#include "shared/units.hpp"

namespace motherbulb {

struct SourcedValue {
  double value = 0;
  std::string source;
};

struct StartingYield {
  Method method = Method::chipping;
  double per_mother = 0;
  double sections = 0;
  double girth_cm = 0;
  double sd = 1;
  std::string source, note;
};

struct StartingGrowth {
  double full_girth_cm = 0;
  double approach = 0;
  double spread = 0;
  std::string source;
};

struct StartingValues {
  std::string genus;
  StartingGrowth growth;
  SourcedValue saleable_from_cm, grown_from_cm, offsets, loss_grown, loss_young, bulblet_girth_cm;
  std::vector<StartingYield> yields;

  const StartingYield* yield(Method method) const;  // null: nothing is published for that way of cutting
};

// Exponents of the law of yields (section 1 of the mathematics), as starting values: of the number of sections,
// published pairs; of the girth, common practice.
inline constexpr double usual_sections_power = 0.45;
inline constexpr double usual_girth_power = 1.0;
// Propagules stand in place of sections: twice as many twin-scales give twice as many bulblets.
bool counts_propagules(Method method);

// u of section 1: the log of bulblets of a mother of 26 cm in 8 sections.
double log_yield_at_reference(const StartingYield& yield);

// Those of a genus, by its name in any case; null where nothing is known.
const StartingValues* starting_values(std::string_view genus);
// What `starting_values` reads; for tests.
Result<std::vector<StartingValues>> starting_values_from_json(std::string_view text, std::string_view file);

}  // namespace motherbulb

// What cuts gave by the book: pots of sections that were unpotted, as plain counts and as pots for the law of yields
// (section 1 of the mathematics), with the priors of the genus. Pure.
//
// A pot counts when it is first unpotted, divided or counted by size. What sold, given or thrown away sections, and
// sections that an animal, a pest or frost took, could have given nobody knows: they are taken off what went in, and a
// pot of which nothing is left that way does not count. A pot whose sections were all lost otherwise, as by rot, gave
// 0.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/science/growth_records.hpp"
#include "core/science/yield_file.hpp"
#include "core/science/yields.hpp"

namespace motherbulb {

// A pot of sections that is finished.
struct FinishedPot {
  BatchId batch;
  std::int32_t pot = 0;
  std::string clone, genus;
  Method method = Method::chipping;
  std::int32_t sections_each = 0;  // k
  double girth_cm = 0;             // of the mothers, the mean of their grades' middles
  bool girth_said = false;         // else girth_cm is the usual 26
  std::int64_t pieces = 0;         // that went in, less those taken
  std::int64_t sections = 0;       // s: as many, but a mother left whole counts as k
  std::optional<std::int64_t> alive;
  LossByCause dead{};  // pieces
  BulbsByGrade bulblets;
};

struct YieldRecords {
  std::vector<FinishedPot> pots;    // in the order in which they were finished
  std::int64_t taken_pots = 0;      // left out: what an animal, a pest, frost or a person took left nothing
  std::int64_t uncounted_pots = 0;  // left out: nobody said into how many sections a mother was cut
};

inline constexpr double usual_mother_girth_cm = 26;

// The middle of a grade, cm; of an open end the girth that is named, none of an unsized one.
std::optional<double> middle_cm(Grade grade);

// `facts`: of the whole book, in the order of the fold (past_facts).
YieldRecords yield_records(const std::vector<PastFact>& facts);

// Pots of one clone and one number of sections: counts first, then the estimate.
struct YieldRow {
  std::string clone, genus;
  Method method = Method::chipping;
  std::int32_t sections_each = 0;
  double girth_cm = 0;  // mean over the mothers, by sections
  bool girth_said = true;
  std::int64_t pots = 0, sections = 0;
  std::int64_t alive = 0, alive_of = 0;  // pieces, of the pots where somebody counted them; of so many
  LossByCause dead{};
  BulbsByGrade bulblets;
  std::optional<YieldAnswer> answer;  // none: no yield is published for that way of cutting
};

// One way of cutting of one genus: what is reckoned together.
struct MethodYields {
  std::string genus;
  Method method = Method::chipping;
  std::optional<YieldPriors> priors;
  std::string source;  // of the priors
  std::vector<YieldPot> pots;
  std::vector<YieldRow> rows;  // by clone, then by sections; without answers
};

// Of the genus and method as published; none where nothing is.
std::optional<YieldPriors> starting_yield_priors(const std::string& genus, Method method);

// By genus, then by method. Names that differ in case only are one.
std::vector<MethodYields> yields_by_method(const YieldRecords& records);

// As a file: all pots, and an ask for each row; of `clone` only where it is named.
YieldFile yield_file(const MethodYields& of, const std::string& clone = "");

// All rows with their answers, by clone, genus, method and sections; of `clone` only where it is named. Other clones of
// the genus speak for it too.
std::vector<YieldRow> answered_rows(const std::vector<MethodYields>& methods, const std::string& clone = "");

}  // namespace motherbulb

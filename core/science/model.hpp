// The model that the outlook and the plan reckon with: classes of bulbs, and what one season makes of them.
//
// What section 3 of the mathematics calls the model file, as a value. `model_file` reads and writes it; `growth_model`
// makes one of a book. Columns are from, rows are to; one step is one season.
//
// Invariants of a model that `fault_of` passes: at least one class and one year; every table has as many rows and
// columns as there are classes; no number is negative or not finite; a column of survival sums to at most 1 + 1e-9; the
// weights of the years sum to more than 0; what the model may be has as many years, of the same sizes; `start` has one
// whole number of 0 or more for each class.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace motherbulb {

// A square table, k by k: at(to, from).
struct Square {
  std::size_t size = 0;
  std::vector<double> cells;  // row after row: size * size of them

  Square() = default;
  explicit Square(std::size_t k) : size(k), cells(k * k, 0.0) {}
  double& at(std::size_t to, std::size_t from) { return cells[to * size + from]; }
  double at(std::size_t to, std::size_t from) const { return cells[to * size + from]; }
};

struct ModelClass {
  std::string name;
  bool saleable = false;
};

// What a season of one sort does to a bulb of each class.
struct ModelYear {
  std::string name;
  double weight = 1;
  // Chance that one in class `from` is alive in class `to` next season; mean number of new bulbs there. Where only
  // their sum is known (`parted` is false) survival holds the sum, increase is all 0, and there are neither paths nor
  // chances.
  Square survival;
  Square increase;
  bool parted = true;
};

enum class IncreaseLaw { poisson, negbin };

// A place is struck with `chance` in a season, before anything else; each bulb there is then lost with chance `takes`.
struct BadEvent {
  double chance = 0;
  double takes = 0;
};

// What the numbers of a model may be as well, by what the records leave open.
struct ModelMayBe {
  std::vector<ModelYear> years;  // as many as the model's, parted; their weights are the model's
  double dispersion = 1;
  std::optional<BadEvent> bad_event;
};

struct Model {
  std::string name;
  std::vector<ModelClass> classes;
  std::vector<std::int64_t> start;
  std::vector<ModelYear> years;
  IncreaseLaw law = IncreaseLaw::poisson;
  double dispersion = 1;       // of the negative binomial: variance m + m²/dispersion, per parent bulb
  std::vector<double> places;  // shares of the stock, made to sum to 1; one place where none is named
  std::optional<BadEvent> bad_event;
  // Equally likely, and taken by one path each in turn; none: the numbers are known. Means are those of the model.
  std::vector<ModelMayBe> may_be;

  std::size_t size() const { return classes.size(); }
  // Every year tells survival from increase.
  bool has_paths() const;
  // The chance of each year, summing to 1.
  std::vector<double> chances_of_years() const;
  // The weighted mean of survival + increase over the years: A.
  Square mean() const;
  // Of each class, whether the start has bulbs in it.
  std::vector<bool> starts_in() const;
  // The part of the stock that each place holds, summing to 1; one place where none is named.
  std::vector<double> shares_of_places() const;
  // The model that a path of that number walks through.
  Model of_path(std::size_t path) const;
  // The part of the stock that bad events leave each season, in the mean.
  double left_by_bad_events() const;
};

// What is wrong with the model, as "field: what, and what would mend it"; nothing where it is sound.
std::optional<std::string> fault_of(const Model& model);

// A applied t times to the start, for t = 0 ... seasons.
std::vector<std::vector<double>> projection(const Model& model, std::size_t seasons);

}  // namespace motherbulb

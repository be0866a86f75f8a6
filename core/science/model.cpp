#include "core/science/model.hpp"

#include <cmath>
#include <numeric>

namespace motherbulb {
namespace {

constexpr double survival_slack = 1e-9;  // a column of decimal fractions may sum to a shade above 1

std::optional<std::string> fault_of_table(const Square& table, std::size_t k, const std::string& where, bool survival) {
  if (table.size != k || table.cells.size() != k * k) {
    return where + ": has other sizes than the classes; write " + std::to_string(k) + " rows of " + std::to_string(k);
  }
  for (std::size_t to = 0; to < k; ++to) {
    for (std::size_t from = 0; from < k; ++from) {
      const double cell = table.at(to, from);
      const std::string at = where + "[" + std::to_string(to) + "][" + std::to_string(from) + "]";
      if (!std::isfinite(cell)) return at + ": is not finite; write a number";
      if (cell < 0) return at + ": is negative; write 0 or more";
    }
  }
  if (!survival) return std::nullopt;
  for (std::size_t from = 0; from < k; ++from) {
    double sum = 0;
    for (std::size_t to = 0; to < k; ++to) sum += table.at(to, from);
    if (sum > 1 + survival_slack) {
      return where + ": column " + std::to_string(from) + " sums to more than 1; no bulb survives more than once";
    }
  }
  return std::nullopt;
}

std::optional<std::string> fault_of_event(const BadEvent& event, const std::string& where) {
  const auto no_chance = [](double p) { return !std::isfinite(p) || p < 0 || p > 1; };
  if (no_chance(event.chance)) return where + ".chance: is no chance; write a number from 0 to 1";
  if (no_chance(event.takes)) return where + ".takes: is no share; write a number from 0 to 1";
  return std::nullopt;
}

bool is_dispersion(double value) {
  return std::isfinite(value) && value > 0;
}

std::optional<std::string> fault_of_what_may_be(const Model& model) {
  for (std::size_t set = 0; set < model.may_be.size(); ++set) {
    const ModelMayBe& one = model.may_be[set];
    const std::string at = "may_be[" + std::to_string(set) + "]";
    if (one.years.size() != model.years.size()) return at + ".years: are not as many as years; write one for each";
    for (std::size_t i = 0; i < one.years.size(); ++i) {
      const std::string where = at + ".years[" + std::to_string(i) + "]";
      if (!one.years[i].parted || !model.years[i].parted) return where + ": has no parts; write survival and increase";
      if (auto fault = fault_of_table(one.years[i].survival, model.size(), where + ".survival", true)) return fault;
      if (auto fault = fault_of_table(one.years[i].increase, model.size(), where + ".increase", false)) return fault;
    }
    if (model.law == IncreaseLaw::negbin && !is_dispersion(one.dispersion)) {
      return at + ".dispersion: is no positive number; write one, as 3";
    }
    if (one.bad_event) {
      if (auto fault = fault_of_event(*one.bad_event, at + ".bad_event")) return fault;
    }
  }
  return std::nullopt;
}

}  // namespace

bool Model::has_paths() const {
  for (const ModelYear& year : years) {
    if (!year.parted) return false;
  }
  return true;
}

std::vector<double> Model::chances_of_years() const {
  double sum = 0;
  for (const ModelYear& year : years) sum += year.weight;
  std::vector<double> chances;
  for (const ModelYear& year : years) chances.push_back(year.weight / sum);
  return chances;
}

Square Model::mean() const {
  Square mean(size());
  const std::vector<double> chances = chances_of_years();
  for (std::size_t year = 0; year < years.size(); ++year) {
    for (std::size_t cell = 0; cell < mean.cells.size(); ++cell) {
      mean.cells[cell] += chances[year] * (years[year].survival.cells[cell] + years[year].increase.cells[cell]);
    }
  }
  return mean;
}

std::vector<bool> Model::starts_in() const {
  std::vector<bool> starts;
  for (const std::int64_t count : start) starts.push_back(count > 0);
  return starts;
}

std::vector<double> Model::shares_of_places() const {
  if (places.empty()) return {1.0};
  const double all = std::accumulate(places.begin(), places.end(), 0.0);
  std::vector<double> shares;
  for (const double place : places) shares.push_back(place / all);
  return shares;
}

Model Model::of_path(std::size_t path) const {
  Model model = *this;
  model.may_be.clear();
  if (may_be.empty()) return model;
  const ModelMayBe& one = may_be[path % may_be.size()];
  for (std::size_t i = 0; i < model.years.size(); ++i) {
    model.years[i].survival = one.years[i].survival;
    model.years[i].increase = one.years[i].increase;
  }
  model.dispersion = one.dispersion;
  model.bad_event = one.bad_event;
  return model;
}

double Model::left_by_bad_events() const {
  return bad_event ? 1 - bad_event->chance * bad_event->takes : 1.0;
}

std::optional<std::string> fault_of(const Model& model) {
  const std::size_t k = model.classes.size();
  if (k == 0) return "classes: there is none; name at least one";
  if (model.start.size() != k) return "start: needs one whole number for each class";
  for (std::size_t i = 0; i < k; ++i) {
    if (model.start[i] < 0) return "start[" + std::to_string(i) + "]: is negative; write 0 or more";
  }
  if (model.years.empty()) return "years: there is none; write at least one";
  double weights = 0;
  for (std::size_t i = 0; i < model.years.size(); ++i) {
    const ModelYear& year = model.years[i];
    const std::string where = "years[" + std::to_string(i) + "]";
    if (!std::isfinite(year.weight)) return where + ".weight: is not finite; write a number";
    if (year.weight < 0) return where + ".weight: is negative; write 0 or more";
    weights += year.weight;
    const std::string table = year.parted ? ".survival" : ".matrix";
    if (auto fault = fault_of_table(year.survival, k, where + table, year.parted)) return fault;
    if (auto fault = fault_of_table(year.increase, k, where + ".increase", false)) return fault;
  }
  if (!std::isfinite(weights) || weights <= 0) {
    return "years: their weights sum to " + std::string(weights > 0 ? "no finite number" : "0") +
           "; give at least one year a weight";
  }
  if (model.law == IncreaseLaw::negbin && !is_dispersion(model.dispersion)) {
    return "dispersion: is no positive number; write one, as 3";
  }
  double shares = 0;
  for (std::size_t i = 0; i < model.places.size(); ++i) {
    const double share = model.places[i];
    if (!std::isfinite(share) || share < 0) {
      return "places[" + std::to_string(i) + "]: is no share; write a number of 0 or more";
    }
    shares += share;
  }
  if (!model.places.empty() && !(std::isfinite(shares) && shares > 0)) {
    return "places: their shares sum to 0; give at least one place a share";
  }
  if (model.bad_event) {
    if (auto fault = fault_of_event(*model.bad_event, "bad_event")) return fault;
  }
  return fault_of_what_may_be(model);
}

std::vector<std::vector<double>> projection(const Model& model, std::size_t seasons) {
  const std::size_t k = model.size();
  const Square mean = model.mean();
  std::vector<std::vector<double>> stands;
  stands.emplace_back(model.start.begin(), model.start.end());
  for (std::size_t season = 0; season < seasons; ++season) {
    std::vector<double> next(k, 0.0);
    for (std::size_t to = 0; to < k; ++to) {
      for (std::size_t from = 0; from < k; ++from) next[to] += mean.at(to, from) * stands.back()[from];
    }
    stands.push_back(std::move(next));
  }
  return stands;
}

}  // namespace motherbulb

#include "core/science/yield_records.hpp"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

#include "core/names.hpp"
#include "core/science/starting_values.hpp"

namespace motherbulb {
namespace {

// Sections in a mother by the name of the cut, where nobody said.
std::int32_t sections_by_name(Method method) {
  if (method == Method::halving) return 2;
  return method == Method::quartering ? 4 : 0;
}

bool from_outside(Cause cause) {
  return cause == Cause::animal || cause == Cause::pest || cause == Cause::frost;
}

// What is known of a batch that was cut.
struct CutBatch {
  Method method = Method::chipping;
  std::int32_t sections_each = 0;
  double girth_cm = usual_mother_girth_cm;
  bool girth_said = false;
};

CutBatch cut_batch(const Begun& begun) {
  CutBatch batch;
  batch.method = begun.method;
  batch.sections_each = begun.sections > 0 ? begun.sections : sections_by_name(begun.method);
  double girths = 0, mothers = 0;
  for (const Line& line : begun.mothers) {
    const auto middle = line.grade ? middle_cm(*line.grade) : std::nullopt;
    if (!middle || line.count <= 0) continue;
    girths += *middle * static_cast<double>(line.count);
    mothers += static_cast<double>(line.count);
  }
  batch.girth_said = mothers > 0;
  if (batch.girth_said) batch.girth_cm = girths / mothers;
  return batch;
}

class Reading {
public:
  void take_in(const PastFact& past) {
    if (const auto* begun = std::get_if<Begun>(&past.fact)) {
      if (cuts(begun->method)) batches_[past.batch] = cut_batch(*begun);
      return;
    }
    const auto batch = batches_.find(past.batch);
    if (past.pot == 0 || batch == batches_.end()) return;
    const auto key = std::make_pair(past.batch, past.pot);
    if (const auto* potted = std::get_if<Potted>(&past.fact)) {
      if (potted->unit != Unit::bulbs) fill(past, total(potted->lines));
      return;
    }
    const auto pot = pots_.find(key);
    if (pot == pots_.end()) return;
    tell(past, pot->second, batch->second);
  }

  YieldRecords close() {
    // What was lost to the last section and never unpotted.
    for (auto& [key, pot] : pots_) {
      if (pot.there == 0) finish(pot, batches_[key.first], std::nullopt);
    }
    return std::move(records_);
  }

private:
  struct Growing {
    FinishedPot pot;
    std::int64_t in = 0, there = 0, taken = 0;  // pieces
  };

  void fill(const PastFact& past, std::int64_t pieces) {
    if (pieces <= 0) return;
    const auto key = std::make_pair(past.batch, past.pot);
    Growing& growing = pots_[key];
    if (growing.in > 0 && growing.there == 0) {
      finish(growing, batches_[past.batch], std::nullopt);
      growing = Growing{};
    }
    growing.pot.batch = past.batch;
    growing.pot.pot = past.pot;
    growing.pot.clone = past.clone;
    growing.pot.genus = past.genus;
    growing.in += pieces;
    growing.there += pieces;
  }

  void tell(const PastFact& past, Growing& pot, const CutBatch& batch) {
    if (const auto* lost = std::get_if<Lost>(&past.fact)) return lose(lost->lines, pot);
    if (const auto* sold = std::get_if<Sold>(&past.fact)) return leave(sold->lines, pot);
    if (const auto* given = std::get_if<Given>(&past.fact)) return leave(given->lines, pot);
    if (const auto* discarded = std::get_if<Discarded>(&past.fact)) return leave(discarded->lines, pot);
    if (const auto* unpotted = std::get_if<Unpotted>(&past.fact)) {
      return unpot(past, unpotted->lines, unpotted->alive, unpotted->dead, pot, batch);
    }
    if (const auto* divided = std::get_if<Divided>(&past.fact)) {
      return unpot(past, divided->lines, divided->alive, divided->dead, pot, batch);
    }
    if (const auto* graded = std::get_if<Graded>(&past.fact)) {
      return unpot(past, graded->lines, std::nullopt, {}, pot, batch);
    }
    const auto* repotted = std::get_if<Repotted>(&past.fact);
    if (repotted != nullptr && !repotted->lines.empty()) {
      unpot(past, repotted->lines, std::nullopt, {}, pot, batch);
    }
  }

  void lose(const Lines& lines, Growing& pot) {
    for (const Line& line : lines) {
      const std::int64_t lost = std::min(pot.there, std::max<std::int64_t>(0, line.count));
      pot.there -= lost;
      pot.pot.dead[static_cast<std::size_t>(line.cause)] += lost;
      if (from_outside(line.cause)) pot.taken += lost;
    }
  }

  void leave(const Lines& lines, Growing& pot) {
    const std::int64_t left = std::min(pot.there, std::max<std::int64_t>(0, total(lines)));
    pot.there -= left;
    pot.taken += left;
  }

  void unpot(const PastFact& past, const Lines& counted, std::optional<std::int64_t> alive, const Lines& dead,
             Growing& pot, const CutBatch& batch) {
    for (const Line& line : counted) {
      if (line.count > 0) pot.pot.bulblets[line.grade.value_or(Grade{})] += line.count;
    }
    lose(dead, pot);
    finish(pot, batch, alive);
    pots_.erase({past.batch, past.pot});
  }

  void finish(Growing& growing, const CutBatch& batch, std::optional<std::int64_t> alive) {
    FinishedPot& pot = growing.pot;
    pot.method = batch.method;
    pot.sections_each = batch.sections_each;
    pot.girth_cm = batch.girth_cm;
    pot.girth_said = batch.girth_said;
    pot.alive = alive;
    pot.pieces = growing.in - growing.taken;
    pot.sections = pot.pieces;
    if (leaves_mother_whole(batch.method)) pot.sections *= batch.sections_each;
    if (batch.sections_each <= 0 || batch.sections_each > most_yield_sections) {
      ++records_.uncounted_pots;
    } else if (pot.sections <= 0) {
      ++records_.taken_pots;
    } else {
      records_.pots.push_back(std::move(pot));
    }
  }

  YieldRecords records_;
  std::map<BatchId, CutBatch> batches_;
  std::map<std::pair<BatchId, std::int32_t>, Growing> pots_;
};

YieldPot for_the_law(const FinishedPot& pot, const std::string& clone) {
  const double girth = std::min(most_yield_girth_cm, std::max(least_yield_girth_cm, pot.girth_cm));
  return {clone, pot.sections_each, girth, std::min(most_yield_count, pot.sections),
          std::min(most_yield_count, total(pot.bulblets))};
}

void add_to_row(const FinishedPot& pot, YieldRow& row) {
  const auto before = static_cast<double>(row.sections), more = static_cast<double>(pot.sections);
  row.girth_cm = (row.girth_cm * before + pot.girth_cm * more) / (before + more);
  row.girth_said = row.girth_said && pot.girth_said;
  ++row.pots;
  row.sections += pot.sections;
  if (pot.alive) {
    row.alive += *pot.alive;
    row.alive_of += pot.pieces;
  }
  for (std::size_t i = 0; i < pot.dead.size(); ++i) row.dead[i] += pot.dead[i];
  for (const auto& [grade, count] : pot.bulblets) row.bulblets[grade] += count;
}

}  // namespace

std::optional<double> middle_cm(Grade grade) {
  if (!grade.sized()) return std::nullopt;
  if (grade.high_mm < 0) return grade.low_mm / 10.0;
  if (grade.low_mm < 0) return grade.high_mm / 10.0;
  return (grade.low_mm + grade.high_mm) / 20.0;
}

YieldRecords yield_records(const std::vector<PastFact>& facts) {
  Reading reading;
  for (const PastFact& past : facts) reading.take_in(past);
  return reading.close();
}

std::optional<YieldPriors> starting_yield_priors(const std::string& genus, Method method) {
  const StartingValues* start = starting_values(genus);
  const StartingYield* yield = start == nullptr ? nullptr : start->yield(method);
  if (yield == nullptr) return std::nullopt;
  YieldPriors priors;
  priors.u = {log_yield_at_reference(*yield), yield->sd};
  // Twice as many propagules give twice as many bulblets.
  if (counts_propagules(method)) priors.b = {1, 0};
  return priors;
}

std::vector<MethodYields> yields_by_method(const YieldRecords& records) {
  std::map<std::pair<std::string, Method>, MethodYields> methods;
  std::map<std::pair<std::string, Method>, std::map<std::pair<std::string, std::int32_t>, YieldRow>> rows;
  std::map<std::pair<std::string, std::string>, std::string> names;  // as first written
  for (const FinishedPot& pot : records.pots) {
    const std::string genus = folded_name(pot.genus), clone = folded_name(pot.clone);
    const std::string& name = names.emplace(std::make_pair(genus, clone), pot.clone).first->second;
    MethodYields& method = methods[{genus, pot.method}];
    if (method.pots.empty()) {
      method.genus = pot.genus;
      method.method = pot.method;
    }
    if (method.pots.size() < most_yield_pots) method.pots.push_back(for_the_law(pot, name));
    YieldRow& row = rows[{genus, pot.method}][{clone, pot.sections_each}];
    if (row.pots == 0) {
      row.clone = name;
      row.genus = pot.genus;
      row.method = pot.method;
      row.sections_each = pot.sections_each;
    }
    add_to_row(pot, row);
  }
  std::vector<MethodYields> all;
  for (auto& [key, method] : methods) {
    method.priors = starting_yield_priors(method.genus, method.method);
    if (method.priors) method.source = starting_values(method.genus)->yield(method.method)->source;
    for (auto& [whose, row] : rows[key]) method.rows.push_back(std::move(row));
    all.push_back(std::move(method));
  }
  return all;
}

YieldFile yield_file(const MethodYields& of, const std::string& clone) {
  YieldFile file;
  file.name = of.genus + ", " + std::string(to_text(of.method));
  if (of.priors) file.priors = *of.priors;
  file.pots = of.pots;
  for (const YieldRow& row : of.rows) {
    if (!clone.empty() && folded_name(row.clone) != folded_name(clone)) continue;
    const double girth = std::min(most_yield_girth_cm, std::max(least_yield_girth_cm, row.girth_cm));
    file.asks.push_back({row.clone, row.sections_each, girth});
  }
  return file;
}

std::vector<YieldRow> answered_rows(const std::vector<MethodYields>& methods, const std::string& clone) {
  std::vector<YieldRow> all;
  for (const MethodYields& method : methods) {
    std::vector<YieldRow> rows;
    for (const YieldRow& row : method.rows) {
      if (clone.empty() || folded_name(row.clone) == folded_name(clone)) rows.push_back(row);
    }
    if (method.priors) {
      const YieldFile file = yield_file(method, clone);
      const std::vector<YieldAnswer> answers = yields(file.priors, file.pots, file.asks);
      for (std::size_t i = 0; i < rows.size(); ++i) rows[i].answer = answers[i];
    }
    for (YieldRow& row : rows) all.push_back(std::move(row));
  }
  std::stable_sort(all.begin(), all.end(), [](const YieldRow& a, const YieldRow& b) {
    return std::make_tuple(folded_name(a.clone), folded_name(a.genus), to_text(a.method), a.sections_each) <
           std::make_tuple(folded_name(b.clone), folded_name(b.genus), to_text(b.method), b.sections_each);
  });
  return all;
}

}  // namespace motherbulb

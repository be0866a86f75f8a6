#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "app/cli/command.hpp"
#include "app/cli/numbers.hpp"
#include "app/cli/reckoning.hpp"
#include "app/cli/text_file.hpp"
#include "core/names.hpp"
#include "core/science/yield_file.hpp"
#include "core/science/yield_records.hpp"

namespace motherbulb::cli {
namespace {

constexpr std::size_t usual_outcome_seasons = 3, most_outcome_seasons = 30;

// A whole count without a point, where it is one.
Json count_json(double value) {
  return value == std::floor(value) && value < 1e15 ? Json(static_cast<std::int64_t>(value)) : Json(value);
}

Json per_mother_json(const YieldRange& range) {
  return Json{{"mean", range.mean}, {"p5", count_json(range.p5)}, {"p95", count_json(range.p95)}};
}

Json clone_mean_json(const YieldRange& range) {
  return Json{{"mean", range.mean}, {"p5", range.p5}, {"p95", range.p95}};
}

std::string one_decimal(double value) {
  if (!(value < 1e12)) return "very many";
  const std::int64_t tenths = std::llround(value * 10);
  return std::to_string(tenths / 10) + "." + std::to_string(tenths % 10);
}

std::string whole_count(double value) {
  return value < 1e12 ? std::to_string(std::llround(value)) : "very many";
}

// ------------------------------------------------------------------------------------------------ a yields file

Json file_answer_json(const YieldFile& file, const std::vector<YieldAnswer>& answers) {
  Json all = Json::array();
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const YieldAsk& ask = file.asks[i];
    all.push_back(Json{{"clone", ask.clone.empty() ? Json(nullptr) : Json(ask.clone)},
                       {"k", ask.k},
                       {"c", ask.c},
                       {"per_mother", per_mother_json(answers[i].per_mother)},
                       {"clone_mean", clone_mean_json(answers[i].clone_mean)},
                       {"from_records", answers[i].from_records}});
  }
  return all;
}

constexpr const char* meaning =
    "\nNext mother: bulblets she will give, on average; in one case of twenty 5 % or fewer, and in one more than 95 "
    "%.\n"
    "Own records: how much of the estimate comes from counted pots, the rest from what was assumed before.\n";

std::string file_answer_text(const YieldFile& file, const std::vector<YieldAnswer>& answers) {
  if (answers.empty()) return "The file asks nothing.\n";
  TextTable table(
      {"Clone", ">Sections", ">Mother, cm", ">Next mother", ">5 %", ">95 %", ">Mean from", ">to", ">Own records"});
  for (std::size_t i = 0; i < answers.size(); ++i) {
    const YieldAsk& ask = file.asks[i];
    const YieldAnswer& answer = answers[i];
    table.add({ask.clone.empty() ? "a new one" : on_one_line(ask.clone), std::to_string(ask.k), one_decimal(ask.c),
               one_decimal(answer.per_mother.mean), whole_count(answer.per_mother.p5),
               whole_count(answer.per_mother.p95), one_decimal(answer.clone_mean.p5),
               one_decimal(answer.clone_mean.p95), percent(answer.from_records)});
  }
  return table.text() + meaning;
}

int answer_file(const YieldsWords& words, const Context& context) {
  const auto text = read_text(words.model, context.machine);
  if (!text) return fail(text.error());
  const auto file = yield_file_from_json(*text, words.model);
  if (!file) return fail(file.error());
  if (!words.save_model.empty()) {
    const auto written = write_text(words.save_model, to_json(*file), context.machine);
    if (!written) return fail(written.error());
  }
  const std::vector<YieldAnswer> answers = yields(file->priors, file->pots, file->asks);
  if (context.format == Format::json) return say_json(file_answer_json(*file, answers));
  return say(file_answer_text(*file, answers));
}

// ------------------------------------------------------------------------------------------------ a book

// A row, and what comes of one mother by it; none where nothing is known of that beforehand.
struct Told {
  YieldRow row;
  std::optional<CutOutcome> outcome;
  std::vector<Grade> grades;  // classes of the outcome's shares
};

std::vector<Told> with_outcomes(std::vector<YieldRow> rows, const BookToReckon& opened, std::size_t seasons) {
  std::map<std::string, std::optional<GrowthModel>> growths;
  std::vector<Told> all;
  for (YieldRow& row : rows) {
    const auto [growth, fresh] = growths.try_emplace(folded_name(row.clone));
    if (fresh) {
      auto made = clone_growth_of(*opened.book, opened.known, row.clone, opened.gives);
      if (made) growth->second = std::move(*made);
    }
    Told told{std::move(row), std::nullopt, {}};
    if (growth->second && told.row.answer) {
      const CutGiver gives = opened.gives(told.row.clone, told.row.genus);
      told.outcome = cut_outcome(told.row, *growth->second, gives, seasons);
      for (const ClassGrowth& one : growth->second->classes) told.grades.push_back(one.grade);
    }
    all.push_back(std::move(told));
  }
  return all;
}

Json sizes_json(const Told& told) {
  if (!told.outcome) return nullptr;
  Json shares = Json::array();
  for (std::size_t i = 0; i < told.grades.size(); ++i) {
    shares.push_back(Json{{"grade", to_text(told.grades[i])}, {"share", told.outcome->size_shares[i]}});
  }
  return Json{{"girth_cm", told.outcome->bulblet_girth_cm}, {"shares", std::move(shares)}};
}

Json row_json(const Told& told) {
  const YieldRow& row = told.row;
  Json grades = Json::array();
  for (const auto& [grade, count] : row.bulblets) {
    grades.push_back(Json{{"grade", to_text(grade)}, {"bulblets", count}});
  }
  return Json{{"clone", row.clone},
              {"genus", row.genus},
              {"method", to_text(row.method)},
              {"sections", row.sections_each},
              {"pots", row.pots},
              {"sections_in", row.sections},
              {"alive", row.alive_of > 0 ? Json(row.alive) : Json(nullptr)},
              {"alive_of", row.alive_of},
              {"dead", losses_json(row.dead)},
              {"bulblets", total(row.bulblets)},
              {"by_grade", std::move(grades)},
              {"girth_cm", row.girth_cm},
              {"girth_said", row.girth_said},
              {"per_mother", row.answer ? per_mother_json(row.answer->per_mother) : Json(nullptr)},
              {"clone_mean", row.answer ? clone_mean_json(row.answer->clone_mean) : Json(nullptr)},
              {"from_records", row.answer ? Json(row.answer->from_records) : Json(nullptr)},
              {"bulblet_sizes", sizes_json(told)},
              {"saleable_per_mother", told.outcome ? Json(told.outcome->saleable) : Json(nullptr)},
              {"saleable_if_whole", told.outcome ? Json(told.outcome->saleable_if_whole) : Json(nullptr)}};
}

std::string counts_text(const std::vector<Told>& rows) {
  TextTable table({"Clone", "Cut by", ">Sections", ">Pots", ">Sections in", ">Alive", ">Dead", ">Bulblets", ">A mother",
                   ">A section", "Sizes"});
  for (const Told& one : rows) {
    const YieldRow& row = one.row;
    const auto bulblets = static_cast<double>(total(row.bulblets)), sections = static_cast<double>(row.sections);
    std::string sizes;
    for (const auto& [grade, count] : row.bulblets) {
      sizes +=
          (sizes.empty() ? "" : ", ") + std::to_string(count) + " of " + (grade.sized() ? to_text(grade) : "no size");
    }
    table.add({on_one_line(row.clone), std::string(to_text(row.method)), std::to_string(row.sections_each),
               std::to_string(row.pots), std::to_string(row.sections),
               row.alive_of > 0 ? std::to_string(row.alive) + " of " + std::to_string(row.alive_of) : "not counted",
               std::to_string(total(row.dead)), std::to_string(total(row.bulblets)),
               one_decimal(bulblets / sections * row.sections_each), one_decimal(bulblets / sections), sizes});
  }
  return "Counted, of finished pots:\n" + table.text();
}

std::string estimates_text(const std::vector<Told>& rows) {
  TextTable table({"Clone", "Cut by", ">Sections", ">Mother, cm", ">Next mother", ">5 %", ">95 %", ">Own records"});
  std::set<std::string> unknown;
  for (const Told& one : rows) {
    const YieldRow& row = one.row;
    if (!row.answer) {
      unknown.insert("Of " + std::string(to_text(row.method)) + " " + on_one_line(row.genus) +
                     " no yield is known beforehand, so there is no estimate: the counts above are all.\n");
      continue;
    }
    const YieldAnswer& answer = *row.answer;
    table.add({on_one_line(row.clone), std::string(to_text(row.method)), std::to_string(row.sections_each),
               one_decimal(row.girth_cm) + (row.girth_said ? "" : " (not said)"), one_decimal(answer.per_mother.mean),
               whole_count(answer.per_mother.p5), whole_count(answer.per_mother.p95), percent(answer.from_records)});
  }
  std::string text;
  if (!table.empty()) text += "\nEstimated:\n" + table.text() + meaning;
  for (const std::string& line : unknown) text += "\n" + line;
  return text;
}

std::string outcomes_text(const std::vector<Told>& rows, std::size_t seasons) {
  const std::string by = "Saleable by " + std::to_string(seasons);
  TextTable table({"Clone", "Cut by", ">Sections", ">Bulblet, cm", ">" + by, ">Left whole"});
  for (const Told& one : rows) {
    if (!one.outcome) continue;
    table.add({on_one_line(one.row.clone), std::string(to_text(one.row.method)), std::to_string(one.row.sections_each),
               one_decimal(one.outcome->bulblet_girth_cm), one_decimal(one.outcome->saleable.back()),
               one_decimal(one.outcome->saleable_if_whole.back())});
  }
  if (table.empty()) return "";
  return "\nWhat comes of one mother after " + counted(static_cast<std::int64_t>(seasons), "season", "seasons") +
         ", in the mean:\n" + table.text() +
         "\nBulblet: half of them are larger. Saleable: bulbs of a size to sell by then, of all that she gave, losses "
         "taken off.\n";
}

std::string told(const std::vector<Told>& rows, const YieldRecords& records, std::size_t seasons) {
  std::string text = rows.empty() ? "No pot of sections is finished yet.\n"
                                  : counts_text(rows) + estimates_text(rows) + outcomes_text(rows, seasons);
  if (records.taken_pots > 0) {
    text += "\nLeft out: " + counted(records.taken_pots, "pot", "pots") +
            " of which an animal, a pest, frost or a person took all sections.\n";
  }
  if (records.uncounted_pots > 0) {
    text += "\nLeft out: " + counted(records.uncounted_pots, "pot", "pots") +
            " of batches of which nobody said into how many sections a mother was cut.\n";
  }
  return text;
}

bool has_rows_of(const MethodYields& method, const std::string& clone) {
  return std::any_of(method.rows.begin(), method.rows.end(), [&](const YieldRow& row) {
    return clone.empty() || folded_name(row.clone) == folded_name(clone);
  });
}

// A file holds one way of cutting.
Result<YieldFile> file_to_save(const std::vector<MethodYields>& methods, const YieldsWords& words) {
  if (methods.empty()) return refusal("there is no finished pot to write a model of; unpot one first");
  if (methods.size() > 1) {
    std::string names;
    for (const MethodYields& one : methods) {
      names += (names.empty() ? "" : ", ") + std::string(to_text(one.method)) + " of " + one.genus;
    }
    return refusal("a model holds one way of cutting of one genus, and here are " + names +
                   "; choose one with --method, and with --clone");
  }
  if (!methods.front().priors) {
    return refusal("no yield of " + std::string(to_text(methods.front().method)) + " " + methods.front().genus +
                   " is known beforehand, so there is no model to write");
  }
  return yield_file(methods.front(), words.clone);
}

int answer_book(const YieldsWords& words, const Context& context) {
  const auto method = method_from_text(words.method);
  if (!words.method.empty() && (!method || !cuts(*method))) {
    return fail_usage("--method: \"" + on_one_line(words.method) +
                      "\" is no way of cutting; write halving, quartering, chipping, cross-cutting, scoring, scooping, "
                      "twin-scaling or scaling");
  }
  std::size_t seasons = usual_outcome_seasons;
  if (const auto code = read_whole("--by-season", words.by_season, 1, most_outcome_seasons, seasons)) return *code;
  const auto opened = open_to_reckon(words.store, context);
  if (!opened) return fail(opened.error());
  if (!words.clone.empty()) {
    const std::vector<BatchState> batches = opened->book->batches();
    const bool known = std::any_of(batches.begin(), batches.end(), [&words](const BatchState& batch) {
      return folded_name(batch.clone) == folded_name(words.clone);
    });
    if (!known) {
      return fail(
          refusal("there is no clone \"" + on_one_line(words.clone) + "\" in the book; name one that stock lists"));
    }
  }
  const YieldRecords& records = opened->yields;
  std::vector<MethodYields> methods = yields_by_method(records);
  const auto unwanted = [&](const MethodYields& one) {
    return (method && one.method != *method) || !has_rows_of(one, words.clone);
  };
  methods.erase(std::remove_if(methods.begin(), methods.end(), unwanted), methods.end());
  if (!words.save_model.empty()) {
    const auto file = file_to_save(methods, words);
    if (!file) return fail(file.error());
    const auto written = write_text(words.save_model, to_json(*file), context.machine);
    if (!written) return fail(written.error());
  }
  const std::vector<Told> rows = with_outcomes(answered_rows(methods, words.clone), *opened, seasons);
  if (context.format != Format::json) return say(told(rows, records, seasons));
  Json all = Json::array();
  for (const Told& row : rows) all.push_back(row_json(row));
  return say_json(all);
}

}  // namespace

int yields(const YieldsWords& words, const Context& context) {
  return words.model.empty() ? answer_book(words, context) : answer_file(words, context);
}

}  // namespace motherbulb::cli

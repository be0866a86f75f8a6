#include "core/science/outlook.hpp"

#include <cmath>

#include "app/cli/command.hpp"
#include "app/cli/numbers.hpp"
#include "app/cli/reckoning.hpp"
#include "app/cli/text_file.hpp"
#include "core/science/json_parts.hpp"
#include "core/science/model_file.hpp"

namespace motherbulb::cli {
namespace {

// The model that the outlook is reckoned from, and what a book says about it.
struct Basis {
  Model model;
  std::string clone;
  std::optional<double> from_records;
  std::vector<std::string> missing;
};

Json spread_json(const Spread& spread) {
  return Json{{"mean", spread.mean},        {"p5", or_null(spread.p5)},   {"p25", or_null(spread.p25)},
              {"p50", or_null(spread.p50)}, {"p75", or_null(spread.p75)}, {"p95", or_null(spread.p95)}};
}

const char* name_of(LeverKind kind) {
  switch (kind) {
    case LeverKind::fewer_lost:
      return "a tenth fewer lost";
    case LeverKind::more_increase:
      return "a tenth more increase";
    case LeverKind::grow_on:
      return "a tenth of those that stay in their size grow to the next";
    case LeverKind::fewer_bad_events:
      return "half the bad events";
    case LeverKind::season_sooner:
      return "one season sooner";
  }
  return "";
}

Json release_json(const Outlook& outlook) {
  if (!outlook.release) return nullptr;
  return Json{{"season", outlook.release->season}, {"counts", outlook.release->counts}};
}

std::string release_told(const Outlook& outlook, const OutlookWish& wish) {
  const ReleaseWish& of = *wish.release;
  const std::string wanted = std::to_string(of.wanted) +
                             (of.reserve > 0 ? " beyond the reserve of " + std::to_string(of.reserve) : std::string());
  if (!outlook.release) {
    return "\nIn none of these seasons can " + wanted + " be let go with a chance of " + percent(of.sure) + ".\n";
  }
  std::string text = "\nThe first season in which " + wanted + " can be let go with a chance of " + percent(of.sure) +
                     ": " + std::to_string(outlook.release->season) + ". So many or more, as surely:\n";
  for (std::size_t i = 0; i < outlook.release->counts.size(); ++i) {
    text += "  season " + std::to_string(outlook.release->season + i) + ": " +
            std::to_string(outlook.release->counts[i]) + "\n";
  }
  return text;
}

Json answer_json(const Basis& basis, const Outlook& outlook) {
  Json seasons = Json::array();
  for (const OutlookSeason& season : outlook.seasons) {
    seasons.push_back(Json{{"season", season.season},
                           {"saleable", spread_json(season.saleable)},
                           {"total", spread_json(season.total)},
                           {"p_target", or_null(season.p_target)},
                           {"p_lost", season.lost ? Json(season.lost->chance) : Json(nullptr)},
                           {"p_lost_error", season.lost ? Json(season.lost->error) : Json(nullptr)}});
  }
  Json levers = Json::array();
  for (const Lever& lever : outlook.levers) {
    levers.push_back(Json{{"lever", name_of(lever.kind)},
                          {"change", lever.change},
                          {"saleable", lever.saleable},
                          {"growth_rate", lever.rate}});
  }
  Json places = Json::array();
  for (const PlacesChance& one : outlook.places) {
    places.push_back(Json{{"places", one.places}, {"p_lost", one.lost.chance}, {"p_lost_error", one.lost.error}});
  }
  const GrowthRate& rate = outlook.rate;
  return Json{{"clone", basis.clone},
              {"growth_rate", rate.rate},
              {"growth_rate_all", rate.rate_all},
              {"stable", or_null(rate.stable)},
              {"reproductive_value", or_null(rate.reproductive_value)},
              {"damping_ratio", or_null(rate.damping_ratio)},
              {"period", or_null(rate.period)},
              {"elasticity", rate.elasticity ? rows_of(*rate.elasticity) : Json(nullptr)},
              {"stochastic_growth",
               outlook.long_run ? Json{{"log_growth", outlook.long_run->log_growth}, {"se", outlook.long_run->se}}
                                : Json(nullptr)},
              {"projection", outlook.projection},
              {"seasons", std::move(seasons)},
              {"levers", std::move(levers)},
              {"release", release_json(outlook)},
              {"places", std::move(places)},
              {"fewest_places", or_null(outlook.fewest_places)},
              {"from_records", or_null(basis.from_records)},
              {"missing", basis.missing}};
}

// With `behind` figures behind the point.
std::string rounded(double value, int behind) {
  const double power = std::pow(10.0, behind);
  const double whole = std::round(value * power) / power;
  if (!(std::fabs(whole) < 1e15)) return "very many";
  const auto units = static_cast<std::int64_t>(std::llround(std::fabs(value) * power));
  const auto of_one = static_cast<std::int64_t>(power);
  std::string text = (whole < 0 ? "-" : "") + std::to_string(units / of_one);
  if (behind == 0) return text;
  std::string figures = std::to_string(units % of_one);
  figures.insert(0, static_cast<std::size_t>(behind) - figures.size(), '0');
  return text + "." + figures;
}

// 12 %, "under 1 in 1000" where a per cent says too little, "never in this reckoning" where it is 0.
std::string chance_text(double chance) {
  if (chance <= 0) return "none";
  if (chance >= 1) return "100 %";
  if (chance < 0.001) return "under 1 in 1000";
  if (chance < 0.0995) return rounded(chance * 100, 1) + " %";
  if (chance > 0.999) return "over 99.9 %";
  return rounded(chance * 100, 0) + " %";
}

std::string season_table(const Outlook& outlook, bool with_target) {
  std::vector<std::string> head = {">Season", ">Saleable, mean", ">5 %",         ">half",
                                   ">95 %",   ">All, mean",      ">Lost by then"};
  if (with_target) head.push_back(">Target met");
  TextTable table(head);
  const auto count = [](const std::optional<std::int64_t>& value) {
    return value ? std::to_string(*value) : std::string("?");
  };
  for (const OutlookSeason& season : outlook.seasons) {
    std::vector<std::string> row = {std::to_string(season.season),
                                    rounded(season.saleable.mean, 1),
                                    count(season.saleable.p5),
                                    count(season.saleable.p50),
                                    count(season.saleable.p95),
                                    rounded(season.total.mean, 1),
                                    season.lost ? chance_text(season.lost->chance) : "?"};
    if (with_target) row.push_back(season.p_target ? chance_text(*season.p_target) : "?");
    table.add(std::move(row));
  }
  return table.text();
}

std::string told(const Basis& basis, const Outlook& outlook, const OutlookWish& wish) {
  const std::string name = basis.clone.empty() ? "This stock" : on_one_line(basis.clone);
  std::string text = name + ": in the long run each bulb becomes " + rounded(outlook.rate.rate, 4) +
                     " of them a season, as things go now.\n";
  if (basis.from_records) {
    text += chance_text(*basis.from_records) + " of that comes from own records, the rest from published values.\n";
  }
  text += "\n" + season_table(outlook, wish.target.has_value()) +
          "\n5 % and 95 %: in one case of twenty it is that few or fewer, or more than that many.\n";
  if (wish.release) text += release_told(outlook, wish);
  if (!outlook.levers.empty()) {
    text += "\nWhat would change the saleable bulbs of season " + std::to_string(wish.seasons) + " most:\n";
    for (const Lever& lever : outlook.levers) {
      text += "  " + std::string(name_of(lever.kind)) + ": " + (lever.change < 0 ? "" : "+") +
              rounded(lever.change, 1) + "\n";
    }
  }
  if (!outlook.places.empty()) {
    text += "\nChance to lose all by season " + std::to_string(wish.seasons) + ", kept in\n";
    for (const PlacesChance& one : outlook.places) {
      text += "  " + counted(static_cast<std::int64_t>(one.places), "place", "places") + ": " +
              chance_text(one.lost.chance) + "\n";
    }
    text += outlook.fewest_places
                ? "The fewest that keep it under 1 %: " + std::to_string(*outlook.fewest_places) + ".\n"
                : "No number of places keeps it under 1 %.\n";
  }
  if (!basis.missing.empty()) text += "\nNot in the book, and taken as said:\n";
  for (const std::string& line : basis.missing) text += "  " + line + "\n";
  return text;
}

Result<Basis> basis_of_book(const OutlookWords& words, const Context& context) {
  const auto opened = open_to_reckon(words.store, context);
  if (!opened) return opened.error();
  const auto growth = clone_growth_of(*opened->book, opened->known, words.clone, opened->gives);
  if (!growth) return growth.error();
  return Basis{growth->model, growth->model.name, growth->from_records, growth->missing};
}

Result<Basis> basis_of(const OutlookWords& words, const Context& context) {
  if (words.model.empty()) return basis_of_book(words, context);
  const auto text = read_text(words.model, context.machine);
  if (!text) return text.error();
  auto model = model_from_json(*text, words.model);
  if (!model) return model.error();
  Basis basis{.model = std::move(*model)};
  basis.clone = basis.model.name;
  return basis;
}

}  // namespace

int outlook(const OutlookWords& words, const Context& context) {
  OutlookWish wish;
  std::int64_t target = 0;
  constexpr std::int64_t most = 999'999'999'999;
  if (const auto code = read_whole("--seasons", words.seasons, 1, most_outlook_seasons, wish.seasons)) return *code;
  if (const auto code = read_whole("--target", words.target, 0, most, target)) return *code;
  if (const auto code = read_whole("--paths", words.paths, 1, most_outlook_paths, wish.paths)) return *code;
  if (const auto code = read_whole("--seed", words.seed, 0, most, wish.seed)) return *code;
  if (!words.target.empty()) wish.target = target;
  if (!words.wanted.empty()) {
    ReleaseWish& release = wish.release.emplace();
    if (const auto code = read_whole("--wanted", words.wanted, 1, most, release.wanted)) return *code;
    if (const auto code = read_whole("--reserve", words.reserve, 0, most, release.reserve)) return *code;
    if (!words.sure.empty()) {
      const auto sure = part(words.sure);
      if (!sure || !(*sure > 0 && *sure < 1)) return no_number("--sure", words.sure, "a chance, as 0.8 or 80%");
      release.sure = *sure;
    }
  }
  const auto basis = basis_of(words, context);
  if (!basis) return fail(basis.error());
  const auto answer = outlook(basis->model, wish);
  if (!answer) return fail(answer.error());
  if (!words.save_model.empty()) {
    const auto written = write_text(words.save_model, to_json(basis->model), context.machine);
    if (!written) return fail(written.error());
  }
  if (context.format == Format::json) return say_json(answer_json(*basis, *answer));
  return say(told(*basis, *answer, wish));
}

}  // namespace motherbulb::cli

#include <algorithm>

#include "app/cli/command.hpp"
#include "app/cli/day.hpp"
#include "core/due/due.hpp"
#include "core/label.hpp"

namespace motherbulb::cli {
namespace {

std::string cause_text(const PotState::Damaged& damage) {
  std::string text(to_text(damage.cause));
  if (!damage.detail.empty()) text += ": " + damage.detail;
  return text;
}

// The stages of that day, by the growing plans.
class Stages {
public:
  Stages(const Logbook& book, Day on) : plans_(book.story(BatchId{})), on_(on) {}
  [[nodiscard]] std::string of(const PotRow& row) const {
    return std::string(to_text(stage_on(plans_, row.batch, row.pot, on_)));
  }

private:
  PlanBook plans_;
  Day on_;
};

Json pot_json(const PotRow& row, const Stages& stages) {
  const auto looked = last_looked(row.batch, row.pot);
  Json damage = Json::array();
  for (const auto& seen : row.pot.damage) {
    damage.push_back(Json{{"when", to_text(seen.when)},
                          {"cause", to_text(seen.cause)},
                          {"detail", seen.detail},
                          {"helper", seen.helper},
                          {"note", seen.note},
                          {"how_bad", seen.how_bad}});
  }
  Json grades = Json::object();
  for (const auto& [grade, count] : row.pot.bulbs) grades[to_text(grade)] = count;
  return Json{{"pot", pot_label(row.batch, row.pot.pot.number)},
              {"batch", row.batch.label},
              {"clone", row.batch.clone},
              {"genus", row.batch.genus},
              {"mark", row.batch.mark},
              {"stage", stages.of(row)},
              {"place", place_of(row.batch, row.pot)},
              {"pieces", row.pot.pieces},
              {"bulbs", total(row.pot.bulbs)},
              {"grades", grades},
              {"last_looked", looked ? Json(to_text(*looked)) : Json(nullptr)},
              {"damage", damage},
              {"on_hold", on_hold(row.batch, row.pot)}};
}

std::string contents(const PotState& pot) {
  if (pot.pieces > 0) return counted(pot.pieces, "piece", "pieces");
  if (pot.bulbs.empty()) return pot.emptied ? "" : "nothing";
  std::string text;
  for (const auto& [grade, count] : pot.bulbs) {
    if (!text.empty()) text += ", ";
    text += std::to_string(count) + (grade.sized() ? " of " + to_text(grade) : " unsized");
  }
  return text;
}

std::string worth_knowing(const PotRow& row) {
  std::string text;
  const auto add = [&text](const std::string& what) { text += (text.empty() ? "" : "; ") + what; };
  if (on_hold(row.batch, row.pot)) {
    const std::string& reason = row.pot.held ? row.pot.held_reason : row.batch.held_reason;
    add(reason.empty() ? "on hold" : "on hold: " + reason);
  }
  if (!row.pot.damage.empty()) {
    const auto& last = row.pot.damage.back();
    add(cause_text(last) + ", " + to_text(local_day(last.when)));
    if (!last.note.empty()) text += " (" + last.note + ")";
    if (row.pot.damage.size() > 1) text += " and " + std::to_string(row.pot.damage.size() - 1) + " before";
  }
  if (row.pot.assumed_grade) add("some sizes assumed");
  return text;
}

std::string csv_of(const std::vector<PotRow>& rows, const Stages& stages) {
  std::string text = csv_row(
      {"pot", "batch", "clone", "mark", "stage", "place", "pieces", "bulbs", "last_looked", "damage", "on_hold"});
  for (const PotRow& row : rows) {
    const auto looked = last_looked(row.batch, row.pot);
    std::string damage;
    for (const auto& seen : row.pot.damage) {
      damage += (damage.empty() ? "" : "; ") + to_text(seen.when) + " " + cause_text(seen);
      if (!seen.note.empty()) damage += " " + seen.note;
    }
    text += csv_row({pot_label(row.batch, row.pot.pot.number), row.batch.label, row.batch.clone, row.batch.mark,
                     stages.of(row), place_of(row.batch, row.pot), std::to_string(row.pot.pieces),
                     std::to_string(total(row.pot.bulbs)), looked ? to_text(*looked) : "", damage,
                     on_hold(row.batch, row.pot) ? "yes" : "no"});
  }
  return text;
}

}  // namespace

int pots(const PotsWish& wish, const Context& context) {
  auto opened = open_to_look(wish.store, context);
  if (!opened) return fail(opened.error());
  const Logbook& book = **opened;
  const auto today = day_or_today("", context.machine.host);
  const Stages stages(book, *today);
  std::vector<PotRow> rows;
  if (wish.batch.empty()) {
    rows = book.pots(wish.all);
  } else {
    const auto label = label_from_text(wish.batch);
    std::vector<BatchId> ids = book.batches_by_label(label ? to_text(*label) : wish.batch);
    if (ids.empty()) ids = book.batches_by_mark(wish.batch);
    if (ids.empty()) {
      return fail(refusal("--batch: no batch " + wish.batch +
                          " is in this book; write its label, or the mark it had in "
                          "the table it came from"));
    }
    for (const BatchId& id : ids) {
      const auto of_batch = book.pots(wish.all, &id);
      rows.insert(rows.end(), of_batch.begin(), of_batch.end());
    }
  }
  if (context.format == Format::json) {
    Json list = Json::array();
    for (const PotRow& row : rows) list.push_back(pot_json(row, stages));
    return say_json(list);
  }
  if (context.format == Format::csv) return say(csv_of(rows, stages));
  if (rows.empty())
    return say(wish.all ? "There are no pots in it.\n" : "No pot is filled; --all shows emptied ones.\n");
  TextTable table({"Pot", "Clone", "Stage", "Holds", "Place", "Last look", "Worth knowing"});
  for (const PotRow& row : rows) {
    const auto looked = last_looked(row.batch, row.pot);
    table.add({pot_label(row.batch, row.pot.pot.number), row.batch.clone, stages.of(row), contents(row.pot),
               place_of(row.batch, row.pot), looked ? to_text(local_day(*looked)) : "never", worth_knowing(row)});
  }
  return say(table.text());
}

}  // namespace motherbulb::cli

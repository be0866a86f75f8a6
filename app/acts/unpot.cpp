// What counting a pot asks for: take it onto the bench, keep the count, take the next.

#include <algorithm>
#include <map>

#include "app/app.hpp"
#include "app/screens/unpot_mother.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

// The lines of a count, one for each grade, smallest first.
Lines lines_of_handfuls(const std::vector<Handful>& handfuls) {
  std::map<Grade, std::int64_t> by_grade;
  for (const Handful& one : handfuls) by_grade[one.grade] += one.count;
  Lines lines;
  for (const auto& [grade, count] : by_grade) {
    Line line;
    if (grade.sized()) line.grade = grade;
    line.count = count;
    lines.push_back(line);
  }
  return lines;
}

Lines lines_of_dead(const std::vector<Cause>& dead) {
  std::map<Cause, std::int64_t> by_cause;
  for (const Cause cause : dead) ++by_cause[cause];
  Lines lines;
  for (const auto& [cause, count] : by_cause) {
    Line line;
    line.count = count;
    line.cause = cause;
    lines.push_back(line);
  }
  return lines;
}

// "By section: 2, 1, rot, two together, not said": what each bore, in the order of the drawing; empty where nobody
// said.
std::string sections_words(const UnpotDraft& draft) {
  if (!draft.told_by_section()) return "";
  const Words& w = words();
  std::string list;
  for (const SectionSaid& one : draft.sections) {
    if (!list.empty()) list += ", ";
    list += words_of_section(one);
  }
  return say(w.sections_note, list);
}

}  // namespace

void App::choose_pot(const PotRow& row) {
  UnpotDraft& draft = ui_.unpot;
  // The size picked for the last pot of a batch is the likeliest for its next.
  std::optional<Grade> chosen_before;
  if (draft.batch && *draft.batch == row.batch.id && draft.chosen < draft.grades.size())
    chosen_before = draft.grades[draft.chosen];
  const bool listed_cut = draft.cut_bulbs;
  draft = UnpotDraft{};
  draft.cut_bulbs = listed_cut;
  if (row.pot.unit == Unit::pieces) {
    const bool one_whole = leaves_mother_whole(row.batch.method) && row.pot.pieces == 1;
    const std::int64_t sections = one_whole ? row.batch.sections : row.pot.pieces;
    draft.sections.resize(static_cast<std::size_t>(std::clamp<std::int64_t>(sections, 0, greatest_count)));
  }
  draft.batch = row.batch.id;
  draft.pot = row;
  const std::vector<PotState> all = book_.pots_of(row.batch.id);
  draft.of = static_cast<int>(all.size());
  for (const PotState& pot : all) draft.number += pot.pot.number <= row.pot.pot.number ? 1 : 0;
  draft.grades = book_.grades_of(row.batch.genus);
  Grade potted_as;
  for (const auto& [grade, count] : row.pot.bulbs) {
    if (grade.sized()) potted_as = grade;
    // A class of the book's own that counting does not offer otherwise.
    if (grade.sized() && std::find(draft.grades.begin(), draft.grades.end(), grade) == draft.grades.end())
      draft.grades.push_back(grade);
  }
  if (draft.grades.empty()) draft.grades.push_back(Grade{});
  std::sort(draft.grades.begin(), draft.grades.end());
  const Grade wanted = chosen_before ? *chosen_before : potted_as;
  const auto found = std::find(draft.grades.begin(), draft.grades.end(), wanted);
  draft.chosen = found == draft.grades.end() ? std::min<std::size_t>(1, draft.grades.size() - 1)
                                             : static_cast<std::size_t>(found - draft.grades.begin());
  const std::size_t most_first = draft.grades.size() > 6 ? draft.grades.size() - 6 : 0;
  // The smallest stay in sight as long as what is chosen is not near the other end.
  draft.first_shown = std::min(most_first, draft.chosen > 4 ? draft.chosen - 3 : 0);
  if (ui_.screen != Screen::unpot) go(Go{Screen::unpot, {}});
  if (ui_.helper.empty()) go(Go{Screen::who, {}});
}

void App::next_pot() {
  const BatchId batch = *ui_.unpot.batch;
  const std::int32_t number = ui_.unpot.pot->pot.pot.number;
  const bool pieces = ui_.unpot.pot->pot.unit == Unit::pieces;
  refresh_rows();
  std::vector<const PotView*> left = rows_.filled_of(batch);
  left.erase(std::remove_if(left.begin(), left.end(), [&](const PotView* row) { return row->of_pieces() != pieces; }),
             left.end());
  if (left.empty()) {
    ui_.unpot.batch.reset();
    return go_back();
  }
  const auto after =
      std::find_if(left.begin(), left.end(), [&](const PotView* row) { return row->pot.pot.number > number; });
  choose_pot(after == left.end() ? *left.front() : **after);
}

void App::keep_count(bool sure) {
  UnpotDraft& draft = ui_.unpot;
  // Where Keep stood for the last pot, a second tap of a wet hand must not empty the next one.
  if (!sure && draft.total() == 0) {
    draft.asked = words().ask_nothing;
    draft.choosing_cause = false;
    return;
  }
  const PotState& pot = draft.pot->pot;
  std::vector<Command> commands;
  Record record;
  record.helper = ui_.helper;
  record.batch = pot.pot.batch;
  record.pot = pot.pot.number;
  record.sure = sure;
  Unpotted unpotted;
  unpotted.lines = lines_of_handfuls(draft.handfuls);
  if (pot.unit == Unit::pieces) {
    unpotted.alive = std::max<std::int64_t>(0, pot.pieces - static_cast<std::int64_t>(draft.dead().size()));
    unpotted.dead = lines_of_dead(draft.dead());
    unpotted.note = sections_words(draft);
  } else if (!draft.lost.empty()) {
    // Bulbs that are gone leave the pot before what is left of it is counted.
    Record lost = record;
    lost.fact = Lost{lines_of_dead(draft.lost), ""};
    commands.emplace_back(lost);
  }
  record.fact = std::move(unpotted);
  commands.emplace_back(record);

  const std::string slip = say(words().kept_pot, pot.pot.number, draft.total());
  draft.asked.clear();
  keep(std::move(commands), slip, [this](const std::optional<Error>& hindered) {
    if (!hindered) return next_pot();
    if (hindered->what.rfind(unlikely_prefix, 0) != 0) return fail(words().not_kept, *hindered);
    Error question = *hindered;
    question.what.erase(0, unlikely_prefix.size());
    ui_.unpot.asked = sentence_of(question);
    ui_.unpot.choosing_cause = false;
    ui_.trouble.reset();
  });
}

}  // namespace motherbulb

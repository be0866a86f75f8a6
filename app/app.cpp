#include "app/app.hpp"

#include <imgui.h>

#include <algorithm>
#include <map>

#include "app/layout.hpp"
#include "app/pen.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/bars.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr double rest_after_ms = 2000;  // of quiet, then the store tidies itself
constexpr double look_every_ms = 3000;  // for sticks, while a screen that shows them is open
constexpr int clock_wait_ms = 60'000;   // the day on the start screen changes by itself

Place place_of_screen(Screen screen) {
  switch (screen) {
    case Screen::unpot_choose:
    case Screen::unpot:
      return Place::unpot;
    case Screen::pests:
      return Place::pots;
    case Screen::rest:
      return Place::due;
    case Screen::merge:
      return Place::merge;
    default:
      return Place::start;
  }
}

Screen screen_of_place(Place place) {
  switch (place) {
    case Place::start:
      return Screen::start;
    case Place::unpot:
      return Screen::unpot_choose;
    case Place::pots:
      return Screen::pests;
    case Place::due:
      return Screen::rest;
    case Place::merge:
      return Screen::merge;
  }
  return Screen::start;
}

bool shows_parcels(Screen screen) {
  return screen == Screen::start || screen == Screen::merge;
}

BarState bar_state(const BookRows& rows, const UiState& ui) {
  BarState bar;
  bar.chosen = place_of_screen(ui.screen);
  for (const PotRow& row : rows.pots()) {
    if (row.pot.unit == Unit::pieces) ++bar.counts[1];
    if (!row.pot.damage.empty()) ++bar.counts[2];
    const Stage stage = stage_of(row.batch, row.pot);
    if (stage == Stage::resting || stage == Stage::drying_off) ++bar.counts[3];
  }
  for (const ParcelPreview& one : ui.merge.waiting) bar.counts[4] += one.readable && one.fresh > 0 ? 1 : 0;
  if (bar.counts[4] == 0) bar.counts[4] = static_cast<int>(rows.matters().size());
  return bar;
}

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

// On a screen a file is known by its name: the folders before it are only in the way.
std::string with_short_name(std::string text, const FoundParcel& file) {
  for (auto at = text.find(file.path); at != std::string::npos; at = text.find(file.path, at + file.name.size())) {
    text.replace(at, file.path.size(), file.name);
  }
  return text;
}

}  // namespace

App::App(Logbook& book, Host& host, Surroundings surroundings, const AppWish& wish)
    : book_(book), host_(host), surroundings_(std::move(surroundings)), rows_(book) {
  ui_.helper = wish.helper;
  ui_.night = wish.night;
  motion_.set_less(wish.less_motion);
}

void App::build_fonts(ImFontAtlas& atlas, const std::string& folder, float scale) {
  const std::vector<std::string> missing = fonts_.build(atlas, folder, scale);
  if (!missing.empty() && missing_fonts_.empty()) {
    ui_.trouble = Trouble{std::string(words().fonts_missing), say(words().fonts_missing_line, missing.front())};
  }
  missing_fonts_ = missing;
}

Color App::ground() const {
  return (ui_.night ? night_theme() : day_theme()).pane;
}

When App::now() {
  const std::int64_t utc = host_.now_ms();
  return moment(utc, host_.offset_minutes(utc));
}

void App::frame(ImDrawList& list, const FrameWish& wish) {
  frame_ms_ = wish.time_ms;
  rows_.refresh();
  if (!ui_.merge.looked) look_for_parcels();
  const Theme& theme = ui_.night ? night_theme() : day_theme();
  const bool bench = ui_.screen == Screen::unpot;
  Layout layout = make_layout(wish.width, wish.height, bench, !bench);
  touch_.begin_frame(wish.time_ms, layout.window);
  motion_.begin_frame(wish.time_ms);
  fonts_.begin_frame();
  Pen pen(list, theme, fonts_, touch_, motion_);
  pen.fill(layout.window, theme.pane);

  const When moment_now = now();
  drawn_day_ = local_day(moment_now);
  ScreenView view{pen, layout, rows_, ui_, moment_now, drawn_day_};
  // A bar cuts what scrolls under it 8 dp early.
  Rect reach = layout.page;
  if (!layout.bar.empty() && !layout.landscape()) reach.h -= 8;
  touch_.set_clip(reach);
  std::optional<Wish> asked;
  switch (ui_.screen) {
    case Screen::start:
      asked = draw_start_screen(view);
      break;
    case Screen::who:
      asked = draw_who_screen(view);
      break;
    case Screen::unpot_choose:
      asked = draw_unpot_choose_screen(view);
      break;
    case Screen::unpot:
      asked = draw_unpot_screen(view);
      break;
    case Screen::merge:
      asked = draw_merge_screen(view);
      break;
    default:
      asked = draw_list_screen(view);
      break;
  }
  const BarAnswer bar = draw_bar(pen, layout, bar_state(rows_, ui_));
  if (bar.go) asked = Go{screen_of_place(*bar.go)};
  if (bar.change_theme) asked = ChangeTheme{};
  if (const Target* focus = touch_.focus()) {
    pen.frame({focus->rect.x - 4, focus->rect.y - 4, focus->rect.w + 8, focus->rect.h + 8}, theme.slate, 3, 9);
  }
  touch_.end_frame();
  if (asked) carry_out(*asked);
}

void App::go(Screen to) {
  ui_.screen = to;
  if (to == Screen::unpot_choose) ui_.unpot.pot.reset();
  if (to == Screen::who) {
    ui_.typing_name = false;
    ui_.typed_name.clear();
  }
  if (shows_parcels(to)) look_for_parcels();
}

void App::carry_out(const Wish& wish) {
  if (const auto* to = std::get_if<Go>(&wish)) return go(to->to);
  if (std::holds_alternative<ChangeTheme>(wish)) {
    ui_.night = !ui_.night;
  } else if (std::holds_alternative<PutErrorAside>(wish)) {
    ui_.trouble.reset();
  } else if (std::holds_alternative<UndoKept>(wish)) {
    undo();
  } else if (const auto* helper = std::get_if<BeHelper>(&wish)) {
    ui_.helper = helper->name;
    go(ui_.after_who);
  } else if (const auto* pot = std::get_if<ChoosePot>(&wish)) {
    choose_pot(pot->row);
  } else if (const auto* count = std::get_if<KeepCount>(&wish)) {
    keep_count(count->sure);
  } else if (std::holds_alternative<LookForParcels>(wish)) {
    ui_.merge.merged.clear();
    ui_.merge.merged_at.reset();
    look_for_parcels();
  } else if (std::holds_alternative<MergeWaiting>(wish)) {
    merge();
  } else if (const auto* one = std::get_if<SettleMatter>(&wish)) {
    settle({{one->matter, one->take}});
  } else if (std::holds_alternative<SettleAll>(wish)) {
    std::vector<std::pair<Matter, Take>> answers;
    for (const Matter& matter : rows_.matters()) {
      if (ui_.merge.put_off.count(matter.id) == 0) answers.emplace_back(matter, matter.proposal);
    }
    settle(answers);
  }
}

void App::fail(std::string_view title, const Error& error) {
  ui_.trouble = Trouble{std::string(title), sentence_of(error)};
}

std::optional<Error> App::keep(const std::vector<Command>& commands, std::string words_of_slip) {
  Result<std::vector<Receipt>> kept = book_.run_all(commands);
  last_change_ms_ = frame_ms_;
  rest_due_ = true;
  if (!kept) return kept.error();
  const bool all_kept = std::all_of(kept->begin(), kept->end(), [](const Receipt& receipt) { return receipt.kept; });
  if (!all_kept) return Error{ErrorKind::failed, std::string(words().not_kept_yet), {}};
  ui_.trouble.reset();
  ui_.kept = Kept{std::move(words_of_slip), std::move(*kept), ui_.helper};
  ui_.last_kept = now();
  return std::nullopt;
}

void App::choose_pot(const PotRow& row) {
  UnpotDraft& draft = ui_.unpot;
  // The size picked for the last pot of a batch is the likeliest for its next.
  std::optional<Grade> chosen_before;
  if (draft.batch && *draft.batch == row.batch.id && draft.chosen < draft.grades.size())
    chosen_before = draft.grades[draft.chosen];
  const bool listed_cut = draft.cut_bulbs;
  draft = UnpotDraft{};
  draft.cut_bulbs = listed_cut;
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
  if (ui_.helper.empty()) {
    ui_.after_who = Screen::unpot;
    go(Screen::who);
    return;
  }
  ui_.screen = Screen::unpot;
}

void App::next_pot() {
  const BatchId batch = *ui_.unpot.batch;
  const std::int32_t number = ui_.unpot.pot->pot.pot.number;
  const bool pieces = ui_.unpot.pot->pot.unit == Unit::pieces;
  rows_.refresh();
  std::vector<PotRow> left = rows_.filled_of(batch);
  left.erase(std::remove_if(left.begin(), left.end(),
                            [&](const PotRow& row) { return (row.pot.unit == Unit::pieces) != pieces; }),
             left.end());
  if (left.empty()) {
    ui_.unpot.batch.reset();
    return go(Screen::unpot_choose);
  }
  const auto after =
      std::find_if(left.begin(), left.end(), [&](const PotRow& row) { return row.pot.pot.number > number; });
  choose_pot(after == left.end() ? left.front() : *after);
}

void App::keep_count(bool sure) {
  UnpotDraft& draft = ui_.unpot;
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
    unpotted.alive = std::max<std::int64_t>(0, pot.pieces - static_cast<std::int64_t>(draft.dead.size()));
    unpotted.dead = lines_of_dead(draft.dead);
  } else if (!draft.dead.empty()) {
    // Bulbs that are gone leave the pot before what is left of it is counted.
    Record lost = record;
    lost.fact = Lost{lines_of_dead(draft.dead), ""};
    commands.emplace_back(lost);
  }
  record.fact = std::move(unpotted);
  commands.emplace_back(record);

  const std::string slip = say(words().kept_pot, pot.pot.number, draft.total());
  draft.asked.clear();
  const std::optional<Error> hindered = keep(commands, slip);
  if (!hindered) return next_pot();
  if (hindered->what.rfind(unlikely_prefix, 0) != 0) return fail(words().not_kept, *hindered);
  Error question = *hindered;
  question.what.erase(0, unlikely_prefix.size());
  draft.asked = sentence_of(question);
  draft.choosing_cause = false;
  ui_.trouble.reset();
}

void App::undo() {
  if (!ui_.kept) return;
  std::vector<Command> commands;
  for (auto it = ui_.kept->receipts.rbegin(); it != ui_.kept->receipts.rend(); ++it) {
    TakeBack back;
    back.helper = ui_.helper.empty() ? ui_.kept->helper : ui_.helper;
    back.batch = it->batch;
    back.fact = it->fact;
    back.why = words().why_undone;
    commands.emplace_back(back);
  }
  const Kept undone = *ui_.kept;
  if (const auto hindered = keep(commands, say(words().undone, undone.words))) return fail(words().not_kept, *hindered);
  // What was taken back is not offered again.
  ui_.kept->receipts.clear();
  if (ui_.screen != Screen::unpot && ui_.screen != Screen::unpot_choose) return;
  // The pot is back on the bench, to be counted anew.
  rows_.refresh();
  if (ui_.unpot.begun()) return;
  for (const PotRow& row : rows_.pots()) {
    const bool same = std::any_of(undone.receipts.begin(), undone.receipts.end(),
                                  [&](const Receipt& receipt) { return receipt.batch == row.batch.id; });
    if (same && say(words().kept_pot, row.pot.pot.number, 0).substr(0, undone.words.find(':')) ==
                    undone.words.substr(0, undone.words.find(':'))) {
      return choose_pot(row);
    }
  }
}

void App::take_dropped(const std::string& path) {
  if (!surroundings_.look_at_file) return;
  const auto file = surroundings_.look_at_file(path);
  ui_.screen = Screen::merge;
  if (!file) return fail(say(words().cannot_read, path), file.error());
  ui_.merge.dropped.erase(std::remove_if(ui_.merge.dropped.begin(), ui_.merge.dropped.end(),
                                         [&](const FoundParcel& one) { return one.path == file->path; }),
                          ui_.merge.dropped.end());
  ui_.merge.dropped.push_back(*file);
  look_for_parcels();
  for (const ParcelPreview& one : ui_.merge.waiting) {
    if (one.file.path == file->path && !one.readable)
      ui_.trouble = Trouble{say(words().cannot_read, one.file.name), with_short_name(one.fault, one.file)};
  }
}

void App::look_for_parcels() {
  MergeDraft& merge = ui_.merge;
  merge.looked = true;
  last_look_ms_ = frame_ms_;
  std::vector<FoundParcel> files = merge.dropped;
  if (surroundings_.look_for_parcels) {
    for (const FoundParcel& found : surroundings_.look_for_parcels()) {
      if (std::none_of(files.begin(), files.end(), [&](const FoundParcel& one) { return one.path == found.path; }))
        files.push_back(found);
    }
  }
  rows_.refresh();
  const bool book_changed = merge.looked_at_revision != rows_.revision();
  std::vector<ParcelPreview> waiting;
  for (const FoundParcel& file : files) {
    const auto before = std::find_if(merge.waiting.begin(), merge.waiting.end(),
                                     [&](const ParcelPreview& one) { return one.file == file; });
    if (before != merge.waiting.end() && !book_changed) {
      waiting.push_back(*before);
      continue;
    }
    if (!surroundings_.open_file) continue;
    auto source = surroundings_.open_file(file.path);
    ParcelPreview preview;
    preview.file = file;
    if (source) {
      preview = preview_parcel(file, **source, book_.vector(), rows_.devices());
    } else {
      preview.fault = source.error().what;
    }
    waiting.push_back(std::move(preview));
  }
  merge.waiting = std::move(waiting);
  merge.looked_at_revision = rows_.revision();
}

void App::merge() {
  MergeDraft& merge = ui_.merge;
  std::vector<std::unique_ptr<ByteSource>> sources;
  std::vector<ByteSource*> parcels;
  std::vector<ParcelPreview> taken;
  for (const ParcelPreview& one : merge.waiting) {
    if (!one.readable || one.fresh == 0) continue;
    auto source = surroundings_.open_file(one.file.path);
    if (!source) return fail(say(words().cannot_read, one.file.name), source.error());
    parcels.push_back(source->get());
    sources.push_back(std::move(*source));
    taken.push_back(one);
  }
  const auto report = book_.merge(parcels);
  last_change_ms_ = frame_ms_;
  rest_due_ = true;
  if (!report) {
    Error error = report.error();
    for (const ParcelPreview& one : taken) error.what = with_short_name(error.what, one.file);
    return fail(words().not_merged, error);
  }
  ui_.trouble.reset();
  merge.merged = std::move(taken);
  merge.merged_at = now();
  ui_.last_kept = merge.merged_at;
  ui_.kept =
      Kept{say(words().merge_kept, counted(report->new_entries, "entry", "entries"), report->matters), {}, ui_.helper};
  look_for_parcels();
}

void App::settle(const std::vector<std::pair<Matter, Take>>& answers) {
  if (answers.empty()) return;
  if (ui_.helper.empty()) {
    ui_.after_who = Screen::merge;
    return go(Screen::who);
  }
  std::vector<Command> commands;
  for (const auto& [matter, take] : answers) {
    Settle settle;
    settle.helper = ui_.helper;
    settle.matter = matter.id;
    settle.take = take;
    commands.emplace_back(settle);
  }
  const std::string slip =
      answers.size() == 1
          ? say(words().settled_kept, title_of(answers.front().first.kind))
          : say(words().settled_all_kept, counted(static_cast<std::int64_t>(answers.size()), "matter", "matters"));
  if (const auto hindered = keep(commands, slip)) fail(words().not_kept, *hindered);
}

int App::wait_ms(double now_ms) const {
  double wait = clock_wait_ms;
  if (rest_due_) wait = std::min(wait, last_change_ms_ + rest_after_ms - now_ms);
  if (shows_parcels(ui_.screen)) wait = std::min(wait, last_look_ms_ + look_every_ms - now_ms);
  return static_cast<int>(std::max(1.0, wait));
}

bool App::idle(double now_ms) {
  frame_ms_ = now_ms;
  if (rest_due_ && now_ms >= last_change_ms_ + rest_after_ms) {
    book_.rest();
    rest_due_ = false;
  }
  bool changed = false;
  if (shows_parcels(ui_.screen) && now_ms >= last_look_ms_ + look_every_ms) {
    std::vector<FoundParcel> before;
    for (const ParcelPreview& one : ui_.merge.waiting) before.push_back(one.file);
    look_for_parcels();
    std::vector<FoundParcel> after;
    for (const ParcelPreview& one : ui_.merge.waiting) after.push_back(one.file);
    changed = !(before == after);
  }
  const Day today = local_day(now());
  if (!(today == drawn_day_)) changed = true;
  drawn_day_ = today;
  return changed;
}

}  // namespace motherbulb

#include "app/app.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>

#include "app/layout.hpp"
#include "app/pen.hpp"
#include "app/screens/screens.hpp"
#include "app/widgets/bars.hpp"
#include "app/widgets/work.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr double rest_after_ms = 2000;  // of quiet, then the store tidies itself
constexpr double look_every_ms = 3000;  // for sticks, while a screen that shows them is open
constexpr int clock_wait_ms = 60'000;   // the day on the start screen changes by itself
// A disk that takes longer than this to answer is seen to be at work; a quicker one needs no sign.
constexpr double keeping_shows_after_ms = 500;
// Each code stands so long that a camera which reads ten pictures a second has several tries at it.
constexpr double code_ms = 600;
// A time set back ("yesterday evening") is forgotten when nobody has tapped for so long: the next who comes means now.
constexpr double when_forgotten_ms = 30 * 60'000.0;

Place place_of_screen(Screen screen) {
  switch (screen) {
    case Screen::unpot_choose:
    case Screen::unpot:
      return Place::unpot;
    case Screen::pots:
    case Screen::pot:
    case Screen::find:
    case Screen::care:
    case Screen::health:
    case Screen::trace:
      return Place::pots;
    case Screen::due:
    case Screen::rest:
    case Screen::plans:
    case Screen::plan:
      return Place::due;
    case Screen::merge:
    case Screen::scan:
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
      return Screen::pots;
    case Place::due:
      return Screen::due;
    case Place::merge:
      return Screen::merge;
  }
  return Screen::start;
}

bool shows_parcels(Screen screen) {
  return screen == Screen::start || screen == Screen::merge || screen == Screen::parcels;
}

bool writes_files(Screen screen) {
  return screen == Screen::parcels || screen == Screen::due || screen == Screen::health;
}

BarState bar_state(const BookRows& rows, const UiState& ui) {
  BarState bar;
  bar.chosen = place_of_screen(ui.screen);
  bar.counts[1] = rows.counts().of_pieces;
  bar.counts[2] = rows.counts().with_damage;
  bar.counts[3] = rows.counts().due;
  for (const ParcelPreview& one : ui.merge.waiting) bar.counts[4] += one.readable && one.fresh > 0 ? 1 : 0;
  if (bar.counts[4] == 0) bar.counts[4] = static_cast<int>(rows.matters().size());
  return bar;
}

std::optional<Wish> draw_screen(ScreenView& view) {
  switch (view.ui.screen) {
    case Screen::start:
      return draw_start_screen(view);
    case Screen::who:
      return draw_who_screen(view);
    case Screen::unpot_choose:
      return draw_unpot_choose_screen(view);
    case Screen::unpot:
      return draw_unpot_screen(view);
    case Screen::merge:
      return draw_merge_screen(view);
    case Screen::pots:
      return draw_pots_screen(view);
    case Screen::find:
      return draw_find_screen(view);
    case Screen::rest:
      return draw_rest_screen(view);
    case Screen::due:
      return draw_due_screen(view);
    case Screen::health:
      return draw_health_screen(view);
    case Screen::trace:
      return draw_trace_screen(view);
    case Screen::plans:
      return draw_plans_screen(view);
    case Screen::plan:
      return draw_plan_screen(view);
    case Screen::pot:
      return draw_pot_screen(view);
    case Screen::care:
      return draw_care_screen(view);
    case Screen::clones:
      return draw_clones_screen(view);
    case Screen::clone:
      return draw_clone_screen(view);
    case Screen::cut:
      return draw_cut_screen(view);
    case Screen::parcels:
      return draw_parcels_screen(view);
    case Screen::codes:
      return draw_codes_screen(view);
    case Screen::scan:
      return draw_scan_screen(view);
    case Screen::settings:
      return draw_settings_screen(view);
    case Screen::first:
      return draw_first_screen(view);
    case Screen::cutting:
      return draw_cutting_screen(view);
    case Screen::outlook:
      return draw_outlook_screen(view);
    case Screen::clone_outlook:
      return draw_clone_outlook_screen(view);
    case Screen::yields:
      return draw_yields_screen(view);
    case Screen::season_plan:
      return draw_season_plan_screen(view);
    case Screen::labels:
      return draw_list_screen(view);
  }
  return std::nullopt;
}

}  // namespace

App::App(Logbook& book, Host& host, Surroundings surroundings, const AppWish& wish)
    : book_(book), host_(host), surroundings_(std::move(surroundings)), rows_(book) {
  ui_.helper = wish.helper;
  ui_.settings = wish.settings;
  ui_.handed_out = wish.handed_out;
  ui_.has_commands = !surroundings_.open_demo;
  ui_.can_pick_files = static_cast<bool>(surroundings_.pick_files);
  ui_.can_set_aside = static_cast<bool>(surroundings_.set_aside);
  ui_.has_camera = surroundings_.start_camera && surroundings_.stop_camera && surroundings_.take_in_bytes;
  // Nobody has been here yet: three questions come before the first day.
  if (ui_.helper.empty() && book_.entry_count() == 0) ui_.screen = Screen::first;
}

void App::build_fonts(ImFontAtlas& atlas, const std::string& folder, float scale) {
  const std::vector<std::string> missing = fonts_.build(atlas, folder, scale);
  if (!missing.empty() && missing_fonts_.empty()) {
    ui_.trouble = Mishap{std::string(words().fonts_missing), say(words().fonts_missing_line, missing.front())};
  }
  missing_fonts_ = missing;
}

Color App::ground() const {
  return (ui_.settings.night ? night_theme() : day_theme()).pane;
}

When App::now() {
  const std::int64_t utc = host_.now_ms();
  return moment(utc, host_.offset_minutes(utc));
}

void App::refresh_rows() {
  rows_.refresh(local_day(now()), ui_.settings.south ? Hemisphere::south : Hemisphere::north);
}

void App::frame(ImDrawList& list, const FrameWish& wish) {
  frame_ms_ = wish.time_ms;
  asked_.reset();
  turn_code(frame_ms_);
  const Theme& theme = ui_.settings.night ? night_theme() : day_theme();
  motion_.set_less(ui_.settings.less_motion);
  const bool keep_bar = ui_.screen != Screen::unpot && ui_.screen != Screen::first && !(work_ && !work_->beside);
  const bool job = ui_.screen == Screen::unpot;
  Layout layout = make_layout(wish.width, wish.height, {job, keep_bar, ui_.settings.left_hand});
  touch_.hold_back(awaits_disk());
  touch_.begin_frame(wish.time_ms, layout.window);
  motion_.begin_frame(wish.time_ms);
  fonts_.begin_frame();
  Pen pen(list, theme, fonts_, touch_, motion_);
  pen.fill(layout.window, theme.pane);
  if (work_ && !work_->beside) {
    // The book is in the middle of its work and must not be asked.
    if (draw_work(pen, layout, work_->words, static_cast<float>(work_->share))) work_->stop = true;
    touch_.end_frame();
    return;
  }
  refresh_rows();
  if (!ui_.merge.looked) look_for_parcels();
  if (ui_.screen == Screen::start) look_at_storage();

  const When moment_now = now();
  drawn_day_ = local_day(moment_now);
  ScreenView view{pen, layout, rows_, ui_, moment_now, drawn_day_};
  // A bar cuts what scrolls under it 8 dp early.
  Rect reach = layout.page;
  if (!layout.bar.empty() && !layout.landscape()) reach.h -= 8;
  touch_.set_clip(reach);
  asked_ = draw_screen(view);
  const BarAnswer bar = draw_bar(pen, layout, bar_state(rows_, ui_));
  if (bar.go) {
    go_to_place(screen_of_place(*bar.go));
    asked_.reset();
    if (work_) work_->stop = work_->given_up = true;
  }
  if (bar.change_theme) asked_ = ChangeTheme{};
  if (const Target* focus = touch_.focus()) {
    pen.frame({focus->rect.x - 4, focus->rect.y - 4, focus->rect.w + 8, focus->rect.h + 8}, theme.slate, 3, 9);
  }
  touch_.end_frame();
  if (asked_) last_act_ms_ = frame_ms_;
  if (work_ && asked_) give_up_work();
}

// What is asked for beside the work comes after it; a reckoning is asked for again by the screen itself.
void App::give_up_work() {
  work_->stop = work_->given_up = true;
  if (!std::holds_alternative<Reckon>(*asked_)) work_->then = std::move(asked_);
  asked_.reset();
}

// Something came that does not wait for it, nor goes round it.
void App::end_work_elsewhere() {
  if (!work_ || !work_->elsewhere) return;
  work_->given_up = true;
  surroundings_.stop_reckoning();
  end_reckoning(stopped_by_hand());
}

bool App::act() {
  if (work_ && work_->elsewhere && is_to_stop() && !may_still_answer()) {
    surroundings_.stop_reckoning();
    end_reckoning(stopped_by_hand());
    return true;
  }
  if (!asked_) return false;
  const Wish wish = std::move(*asked_);
  asked_.reset();
  carry_out(wish);
  return true;
}

// ----------------------------------------------------------------------------------------------------- where we are

void App::arrive() {
  ui_.asked.reset();
  if (ui_.screen == Screen::unpot_choose) ui_.unpot.pot.reset();
  if (ui_.screen == Screen::who) ui_.who = {};
  if (ui_.screen != Screen::merge && ui_.screen != Screen::who) ui_.merge.tables.clear();
  if (ui_.screen != Screen::codes) ui_.codes = {};
  ui_.house.too_much_for_codes = false;
  stop_camera();
  ui_.scan = {};
  if (ui_.screen == Screen::scan) start_camera();
  if (shows_parcels(ui_.screen)) look_for_parcels();
  if (writes_files(ui_.screen)) look_for_places();
}

void App::go(const Go& to) {
  constexpr std::size_t longest_trail = 32;
  if (to.to != ui_.screen) {
    if (to.to == Screen::start) {
      ui_.trail.clear();
    } else {
      ui_.trail.push_back({ui_.screen, ui_.about});
    }
    if (ui_.trail.size() > longest_trail) ui_.trail.erase(ui_.trail.begin());
  }
  if (to.to == Screen::settings) ui_.house.naming = false;
  ui_.screen = to.to;
  ui_.about = to.about;
  arrive();
}

void App::go_to_place(Screen to) {
  ui_.trail.clear();
  ui_.waiting_for_helper.reset();
  ui_.screen = to;
  ui_.about = {};
  arrive();
}

void App::go_back() {
  Go to{Screen::start, {}};
  if (!ui_.trail.empty()) {
    to = ui_.trail.back();
    ui_.trail.pop_back();
  }
  if (ui_.screen == Screen::who) ui_.waiting_for_helper.reset();
  ui_.screen = to.to;
  ui_.about = to.about;
  arrive();
}

bool App::step_back() {
  // There is nothing to press beside "Stop" while all waits for the work.
  if (work_ && !work_->beside) {
    work_->stop = true;
    return true;
  }
  if (ui_.screen == Screen::start) return false;
  if (touch_.find("back") != nullptr) {
    touch_.press_by_name("back");
  } else {
    go_back();
  }
  return true;
}

bool App::has_unsaved() const {
  if (ui_.unpot.begun() || ui_.waiting_for_helper || ui_.asked) return true;
  if (ui_.screen == Screen::care) return ui_.care.job.has_value();
  return ui_.screen == Screen::cut && !ui_.cut.clone.empty();
}

void App::carry_out(const Wish& wish) {
  if (const auto* to = std::get_if<Go>(&wish)) {
    go(*to);
  } else if (std::holds_alternative<GoBack>(wish)) {
    go_back();
  } else if (std::holds_alternative<ChangeTheme>(wish)) {
    ui_.settings.night = !ui_.settings.night;
  } else if (const auto* settings = std::get_if<Configure>(&wish)) {
    ui_.settings = settings->settings;
    if (ui_.screen == Screen::first) go(Go{Screen::start, {}});  // the last question is answered
  } else if (std::holds_alternative<PutErrorAside>(wish)) {
    ui_.trouble.reset();
  } else if (std::holds_alternative<UndoKept>(wish)) {
    undo();
  } else if (const auto* helper = std::get_if<BeHelper>(&wish)) {
    ui_.helper = helper->name;
    const std::optional<Keep> waiting = std::move(ui_.waiting_for_helper);
    ui_.waiting_for_helper.reset();
    if (ui_.screen == Screen::who) go_back();
    if (waiting) keep(*waiting, false);
  } else if (const auto* when = std::get_if<SetWhen>(&wish)) {
    ui_.when = when->when;
  } else if (const auto* pot = std::get_if<ChoosePot>(&wish)) {
    choose_pot(pot->row);
  } else if (const auto* count = std::get_if<KeepCount>(&wish)) {
    keep_count(count->sure);
  } else if (const auto* one = std::get_if<Keep>(&wish)) {
    keep(*one, false);
  } else if (const auto* answer = std::get_if<AnswerAsked>(&wish)) {
    const std::optional<Asked> asked = std::move(ui_.asked);
    ui_.asked.reset();
    if (asked && answer->yes) keep(asked->wish, true, asked->despite);
  } else if (std::holds_alternative<LookForParcels>(wish)) {
    ui_.merge.merged.clear();
    ui_.merge.merged_at.reset();
    look_for_parcels();
  } else if (std::holds_alternative<MergeWaiting>(wish)) {
    merge();
  } else if (std::holds_alternative<TakeTable>(wish)) {
    take_table();
  } else if (const auto* settled = std::get_if<SettleMatter>(&wish)) {
    settle({{settled->matter, settled->take}});
  } else if (std::holds_alternative<SettleAll>(wish)) {
    std::vector<std::pair<Matter, Take>> answers;
    for (const Matter& matter : rows_.matters()) {
      if (ui_.merge.put_off.count(matter.id) == 0) answers.emplace_back(matter, matter.proposal);
    }
    settle(answers);
  } else if (const auto* parcel = std::get_if<HandOut>(&wish)) {
    hand_out(*parcel);
  } else if (const auto* codes = std::get_if<ShowCodes>(&wish)) {
    show_codes(*codes);
  } else if (std::holds_alternative<StartCamera>(wish)) {
    start_camera();
  } else if (const auto* copy = std::get_if<BackUp>(&wish)) {
    back_up(*copy);
  } else if (const auto* table = std::get_if<WriteTable>(&wish)) {
    write_table(*table);
  } else if (std::holds_alternative<CheckBook>(wish)) {
    check_book();
  } else if (std::holds_alternative<OpenDemo>(wish)) {
    if (surroundings_.open_demo) surroundings_.open_demo();
  } else if (std::holds_alternative<SetAside>(wish)) {
    if (surroundings_.set_aside) surroundings_.set_aside();
  } else if (std::holds_alternative<PickFiles>(wish)) {
    if (surroundings_.pick_files) surroundings_.pick_files();
  } else if (const auto* why = std::get_if<AnswerWhy>(&wish)) {
    answer_why(why->why);
  } else if (const auto* page = std::get_if<WriteOut>(&wish)) {
    write_out(*page);
  } else if (const auto* what = std::get_if<Reckon>(&wish)) {
    reckon(*what);
  }
}

void App::fail(std::string_view title, const Error& error) {
  ui_.trouble = Mishap{std::string(title), sentence_of(error)};
}

// -------------------------------------------------------------------------------------------------------- long work

App::Busy::Busy(App& app, std::string words) : app_(app) {
  app_.work_ = Work{.words = std::move(words)};
}

App::Busy::~Busy() {
  app_.work_.reset();
}

bool App::Busy::go_on(double share) {
  return app_.go_on_working(share);
}

bool App::go_on_working(double share) {
  work_->share = share;
  if (breathe_ && !breathe_(share)) work_->stop = true;
  return !work_->stop;
}

// -------------------------------------------------------------------------------------------------------- at rest

bool App::codes_go_round() const {
  return ui_.screen == Screen::codes && !ui_.codes.still && ui_.codes.texts.size() > 1;
}

// They go on with less motion too: it is what is said, not how.
bool App::turn_code(double now_ms) {
  if (!codes_go_round()) {
    code_since_ms_ = now_ms;
    return false;
  }
  if (now_ms < code_since_ms_ + code_ms) return false;
  code_since_ms_ = now_ms;
  ui_.codes.shown = (ui_.codes.shown + 1) % ui_.codes.texts.size();
  return true;
}

int App::wait_ms(double now_ms) const {
  if (awaits_disk()) {
    if (ui_.keeping) return -1;
    return static_cast<int>(std::max(1.0, std::ceil(awaited_since_ms_ + keeping_shows_after_ms - now_ms)));
  }
  double wait = clock_wait_ms;
  if (rest_due_) wait = std::min(wait, last_change_ms_ + rest_after_ms - now_ms);
  if (shows_parcels(ui_.screen)) wait = std::min(wait, last_look_ms_ + look_every_ms - now_ms);
  if (work_ && work_->hurried_ms) wait = std::min(wait, *work_->hurried_ms + hurried_for_ms - now_ms);
  if (codes_go_round()) wait = std::min(wait, code_since_ms_ + code_ms - now_ms);
  return static_cast<int>(std::max(1.0, wait));
}

bool App::idle(double now_ms) {
  frame_ms_ = now_ms;
  if (awaits_disk()) {
    if (ui_.keeping || now_ms < awaited_since_ms_ + keeping_shows_after_ms) return false;
    ui_.keeping = true;
    return true;
  }
  if (rest_due_ && now_ms >= last_change_ms_ + rest_after_ms) {
    book_.rest();
    rest_due_ = false;
  }
  bool changed = turn_code(now_ms);
  if (work_ && work_->hurried_ms && now_ms >= *work_->hurried_ms + hurried_for_ms) changed = true;
  if (ui_.when && now_ms >= last_act_ms_ + when_forgotten_ms) {
    ui_.when.reset();
    changed = true;
  }
  if (shows_parcels(ui_.screen) && now_ms >= last_look_ms_ + look_every_ms) {
    std::vector<FoundParcel> before;
    for (const ParcelPreview& one : ui_.merge.waiting) before.push_back(one.file);
    look_for_parcels();
    std::vector<FoundParcel> after;
    for (const ParcelPreview& one : ui_.merge.waiting) after.push_back(one.file);
    changed = changed || !(before == after);
    if (ui_.screen == Screen::parcels) {
      const std::vector<PlaceToWrite> places = ui_.house.places;
      look_for_places();
      changed = changed || !(places == ui_.house.places);
    }
  }
  const Day today = local_day(now());
  if (!(today == drawn_day_)) changed = true;
  drawn_day_ = today;
  return changed;
}

}  // namespace motherbulb

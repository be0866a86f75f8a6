// Keeping: the one way from a screen's wish into the book, and back again by Undo.

#include <algorithm>

#include "app/app.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

constexpr std::size_t last_pots_known = 12;

// Those that the book was told something about, the latest first.
void remember_pots(UiState& ui, const std::vector<Command>& commands) {
  for (const Command& command : commands) {
    const auto* record = std::get_if<Record>(&command);
    if (record == nullptr || record->pot == 0 || record->batch.is_zero()) continue;
    const PotId pot{record->batch, record->pot};
    ui.last_pots.erase(std::remove(ui.last_pots.begin(), ui.last_pots.end(), pot), ui.last_pots.end());
    ui.last_pots.insert(ui.last_pots.begin(), pot);
  }
  if (ui.last_pots.size() > last_pots_known) ui.last_pots.resize(last_pots_known);
}

}  // namespace

void App::keep(std::vector<Command> commands, std::string words_of_slip, Then then) {
  for (Command& command : commands) {
    if (auto* record = std::get_if<Record>(&command)) {
      record->helper = ui_.helper;
      record->when = ui_.when;
    } else if (auto* back = std::get_if<TakeBack>(&command)) {
      back->helper = ui_.helper;
    } else if (auto* settle = std::get_if<Settle>(&command)) {
      settle->helper = ui_.helper;
    }
  }
  Result<std::vector<Receipt>> kept = book_.run_all(commands);
  last_change_ms_ = frame_ms_;
  rest_due_ = true;
  if (!kept) return then(kept.error());
  when_safe([this, commands = std::move(commands), slip = std::move(words_of_slip), receipts = std::move(*kept),
             then = std::move(then)](const std::optional<Error>& hindered) {
    if (hindered) return then(hindered);
    ui_.trouble.reset();
    ui_.asked.reset();
    ui_.kept = Kept{slip, receipts, ui_.helper};
    ui_.last_kept = now();
    remember_pots(ui_, commands);
    then(std::nullopt);
  });
}

void App::when_safe(Then then) {
  if (!surroundings_.safety) return then(std::nullopt);
  awaited_ = std::move(then);
  awaited_since_ms_ = frame_ms_;
  ask_disk();
}

bool App::ask_disk() {
  if (!surroundings_.safety) return false;
  const Safety safety = surroundings_.safety();
  if (safety.state == Safety::State::on_its_way) return false;
  if (safety.state == Safety::State::safe) {
    if (!awaited_) return false;
    const Then then = std::move(awaited_);
    awaited_ = nullptr;
    ui_.keeping = false;
    then(std::nullopt);
    return true;
  }
  Error why{ErrorKind::failed, safety.why, {}};
  if (const Outcome opened = book_.open_anew(surroundings_.take_back); !opened) why = opened.error();
  only_here_ms_.reset();
  refresh_rows();
  const Then then = std::move(awaited_);
  awaited_ = nullptr;
  ui_.keeping = false;
  // Nobody waits where the store only tidied itself: it stands as it stood before.
  if (then) then(why);
  return true;
}

void App::keep(const Keep& wish, bool sure, const std::string& despite) {
  if (wish.commands.empty()) return;
  if (ui_.helper.empty()) {
    ui_.waiting_for_helper = wish;
    return go(Go{Screen::who, {}});
  }
  std::vector<Command> commands = wish.commands;
  for (Command& command : commands) {
    auto* record = std::get_if<Record>(&command);
    if (record == nullptr) continue;
    record->sure = record->sure || sure;
    if (!despite.empty()) record->despite = despite;
  }
  ui_.asked.reset();
  keep(std::move(commands), wish.slip, [this, wish, despite](const std::optional<Error>& hindered) {
    if (hindered) return ask_or_fail(wish, despite, *hindered);
    refresh_rows();
    if (wish.after) wish.after(ui_, ui_.kept->receipts);
    if (wish.then) {
      go(*wish.then);
    } else if (wish.back) {
      go_back();
    }
  });
}

// What is unlikely or guarded is asked about; what the book or the disk refuses is said.
void App::ask_or_fail(const Keep& wish, const std::string& despite, const Error& hindered) {
  const bool guarded = hindered.what.rfind(guarded_prefix, 0) == 0;
  if (!guarded && hindered.what.rfind(unlikely_prefix, 0) != 0) return fail(words().not_kept, hindered);
  Error question = hindered;
  question.what.erase(0, guarded ? guarded_prefix.size() : unlikely_prefix.size());
  ui_.trouble.reset();
  ui_.asked = Asked{sentence_of(question), wish};
  ui_.asked->despite = despite;
  ui_.asked->guarded = guarded;
  ui_.asked->entering = guarded && question.what.rfind("nobody enters", 0) == 0;
}

// It is done all the same, and the reason is kept beside it.
void App::answer_why(const std::string& why) {
  const std::optional<Asked> asked = std::move(ui_.asked);
  ui_.asked.reset();
  if (asked && !why.empty()) keep(asked->wish, false, why);
}

void App::undo() {
  if (!ui_.kept) return;
  if (ui_.helper.empty()) ui_.helper = ui_.kept->helper;
  std::vector<Command> commands;
  for (auto it = ui_.kept->receipts.rbegin(); it != ui_.kept->receipts.rend(); ++it) {
    TakeBack back;
    back.batch = it->batch;
    back.fact = it->fact;
    back.why = words().why_undone;
    commands.emplace_back(back);
  }
  const Kept undone = *ui_.kept;
  keep(std::move(commands), say(words().undone, undone.words), [this, undone](const std::optional<Error>& hindered) {
    if (hindered) return fail(words().not_kept, *hindered);
    // What was taken back is not offered again.
    ui_.kept->receipts.clear();
    if (ui_.screen == Screen::unpot || ui_.screen == Screen::unpot_choose) take_up_again(undone);
  });
}

// The pot whose count was taken back is on the bench again, to be counted anew.
void App::take_up_again(const Kept& undone) {
  refresh_rows();
  if (ui_.unpot.begun()) return;
  for (const PotView* view : rows_.pots()) {
    const PotView& row = *view;
    const bool same = std::any_of(undone.receipts.begin(), undone.receipts.end(),
                                  [&](const Receipt& receipt) { return receipt.batch == row.batch.id; });
    if (same && say(words().kept_pot, row.pot.pot.number, 0).substr(0, undone.words.find(':')) ==
                    undone.words.substr(0, undone.words.find(':'))) {
      return choose_pot(row);
    }
  }
}

}  // namespace motherbulb

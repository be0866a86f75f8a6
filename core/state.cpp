#include "core/state.hpp"

#include <sodium.h>

#include <algorithm>

namespace motherbulb {

std::int64_t total(const BulbsByGrade& bulbs) {
  std::int64_t sum = 0;
  for (const auto& [grade, count] : bulbs) sum += count;
  return sum;
}

std::int64_t total(const Lines& lines) {
  std::int64_t sum = 0;
  for (const Line& line : lines) sum += line.count;
  return sum;
}

std::int64_t total(const LossByCause& lost) {
  std::int64_t sum = 0;
  for (std::int64_t count : lost) sum += count;
  return sum;
}

BulbBalance& BulbBalance::operator+=(const BulbBalance& other) {
  begun += other.begun;
  increase += other.increase;
  brought += other.brought;
  there += other.there;
  cut += other.cut;
  sold += other.sold;
  given += other.given;
  discarded += other.discarded;
  open += other.open;
  taken += other.taken;
  for (std::size_t i = 0; i < lost.size(); ++i) lost[i] += other.lost[i];
  return *this;
}

PieceBalance& PieceBalance::operator+=(const PieceBalance& other) {
  made += other.made;
  brought += other.brought;
  waiting += other.waiting;
  growing += other.growing;
  unpotted += other.unpotted;
  alive += other.alive;
  open += other.open;
  taken += other.taken;
  for (std::size_t i = 0; i < lost.size(); ++i) lost[i] += other.lost[i];
  return *this;
}

bool balanced(const BulbBalance& b) {
  return b.begun + b.increase + b.brought ==
         b.there + b.cut + b.sold + b.given + b.discarded + total(b.lost) + b.open + b.taken;
}

bool balanced(const PieceBalance& b) {
  return b.made + b.brought == b.waiting + b.growing + total(b.lost) + b.alive + b.open + b.taken;
}

std::string_view to_text(Stage stage) {
  static constexpr std::array<std::string_view, 6> words = {"forming", "growing", "drying-off",
                                                            "resting", "started", "emptied"};
  return words[static_cast<std::size_t>(stage)];
}

std::string_view to_text(MatterKind kind) {
  static constexpr std::array<std::string_view, 11> words = {
      "",      "counted-twice", "observations-differ", "label-twice", "two-places", "after-unpotting",
      "clock", "balance",       "unknown-device",      "near-names",  "fork"};
  return words[static_cast<std::size_t>(kind)];
}

MatterId matter_id(MatterKind kind, const FactKey& a, const FactKey& b) {
  std::array<std::uint8_t, 33> bytes{};
  bytes[0] = static_cast<std::uint8_t>(kind);
  std::copy(a.bytes.begin(), a.bytes.end(), bytes.begin() + 1);
  std::copy(b.bytes.begin(), b.bytes.end(), bytes.begin() + 17);
  std::array<std::uint8_t, 16> digest{};
  crypto_generichash(digest.data(), digest.size(), bytes.data(), bytes.size(), nullptr, 0);
  MatterId id;
  for (int i = 0; i < 6; ++i) id.value = id.value << 8 | digest[static_cast<std::size_t>(i)];
  return id;
}

Stage stage_of(const BatchState& batch, const PotState& pot) {
  if (pot.emptied) return Stage::emptied;
  // What was said of the whole batch holds for the pots that were filled by then.
  const bool of_batch = batch.phase != Stage::growing && pot.filled_order < batch.phase_order;
  if (of_batch && (pot.phase == Stage::growing || pot.phase_order < batch.phase_order) &&
      !(batch.phase_order < pot.phase_order)) {
    return batch.phase;
  }
  if (pot.phase != Stage::growing) return pot.phase;
  return pot.unit == Unit::pieces ? Stage::forming : Stage::growing;
}

std::string place_of(const BatchState& batch, const PotState& pot) {
  return batch.place.empty() || batch.place_order < pot.place_order ? pot.place : batch.place;
}

bool on_hold(const BatchState& batch, const PotState& pot) {
  if (!batch.held && !pot.held) return false;
  // The later word on this pot decides: a whole batch cleared clears its pots, a pot cleared since is cleared.
  return batch.held_order < pot.held_order ? pot.held
                                           : batch.held || (pot.held && !(pot.held_order < batch.held_order));
}

std::optional<When> last_looked(const BatchState& batch, const PotState& pot) {
  if (!pot.last_looked) return batch.last_looked;
  if (!batch.last_looked) return pot.last_looked;
  return pot.last_looked->utc_ms < batch.last_looked->utc_ms ? batch.last_looked : pot.last_looked;
}

namespace {

constexpr std::array<std::string_view, step_count> step_words = {
    "begun", "potted", "covered", "uncover", "look", "unpot", "grade", "dry-off", "start", "repot", "water", "feed"};

template <class T>
const T* later(const T* of_pot, const T* of_batch, const PotState* pot) {
  // A word on the whole batch is of the pots that were filled by then.
  if (of_batch != nullptr && pot != nullptr && of_batch->order < pot->filled_order) of_batch = nullptr;
  if (of_pot == nullptr || of_batch == nullptr) return of_pot != nullptr ? of_pot : of_batch;
  return of_pot->order < of_batch->order ? of_batch : of_pot;
}

}  // namespace

std::string_view to_text(Step step) {
  return step_words[static_cast<std::size_t>(step)];
}

std::optional<Step> step_from_text(std::string_view text) {
  for (int i = 0; i < step_count; ++i) {
    if (step_words[static_cast<std::size_t>(i)] == text) return static_cast<Step>(i);
  }
  return std::nullopt;
}

const StepDone* done_last(const BatchState& batch, const PotState* pot, Step step) {
  const auto of = [step](const std::vector<StepDone>& all) -> const StepDone* {
    for (const StepDone& one : all) {
      if (one.step == step) return &one;
    }
    return nullptr;
  };
  // That some pot of the batch was unpotted is no unpotting of this one.
  const bool of_others = pot != nullptr && step == Step::unpot;
  return later(pot != nullptr ? of(pot->done) : nullptr, of_others ? nullptr : of(batch.done), pot);
}

const StepPutOff* put_off_last(const BatchState& batch, const PotState* pot, std::string_view step) {
  const auto of = [step](const std::vector<StepPutOff>& all) -> const StepPutOff* {
    for (const StepPutOff& one : all) {
      if (one.step == step) return &one;
    }
    return nullptr;
  };
  return later(pot != nullptr ? of(pot->put_off) : nullptr, of(batch.put_off), pot);
}

const NoEntry* no_entry_of(const BatchState& batch, const PotState& pot) {
  const NoEntry* last = pot.no_entry ? &*pot.no_entry : nullptr;
  if (batch.no_entry && (last == nullptr || last->until.utc_ms < batch.no_entry->until.utc_ms)) last = &*batch.no_entry;
  return last;
}

const TestSeen* last_test(const BatchState& batch, const PotState& pot) {
  return later(pot.last_test ? &*pot.last_test : nullptr, batch.last_test ? &*batch.last_test : nullptr, &pot);
}

bool found_bad(const BatchState& batch, const PotState& pot) {
  const TestSeen* test = last_test(batch, pot);
  if (test == nullptr || test->result != TestResult::positive) return false;
  const bool cleared = (!pot.held && test->order < pot.held_order) || (!batch.held && test->order < batch.held_order);
  return !cleared;
}

std::string held_because(const BatchState& batch, const PotState& pot) {
  if (on_hold(batch, pot)) {
    const std::string& reason = pot.held_reason.empty() ? batch.held_reason : pot.held_reason;
    return reason.empty() ? "on hold" : "on hold: " + reason;
  }
  if (found_bad(batch, pot)) {
    const TestSeen& test = *last_test(batch, pot);
    return test.subject.empty() ? "its test was positive" : "tested positive for " + test.subject;
  }
  return "";
}

std::string pot_label(const BatchState& batch, std::int32_t number) {
  const std::string& label = batch.label.empty() ? batch.mark : batch.label;
  return number == 0 ? label : label + "/" + std::to_string(number);
}

}  // namespace motherbulb

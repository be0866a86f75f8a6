#include "app/book_rows.hpp"

#include <algorithm>

namespace motherbulb {
namespace {

When since_of(const BatchState& batch, const PotState& pot) {
  if (pot.phase_on) return *pot.phase_on;
  if (batch.phase_on && pot.filled_order < batch.phase_order) return *batch.phase_on;
  return pot.filled_on;
}

PotView view_of(const BatchState& batch, PotState&& pot) {
  PotView view;
  view.batch = batch;
  view.pot = std::move(pot);
  view.label = pot_label(view.batch, view.pot.pot.number);
  view.place = split_place(place_of(view.batch, view.pot));
  view.since = since_of(view.batch, view.pot);
  view.looked = last_looked(view.batch, view.pot);
  view.bulbs = total(view.pot.bulbs);
  view.held = on_hold(view.batch, view.pot);
  return view;
}

}  // namespace

void BookRows::take(const BatchId& id) {
  auto batch = book_.batch(id);
  if (!batch) {
    of_batch_.erase(id);
    return;
  }
  OfBatch& here = of_batch_[id];
  here.batch = std::move(*batch);
  here.pots.clear();
  for (PotState& pot : book_.pots_of(id)) {
    if (pot.filled && !pot.emptied) here.pots.push_back(view_of(here.batch, std::move(pot)));
  }
  reckon(here);
}

void BookRows::reckon(OfBatch& here) const {
  here.due.clear();
  std::vector<Due> due;
  const auto add = [&](const PotView* pot) {
    for (const Due& one : due) here.due.push_back({&here.batch, pot, one});
    due.clear();
  };
  for (PotView& pot : here.pots) {
    pot.stage = stage_on(*plans_, pot.batch, pot.pot, today_);
    add_due(*plans_, pot.batch, pot.pot, where_, due);
    add(&pot);
  }
  add_due_waiting(*plans_, here.batch, where_, due);
  add(nullptr);
}

// Plans are changed by entries of the whole book.
void BookRows::read_plans() {
  plans_ = std::make_unique<PlanBook>(book_.story(BatchId{}));
}

void BookRows::refresh(Day today, Hemisphere where) {
  const std::uint64_t now = book_.revision();
  const bool same_day = asked_ && today == today_ && where == where_;
  if (asked_ && now == revision_ && same_day) return;
  today_ = today;
  where_ = where;
  const auto changed = asked_ ? book_.changed_since(revision_) : std::nullopt;
  if (changed) {
    for (const BatchId& id : *changed) take(id);
    if (!same_day) {
      for (auto& [id, here] : of_batch_) reckon(here);
    }
    if (now == revision_) {
      count();
      return;
    }
  } else {
    read_plans();
    of_batch_.clear();
    for (BatchState& batch : book_.batches()) {
      const BatchId id = batch.id;
      of_batch_[id].batch = std::move(batch);
    }
    for (PotRow& row : book_.pots(false)) {
      if (!row.pot.filled || row.pot.emptied) continue;
      OfBatch& here = of_batch_[row.batch.id];
      here.pots.push_back(view_of(row.batch, std::move(row.pot)));
    }
    for (auto& [id, here] : of_batch_) reckon(here);
  }
  asked_ = true;
  revision_ = now;
  count();
  matters_ = book_.matters();
  helpers_ = book_.helpers();
  entries_ = book_.entry_count();
  benches_.reset();
  stock_.reset();
  digest_.reset();
  devices_.reset();
  story_of_.reset();
  lines_.clear();
}

void BookRows::count() {
  pots_.clear();
  batches_.clear();
  no_entry_.clear();
  counts_ = {};
  for (const auto& [id, here] : of_batch_) {
    batches_.push_back(&here.batch);
    for (const PotView& pot : here.pots) {
      ++(pot.of_pieces() ? counts_.of_pieces : counts_.of_bulbs);
      if (!pot.pot.damage.empty()) ++counts_.with_damage;
      if (pot.held) ++counts_.on_hold;
      if (const NoEntry* no_entry = no_entry_of(pot.batch, pot.pot)) no_entry_.emplace_back(pot.place.bench, no_entry);
      if (pot.stage == Stage::resting || pot.stage == Stage::drying_off) ++counts_.resting;
      if (pot.stage == Stage::started) ++counts_.started;
      if (pot.stage == Stage::forming) ++counts_.forming;
      if (pot.stage == Stage::growing) ++counts_.growing;
    }
  }
  std::sort(batches_.begin(), batches_.end(), [](const BatchState* a, const BatchState* b) {
    if (a->clone != b->clone) return a->clone < b->clone;
    if (a->genus != b->genus) return a->genus < b->genus;
    if (a->label != b->label) return a->label < b->label;
    return a->id < b->id;
  });
  // Batches in the order of their labels, each with its pots in theirs.
  std::vector<const OfBatch*> by_label;
  by_label.reserve(of_batch_.size());
  for (const auto& [id, here] : of_batch_) by_label.push_back(&here);
  std::sort(by_label.begin(), by_label.end(), [](const OfBatch* a, const OfBatch* b) {
    return a->batch.label != b->batch.label ? a->batch.label < b->batch.label : a->batch.id < b->batch.id;
  });
  for (const OfBatch* here : by_label) {
    for (const PotView& pot : here->pots) pots_.push_back(&pot);
  }
  group_due();
}

namespace {

// Work that is recorded by one tap: everyday care of what is open, all else where its window is the same.
bool together(const DueRow& a, const DueRow& b, Day today) {
  const bool same_place = a.batch == b.batch && (a.pot == nullptr) == (b.pot == nullptr) &&
                          (a.pot == nullptr || a.pot->place.bench == b.pot->place.bench);
  if (a.due.step != b.due.step || !same_place) return false;
  if (is_care(a.due.step) && a.due.open(today) && b.due.open(today)) return true;
  return a.due.opens == b.due.opens && a.due.closes == b.due.closes && a.due.since == b.due.since;
}

}  // namespace

void BookRows::group_due() {
  due_groups_.clear();
  counts_.due = counts_.overdue = 0;
  std::vector<DueGroup> of_one;
  for (const auto& [id, here] : of_batch_) {
    of_one.clear();
    for (const DueRow& row : here.due) {
      if (row.due.lapsed(today_)) continue;
      const auto found = std::find_if(of_one.begin(), of_one.end(), [&](const DueGroup& group) {
        return together(*group.rows.front(), row, today_);
      });
      if (found == of_one.end()) {
        of_one.push_back({{&row}});
      } else {
        found->rows.push_back(&row);
      }
    }
    // The one that closes first speaks for all.
    for (DueGroup& group : of_one) {
      const auto first = std::min_element(group.rows.begin(), group.rows.end(), [](const DueRow* a, const DueRow* b) {
        return a->due.closes < b->due.closes;
      });
      std::rotate(group.rows.begin(), first, first + 1);
    }
    due_groups_.insert(due_groups_.end(), of_one.begin(), of_one.end());
  }
  // What closes first comes first; the rest of the order only keeps it still.
  std::sort(due_groups_.begin(), due_groups_.end(), [](const DueGroup& a, const DueGroup& b) {
    if (!(a.due().closes == b.due().closes)) return a.due().closes < b.due().closes;
    if (a.batch().label != b.batch().label) return a.batch().label < b.batch().label;
    if (!(a.batch().id == b.batch().id)) return a.batch().id < b.batch().id;
    if (a.due().pot != b.due().pot) return a.due().pot < b.due().pot;
    return a.due().step < b.due().step;
  });
  for (const DueGroup& group : due_groups_) {
    if (group.due().open(today_)) ++counts_.due;
    if (group.due().overdue(today_)) ++counts_.overdue;
  }
}

std::vector<const DueRow*> BookRows::due_of(const PotId& pot) const {
  std::vector<const DueRow*> rows;
  const auto here = of_batch_.find(pot.batch);
  if (here == of_batch_.end()) return rows;
  for (const DueRow& row : here->second.due) {
    if (row.due.pot == pot.number && !row.due.lapsed(today_)) rows.push_back(&row);
  }
  return rows;
}

const NoEntry* BookRows::no_entry_at(std::string_view bench, std::int64_t now_ms) const {
  const NoEntry* last = nullptr;
  for (const auto& [name, no_entry] : no_entry_) {
    if (name != bench || no_entry->until.utc_ms <= now_ms) continue;
    if (last == nullptr || last->until.utc_ms < no_entry->until.utc_ms) last = no_entry;
  }
  return last;
}

const PotView* BookRows::filled(const PotId& id) const {
  const auto here = of_batch_.find(id.batch);
  if (here == of_batch_.end()) return nullptr;
  const auto found = std::find_if(here->second.pots.begin(), here->second.pots.end(),
                                  [&](const PotView& pot) { return pot.pot.pot.number == id.number; });
  return found == here->second.pots.end() ? nullptr : &*found;
}

const BatchState* BookRows::batch(const BatchId& id) const {
  const auto here = of_batch_.find(id);
  return here == of_batch_.end() ? nullptr : &here->second.batch;
}

std::vector<const PotView*> BookRows::filled_of(const BatchId& batch) const {
  std::vector<const PotView*> pots;
  const auto here = of_batch_.find(batch);
  if (here == of_batch_.end()) return pots;
  for (const PotView& pot : here->second.pots) pots.push_back(&pot);
  return pots;
}

const std::vector<BenchView>& BookRows::benches() {
  if (benches_) return *benches_;
  std::map<std::string_view, std::vector<const PotView*>> by_name;
  for (const PotView* pot : pots_) by_name[pot->place.bench].push_back(pot);
  benches_.emplace();
  for (auto& [name, pots] : by_name) {
    std::stable_sort(pots.begin(), pots.end(), [](const PotView* a, const PotView* b) {
      const auto place = [](const PotView* pot) { return pot->place.position > 0 ? pot->place.position : INT32_MAX; };
      return place(a) < place(b);
    });
    benches_->push_back({std::string(name), std::move(pots), 0, 0});
  }
  for (const StoryLine& line : book_.story(BatchId{})) {
    const auto* laid_out = std::get_if<BenchLaidOut>(&line.fact);
    if (laid_out == nullptr || !line.stands) continue;
    const std::string name(laid_out->place);
    auto found =
        std::find_if(benches_->begin(), benches_->end(), [&](const BenchView& one) { return one.name == name; });
    if (found == benches_->end()) {
      benches_->push_back({name, {}, 0, 0});
      found = benches_->end() - 1;
    }
    found->rows = laid_out->rows;
    found->columns = laid_out->columns;
  }
  // Pots without a place last.
  std::sort(benches_->begin(), benches_->end(), [](const BenchView& a, const BenchView& b) {
    if (a.name.empty() != b.name.empty()) return b.name.empty();
    return walked_before(a.name, b.name);
  });
  return *benches_;
}

const Stock& BookRows::stock() {
  if (!stock_) stock_ = book_.stock();
  return *stock_;
}

const std::string& BookRows::digest() {
  if (!digest_) digest_ = book_.digest();
  return *digest_;
}

const std::vector<DeviceRow>& BookRows::devices() {
  if (!devices_) devices_ = book_.devices();
  return *devices_;
}

const DeviceRow* BookRows::own_device() {
  for (const DeviceRow& device : devices()) {
    if (device.self) return &device;
  }
  return nullptr;
}

const std::vector<StoryLine>& BookRows::story(const BatchId& batch) {
  if (story_of_ != batch) {
    story_ = book_.story(batch);
    story_of_ = batch;
  }
  return story_;
}

const Lines* BookRows::lines_of_fact(const BatchId& batch, const FactKey& fact) {
  auto known = lines_.find(fact);
  if (known == lines_.end()) {
    Lines counted;
    for (const StoryLine& line : book_.story(batch)) {
      if (!(line.key == fact)) continue;
      if (const Lines* lines = motherbulb::lines_of(line.fact)) counted = *lines;
    }
    known = lines_.emplace(fact, std::move(counted)).first;
  }
  return known->second.empty() ? nullptr : &known->second;
}

}  // namespace motherbulb

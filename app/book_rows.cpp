#include "app/book_rows.hpp"

#include <algorithm>
#include <set>

namespace motherbulb {

void BookRows::refresh() {
  const std::uint64_t now = book_.revision();
  if (asked_ && now == revision_) return;
  asked_ = true;
  revision_ = now;
  pots_ = book_.pots(false);
  pots_.erase(
      std::remove_if(pots_.begin(), pots_.end(), [](const PotRow& row) { return !row.pot.filled || row.pot.emptied; }),
      pots_.end());
  batches_ = book_.batches();
  matters_ = book_.matters();
  entries_ = book_.entry_count();
  stock_.reset();
  digest_.reset();
  devices_.reset();
  lines_.clear();
  std::set<std::string> names;
  for (const BatchState& batch : batches_) names.insert(batch.helper);
  for (const PotRow& row : pots_) {
    for (const PotState::Damaged& damage : row.pot.damage) names.insert(damage.helper);
    if (row.pot.last_look) names.insert(row.pot.last_look->helper);
  }
  names.erase("");
  helpers_.assign(names.begin(), names.end());
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

std::vector<PotRow> BookRows::filled_of(const BatchId& batch) const {
  std::vector<PotRow> rows;
  for (const PotRow& row : pots_) {
    if (row.batch.id == batch) rows.push_back(row);
  }
  std::sort(rows.begin(), rows.end(), [](const PotRow& a, const PotRow& b) { return a.pot.pot < b.pot.pot; });
  return rows;
}

}  // namespace motherbulb

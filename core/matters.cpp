#include "core/matters.hpp"

#include <algorithm>

#include "core/names.hpp"
#include "shared/digest.hpp"

namespace motherbulb {
namespace {

FactKey key_of(const WriterId& writer) {
  return FactKey{writer.bytes};
}

// An office that only merges and settles records nothing of the plants, and needs no name for it.
bool begins_by_settling(Store& store, const WriterRow& writer) {
  bool settles = false;
  store.each_entry(writer, 1, [&settles](const Entry& entry, const Hash&) {
    const auto kind = static_cast<Kind>(entry.kind);
    settles = kind == Kind::settlement || kind == Kind::correction || kind == Kind::clock_measured;
    return false;
  });
  return settles;
}

// One content of an id from the parting on.
struct Content {
  std::uint64_t seq = 0;
  Hash hash, previous;
  Entry entry;
  bool in_book = false;
};

std::vector<Content> contents_from_fork(Store& store, const WriterRow& row) {
  std::vector<Content> all;
  const std::vector<SideEntry> beside = store.aside(row.id);
  if (beside.empty()) return all;
  const std::uint64_t first = beside.front().entry.id.seq;
  Hash previous = store.hash_at(row, first - 1).value_or(Hash{});
  store.each_entry(row, first, [&](const Entry& entry, const Hash& hash) {
    all.push_back({entry.id.seq, hash, previous, entry, true});
    previous = hash;
    return true;
  });
  for (const SideEntry& side : beside) all.push_back({side.entry.id.seq, side.hash, side.previous, side.entry, false});
  std::sort(all.begin(), all.end(),
            [](const Content& a, const Content& b) { return a.seq != b.seq ? a.seq < b.seq : a.hash < b.hash; });
  return all;
}

// For each content the branch it belongs to: 0 where the lower hash at the parting leads to it, else 1.
std::vector<int> branches(const std::vector<Content>& all) {
  std::vector<int> branch(all.size(), -1);
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (std::size_t j = 0; j < i && branch[i] < 0; ++j) {
      if (all[j].seq + 1 == all[i].seq && all[j].hash == all[i].previous) branch[i] = branch[j];
    }
    if (branch[i] >= 0) continue;
    branch[i] = i == 0 ? 0 : 1;
  }
  return branch;
}

MatterId fork_id(const WriterId& writer, std::uint64_t first) {
  return matter_id(MatterKind::fork, key_of(writer), fact_key(EntryId{writer, first}));
}

}  // namespace

ForkWeights weigh(Store& store, const BookState& book, const WriterId& writer) {
  ForkWeights weights;
  const WriterRow* row = store.find_writer(writer);
  if (row == nullptr) return weights;
  const std::vector<Content> all = contents_from_fork(store, *row);
  if (all.empty()) return weights;
  const std::vector<int> branch = branches(all);
  const auto settled = book.settlements.find(fork_id(writer, all.front().seq));
  for (std::size_t i = 0; i < all.size(); ++i) {
    bool counts = (i == 0 || all[i - 1].seq != all[i].seq) && (i + 1 == all.size() || all[i + 1].seq != all[i].seq);
    if (settled != book.settlements.end()) {
      const Take take = settled->second.take;
      counts = take == Take::both || branch[i] == (take == Take::first ? 0 : 1);
    }
    if (all[i].in_book && !counts) weights.main_out.push_back(all[i].seq);
    if (!all[i].in_book && counts) weights.aside_in.push_back(all[i].hash);
    weights.stories.push_back(story_of(all[i].entry));
  }
  std::sort(weights.aside_in.begin(), weights.aside_in.end());
  return weights;
}

void weigh_forks(Store& store, Bookkeeping& bookkeeping, const WriterId& writer) {
  const WriterRow* row = store.find_writer(writer);
  if (row == nullptr) return;
  const ForkWeights weights = weigh(store, bookkeeping.book(), writer);
  for (const BatchId& story : weights.stories) bookkeeping.story_changed(store.story(story));
  store.set_forked(*row, weights.main_out, weights.aside_in);
}

std::vector<CloneName> clone_names(Store& store, const BookState& book) {
  std::map<std::string, CloneName> by_key;
  store.each_batch([&](StoryNo story, BatchState&& batch) {
    if (!batch.begun) return;
    const std::string name = book.clone_name(batch.genus, batch.clone);
    const std::string key = folded_name(batch.genus) + '\n' + folded_name(name);
    const auto [found, fresh] = by_key.try_emplace(key);
    CloneName& clone = found->second;
    const auto earlier = [&] {
      if (batch.begun_on.utc_ms != clone.first_begun.utc_ms) return batch.begun_on.utc_ms < clone.first_begun.utc_ms;
      return batch.id < clone.first_batch;
    };
    if (fresh || earlier()) {
      clone.key = key;
      clone.genus = batch.genus;
      clone.name = name;
      clone.first_begun = batch.begun_on;
      clone.first_batch = batch.id;
    }
    clone.batches.push_back(story);
  });
  std::vector<CloneName> clones;
  for (auto& [key, clone] : by_key) clones.push_back(std::move(clone));
  std::sort(clones.begin(), clones.end(), [](const CloneName& a, const CloneName& b) {
    return a.name != b.name ? a.name < b.name : a.genus < b.genus;
  });
  return clones;
}

std::vector<Matter> book_matters(Store& store, const BookState& book) {
  std::vector<Matter> all;
  const auto add = [&](Matter matter) {
    if (book.settlements.count(matter.id) == 0) all.push_back(std::move(matter));
  };
  for (const Matter& clock : book.clocks) all.push_back(clock);

  for (const std::string& label : store.labels_twice()) {
    std::vector<BatchState> batches;
    for (StoryNo story : store.batches_by_label(label)) {
      if (auto batch = store.batch(story); batch && batch->begun) batches.push_back(std::move(*batch));
    }
    std::sort(batches.begin(), batches.end(), [](const BatchState& a, const BatchState& b) { return a.id < b.id; });
    for (std::size_t i = 1; i < batches.size(); ++i) {
      const BatchState& a = batches.front();
      const BatchState& b = batches[i];
      Matter matter;
      matter.kind = MatterKind::label_twice;
      matter.id = matter_id(matter.kind, fact_of(a.id), fact_of(b.id));
      matter.pot = {a.id, 0};
      matter.proposal = Take::first;
      const auto side = [&](const BatchState& batch) {
        return MatterSide{batch.helper, batch.begun_on, label + ", " + batch.clone + ", keeps its label", batch.mothers,
                          fact_of(batch.id)};
      };
      matter.first = side(a);
      matter.second = side(b);
      add(std::move(matter));
    }
  }

  const std::vector<CloneName> clones = clone_names(store, book);
  for (std::size_t i = 0; i < clones.size(); ++i) {
    for (std::size_t j = i + 1; j < clones.size(); ++j) {
      const CloneName* a = &clones[i];
      const CloneName* b = &clones[j];
      if (folded_name(a->genus) != folded_name(b->genus)) continue;
      const std::size_t size_a = a->name.size(), size_b = b->name.size();
      if ((size_a > size_b ? size_a - size_b : size_b - size_a) > 8) continue;
      if (!differ_by_a_letter(a->name, b->name)) continue;
      // The older name is more likely the right one.
      if (b->first_begun.utc_ms < a->first_begun.utc_ms) std::swap(a, b);
      Matter matter;
      matter.kind = MatterKind::near_names;
      const FactKey key_a = digest_128(a->key), key_b = digest_128(b->key);
      matter.id = key_a < key_b ? matter_id(matter.kind, key_a, key_b) : matter_id(matter.kind, key_b, key_a);
      matter.proposal = Take::first;
      matter.first = {a->genus, a->first_begun, a->name, static_cast<std::int64_t>(a->batches.size()), std::nullopt};
      matter.second = {b->genus, b->first_begun, b->name, static_cast<std::int64_t>(b->batches.size()), std::nullopt};
      add(std::move(matter));
    }
  }

  const auto letters = store.letters();
  for (const WriterRow& writer : store.writers()) {
    if (writer.last == 0) continue;
    const auto named = book.names.find(writer.id);
    const bool known = (named != book.names.end() && !named->second.name.empty()) || letters.count(writer.no) != 0;
    if (known || begins_by_settling(store, writer)) continue;
    Matter matter;
    matter.kind = MatterKind::unknown_device;
    matter.id = matter_id(matter.kind, key_of(writer.id), FactKey{});
    matter.proposal = Take::first;
    // No count of its entries: it would have to be kept in step with each tap.
    matter.first = {"", std::nullopt, "device " + hex(writer.id).substr(0, 4), 0, std::nullopt};
    matter.second = {"", std::nullopt, "leave it without a name", 0, std::nullopt};
    add(std::move(matter));
  }

  for (const WriterId& writer : store.forked_writers()) {
    const WriterRow* row = store.find_writer(writer);
    if (row == nullptr) continue;
    const std::vector<Content> contents = contents_from_fork(store, *row);
    if (contents.empty()) continue;
    const std::vector<int> branch = branches(contents);
    Matter matter;
    matter.kind = MatterKind::fork;
    matter.id = fork_id(writer, contents.front().seq);
    matter.proposal = Take::both;
    std::int64_t counts[2] = {0, 0};
    for (std::size_t i = 0; i < contents.size(); ++i) {
      MatterSide& side = branch[i] == 0 ? matter.first : matter.second;
      if (++counts[branch[i]] > 1) continue;
      side.helper = contents[i].entry.helper;
      side.when = contents[i].entry.when;
      side.fact = fact_key(contents[i].entry);
    }
    const std::string device = std::string(book.device(writer));
    const auto text = [&](std::int64_t count) {
      return device + " from its entry " + std::to_string(contents.front().seq) + " on: " + std::to_string(count) +
             (count == 1 ? " entry" : " entries");
    };
    matter.first.text = text(counts[0]);
    matter.second.text = text(counts[1]);
    matter.first.bulbs = counts[0];
    matter.second.bulbs = counts[1];
    add(std::move(matter));
  }
  return all;
}

}  // namespace motherbulb

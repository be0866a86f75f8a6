// Looking after a book: the check, backups, and putting one back.
#include <algorithm>
#include <array>
#include <cstdio>
#include <string_view>

#include "core/label.hpp"
#include "core/logbook_inside.hpp"
#include "core/matters.hpp"
#include "core/state_codec.hpp"

namespace motherbulb {
namespace {

std::string as_text(const ByteString& bytes) {
  return {bytes.begin(), bytes.end()};
}

// The hash chain of every writer, from its first entry.
void check_chains(Store& store, const BookState& book, std::vector<std::string>& faults, Progress* progress) {
  std::int64_t done = 0;
  const double all = static_cast<double>(std::max<std::int64_t>(store.entry_count(), 1));
  const std::vector<WriterRow> writers = store.writers();
  for (const WriterRow& row : writers) {
    Hash previous = first_hash(row.id);
    std::uint64_t seq = 0;
    bool broken = false;
    ByteString body;
    store.each_entry(row, 1, [&](const Entry& entry, const Hash& hash) {
      body.clear();
      append_canonical_body(entry, body);
      const Hash expected = entry_hash(previous, body);
      if (entry.id.seq != seq + 1 || expected != hash) {
        faults.push_back("table entry: entry " + std::to_string(entry.id.seq) + " of " +
                         std::string(book.device(row.id)) + " is not what was written");
        broken = true;
        return false;
      }
      previous = hash;
      seq = entry.id.seq;
      return progress == nullptr || ++done % 4096 != 0 || progress->go_on(0.5 * static_cast<double>(done) / all);
    });
    if (!broken && !store.failed() && (seq != row.last || previous != row.head)) {
      faults.push_back("table writer: " + std::string(book.device(row.id)) + " does not end where its entries end");
    }
  }
}

// Every folded table against the same made anew from the entries.
bool check_folded(Store& store, Bookkeeping& bookkeeping, std::vector<std::string>& faults, std::int64_t& open,
                  Progress* progress) {
  const std::size_t before = faults.size();
  std::set<StoryNo> stories;
  for (StoryNo story : store.all_stories()) stories.insert(story);
  for (StoryNo story : store.folded_stories()) stories.insert(story);
  std::size_t done = 0;
  for (StoryNo story : stories) {
    if (store.failed()) break;
    if (progress != nullptr && ++done % 64 == 0 &&
        !progress->go_on(0.5 + 0.5 * static_cast<double>(done) / static_cast<double>(stories.size()))) {
      break;
    }
    const BatchId id = store.story_id(story);
    const Store::FoldedRows rows = store.folded_rows(story);
    const std::vector<Entry> entries = store.entries_of_story(story);
    Resolved resolved = resolve(id, entries, bookkeeping.book());
    std::sort(resolved.links.begin(), resolved.links.end(),
              [](const Link& a, const Link& b) { return a.fact < b.fact; });
    const FoldedStory folded = fold_story(id, resolved, store.links_to(story));
    const std::string name = folded.batch.label.empty() ? "batch " + hex(id).substr(0, 8) : folded.batch.label;

    if (rows.batch != as_text(encode_state(folded.batch)) || rows.label != folded.batch.label ||
        rows.mark != folded.batch.mark) {
      faults.push_back("table batch: " + name + " is not what its entries say");
    }
    bool same = rows.pots.size() == folded.pots.size();
    std::size_t i = 0;
    for (const auto& [number, pot] : folded.pots) {
      if (!same) break;
      same = rows.pots[i].first == number && rows.pots[i].second.first == (pot.emptied ? 1 : 0) &&
             rows.pots[i].second.second == as_text(encode_state(pot));
      ++i;
    }
    if (!same) faults.push_back("table pot: the pots of " + name + " are not what their entries say");
    same = rows.matters.size() == folded.matters.size();
    for (i = 0; same && i < rows.matters.size(); ++i) {
      same = rows.matters[i].first == static_cast<std::int64_t>(folded.matters[i].id.value) &&
             rows.matters[i].second == as_text(encode_state(folded.matters[i]));
    }
    if (!same) faults.push_back("table matter: the matters of " + name + " are not what their entries say");
    same = rows.links.size() == resolved.links.size();
    for (i = 0; same && i < rows.links.size(); ++i) {
      same = store.find_story(resolved.links[i].to) == rows.links[i].first &&
             rows.links[i].second == as_text(encode_state(resolved.links[i]));
    }
    if (!same) faults.push_back("table link: what " + name + " took from others is not what its entries say");

    if (!balanced(folded.batch.bulb_balance) || !balanced(folded.batch.piece_balance)) {
      faults.push_back("the balance of " + name + " does not add up");
    }
    open += folded.batch.begun && folded.batch.bulb_balance.open != 0 ? 1 : 0;
    for (const auto& [number, pot] : folded.pots) {
      if (!balanced(pot.bulb_balance) || !balanced(pot.piece_balance)) {
        faults.push_back("the balance of pot " + pot_label(folded.batch, number) + " does not add up");
      }
      open += folded.batch.begun && pot.bulb_balance.open != 0 ? 1 : 0;
    }
  }
  const auto letters = store.letters();
  for (const WriterRow& row : std::vector<WriterRow>(store.writers())) {
    const auto found = letters.find(row.no);
    if ((found == letters.end() ? std::string() : found->second) != store.letter_by_entries(row)) {
      faults.push_back("table device: the letter of " + std::string(bookkeeping.book().device(row.id)) +
                       " is not what its entries say");
    }
    std::vector<std::uint64_t> main_out;
    std::vector<Hash> aside_in;
    store.forked_rows(row, main_out, aside_in);
    const ForkWeights weights = weigh(store, bookkeeping.book(), row.id);
    if (main_out != weights.main_out || aside_in != weights.aside_in) {
      faults.push_back("tables aside and forked: what counts is not what was settled");
    }
  }
  return faults.size() == before;
}

}  // namespace

Result<CheckReport> Logbook::check(Progress* progress) {
  Inside& in = *inside_;
  CheckReport report;
  report.entries = entry_count();
  std::vector<std::string> of_file = in.store->faults();
  const bool readable = !in.store->failed();
  if (readable) {
    check_chains(*in.store, in.bookkeeping.book(), report.faults, progress);
    report.chains_ok = report.faults.empty();
    report.folded_equal =
        check_folded(*in.store, in.bookkeeping, report.faults, report.balances_open, progress) && of_file.empty();
  }
  if (readable && in.store->failed()) {
    report.faults.push_back(in.store->error().what);
    report.chains_ok = report.folded_equal = false;
  }
  report.faults.insert(report.faults.begin(), of_file.begin(), of_file.end());
  if (readable && !in.store->failed()) {
    report.matters = static_cast<std::int64_t>(matters().size());
    report.digest = digest();
  }
  if (progress != nullptr && !progress->go_on(1.0))
    return Error{ErrorKind::cancelled, "stopped; nothing was found out", {}};
  return report;
}

std::string Logbook::proposed_label(std::int32_t year) const {
  Label label;
  label.year = year % 100;
  label.letter = inside_->letter()[0];
  const std::string prefix = to_text(label).substr(0, 3);
  const auto given = inside_->numbers_given.find(prefix);
  const std::int64_t last =
      given != inside_->numbers_given.end() ? given->second : inside_->store->highest_label_number(prefix);
  label.number = last + 1;
  return to_text(label);
}

namespace {

Error no_backup(const std::string& file) {
  return {ErrorKind::missing, file + " is not there; name the backup's own file", {}};
}

// `fault`: where it is known.
Error damaged_backup(const std::string& file, const std::string& fault = "") {
  return {ErrorKind::damaged,
          file + " is damaged" + (fault.empty() ? "" : " (" + fault + ")") + "; try an older backup",
          {}};
}

Result<std::unique_ptr<Store>> open_untouched(const std::string& file) {
  Store::Wish wish;
  wish.untouched = true;
  return Store::open(file, wish);
}

}  // namespace

Outcome Logbook::backup(const std::string& file, Progress* progress) {
  Inside& in = *inside_;
  if (auto copied = in.store->copy_to(file, progress); !copied) return copied;
  // A backup counts only when it has been read back and found to be the same book.
  const auto verify = [&]() -> Outcome {
    auto copy = open_untouched(file);
    if (!copy) return copy.error();
    const std::vector<std::string> faults = (*copy)->faults();
    if (!faults.empty()) return Error{ErrorKind::damaged, file + " was not written well: " + faults.front(), {}};
    if ((*copy)->digest_bytes() != in.store->digest_bytes()) {
      return Error{ErrorKind::damaged, file + " does not hold the same entries as the book", {}};
    }
    if (progress != nullptr && !progress->go_on(1))
      return Error{ErrorKind::cancelled, "stopped; no backup was written", {}};
    return Done{};
  };
  Outcome verified = verify();
  if (!verified) std::remove(file.c_str());
  return verified;
}

bool looks_like_book(ByteSource& source) {
  constexpr std::string_view beginning("SQLite format 3\0", 16);  // of SQLite's file format
  std::array<char, beginning.size()> bytes{};
  return source.size() >= bytes.size() &&
         source.read(0, reinterpret_cast<std::uint8_t*>(bytes.data()), bytes.size()).ok() &&
         std::string_view(bytes.data(), bytes.size()) == beginning;
}

Outcome Logbook::parcel_of_backup(const std::string& file, ByteSink& sink, Host& host, Progress* progress) {
  // What a book says of itself would be taken for the one that is open.
  const auto of_backup = [&file](const Error& error) {
    switch (error.kind) {
      case ErrorKind::missing:
        return no_backup(file);
      case ErrorKind::foreign:
        return Error{ErrorKind::foreign, file + " is no backup of a Motherbulb book; choose another file", {}};
      case ErrorKind::damaged:
        return damaged_backup(file);
      default:
        return error;
    }
  };
  const Error by_hand{ErrorKind::cancelled, "stopped; nothing was taken in", {}};
  if (progress != nullptr && !progress->go_on(0)) return by_hand;
  OpenWish wish;
  wish.untouched = true;
  const auto backup = open(file, wish, host);
  if (!backup) return of_backup(backup.error());
  if (progress != nullptr && !progress->go_on(0)) return by_hand;
  Store& store = *(*backup)->inside_->store;
  const std::vector<std::string> faults = store.faults();
  if (!faults.empty()) return damaged_backup(file, store.failed() ? "" : faults.front());
  const Outcome written = (*backup)->write_parcel(sink, nullptr, progress);
  return written ? written : of_backup(written.error());
}

Outcome Logbook::restore(const std::string& file, const std::string& store_path, Host& host) {
  auto from = open_untouched(file);
  if (!from) return from.error().kind == ErrorKind::missing ? no_backup(file) : from.error();
  {
    const std::vector<std::string> faults = (*from)->faults();
    if (!faults.empty()) return damaged_backup(file, faults.front());
  }
  if (auto copied = (*from)->copy_to(store_path); !copied) return copied;
  const auto renew = [&]() -> Outcome {
    {
      auto store = Store::open(store_path, {});
      if (!store) return store.error();
      // Where a book was put back it never goes on numbering as the writer that it had.
      (*store)->begin();
      for (const char* name : {"writer", "token", "letter"}) (*store)->set_setting(name, "");
      if (auto kept = (*store)->commit(); !kept) return kept;
      (*store)->checkpoint();
    }
    auto book = Logbook::open(store_path, {false, false, true, ""}, host);
    return book ? Outcome(Done{}) : Outcome(book.error());
  };
  from = Error{};  // lets go of the backup
  const Outcome renewed = renew();
  if (!renewed) {
    for (const char* end : {"", "-wal", "-shm", "-journal"}) std::remove((store_path + end).c_str());
  }
  return renewed;
}

}  // namespace motherbulb

// The book on the disk: the only SQL. Entries are appended and never changed; the folded tables are kept beside them
// and can be made anew from them at any time.
//
// Promises: what happens between begin() and commit() happens wholly or not at all, across a crash at any point; after
// commit() has answered it is on the disk. The first fault sticks until rollback(), which also forgets what was cached.
// One connection, held exclusively.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "core/fold.hpp"
#include "shared/parcel.hpp"
#include "shared/result.hpp"

namespace motherbulb {

class Progress;

class Database;
class Query;

using StoryNo = std::int64_t;  // a story's number in this store; 0 is the whole book
using WriterNo = std::int64_t;

// A writer as the store knows it: entries 1 … last, ending in hash head.
struct WriterRow {
  WriterNo no = 0;
  WriterId id;
  std::uint64_t last = 0;
  Hash head;
};

// An entry kept beside the book: parked behind a gap, or one of two contents of a forked id.
struct SideEntry {
  Entry entry;
  Hash previous, hash;
};

// Refuses a file whose folder is not there, naming the folder.
Outcome folder_is_there(const std::string& file);

// The letter that an entry shows its writer's device to have; empty: none.
std::string letter_in(const Entry& entry);

class Store {
public:
  struct Wish {
    bool create = false, must_be_new = false, read_only = false;
    // Only read, and the file stays byte for byte as it is. Where a log lies beside it a copy of both is read, in a
    // folder for what is temporary, which is gone with the Store; one of an older version is brought up to date in
    // memory.
    bool untouched = false;
  };
  static Result<std::unique_ptr<Store>> open(const std::string& path, const Wish& wish);
  ~Store();

  const std::string& path() const { return path_; }
  bool read_only() const { return read_only_; }

  void begin();
  Outcome commit();
  void rollback();
  bool failed() const;
  Error error() const;
  // After an error of the disk: nothing cached is trusted. `between`: what happens to the files while they are closed.
  // Where it cannot be opened again, each further wish tries once more.
  Outcome open_anew(const std::function<Outcome()>& between);
  // Grows each time the file is opened anew: whoever remembers what it read remembers this too.
  std::uint64_t generation() const { return generation_; }
  void checkpoint();               // moves the write-ahead log into the file
  std::int64_t log_pages() const;  // in the write-ahead log since the last checkpoint

  // --- small settings of this device: writer, letter, token
  std::optional<std::string> setting(const std::string& name);
  void set_setting(const std::string& name, const std::string& value);

  // --- writers and entries
  const std::vector<WriterRow>& writers();  // by number
  WriterRow& writer(const WriterId& id);    // added where new
  const WriterRow* find_writer(const WriterId& id);
  void append(WriterRow& writer, const Entry& entry, const Hash& hash);  // entry.id.seq == writer.last + 1
  void save_writer(const WriterRow& writer);                             // after its appends, before commit
  std::optional<Hash> hash_at(const WriterRow& writer, std::uint64_t seq);
  std::int64_t entry_count();
  Stamp stamp_at(const WriterRow& writer, std::uint64_t seq);  // zero where there is none
  bool fact_known(const FactKey& fact);                        // from a table
  std::vector<Entry> entries_of_fact(const FactKey& fact);
  std::vector<Entry> entries_of_story(StoryNo story);
  std::vector<Entry> entries_of_book();  // of story 0, of the kinds that tell the book something
  // Entries of one writer from first on, in order of sequence, until visit says false.
  void each_entry(const WriterRow& writer, std::uint64_t first,
                  const std::function<bool(const Entry&, const Hash&)>& visit);
  void each_hash(const WriterRow& writer, std::uint64_t first,
                 const std::function<bool(std::uint64_t, const Hash&)>& visit);
  void each_story_with(WriterNo writer, std::uint64_t first, std::uint64_t last,
                       const std::function<void(StoryNo)>& visit);

  // --- beside the book
  bool park(const SideEntry& entry);  // false: already parked
  std::vector<SideEntry> parked(const WriterId& writer, std::uint64_t seq);
  void unpark(const SideEntry& entry);
  std::vector<SideEntry> all_parked(const WriterId& writer);
  std::vector<WriterId> parked_writers();
  std::int64_t parked_count();
  bool set_aside(const SideEntry& entry);  // false: already there
  std::vector<SideEntry> aside(const WriterId& writer);
  std::vector<WriterId> forked_writers();
  // Which of a forked writer's entries count: those of the book that do not, and those aside that do.
  void set_forked(const WriterRow& writer, const std::vector<std::uint64_t>& main_out,
                  const std::vector<Hash>& aside_in);
  std::string digest_bytes();  // what the digest is of

  // --- stories
  StoryNo story(const BatchId& id);  // added where new
  std::optional<StoryNo> find_story(const BatchId& id);
  BatchId story_id(StoryNo no);
  std::vector<StoryNo> all_stories();  // latest first

  // --- folded tables
  std::optional<BatchState> batch(StoryNo story);
  std::optional<PotState> pot(StoryNo story, std::int32_t number);
  std::vector<PotState> pots(StoryNo story, bool with_emptied);
  void each_batch(const std::function<void(StoryNo, BatchState&&)>& visit);
  std::vector<StoryNo> batches_by_label(const std::string& label);
  std::vector<StoryNo> batches_by_mark(const std::string& mark);
  // Pots, and batches (number 0), that are on hold, were found bad, or whose re-entry time ends after `now_ms`. May
  // name some that were cleared since: the state says.
  std::vector<std::pair<StoryNo, std::int32_t>> guarded_after(std::int64_t now_ms);
  std::vector<StoryNo> to_be_folded_anew();  // left to do by a step of the schema
  void folded_anew();                        // they are
  std::int64_t highest_label_number(const std::string& year_and_letter);
  std::vector<std::string> label_letters();
  std::vector<std::string> helpers();  // everybody who wrote an entry, by name
  std::vector<std::string> labels_twice();
  std::vector<Link> links_to(StoryNo story);
  std::vector<Link> links_from(StoryNo story);
  std::vector<Matter> matters();
  std::set<std::uint64_t> matter_ids();
  std::vector<Matter> matters(StoryNo story);
  void put_links(StoryNo from, const std::vector<Link>& links);
  void put_folded(StoryNo story, const FoldedStory& folded);
  void put_batch(StoryNo story, const BatchState& batch);
  void put_pot(StoryNo story, const PotState& pot);
  void put_matter(StoryNo story, const Matter& matter);
  void drop_balance_matters(StoryNo story, std::int32_t pot);
  // Stories that stand in a folded table, for the check.
  std::vector<StoryNo> folded_stories();
  void put_letter(WriterNo writer, const std::string& letter);
  std::map<WriterNo, std::string> letters();
  std::string letter_by_entries(const WriterRow& writer);  // read from the entries, for the check

  // --- care
  struct FoldedRows {
    std::string label, mark;
    std::string batch;                                                                // bytes
    std::vector<std::pair<std::int64_t, std::pair<std::int64_t, std::string>>> pots;  // number, emptied, bytes
    std::vector<std::pair<std::int64_t, std::string>> matters;                        // id, bytes
    std::vector<std::pair<std::int64_t, std::string>> links;                          // target, bytes; from this story
  };
  FoldedRows folded_rows(StoryNo story);
  void forked_rows(const WriterRow& writer, std::vector<std::uint64_t>& main_out, std::vector<Hash>& aside_in);
  std::vector<std::string> faults();  // of the file and of the tables that no entry covers
  Outcome copy_to(const std::string& file, Progress* progress = nullptr);

private:
  Outcome reopen(const std::function<Outcome()>& between = {});
  Store();
  Outcome open_as_it_lies();
  Outcome open_a_copy();
  Outcome copy_into_memory();
  Outcome set_up(const Wish& wish, bool fresh);
  void load();
  Entry entry_from(Query& row, int first_column);
  std::int64_t word(const std::string& text);
  const std::string& word_text(std::int64_t no);

  std::unique_ptr<Database> database_;
  std::string path_;
  std::string file_;     // what is opened: at path_, or a copy of it
  std::string copy_in_;  // the folder of that copy; empty: none
  bool read_only_ = false;
  int flags_ = 0;
  std::uint64_t generation_ = 1;
  bool loaded_ = false;
  std::vector<WriterRow> writers_;
  std::unordered_map<WriterId, std::size_t> writer_place_;
  std::unordered_map<std::string, std::int64_t> words_;
  std::unordered_map<std::int64_t, std::string> word_texts_;
  std::unordered_map<BatchId, StoryNo> stories_;
  std::unordered_map<StoryNo, BatchId> story_ids_;
  std::unordered_map<WriterNo, std::string> letters_;
  bool letters_loaded_ = false;
  bool any_forks();
  bool forks_known_ = false, forks_ = false;
};

}  // namespace motherbulb

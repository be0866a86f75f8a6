// Keeps the folded tables in step with the entries: folds only what a change touched, and what that touches in turn.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/fold.hpp"
#include "core/host.hpp"
#include "core/store.hpp"

namespace motherbulb {

// What entries of the whole book say: devices' names, clocks, names of clones, bounds of grades.
struct BookState : BookView {
  struct Name {
    std::string name, letter;
  };
  struct Shift {
    WriterId writer;
    std::uint64_t after = 0, upto = 0;  // of entries after < seq ≤ upto
    std::int64_t ms = 0;
  };
  struct Renaming {
    std::string genus, from, to;  // folded, folded, as written
  };
  std::map<WriterId, Name> names;
  std::vector<Shift> shifts;  // settled
  std::vector<Renaming> renamings;
  std::map<std::string, std::vector<std::int32_t>> grade_bounds;  // by folded genus
  Settlements settlements;
  std::vector<Matter> clocks;                        // not settled
  mutable std::map<WriterId, std::string> nameless;  // writers in hexadecimal, as they were asked for

  std::int64_t shift_ms(const EntryId& id) const override;
  std::string_view device(const WriterId& writer) const override;  // name, else the writer in hexadecimal
  std::string clone_name(const std::string& genus, const std::string& name) const;  // after renaming
};
BookState read_book(Store& store);

class Bookkeeping {
public:
  explicit Bookkeeping(Store& store) : store_(store) {}

  const BookState& book();
  void forget() {  // after a rollback
    ++wide_revision_;
    book_.reset();
    book_touched_ = false;
    touched_.clear();
    changed_.clear();
    whole_book_changed_ = false;
  }

  // An entry was appended. `own`: by this device, so that nothing that stood before it can be the same fact.
  void entry_added(const Entry& entry, bool own);
  void story_changed(StoryNo story) {  // by more than its entries
    if (story == 0) book_touched_ = true;
    if (story != 0) touched_.insert(story);
    ++wide_revision_;
  }
  // Reads the book's own entries anew where some were added. True: they were.
  bool refresh_book();
  // Folds what was touched and cannot be gone on with. Before each commit.
  bool settle(Progress* progress = nullptr);  // false: cancelled

  // Grows whenever names, labels, devices or forks may have changed: what matters between stories rest on.
  std::uint64_t wide_revision() const { return wide_revision_; }
  // The stories folded since this was asked last; `whole_book`: names, clocks or clones may have changed besides.
  std::set<StoryNo> take_changed(bool& whole_book) {
    whole_book = whole_book_changed_;
    whole_book_changed_ = false;
    std::set<StoryNo> taken;
    taken.swap(changed_);
    return taken;
  }

  // From the entries alone, for the check and for questions about an earlier day.
  FoldedStory fold_anew(StoryNo story, std::optional<Day> on = std::nullopt);

private:
  bool go_on(StoryNo story, const Entry& entry, bool own);
  void fold_whole(StoryNo story);
  void book_changed();

  Store& store_;
  std::optional<BookState> book_;
  std::uint64_t generation_ = 0;  // of the store when it was read
  bool book_touched_ = false;
  std::uint64_t wide_revision_ = 1;
  std::set<StoryNo> changed_;  // since the last commit
  bool whole_book_changed_ = false;
  std::set<StoryNo, std::greater<>> touched_;  // children are begun after their parents: later stories first
};

}  // namespace motherbulb

// Import and withdrawal. The table is read twice as a stream: first for the batches that it begins anywhere, then row
// by row, with every batch known.
#include "core/table.hpp"

#include <algorithm>
#include <array>
#include <set>
#include <unordered_map>
#include <unordered_set>

#include "core/label.hpp"
#include "core/names.hpp"
#include "core/table_row.hpp"
#include "shared/digest.hpp"

namespace motherbulb {
namespace {

// Marks up to this one number the rows of a fact that was tapped; those of tables are digests.
constexpr std::uint64_t last_plain_mark = 0xffff;

// What a row of an export is known by.
struct RowId {
  FactKey fact;
  std::uint64_t mark = 0;
};

// None where the row was made by hand, or was changed since the export: then it is a row like any other.
std::optional<RowId> id_of(const TableRow& row, const Logbook& book) {
  const std::string& text = row.more.id;
  if (text.size() != 32 + 1 + 16 + 1 + 16 || text[32] != '.' || text[49] != '.') return std::nullopt;
  RowId id;
  std::uint8_t mark[8], check[8];
  if (!from_hex(std::string_view(text).substr(0, 32), id.fact.bytes.data(), 16) ||
      !from_hex(std::string_view(text).substr(33, 16), mark, 8) ||
      !from_hex(std::string_view(text).substr(50, 16), check, 8)) {
    return std::nullopt;
  }
  std::uint64_t checked = 0;
  for (int i = 0; i < 8; ++i) {
    id.mark = id.mark << 8 | mark[i];
    checked = checked << 8 | check[i];
  }
  if (checked != row.check) return std::nullopt;
  // What was tapped and taken back stays so; its row says the same again as a fact of its own.
  if (id.mark <= last_plain_mark) {
    const Logbook::KnownRows known = book.known_rows(id.fact);
    if (known.standing.empty() && !known.withdrawn.empty()) return std::nullopt;
  }
  return id;
}

// A batch that a row names.
struct Found {
  std::optional<BatchId> id;
  std::string clone, genus;  // folded
  bool in_table = false;
  bool faulty = false;  // the row that begins it is named as wrong itself
  std::string fault;
};

struct BegunHere {
  std::int64_t line = 0;
  FactKey fact;
  std::string clone, genus, parent;
  bool faulty = false;
};

std::int64_t new_matters(const std::set<std::uint64_t>& before, const Logbook& book) {
  std::int64_t count = 0;
  for (const Matter& matter : book.matters()) count += before.count(matter.id.value) == 0 ? 1 : 0;
  return count;
}

std::set<std::uint64_t> matters_of(const Logbook& book) {
  std::set<std::uint64_t> ids;
  for (const Matter& matter : book.matters()) ids.insert(matter.id.value);
  return ids;
}

// Everything of a table but what is done with its rows.
class TableReading {
public:
  TableReading(Logbook& book, Host& host, ByteSource& table)
      : book_(book), host_(host), table_(table), faults_(table.name()) {}

  Faults& faults() { return faults_; }
  // First reading: the header, and the batches begun here.
  Outcome find_begun();
  // Second reading: each sound row with its batch and parent found.
  template <class Visit>
  Outcome each_row(Progress* progress, Visit visit);
  std::int64_t rows() const { return rows_; }
  const std::set<std::string>& labels_here() const { return labels_here_; }

private:
  bool place_in_book(TableRow& row);
  bool find_genus(TableRow& row, bool tell);
  Found find(const std::string& text, const std::string& hexadecimal);
  Found find_in_book(const std::string& text);
  std::vector<BatchId> batches_by_folded_mark(const std::string& text);
  bool find_parent(TableRow& row);
  bool is_its_own_ancestor(const std::string& batch) const;

  Logbook& book_;
  Host& host_;
  ByteSource& table_;
  Faults faults_;
  Header header_;
  std::unordered_map<std::string, BegunHere> begun_;                  // by folded batch text
  std::map<std::string, std::map<std::string, std::string>> genera_;  // folded clone -> folded genus -> genus
  bool genera_of_book_known_ = false;
  std::unordered_map<std::string, std::vector<BatchId>> marks_;  // of the book, folded
  bool marks_known_ = false;
  std::set<std::string> labels_here_;
  std::unordered_map<std::string, Found> found_;
  std::string last_batch_;
  Found last_found_;
  std::int64_t rows_ = 0;
};

Outcome TableReading::find_begun() {
  CellReader cells(table_);
  CellRow row;
  auto any = cells.next(row);
  if (!any) return any.error();
  if (!*any) return refusal(table_.name() + ": the table is empty; its first row names the columns");
  const auto header = read_header(row, faults_);
  if (!header) return faults_.error();
  header_ = *header;

  const std::size_t event = *header_.at[static_cast<std::size_t>(Column::event)];
  const auto batch = header_.at[static_cast<std::size_t>(Column::batch)];
  RowReader reader(header_, host_);
  std::vector<TableRow> without_genus;
  for (;;) {
    any = cells.next(row);
    if (!any) return any.error();
    if (!*any) break;
    if (event >= row.cells.size() || folded_name(row.cells[event]) != to_text(Kind::begun)) continue;
    Faults unheard(table_.name());
    TableRow begun;
    bool blank = false;
    const bool sound = reader.read(row, begun, blank, unheard);
    if (!sound) {
      if (batch && *batch < row.cells.size()) {
        auto& here = begun_[folded_name(row.cells[*batch])];
        if (here.line == 0) here.line = begun.line;
        here.faulty = true;
      }
      continue;
    }
    if (begun.genus.empty()) {
      without_genus.push_back(begun);
      continue;
    }
    genera_[folded_name(begun.clone)].emplace(folded_name(begun.genus), begun.genus);
    const auto id = id_of(begun, book_);
    begun_.try_emplace(folded_name(begun.batch),
                       BegunHere{begun.line, id ? id->fact : fact_of_begun(begun), folded_name(begun.clone),
                                 folded_name(begun.genus), begun.parent, false});
    if (const auto label = label_from_text(begun.batch)) labels_here_.insert(to_text(*label));
  }
  for (TableRow& begun : without_genus) {
    const bool known = find_genus(begun, false);
    const auto id = id_of(begun, book_);
    begun_.try_emplace(folded_name(begun.batch),
                       BegunHere{begun.line, id ? id->fact : fact_of_begun(begun), folded_name(begun.clone),
                                 folded_name(begun.genus), begun.parent, !known});
    if (const auto label = label_from_text(begun.batch)) labels_here_.insert(to_text(*label));
  }
  return Done{};
}

// A row may leave the genus out where its clone is known in one genus only.
bool TableReading::find_genus(TableRow& row, bool tell) {
  if (!row.genus.empty()) return true;
  if (!genera_of_book_known_) {
    genera_of_book_known_ = true;
    for (const BatchState& batch : book_.batches()) {
      if (batch.begun) genera_[folded_name(batch.clone)].emplace(folded_name(batch.genus), batch.genus);
    }
  }
  const auto known = genera_.find(folded_name(row.clone));
  if (known != genera_.end() && known->second.size() == 1) {
    row.genus = known->second.begin()->second;
    return true;
  }
  if (tell) {
    faults_.add(row.line, Column::genus,
                known == genera_.end() ? "the genus is missing; write its botanical name"
                                       : "the genus is missing, and the clone " + in_quotes(row.clone) +
                                             " is known in several; write which");
  }
  return false;
}

std::vector<BatchId> TableReading::batches_by_folded_mark(const std::string& text) {
  if (!marks_known_) {
    marks_known_ = true;
    for (const BatchState& batch : book_.batches()) {
      if (!batch.mark.empty()) marks_[folded_name(batch.mark)].push_back(batch.id);
    }
  }
  const auto known = marks_.find(folded_name(text));
  return known == marks_.end() ? std::vector<BatchId>{} : known->second;
}

Found TableReading::find_in_book(const std::string& text) {
  Found found;
  std::vector<BatchId> ids;
  if (const auto label = label_from_text(text)) ids = book_.batches_by_label(to_text(*label));
  if (ids.empty()) ids = book_.batches_by_mark(text);
  if (ids.empty()) ids = batches_by_folded_mark(text);
  if (ids.empty()) {
    found.fault = "no batch " + in_quotes(text) +
                  " is begun in this table or known to the book; begin it in a row, or first merge the parcel of the "
                  "device that began it";
    return found;
  }
  if (ids.size() > 1) {
    found.fault = std::to_string(ids.size()) + " batches of the book are called " + in_quotes(text) +
                  "; write the label of the one that is meant:";
    std::vector<std::string> labels;
    for (const BatchId& id : ids) {
      const auto batch = book_.batch(id);
      if (batch) labels.push_back(batch->label);
    }
    std::sort(labels.begin(), labels.end());
    for (const std::string& label : labels) found.fault += " " + label;
    return found;
  }
  found.id = ids.front();
  if (const auto batch = book_.batch(ids.front())) {
    found.clone = folded_name(batch->clone);
    found.genus = folded_name(batch->genus);
  }
  return found;
}

// `hexadecimal`: the batch's id, which an export gives where the book does not know how the batch began.
Found TableReading::find(const std::string& text, const std::string& hexadecimal) {
  if (!text.empty() && text == last_batch_) return last_found_;
  const std::string folded = folded_name(text);
  Found found;
  if (const auto here = begun_.find(folded); here != begun_.end()) {
    found.in_table = true;
    found.faulty = here->second.faulty;
    found.clone = here->second.clone;
    found.genus = here->second.genus;
    found.id = batch_of(here->second.fact);
  } else if (BatchId id; !hexadecimal.empty() && from_hex(hexadecimal, id.bytes.data(), id.bytes.size())) {
    found.id = id;
    return found;
  } else {
    const auto known = found_.find(text);
    found = known != found_.end() ? known->second : found_.emplace(text, find_in_book(text)).first->second;
  }
  last_batch_ = text;
  last_found_ = found;
  return found;
}

bool TableReading::is_its_own_ancestor(const std::string& batch) const {
  std::set<std::string> met;
  std::string at = folded_name(batch);
  while (met.insert(at).second) {
    const auto here = begun_.find(at);
    if (here == begun_.end() || here->second.parent.empty()) return false;
    at = folded_name(here->second.parent);
    if (begun_.count(at) == 0) {
      const std::size_t slash = at.rfind('/');
      if (slash != std::string::npos) at.resize(slash);
    }
  }
  return true;
}

bool TableReading::find_parent(TableRow& row) {
  if (row.parent.empty()) {
    if (row.pot != 0) faults_.not_kept(row.line, Column::pot, "a begun without a parent");
    return true;
  }
  std::string text = row.parent;
  std::int32_t pot = 0;
  Found parent = find(text, "");
  if (!parent.id) {
    const std::size_t slash = text.rfind('/');
    const std::string number = slash == std::string::npos ? "" : std::string(trimmed(text.substr(slash + 1)));
    const bool is_number =
        !number.empty() && number.size() <= 7 && number.find_first_not_of("0123456789") == std::string::npos;
    if (is_number) {
      const Found whole_batch = find(std::string(trimmed(text.substr(0, slash))), "");
      if (whole_batch.id) {
        parent = whole_batch;
        pot = static_cast<std::int32_t>(std::stol(number));
      }
    }
  }
  if (!parent.id) {
    faults_.add(row.line, Column::parent, parent.fault);
    return false;
  }
  if (parent.faulty) return false;
  if (pot != 0 && row.pot != 0 && pot != row.pot) {
    faults_.add(row.line, Column::pot,
                "the parent's pot is " + std::to_string(pot) + " by the column parent and " + std::to_string(row.pot) +
                    " here; write it in one of them");
    return false;
  }
  row.parent_id = parent.id;
  row.parent_pot = pot != 0 ? pot : row.pot;
  if (is_its_own_ancestor(row.batch)) {
    faults_.add(
        row.line, Column::parent,
        in_quotes(row.parent) + " descends from this batch itself; name the batch it came from, or leave it blank");
    return false;
  }
  const std::string clone = folded_name(row.clone), genus = folded_name(row.genus);
  if (clone == parent.clone && genus == parent.genus) return true;
  if (!parent.in_table) {
    if (parent.clone.empty()) return true;  // how it began, this book does not know
    // The clone may have been renamed since; what began the parent still says the old name.
    for (const StoryLine& line : book_.story(*parent.id)) {
      const auto* begun = std::get_if<Begun>(&line.fact);
      if (begun != nullptr && folded_name(begun->clone) == clone && folded_name(begun->genus) == genus) return true;
    }
  }
  faults_.add(row.line, Column::parent,
              "the parent " + in_quotes(row.parent) +
                  " is of another clone; a batch and its parent are one clone, so correct the one or the other");
  return false;
}

bool TableReading::place_in_book(TableRow& row) {
  if (row.kind == Kind::begun) {
    if (!find_genus(row, true)) return false;
    const auto here = begun_.find(folded_name(row.batch));
    CHECK_OURS(here != begun_.end());
    const auto id = id_of(row, book_);
    const FactKey fact = id ? id->fact : fact_of_begun(row);
    if (here->second.faulty && here->second.line == row.line) return false;
    if (!here->second.faulty && fact != here->second.fact) {
      faults_.add(row.line, Column::batch,
                  in_quotes(row.batch) + " is begun in line " + std::to_string(here->second.line) +
                      " already; rows of one beginning have the same when, helper, clone, genus, method and pot, "
                      "another batch another name");
      return false;
    }
    row.batch_id = batch_of(fact);
    if (!find_parent(row)) return false;
    if (const auto label = label_from_text(row.more.label.empty() ? row.batch : row.more.label)) {
      row.label = to_text(*label);
      row.mark = row.more.mark;
    } else {
      row.mark = row.batch;
      if (row.batch.size() > 4 && row.batch[row.batch.size() - 2] == '-' &&
          label_from_text(row.batch.substr(0, row.batch.size() - 1) +
                          check_character(std::string_view(row.batch).substr(0, row.batch.size() - 2)).value_or('?'))) {
        faults_.remark(row.line, in_quotes(row.batch) +
                                     " looks like a label, but its check character is wrong; it is kept as a mark, and "
                                     "the batch gets a label of its own");
      }
    }
    return true;
  }
  if (row.batch.empty()) return true;
  const Found found = find(row.batch, row.more.batch);
  if (!found.id) {
    faults_.add(row.line, Column::batch, found.fault);
    return false;
  }
  if (found.faulty) return false;
  if (found.in_table && !row.clone.empty() && folded_name(row.clone) != found.clone) {
    faults_.add(row.line, Column::clone,
                in_quotes(row.clone) + " is not the clone that " + in_quotes(row.batch) +
                    " is begun with in this table; write that one, or leave it blank");
    return false;
  }
  row.batch_id = *found.id;
  return true;
}

template <class Visit>
Outcome TableReading::each_row(Progress* progress, Visit visit) {
  CellReader cells(table_);
  CellRow row;
  auto any = cells.next(row);  // the header
  if (!any) return any.error();
  RowReader reader(header_, host_);
  TableRow read;
  for (;;) {
    any = cells.next(row);
    if (!any) return any.error();
    if (!*any) break;
    bool blank = false;
    const bool sound = reader.read(row, read, blank, faults_);
    if (blank) continue;
    ++rows_;
    if (progress != nullptr && rows_ % 4096 == 0 && !progress->go_on(cells.share_read() / 2)) {
      return Error{ErrorKind::cancelled, "stopped; nothing was changed", {}};
    }
    if (!sound || !place_in_book(read)) continue;
    visit(read);
  }
  if (faults_.any()) return faults_.error();
  return Done{};
}

// A row, the fact it belongs to, and the marks it may be known by.
struct RowIdentity {
  FactKey fact;
  std::optional<RowId> id;
  std::string content;
  std::uint64_t nth = 0;
  std::uint64_t mark(std::uint64_t round) const {
    return id ? row_mark(fact, id->mark, round) : row_mark(fact, content, nth, round);
  }
};

// How often each of very many digests was met. They are evenly spread, so the first free place from the digest's own
// is near; one that is 0 counts as 1.
class Tally {
public:
  std::uint64_t meet(std::uint64_t digest) {
    if (2 * (used_ + 1) > places_.size()) grow();
    Place& place = find(digest == 0 ? 1 : digest);
    if (place.count == 0) ++used_;
    return ++place.count;
  }

private:
  struct Place {
    std::uint64_t digest = 0;
    std::uint64_t count = 0;
  };
  Place& find(std::uint64_t digest) {
    std::size_t at = digest & (places_.size() - 1);
    while (places_[at].count != 0 && places_[at].digest != digest) at = (at + 1) & (places_.size() - 1);
    places_[at].digest = digest;
    return places_[at];
  }
  void grow() {
    std::vector<Place> old(std::max<std::size_t>(2 * places_.size(), 1024));
    old.swap(places_);
    for (const Place& place : old) {
      if (place.count != 0) find(place.digest).count = place.count;
    }
  }
  std::vector<Place> places_;
  std::size_t used_ = 0;
};

class RowCounter {
public:
  explicit RowCounter(const Logbook& book) : book_(book) {}
  RowIdentity know(const TableRow& row) {
    RowIdentity known;
    known.content = content_of(row);
    known.id = id_of(row, book_);
    if (known.id) {
      known.fact = known.id->fact;
      return known;
    }
    known.nth = like_.meet(digest_64(known.content));
    known.fact = row.kind == Kind::begun ? fact_of(row.batch_id) : fact_of_row(row, known.content, known.nth);
    return known;
  }

private:
  const Logbook& book_;
  Tally like_;
};

bool holds(const std::vector<std::uint64_t>& marks, std::uint64_t mark) {
  return std::find(marks.begin(), marks.end(), mark) != marks.end();
}

// The labels that rows without one are given: one after the other, past those that the table itself brings.
class LabelGiver {
public:
  LabelGiver(Logbook& book, const std::set<std::string>& taken) : book_(book), taken_(taken) {}
  std::string next(std::int32_t year) {
    const auto [at, fresh] = next_.try_emplace(year);
    if (fresh) {
      const auto label = label_from_text(book_.next_label(year));
      CHECK_OURS(label.has_value());
      at->second = *label;
    }
    std::string text;
    do {
      text = to_text(at->second);
      ++at->second.number;
    } while (taken_.count(text) != 0);
    return text;
  }

private:
  Logbook& book_;
  const std::set<std::string>& taken_;
  std::map<std::int32_t, Label> next_;
};

// Rows of one fact that are new here.
struct Group {
  std::int64_t entry = -1;
  std::int64_t line = 0;
  bool alive_said = false;
  bool asked = false;
  std::unique_ptr<Logbook::KnownRows> known;  // none: the book does not know the fact

  bool is_withdrawn(std::uint64_t mark) const { return known && holds(known->withdrawn, mark); }
  bool stands(std::uint64_t mark) const { return known && holds(known->standing, mark); }
  bool any_stands() const { return known && !known->standing.empty(); }
};

}  // namespace

Result<ImportReport> import_table(Logbook& book, Host& host, ByteSource& table, Progress* progress) {
  TableReading reading(book, host, table);
  auto outcome = reading.find_begun();
  if (!outcome) return outcome.error();

  const bool book_is_empty = book.entry_count() == 0;
  const std::string letter = book.device_letter();
  LabelGiver labels(book, reading.labels_here());
  RowCounter counter(book);
  std::unordered_map<FactKey, Group> groups;
  std::set<std::pair<FactKey, std::uint64_t>> met;  // rows of exports
  std::vector<Entry> entries;
  ImportReport report;

  const auto take_in = [&](const TableRow& row) {
    const RowIdentity known = counter.know(row);
    if (known.id && !met.emplace(known.fact, known.id->mark).second) {
      ++report.known;
      return;
    }
    Group alone;
    const bool joins = counts(row);
    Group& group = joins ? groups[known.fact] : alone;
    if (!group.asked) {
      group.asked = true;
      group.line = row.line;
      if (!book_is_empty) {
        group.known = std::make_unique<Logbook::KnownRows>(book.known_rows(known.fact, known.id.has_value()));
      }
    }
    std::uint64_t round = 0;
    std::uint64_t mark = known.mark(round);
    while (group.is_withdrawn(mark)) mark = known.mark(++round);
    // A fact put right after it was tapped may have other rows than it had; it is known as it stands.
    const bool put_right = known.id && known.id->mark <= last_plain_mark && group.any_stands();
    if (group.stands(mark) || (put_right && round == 0)) {
      ++report.known;
      return;
    }
    ++report.new_rows;
    const bool alive = row.kind == Kind::unpotted && row.sort == TableRow::Sort::alive;
    if (group.entry >= 0 && !(alive && group.alive_said)) {
      Entry& entry = entries[static_cast<std::size_t>(group.entry)];
      Payload payload = decode(entry.kind, entry.payload);
      std::string why;
      if (!add_to(payload, entry.table->rows, row, mark, why)) {
        reading.faults().add(row.line, why + " is not that of line " + std::to_string(group.line) +
                                           "; rows with the same when, helper, event, batch and pot are one entry");
        return;
      }
      entry.payload = encode(payload);
      group.alive_said = group.alive_said || alive;
      return;
    }
    TableRow own = row;
    if (row.kind == Kind::begun && own.label.empty()) {
      const auto begun = book_is_empty ? std::nullopt : book.batch(row.batch_id);
      own.label = begun && !begun->label.empty() ? begun->label : labels.next(civil(local_day(row.when)).year);
    }
    Entry entry;
    entry.when = row.when;
    entry.helper = row.helper;
    if (row.kind != Kind::begun) {
      entry.batch = row.batch_id;
      entry.pot = row.pot;
    }
    const Payload fact = payload_of(own);
    entry.kind = kind_number(fact);
    entry.payload = encode(fact);
    entry.table = TableOrigin{known.fact, {mark}, known.id && !row.more.device.empty() ? row.more.device : letter};
    group.entry = static_cast<std::int64_t>(entries.size());
    group.alive_said = alive;
    entries.push_back(std::move(entry));
  };
  outcome = reading.each_row(progress, take_in);
  if (!outcome) return outcome.error();
  if (reading.faults().any()) return reading.faults().error();

  report.rows = reading.rows();
  report.remarks = reading.faults().remarks();
  const std::set<std::uint64_t> before = matters_of(book);
  groups.clear();
  if (!entries.empty()) {
    auto kept = book.append(std::move(entries), progress);
    if (!kept) return kept.error();
  }
  report.matters = new_matters(before, book);
  report.digest = book.digest();
  return report;
}

bool looks_like_table(ByteSource& source) {
  constexpr std::string_view ending = ".csv";
  const std::string name = folded_name(source.name());
  if (name.size() > ending.size() && name.compare(name.size() - ending.size(), ending.size(), ending) == 0) return true;
  std::array<std::uint8_t, 512> bytes{};
  const auto count = static_cast<std::size_t>(std::min<std::uint64_t>(bytes.size(), source.size()));
  if (!source.read(0, bytes.data(), count)) return false;
  const std::string head(bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(count));
  const std::string line = folded_name(std::string_view(head).substr(0, head.find('\n')));
  return line.find("when") != std::string::npos && line.find("event") != std::string::npos;
}

Result<WithdrawReport> withdraw_table(Logbook& book, Host& host, ByteSource& table, const std::string& helper,
                                      Progress* progress) {
  TableReading reading(book, host, table);
  auto outcome = reading.find_begun();
  if (!outcome) return outcome.error();

  struct Taken {
    BatchId batch;
    std::int32_t pot = 0;
    Correction correction;
    Logbook::KnownRows known;
  };
  RowCounter counter(book);
  std::unordered_map<FactKey, std::size_t> places;
  std::vector<Taken> all;
  WithdrawReport report;
  outcome = reading.each_row(progress, [&](const TableRow& row) {
    const RowIdentity known = counter.know(row);
    const auto [place, fresh] = places.emplace(known.fact, all.size());
    if (fresh) {
      Taken taken;
      taken.batch = row.batch_id;
      taken.pot = row.kind == Kind::begun ? 0 : row.pot;
      taken.correction.target = known.fact;
      taken.known = book.known_rows(known.fact, known.id.has_value());
      all.push_back(std::move(taken));
    }
    Taken& taken = all[place->second];
    std::uint64_t round = 0;
    std::uint64_t mark = known.mark(round);
    while (holds(taken.known.withdrawn, mark)) mark = known.mark(++round);
    if (holds(taken.known.standing, mark) && !holds(taken.correction.rows, mark)) {
      taken.correction.rows.push_back(mark);
      ++report.withdrawn;
    } else {
      ++report.known;
    }
  });
  if (!outcome) return outcome.error();

  const std::int64_t now = host.now_ms();
  std::vector<Entry> entries;
  for (const Taken& taken : all) {
    if (taken.correction.rows.empty()) continue;
    Entry entry;
    entry.when = moment(now, host.offset_minutes(now));
    entry.helper = helper;
    entry.batch = taken.batch;
    entry.pot = taken.pot;
    entry.kind = static_cast<std::uint16_t>(Kind::correction);
    entry.payload = encode(taken.correction);
    entries.push_back(std::move(entry));
  }
  report.rows = reading.rows();
  const std::set<std::uint64_t> before = matters_of(book);
  if (!entries.empty()) {
    auto kept = book.append(std::move(entries), progress);
    if (!kept) return kept.error();
  }
  report.matters = new_matters(before, book);
  report.digest = book.digest();
  return report;
}

}  // namespace motherbulb

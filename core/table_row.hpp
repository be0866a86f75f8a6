// One row of the grower's table: its cells as values, what is wrong with them, and the fact they say.
#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/host.hpp"
#include "core/table_cells.hpp"
#include "shared/entry.hpp"

namespace motherbulb {

enum class Column : std::uint8_t {
  when,
  helper,
  event,
  clone,
  genus,
  batch,
  pot,
  parent,
  method,
  sections,
  grade,
  count,
  cause,
  place,
  note,
  more
};
inline constexpr std::size_t column_count = 16;
std::string_view to_text(Column column);

// Faults of one table, named up to a number and then counted; and remarks on what is taken in all the same.
class Faults {
public:
  explicit Faults(std::string table) : table_(std::move(table)) {}
  void add(std::int64_t line, const std::string& what);
  void add(std::int64_t line, Column column, const std::string& what);
  // A cell that says nothing with this event.
  void not_kept(std::int64_t line, Column column, std::string_view event);
  void remark(std::int64_t line, const std::string& what);
  bool any() const { return count_ > 0; }
  std::int64_t count() const { return count_; }
  Error error() const;
  std::vector<std::string> remarks() const;

private:
  std::string table_;
  std::vector<std::string> named_;
  std::int64_t count_ = 0;
  struct Lines {
    std::vector<std::int64_t> first;
    std::int64_t more = 0;
  };
  std::map<std::pair<std::string, std::string>, Lines> not_kept_;
  std::vector<std::string> remarks_;
  std::int64_t further_remarks_ = 0;
};

// Text from a cell for a message: on one line, in quotation marks, shortened where it is long.
std::string in_quotes(std::string_view text);

// What the column `more` says.
struct More {
  std::string canonical;  // as JSON with sorted names, without `id`
  std::string id;
  std::string device, label, mark, batch;
  Blade blade = Blade::unsaid;
  YesNo dip = YesNo::unsaid, wedges = YesNo::unsaid, rot = YesNo::unsaid;
  std::string medium, amount, subject;
  std::optional<std::string> product;  // said, perhaps that there is none; else the note names it
  std::string registration, dose, area, against, licence;
  bool of_treatment = false;  // one of these five is named: it is a Treatment, not a Treated
  Unit unit = Unit::unsaid;
  Moisture moisture = Moisture::unsaid;
  TestResult result = TestResult::unsaid;
  std::optional<std::int32_t> re_entry_hours;
  std::int32_t how_bad = 0;
  std::int64_t off_type = 0;
  std::optional<std::int64_t> cents;
};

struct TableRow {
  std::int64_t line = 0;
  When when;
  std::string when_text;  // written one way, without the offset that a bare day is given here
  std::string helper;
  Kind kind = Kind::note;
  std::string clone, genus;
  std::string batch;  // as the table calls it
  std::int32_t pot = 0;
  std::string parent;
  std::optional<Method> method;
  std::optional<std::int32_t> sections;
  enum class Sort : std::uint8_t { bulbs, alive, dead };
  Sort sort = Sort::bulbs;
  std::optional<Grade> grade;
  std::optional<std::int64_t> count;
  std::optional<Cause> cause;
  std::string detail;  // of the cause; of a test what for; of a hold the cause as it stands
  std::string place, note;
  More more;
  std::uint64_t check = 0;  // of all cells but the id

  // Found by whoever reads the table.
  BatchId batch_id;
  std::optional<BatchId> parent_id;
  std::int32_t parent_pot = 0;
  std::string label, mark;  // of a batch that it begins
};

// Where each column stands in this table; none: nowhere.
struct Header {
  std::array<std::optional<std::size_t>, column_count> at;
  std::size_t cells = 0;
};
// None where no row could be read; a column that is not known is a fault, and the rows are looked at all the same.
std::optional<Header> read_header(const CellRow& row, Faults& faults);

class RowReader {
public:
  RowReader(const Header& header, Host& host) : header_(header), host_(host) {}
  // Reads and checks what can be checked in the row alone. False where there were faults, or where the row is blank
  // (`blank` tells).
  bool read(CellRow& cells, TableRow& row, bool& blank, Faults& faults);

private:
  std::string& cell(CellRow& cells, Column column);
  bool read_when(CellRow& cells, TableRow& row, Faults& faults);

  const Header& header_;
  Host& host_;
  std::string none_;
  std::string last_when_, last_event_;
  std::optional<Kind> last_kind_;
  When last_read_;
  std::string last_read_text_;
};

// The check that `more.id` carries: over the fifteen cells as they stand and `more` without the id.
std::uint64_t check_of(const std::array<std::string_view, column_count>& cells, std::string_view more);

// The events that a table knows.
bool in_tables(Kind kind);
bool has_lines(Kind kind);
// The row is a line of a fact that counts: others of the same key join it. Else it is a fact of its own.
bool counts(const TableRow& row);

// The canonical bytes of a row's content, its batch and parent found: what rows of one table are compared by.
std::string content_of(const TableRow& row);
FactKey fact_of_begun(const TableRow& row);
FactKey fact_of_row(const TableRow& row, const std::string& content, std::uint64_t nth);
std::uint64_t row_mark(const FactKey& fact, const std::string& content, std::uint64_t nth, std::uint64_t round);
// Of a row that came out of an export with its identity: `mark` itself, and others once it has been withdrawn.
std::uint64_t row_mark(const FactKey& fact, std::uint64_t mark, std::uint64_t round);

// The fact that one row says.
Payload payload_of(const TableRow& row);
// Puts a further row into a fact of the same key, and its mark among the marks. False where the two contradict each
// other; `why` then says in what. The row must not be an `alive` where the fact has said one already.
bool add_to(Payload& payload, std::vector<std::uint64_t>& marks, const TableRow& row, std::uint64_t mark,
            std::string& why);

}  // namespace motherbulb

#include "core/table_row.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/label.hpp"
#include "core/names.hpp"
#include "core/table.hpp"
#include "shared/digest.hpp"
#include "shared/text.hpp"

namespace motherbulb {
namespace {

constexpr std::array<std::string_view, column_count> column_words = {
    "when",   "helper",   "event", "clone", "genus", "batch", "pot",  "parent",
    "method", "sections", "grade", "count", "cause", "place", "note", "more"};

// What stands in one of the trade's words: case, and a space or an underscore for the hyphen, do not matter.
std::string word(std::string_view text) {
  std::string plain = folded_name(text);
  for (char& c : plain) {
    if (c == ' ' || c == '_') c = '-';
  }
  return plain;
}

std::string with_or(const std::vector<std::string_view>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) text += i + 1 == words.size() ? " or " : ", ";
    text += words[i];
  }
  return text;
}

const std::vector<Kind>& events() {
  static const std::vector<Kind> all = {Kind::begun,    Kind::potted,   Kind::covered, Kind::uncovered, Kind::looked,
                                        Kind::watered,  Kind::fed,      Kind::treated, Kind::moved,     Kind::lost,
                                        Kind::damage,   Kind::unpotted, Kind::graded,  Kind::dried_off, Kind::started,
                                        Kind::repotted, Kind::flowered, Kind::sold,    Kind::given,     Kind::discarded,
                                        Kind::tested,   Kind::held,     Kind::cleared, Kind::note};
  return all;
}

std::string all_events() {
  std::vector<std::string_view> words;
  for (const Kind kind : events()) words.push_back(to_text(kind));
  return with_or(words);
}

std::string all_methods() {
  std::vector<std::string_view> words;
  for (int i = 1; i <= static_cast<int>(Method::growing_on); ++i) words.push_back(to_text(static_cast<Method>(i)));
  return with_or(words);
}

std::string all_causes() {
  std::vector<std::string_view> words;
  for (int i = 0; i < cause_count; ++i) words.push_back(to_text(static_cast<Cause>(i)));
  return with_or(words);
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// A whole number of at most `most`; none for anything else.
std::optional<std::int64_t> whole(std::string_view text, std::int64_t most) {
  if (text.empty() || text.size() > 18) return std::nullopt;
  std::int64_t value = 0;
  for (const char c : text) {
    if (!is_digit(c)) return std::nullopt;
    value = value * 10 + (c - '0');
  }
  if (value > most) return std::nullopt;
  return value;
}

bool all_digits(std::string_view text) {
  return !text.empty() && std::all_of(text.begin(), text.end(), is_digit);
}

// ------------------------------------------------------------------------------------------------------- grades

// Months as spreadsheets abbreviate them in English, German, French, Dutch, Spanish, Italian.
bool names_a_month(std::string_view folded) {
  static constexpr std::array<std::string_view, 36> months = {
      "jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep",  "oct", "nov", "dec",
      "mär", "mrz", "mai", "okt", "dez", "fév", "fev", "avr", "juin", "jui", "aoû", "aou",
      "déc", "mrt", "mei", "maa", "ene", "abr", "ago", "dic", "gen",  "mag", "giu", "lug"};
  return std::any_of(months.begin(), months.end(), [&](std::string_view month) {
    const std::size_t at = folded.find(month);
    if (at == std::string_view::npos) return false;
    return at == 0 || !(folded[at - 1] >= 'a' && folded[at - 1] <= 'z');
  });
}

// 04-Feb, 2024-04-02, 2/4/2024, 4. Feb, 2.4., or the day's number that a spreadsheet keeps.
bool made_a_date(std::string_view text) {
  const std::string folded = folded_name(text);
  if (names_a_month(folded)) return true;
  int numbers = 0;
  std::size_t longest = 0, run = 0;
  for (const char c : folded) {
    if (is_digit(c)) {
      if (run == 0) ++numbers;
      longest = std::max(longest, ++run);
      continue;
    }
    run = 0;
    if (c != '-' && c != '/' && c != '.' && c != ' ' && c != ':' && c != 't') return false;
  }
  if (numbers >= 3) return true;
  if (numbers == 2 && longest == 4) return true;
  if (numbers == 2 && !folded.empty() && folded.back() == '.') return true;
  const auto serial = whole(folded, 80000);
  return serial && *serial >= 20000;
}

std::optional<Grade> read_grade(std::string_view text) {
  if (const auto grade = grade_from_text(text)) return grade;
  std::string with_points(text);  // 2,5-4 where the comma is the decimal point
  std::replace(with_points.begin(), with_points.end(), ',', '.');
  return grade_from_text(with_points);
}

// --------------------------------------------------------------------------------------------------------- more

using Json = nlohmann::json;

template <class Enum, class Read>
bool chosen(const Json& value, Enum& out, Read read) {
  if (!value.is_string()) return false;
  const auto found = read(word(value.get_ref<const std::string&>()));
  if (found) out = *found;
  return found.has_value();
}

bool text_of(const Json& value, std::string& out) {
  if (!value.is_string()) return false;
  out = value.get<std::string>();
  return true;
}

template <class Number>
bool number_of(const Json& value, std::int64_t most, Number& out) {
  if (!value.is_number_integer()) return false;
  if (value.is_number_unsigned() && value.get<std::uint64_t>() > static_cast<std::uint64_t>(most)) return false;
  const auto number = value.get<std::int64_t>();
  if (number < 0 || number > most) return false;
  out = static_cast<std::decay_t<Number>>(number);
  return true;
}

std::optional<Unit> unit_from_text(std::string_view text) {
  if (text == "pieces") return Unit::pieces;
  if (text == "bulbs") return Unit::bulbs;
  return std::nullopt;
}

constexpr std::int64_t greatest_cents = 100'000'000'000;

bool read_more_item(const std::string& name, const Json& value, More& more) {
  std::int32_t hours = 0;
  std::int64_t cents = 0;
  if (name == "id") return text_of(value, more.id);
  if (name == "device") return text_of(value, more.device);
  if (name == "label") return text_of(value, more.label) && label_from_text(more.label).has_value();
  if (name == "mark") return text_of(value, more.mark);
  if (name == "batch") return text_of(value, more.batch) && more.batch.size() == 32;
  if (name == "blade") return chosen(value, more.blade, blade_from_text);
  if (name == "dip") return chosen(value, more.dip, yes_no_from_text);
  if (name == "wedges") return chosen(value, more.wedges, yes_no_from_text);
  if (name == "rot") return chosen(value, more.rot, yes_no_from_text);
  if (name == "medium") return text_of(value, more.medium);
  if (name == "product") return text_of(value, more.product.emplace());
  if (name == "amount") return text_of(value, more.amount);
  if (std::string* of_treatment = name == "registration" ? &more.registration
                                  : name == "dose"       ? &more.dose
                                  : name == "area"       ? &more.area
                                  : name == "against"    ? &more.against
                                  : name == "licence"    ? &more.licence
                                                         : nullptr) {
    more.of_treatment = true;
    return text_of(value, *of_treatment);
  }
  if (name == "subject") return text_of(value, more.subject);
  if (name == "unit") return chosen(value, more.unit, unit_from_text);
  if (name == "moisture") return chosen(value, more.moisture, moisture_from_text);
  if (name == "result") return chosen(value, more.result, test_result_from_text);
  if (name == "how_bad") return number_of(value, 3, more.how_bad);
  if (name == "off_type") return number_of(value, greatest_count, more.off_type);
  if (name == "re_entry_hours") {
    if (!number_of(value, 100000, hours)) return false;
    more.re_entry_hours = hours;
    return true;
  }
  if (name == "cents") {
    if (!number_of(value, greatest_cents, cents)) return false;
    more.cents = cents;
    return true;
  }
  return false;
}

bool more_name_known(const std::string& name) {
  static constexpr std::array<std::string_view, 25> names = {
      "id",      "device", "label",    "mark",   "batch",   "blade",   "dip",         "wedges",   "rot",
      "medium",  "unit",   "moisture", "result", "subject", "product", "amount",      "off_type", "re_entry_hours",
      "how_bad", "cents",  "dose",     "area",   "against", "licence", "registration"};
  return std::find(names.begin(), names.end(), name) != names.end();
}

// True where an object or a list stands within another: none is known here, and none is worth a deep stack.
bool is_nested(std::string_view text) {
  int opened = 0;
  bool in_string = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (in_string && c == '\\') {
      ++i;
    } else if (c == '"') {
      in_string = !in_string;
    } else if (!in_string && (c == '{' || c == '[') && ++opened > 1) {
      return true;
    }
  }
  return false;
}

void read_more(std::string_view text, std::int64_t line, More& more, Faults& faults) {
  Json object;
  if (!is_nested(text)) object = Json::parse(text.begin(), text.end(), nullptr, false);
  if (!object.is_object()) {
    faults.add(line, Column::more, in_quotes(text) + " is no JSON object; write for instance {\"moisture\":\"damp\"}");
    return;
  }
  for (const auto& item : object.items()) {
    if (!more_name_known(item.key())) {
      faults.add(line, Column::more, in_quotes(item.key()) + " is not known here; leave it out");
    } else if (!read_more_item(item.key(), item.value(), more)) {
      faults.add(line, Column::more,
                 in_quotes(item.value().dump(-1, ' ', false, Json::error_handler_t::replace)) + " cannot stand for " +
                     item.key());
    }
  }
  object.erase("id");
  more.canonical = object.empty() ? "" : object.dump(-1, ' ', false, Json::error_handler_t::replace);
}

// ------------------------------------------------------------------------------------------- bytes to be compared

void put_number(std::uint64_t value, std::string& out) {
  while (value >= 128) {
    out += static_cast<char>(static_cast<unsigned char>(value | 128));
    value >>= 7;
  }
  out += static_cast<char>(static_cast<unsigned char>(value));
}

void put_text(std::string_view text, std::string& out) {
  put_number(text.size(), out);
  out += text;
}

template <class Id>
void put_id(const Id& id, std::string& out) {
  out.append(reinterpret_cast<const char*>(id.bytes.data()), id.bytes.size());
}

bool uses_place(Kind kind) {
  return kind == Kind::potted || kind == Kind::moved || kind == Kind::repotted;
}
bool uses_cause(Kind kind) {
  return kind == Kind::lost || kind == Kind::damage || kind == Kind::discarded || kind == Kind::tested ||
         kind == Kind::held || kind == Kind::cleared;
}
bool count_needed(Kind kind) {
  return has_lines(kind) && kind != Kind::repotted;
}
bool uses_count(Kind kind) {
  return has_lines(kind) || kind == Kind::looked || kind == Kind::flowered;
}
bool batch_needed(Kind kind) {
  return kind != Kind::note && kind != Kind::watered && kind != Kind::fed && kind != Kind::treated;
}

Line line_of(const TableRow& row) {
  Line line;
  line.grade = row.grade;
  line.count = row.count.value_or(0);
  line.cause = row.cause.value_or(Cause::unknown);
  line.detail = row.detail;
  line.note = row.note;
  return line;
}

std::string joined(const std::string& a, const std::string& b) {
  if (a.empty()) return b;
  return b.empty() ? a : a + ": " + b;
}

}  // namespace

std::string_view to_text(Column column) {
  return column_words[static_cast<std::size_t>(column)];
}

std::string in_quotes(std::string_view text) {
  constexpr std::size_t longest = 60;
  std::string shown = "\"";
  std::size_t taken = 0;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if (taken >= longest && (byte & 0xc0) != 0x80) {
      shown += "…";
      break;
    }
    ++taken;
    if (c == '\n' || c == '\r' || c == '\t') {
      shown += ' ';
    } else if (byte < 32 || byte == 127) {
      shown += '?';
    } else {
      shown += c;
    }
  }
  return shown + "\"";
}

// ------------------------------------------------------------------------------------------------------- faults

void Faults::add(std::int64_t line, const std::string& what) {
  if (++count_ <= static_cast<std::int64_t>(most_faults_named)) {
    named_.push_back(table_ + ", line " + std::to_string(line) + ": " + what);
  }
}

void Faults::add(std::int64_t line, Column column, const std::string& what) {
  if (++count_ <= static_cast<std::int64_t>(most_faults_named)) {
    named_.push_back(table_ + ", line " + std::to_string(line) + ", column " + std::string(to_text(column)) + ": " +
                     what);
  }
}

void Faults::not_kept(std::int64_t line, Column column, std::string_view event) {
  Lines& lines = not_kept_[{std::string(to_text(column)), std::string(event)}];
  if (lines.first.size() < 3) {
    lines.first.push_back(line);
  } else {
    ++lines.more;
  }
}

void Faults::remark(std::int64_t line, const std::string& what) {
  if (remarks_.size() < most_faults_named) {
    remarks_.push_back(table_ + ", line " + std::to_string(line) + ": " + what);
  } else {
    ++further_remarks_;
  }
}

Error Faults::error() const {
  Error error{ErrorKind::refused, named_.empty() ? "" : named_.front(), {}};
  for (std::size_t i = 1; i < named_.size(); ++i) error.further.push_back(named_[i]);
  const std::int64_t unnamed = count_ - static_cast<std::int64_t>(named_.size());
  if (unnamed > 0) {
    error.further.push_back(table_ + ": and " + std::to_string(unnamed) + (unnamed == 1 ? " fault" : " faults") +
                            " more, not named here");
  }
  return error;
}

std::vector<std::string> Faults::remarks() const {
  std::vector<std::string> all = remarks_;
  if (further_remarks_ > 0) all.push_back(table_ + ": and " + std::to_string(further_remarks_) + " remarks more");
  for (const auto& [what, lines] : not_kept_) {
    std::string text = table_ + ", line";
    if (lines.first.size() > 1 || lines.more > 0) text += "s";
    for (std::size_t i = 0; i < lines.first.size(); ++i) {
      const bool last = i + 1 == lines.first.size() && lines.more == 0;
      text += (i == 0 ? " " : last ? " and " : ", ") + std::to_string(lines.first[i]);
    }
    if (lines.more > 0) text += " and " + std::to_string(lines.more) + " more";
    all.push_back(text + ": " + what.first + " says nothing with " + what.second + " and was not kept");
  }
  return all;
}

// ------------------------------------------------------------------------------------------------------- header

std::optional<Header> read_header(const CellRow& row, Faults& faults) {
  if (!row.fault.empty()) {
    faults.add(row.line, row.fault);
    return std::nullopt;
  }
  Header header;
  header.cells = row.cells.size();
  bool sound = true;
  for (std::size_t i = 0; i < row.cells.size(); ++i) {
    const std::string name = folded_name(row.cells[i]);
    const auto found = std::find(column_words.begin(), column_words.end(), name);
    if (found == column_words.end()) {
      faults.add(row.line, name.empty()
                               ? "column " + std::to_string(i + 1) + " has no name; name it or take it out"
                               : in_quotes(row.cells[i]) +
                                     " is no column of the table; the columns are when, helper, event, clone, "
                                     "genus, batch, pot, parent, method, sections, grade, count, cause, place, "
                                     "note and more");
      sound = false;
      continue;
    }
    auto& at = header.at[static_cast<std::size_t>(found - column_words.begin())];
    if (at) {
      faults.add(row.line, "the column " + name + " stands twice; take one out");
      sound = false;
    }
    at = i;
  }
  for (const Column column : {Column::when, Column::event}) {
    if (header.at[static_cast<std::size_t>(column)]) continue;
    if (sound) faults.add(row.line, "the column " + std::string(to_text(column)) + " is missing; every row needs it");
    return std::nullopt;
  }
  return header;
}

// --------------------------------------------------------------------------------------------------------- rows

bool in_tables(Kind kind) {
  return std::find(events().begin(), events().end(), kind) != events().end();
}

bool has_lines(Kind kind) {
  switch (kind) {
    case Kind::begun:
    case Kind::potted:
    case Kind::lost:
    case Kind::unpotted:
    case Kind::graded:
    case Kind::repotted:
    case Kind::sold:
    case Kind::given:
    case Kind::discarded:
      return true;
    default:
      return false;
  }
}

std::string& RowReader::cell(CellRow& cells, Column column) {
  const auto& at = header_.at[static_cast<std::size_t>(column)];
  if (at) return cells.cells[*at];
  none_.clear();
  return none_;
}

bool RowReader::read_when(CellRow& cells, TableRow& row, Faults& faults) {
  const std::string_view text = trimmed(cell(cells, Column::when));
  if (!last_when_.empty() && text == last_when_) {
    row.when = last_read_;
    row.when_text = last_read_text_;
    return true;
  }
  if (text.empty()) {
    faults.add(row.line, Column::when, "the day is missing; write it as 2026-04-02");
    return false;
  }
  auto when = when_from_text(text, 0);
  if (!when) {
    const bool no_offset = text.size() > 10 && when_from_text(std::string(text) + "Z", 0).has_value();
    if (no_offset) {
      faults.add(row.line, Column::when,
                 in_quotes(text) + " does not say its offset from UTC; add it, as in " + std::string(text) + "+02:00");
    } else if (text.size() == 10 && text[4] == '-' && text[7] == '-' && is_digit(text[0]) && is_digit(text[9])) {
      faults.add(row.line, Column::when, in_quotes(text) + " is no day of the calendar; correct the day or the month");
    } else {
      faults.add(row.line, Column::when,
                 in_quotes(text) + " is no date; write 2026-04-02, or with the hour 2026-04-02T17:30+02:00");
    }
    return false;
  }
  if (when->bare_day) {
    // The zone's offset at that day's noon places a bare day among moments.
    const Day day = local_day(*when);
    const std::int64_t noon = day.days * std::int64_t{86'400'000} + 43'200'000;
    when = bare_day(day, host_.offset_minutes(noon));
  }
  row.when = *when;
  // Most are written as to_text would write them.
  const bool as_we_write = text.size() == 10 || (text.size() == 25 && text[10] == 'T' && text[22] == ':' &&
                                                 (text[19] == '+' || text[19] == '-') && text.substr(20) != "00:00");
  row.when_text = as_we_write ? std::string(text) : to_text(*when);
  last_when_ = std::string(text);
  last_read_ = row.when;
  last_read_text_ = row.when_text;
  return true;
}

std::uint64_t check_of(const std::array<std::string_view, column_count>& cells, std::string_view more) {
  std::string bytes = "motherbulb table check 1";
  for (std::size_t i = 0; i + 1 < column_count; ++i) put_text(cells[i], bytes);
  put_text(more, bytes);
  return digest_64(bytes);
}

bool RowReader::read(CellRow& cells, TableRow& row, bool& blank, Faults& faults) {
  row = TableRow{};
  row.line = cells.line;
  blank = false;
  if (!cells.fault.empty()) {
    faults.add(row.line, cells.fault);
    return false;
  }
  blank = std::all_of(cells.cells.begin(), cells.cells.end(),
                      [](const std::string& text) { return trimmed(text).empty(); });
  if (blank) return false;
  if (cells.cells.size() != header_.cells) {
    faults.add(row.line, "the row has " + std::to_string(cells.cells.size()) +
                             (cells.cells.size() == 1 ? " cell" : " cells") + " and the header " +
                             std::to_string(header_.cells) +
                             "; put text that holds a separator or a line break in quotation marks");
    return false;
  }
  const std::int64_t faults_before = faults.count();
  for (std::size_t i = 0; i < column_count; ++i) {
    const auto column = static_cast<Column>(i);
    if (!is_utf8(cell(cells, column))) {
      faults.add(row.line, column, "the text is not UTF-8; save the table as CSV in UTF-8");
    }
  }
  if (faults.count() != faults_before) return false;
  for (const Column column : {Column::helper, Column::clone, Column::genus, Column::batch, Column::parent,
                              Column::cause, Column::place, Column::note, Column::more}) {
    std::string& text = cell(cells, column);
    if (!text.empty() && text.front() == '\'') text = unguarded(text);
  }

  const std::string_view event = trimmed(cell(cells, Column::event));
  if (event != last_event_ || event.empty()) {
    last_event_ = std::string(event);
    last_kind_ = kind_from_text(word(event));
  }
  const std::optional<Kind> kind = last_kind_;
  if (event.empty()) {
    faults.add(row.line, Column::event, "the event is missing; it is one of " + all_events());
  } else if (!kind || !in_tables(*kind)) {
    faults.add(row.line, Column::event, in_quotes(event) + " is no event of the table; it is one of " + all_events());
  }
  read_when(cells, row, faults);
  row.helper = std::string(trimmed(cell(cells, Column::helper)));
  row.clone = std::string(trimmed(cell(cells, Column::clone)));
  row.genus = std::string(trimmed(cell(cells, Column::genus)));
  row.batch = std::string(trimmed(cell(cells, Column::batch)));
  row.parent = std::string(trimmed(cell(cells, Column::parent)));
  row.place = cell(cells, Column::place);
  row.note = cell(cells, Column::note);

  const std::string_view more = trimmed(cell(cells, Column::more));
  if (!more.empty()) {
    read_more(more, row.line, row.more, faults);
    if (!row.more.id.empty()) {
      std::array<std::string_view, column_count> as_they_stand;
      for (std::size_t i = 0; i < column_count; ++i) as_they_stand[i] = cell(cells, static_cast<Column>(i));
      row.check = check_of(as_they_stand, row.more.canonical);
    }
  }

  const std::string_view pot = trimmed(cell(cells, Column::pot));
  if (!pot.empty()) {
    if (const auto number = whole(pot, greatest_count)) {
      row.pot = static_cast<std::int32_t>(*number);
    } else {
      faults.add(row.line, Column::pot,
                 in_quotes(pot) +
                     " is no number of a pot; write the number behind the slash of its label, 1 or more, or "
                     "leave it blank for the whole batch");
    }
  }
  const std::string_view method = trimmed(cell(cells, Column::method));
  if (!method.empty()) {
    row.method = method_from_text(word(method));
    if (!row.method) {
      faults.add(row.line, Column::method, in_quotes(method) + " is no method; it is one of " + all_methods());
    }
  }
  const std::string_view sections = trimmed(cell(cells, Column::sections));
  if (!sections.empty()) {
    if (const auto number = whole(sections, 100000)) {
      row.sections = static_cast<std::int32_t>(*number);
    } else {
      faults.add(row.line, Column::sections,
                 in_quotes(sections) + " is no number of sections; write how many were cut from each mother, as 12");
    }
  }
  const std::string_view grade = trimmed(cell(cells, Column::grade));
  if (!grade.empty()) {
    const std::string said = folded_name(grade);
    if (said == "alive" || said == "dead") {
      row.sort = said == "alive" ? TableRow::Sort::alive : TableRow::Sort::dead;
      if (kind && *kind != Kind::unpotted) {
        faults.add(row.line, Column::grade,
                   in_quotes(grade) + " is said of pieces at unpotting only; write a size, as 2-4, or leave it blank");
      }
    } else {
      row.grade = read_grade(grade);
      if (!row.grade && made_a_date(grade)) {
        faults.add(row.line, Column::grade,
                   in_quotes(grade) +
                       " is a size that a spreadsheet has made a date of; make the column text there and "
                       "write the size again, as 2-4");
      } else if (!row.grade) {
        faults.add(row.line, Column::grade,
                   in_quotes(grade) + " is no size; write the girth in cm, the smaller first, as 2-4, 16+ or -2");
      }
    }
  }
  const std::string_view count = trimmed(cell(cells, Column::count));
  if (!count.empty()) {
    row.count = whole(count, greatest_count);
    if (!row.count) {
      faults.add(row.line, Column::count,
                 in_quotes(count) + (all_digits(count) ? " is more than a table takes in one row; 1000000 is the most"
                                                       : " is no count; write a whole number from 0, as 12"));
    }
  }
  const std::string_view cause = trimmed(cell(cells, Column::cause));
  if (!cause.empty() && kind && *kind != Kind::tested && *kind != Kind::held && *kind != Kind::cleared) {
    const std::size_t colon = cause.find(':');
    row.cause = cause_from_text(word(cause.substr(0, colon)));
    if (colon != std::string_view::npos) row.detail = std::string(trimmed(cause.substr(colon + 1)));
    if (!row.cause) {
      faults.add(row.line, Column::cause,
                 in_quotes(cause) + " is no cause; it is one of " + all_causes() +
                     ", the particular one behind a colon, as pest:thrips");
    }
  } else {
    row.detail = std::string(cause);
  }
  if (!kind || !in_tables(*kind)) return false;
  row.kind = *kind;

  // What the event needs.
  const std::string name(to_text(row.kind));
  const bool begun = row.kind == Kind::begun;
  if (row.batch.empty() && batch_needed(row.kind)) {
    faults.add(row.line, Column::batch, "the batch is missing; write its label, or the mark that names it");
  }
  if (row.pot > 0 && row.batch.empty() && !batch_needed(row.kind)) {
    faults.add(row.line, Column::batch, "a pot is named but not its batch");
  }
  if (row.pot == 0 && (row.kind == Kind::potted || row.kind == Kind::unpotted)) {
    faults.add(row.line, Column::pot, "the pot is missing; write its number, 1 or more");
  }
  if (row.pot == 0 && row.kind == Kind::repotted && (row.count || row.grade)) {
    faults.add(row.line, Column::pot, "the pot is missing; bulbs are counted pot by pot");
  }
  if (!row.count && count.empty() && (count_needed(row.kind) || (row.kind == Kind::repotted && row.grade))) {
    faults.add(row.line, Column::count, "the count is missing; write how many, as 12");
  }
  if (row.kind == Kind::moved && trimmed(row.place).empty()) {
    faults.add(row.line, Column::place, "the place is missing; write where it stands now");
  }
  if (row.kind == Kind::damage && row.pot == 0) {
    faults.remark(row.line, "the damage names no pot, so it stands in the batch's story and is shown with no pot");
  }
  if (row.kind == Kind::damage && cause.empty()) {
    faults.add(row.line, Column::cause, "the cause is missing; it is one of " + all_causes());
  }
  if (row.kind == Kind::note && trimmed(row.note).empty()) {
    faults.add(row.line, Column::note, "the note is missing; write it, or take the row out");
  }
  if (begun) {
    if (row.clone.empty()) faults.add(row.line, Column::clone, "the clone is missing; write its name");
    if (!row.method && method.empty()) {
      faults.add(row.line, Column::method, "the method is missing; it is one of " + all_methods());
    }
    if (row.method && cuts(*row.method)) {
      if (!row.sections && sections.empty()) {
        if (*row.method == Method::halving) row.sections = 2;
        if (*row.method == Method::quartering) row.sections = 4;
      }
      const bool needed = !leaves_mother_whole(*row.method);
      if (needed && sections.empty() && !row.sections) {
        faults.add(row.line, Column::sections,
                   "the number of sections is missing; write how many were cut from each mother, as 12");
      } else if (needed && row.sections && *row.sections == 0) {
        faults.add(row.line, Column::sections,
                   "a mother that is cut gives one section at least; write how many each gave, as 12");
      }
    } else if (row.method && row.sections && *row.sections > 0) {
      faults.not_kept(row.line, Column::sections, to_text(*row.method));
      row.sections.reset();
    }
  }

  // What the event has no use for.
  if (!begun) {
    if (!row.parent.empty()) faults.not_kept(row.line, Column::parent, name);
    if (row.method) faults.not_kept(row.line, Column::method, name);
    if (row.sections) faults.not_kept(row.line, Column::sections, name);
    row.parent.clear();
    row.method.reset();
    row.sections.reset();
  }
  if (!has_lines(row.kind) && row.grade) {
    faults.not_kept(row.line, Column::grade, name);
    row.grade.reset();
  }
  if (!uses_count(row.kind) && row.count) {
    faults.not_kept(row.line, Column::count, name);
    row.count.reset();
  }
  const bool cause_used = uses_cause(row.kind) || row.sort == TableRow::Sort::dead;
  if (!cause_used && !cause.empty()) {
    faults.not_kept(row.line, Column::cause, name);
    row.cause.reset();
    row.detail.clear();
  }
  if (!uses_place(row.kind) && !trimmed(row.place).empty()) {
    faults.not_kept(row.line, Column::place, name);
    row.place.clear();
  }
  return faults.count() == faults_before;
}

// -------------------------------------------------------------------------------------- what a row is known by

bool counts(const TableRow& row) {
  return has_lines(row.kind) && (row.kind != Kind::repotted || row.count);
}

std::string content_of(const TableRow& row) {
  std::string out;
  out.reserve(160);
  put_text(row.when_text, out);
  put_text(row.helper, out);
  put_text(to_text(row.kind), out);
  // The batch says whose it is; a table that names the clone in every row means the same.
  put_text(row.kind == Kind::begun ? folded_name(row.clone) : std::string(), out);
  put_text(row.kind == Kind::begun ? folded_name(row.genus) : std::string(), out);
  put_id(row.batch_id, out);
  put_number(static_cast<std::uint64_t>(row.pot), out);
  put_id(row.parent_id.value_or(BatchId{}), out);
  put_number(static_cast<std::uint64_t>(row.parent_pot), out);
  put_text(row.method ? to_text(*row.method) : std::string_view(), out);
  put_number(static_cast<std::uint64_t>(row.sections.value_or(0)), out);
  if (row.sort != TableRow::Sort::bulbs) {
    put_text(row.sort == TableRow::Sort::alive ? "alive" : "dead", out);
  } else {
    put_text(row.grade ? to_text(*row.grade) : std::string(), out);
  }
  put_text(row.count ? std::to_string(*row.count) : std::string(), out);
  put_text(row.cause ? to_text(*row.cause) : std::string_view(), out);
  put_text(row.detail, out);
  put_text(row.place, out);
  put_text(row.note, out);
  put_text(row.more.canonical, out);
  return out;
}

FactKey fact_of_begun(const TableRow& row) {
  std::string bytes = "motherbulb table fact 1";
  put_text(row.when_text, bytes);
  put_text(row.helper, bytes);
  put_text(to_text(row.kind), bytes);
  put_text(folded_name(row.batch), bytes);
  put_text(folded_name(row.clone), bytes);
  put_text(folded_name(row.genus), bytes);
  put_text(row.method ? to_text(*row.method) : std::string_view(), bytes);
  put_number(static_cast<std::uint64_t>(row.pot), bytes);
  return digest_128(bytes);
}

FactKey fact_of_row(const TableRow& row, const std::string& content, std::uint64_t nth) {
  std::string bytes = "motherbulb table fact 1";
  bytes.reserve(256);
  put_text(row.when_text, bytes);
  put_text(row.helper, bytes);
  put_text(to_text(row.kind), bytes);
  put_id(row.batch_id, bytes);
  put_number(static_cast<std::uint64_t>(row.pot), bytes);
  if (!counts(row)) {
    put_text(content, bytes);
    put_number(nth, bytes);
  }
  return digest_128(bytes);
}

std::uint64_t row_mark(const FactKey& fact, const std::string& content, std::uint64_t nth, std::uint64_t round) {
  std::string bytes = "motherbulb table row 1";
  bytes.reserve(256);
  put_id(fact, bytes);
  put_text(content, bytes);
  put_number(nth, bytes);
  put_number(round, bytes);
  return digest_64(bytes);
}

std::uint64_t row_mark(const FactKey& fact, std::uint64_t mark, std::uint64_t round) {
  if (round == 0) return mark;
  std::string bytes = "motherbulb table row again 1";
  put_id(fact, bytes);
  put_number(mark, bytes);
  put_number(round, bytes);
  return digest_64(bytes);
}

// ------------------------------------------------------------------------------------------------------ payloads

Payload payload_of(const TableRow& row) {
  const Line line = line_of(row);
  const More& more = row.more;
  switch (row.kind) {
    case Kind::begun: {
      Begun begun;
      begun.clone = row.clone;
      begun.genus = row.genus;
      begun.parent = row.parent_id;
      begun.parent_pot = row.parent_pot;
      begun.method = row.method.value_or(Method::growing_on);
      begun.mothers = {line};
      begun.mothers.front().note.clear();
      begun.sections = row.sections.value_or(0);
      begun.blade = more.blade;
      begun.dip = more.dip;
      begun.wedges = more.wedges;
      begun.medium = more.medium;
      begun.label = row.label;
      begun.mark = row.mark;
      begun.note = row.note;
      return begun;
    }
    case Kind::potted:
      return Potted{more.unit, {line}, row.place, ""};
    case Kind::covered:
      return Covered{row.note};
    case Kind::uncovered:
      return Uncovered{row.note};
    case Kind::looked:
      return Looked{row.count, more.moisture, more.rot, row.note};
    case Kind::watered:
      return Watered{row.note};
    case Kind::fed:
      return Fed{row.note};
    case Kind::treated: {
      const std::string& product = more.product ? *more.product : row.note;
      const std::string note = more.product ? row.note : "";
      if (!more.of_treatment) return Treated{product, more.amount, more.re_entry_hours, note};
      return Treatment{product,      more.registration, more.amount,         more.dose, more.area,
                       more.against, more.licence,      more.re_entry_hours, note};
    }
    case Kind::moved:
      return Moved{row.place, row.note};
    case Kind::lost:
      return Lost{{line}, ""};
    case Kind::damage:
      return Damage{row.cause.value_or(Cause::unknown), row.detail, more.how_bad, row.note};
    case Kind::unpotted: {
      Unpotted unpotted;
      if (row.sort == TableRow::Sort::alive) {
        unpotted.alive = row.count.value_or(0);
        unpotted.note = row.note;
      } else {
        (row.sort == TableRow::Sort::dead ? unpotted.dead : unpotted.lines) = {line};
      }
      return unpotted;
    }
    case Kind::graded:
      return Graded{{line}, ""};
    case Kind::dried_off:
      return DriedOff{row.note};
    case Kind::started:
      return Started{row.note};
    case Kind::repotted:
      if (!row.count) return Repotted{{}, row.place, row.note};
      return Repotted{{line}, row.place, ""};
    case Kind::flowered:
      return Flowered{row.count.value_or(1), more.off_type, row.note};
    case Kind::sold:
      return Sold{{line}, more.cents, ""};
    case Kind::given:
      return Given{{line}, ""};
    case Kind::discarded:
      return Discarded{{line}, ""};
    case Kind::tested:
      return Tested{more.subject.empty() ? row.detail : more.subject, more.result, row.note};
    case Kind::held:
      return Held{joined(row.detail, row.note)};
    case Kind::cleared:
      return Cleared{joined(row.detail, row.note)};
    default:
      return Note{row.note};
  }
}

bool add_to(Payload& payload, std::vector<std::uint64_t>& marks, const TableRow& row, std::uint64_t mark,
            std::string& why) {
  const Payload further = payload_of(row);
  Lines* lines = lines_of(payload);
  const Lines* more_lines = lines_of(further);
  CHECK_OURS(lines != nullptr && more_lines != nullptr && payload.index() == further.index());
  std::size_t place_of_mark = lines->size();
  if (auto* begun = std::get_if<Begun>(&payload)) {
    const auto& same = std::get<Begun>(further);
    if (same.method != begun->method || same.sections != begun->sections) why = "the method or the sections";
    if (folded_name(same.clone) != folded_name(begun->clone)) why = "the clone";
    if (!(same.parent == begun->parent) || same.parent_pot != begun->parent_pot) why = "the parent";
    if (!why.empty()) return false;
    if (begun->note.empty()) begun->note = same.note;
    lines->push_back(same.mothers.front());
    if (same.note != begun->note) lines->back().note = same.note;
  } else if (auto* unpotted = std::get_if<Unpotted>(&payload)) {
    const auto& same = std::get<Unpotted>(further);
    if (same.alive) {
      CHECK_OURS(!unpotted->alive);
      unpotted->alive = same.alive;
      if (unpotted->note.empty()) unpotted->note = same.note;
      place_of_mark = marks.size();
    } else if (!same.dead.empty()) {
      unpotted->dead.push_back(same.dead.front());
      place_of_mark = unpotted->lines.size() + unpotted->dead.size() - 1;
    } else {
      unpotted->lines.push_back(same.lines.front());
    }
  } else {
    if (auto* potted = std::get_if<Potted>(&payload)) {
      const auto& same = std::get<Potted>(further);
      if (!same.place.empty() && !potted->place.empty() && same.place != potted->place) why = "the place";
      if (same.unit != potted->unit) why = "the unit";
      if (potted->place.empty()) potted->place = same.place;
    }
    if (auto* repotted = std::get_if<Repotted>(&payload)) {
      const auto& same = std::get<Repotted>(further);
      if (!same.place.empty() && !repotted->place.empty() && same.place != repotted->place) why = "the place";
      if (repotted->place.empty()) repotted->place = same.place;
    }
    if (auto* sold = std::get_if<Sold>(&payload)) {
      const auto& same = std::get<Sold>(further);
      if (same.cents) sold->cents = sold->cents.value_or(0) + *same.cents;
    }
    if (!why.empty()) return false;
    lines->insert(lines->end(), more_lines->begin(), more_lines->end());
  }
  marks.insert(marks.begin() + static_cast<std::ptrdiff_t>(place_of_mark), mark);
  return true;
}

}  // namespace motherbulb

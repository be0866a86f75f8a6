// Every fact that stands, as a table that import understands and knows again.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <unordered_map>

#include "core/names.hpp"
#include "core/table.hpp"
#include "core/table_row.hpp"

namespace motherbulb {
namespace {

using Json = nlohmann::json;  // names sorted, as the check of a row wants them
constexpr std::size_t flush_at = 256u << 10;

// A row on its way out: its cells, and what `more` says beside the identity.
struct OutRow {
  std::array<std::string, column_count> cells;
  Json more = Json::object();
  std::string& at(Column column) { return cells[static_cast<std::size_t>(column)]; }
};

void say_if(Json& more, const char* name, std::string_view text) {
  if (!text.empty()) more[name] = std::string(text);
}

std::string cause_cell(const Line& line, bool always) {
  if (line.cause == Cause::unknown && line.detail.empty() && !always) return "";
  std::string text(to_text(line.cause));
  if (!line.detail.empty()) text += ":" + line.detail;
  return text;
}

// The batches as the table calls them: by label; where two bear one label, or none is known, by a text of its own.
class BatchTexts {
public:
  explicit BatchTexts(const Logbook& book) {
    std::map<std::string, int> bearers;
    std::vector<BatchState> all = book.batches();
    std::sort(all.begin(), all.end(), [](const BatchState& a, const BatchState& b) { return a.id < b.id; });
    for (const BatchState& batch : all) {
      const int nth = ++bearers[folded_name(batch.label)];
      Names names;
      names.label = batch.label;
      names.clone = batch.clone;
      names.genus = batch.genus;
      names.begun = batch.begun && !batch.label.empty();
      names.text = nth == 1 ? batch.label : batch.label + " (" + std::to_string(nth) + ")";
      if (!names.begun) names.text = "batch " + hex(batch.id).substr(0, 12);
      names_[batch.id] = std::move(names);
    }
  }
  struct Names {
    std::string text, label, clone, genus;
    bool begun = false;  // false: this book does not know how it began
  };
  const Names& of(const BatchId& id) {
    const auto [at, fresh] = names_.try_emplace(id);
    if (fresh) at->second.text = "batch " + hex(id).substr(0, 12);
    return at->second;
  }

private:
  std::unordered_map<BatchId, Names> names_;
};

class Exporter {
public:
  Exporter(const Logbook& book, ByteSink& sink) : sink_(sink), batches_(book) {
    for (const DeviceRow& device : book.devices()) letters_[device.writer] = device.letter;
    std::vector<std::string> head;
    for (std::size_t i = 0; i < column_count; ++i) head.emplace_back(to_text(static_cast<Column>(i)));
    append_row(head, buffer_);
  }

  void take(const StoryLine& line) {
    if (failed_) return;
    const auto kind = static_cast<Kind>(line.entry.kind);
    if ((!in_tables(kind) && kind != Kind::treatment) || std::holds_alternative<FromNewerVersion>(line.fact)) {
      ++report_.left_out;
      return;
    }
    if (!facts_.insert(line.key).second) return;  // another entry of a fact that has spoken
    std::vector<OutRow> rows = rows_of(line, kind);
    for (std::size_t i = 0; i < rows.size(); ++i) {
      const std::uint64_t mark = rows.size() <= line.rows.size() ? line.rows[i] : i + 1;
      put(line, rows[i], mark);
    }
  }

  Result<ExportReport> finish() {
    flush();
    if (failed_) return *failed_;
    return report_;
  }

private:
  OutRow base(const StoryLine& line, Kind kind) {
    OutRow row;
    row.at(Column::when) = to_text(line.entry.when);
    row.at(Column::helper) = line.entry.helper;
    // A table tells a treatment from a treated by what `more` says with it.
    row.at(Column::event) = std::string(to_text(kind == Kind::treatment ? Kind::treated : kind));
    if (line.entry.pot != 0) row.at(Column::pot) = std::to_string(line.entry.pot);
    const BatchId story = story_of(line.entry);
    if (!story.is_zero()) {
      const auto& names = batches_.of(story);
      row.at(Column::batch) = names.text;
      if (!names.begun) row.more["batch"] = hex(story);
    }
    std::string letter;
    if (line.entry.table) {
      letter = line.entry.table->device;
    } else if (const auto device = letters_.find(line.entry.id.writer); device != letters_.end()) {
      letter = device->second;
    }
    say_if(row.more, "device", letter);
    return row;
  }

  // One row for each line of a count; one without a size and a count of 0 where there are none.
  std::vector<OutRow> of_lines(const OutRow& base, const Lines& lines, const std::string& note, bool causes) {
    std::vector<OutRow> rows;
    for (std::size_t i = 0; i < std::max<std::size_t>(lines.size(), 1); ++i) {
      const Line line = i < lines.size() ? lines[i] : Line{};
      OutRow row = base;
      if (line.grade) row.at(Column::grade) = to_text(*line.grade);
      row.at(Column::count) = std::to_string(line.count);
      row.at(Column::cause) = cause_cell(line, causes);
      row.at(Column::note) = line.note;
      if (i == 0 && !note.empty()) {
        row.at(Column::note) = line.note.empty() || line.note == note ? note : note + "; " + line.note;
      }
      rows.push_back(std::move(row));
    }
    return rows;
  }

  std::vector<OutRow> rows_of(const StoryLine& line, Kind kind) {
    OutRow row = base(line, kind);
    const auto with_note = [&row](const std::string& note) {
      row.at(Column::note) = note;
      return std::vector<OutRow>{row};
    };
    switch (kind) {
      case Kind::begun:
        return begun(line, std::get<Begun>(line.fact), row);
      case Kind::potted: {
        const auto& fact = std::get<Potted>(line.fact);
        row.at(Column::place) = fact.place;
        if (fact.unit != Unit::unsaid) row.more["unit"] = fact.unit == Unit::pieces ? "pieces" : "bulbs";
        return of_lines(row, fact.lines, fact.note, false);
      }
      case Kind::covered:
        return with_note(std::get<Covered>(line.fact).note);
      case Kind::uncovered:
        return with_note(std::get<Uncovered>(line.fact).note);
      case Kind::looked: {
        const auto& fact = std::get<Looked>(line.fact);
        if (fact.shoots) row.at(Column::count) = std::to_string(*fact.shoots);
        say_if(row.more, "moisture", to_text(fact.moisture));
        say_if(row.more, "rot", to_text(fact.rot));
        return with_note(fact.note);
      }
      case Kind::watered:
        return with_note(std::get<Watered>(line.fact).note);
      case Kind::fed:
        return with_note(std::get<Fed>(line.fact).note);
      case Kind::treated: {
        const auto& fact = std::get<Treated>(line.fact);
        return treated(row, fact.product, fact.amount, fact.re_entry_hours, fact.note);
      }
      case Kind::treatment: {
        const auto& fact = std::get<Treatment>(line.fact);
        row.more["registration"] = fact.registration;  // also where it is empty: it says which of the two kinds it is
        say_if(row.more, "dose", fact.dose);
        say_if(row.more, "area", fact.area);
        say_if(row.more, "against", fact.against);
        say_if(row.more, "licence", fact.licence);
        return treated(row, fact.product, fact.amount, fact.re_entry_hours, fact.note);
      }
      case Kind::moved: {
        const auto& fact = std::get<Moved>(line.fact);
        row.at(Column::place) = fact.place;
        return with_note(fact.note);
      }
      case Kind::lost: {
        const auto& fact = std::get<Lost>(line.fact);
        return of_lines(row, fact.lines, fact.note, true);
      }
      case Kind::damage: {
        const auto& fact = std::get<Damage>(line.fact);
        Line cause;
        cause.cause = fact.cause;
        cause.detail = fact.detail;
        row.at(Column::cause) = cause_cell(cause, true);
        if (fact.how_bad != 0) row.more["how_bad"] = fact.how_bad;
        return with_note(fact.note);
      }
      case Kind::unpotted:
        return unpotted(std::get<Unpotted>(line.fact), row);
      case Kind::graded: {
        const auto& fact = std::get<Graded>(line.fact);
        return of_lines(row, fact.lines, fact.note, false);
      }
      case Kind::dried_off:
        return with_note(std::get<DriedOff>(line.fact).note);
      case Kind::started:
        return with_note(std::get<Started>(line.fact).note);
      case Kind::repotted: {
        const auto& fact = std::get<Repotted>(line.fact);
        row.at(Column::place) = fact.place;
        return fact.lines.empty() ? with_note(fact.note) : of_lines(row, fact.lines, fact.note, false);
      }
      case Kind::flowered: {
        const auto& fact = std::get<Flowered>(line.fact);
        row.at(Column::count) = std::to_string(fact.true_to_type);
        if (fact.off_type != 0) row.more["off_type"] = fact.off_type;
        return with_note(fact.note);
      }
      case Kind::sold: {
        const auto& fact = std::get<Sold>(line.fact);
        auto rows = of_lines(row, fact.lines, fact.note, false);
        if (fact.cents) rows.front().more["cents"] = *fact.cents;
        return rows;
      }
      case Kind::given: {
        const auto& fact = std::get<Given>(line.fact);
        return of_lines(row, fact.lines, fact.note, false);
      }
      case Kind::discarded: {
        const auto& fact = std::get<Discarded>(line.fact);
        return of_lines(row, fact.lines, fact.note, false);
      }
      case Kind::tested: {
        const auto& fact = std::get<Tested>(line.fact);
        say_if(row.more, "subject", fact.subject);
        say_if(row.more, "result", to_text(fact.result));
        return with_note(fact.note);
      }
      case Kind::held:
        return with_note(std::get<Held>(line.fact).reason);
      case Kind::cleared:
        return with_note(std::get<Cleared>(line.fact).reason);
      default:
        return with_note(std::get<Note>(line.fact).text);
    }
  }

  std::vector<OutRow> treated(OutRow& row, const std::string& product, const std::string& amount,
                              const std::optional<std::int32_t>& re_entry_hours, const std::string& note) {
    // Where none is named the note must not be taken for it.
    if (!product.empty() || !note.empty()) row.more["product"] = product;
    say_if(row.more, "amount", amount);
    if (re_entry_hours) row.more["re_entry_hours"] = *re_entry_hours;
    row.at(Column::note) = note;
    return {row};
  }

  std::vector<OutRow> begun(const StoryLine& line, const Begun& fact, OutRow& row) {
    const auto& names = batches_.of(batch_of(line.key));
    row.at(Column::clone) = names.clone.empty() ? fact.clone : names.clone;  // as it is called by now
    row.at(Column::genus) = names.genus.empty() ? fact.genus : names.genus;
    if (fact.parent) {
      row.at(Column::parent) = batches_.of(*fact.parent).text;
      if (fact.parent_pot != 0) row.at(Column::pot) = std::to_string(fact.parent_pot);
    }
    row.at(Column::method) = std::string(to_text(fact.method));
    if (cuts(fact.method) && fact.sections > 0) row.at(Column::sections) = std::to_string(fact.sections);
    if (names.text != names.label) say_if(row.more, "label", names.label);
    say_if(row.more, "mark", fact.mark);
    say_if(row.more, "blade", to_text(fact.blade));
    say_if(row.more, "dip", to_text(fact.dip));
    say_if(row.more, "wedges", to_text(fact.wedges));
    say_if(row.more, "medium", fact.medium);
    return of_lines(row, fact.mothers, fact.note, false);
  }

  std::vector<OutRow> unpotted(const Unpotted& fact, const OutRow& row) {
    std::vector<OutRow> rows;
    if (!fact.lines.empty() || (fact.dead.empty() && !fact.alive)) rows = of_lines(row, fact.lines, fact.note, false);
    for (const Line& line : fact.dead) {
      OutRow dead = row;
      dead.at(Column::grade) = "dead";
      dead.at(Column::count) = std::to_string(line.count);
      dead.at(Column::cause) = cause_cell(line, false);
      dead.at(Column::note) = line.note;
      rows.push_back(std::move(dead));
    }
    if (fact.alive) {
      OutRow alive = row;
      alive.at(Column::grade) = "alive";
      alive.at(Column::count) = std::to_string(*fact.alive);
      if (fact.lines.empty()) alive.at(Column::note) = fact.note;
      rows.push_back(std::move(alive));
    }
    return rows;
  }

  void put(const StoryLine& line, OutRow& row, std::uint64_t mark) {
    const std::string canonical = row.more.empty() ? "" : row.more.dump(-1, ' ', false, Json::error_handler_t::replace);
    std::array<std::string_view, column_count> as_they_stand;
    for (std::size_t i = 0; i < column_count; ++i) as_they_stand[i] = row.cells[i];
    const auto big_endian = [](std::uint64_t value) {
      std::uint8_t bytes[8];
      for (int i = 0; i < 8; ++i) bytes[i] = static_cast<std::uint8_t>(value >> (56 - 8 * i));
      return hex(bytes, 8);
    };
    row.more["id"] = hex(line.key) + "." + big_endian(mark) + "." + big_endian(check_of(as_they_stand, canonical));
    row.at(Column::more) = row.more.dump(-1, ' ', false, Json::error_handler_t::replace);
    for (const Column column : {Column::helper, Column::clone, Column::genus, Column::batch, Column::parent,
                                Column::cause, Column::place, Column::note}) {
      row.at(column) = guarded(row.at(column));
    }
    append_row({row.cells.begin(), row.cells.end()}, buffer_);
    ++report_.rows;
    if (buffer_.size() >= flush_at) flush();
  }

  void flush() {
    if (failed_) return;
    auto outcome = sink_.write(reinterpret_cast<const std::uint8_t*>(buffer_.data()), buffer_.size());
    if (!outcome) failed_ = outcome.error();
    buffer_.clear();
  }

  ByteSink& sink_;
  BatchTexts batches_;
  std::unordered_map<WriterId, std::string> letters_;
  std::set<FactKey> facts_;
  std::string buffer_;
  ExportReport report_;
  std::optional<Error> failed_;
};

}  // namespace

Result<ExportReport> export_table(const Logbook& book, ByteSink& sink, Progress* progress) {
  Exporter exporter(book, sink);
  const double all = static_cast<double>(std::max<std::int64_t>(book.entry_count(), 1));
  std::int64_t facts = 0;
  bool stopped = false;
  auto outcome = book.each_standing_fact([&](const StoryLine& line) {
    if (progress != nullptr && !stopped && ++facts % 4096 == 0)
      stopped = !progress->go_on(static_cast<double>(facts) / all);
    if (!stopped) exporter.take(line);
  });
  if (!outcome) return outcome.error();
  if (stopped) return Error{ErrorKind::cancelled, "stopped; no table was written", {}};
  return exporter.finish();
}

}  // namespace motherbulb

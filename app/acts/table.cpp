// What a table asks for that was dropped on the window or chosen: its facts come into the book all together, or none
// and what is wrong is said; where all of them were new, they can be taken back as they came.

#include "core/table.hpp"
#include "app/app.hpp"
#include "app/words.hpp"

namespace motherbulb {
namespace {

// As many as a strip on a phone has room for, and how many more there are. The strip's title names the file.
std::string first_of(const std::vector<std::string>& lines, const FoundParcel& file) {
  constexpr std::size_t room = 260;
  std::string text;
  std::size_t shown = 0;
  for (const std::string& one : lines) {
    std::string line = with_short_name(one, file);
    const std::string named = file.name + ", ";
    if (line.rfind(named, 0) == 0) line.erase(0, named.size());
    if (shown > 0 && text.size() + line.size() > room) break;
    text += (shown == 0 ? "" : ". ") + line;
    ++shown;
  }
  if (shown < lines.size()) text += ". " + say(words().table_more, lines.size() - shown);
  return text;
}

struct Told {
  std::string words;
  bool offered = true;  // that it goes the other way again
  std::vector<std::string> remarks;
};

Result<Told> taken_in(Logbook& book, Host& host, ByteSource& table, Progress& progress) {
  const auto report = import_table(book, host, table, &progress);
  if (!report) return report.error();
  // Taken back is a table whole, whoever brought its rows: so only where all of them came just now.
  return Told{say(words().table_taken, counted(report->new_rows, "row", "rows"), grouped(report->known)),
              report->known == 0 && report->new_rows > 0, report->remarks};
}

Result<Told> taken_back(Logbook& book, Host& host, ByteSource& table, const std::string& helper, Progress& progress) {
  const auto report = withdraw_table(book, host, table, helper, &progress);
  if (!report) return report.error();
  return Told{say(words().table_taken_back, counted(report->withdrawn, "row", "rows")), true, {}};
}

}  // namespace

void App::take_table() {
  auto& tables = ui_.merge.tables;
  if (tables.empty()) return;
  const FoundParcel file = tables.front().file;
  const bool back = tables.front().taken;
  if (back && ui_.helper.empty()) return go(Go{Screen::who, {}});
  const Words& w = words();
  const auto source = surroundings_.open_file(file.path);
  if (!source) return fail(say(w.cannot_read, file.name), source.error());
  const Result<Told> done = [&] {
    Busy busy(*this, say(back ? w.table_taking_back : w.table_taking, file.name));
    return back ? taken_back(book_, host_, **source, ui_.helper, busy) : taken_in(book_, host_, **source, busy);
  }();
  last_change_ms_ = frame_ms_;
  rest_due_ = true;
  const std::string not_done = say(back ? w.table_not_taken_back : w.not_taken_in, file.name);
  if (!done) {
    std::vector<std::string> faults = done.error().further;
    faults.insert(faults.begin(), done.error().what);
    return fail(not_done, Error{done.error().kind, first_of(faults, file), {}});
  }
  when_safe([this, file, back, not_done, told = *done](const std::optional<Error>& hindered) {
    if (hindered) return fail(not_done, *hindered);
    ui_.trouble.reset();
    if (!told.remarks.empty()) ui_.trouble = Mishap{std::string(words().table_remarks), first_of(told.remarks, file)};
    auto& waiting = ui_.merge.tables;
    if (!waiting.empty()) waiting.erase(waiting.begin());
    if (told.offered) waiting.push_back(DroppedTable{file, !back, told.words});
    ui_.last_kept = now();
    ui_.kept = Kept{told.words, {}, ui_.helper};
    look_for_parcels();
  });
}

}  // namespace motherbulb

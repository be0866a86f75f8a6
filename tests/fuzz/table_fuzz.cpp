// Foreign bytes as a table: its cells, and its import into an empty book. Beside not falling over: cells written again
// read the same; a table imported twice brings nothing new; what a book exports, it knows; the book stays sound.
#include "core/table.hpp"

#include <string>

#include "core/logbook.hpp"
#include "core/table_cells.hpp"
#include "tests/fake_host.hpp"
#include "tests/fuzz/seeds.hpp"

using namespace motherbulb;

namespace {

enum Sort : std::uint8_t { cells, rows, sorts };

std::vector<std::vector<std::string>> sound_rows(const std::vector<std::uint8_t>& bytes) {
  MemorySource source(bytes, "a.csv");
  CellReader reader(source);
  std::vector<std::vector<std::string>> all;
  CellRow row;
  for (;;) {
    const Result<bool> more = reader.next(row);
    CHECK_OURS(more.ok());
    if (!*more) return all;
    if (row.fault.empty()) all.push_back(row.cells);
  }
}

void read_cells(const std::vector<std::uint8_t>& bytes) {
  const auto rows = sound_rows(bytes);
  // A first row of ours tells the separator, as a header does.
  std::string written = "when,helper\r\n";
  for (const auto& row : rows) {
    append_row(row, written);
    for (const std::string& cell : row) CHECK_OURS(unguarded(guarded(cell)) == cell);
  }
  auto again = sound_rows(std::vector<std::uint8_t>(written.begin(), written.end()));
  CHECK_OURS(!again.empty());
  again.erase(again.begin());
  CHECK_OURS(again == rows);
}

void import_rows(const std::vector<std::uint8_t>& bytes) {
  FakeHost host;
  OpenWish wish;
  wish.create = true;
  auto opened = Logbook::open(":memory:", wish, host);
  CHECK_OURS(opened.ok());
  Logbook& book = **opened;
  MemorySource table(bytes, "a.csv");
  const auto taken = import_table(book, host, table);
  if (!taken) {
    CHECK_OURS(!taken.error().what.empty());
    CHECK_OURS(book.entry_count() == 0);
    return;
  }
  CHECK_OURS(taken->new_rows + taken->known == taken->rows);
  const std::string digest = book.digest();
  const auto again = import_table(book, host, table);
  CHECK_OURS(again.ok());
  CHECK_OURS(again->new_rows == 0 && book.digest() == digest);
  MemorySink exported;
  CHECK_OURS(export_table(book, exported).ok());
  MemorySource export_read(exported.bytes(), "export.csv");
  const auto back = import_table(book, host, export_read);
  CHECK_OURS(back.ok());
  CHECK_OURS(back->new_rows == 0 && book.digest() == digest);
  const auto checked = book.check();
  CHECK_OURS(checked.ok());
  CHECK_OURS(checked->folded_equal && checked->chains_ok && checked->faults.empty());
}

}  // namespace

std::vector<fuzz::Seed> fuzz::seeds() {
  const std::string header =
      "when,helper,event,clone,genus,batch,pot,parent,method,sections,grade,count,cause,place,note\n";
  const std::string begun = "2026-03-02T09:00+01:00,Runa,begun,Tirna Red,Hippeastrum,red 1,,,chipping,8,24-26,2,,,\n";
  const std::vector<std::string> lines = {
      "2026-03-02,Runa,potted,,,red 1,1,,,,,8,,house 1,\n",
      "2026-03-02,Runa,potted,,,red 1,2,,,,,8,,house 1,\"two\nlines, \"\"quoted\"\"\"\n",
      "2026-03-03T10:00:00Z,Tomas,covered,,,red 1,1,,,,,,,,\n",
      "2026-03-04,Runa,looked,,,red 1,1,,,,,9,,,even\n",
      "2026-03-04,Runa,watered,,,red 1,1,,,,,,,,\n",
      "2026-03-04,Runa,fed,,,red 1,1,,,,,,,,half\n",
      "2026-03-05,Runa,moved,,,red 1,1,,,,,,,house 2,\n",
      "2026-03-05,Runa,lost,,,red 1,1,,,,,1,rot,,\n",
      "2026-03-05,Runa,damage,,,red 1,2,,,,,,pest:thrips,,one leaf\n",
      "2026-10-05,Runa,unpotted,,,red 1,1,,,,-2,3,,,\n2026-10-05,Runa,unpotted,,,red 1,1,,,,2-4,4,,,\n"
      "2026-10-05,Runa,unpotted,,,red 1,1,,,,alive,6,,,\n",
      "2026-10-06,Runa,sold,,,red 1,,,,,2-4,2,,,\n",
      "2026-10-06,Runa,given,,,red 1,,,,,2-4,1,,,\n",
      "2026-10-06,Runa,discarded,,,red 1,,,,,-2,1,,,\n",
      "2026-10-06,Runa,held,,,red 1,2,,,,,,,,pale\n",
      "2026-10-07,Runa,cleared,,,red 1,2,,,,,,,,\n",
      "2026-10-07,Runa,tested,,,red 1,2,,,,,,,,mosaic\n",
      "2026-10-07,Runa,dried-off,,,red 1,2,,,,,,,,\n",
      "2026-10-08,Runa,started,,,red 1,2,,,,,,,,\n",
      "2026-10-08,Runa,flowered,,,red 1,2,,,,,3,,,\n",
      "2026-10-08,Runa,repotted,,,red 1,2,,,,4-6,3,,house 3,\n",
      "2026-10-08,Runa,graded,,,red 1,2,,,,4/6,3,,,\n",
      "2026-10-08,Runa,note,,,red 1,,,,,,,,,=1+1\n",
      "2026-10-09,Runa,begun,Tirna Red,Hippeastrum,red 2,,red 1,growing-on,,4–6 cm,2,,,\n",
      "2026-13-09,Runa,begun,,,,,,,,,,,,\n",
  };
  std::vector<Seed> all;
  const auto add = [&all](const std::string& text) {
    for (std::uint8_t sort = 0; sort < sorts; ++sort) {
      Seed seed = {sort};
      seed.insert(seed.end(), text.begin(), text.end());
      all.push_back(std::move(seed));
    }
  };
  std::string every = header + begun;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    add(header + begun + lines[i]);
    for (std::size_t j = 0; j < lines.size(); j += 3) add(header + begun + lines[j] + lines[i] + lines[i]);
    if (i + 1 < lines.size()) every += lines[i];
  }
  add(every);
  std::string semicolons = "\xef\xbb\xbf" + every;
  for (char& c : semicolons) c = c == ',' ? ';' : c;
  add(semicolons);
  add("");
  add(header);
  return all;
}

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::vector<std::uint8_t> bytes(data + 1, data + size);
  if (data[0] % sorts == cells) {
    read_cells(bytes);
  } else {
    import_rows(bytes);
  }
  return 0;
}

// Tables for the tests of import and export: rows by column name, and books that take them in.
#pragma once

#include <doctest/doctest.h>

#include <map>
#include <string>
#include <vector>

#include "core/table.hpp"
#include "core/table_cells.hpp"
#include "tests/make.hpp"

namespace motherbulb::tables {

inline const std::vector<std::string>& columns() {
  static const std::vector<std::string> all = {"when",  "helper", "event",  "clone",  "genus",
                                               "batch", "pot",    "parent", "method", "sections",
                                               "grade", "count",  "cause",  "place",  "note"};
  return all;
}

using Row = std::map<std::string, std::string>;

inline Row with(Row row, const Row& other) {
  for (const auto& [column, text] : other) row[column] = text;
  return row;
}
inline Row begun(const Row& other = {}) {
  return with({{"when", "2026-03-01"},
               {"helper", "Runa"},
               {"event", "begun"},
               {"clone", "Island Star"},
               {"genus", "Hippeastrum"},
               {"batch", "B1"},
               {"method", "chipping"},
               {"sections", "8"},
               {"grade", "26-28"},
               {"count", "2"}},
              other);
}
inline Row potted(const Row& other = {}) {
  return with(
      {{"when", "2026-03-02"}, {"helper", "Runa"}, {"event", "potted"}, {"batch", "B1"}, {"pot", "1"}, {"count", "10"}},
      other);
}
inline Row unpotted(const Row& other = {}) {
  return with({{"when", "2026-09-01"},
               {"helper", "Runa"},
               {"event", "unpotted"},
               {"batch", "B1"},
               {"pot", "1"},
               {"grade", "2-4"},
               {"count", "7"}},
              other);
}
inline Row looked(const Row& other = {}) {
  return with(
      {{"when", "2026-04-01"}, {"helper", "Ivo"}, {"event", "looked"}, {"batch", "B1"}, {"pot", "1"}, {"count", "9"}},
      other);
}

inline std::string text_of(const std::vector<Row>& rows) {
  std::string text;
  append_row(columns(), text);
  for (const Row& row : rows) {
    std::vector<std::string> cells;
    for (const std::string& column : columns()) cells.push_back(row.count(column) != 0 ? row.at(column) : "");
    append_row(cells, text);
  }
  return text;
}

// A device with a book of its own.
struct Site {
  explicit Site(std::uint64_t seed = 1, const std::string& letter = "A") : host(seed) {
    OpenWish wish;
    wish.create = true;
    wish.letter = letter;
    book = make::must(Logbook::open(folder.file("book"), wish, host));
  }
  Result<ImportReport> import(const std::string& text) {
    MemorySource source({text.begin(), text.end()}, "table.csv");
    return import_table(*book, host, source);
  }
  ImportReport take_in(const std::string& text) { return make::must(import(text)); }
  ImportReport take_in(const std::vector<Row>& rows) { return take_in(text_of(rows)); }
  WithdrawReport take_back(const std::string& text) {
    MemorySource source({text.begin(), text.end()}, "table.csv");
    return make::must(withdraw_table(*book, host, source, "Runa"));
  }
  WithdrawReport take_back(const std::vector<Row>& rows) { return take_back(text_of(rows)); }
  std::string exported() {
    MemorySink sink;
    make::must(export_table(*book, sink));
    return {sink.bytes().begin(), sink.bytes().end()};
  }
  std::vector<std::uint8_t> parcel() {
    MemorySink sink;
    make::must(book->write_parcel(sink, nullptr));
    return sink.bytes();
  }
  MergeReport merge(Site& other) {
    MemorySource source(other.parcel(), "parcel");
    return make::must(book->merge({&source}));
  }
  // One line a clone: what is there, and where the rest went.
  std::string stock() const {
    std::string text;
    const Stock all = book->stock();
    for (const StockRow& row : all.rows) {
      text += row.clone + " " + to_text(row.grade) + " " + std::to_string(row.bulbs) + "\n";
    }
    for (const CloneBalance& clone : all.balance) {
      const auto& b = clone.bulbs;
      const auto& p = clone.pieces;
      for (const std::int64_t n : {b.begun, b.increase, b.there, b.cut, b.sold, b.given, b.discarded, total(b.lost),
                                   b.open, p.made, p.growing, p.waiting, p.unpotted, p.alive, total(p.lost), p.open}) {
        text += std::to_string(n) + " ";
      }
      text += "\n";
    }
    return text;
  }

  make::Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book;
};

// Every fault of a table that must be refused, each on its line.
inline std::string faults_of(const std::string& text) {
  Site site;
  const auto report = site.import(text);
  REQUIRE_FALSE(report);
  CHECK(site.book->entry_count() == 0);
  CHECK(report.error().kind == ErrorKind::refused);
  std::string all = report.error().what;
  for (const std::string& line : report.error().further) all += "\n" + line;
  return all;
}
inline std::string faults_of(const std::vector<Row>& rows) {
  return faults_of(text_of(rows));
}

}  // namespace motherbulb::tables

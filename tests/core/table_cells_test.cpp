#include "core/table_cells.hpp"

#include <doctest/doctest.h>

#include <cstdlib>

#include "tests/fake_host.hpp"

using namespace motherbulb;

namespace {

struct Read {
  std::vector<std::vector<std::string>> rows;
  std::vector<std::int64_t> lines;
  std::vector<std::string> faults;
};

Read read(const std::string& text) {
  MemorySource source({text.begin(), text.end()}, "table");
  CellReader reader(source);
  CellRow row;
  Read all;
  for (;;) {
    const auto any = reader.next(row);
    REQUIRE(any);
    if (!*any) return all;
    all.lines.push_back(row.line);
    all.faults.push_back(row.fault);
    all.rows.push_back(row.cells);
  }
}

using Rows = std::vector<std::vector<std::string>>;

}  // namespace

// RFC 4180, section 2, rules 1 to 7, with its own examples.
TEST_CASE("the examples of RFC 4180 are read as it says") {
  CHECK(read("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n").rows == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
  CHECK(read("aaa,bbb,ccc\r\nzzz,yyy,xxx").rows == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
  CHECK(read("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx").rows == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
  CHECK(read("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx").rows ==
        Rows{{"aaa", "b\r\nbb", "ccc"}, {"zzz", "yyy", "xxx"}});
  CHECK(read("\"aaa\",\"b\"\"bb\",\"ccc\"").rows == Rows{{"aaa", "b\"bb", "ccc"}});
}

TEST_CASE("a byte-order mark, semicolons and all three ends of line are understood") {
  CHECK(read("\xef\xbb\xbfwhen;event\n2026-01-01;note\n").rows == Rows{{"when", "event"}, {"2026-01-01", "note"}});
  CHECK(read("a,b\rc,d\r").rows == Rows{{"a", "b"}, {"c", "d"}});
  CHECK(read("a;b\n1,5;2\n").rows == Rows{{"a", "b"}, {"1,5", "2"}});
  CHECK(read("\"a;b\",c\n1,2\n").rows == Rows{{"a;b", "c"}, {"1", "2"}});
}

TEST_CASE("lines are counted where a row begins, line breaks in cells among them") {
  const Read all = read("a,b\n\"x\ny\r\nz\",1\n\n,\nc,d\n");
  CHECK(all.rows == Rows{{"a", "b"}, {"x\ny\r\nz", "1"}, {"c", "d"}});
  CHECK(all.lines == std::vector<std::int64_t>{1, 2, 7});
}

TEST_CASE("a row in which nothing stands is passed over, quoted or not") {
  const Read all = read("a,b\n\"\"\n\"\",\n,\"\"\nc,\"\"\n\"\"");
  CHECK(all.rows == Rows{{"a", "b"}, {"c", ""}});
  CHECK(all.lines == std::vector<std::int64_t>{1, 5});
}

TEST_CASE("a quotation mark where none may stand is a fault of its row alone") {
  const Read all = read("a,b\nx\"y,1\n\"x\"y,1\n\"open,1\n");
  REQUIRE(all.faults.size() == 4);
  CHECK(all.faults[0].empty());
  CHECK_FALSE(all.faults[1].empty());
  CHECK_FALSE(all.faults[2].empty());
  CHECK_FALSE(all.faults[3].empty());
  CHECK(read("a\n\"\"\n").rows == Rows{{"a"}});
}

TEST_CASE("a cell of a megabyte is read, a row without an end is refused in bounded memory") {
  const std::string large(1 << 20, 'x');
  CHECK(read("a\n" + large + "\n").rows[1][0] == large);
  const Read all = read("a\n\"" + std::string((16 << 20) + 10, 'x'));
  REQUIRE(all.faults.size() == 2);
  CHECK_FALSE(all.faults[1].empty());
  CHECK(all.rows[1][0].size() <= longest_row);
}

TEST_CASE("text that a spreadsheet would run is guarded, numbers are not") {
  for (const std::string text : {"=SUM(A1)", "+1+1", "-2+3", "@now", "\t=1", "\r=1", "-", "'=1", "''=1", "+49 170"}) {
    CAPTURE(text);
    CHECK(guarded(text) == "'" + text);
    CHECK(unguarded(guarded(text)) == text);
  }
  CHECK(guarded(std::string("\0x", 2)) == std::string("'\0x", 3));
  for (const std::string text : {"", "-5", "+5", "-2.5", "12", "a=b", "'tis", "'", "''", "2-4", "-2,5"}) {
    CAPTURE(text);
    CHECK(guarded(text) == text);
    CHECK(unguarded(text) == text);
  }
}

// R14: what is written is read back, cell for cell, and no cell begins with what a spreadsheet runs.
TEST_CASE("any cells come back from a table as they went into it") {
  const std::uint64_t seed = 20261125;
  MESSAGE("seed " << seed);
  Chance chance(seed);
  const std::vector<std::string> parts = {"=",        "+",
                                          "-",        "@",
                                          "\t",       "\r",
                                          "\n",       "\"",
                                          ",",        ";",
                                          "'",        "\r\n",
                                          " ",        "a",
                                          "7",        ".",
                                          "é",        "\xf0\x9f\x8c\xb7",
                                          "\xd8\xa7", std::string(1, '\0')};
  const int rounds = std::getenv("MOTHERBULB_LONG") != nullptr ? 1'000'000 : 20'000;
  for (int round = 0; round < rounds; ++round) {
    std::vector<std::string> cells{"row"};
    const std::uint64_t count = chance.below(4);
    for (std::uint64_t i = 0; i <= count; ++i) {
      std::string cell;
      for (std::uint64_t n = chance.below(6); n > 0; --n) cell += parts[chance.below(parts.size())];
      cells.push_back(cell);
    }
    std::vector<std::string> safe;
    for (const std::string& cell : cells) {
      safe.push_back(guarded(cell));
      if (safe.back() == cell && !cell.empty() && std::string("=@\t\r").find(cell[0]) != std::string::npos) {
        FAIL("not guarded: " << cell);
      }
    }
    std::string text = "h,h\r\n";
    append_row(safe, text);
    const Read all = read(text);
    REQUIRE(all.rows.size() == 2);
    REQUIRE(all.rows[1].size() == cells.size());
    for (std::size_t i = 0; i < cells.size(); ++i) {
      CAPTURE(i);
      REQUIRE(unguarded(all.rows[1][i]) == cells[i]);
    }
  }
}

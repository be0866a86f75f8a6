// Tables as text: RFC 4180, read as a stream in bounded memory and written so that no spreadsheet runs a cell.
//
// Read: UTF-8 with or without a byte-order mark; `,` or `;` between cells (the header tells which); CRLF, LF or CR ends
// a row; a cell in quotation marks may hold all of these, and a doubled quotation mark for one.
// Written: `,`, CRLF, quotation marks only where they are needed.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shared/bytes.hpp"

namespace motherbulb {

// A row longer than this is refused: a quotation mark is missing somewhere.
inline constexpr std::size_t longest_row = 16u << 20;

struct CellRow {
  std::int64_t line = 0;  // where the row begins, from 1
  std::vector<std::string> cells;
  // What is wrong with the row as a row; empty: nothing. Its cells are then not to be used.
  std::string fault;
};

class CellReader {
public:
  explicit CellReader(ByteSource& source);
  // The next row into `row`, whose cells are used again; false at the end. Fails only where the source does. Rows
  // without any character between the separators are passed over.
  Result<bool> next(CellRow& row);
  double share_read() const;  // 0 to 1

private:
  Result<bool> fill();
  bool at_end() const { return at_ == have_; }
  void choose_separator();

  ByteSource& source_;
  std::vector<std::uint8_t> block_;
  std::uint64_t read_ = 0;
  std::size_t at_ = 0, have_ = 0;
  std::int64_t line_ = 1;
  bool begun_ = false;
  char separator_ = ',';
};

// One cell, in quotation marks where it holds one, a separator or a line break, or begins or ends with white space.
void append_cell(std::string_view text, std::string& out);
void append_row(const std::vector<std::string>& cells, std::string& out);

// A spreadsheet takes a cell that begins with = + - @, tab or carriage return (NUL too) for a formula. Such a text,
// unless it is a plain number, gets an apostrophe before it; so does a text that is already such a one behind
// apostrophes, so that unguarded(guarded(text)) is text for every text.
std::string guarded(std::string_view text);
std::string unguarded(std::string_view text);

}  // namespace motherbulb

// The grower's table: facts from a spreadsheet into the book, back out of it, and every fact that stands into a table.
//
// A row is a fact, or one line of a fact: rows with the same when, helper, event, batch and pot are one entry where the
// event counts things. A row is known by its fields, its batch and by being the n-th of its like in its table, so the
// same table, or a longer version of it, brings only what is new, on every device (FORMAT.md, "Facts from tables").
// Any wrong row and nothing is taken in; each wrong row is named with file, line, column and what would mend it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/logbook.hpp"
#include "shared/bytes.hpp"

namespace motherbulb {

// Whether it is meant as a table: by its name, which ends in .csv, or by its first line, which then names two columns
// that no table can be without. What else is wrong with it, import_table says.
bool looks_like_table(ByteSource& source);

struct ImportReport {
  std::int64_t rows = 0, new_rows = 0, known = 0;
  std::int64_t matters = 0;  // raised by it
  std::string digest;
  std::vector<std::string> remarks;  // what was taken in and yet is worth a look, a line each
};
Result<ImportReport> import_table(Logbook& book, Host& host, ByteSource& table, Progress* progress = nullptr);

struct WithdrawReport {
  std::int64_t rows = 0, withdrawn = 0;
  std::int64_t known = 0;    // taken back before, or never taken in
  std::int64_t matters = 0;  // raised by it
  std::string digest;
};
// Takes back the facts of a table, whoever imported it. Stopped, nothing is changed.
Result<WithdrawReport> withdraw_table(Logbook& book, Host& host, ByteSource& table, const std::string& helper,
                                      Progress* progress = nullptr);

struct ExportReport {
  std::int64_t rows = 0;
  std::int64_t left_out = 0;  // facts that a table has no word for
};
// Writes every fact that stands; the sink is not committed. Stopped, a part of them lies in the sink.
Result<ExportReport> export_table(const Logbook& book, ByteSink& sink, Progress* progress = nullptr);

// How many faults are named one by one.
inline constexpr std::size_t most_faults_named = 50;

}  // namespace motherbulb

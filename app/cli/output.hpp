// What the command line says: tables that line up, JSON with stable names, faults on standard error.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "core/state.hpp"
#include "shared/result.hpp"

namespace motherbulb::cli {

enum class Format { text, json, csv, ics, html };
using Json = nlohmann::ordered_json;

// Writes to standard output; 3 where that fails, else `code`.
int say(std::string_view text, int code = 0);
int say_json(const Json& json, int code = 0);
// One line a fault on standard error, and the exit code that fits.
int fail(const Error& error);
int fail_usage(const std::string& what);
void remark(const std::string& what);

// By cause; causes of 0 are left out.
Json losses_json(const LossByCause& lost);

// Text on one line, as a terminal shows it: line breaks and control characters as spaces, right-to-left text kept from
// turning its neighbours round.
std::string on_one_line(std::string_view text);

// Rows under a head, each column as wide as its widest cell; a column is right-aligned where its head begins with '>'.
class TextTable {
public:
  explicit TextTable(std::vector<std::string> head) : head_(std::move(head)) {}
  void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
  bool empty() const { return rows_.empty(); }
  std::string text() const;

private:
  std::vector<std::string> head_;
  std::vector<std::vector<std::string>> rows_;
};

// A row of a CSV answer; text that a spreadsheet would run is guarded.
std::string csv_row(const std::vector<std::string>& cells);

// 1 row, 2 rows; with a space between thousands: 1 204 367 entries.
std::string counted(std::int64_t count, std::string_view one, std::string_view many);
std::string short_when(const When& when);  // 2026-04-02, 2026-04-02 10:42

}  // namespace motherbulb::cli

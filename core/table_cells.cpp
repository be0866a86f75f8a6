#include "core/table_cells.hpp"

#include <algorithm>
#include <cstring>

namespace motherbulb {
namespace {

constexpr std::size_t block_size = 256u << 10;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

// A sign, digits, at most one point or comma with digits after it.
bool is_plain_number(std::string_view text) {
  std::size_t at = !text.empty() && (text[0] == '-' || text[0] == '+') ? 1 : 0;
  const std::size_t first = at;
  while (at < text.size() && is_digit(text[at])) ++at;
  if (at == first) return false;
  if (at == text.size()) return true;
  if (text[at] != '.' && text[at] != ',') return false;
  const std::size_t after = ++at;
  while (at < text.size() && is_digit(text[at])) ++at;
  return at == text.size() && at > after;
}

bool runs_in_a_spreadsheet(std::string_view text) {
  if (text.empty() || std::string_view("=+-@\t\r\0", 7).find(text.front()) == std::string_view::npos) return false;
  return !is_plain_number(text);
}

bool runs_behind_apostrophes(std::string_view text) {
  const std::size_t first = text.find_first_not_of('\'');
  return first != std::string_view::npos && runs_in_a_spreadsheet(text.substr(first));
}

}  // namespace

CellReader::CellReader(ByteSource& source) : source_(source) {}

double CellReader::share_read() const {
  return source_.size() == 0 ? 1.0 : static_cast<double>(read_) / static_cast<double>(source_.size());
}

// More bytes into the block, which has been used up; false at the end of the source.
Result<bool> CellReader::fill() {
  block_.resize(block_size);
  const std::uint64_t left = source_.size() - read_;
  at_ = 0;
  have_ = static_cast<std::size_t>(std::min<std::uint64_t>(left, block_size));
  if (have_ == 0) return false;
  auto outcome = source_.read(read_, block_.data(), have_);
  if (!outcome) return outcome.error();
  read_ += have_;
  return true;
}

// The separator is the one of , and ; that stands more often in the header, outside quotation marks.
void CellReader::choose_separator() {
  if (have_ >= 3 && std::memcmp(block_.data(), "\xef\xbb\xbf", 3) == 0) at_ = 3;
  bool quoted = false;
  std::int64_t commas = 0, semicolons = 0;
  for (std::size_t i = at_; i < have_; ++i) {
    const char c = static_cast<char>(block_[i]);
    if (c == '"') quoted = !quoted;
    if (quoted) continue;
    if (c == '\n' || c == '\r') break;
    commas += c == ',' ? 1 : 0;
    semicolons += c == ';' ? 1 : 0;
  }
  separator_ = semicolons > commas ? ';' : ',';
}

Result<bool> CellReader::next(CellRow& row) {
  if (!begun_) {
    begun_ = true;
    auto filled = fill();
    if (!filled) return filled.error();
    if (*filled) choose_separator();
  }
  for (;;) {
    enum class In { begin, plain, quoted, after_quote };
    In in = In::begin;
    row.line = line_;
    row.fault.clear();
    std::size_t cell = 0, size = 0;
    bool any = false, ended = false;
    const auto open_cell = [&]() -> std::string* {
      if (row.cells.size() <= cell) row.cells.emplace_back();
      row.cells[cell].clear();
      return &row.cells[cell];
    };
    std::string* text = open_cell();
    while (!ended) {
      if (at_end()) {
        auto filled = fill();
        if (!filled) return filled.error();
        if (!*filled) {
          if (in == In::quoted) row.fault = "a quotation mark opens a cell here and nothing closes it; close it";
          if (!any && cell == 0 && in == In::begin) return false;
          break;
        }
      }
      // Runs of what needs no second look are taken at once.
      const char* first = reinterpret_cast<const char*>(block_.data()) + at_;
      const char* end = reinterpret_cast<const char*>(block_.data()) + have_;
      const char* to = first;
      if (in == In::quoted) {
        while (to < end && *to != '"' && *to != '\n' && *to != '\r') ++to;
      } else if (in != In::after_quote) {
        while (to < end && *to != separator_ && *to != '"' && *to != '\n' && *to != '\r') ++to;
      }
      if (to > first) {
        const auto run = static_cast<std::size_t>(to - first);
        any = true;
        if (in == In::begin) in = In::plain;
        size += run;
        if (size <= longest_row) text->append(first, run);
        at_ += run;
        continue;
      }
      const char c = *first;
      ++at_;
      if (c == '\n' || c == '\r') {
        bool pair = false;
        if (c == '\r') {
          if (at_end()) {
            auto filled = fill();
            if (!filled) return filled.error();
          }
          pair = !at_end() && block_[at_] == '\n';
          if (pair) ++at_;
        }
        ++line_;
        if (in != In::quoted) {
          ended = true;
          break;
        }
        size += 2;
        if (size <= longest_row) text->append(pair ? "\r\n" : std::string(1, c));
        continue;
      }
      if (in == In::quoted) {  // a quotation mark
        in = In::after_quote;
        continue;
      }
      if (c == separator_) {
        if (++cell >= 1000) {
          row.fault = "more than a thousand cells stand here";
          cell = 0;
        }
        text = open_cell();
        in = In::begin;
        continue;
      }
      any = true;
      if (c == '"' && in == In::begin) {
        in = In::quoted;
      } else if (c == '"' && in == In::after_quote) {
        in = In::quoted;
        *text += '"';
        ++size;
      } else {
        if (row.fault.empty()) {
          row.fault = in == In::after_quote
                          ? "text follows a closing quotation mark in cell " + std::to_string(cell + 1) +
                                "; within a cell a quotation mark is written twice"
                          : "a quotation mark stands in the middle of cell " + std::to_string(cell + 1) +
                                "; put the whole cell in quotation marks and write that one twice";
        }
        in = In::plain;
        *text += c;
      }
    }
    if (size > longest_row) {
      row.fault = "the row is longer than 16 MB; a quotation mark that closes a cell is missing";
    }
    row.cells.resize(cell + 1);
    if (size == 0 && row.fault.empty()) continue;  // nothing but separators, and cells that are quoted and empty
    return true;
  }
}

void append_cell(std::string_view text, std::string& out) {
  const auto space = [](char c) { return c == ' ' || c == '\t'; };
  const bool quote = text.find_first_of(",;\"\r\n") != std::string_view::npos ||
                     (!text.empty() && (space(text.front()) || space(text.back())));
  if (!quote) {
    out += text;
    return;
  }
  out += '"';
  for (const char c : text) {
    if (c == '"') out += '"';
    out += c;
  }
  out += '"';
}

void append_row(const std::vector<std::string>& cells, std::string& out) {
  for (std::size_t i = 0; i < cells.size(); ++i) {
    if (i > 0) out += ',';
    append_cell(cells[i], out);
  }
  out += "\r\n";
}

std::string guarded(std::string_view text) {
  return runs_behind_apostrophes(text) ? "'" + std::string(text) : std::string(text);
}

std::string unguarded(std::string_view text) {
  if (!text.empty() && text.front() == '\'' && runs_behind_apostrophes(text)) text.remove_prefix(1);
  return std::string(text);
}

}  // namespace motherbulb

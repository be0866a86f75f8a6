#include "app/cli/output.hpp"

#include <algorithm>
#include <cstdio>

#include "core/names.hpp"
#include "core/table_cells.hpp"

namespace motherbulb::cli {
namespace {

std::string with_thousands(std::int64_t count) {
  std::string digits = std::to_string(count);
  const std::size_t first = digits[0] == '-' ? 1 : 0;
  for (std::size_t at = digits.size(); at > first + 3;) digits.insert(at -= 3, " ");
  return digits;
}

bool is_right_to_left(std::string_view text) {
  // Hebrew, Arabic, Syriac, Thaana, N'Ko and their presentation forms begin with these bytes.
  return std::any_of(text.begin(), text.end(), [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte >= 0xd6 && byte <= 0xdf) || byte == 0xef;
  });
}

}  // namespace

int say(std::string_view text, int code) {
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size() && std::fflush(stdout) == 0;
  if (written) return code;
  std::fputs("The answer could not be written out: the disk is full, or whoever was to read it has gone.\n", stderr);
  return 3;
}

int say_json(const Json& json, int code) {
  return say(json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n", code);
}

int fail(const Error& error) {
  std::fprintf(stderr, "%s\n", error.what.c_str());
  for (const std::string& line : error.further) std::fprintf(stderr, "%s\n", line.c_str());
  switch (error.kind) {
    case ErrorKind::refused:
    case ErrorKind::missing:
    case ErrorKind::foreign:
    case ErrorKind::newer:
    case ErrorKind::in_use:
    case ErrorKind::cancelled:
      return 2;
    case ErrorKind::damaged:
    case ErrorKind::failed:
      return 3;
  }
  return 3;
}

int fail_usage(const std::string& what) {
  std::fprintf(stderr, "%s\n", what.c_str());
  return 2;
}

void remark(const std::string& what) {
  std::fprintf(stderr, "%s\n", what.c_str());
}

Json losses_json(const LossByCause& lost) {
  Json object = Json::object();
  for (std::size_t i = 0; i < lost.size(); ++i) {
    if (lost[i] != 0) object[std::string(to_text(static_cast<Cause>(i)))] = lost[i];
  }
  return object;
}

std::string on_one_line(std::string_view text) {
  std::string line;
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    line += byte < 32 || byte == 127 ? ' ' : c;
  }
  // Isolated by U+2068 … U+2069, so that the columns beside it stay where they are.
  return is_right_to_left(line) ? "\u2068" + line + "\u2069" : line;
}

std::string TextTable::text() const {
  constexpr std::size_t widest = 48;
  std::vector<std::vector<std::string>> all;
  std::vector<bool> right;
  std::vector<std::string> heads;
  for (const std::string& head : head_) {
    right.push_back(!head.empty() && head.front() == '>');
    heads.push_back(right.back() ? head.substr(1) : head);
  }
  all.push_back(std::move(heads));
  for (const auto& row : rows_) {
    all.emplace_back();
    for (const std::string& cell : row) all.back().push_back(on_one_line(cell));
  }
  std::vector<std::size_t> widths(head_.size(), 0);
  for (const auto& row : all) {
    for (std::size_t i = 0; i < row.size(); ++i) {
      widths[i] = std::max(widths[i], std::min(columns_wide(row[i]), widest));
    }
  }
  std::string text;
  for (const auto& row : all) {
    std::string line;
    for (std::size_t i = 0; i < row.size(); ++i) {
      const std::size_t wide = columns_wide(row[i]);
      const std::string blank(widths[i] > wide ? widths[i] - wide : 0, ' ');
      if (i > 0) line += "  ";
      line += right[i] ? blank + row[i] : row[i] + blank;
    }
    while (!line.empty() && line.back() == ' ') line.pop_back();
    text += line + "\n";
  }
  return text;
}

std::string csv_row(const std::vector<std::string>& cells) {
  std::vector<std::string> safe;
  safe.reserve(cells.size());
  for (const std::string& cell : cells) safe.push_back(guarded(cell));
  std::string row;
  append_row(safe, row);
  return row;
}

std::string counted(std::int64_t count, std::string_view one, std::string_view many) {
  return with_thousands(count) + " " + std::string(count == 1 ? one : many);
}

std::string short_when(const When& when) {
  const std::string text = to_text(when);
  return when.bare_day ? text : text.substr(0, 10) + " " + text.substr(11, 5);
}

}  // namespace motherbulb::cli

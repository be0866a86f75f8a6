#include "app/print/treatments.hpp"

#include <array>

#include "app/print/page.hpp"
#include "app/words.hpp"
#include "app/words/treatments.hpp"

namespace motherbulb {
namespace {

std::string joined(const std::vector<std::string>& all, std::string_view by) {
  std::string text;
  for (const std::string& one : all) text = text.empty() ? one : say(by, text, one);
  return text;
}

// "2026-03-02 10:00", by the clock on the wall; a bare day alone.
std::string moment_text(const When& when) {
  std::string text = to_text(when);
  if (when.bare_day) return text;
  text[10] = ' ';
  return text.substr(0, 16);
}

constexpr std::size_t columns = std::tuple_size<decltype(TreatmentsWords::columns)>::value;
constexpr std::size_t note_column = columns - 1;

std::array<std::string, columns> cells_of(const TreatmentRow& row) {
  const TreatmentsWords& w = treatments_words();
  std::string crops;
  for (const TreatmentRow::Crop& crop : row.crops) {
    const std::string one = say(w.crop, crop.genus, crop.clone);
    crops = crops.empty() ? one : say(w.list, crops, one);
  }
  if (!row.pots.empty()) crops = say(w.crop_pots, crops, joined(row.pots, w.list));
  const Treatment& f = row.fact;
  return {moment_text(row.when),
          f.product,
          f.registration,
          f.amount,
          f.dose,
          joined(row.places, w.places),
          f.area,
          crops,
          f.against,
          row.helper,
          f.licence,
          row.enter_again ? moment_text(*row.enter_again) : std::string(),
          f.note};
}

std::string table_row(const char* cell, const std::array<std::string, columns>& cells) {
  std::string out = "<tr>";
  for (const std::string& text : cells) out += std::string("<") + cell + ">" + html_escape(text) + "</" + cell + ">";
  return out + "</tr>\n";
}

}  // namespace

std::string treatments_page(const Logbook& book, Day from, Day to) {
  const TreatmentsWords& w = treatments_words();
  const std::vector<TreatmentRow> rows = treatments_of(book, from, to);
  const std::string title = say(w.title, to_text(from), to_text(to));
  std::string body = "<h1>" + html_escape(title) + "</h1>\n";
  if (rows.empty()) return page(title, body + "<p>" + html_escape(w.none) + "</p>\n");

  std::array<std::string, columns> heads;
  for (std::size_t i = 0; i < columns; ++i) heads[i] = w.columns[i];
  body += "<table>\n<thead>" + table_row("th", heads) + "</thead>\n<tbody>\n";
  std::array<std::int64_t, columns> empty{};
  for (const TreatmentRow& row : rows) {
    const auto cells = cells_of(row);
    body += table_row("td", cells);
    for (std::size_t i = 0; i < columns; ++i) empty[i] += cells[i].empty() ? 1 : 0;
  }
  body += "</tbody>\n</table>\n";

  std::string missing;
  for (std::size_t i = 0; i < note_column; ++i) {
    if (empty[i] == 0) continue;
    const std::string one = say(w.missing_one, w.columns[i], grouped(empty[i]));
    missing = missing.empty() ? one : say(w.list, missing, one);
  }
  const std::string number = counted(static_cast<std::int64_t>(rows.size()), w.rows, w.rows_many);
  body += "<p>" + html_escape(missing.empty() ? say(w.complete, number) : say(w.missing, number, missing)) + "</p>\n";
  return page(title, body);
}

}  // namespace motherbulb

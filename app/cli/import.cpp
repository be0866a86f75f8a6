#include "app/cli/command.hpp"
#include "core/table.hpp"

namespace motherbulb::cli {

int import(const ImportWish& wish, const Context& context) {
  std::string letter = wish.device;
  if (!letter.empty()) {
    if (letter.size() == 1 && letter[0] >= 'a' && letter[0] <= 'z')
      letter[0] = static_cast<char>(letter[0] - 'a' + 'A');
    if (letter.size() != 1 || letter[0] < 'A' || letter[0] > 'Z') {
      return fail_usage("--device: \"" + wish.device + "\" is no letter; write one of A to Z");
    }
  }
  auto table = context.machine.read(wish.file);
  if (!table) return fail(table.error());
  OpenedStore opened(wish.store, letter, context);
  if (!opened.result()) return fail(opened.result().error());
  Logbook& book = opened.book();
  if (!letter.empty() && opened.existed() && book.device_letter() != letter) {
    return fail_usage(wish.store + " is the book of device " + book.device_letter() +
                      " already; leave --device out, or import into a new store");
  }
  const auto report = import_table(book, context.machine.host, **table);
  if (!report) return fail(report.error());
  opened.keep();
  for (const std::string& line : report->remarks) remark(line);
  if (context.format == Format::json) {
    return say_json(Json{{"rows", report->rows},
                         {"new", report->new_rows},
                         {"known", report->known},
                         {"matters", report->matters},
                         {"digest", report->digest}});
  }
  std::string text = counted(report->rows, "row", "rows") + " read: " + counted(report->new_rows, "is", "are") +
                     " new, " + counted(report->known, "was", "were") + " known already.\n";
  if (report->matters > 0) {
    text += counted(report->matters, "matter is", "matters are") + " for you to settle: motherbulb matters " +
            wish.store + "\n";
  }
  return say(text + "The book's digest is " + report->digest + ".\n");
}

}  // namespace motherbulb::cli

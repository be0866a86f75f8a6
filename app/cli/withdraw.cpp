#include "app/cli/command.hpp"
#include "core/table.hpp"

namespace motherbulb::cli {

int withdraw(const WithdrawWish& wish, const Context& context) {
  auto table = context.machine.read(wish.file);
  if (!table) return fail(table.error());
  auto opened = Logbook::open(wish.store, OpenWish{}, context.machine.host);
  if (!opened) return fail(opened.error());
  const auto report = withdraw_table(**opened, context.machine.host, **table, wish.helper);
  if (!report) return fail(report.error());
  if (context.format == Format::json) {
    return say_json(Json{{"rows", report->rows},
                         {"withdrawn", report->withdrawn},
                         {"known", report->known},
                         {"matters", report->matters},
                         {"digest", report->digest}});
  }
  std::string text =
      counted(report->rows, "row", "rows") + " read: " + counted(report->withdrawn, "is", "are") + " taken back";
  if (report->known > 0) text += ", " + counted(report->known, "was", "were") + " not in the book (any more)";
  text += ".\n";
  if (report->matters > 0) {
    text += counted(report->matters, "matter is", "matters are") + " for you to settle: motherbulb matters " +
            wish.store + "\n";
  }
  return say(text + "The book's digest is " + report->digest + ".\n");
}

}  // namespace motherbulb::cli

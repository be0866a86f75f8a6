#include "app/cli/command.hpp"
#include "core/table.hpp"

namespace motherbulb::cli {

int export_(const ExportWish& wish, const Context& context) {
  auto book = open_to_look(wish.store, context);
  if (!book) return fail(book.error());
  auto sink = context.machine.write(wish.file);
  if (!sink) return fail(sink.error());
  const auto report = export_table(**book, **sink);
  if (!report) return fail(report.error());
  auto outcome = (*sink)->commit();
  if (!outcome) return fail(outcome.error());
  if (report->left_out > 0) {
    remark(counted(report->left_out, "fact that a table has no word for is", "facts that a table has no word for are") +
           " not in it (settlements, names, plans and the like); a parcel carries everything.");
  }
  if (context.format == Format::json) {
    return say_json(Json{{"rows", report->rows}, {"left_out", report->left_out}, {"digest", (*book)->digest()}});
  }
  return say(counted(report->rows, "row", "rows") + " written to " + wish.file + ".\n");
}

}  // namespace motherbulb::cli

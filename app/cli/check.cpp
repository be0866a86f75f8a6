#include "app/cli/command.hpp"

namespace motherbulb::cli {

int check(const CheckWish& wish, const Context& context) {
  auto opened = open_to_look(wish.store, context);
  if (!opened) return fail(opened.error());
  const auto report = (*opened)->check();
  if (!report) return fail(report.error());
  const bool sound = report->folded_equal && report->chains_ok && report->faults.empty();
  const int code = sound ? 0 : 1;
  if (context.format == Format::json) {
    return say_json(Json{{"entries", report->entries},
                         {"folded_equal", report->folded_equal},
                         {"balances_open", report->balances_open},
                         {"matters", report->matters},
                         {"chains_ok", report->chains_ok},
                         {"digest", report->digest},
                         {"faults", report->faults}},
                    code);
  }
  std::string text = counted(report->entries, "entry", "entries") + " read and reckoned anew.\n";
  text += report->chains_ok ? "Every entry is as it was written.\n"
                            : "Some entries are not as they were written: the store is damaged.\n";
  text += report->folded_equal ? "What the screens show follows from the entries.\n"
                               : "What the screens show does not follow from the entries.\n";
  for (const std::string& fault : report->faults) text += "  " + on_one_line(fault) + "\n";
  if (!sound) {
    text += "Keep this store as it is, restore the latest backup beside it, and merge a parcel from every device.\n";
  }
  if (report->balances_open > 0) {
    text += counted(report->balances_open, "balance is", "balances are") + " open: bulbs not accounted for.\n";
  }
  if (report->matters > 0) {
    text += counted(report->matters, "matter is", "matters are") + " for you to settle: motherbulb matters " +
            wish.store + "\n";
  }
  return say(text + "The book's digest is " + report->digest + ".\n", code);
}

}  // namespace motherbulb::cli

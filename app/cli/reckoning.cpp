#include "app/cli/reckoning.hpp"

#include "app/cli/day.hpp"
#include "core/science/book_facts.hpp"

namespace motherbulb::cli {

Result<BookToReckon> open_to_reckon(const std::string& store, const Context& context) {
  const auto today = day_or_today("", context.machine.host);
  if (!today) return today.error();
  auto book = open_to_look(store, context);
  if (!book) return book.error();
  auto facts = past_facts(**book);
  if (!facts) return facts.error();
  YieldRecords yields = yield_records(*facts);
  CutGivers gives = cut_givers_of(yields);
  BookOnDay known = book_on_day(**book, *today, std::move(*facts));
  return BookToReckon{std::move(*book), std::move(known), std::move(yields), std::move(gives)};
}

}  // namespace motherbulb::cli

// A book opened to reckon from: read once, for today.
#pragma once

#include <memory>
#include <string>

#include "app/cli/command.hpp"
#include "core/science/book_yields.hpp"

namespace motherbulb::cli {

struct BookToReckon {
  std::unique_ptr<Logbook> book;
  BookOnDay known;
  YieldRecords yields;
  CutGivers gives;  // by those yields
};

Result<BookToReckon> open_to_reckon(const std::string& store, const Context& context);

}  // namespace motherbulb::cli

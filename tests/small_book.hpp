// A book of a clone or two, for the tests of what the mathematics makes of a book.
#pragma once

#include <memory>
#include <utility>

#include "core/science/book_model.hpp"
#include "tests/make.hpp"

namespace motherbulb::make {

struct SmallBook {
  Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = new_book(folder.file("a.book"), host);

  void at(const char* on) { host.set_now((std::int64_t{day(on).days} * 24 + 10) * 3'600'000); }
  BatchId tap(const BatchId& batch, std::int32_t pot, Payload fact) {
    host.advance_minutes(1);
    return make::tap(*book, batch, pot, std::move(fact)).batch;
  }
  // A batch of whole bulbs in one pot.
  BatchId bulbs(const char* clone, const Lines& lines, const char* place, const char* genus = "Hippeastrum") {
    Begun begun = make::begun(clone, Method::growing_on, lines);
    begun.genus = genus;
    begun.label = book->next_label(2026);
    const BatchId batch = tap({}, 0, begun);
    tap(batch, 1, bulbs_potted(lines, place));
    return batch;
  }
  // Mothers of a batch's pot 1 chipped into 8, potted as one pot of pieces.
  BatchId chipped(const char* clone, const BatchId& parent, const Lines& mothers, const char* place) {
    Begun begun = make::begun(clone, Method::chipping, mothers, 8);
    begun.parent = parent;
    begun.parent_pot = 1;
    begun.label = book->next_label(2026);
    const BatchId batch = tap({}, 0, begun);
    std::int64_t count = 0;
    for (const Line& line : mothers) count += 8 * line.count;
    tap(batch, 1, pieces_potted(count, place));
    return batch;
  }
  GrowthInput input(const char* clone, const char* on, const CutGiver& gives = {}) const {
    return must(growth_input_of(*book, must(book_on_day(*book, day(on))), clone, gives));
  }
};

}  // namespace motherbulb::make

// A small house whose clone has years ahead of it.
#pragma once

#include <memory>
#include <string>

#include "tests/make.hpp"

namespace motherbulb::make {

// Five bulbs of one clone on two benches; of three mothers chipped into 8 two pots of 12 sections: one unpotted with 10
// alive, 2 rotten and 14 bulblets, the other still growing.
struct AheadHouse {
  Folder folder;
  FakeHost host;
  std::unique_ptr<Logbook> book = new_book(folder.file("house.book"), host, "A");
  BatchId bulbs, chips;
  const std::string clone = "Tirna Red";

  AheadHouse() {
    bulbs = begin_bulbs(*book, clone, lines({{"22-24", 3}, {"16-18", 2}}));
    tap(*book, bulbs, 1, bulbs_potted(lines({{"22-24", 3}}), "house 1, bench 1, no. 1"));
    tap(*book, bulbs, 2, bulbs_potted(lines({{"16-18", 2}}), "house 1, bench 2, no. 1"));
    chips = begin_batch(*book, clone, 3, 8);
    tap(*book, chips, 1, pieces_potted(12, "house 1, bench 1, no. 2"));
    tap(*book, chips, 2, pieces_potted(12, "house 1, bench 1, no. 3"));
    host.advance_minutes(200 * 24 * 60);
    tap(*book, chips, 1, unpotted(lines({{"-2", 10}, {"2-4", 4}}), 10, dead(Cause::rot, 2)));
  }
};

}  // namespace motherbulb::make

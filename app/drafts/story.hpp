// One pot's story: what is opened, and what the screen shows of the book.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/logbook.hpp"

namespace motherbulb {

struct StoryDraft {
  std::optional<PotId> pot;
  std::optional<EntryId> open;  // "what was this?"
  bool more = false;            // on a phone: the acts are open
  bool bring_top = false;       // the list to its top

  // Made anew only when the book, the pot or the width has changed.
  struct Row {
    StoryLine line;
    std::string label;  // of the batch in whose story it stands, where that is another one
    std::string what, by, struck;
    std::uint16_t kind = 0;
    bool of_batch = false;
    bool stands = true;
    float top = 0, height = 0;
  };
  struct Picture {
    bool made = false;
    std::uint64_t revision = 0;
    std::int32_t today = 0;
    PotId pot;
    float width = 0;
    std::optional<PotState> state;  // none: the book does not know the pot
    bool begun_alone = false;       // nothing but the batch's beginning stands
    std::vector<Row> rows;          // latest first
    float height = 0;
  } picture;
};

}  // namespace motherbulb

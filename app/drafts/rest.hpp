// Rest & repot: which stage is shown, and what of it is open.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "core/state.hpp"

namespace motherbulb {

struct PotView;

struct RestDraft {
  enum class Show { resting, started, growing };

  std::optional<Show> show;  // none: the first that has any
  std::optional<PotId> pot;  // beside the list
  // Batches whose pots are shown one by one, with the day since when they stand at the stage.
  std::set<std::pair<BatchId, std::int32_t>> opened;

  // Pots of one batch at one stage since one day, the longest first; made anew only when the book has changed.
  struct Group {
    Stage stage = Stage::growing;
    std::vector<const PotView*> pots;
  };
  struct Line {
    std::size_t group = 0;
    const PotView* pot = nullptr;  // null: the whole group
  };
  struct List {
    bool made = false;
    std::uint64_t revision = 0;
    Show show = Show::resting;
    std::vector<Group> groups;
    std::vector<Line> lines;
    std::int32_t longest = 1;  // days
  } list;
};

}  // namespace motherbulb

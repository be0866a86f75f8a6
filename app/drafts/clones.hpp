// The clones: what is looked for, what is open, and what is being typed.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "shared/ids.hpp"

namespace motherbulb {

struct DescentTree;

struct ClonesDraft {
  // The list.
  std::string search;
  bool searching = false;  // the keys are shown
  std::string genus;       // shown alone; empty: all
  struct Row {
    std::string clone, genus;
    std::int64_t bulbs = 0, pieces = 0, open = 0, batches = 0;
  };
  // Made anew only when the book or what is looked for has changed.
  struct Picture {
    bool made = false;
    std::uint64_t revision = 0;
    std::string search, genus;
    std::vector<Row> rows;
    std::vector<std::string> genera;
    std::int64_t clones = 0, bulbs = 0;  // in all
  } picture;

  // One clone. A batch of it finds it again when it was renamed, here or by a merge.
  std::string known_clone, known_genus;
  std::optional<BatchId> known_by;
  std::optional<BatchId> from_tree;  // opened from the tree: the way back leads there
  bool renaming = false;
  std::string name;
  struct Descent {
    std::uint64_t revision = 0;
    std::string clone, genus;
    std::shared_ptr<const DescentTree> tree;  // none: not made yet
    std::int64_t bulbs = 0, batches = 0;
    std::int32_t since = 0;  // year
  } descent;
};

}  // namespace motherbulb

// Counting one pot, until the book has it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/logbook.hpp"

namespace motherbulb {

struct Handful {
  Grade grade;
  int count = 0;
};

struct UnpotDraft {
  bool cut_bulbs = true;         // which kind the list shows
  std::optional<BatchId> batch;  // chosen in the list
  std::optional<PotRow> pot;     // on the bench
  int number = 0;                // "pot 3 of 9" of its batch
  int of = 0;
  std::vector<Grade> grades;    // all classes, smallest first
  std::size_t first_shown = 0;  // of the six on the picker
  std::size_t chosen = 0;       // among all
  std::vector<Handful> handfuls;
  std::vector<Cause> dead;  // pieces found dead, or bulbs lost
  bool choosing_cause = false;
  std::string asked;  // an unlikely count: the question; empty: none
  [[nodiscard]] bool begun() const { return !handfuls.empty() || !dead.empty(); }
  [[nodiscard]] std::int64_t total() const {
    std::int64_t sum = 0;
    for (const Handful& one : handfuls) sum += one.count;
    return sum;
  }
};

}  // namespace motherbulb

// Counting one pot, until the book has it.
#pragma once

#include <algorithm>
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

// What one section bore, where somebody says so.
struct SectionSaid {
  enum class Bore { unsaid, nothing, one, two, two_together } bore = Bore::unsaid;
  std::optional<Cause> dead_of;  // it bore nothing because it is dead; none: it is alive
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
  std::vector<Cause> lost;            // of a pot of bulbs: those that are gone
  std::vector<SectionSaid> sections;  // of a pot of pieces: one for each piece, or sector of a mother left whole
  bool choosing_cause = false;        // the drawn mother is open
  bool by_section = false;            // and large, section by section
  std::size_t section = 0;            // the one that is chosen
  bool asking_why = false;            // it bore nothing
  std::string asked;                  // an unlikely count: the question; empty: none
  // Pieces found dead, or bulbs lost, in the order in which they were said.
  [[nodiscard]] std::vector<Cause> dead() const {
    std::vector<Cause> causes = lost;
    for (const SectionSaid& one : sections) {
      if (one.dead_of) causes.push_back(*one.dead_of);
    }
    return causes;
  }
  [[nodiscard]] bool told_by_section() const {
    return std::any_of(sections.begin(), sections.end(),
                       [](const SectionSaid& one) { return one.bore != SectionSaid::Bore::unsaid; });
  }
  [[nodiscard]] bool begun() const { return !handfuls.empty() || !dead().empty() || told_by_section(); }
  [[nodiscard]] std::int64_t total() const {
    std::int64_t sum = 0;
    for (const Handful& one : handfuls) sum += one.count;
    return sum;
  }
};

}  // namespace motherbulb

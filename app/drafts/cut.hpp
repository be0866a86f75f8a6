// A cutting session, until the book has it. What nobody said stays none: then it is as proposed.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/state.hpp"
#include "shared/units.hpp"

namespace motherbulb {

// Where mothers can come from: what waits in a batch (pot 0), or a pot of bulbs.
struct MotherSource {
  BatchId batch;
  std::int32_t pot = 0;
  std::string label;
  BulbsByGrade bulbs;
  bool held = false;
  std::string held_reason;
};

struct CutDraft {
  // What is open to be chosen; none: the session itself.
  enum class Part {
    none,
    clone,
    clone_name,
    genus,
    genus_name,
    method,
    source,
    blade,
    dip,
    wedges,
    medium,
    medium_name,
    pots,
    place
  };
  Part part = Part::none;

  std::string clone, genus;  // empty: not chosen yet
  std::optional<Method> method;
  // Where the mothers come from: said, and then of a batch or new to the book (none).
  bool source_said = false;
  std::optional<BatchId> parent;
  std::int32_t parent_pot = 0;  // below 0: any of that batch
  std::map<Grade, std::int64_t> mothers;
  std::optional<Grade> grade;              // that the count keys count
  std::optional<std::size_t> first_grade;  // of those shown
  std::optional<std::int32_t> sections;
  std::optional<Blade> blade;
  std::optional<YesNo> dip, wedges;
  std::optional<std::string> medium;
  std::optional<std::int64_t> per_pot;  // 0: not potted yet
  std::optional<std::string> bench;     // empty: no place
  std::string typed;                    // a name, a genus, a medium, or a clone that is looked for

  [[nodiscard]] std::int64_t count() const {
    std::int64_t sum = 0;
    for (const auto& [grade_of, so_many] : mothers) sum += so_many;
    return sum;
  }

  // What was kept last: its stakes are to be written.
  std::optional<BatchId> written;

  // What the book proposes, made anew only when the book or what it rests on has changed.
  struct Proposed {
    bool made = false;
    std::uint64_t revision = 0;
    std::string clone, genus;
    std::optional<std::string> asked_bench;
    std::optional<Method> asked_method;
    bool source_said = false;
    std::optional<BatchId> asked_parent;
    std::int32_t asked_pot = 0;
    std::int64_t asked_pots = 0;

    Method method = Method::chipping;
    std::int32_t sections = 8;
    Blade blade = Blade::per_bulb;
    YesNo dip = YesNo::no, wedges = YesNo::no;
    std::string medium;
    std::optional<When> last;  // session of this clone by this method
    std::vector<MotherSource> sources;
    std::optional<std::size_t> source;    // of those; none: new to the book
    Grade grade;                          // of the mothers
    std::vector<Grade> grades;            // to choose from
    std::string bench;                    // empty: none
    std::vector<std::int32_t> positions;  // free ones on that bench, as many as there are pots
    std::vector<std::string> media;       // that the book knows, the latest first
  } proposed;

  // The sessions so far, and the clones by when they were cut last: made anew only when the book has changed.
  struct Sessions {
    bool made = false;
    std::uint64_t revision = 0;
    std::vector<const BatchState*> latest_first;
  } sessions;
  struct Clones {
    bool made = false;
    std::uint64_t revision = 0;
    struct One {
      std::string clone, genus;
      std::int64_t bulbs = 0;
      std::optional<When> last;
    };
    std::vector<One> latest_first;
  } clones;
};

}  // namespace motherbulb

// What is due: what of it is shown, and what is being put off.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/widgets/season_band.hpp"
#include "app/widgets/weeks_ahead.hpp"
#include "core/state.hpp"

namespace motherbulb {

struct DueDraft {
  enum class Show { now, ahead };
  Show show = Show::now;
  std::optional<Step> only;  // one step alone
  bool choosing_step = false;
  bool more = false;  // on a phone: where else one can go is open
  // A group by its first pot and step; beside the list, where there is room.
  struct Chosen {
    PotId pot;  // number 0: what waits in the batch
    Step step = Step::look;
    friend bool operator==(const Chosen& a, const Chosen& b) { return a.pot == b.pot && a.step == b.step; }
  };
  std::optional<Chosen> chosen;
  bool beside = false;  // there is room for it in this frame

  std::optional<Chosen> putting_off;  // the reason is being chosen
  bool alone = false;                 // of that one pot, not of all that stand with it
  bool leave = false;                 // somebody came for this alone: then back again
  std::int32_t days = 7;              // 0: not this time
  bool writing = false;
  std::string why;

  // Made anew only when the book, the day or the choice has changed.
  struct List {
    bool made = false;
    std::uint64_t revision = 0;
    Day today;
    bool south = false;
    Show show = Show::now;
    std::optional<Step> only;

    std::vector<std::size_t> groups;                 // among BookRows::due(), in the order shown
    std::optional<std::size_t> chosen;               // likewise
    std::array<std::int64_t, step_count> of_step{};  // that would be shown of each step alone
    std::int64_t within = 0;                         // open, or opening within the weeks shown
    WeeksAhead ahead;
    std::string without_plan;  // what no growing plan is known for; empty: nothing
  } list;

  // The year in the house, of the clones with most pots: for the start screen.
  struct House {
    bool made = false;
    std::uint64_t revision = 0;
    Day today;
    bool south = false;
    struct Year {
      std::string clone;
      std::int64_t pots = 0;
      SeasonBand band;
    };
    std::vector<Year> years;
  } house;
};

}  // namespace motherbulb

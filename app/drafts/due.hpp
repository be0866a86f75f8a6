// What is due: what of it is shown, and what is being put off.
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "core/state.hpp"

namespace motherbulb {

struct DueDraft {
  enum class Show { now, ahead } show = Show::now;
  std::optional<Step> only;  // one step alone
  // A group by its first pot and step; beside the list, where there is room.
  struct Chosen {
    PotId pot;  // number 0: what waits in the batch
    Step step = Step::look;
    friend bool operator==(const Chosen& a, const Chosen& b) { return a.pot == b.pot && a.step == b.step; }
  };
  std::optional<Chosen> chosen;
  std::optional<Chosen> putting_off;  // the reason is being chosen
  std::int32_t days = 7;
  bool refusing = false;
  bool writing = false;
  std::string why;
};

}  // namespace motherbulb

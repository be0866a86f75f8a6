// Finding a pot: what was typed so far, and what fits it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/label.hpp"
#include "core/state.hpp"

namespace motherbulb {

struct FindDraft {
  enum class By { label, name };

  By by = By::label;
  std::string typed;             // of a label
  std::string name;              // of a clone, a mark, a label
  bool letters = false;          // on a phone: letters in place of figures
  bool list = false;             // on a phone: what was found in place of the keys
  std::optional<BatchId> batch;  // its pots are to choose from

  struct Found {
    PotId pot;              // number 0: the batch
    bool doubtful = false;  // one slip away from what was typed
    LabelMend mend;
    std::int64_t pots = 0;  // of a batch, that stand filled
  };
  // Made anew only when the book or what was typed has changed.
  struct Answer {
    bool made = false;
    std::uint64_t revision = 0;
    By by = By::label;
    std::string typed;
    std::optional<BatchId> batch;
    std::vector<PotId> last;

    std::vector<Found> found;
    std::int64_t all = 0;   // found has the first of them
    bool no_label = false;  // what was typed cannot be part of a label
    bool slip = false;      // the check character does not fit
    std::string unknown;    // a right label that the book does not know
  } answer;
};

}  // namespace motherbulb

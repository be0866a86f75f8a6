// The years ahead of a clone: what is wanted of it, and what was reckoned, until the book changes.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "shared/day.hpp"

namespace motherbulb {

struct OutlookPicture;
struct PlanPicture;
struct YieldsPicture;
namespace ahead {
struct PlanTold;
struct Shown;
}  // namespace ahead

struct OutlookDraft {
  // What a reckoning rests on: it holds for the same clone, book and day.
  struct Basis {
    std::string clone, genus;
    std::uint64_t revision = 0;
    Day on;
    bool operator==(const Basis& other) const {
      return clone == other.clone && genus == other.genus && revision == other.revision && on == other.on;
    }
  };
  // What is wanted, and within what limits. The outlook looks at target and season only.
  struct Wanted {
    std::int64_t target = 0;  // saleable bulbs; 0: the usual one
    std::size_t season = 4;
    bool soonest = false;                     // the target as soon as can be, in place of the most by that season
    std::optional<std::int64_t> pots, hours;  // there are for the work of a season; none: as many as it takes
    std::int64_t reserve = 0;                 // large bulbs of each clone that are neither cut nor sold
    int sure_percent = 80;                    // the chance of the target that is asked for
    bool operator==(const Wanted& other) const {
      return target == other.target && season == other.season && soonest == other.soonest && pots == other.pots &&
             hours == other.hours && reserve == other.reserve && sure_percent == other.sure_percent;
    }
  };
  // By clone and genus, for as long as the window is open; without a name what is wanted of all clones together.
  std::map<std::pair<std::string, std::string>, Wanted> wanted;
  enum class Typing { none, target, pots, hours };
  Typing typing = Typing::none;  // the keys for that number are shown
  std::string typed;

  template <class Picture>
  struct Reckoned {
    std::optional<Basis> basis;  // none: nothing was reckoned yet
    bool stopped = false;        // a person stopped it: it is reckoned again when asked for
    std::string refused;         // why there is nothing to show, in words
    std::shared_ptr<const Picture> picture;
  };
  Reckoned<OutlookPicture> ahead;
  Reckoned<YieldsPicture> yields;

  // This season's plan: the one that there is, and what was asked for last.
  struct Planned {
    std::optional<Basis> basis;  // without a clone: all of them
    Wanted tried;
    bool stopped = false;  // a person stopped that, or its time was over: it is worked out again when asked for
    std::string refused;   // why there is no plan of that, in words
    Wanted made_for;       // the picture; another than `tried` where that was stopped
    std::shared_ptr<const PlanPicture> picture;
  } planned;
  // The plan that is being worked out while the screen goes on.
  struct Working {
    Basis basis;
    Wanted wanted;
    double share = 0;   // done
    bool stop = false;  // asked for by a person
  };
  std::optional<Working> working;

  // As it is drawn; made anew only when what is wanted, or the picture, has changed.
  std::shared_ptr<const ahead::Shown> shown;
  std::shared_ptr<const ahead::PlanTold> told;  // likewise of the plan

  std::size_t compared_in = 4;        // season in which ways of cutting are compared
  std::optional<std::size_t> opened;  // the way of cutting whose pots are shown
  std::shared_ptr<const YieldsPicture> opened_of;
};

}  // namespace motherbulb

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
struct SeasonPlan;
struct YieldsPicture;
namespace ahead {
struct Shown;
}

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
  struct Wanted {
    std::int64_t target = 0;  // saleable bulbs; 0: the usual one
    std::size_t season = 4;
    bool operator==(const Wanted& other) const { return target == other.target && season == other.season; }
  };
  // By clone and genus, for as long as the window is open.
  std::map<std::pair<std::string, std::string>, Wanted> wanted;
  bool typing = false;  // the keys for the target are shown
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

  // This season's plan, for what was wanted when it was made.
  struct Planned {
    std::shared_ptr<const OutlookPicture> of;
    Wanted wanted;
    std::string refused;
    std::shared_ptr<const SeasonPlan> plan;
  } planned;

  // As it is drawn; made anew only when what is wanted, or the picture, has changed.
  std::shared_ptr<const ahead::Shown> shown;

  std::size_t compared_in = 4;        // season in which ways of cutting are compared
  std::optional<std::size_t> opened;  // the way of cutting whose pots are shown
  std::shared_ptr<const YieldsPicture> opened_of;
};

}  // namespace motherbulb

// Descent: batches as tags by the year in which they were begun, from parent to child along strands as wide as the root
// of what is there. Lost ones thin, those on hold in tunic. Across, down, or as a list set in by generation.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/pen.hpp"

namespace motherbulb {

struct DescentTag {
  std::string target;  // in the touch map
  std::string label;
  std::string line;        // how it was begun, or what became of it
  std::string short_line;  // where there is no room for the other
  std::string count;
  std::int64_t weight = 0;            // bulbs, or pieces
  std::optional<std::size_t> parent;  // among the tags; none: a beginning
  std::int32_t year = 0;
  bool pieces = false;  // no bulbs yet
  bool held = false;
  bool lost = false;
  bool marked = false;  // told apart from the others: edge, strand and count in tunic

  // Where it stands: set by arrange().
  std::size_t column = 0;      // by year, always behind its parent's
  float slot = 0;              // across the columns, from 0
  std::size_t generation = 0;  // from 0
};

struct DescentColumn {
  std::int32_t first_year = 0, last_year = 0;
  std::size_t years = 0;  // different ones
  std::string head;       // words for them
};

struct DescentTree {
  std::vector<DescentTag> tags;
  std::vector<DescentColumn> columns;
  std::vector<std::size_t> listed;  // parents before children, each followed by its own
  float slots = 0;                  // across; 0: too many generations for a tree, only the list is arranged
  std::int64_t heaviest = 1;
  float arranged_for = 0;  // width that the columns were chosen for; the caller's

  // Gives every tag its place. Tags are taken in the order given; a parent that is its own descendant is none.
  // `every_year`: each year is a column of its own; else years share one as long as no tag has its parent there.
  void arrange(bool every_year);
};

enum class DescentForm { across, down, list };
// The form in which the tree's width fits into an area so wide; its height may ask for scrolling.
[[nodiscard]] DescentForm descent_form(const DescentTree& tree, float width, bool down);
// `room`: the height that is there; a tree that needs less spreads in it.
[[nodiscard]] float descent_height(const DescentTree& tree, DescentForm form, float room);
// Draws what of it is in sight in the area, whose height is the room, its top at `top`. The tag that was tapped.
std::optional<std::size_t> draw_descent(Pen& pen, Rect area, float top, const DescentTree& tree, DescentForm form);

}  // namespace motherbulb
